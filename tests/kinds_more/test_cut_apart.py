"""A sewn unit that is cut apart: the sizes of its pieces, what shows in them, how many are cut, what a booklet says.

The sizes of the example are common practice: three squares of 5 in and two seams of 1/4 in on both sides measure 14 in,
quarters of that 7 in, and four of these sewn together finish 13 in. All other numbers are derived here.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from patternkit import api
from patternkit.lengths import Length
from patternkit.piecing.making import Making
from patternkit.piecing.reflect import flattened
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of
from tests.kinds_more.written import worked

EXAMPLES = Path(__file__).parents[2] / "examples" / "traditional"
NINE = """
unit nine
    rows
        sea | glow | sea
        glow | stone | glow
        sky | glow | night
    finished 9
"""
QUILT = """
quilt
    across 2, down 2
    tile
        whole
"""


def cloth(making: Making, dx: float = 0.0, dy: float = 0.0) -> dict[str, Polygon]:
    """What shows of each fabric."""
    found: dict[str, list[Polygon]] = {}
    for piece, place in flattened(making):
        ring = [(float(x) + dx, float(y) + dy) for x, y in place.outline(piece.outline)]
        found.setdefault(piece.fabric, []).append(Polygon(ring))
    return {fabric: unary_union(rings) for fabric, rings in found.items()}


def project(text: str) -> Project:
    """A pattern of these units."""
    head = "\n".join(f"fabric {f}" for f in ("sea", "night", "glow", "stone", "sky"))
    return Project("t.pattern", f"{head}\n{text}")


def gaps(text: str) -> list[str]:
    """What does not hold when the pattern is sewn; it must be sound."""
    made = project(text)
    assert [p.message for p in api.check(made) if not p.advice] == []
    order, designs = order_of(made)
    assert all(step.rehearsed for step in order.steps)
    return [g.kind for g in rehearse(order, designs)]


def test_sizes_of_charm_squares() -> None:
    made = api.load(EXAMPLES / "nine-patch-cut-apart.pattern")
    assert made.makings["nine"].width == Length(Fraction(27, 2))
    assert {made.makings[f"quarters({n})"].width for n in (1, 2, 3, 4)} == {Length(Fraction(13, 2))}
    assert made.makings["sandbank"].height == Length(13)


@settings(deadline=None, max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.lists(st.integers(5, 20), min_size=0, max_size=2),
    st.lists(st.integers(5, 20), min_size=0, max_size=2),
    st.sampled_from(["1/4", "3/16", "1/8"]),
    st.sampled_from(["", " turned 90", " turned 180", " turned 270"]),
)
def test_pieces_show_what_lies_between_the_cuts(across: list[int], down: list[int], seam: str, turned: str) -> None:
    """Widths in eighths. A piece shows the unit's cloth, a seam inside the lines that it is cut by: by other code."""
    columns, rows = [x / 8 for x in across], [x / 8 for x in down]
    lines = [f"    cut {', '.join(f'{x}/8' for x in across)} from left"] if across else []
    lines += [f"    cut {', '.join(f'{x}/8' for x in down)} from top"] if down else []
    if not lines:
        lines = ["    cut at middle of top"]
        columns = [4.5 + float(Fraction(seam))]
    count = (len(columns) + 1) * (len(rows) + 1)
    uses = "".join(f"unit u{n}\n    row p({n})\n" for n in range(1, count + 1))
    text = f"{NINE}unit p\n    cut-apart nine{turned}\n" + "\n".join(lines) + f"\n{uses}"
    made, _ = worked(text, seam)
    s = float(Fraction(seam))
    lies, _ = worked(f"{NINE}unit lies\n    row nine{turned}\n", seam)
    whole = cloth(lies["lies"], s, s)
    xs, ys = [0.0], [0.0]
    for edges, widths in ((xs, columns), (ys, rows)):
        for width in widths:
            edges.append(edges[-1] + width)
        edges.append(9 + 2 * s)
    for n in range(count):
        down_by, across_by = divmod(n, len(columns) + 1)
        left, top = xs[across_by] + s, ys[down_by] + s
        frame = box(left, top, xs[across_by + 1] - s, ys[down_by + 1] - s)
        shown = cloth(made[f"p({n + 1})"], left, top)
        for fabric, area in whole.items():
            want = area.intersection(frame)
            have = shown.get(fabric)
            assert (have.symmetric_difference(want).area if have is not None else want.area) < 1e-9


def test_seams_of_a_piece_are_those_of_the_unit() -> None:
    made, _ = worked(NINE + "unit p\n    cut-apart nine\n    cut at middle of top\n    cut at middle of left\n"
                     "unit w\n    row p(1) | p(2)\n")  # fmt: skip
    piece = made["p(1)"]
    assert len(piece.parts) == 4
    assert len(piece.seams) == 3  # one in each row, and the one between them
    apart = piece.recipe.apart
    assert apart is not None
    assert {inner.unit for inner, _, _ in apart.seams} == {"nine"}


