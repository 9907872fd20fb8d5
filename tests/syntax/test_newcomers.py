"""What someone writes who has read the reference once: taken where it can mean one thing, told kindly where not."""

from __future__ import annotations

from fractions import Fraction

import pytest

from patternkit.lengths import SQRT3
from patternkit.piecing.unknowns import of_unit
from patternkit.project import Project
from patternkit.syntax import statements as st
from patternkit.syntax.format import format_text

from .helpers import line_codes, meaning, nodes_of, read, statement


@pytest.mark.parametrize(
    "line, place, settled",
    [
        ("hst night, glow", "unit", "half-square night, glow"),
        ("finishes 9", "unit", "finished 9"),
        ("unfinished 9 1/2", "unit", "measures 9 1/2"),
        ("8 at a time", "unit", "method 8 at a time"),
        ("four at a time", "unit", "method four at a time"),
        ("stitch and flip", "unit", "method stitch and flip"),
        ("makes 12", "unit", "make 12"),
        ("make 12 wall, 3 gate", "part", "makes 12 wall, 3 gate"),
        ("seam allowance 1/4", "pattern", "seam 1/4"),
        ("width of fabric 42", "fabric", "usable width 42"),
        ("5 across, 7 down", "quilt", "across 5, down 7"),
        ("7 down 5 across", "quilt", "down 7, across 5"),
        ("borders 2 night", "quilt", "border 2 night"),
        ("hanging sleeve 4 night", "quilt", "sleeve 4 night"),
        ("wadding overage 3", "quilt", "batting overage 3"),
    ],
)
def test_other_words_are_taken_and_settled(line: str, place: str, settled: str) -> None:
    under = {"unit": "unit u", "part": 'part "P"', "pattern": 'pattern "T"', "fabric": "fabric f", "quilt": "quilt"}
    text = f"{under[place]}\n    {line}\n"
    assert not read(text).problems
    assert format_text(text) == f"{under[place]}\n    {settled}\n"
    assert meaning(read(text)) == meaning(read(format_text(text))) or "at a time" in line or "flip" in line


def test_other_words_stay_free_as_names() -> None:
    rows = read("unit hst\n    half-square a, b\n\nblock star\n    rows\n        hst turned 90 | wof | finishes\n")
    assert rows.problems == ()
    line = next(
        n.statement for n in nodes_of(rows) if isinstance(n.statement, st.PieceLine) and len(n.statement.items) == 3
    )
    assert [use.name for use in line.items] == ["hst", "wof", "finishes"]


def test_a_colour_may_have_a_name() -> None:
    assert statement("fabric sea teal", "file").colour == "#008080"
    said = statement('fabric sky light "Sky" blue directional', "file")
    assert (said.value, said.colour, said.title, said.directional) == ("light", "#0000ff", "Sky", True)
    assert line_codes("fabric sea tael", "file") == ["unknown-word"]
    assert line_codes("fabric harbour sea", "file") == ["not-understood"]
    assert format_text('fabric sea teal "Sea"\n') == 'fabric sea "Sea"  teal\n'


def test_with_stands_before_a_phrase() -> None:
    said = statement("sashing 1 stone with cornerstones glow", "quilt")
    assert said.cornerstones is not None and said.cornerstones.name == "glow"
    assert line_codes("sashing 1 stone with frills", "quilt") == ["unknown-word"]


@pytest.mark.parametrize("line", ["radius 7,5", "seam 0,75", "finished 7,5 x 10"])
def test_a_decimal_comma_is_told(line: str) -> None:
    assert line_codes(line, "pattern" if line.startswith("seam") else "unit") == ["glued-comma"]


def test_a_line_at_the_edge_is_told_where_it_belongs() -> None:
    (problem,) = read('pattern "T"\nunits inches\n').problems
    assert problem.code == "wrong-place" and "`pattern`: indent it" in problem.causes[0]


HEAD = "fabric sea dark\nfabric foam light\n\nunit wind-mill\n    half-square sea, foam\n    finished 3\n\n"


def told(block: str) -> list[tuple[str, str]]:
    """The problems of a file with one more block."""
    from patternkit.checks import run

    project = Project("t.pattern", f"{HEAD}block b\n    rows\n        {block}\n    finished 6 x 3\n")
    return [(p.code, p.message) for p in run(project) if not p.advice]


def test_two_words_side_by_side() -> None:
    assert told("wind-mill | sea") == []
    assert told("wind mill | sea") == [("unknown-name", "There is no piece called wind mill. Did you mean wind-mill?")]
    assert [code for code, _ in told("sea wind-mill")] == ["no-mark"]
    assert told("sea width | foam")[0][1] == "There is no length or number called width."


def test_a_name_of_two_words_is_one_mistake() -> None:
    from patternkit.checks import run

    text = HEAD + "block ohio star\n    patch sea\n    finished 6\n\nquilt\n    tile\n        ohio star | ohio star\n"
    assert [p.code for p in run(Project("t.pattern", text)) if not p.advice] == ["not-understood"]


def test_parts_speak_of_several() -> None:
    from patternkit.checks import run

    text = (
        HEAD + 'quilt\n    across 2\n    tile\n        wind-mill\n\npart "One"\n    makes 2 wind-mills\n    makes top\n'
    )
    assert [p.message for p in run(Project("t.pattern", text)) if not p.advice] == []


