"""Slices in batches: by template, cut out of strip units, set in, on paper; log cabins on paper; geese by template."""

from __future__ import annotations

import msgspec
import pytest

from patternkit.bench.mutate_order import Tally
from patternkit.piecing.batch import Action, CutOut, Field, Join, Piece, TearAway
from patternkit.project import Project
from patternkit.rehearsal.gaps import gap_text
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of
from patternkit.work.model import CutByTemplate
from tests.work.orders import SEAMS, changed, gaps_with, lines, pattern, problems_of, rehearse

DIVIDED = {
    "one line": ("slice from 1/3 of top to 2/3 of bottom, b left",),
    "two lines": ("slice from 1/3 of top to 2/3 of bottom, b left", "slice from 3 x 0 to 1/2 of right, c top"),
    "again": (
        "slice from 1/3 of top to 2/3 of bottom, b left",
        "slice 1 again from top left to 1/2 of slice 1, d top",
        "slice from 1/2 of slice 1 to middle of right, c bottom",
    ),
    "diagonals": ("slice from top left to bottom right, b top", "slice 1 again from top right to centre, c right"),
    "corners": tuple(
        f"slice from 1/4 of {y} to middle of {x}, {'b' if y == 'top' else 'c'} {x}"
        for y in ("top", "bottom")
        for x in ("left",)
    ),
}
SET_IN = {
    "attic": (
        "slice from 2 x 0 through 2 x 4 to 6 x 4, a left, set in",
        "slice 1 again from 0 x 6 to 2 x 4, b bottom",
    ),
    "y seam": (
        "slice from 0 x 2 through 3 x 3 to 6 x 2, b top, set in",
        "slice from 3 x 3 to 3 x 6, c left",
    ),
}


@pytest.mark.parametrize("seam", SEAMS)
@pytest.mark.parametrize("method", ["templates", "foundation"])
@pytest.mark.parametrize("name", [n for n in DIVIDED if n != "corners"])
def test_slices(name: str, method: str, seam: str) -> None:
    unit = lines("slices a", *DIVIDED[name], "finished 6", f"method {method}")
    assert rehearse(pattern(unit, seam)).gaps == []


FAN = """pattern "Fan"
    seam {seam}
fabric a
fabric b
fabric c
fabric d
let s = 8
let k = s / (2 + root(2))
{unit}quilt
    across 2, down 2
    tile
        fan
"""
EIGHT = """block fan
    slices a
    finished s
    slice from k along top to k along left, d
    slice from (s - k) x 0 to s x k, d
    slice from s x (s - k) to (s - k) x s, d
    slice from 0 x (s - k) to k x s, d
    slice from k x 0 to (s - k) x s, b left
    slice 5 again from k x s to centre, c right
    slice 5 again from 0 x (s - k) to centre, b bottom
    slice 5 again from 0 x k to centre, c bottom
    slice from (s - k) x 0 to centre, a top
    slice from s x k to centre, c top
    slice from s x (s - k) to centre, b top
"""
TWO_FANS = """unit ribs
    strips a 1 | c 1 | d 1 | b 1 | a 1 | c 1 | d 1
    finished 7 x 7
block fan
    slices b
    finished 6
    slice from top left to 3 x 6, ribs turned 90 left lay 0 x 0
    slice from top left to 6 x 3, ribs top lay 0 x 0
"""


@pytest.mark.parametrize("seam", SEAMS)
@pytest.mark.parametrize("unit", [EIGHT, TWO_FANS], ids=["eight wedges", "out of strips"])
def test_wedges_with_their_tips_trimmed(unit: str, seam: str) -> None:
    """Eight tips in one point leave a nick in the raw edge of each half; a tip may lie along its strip unit's edge."""
    order, designs = order_of(Project("fan", FAN.format(unit=unit, seam=seam)))
    assert [gap_text(g) for g in rehearsal(order, designs).gaps] == []


@pytest.mark.parametrize("name", ["two lines", "again", "corners"])
def test_slices_that_keep_their_points(name: str) -> None:
    assert rehearse(pattern(lines("slices a", *DIVIDED[name], "dog-ears kept", "finished 6"))).gaps == []


@pytest.mark.parametrize("seam", SEAMS)
@pytest.mark.parametrize("name", SET_IN)
def test_seams_that_are_set_in_start_and_stop_at_the_inner_corner(name: str, seam: str) -> None:
    done = rehearse(pattern(lines("slices a" if name == "y seam" else "slices c", *SET_IN[name], "finished 6"), seam))
    assert done.gaps == []
    joins = [a for a in done.order.steps[0].actions if isinstance(a, Join)]
    assert [(j.start, j.stop).count("seam") for j in joins] == [1, 1, 1]


