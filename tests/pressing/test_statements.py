"""Press statements on makings: what each word presses, who wins, and what is reported."""

from __future__ import annotations

import msgspec
import pytest

from patternkit.checks import run
from patternkit.piecing.making import Making, Side
from patternkit.pressing.conflicts import conflicts
from patternkit.pressing.statements import press_making
from patternkit.project import Project
from patternkit.source import Span
from patternkit.syntax.statements import PressStatement

from .builders import column, geese, half_square, patch, pinwheel, row

VALUES = {"n": "dark", "g": "light", "s": "medium"}


def say(how: str, name: str = "", at: int = 0) -> PressStatement:
    return PressStatement(how, name, None, Span("f", at, at + 5))


def nine() -> Making:
    lines = [
        row(f"r{i}", *(patch(f) for f in fabrics), role="row", unit="nine")
        for i, fabrics in enumerate(("ngn", "gng", "ngn"))
    ]
    return column("nine", *lines, role="block")


def sides(making: Making) -> list[list[Side]]:
    """The sides in every row, then those between the rows."""
    rows = [[s.pressed for s in p.what.seams] for p in making.parts if isinstance(p.what, Making)]
    return [*rows, [s.pressed for s in making.seams]]


L, R, F, O = "left", "right", "free", "open"  # noqa: E741


@pytest.mark.parametrize(
    ("statement", "wanted"),
    [
        (say("toward", "n"), [[L, R], [R, L], [L, R], [F, F]]),
        (say("away", "n"), [[R, L], [L, R], [R, L], [F, F]]),
        (say("toward", "g"), [[R, L], [L, R], [R, L], [F, F]]),
        (say("open"), [[O, O]] * 4),
        (say("out"), [[L, R]] * 4),
        (say("in"), [[R, L]] * 4),
        (say("left"), [[L, L]] * 3 + [[F, F]]),
        (say("right"), [[R, R]] * 3 + [[F, F]]),
        (say("up"), [[F, F]] * 3 + [[L, L]]),
        (say("down"), [[F, F]] * 3 + [[R, R]]),
        (say("rows-alternately"), [[R, R], [L, L], [R, R], [F, F]]),
        (say("darker"), [[L, R], [R, L], [L, R], [L, R]]),
    ],
    ids=lambda v: v.how if isinstance(v, PressStatement) else "",
)
def test_words_on_a_nine_patch(statement: PressStatement, wanted: list[list[Side]]) -> None:
    done = press_making(nine(), [statement], VALUES)
    assert sides(done.making) == wanted
    assert done.problems == ()


def test_out_and_in_nest_within_the_block() -> None:
    """`rows alternately` is what makes a nine-patch nest; `out` alone makes all its rows fight."""
    alternate = press_making(nine(), [say("rows-alternately")], VALUES).making
    assert not [c for c in conflicts(alternate) if c.verdict == "conflict"]
    outward = press_making(nine(), [say("out")], VALUES).making
    assert sum(c.count for c in conflicts(outward) if c.verdict == "conflict") == 4


def test_the_plain_side() -> None:
    pieced = row("pieced", patch("n"), patch("g"), patch("n"))
    top = column("both", pieced, patch("s", 3, 1), pieced)
    assert [s.pressed for s in press_making(top, [say("plain")], VALUES).making.seams] == [R, L]


def test_geese_toward_the_sky_by_fabric_and_by_piece() -> None:
    goose = geese("goose", "n", "g", 2)
    for name in ("g", "sky"):
        assert [s.pressed for s in press_making(goose, [say("toward", name)], VALUES).making.seams] == [L, L]
    assert [s.pressed for s in press_making(goose, [say("toward", "goose")], VALUES).making.seams] == [R, R]


def test_toward_a_unit_by_name() -> None:
    corner = half_square("corner", "n", "g", 2, "left")
    strip = row("strip", corner, patch("s", 2), corner)
    assert [s.pressed for s in press_making(strip, [say("toward", "corner")], VALUES).making.seams] == [L, R]


def test_turned_rows_follow_the_unit_as_drawn() -> None:
    line = row("line", patch("n"), patch("g"), role="row", unit="block")
    top = column("block", line, (line, 180))
    done = press_making(top, [say("left")], VALUES).making
    assert [[s.pressed for s in p.what.seams] for p in done.parts if isinstance(p.what, Making)] == [[L], [R]]
    assert [c.verdict for c in conflicts(done)] == ["conflict"]


def test_equal_rows_stay_one_object_unless_they_have_to_differ() -> None:
    line = row("line", patch("n"), patch("g"), role="row", unit="block")
    top = column("block", line, line, line)
    alike = press_making(top, [say("toward", "n")], VALUES).making
    assert alike.parts[0].what is alike.parts[1].what is alike.parts[2].what
    other = press_making(top, [say("rows-alternately")], VALUES).making
    assert other.parts[0].what is other.parts[2].what is not other.parts[1].what
    keys = {p.what.key for p in other.parts if isinstance(p.what, Making)}
    assert len(keys) == 2


