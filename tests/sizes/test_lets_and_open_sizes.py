"""Repairs of a ``let`` have their place; contradictions that lean on a size nobody gave can be read."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from patternkit.lengths import Length
from patternkit.problems import Problem
from patternkit.project import Project

HEAD = """pattern "Sea Wall"
    units {units}

{lets}
fabric night "Midnight blue" dark   #1b2a49
fabric glow  "Lamp yellow"   light  #f4c95d

"""
STAR = """unit star
    rows
        night side | glow {glow}
    finished {finished} x 4

quilt
    layout
        star
"""


def told(text: str, code: str, size: str = "", values: Mapping[str, Length] | None = None) -> tuple[Problem, str]:
    """The one problem of that code, and the text it was found in."""
    from patternkit.checks import run

    (found,) = [p for p in run(Project("wall.pattern", text, size=size, overrides=values)) if p.code == code]
    return found, text


def star(
    units: str = "inches", lets: str = "let side = 3", glow: str = "3 1/2", finished: str = "8", end: str = ""
) -> str:
    return HEAD.format(units=units, lets=lets) + STAR.format(glow=glow, finished=finished) + end


def mended(problem: Problem, text: str, name: str) -> str:
    """The text with the repair of a name written where the repair says."""
    (repair,) = [r for r in problem.repairs if r.text.startswith(f"let {name} be ")]
    assert repair.span is not None and repair.replacement is not None
    return repair.taken(text)


@pytest.mark.parametrize(
    ("units", "lets", "glow", "finished", "name", "said", "line"),
    [
        ("inches", "let side = 3", "3 1/2", "8", "side", "let side be 4 1/2 in", "let side = 4 1/2"),
        ("cm", "let side = 4", "3", "9", "side", "let side be 6 cm", "let side = 6"),
        ("mm", "let side = 40", "30", "95", "side", "let side be 65 mm", "let side = 65"),
        ("cm", "let side = 4\nlet gap = 30 mm", "gap", "9", "gap", "let gap be 5 cm", "let gap = 5"),
        ("inches", "let side = 3\nlet gap = side*2", "gap", "12", "side", "let side be 4 in", "let side = 4"),
    ],
)
def test_a_let_is_mended_where_it_stands(
    units: str, lets: str, glow: str, finished: str, name: str, said: str, line: str
) -> None:
    problem, text = told(star(units, lets, glow, finished), "claim-differs")
    assert said in [r.text for r in problem.repairs]
    new = mended(problem, text, name)
    assert line in new.splitlines()
    assert not [p for p in told_all(new) if p.code == "claim-differs"]
    label = next(x for x in problem.labels if x.text.startswith(f"{name} is "))
    assert text[: label.span.start].endswith(f"let {name} = ")


def told_all(text: str) -> list[Problem]:
    from patternkit.checks import run

    return run(Project("wall.pattern", text))


def test_in_another_size_it_is_the_number_in_that_row() -> None:
    text = star(finished="side*2 + 1/2", lets="let side = 3", end="\nsizes\n    mat    side 3\n    table  side 5\n")
    problem, _ = told(text, "claim-differs", size="table")
    new = mended(problem, text, "side")
    assert "    table  side 3" in new and "    mat    side 3" in new and "let side = 3" in new
    assert "side is 5 in" in [x.text for x in problem.labels]


def test_a_value_from_outside_has_no_place_in_the_file() -> None:
    problem, _ = told(star(finished="side*2 + 1/2"), "claim-differs", values={"side": Length(5)})
    (repair,) = [r for r in problem.repairs if r.text.startswith("let side be")]
    assert repair.replacement is None and not [x for x in problem.labels if x.text.startswith("side is")]


def test_formulas_are_written_in_the_unit_of_the_file() -> None:
    problem, text = told(star("cm", "let side = 4", "3", "9"), "claim-differs")
    assert any("write side + 3 instead of 9 cm (7 cm as the pattern stands)" in r.text for r in problem.repairs)


# -- sizes that nobody gave ---------------------------------------------------------------------------------
OPEN = """unit wall
    rows
        night | glow