TWISTED = {
    "along an edge": (
        "slice from 4 x 0 through 4 x 2 to 0 x 2, a left, set in",
        "slice from 6 x 4 through 4 x 4 to 4 x 0, b, set in",
    ),
    "round a square": (
        "slice from 4 x 0 through 4 x 2 to 0 x 2, a left, set in",
        "slice from 6 x 4 through 4 x 4 to 4 x 2, b, set in",
        "slice from 4 x 4 through 2 x 4 to 2 x 6, a, set in",
        "slice from 2 x 2 to 2 x 4, b left",
    ),
    "aslant": (
        "slice from 4 x 0 through 4 1/2 x 2 to 0 x 1, a left, set in",
        "slice from 6 x 5 through 4 x 4 to 4 1/2 x 2, b, set in",
    ),
}


@pytest.mark.parametrize("seam", SEAMS)
@pytest.mark.parametrize("name", TWISTED)
def test_seams_that_stop_where_one_edge_goes_on(name: str, seam: str) -> None:
    """Partial seams: the rest of the longer edge stays raw until the piece that lies along it is sewn."""
    done = rehearse(pattern(lines("slices c", *TWISTED[name], "finished 6"), seam))
    assert done.gaps == []


def test_a_partial_seam_that_is_sewn_to_the_end() -> None:
    done = rehearse(pattern(lines("slices c", *TWISTED["round a square"], "finished 6")))
    first = next(a for a in done.order.steps[0].actions if isinstance(a, Join))
    assert (first.start, first.stop) in (("seam", "edge"), ("edge", "seam"))

    def over(a: Action) -> Action:
        return msgspec.structs.replace(first, start="edge", stop="edge") if a is first else a

    assert changed(done, over)


def test_a_seam_ends_where_the_line_runs_along_an_edge() -> None:
    """The line is written to the edge of the unit; what is sewn ends where both pieces do."""
    project = Project("twist", pattern(lines("slices c", *TWISTED["along an edge"], "finished 6")))
    (unit,) = (m for m in project.makings.values() if m.kind == "slices")
    ends = [{(float(x), float(y)) for x, y in (s.path[0], s.path[-1])} for s in unit.seams]
    assert ends == [{(6, 4), (4, 2)}, {(4, 0), (0, 2)}]


def test_a_seam_that_is_sewn_over_the_inner_corner() -> None:
    done = rehearse(pattern(lines("slices c", *SET_IN["attic"], "finished 6")))
    first = next(a for a in done.order.steps[0].actions if isinstance(a, Join))

    def over(a: Action) -> Action:
        return msgspec.structs.replace(first, start="edge", stop="edge") if a is first else a

    assert changed(done, over)[0] == "through"


WALLS = {
    "even": "unit wall\n    strips d 1 | b 1 | d 1 | b 1 | d 1 | b 1\n    finished 6 x 6\n",
    "uneven": "unit wall\n    strips d 1 | b 1 1/2 | e 2 | b 1 | f 1 | b 1\n    finished 7 1/2 x 6\n",
    "wider": "unit wall\n    strips d | b | e | b | d | b | e\n    finished 7 x 6\n",
}


@pytest.mark.parametrize("seam", SEAMS[:3])
@pytest.mark.parametrize("turned", ["", "turned 90", "turned 180", "turned 270", "mirrored", "mirrored turned 90"])
@pytest.mark.parametrize("wall", WALLS)
def test_pieces_cut_out_of_strip_units(wall: str, turned: str, seam: str) -> None:
    unit = lines("slices c", f"slice from 1/3 of top to 2/3 of bottom, wall {turned} left lay 0 x 0", "finished 6")
    done = rehearse(pattern(unit, seam, WALLS[wall]))
    assert done.gaps == []
    assert any(isinstance(a, CutOut) for s in done.order.steps for a in s.actions)


def test_strips_off_the_ruler_show_in_the_piece_as_they_are_sewn() -> None:
    """Strips of 5/6 in are cut 1 3/8, so that each shows 7/8: so does a piece that is cut out of them."""
    wall = "unit wall\n    strips d | b | d | b | d | b\n    finished 5 x 5\n"
    unit = lines("slices c", "slice from 1 x 0 to 4 x 5, wall left", "finished 5")
    done = rehearse(pattern(unit, more=wall))
    assert done.gaps == []
    piece = next(m for m in done.designs.values() if m.kind == "strip-piece" and not m.key.mirrored)
    assert [float(s.start[0]) for s in piece.seams] == [0.875, 1.75, 2.625, 3.5]


def test_a_piece_in_which_one_strip_shows_is_cut_from_its_cloth() -> None:
    wall = "unit wall\n    strips d 3 | b 3\n    finished 6 x 6\n"
    unit = lines("slices c", "slice from 2 x 0 to 1 x 6, wall left", "finished 6")
    done = rehearse(pattern(unit, more=wall))
    assert done.gaps == []
    assert not any(m.kind == "strip-piece" for m in done.designs.values())
    assert {c.piece.fabric for c in done.order.cutting if isinstance(c, CutByTemplate)} == {"c", "d"}