@pytest.mark.parametrize(
    "line, codes, left",
    [
        ("binding 2 1/4 sea", ["binding-wide"], []),
        ("binding 6.35 cm sea, bias", ["binding-wide"], []),
        ("binding 5 1/2 cm sea, bias", ["binding-wide"], ["cut-off-ruler"]),  # a ruler in eighths of an inch
        ("binding 3/8 sea", [], []),
        ("binding cut 2 1/4 sea", [], []),
    ],
)
def test_a_bare_width_of_a_binding(line: str, codes: list[str], left: list[str]) -> None:
    from patternkit.checks import run

    text = HEAD + f"quilt\n    across 4, down 4\n    tile\n        wind-mill\n    {line}\n"
    found = run(Project("t.pattern", text))
    assert [p.code for p in found if not p.advice] == codes
    for problem in (p for p in found if p.code == "binding-wide"):
        for repair in (r for r in problem.repairs if r.replacement is not None):
            mended = repair.taken(text)
            assert [p.code for p in run(Project("t.pattern", mended)) if not p.advice] == left


def test_one_side_alone() -> None:
    text = "fabric sea dark\nfabric foam light\n\nunit cell\n    hexagon sea, foam\n    finished 4 high\n"
    project = Project("t.pattern", text)
    assert not [p for p in project.building if not p.advice] and not project.disagreements
    width = project.solution.value(of_unit("cell", "w"))
    assert width is not None and width.const == SQRT3 * Fraction(8, 3)  # 4 times 2 over root 3
    said = statement("finished 6 wide, 3 high")
    assert (said.width.value, said.height.value, said.side) == (6, 3, "")
    assert statement("measures 3 1/2 tall").side == "h"
    assert statement("finished 6 wide x 3 high").height.value == 3
    assert line_codes("cut 3 wide") == ["not-understood"]
    assert format_text("unit u\n    finished 6 wide x 3½ high\n") == "unit u\n    finished 6 wide x 3 1/2 high\n"


def test_a_side_that_differs_is_told() -> None:
    from patternkit.checks import run

    text = HEAD + "block b\n    row wind-mill | wind-mill\n    finished 8 wide\n"
    (problem,) = [p for p in run(Project("t.pattern", text)) if not p.advice]
    assert problem.code == "claim-differs" and "said to finish 8 in wide" in problem.message


def test_a_part_may_make_the_finishing() -> None:
    assert statement("makes top, finishing", "part").names[1][1].name == "finishing"


@pytest.mark.parametrize(
    "line, place, code, words",
    [
        ("by Saltmarsh Sewing Room", "pattern", "needs-quotes", "double quotes"),
        ("row 1: red | sky", "unit", "not-understood", "each line is a row"),
        ("flying geese red and sky", "unit", "unknown-word", "a comma or a seam mark"),
        ('fabric sky "Sky" light 44"', "file", "not-understood", "can't stand here"),
        ("9 x 9 finished", "unit", "not-understood", "starts with a word"),
        ("no sashing", "quilt", "unknown-word", "starts no line"),
    ],
)
def test_slips_are_told_kindly(line: str, place: str, code: str, words: str) -> None:
    from .helpers import UNDER

    (problem,) = [p for p in read(UNDER[place].format(line)).problems if p.code != "nothing-under"]
    assert problem.code == code and words in problem.message
    assert problem.causes or problem.repairs or words == "each line is a row"


def test_more_ways_to_say_it() -> None:
    assert statement("3 blocks across, 4 blocks down", "quilt").down.value == 4
    assert format_text("quilt\n    3 blocks across\n") == "quilt\n    across 3\n"
    assert statement("border 3 sky, mitered corners", "quilt").words == ("mitred",)
    assert statement("fabric width 42", "pattern").word == "usable-width"
    assert statement("press seams toward the red fabric").name == "red"
    assert statement("press to the dark side").how == "darker"
    assert statement("press toward dark").name == "dark"
    assert statement("fabric width dark", "file").name == "width"


def test_lengths_may_be_named_in_any_order() -> None:
    text = "let half = side/2\nlet side = 8\n\nfabric sea dark\n\nunit u\n    patch sea\n    finished half\n"
    project = Project("t.pattern", text)
    assert project.building == []
    width = project.solution.value(of_unit("u", "w"))
    assert width is not None and width.value(project.pattern.parameters) == 4
    assert [p.code for p in Project("t.pattern", "let a = b\nlet b = a\n").building] != []


def test_a_let_without_its_word_is_one_mistake() -> None:
    from patternkit.checks import run

    assert [p.code for p in run(Project("t.pattern", "let half = side/2\nside = 8\n"))] == ["unknown-word"]


@pytest.mark.parametrize(
    ("line", "offers"), [("row a | b 2 high", []), ("row a 3 tall | b", []), ("row a | b 2 wide", [""])]
)
def test_one_side_of_a_piece_is_told_how_it_is_written(line: str, offers: list[str]) -> None:
    (problem,) = read(f"unit u\n    {line}\n").problems
    assert problem.code == "unknown-word"
    assert "its width, x and its height" in problem.message and "12 x 2" in problem.causes[0]
    assert [r.replacement for r in problem.repairs] == offers