def test_so_many_are_cut_as_the_piece_needs_that_is_used_most() -> None:
    made = project(NINE + "unit p\n    cut-apart nine\n    cut 4 3/4 from left\n"
                   "block whole\n    row p(1) | p(1) turned 180 | p(2)\n" + QUILT)  # fmt: skip
    counts = {str(c.making.key): c for c in made.draft[0].counts}
    assert (counts["nine"].needed, counts["p(1)"].batches, counts["p(2)"].spare) == (8, 8, 4)
    order, designs = order_of(made)
    assert rehearse(order, designs) == ()
    (step,) = (s for s in order.steps if s.leaves)
    assert [(str(item), n) for item, n in step.leaves] == [("p(2)", 4)]


@pytest.mark.parametrize(
    "rows",
    [
        "        p(1) turned 180 | p(2)\n        p(3) | p(4) turned 90",
        "        p(1) mirrored | p(2) mirrored\n        p(3) mirrored | p(4) mirrored",
        "        p(1) | p(1) turned 90\n        p(1) turned 270 | p(1) turned 180",
    ],
)
def test_orders_hold(rows: str) -> None:
    text = f"{NINE}unit p\n    cut-apart nine\n    cut at middle of top\n    cut at middle of left\n"
    assert gaps(f"{text}block whole\n    rows\n{rows}\n{QUILT}") == []


def test_pieces_are_cut_apart_again_and_of_many_kinds() -> None:
    text = """
unit corner(a)
    half-square a, glow
    finished 3
unit hour
    quarter-square stone, night
    finished 3
block star(a)
    rows
        corner(a) | hour | corner(a) turned 90
        hour turned 90 | a | hour turned 90
        corner(a) turned 270 | hour | corner(a) turned 180
unit quarters(a)
    cut-apart star(a)
    cut at middle of top
    cut at middle of left
block mixed
    rows
        quarters(night, 1) turned 90 | quarters(sea, 2)
        quarters(sea, 3) | quarters(night, 4) turned 90
unit halves
    cut-apart mixed turned 90
    cut 3 from top
block whole
    column halves(2) | halves(1)
"""
    assert gaps(text + QUILT) == []


def test_what_a_booklet_says() -> None:
    made = api.load(EXAMPLES / "four-patch-cut-apart.pattern")
    english = api.files(made, formats=("md",))["four-patch-cut-apart.md"].decode()
    assert "Cut it from top to bottom, 5 1/2 in and 8 in from its left raw edge." in english
    assert "Pieces 4 and 6 measure 5 1/2 x 2 1/2 in each" in english
    assert "cut 16 four units apart" in english
    german = api.files(made, formats=("md",), language="de")["four-patch-cut-apart.md"].decode()
    assert "16 x four zerschneiden" in german
    assert "Die Teile 1, 3, 7 und 9 messen je" in german


def test_a_unit_of_single_prints_is_not_cut_apart() -> None:
    text = """fabrics shore 4
unit two(a)
    rows
        a | glow
        glow | a
    finished 4
unit halves
    cut-apart two(shore)
    cut at middle of top
block whole
    row halves(1) | halves(2) turned 180
"""
    found = [p for p in api.check(project(text + QUILT)) if not p.advice]
    assert [p.code for p in found] == ["not-cut-apart"]
    assert "print of its own" in found[0].message


def test_pieces_that_look_alike_and_are_left_over_are_told() -> None:
    row = "        sea | glow | sea\n"
    head = f"unit nine\n    rows\n{row}        glow | sea | glow\n{row}    finished 9\n"
    head += "unit p\n    cut-apart nine\n    cut at middle of top\n    cut at middle of left\n"
    wasted = project(f"{head}block whole\n    row p(1) | p(1) turned 90 | p(2) turned 270\n{QUILT}")
    (told,) = (p for p in api.check(wasted) if p.code == "pieces-alike")
    assert "8 of nine are cut apart because p(1) is used 8 times; 3 would do." in told.message
    assert "p(2) turned 270, p(3) turned 90 and p(4) turned 180 look the same" in told.causes[0]
    by_turns = project(f"{head}block whole\n    row p(1) | p(2) | p(3) | p(4)\n{QUILT}")
    assert [p for p in api.check(by_turns) if p.code == "pieces-alike"] == []


def test_one_piece_of_cloth_is_not_cut_apart() -> None:
    text = "unit plank\n    patch sea 6 x 4\nunit p\n    cut-apart plank\n    cut at middle of top\n"
    found = [p for p in api.check(project(f"{text}block whole\n    row p(1) | p(2)\n{QUILT}")) if not p.advice]
    assert [p.code for p in found] == ["not-cut-apart"]
    assert "one piece of cloth" in found[0].message
