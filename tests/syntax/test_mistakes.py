"""A mistake on a line gives one problem, in the writer's words, and hides nothing else."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from patternkit.syntax import statements as st
from patternkit.syntax.grammar import grammar_folder

from .helpers import UNDER, codes, line_codes, lines_of_problems, nodes_of, read

SOURCES = Path(__file__).parents[2] / "patternkit" / "syntax"
PAGES = grammar_folder() / "problems"
OURS = sorted(
    {
        code
        for path in SOURCES.glob("*.py")
        for code in re.findall(r'(?:Problem|trouble)\(\s*"([a-z]+(?:-[a-z]+)+)"', path.read_text(encoding="utf-8"))
    }
)

FOUR = """\
pattern Saltmarsh Lanterns
    seam 1/4

fabrik night dark

unit wall
    strips night || night
    finished 3 x 3

quilt
    across 5, dwn 7
    tile
        wall | wall
"""


def test_four_mistakes_are_four_problems() -> None:
    assert lines_of_problems(FOUR) == [1, 4, 7, 11]
    assert codes(FOUR) == ["needs-quotes", "unknown-word", "mark-twice", "unknown-word"]


def test_the_lines_under_a_mistake_are_read() -> None:
    file = read(FOUR)
    said = [n.statement for n in nodes_of(file)]
    assert [type(s).__name__ for s in said] == [
        "Bad",
        "Setting",
        "FabricHead",
        "UnitHead",
        "Bad",
        "SizeClaim",
        "QuiltHead",
        "Bad",
        "Tile",
        "PieceLine",
    ]
    assert said[2].name == "night"  # the slip in its first word was seen through


def test_a_bad_heading_still_gives_its_name() -> None:
    file = read("unit wall(night, )\n    patch night\n    finished 3\n")
    bad = file.nodes[0].statement
    assert isinstance(bad, st.Bad) and (bad.word, bad.name) == ("unit", "wall")
    assert len(file.problems) == 1
    assert len(file.nodes[0].children) == 2


def test_lines_under_an_unknown_word_are_not_reported_again() -> None:
    assert codes("zzzzzz\n    qqqq qqq\n        a | b\n    rrrr\nlet a = 1\n") == ["unknown-word"]


@pytest.mark.parametrize(
    "line, place, found, meant",
    [
        ("units inchs", "pattern", "inchs", "inches"),
        ("usable widht 40", "pattern", "usable widht", "usable-width"),
        ("fabrc night", "file", "fabrc", "fabric"),
        ("fabric night drak", "file", "drak", "dark"),
        ("fabric night directionnal", "file", "directionnal", "directional"),
        ("half-sqare a, b", "unit", "half-sqare", "half-square"),
        ("flyng geese a, b", "unit", "flyng geese", "flying-geese"),
        ("finishd 3", "unit", "finishd", "finished"),
        ("press towrd night", "unit", "towrd", "toward"),
        ("press rows alternatly", "unit", "alternatly", "alternately"),
        ("press opne", "unit", "opne", "open"),
        ("a turnd 90 | b", "rows", "turnd", "turned"),
        ("a mirrord | b", "rows", "mirrord", "mirrored"),
        ("(a | b |) 3 time c", "rows", "time", "times"),
        ("across 5, dwon 7", "quilt", "dwon", "down"),
        ("bordr 2 night", "quilt", "bordr", "border"),
        ("border 2 night, mitrd", "quilt", "mitrd", "mitred"),
        ("setting on piont", "quilt", "on piont", "on point"),
        ("border 2 night, cornrestones glow", "quilt", "cornrestones", "cornerstones"),
        ("backing stone, seams horizntal", "quilt", "seams horizntal", "seams horizontal"),
        ("finished 3 by 3", "unit", "by", "x"),
        ("snowball a, b", "unit", "snowball", "flipped-corners"),
        ("a rotated 90 | b", "rows", "rotated", "turned"),
        ("sash 1 a", "quilt", "sash", "sashing"),
        ("binding 2 night, form a square", "quilt", "form", "from"),
        ("makse wall", "part", "makse", "makes"),
        ("sold ass squares 10", "fabric", "ass", "as"),
    ],
)
def test_did_you_mean(line: str, place: str, found: str, meant: str) -> None:
    text = UNDER[place].format(line)
    file = read(text)
    problems = [p for p in file.problems if p.code != "nothing-under"]
    assert [p.code for p in problems] == ["unknown-word"], problems
    repair = problems[0].repairs[0]
    assert repair.replacement == meant and repair.safe
    assert text[repair.span.start : repair.span.end] == found
    mended = repair.taken(text)
    assert [c for c in codes(mended) if c != "nothing-under"] == []


@pytest.mark.parametrize(
    "line, place, code",
    [
        ("| a | b", "rows", "mark-at-edge"),
        ("a | b |", "rows", "mark-at-edge"),
        ("a | b <>", "rows", "mark-at-edge"),
        ("a | | b", "rows", "mark-twice"),
        ("(a |) 2 times | b", "rows", "mark-twice"),
        ("(a | b) 2 times c", "rows", "no-mark"),
        ("a b c", "rows", "no-mark"),
        ("a 3 | b turned 90 turned 180", "rows", "said-twice"),
        ("a 3 4", "rows", "said-twice"),
        ("measures 9", "rows", "wrong-place"),
        ("binding cut 2 1/4 night", "unit", "wrong-place"),
        ("a | b", "unit", "no-rows"),
        ("3 x 4", "unit", "not-understood"),
        ("across", "quilt", "stops-early"),
        ("border", "quilt", "not-understood"),
        ("border 4 stone, cornerstones", "quilt", "not-understood"),
        ("border 2 3 night", "quilt", "said-twice"),
        ("border 2 night glow", "quilt", "unknown-word"),
        ("finished 3 x 4 x 5", "unit", "not-understood"),
        ("let a 4", "file", "not-understood"),
        ("fabric 9patch", "file", "not-understood"),
        ("press toward", "unit", "stops-early"),
        ('note "no end', "unit", "unfinished-text"),
        ('note "a" b', "unit", "not-understood"),
        ("by 'Sewing Room'", "pattern", "odd-character"),
        ("units furlongs", "pattern", "unknown-word"),
        ("cot across 3, across 4", "sizes", "said-twice"),
        ("night teal", "colourway", "not-understood"),
        ("unit wall:", "file", "odd-character"),
        ("block four patch", "file", "not-understood"),
        ("a + b", "rows", "no-mark"),
        ("backing 4 yd stone", "quilt", "not-understood"),
        ("side = 9", "file", "unknown-word"),
        ("across 5 x 7", "quilt", "not-understood"),
        ("5 blocks", "quilt", "not-understood"),
        ("a turned 90.5 | b", "rows", "odd-turn"),
        ("#123456", "unit", "not-understood"),
        ("tools ruler", "pattern", "needs-quotes"),
        ("finished 90°", "unit", "not-understood"),
        ("method 1/4 1/8", "unit", "said-twice"),
    ],
)
def test_one_problem_with_its_code(line: str, place: str, code: str) -> None:
    assert line_codes(line, place) == [code]


@pytest.mark.parametrize(
    "text, lines",
    [
        (
            "unit u\n    patch a\n      finished 3\n      make 4\nlet b = 2\n",
            [3],
        ),  # one problem for the stretch
        ("unit u\n    patch a\n   finished 3\n    make 4\n", [3]),
        ("let a = 1\n    let b = 2\n", [2]),
        ("    let a = 1\n    let b = 2\n", []),  # a whole file that is indented
        ("unit u\n\tpatch a\n    finished 3\n", []),  # a tab is four columns
        ("unit u\n  patch a\n\tfinished 3\n", [3]),
    ],
)
def test_odd_indentation(text: str, lines: list[int]) -> None:
    assert lines_of_problems(text) == lines
    assert set(codes(text)) <= {"odd-indent"}
    assert not [n for n in nodes_of(read(text)) if isinstance(n.statement, st.Bad | st.Option)]


def test_problems_say_where_what_and_what_would_settle_it() -> None:
    for path in sorted(PAGES.glob("*.md")):
        if path.stem not in OURS:
            continue
        for block in re.findall(r"```pattern\n(.*?)```", path.read_text(encoding="utf-8").split("## Mended")[0], re.S):
            for problem in read(block).problems:
                assert problem.message.endswith((".", "?"))
                assert problem.span.file == "test.pattern"
                assert 0 <= problem.span.start < problem.span.end <= len(block)


def test_every_code_has_a_page_and_every_page_is_true() -> None:
    assert len(OURS) >= 20
    for code in OURS:
        page = (PAGES / f"{code}.md").read_text(encoding="utf-8")
        bad, good = page.split("## Raises it")[1].split("## Mended")
        raised = re.findall(r"```pattern\n(.*?)```", bad, re.S)
        mended = re.findall(r"```pattern\n(.*?)```", good, re.S)
        assert len(raised) == len(mended) == 1
        assert set(codes(raised[0])) == {code}
        assert codes(mended[0]) == []


def test_bounds() -> None:
    assert codes("a" * 1_000_001) == ["too-much"]
    assert codes("\n" * 20_001) == ["too-much"]
    many = codes("".join(f"fabrc {i}a\n" for i in range(19_000)))
    assert many.count("too-much") == 1 and len(many) == 1_001
    assert codes("let a = " + "1 + " * 2000 + "1\n") == ["too-much"]
    assert codes("let a = " + "1+" * 150 + "1\n") == ["too-much"]
    assert codes("let a = " + "(" * 3000 + "1" + ")" * 3000 + "\n") == ["too-much"]
    deep = "".join("    " * i + "zzzzzz\n" for i in range(60))
    assert sorted(codes(deep)) == ["too-much", "unknown-word"]
    assert codes("unit u\n    row " + " | ".join(["a"] * 900) + "\n") == []
