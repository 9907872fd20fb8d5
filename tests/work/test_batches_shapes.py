"""Shapes and stars in batches: as cut they are sewn to what is drawn, at any seam, turned and mirrored."""

from __future__ import annotations

import msgspec
import pytest

from patternkit.bench.mutate_order import Tally
from patternkit.piecing.batch import Action, Join, Piece, TrimBeyond, TrimTo
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.model import CutByTemplate
from tests.work.orders import SEAMS, changed, gaps_with, lines, pattern, rehearse

BOXED = {
    "diamond": ("angle 60", "finished 4 high"),
    "diamond 45": ("angle 45", "finished 5 high"),
    "diamond free": ("angle free", "finished 2 1/2 x 3 1/4"),
    "hexagon": ("finished 4 high",),
    "hexagon free": ("angle free", "finished 3 x 3 3/8"),
    "kite": ("finished 4 high",),
    "kite free": ("angle free", "shoulder 1 1/2", "finished 3 1/8 x 4"),
    "trapezoid": ("finished 4 wide",),
    "trapezoid 45": ("angle 45", "top 2", "finished 6 x 2"),
    "trapezoid free": ("angle free", "top 3 1/8", "finished 5 x 2"),
    "parallelogram": ("top 3", "finished 5 x 2"),
    "parallelogram 60": ("angle 60", "top 2 1/2", "finished 2 high"),
    "parallelogram free": ("angle free", "top 3 1/8", "finished 5 x 2"),
}
BACKGROUNDS = {"trapezoid": ("b", "b, c"), "parallelogram": ("b", "b, c")}


@pytest.mark.parametrize("seam", SEAMS)
@pytest.mark.parametrize("method", ["from strips", "from templates"])
@pytest.mark.parametrize("name", BOXED)
def test_shapes_squared_off(name: str, method: str, seam: str) -> None:
    kind = name.split(maxsplit=1)[0]
    for background in BACKGROUNDS.get(kind, ("b", "b, c, d, e")):
        unit = lines(f"{kind} a, {background}", *BOXED[name], f"method {method}")
        assert rehearse(pattern(unit, seam)).gaps == []


@pytest.mark.parametrize("name", BOXED)
def test_shapes_alone_are_what_they_are_cut(name: str) -> None:
    kind = name.split(maxsplit=1)[0]
    done = rehearse(pattern(lines(f"{kind} a", *BOXED[name]), turns=()))
    assert done.gaps == [] and done.order.steps == ()
    ((piece, count),) = done.order.wanted
    assert isinstance(piece, Piece) and (piece.form, count) == ("template", 4)


@pytest.mark.parametrize("seam", SEAMS)
@pytest.mark.parametrize("size", ["4", "3 1/8"])
@pytest.mark.parametrize("cloths", ["a, b", "a, b, c"])
def test_a_triangle_in_a_square(cloths: str, size: str, seam: str) -> None:
    assert rehearse(pattern(lines(f"triangle-in-a-square {cloths}", f"finished {size}"), seam)).gaps == []


@pytest.mark.parametrize("seam", SEAMS)
@pytest.mark.parametrize("method", ["set-in", "straight seams"])
@pytest.mark.parametrize("size", ["side 3", "finished 12"])
@pytest.mark.parametrize("cloths", ["a, c", "a, b, c", "a, b, c, d, e, f, g, h, i"])
def test_stars(cloths: str, size: str, method: str, seam: str) -> None:
    unit = lines(f"eight-point-star {cloths}", f"method {method}", size)
    assert rehearse(pattern(unit, seam)).gaps == []


@pytest.mark.parametrize("seam", SEAMS)
@pytest.mark.parametrize("first", ["up", "down"])
@pytest.mark.parametrize("count", [4, 5])
@pytest.mark.parametrize(
    ("ends", "method"),
    [("half", "from strips"), ("half, d", "from strips"), ("fitted, c", "from strips"), ("fitted", "from templates")],
)
def test_strips_of_triangles(ends: str, method: str, count: int, first: str, seam: str) -> None:
    size = "finished 12 x 3" if "fitted" in ends else "finished 3 high"
    unit = lines(
        "triangle-strip a, b", f"triangles {count}", f"ends {ends}", f"first {first}", f"method {method}", size
    )
    assert rehearse(pattern(unit, seam)).gaps == []


@pytest.mark.parametrize("method", ["from strips", "from templates"])
def test_slanted_strips_of_triangles(method: str) -> None:
    unit = lines("triangle-strip a, b", "triangles 5", "ends slanted", f"method {method}", "finished 3 high")
    assert rehearse(pattern(unit, turns=())).gaps == []


@pytest.mark.parametrize("seam", SEAMS)
@pytest.mark.parametrize(("radius", "size"), [("4", "6"), ("3", "3"), ("2 1/2", "4")])
def test_quarter_circles(radius: str, size: str, seam: str) -> None:
    unit = lines("quarter-circle a, b", f"radius {radius}", f"finished {size}")
    assert rehearse(pattern(unit, seam)).gaps == []


