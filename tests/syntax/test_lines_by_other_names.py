"""Lines as other pages write them: told with the line that is meant, which then is taken."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.syntax.format import format_text


def problems(text: str) -> list[Problem]:
    return [p for p in run(Project("t.pattern", text)) if not p.advice]


def quilted(line: str) -> str:
    return f"fabric a\nfabric b\nunit u\n    patch a 6\nquilt\n    across 2, down 2\n    tile\n        u\n    {line}\n"


def mended(text: str) -> list[Problem]:
    """What is left of a text's problems once the first offer of its only one is taken."""
    (problem,) = problems(text)
    repair = problem.repairs[0]
    return problems(repair.taken(text))


@pytest.mark.parametrize(
    ("line", "meant"),
    [
        ("inner border 1 b", "border 1 b"),
        ("second outer border 4 b", "border 4 b"),
        ("bias binding cut 2 1/4 b", "binding cut 2 1/4 b, bias"),
        ("double-fold binding cut 2 1/4 b", "binding cut 2 1/4 b"),
        ("on point b", "setting on point b"),
        ("setting diagonal b", "setting on point b"),
        ("setting on point, triangles b, float 1", ""),
        ("setting on point, side triangles b, corners a", "setting on point, sides b, corners a"),
        ("rod pocket 4 b", "sleeve 4 b"),
        ("label 4 x 6 b", 'also 1 of 4 x 6 b "label"'),
        ("hanging corners cut 4 b", 'also 2 squares 4 b "hanging corners"'),
        ("sashing 1 b, posts a", "sashing 1 b, cornerstones a"),
        ("back b", "backing b"),
        ("batting 3", "batting overage 3"),
    ],
)
def test_a_line_of_the_quilt_is_rewritten(line: str, meant: str) -> None:
    text = quilted(line)
    if not meant:
        assert problems(text) == []
        return
    (problem,) = problems(text)
    assert problem.repairs[0].taken(text) == quilted(meant)
    assert problems(quilted(meant)) == []


def test_cornerstones_alone_are_sent_to_their_sashing() -> None:
    (problem,) = problems(quilted("cornerstones a"))
    assert "`sashing 1 stone, cornerstones glow`" in problem.causes[0]


def test_what_is_also_cut_may_be_called_so() -> None:
    line = 'also cut 2 of 4 x 6 b "pocket"\n        Hem the top edge.'
    assert problems(quilted(line)) == []
    assert 'also 2 of 4 x 6 b "pocket"' in format_text(quilted(line))


@pytest.mark.parametrize(
    "line",
    [
        "row h | h turned -90",
        "row h | h turned left",
        "row (h | h) x 3",
        "row 3 times (h | h)",
        "row 3 (h | h)",
        "row h | h\n    make 4 units",
        "row h | h\n    square up to 6 1/2 x 3 1/2",
    ],
)
def test_a_line_of_a_unit_is_rewritten(line: str) -> None:
    text = f"fabric a\nfabric b\nunit h\n    half-square a, b\n    finished 3\nunit u\n    {line}\n"
    text += "quilt\n    tile\n        u"
    left = mended(f"{text} | u\n" if "make" not in line else f"{text} | u\n        u | u\n")
    assert left == []


def test_a_point_outside_the_unit_stands_in_brackets() -> None:
    text = (
        "fabric a\nfabric b\nunit u\n    slices a\n"
        "    slice from top left to top right about 3 x -4, b top, 4 times round\n"
        "    finished 6\nquilt\n    across 2, down 2\n    tile\n        u\n"
    )
    found = problems(text)
    assert [r.replacement for p in found for r in p.repairs] == ["(-4)"]
    assert problems(text.replace("-4", "(-4)")) == []


def test_a_method_on_paper_names_the_kinds_that_have_it() -> None:
    text = quilted("backing b").replace("patch a 6", "flying-geese a, b\n    finished 4 x 2\n    method foundation")
    (problem,) = problems(text)
    assert "`slices`" in problem.causes[-1]


def test_a_kind_that_there_is_not_is_named() -> None:
    (problem,) = problems(quilted("backing b").replace("patch a 6", "zeppelin a, b\n    finished 6"))
    assert problem.code == "no-kind" and "`zeppelin` is no kind of unit" in problem.message


def test_a_width_may_be_called_strip() -> None:
    named = "let strip = 2\n" + quilted("border strip b, strips 4")
    assert problems(named) == []
    assert Project("t.pattern", named).pattern.quilt is not None


def test_a_line_that_begins_with_strips_lacks_its_width() -> None:
    text = quilted("sashing strips 1 b")
    (problem,) = problems(text)
    assert problem.repairs[0].taken(text) == quilted("sashing 1 b")


@pytest.mark.parametrize(
    ("line", "meant"),
    [
        ("mitered border 2 b", "border 2 b, mitred"),
        ("pieced border u", "border u"),
        ("backing b, 4 extra", "backing b, overage 4"),
        ("backing b, 108 wide", "backing b, wide 108"),
        ("backing b, horizontal seams", "backing b, seams horizontal"),
        ("border 2 b, corner squares a", "border 2 b, cornerstones a"),
    ],
)
def test_phrases_of_pages_are_rewritten(line: str, meant: str) -> None:
    text = quilted(line)
    (problem,) = problems(text)
    assert problem.repairs[0].taken(text) == quilted(meant)
    assert problems(quilted(meant)) == []


@pytest.mark.parametrize(
    ("line", "meant"),
    [
        ("sold as FQ", "sold as fat-quarters"),
        ("fat quarters 18 x 21", "sold as fat quarters 18 x 21"),
        ("sold as 10 in squares, 42 to a pack", "sold as squares 10 in x 10 in, 42 to a pack"),
        ("charm squares", "sold as squares 5 x 5"),
        ("buy two yards", "buy 2 yards"),
        ("cut 1 2 1/2 in strip", "cut 1 strip 2 1/2 in"),
    ],
)
def test_lines_of_a_fabric_are_rewritten(line: str, meant: str) -> None:
    (problem,) = [p for p in run(Project("t.pattern", f"fabric a\n    {line}\n")) if not p.advice]
    assert problem.repairs[0].replacement == meant


@pytest.mark.parametrize(
    ("line", "meant"),
    [
        ("press all seams open", "press open"),
        ("press alternate rows", "press rows alternately"),
        ("magic 8", "method eight at a time"),
        ("8-at-a-time", "method 8 at a time"),
        ("no-waste method", "method no waste"),
        ("finished 3 in square", "finished 3 in"),
        ("finished size 3", "finished 3"),
        ("unfinished size 3 1/2", "measures 3 1/2"),
    ],
)
def test_lines_of_a_unit_are_rewritten(line: str, meant: str) -> None:
    text = quilted("backing b").replace("patch a 6", f"half-square a, b\n    {line}")
    found = [p for p in problems(text) if p.code == "not-understood"]
    assert [r.replacement for p in found for r in p.repairs] == [meant]


@pytest.mark.parametrize("line", ["scalloped edge", "rounded corners 4", "machine quilting"])
def test_what_is_told_in_words_is_sent_there(line: str) -> None:
    (problem,) = problems(quilted(line))
    assert "`finishing`" in problem.causes[0]


def test_a_turn_may_have_any_name() -> None:
    text = quilted("backing b").replace("        u\n", "        u turned left\n") + "let left = 90\n"
    assert problems(text) == []