def test_a_unit_with_a_name_of_its_own_is_left_alone() -> None:
    corner = half_square("corner", "n", "g", 2)
    done = press_making(row("strip", corner, patch("s", 2)), [say("open")], VALUES).making
    assert done.parts[0].what is corner and done.seams[0].pressed == O


def test_later_and_nearer_win() -> None:
    later = press_making(nine(), [say("open"), say("toward", "n", 10)], VALUES)
    assert sides(later.making) == [[L, R], [R, L], [L, R], [O, O]] and later.problems == ()
    nearer = press_making(nine(), [say("open")], VALUES, general=[say("darker")])
    assert sides(nearer.making) == [[O, O]] * 4
    general = press_making(nine(), [], VALUES, general=[say("darker", at=7)])
    assert sides(general.making) == [[L, R], [R, L], [L, R], [L, R]]
    inner = general.making.parts[0].what
    assert isinstance(inner, Making) and inner.seams[0].stated == Span("f", 7, 12)


def test_a_mark_wins() -> None:
    pair = row("pair", patch("n"), patch("g"), patch("n"), pressed="><")
    marked = tuple(msgspec.structs.replace(s, mark=Span("f", 90 + i, 91 + i)) for i, s in enumerate(pair.seams))
    done = press_making(msgspec.structs.replace(pair, seams=marked), [say("toward", "n")], VALUES)
    assert [s.pressed for s in done.making.seams] == [R, L]
    (problem,) = done.problems
    assert problem.code == "press-contradiction" and problem.labels[0].span == Span("f", 90, 91)
    half = (marked[0], msgspec.structs.replace(marked[1], pressed="free"))
    some = press_making(msgspec.structs.replace(pair, seams=half), [say("toward", "n")], VALUES)
    assert [s.pressed for s in some.making.seams] == [R, R] and some.problems == ()


def test_a_default_of_the_kind_yields() -> None:
    goose = geese("goose", "n", "g", 2, ("left", "left"))
    assert [s.pressed for s in press_making(goose, [say("open")], VALUES).making.seams] == [O, O]


@pytest.mark.parametrize("statement", [say("toward", "s"), say("away", "nothing"), say("spun")])
def test_a_statement_that_presses_nothing_is_a_problem(statement: PressStatement) -> None:
    made = row("pair", patch("n"), patch("g"))
    (problem,) = press_making(made, [statement], VALUES).problems
    assert problem.code == "press-no-seam" and problem.span == statement.span and problem.causes and problem.repairs


NAMED = """
fabric foam
fabric glow
unit leaf
    patch glow
    finished 3 x 6
block tide(shade, side)
    row shade | side
    finished 6
    press toward {}
quilt
    layout
        tide(foam, leaf) | tide(foam, leaf)
"""


@pytest.mark.parametrize(("name", "side"), [("shade", L), ("side", R), ("foam", L), ("leaf", R)])
def test_a_name_in_brackets_is_pressed_toward_what_it_stands_for(name: str, side: Side) -> None:
    project = Project("tide.pattern", NAMED.format(name))
    assert [p for p in run(project) if not p.advice] == []
    assert [s.pressed for s in project.makings["tide(foam, leaf)"].seams] == [side]


SASHED = """
fabric foam
fabric deep
fabric sand
block wave
    patch sand 6
quilt
    across 2, down 2
    tile
        wave
    sashing 2 foam, cornerstones sand
    press toward foam
    border 4 deep, cornerstones sand
"""


def test_a_fabric_here_and_there_along_the_quilt_does_not_draw_the_border_seam_to_it() -> None:
    """The sashing is all foam, and its seams are pressed toward it; the border's edge has it between blocks and
    cornerstones: there the seam goes toward the border, the side with fewer seams."""
    project = Project("sashed.pattern", SASHED)
    top = project.pressed_top
    assert top is not None and top.role == "quilt"
    assert [s.pressed for s in top.seams] == [R, R, R, R]
    assert project.pressing is not None and project.pressing.nested == project.pressing.total


def test_a_default_of_the_file_that_presses_nothing_is_none() -> None:
    made = row("pair", patch("n"), patch("n"))
    assert press_making(made, [], VALUES, general=[say("darker")]).problems == ()


def test_contradicting_statements_are_reported_with_both_places() -> None:
    done = press_making(row("pair", patch("n"), patch("g")), [say("toward", "n", 10), say("away", "n", 30)], VALUES)
    (problem,) = done.problems
    assert problem.code == "press-contradiction" and problem.span.start == 10 and problem.labels[0].span.start == 30
    twice = press_making(row("pair", patch("n"), patch("g")), [say("toward", "n", 10), say("left", "", 30)], VALUES)
    assert twice.problems == ()  # both press it to the left


def test_spun_follows_what_crosses_it() -> None:
    made = pinwheel(half_square("h", "n", "g", 2, "left"), "right")
    done = press_making(made, [say("spun")], VALUES)
    (seam,) = done.making.seams
    assert seam.spun == (made.width / 2, made.height / 2)
    assert {c.verdict for c in conflicts(done.making)} == set()