# -- what is told -----------------------------------------------------------------------------------------
def test_set_in_seams_start_and_stop_at_the_corners_one_at_a_time() -> None:
    """Four side triangles and four corner squares, two joins each; every one starts or stops a seam before the edge at
    the corner into which it is set, and so do the seams that end there.
    """
    order = rehearse(pattern(lines("eight-point-star a, b, c", "method set-in", "side 3"))).order
    joins = [a for a in order.steps[0].actions if isinstance(a, Join)]
    assert len(joins) == 4 + 8 + 2 + 8 + 1
    assert all("seam" in (j.start, j.stop) for j in joins)
    both = [j for j in joins if j.start == j.stop == "seam"]
    assert len(both) == 1  # the last seam, through the middle of the star


def test_larger_corners_are_trimmed_beyond_the_points_of_the_shape() -> None:
    done = rehearse(pattern(lines("diamond a, b", "angle free", "finished 3 x 5", "method from strips")))
    assert [a.of for a in done.order.steps[0].actions if isinstance(a, TrimBeyond)] == [0]
    assert "size" in changed(done, lambda a: None if isinstance(a, TrimBeyond) else a)
    exact = rehearse(pattern(lines("diamond a, b", "angle free", "finished 3 x 5", "method from templates")))
    assert [a for a in exact.order.steps[0].actions if isinstance(a, TrimBeyond)] == []


def test_a_template_turned_over_is_no_other_template() -> None:
    """Both sides of a trapezoid are cut by one template, face up and face down; with the wrong face up they are
    mirrored, and lie over each other where they were laid side by side for the other face."""
    done = rehearse(pattern(lines("trapezoid a, b", "angle free", "top 2", "finished 5 x 2", "method from templates")))
    assert len(done.order.templates) == 2
    faces = {(c.piece.template, c.face) for c in done.order.cutting if isinstance(c, CutByTemplate)}
    assert faces == {("template 1", "up"), ("template 2", "up"), ("template 2", "down")}
    wrong = tuple(msgspec.structs.replace(c, face="up") if isinstance(c, CutByTemplate) else c
                  for c in done.order.cutting)  # fmt: skip
    gaps = rehearsal(msgspec.structs.replace(done.order, cutting=wrong), done.designs).gaps
    assert [g.kind for g in gaps] == ["mirrored", "over"]


def test_a_diamond_is_its_own_mirror_image() -> None:
    unit = lines("diamond a, b, c, d, e", "angle 60", "finished 4 high", "method from strips")
    done = rehearse(pattern(unit))
    assert done.gaps == []
    assert not any(u.item.reversed for s in done.order.steps for b, _ in s.batches for u in b.uses
                   if isinstance(u.item, Piece))  # fmt: skip


# -- faults are noticed -----------------------------------------------------------------------------------
def test_a_set_in_corner_that_is_stitched_shut() -> None:
    done = rehearse(pattern(lines("eight-point-star a, b, c", "method set-in", "side 3")))
    first = next(a for a in done.order.steps[0].actions if isinstance(a, Join))

    def shut(a: Action) -> Action:
        return msgspec.structs.replace(first, start="edge", stop="edge") if a is first else a

    assert changed(done, shut)[0] == "through"


def test_pieces_of_the_wrong_side() -> None:
    """The halves of a triangle in a square exchanged, which are mirror images."""
    done = rehearse(pattern(lines("triangle-in-a-square a, b", "finished 4")))
    ((batch, times),) = done.order.steps[0].batches
    one, two, three, *more = batch.uses
    wrong = msgspec.structs.replace(batch, uses=(one, three, two, *more))
    assert gaps_with(done, ((wrong, times),)) != []


def test_a_trim_of_another_size() -> None:
    done = rehearse(pattern(lines("triangle-in-a-square a, b", "finished 3 1/8")))
    smaller = done.order.ruler

    def change(a: Action) -> Action:
        return msgspec.structs.replace(a, width=a.width - smaller) if isinstance(a, TrimTo) else a

    assert changed(done, change) != []


UNITS = {
    "diamond": lines("diamond a, b", "angle free", "finished 3 x 5", "method from strips"),
    "kite": lines("kite a, b, c, d, e", "finished 4 high", "method from templates"),
    "trapezoid": lines("trapezoid a, b", "finished 4 wide", "method from strips"),
    "triangle": lines("triangle-in-a-square a, b, c", "finished 4"),
    "strip": lines("triangle-strip a, b", "triangles 4", "finished 3 high", "method from strips"),
    "star": lines("eight-point-star a, b, c", "side 3", "method set-in"),
    "straight": lines("eight-point-star a, b, c", "side 3", "method straight seams"),
    "circle": lines("quarter-circle a, b", "radius 4", "finished 6"),
}


def test_changed_orders_are_noticed() -> None:
    """At least 95 of 100 in every class of changes."""
    tally = Tally()
    for name, unit in UNITS.items():
        done = rehearse(pattern(unit, turns=("", "mirrored")))
        tally.add(name, done.order, done.designs, most=6)
    for of, tried in tally.tried.items():
        missed = [m for m in tally.missed if m.startswith(of)]
        assert tally.noticed[of] >= 0.95 * tried, missed