quilt
    layout
        {first}
        {second}
"""


def test_a_contradiction_beside_an_open_size_is_said_by_how_much_the_sides_differ() -> None:
    text = HEAD.format(units="inches", lets="") + OPEN.format(first="wall | night 6", second="wall")
    problem, _ = told(text, "seams-differ")
    assert text[problem.span.start : problem.span.end] == "wall | night 6"
    assert problem.message.endswith(
        "wall + night 6 in is 6 in larger than wall, and the quilt centre is as large as wall."
    )
    assert problem.causes[-1] == "That is so however large wall may be: nothing that is said of it can settle it."
    assert [r.text for r in problem.repairs] == [
        "take 6 in out here",
        "add pieces of 6 in where the quilt centre is made up",
    ]
    assert "(wall)" not in " ".join([problem.message, *problem.causes])
    assert not [
        p
        for p in told_all(
            text.replace("wall | night 6", "wall | glow 6").replace("        wall\n", "        wall | night 6\n")
        )
        if p.code == "seams-differ"
    ]


def test_the_other_row_may_be_the_longer_one_and_both_may_be_cut_short() -> None:
    text = HEAD.format(units="cm", lets="") + OPEN.format(first="wall", second="wall | glow 6 | night 2")
    problem, _ = told(text, "seams-differ")
    said = " ".join([problem.message, *problem.causes])
    assert "8 cm" in said and "(wall)" not in said and problem.repairs
    both = HEAD.format(units="cm", lets="") + OPEN.format(first="wall | glow 5", second="wall | glow 6 | night 2")
    problem, _ = told(both, "seams-differ")
    said = " ".join([problem.message, *problem.causes, *(r.text for r in problem.repairs)])
    assert "5 cm larger than wall" in said and "8 cm larger than wall" in said and "(wall)" not in said
    assert any("write 3 cm instead of 6 cm" in r.text for r in problem.repairs)


MEASURED = """fabric night dark
fabric glow light
block pair
    row night | glow
    measures {}
quilt
    across 2, down 2
    tile
        pair
sizes
    small across 2, down 2
    large across 4, down 5
"""


def test_what_alone_sizes_a_unit_holds_in_every_size() -> None:
    """A block that is only said to measure 6 1/2 in is that large in the other sizes, too."""
    from patternkit.checks import run

    project = Project("wall.pattern", MEASURED.format("6 1/2 x 6 1/2"))
    assert [p.message for p in run(project) if not p.advice] == []
    large = project.in_size("large").top
    assert large is not None and (large.width, large.height) == (Length(24), Length(30))


def test_a_measure_of_the_pattern_as_written_is_none_of_another_size() -> None:
    from patternkit.checks import run

    text = "let side = 6\n" + MEASURED.format("6 1/2 x 6 1/2").replace("    row", "    finished side\n    row")
    text = text.replace("down 5", "down 5, side 8")
    assert [p.message for p in run(Project("wall.pattern", text)) if not p.advice] == []
    wrong = text.replace("measures 6 1/2 x 6 1/2", "measures 7 1/2 x 6 1/2")
    assert {p.size for p in run(Project("wall.pattern", wrong)) if not p.advice} == {""}


def test_a_table_of_sizes_is_read_once_for_all_of_them() -> None:
    """A table of 500 rows would be read 500 times; one with a problem is read for each, so that each tells it."""
    from patternkit.checks import run

    project = Project("wall.pattern", MEASURED.format("6 1/2 x 6 1/2"))
    assert project.in_size("small").pattern.sizes is project.in_size("large").pattern.sizes is project.pattern.sizes
    wrong = Project("wall.pattern", MEASURED.format("6 1/2 x 6 1/2").replace("large across", "large acros"))
    for one in (wrong, wrong.in_size("small"), wrong.in_size("large")):
        assert [p.message for p in run(one, sizes=False) if "acros" in p.message]