# -- paper ------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("seam", SEAMS)
@pytest.mark.parametrize("kind", ["log-cabin", "courthouse-steps"])
def test_logs_on_paper(kind: str, seam: str) -> None:
    for size in (("log 1", "rounds 2"), ("rounds 3", "finished 12")):
        unit = lines(f"{kind} a 2", "round b, c, d, e", *size, "method foundation")
        done = rehearse(pattern(unit, seam))
        assert done.gaps == []
        assert list(done.order.papers) == ["u", "u, mirrored"]


def test_what_is_sewn_on_paper_is_pressed_to_the_piece_that_is_sewn_on() -> None:
    """No line of the file presses it otherwise, where it is folded over."""
    unit = lines("log-cabin a 2", "round b, c, d, e", "log 1", "rounds 1", "method foundation")
    head, rest = pattern(unit).split("\n", 1)
    done = rehearse(f"{head}\n    press open\n{rest}")
    assert done.gaps == []
    assert {s.pressed for s in done.designs[done.order.steps[0].thing].seams} == {"right"}


def test_pressing_that_paper_does_not_allow_is_a_problem() -> None:
    unit = "log-cabin a 2", "round b, c, d, e", "log 1", "rounds 1", "method foundation"
    assert rehearse(pattern(lines(*unit, "press out"))).gaps == []
    wrong = [p for p in problems_of(pattern(lines(*unit, "press in"))) if p.code == "press-no-seam"]
    assert [p.causes for p in wrong] == [
        ("On paper each piece is folded over its seam, which is thereby pressed toward that piece.",)
    ]


def test_sections_are_sewn_on_papers_of_their_own_and_joined() -> None:
    done = rehearse(pattern(lines("slices a", *DIVIDED["again"], "finished 6", "method foundation")))
    papers = [p for p in done.order.papers if "mirrored" not in p]
    assert papers == ["u, section A", "u, section B"]
    actions = done.order.steps[0].actions
    assert [type(a) for a in actions[:6]] == [Field, Field, TearAway, Field, Field, TearAway]
    assert sum(isinstance(a, Join) for a in actions) == 1
    assert [p.name for p in done.order.steps[0].batches[0][0].passages][-2:] == ["join-sections", "measure"]


def test_a_piece_for_paper_that_is_too_small() -> None:
    done = rehearse(pattern(lines("slices a", *DIVIDED["one line"], "finished 6", "method foundation")))
    ((batch, times),) = done.order.steps[0].batches
    first = batch.uses[0].item
    assert isinstance(first, Piece)
    small = msgspec.structs.replace(first, width=first.width / 2)
    uses = (msgspec.structs.replace(batch.uses[0], item=small), *batch.uses[1:])
    assert "cover" in gaps_with(done, ((msgspec.structs.replace(batch, uses=uses), times),))


def test_a_foundation_that_is_never_trimmed() -> None:
    done = rehearse(pattern(lines("slices a", *DIVIDED["one line"], "finished 6", "method foundation")))
    assert changed(done, lambda a: None if isinstance(a, TearAway) else a) == ["untrimmed"]


# -- geese ------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("seam", SEAMS)
@pytest.mark.parametrize(("cloths", "size"), [("a, b", "3 x 2"), ("a, b, c", "4 x 2"), ("a, b", "2 x 3 1/8")])
def test_geese_by_template(cloths: str, size: str, seam: str) -> None:
    done = rehearse(pattern(lines(f"flying-geese {cloths}", "method from templates", f"finished {size}"), seam))
    assert done.gaps == []
    assert len(done.order.templates) == 2  # both sides of the sky are trimmed alike, the one turned over


WALL = WALLS["even"]
UNITS = {
    "templates": ("", lines("slices a", *DIVIDED["again"], "finished 6")),
    "paper": ("", lines("slices a", *DIVIDED["again"], "finished 6", "method foundation")),
    "logs": ("", lines("log-cabin a 2", "round b, c, d, e", "log 1", "rounds 2", "method foundation")),
    "set in": ("", lines("slices c", *SET_IN["attic"], "finished 6")),
    "strips": (WALL, lines("slices c", "slice from 1/3 of top to 2/3 of bottom, wall left", "finished 6")),
    "geese": ("", lines("flying-geese a, b, c", "method from templates", "finished 4 x 2")),
}


def test_changed_orders_are_noticed() -> None:
    """At least 95 of 100 in every class of changes."""
    tally = Tally()
    for name, (more, unit) in UNITS.items():
        done = rehearse(pattern(unit, more=more, turns=("", "mirrored")))
        tally.add(name, done.order, done.designs, most=8)
    for of, tried in tally.tried.items():
        missed = [m for m in tally.missed if m.startswith(of)]
        assert tally.noticed[of] >= 0.95 * tried, missed
