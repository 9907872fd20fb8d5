"""How groups are written: their lines, the formatter, what stands for one print, and what is no good."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.syntax.format import format_text
from patternkit.syntax.parse import parse
from patternkit.syntax.statements import FabricHead, Node

from .written import FAT, mills, pattern

PLAIN = "    across 4, down 5\n    tile\n        mill(shore)\n"


def head(line: str) -> FabricHead:
    """The statement of a line at the edge of a file."""
    node = next(n for n in parse("t", line + "\n").nodes if isinstance(n, Node))
    assert isinstance(node.statement, FabricHead)
    return node.statement


def test_a_line_says_how_many_and_of_what() -> None:
    line = head('fabrics darks "Harbour darks" 20 of roll dark #2f4a5f directional')
    assert (line.name, line.title, line.value, line.colour, line.directional) == (
        "darks",
        "Harbour darks",
        "dark",
        "#2f4a5f",
        True,
    )
    assert line.many and line.count is not None and line.of is not None and line.of.name == "roll"
    bag = head("fabrics scraps")
    assert bag.many and bag.count is None and bag.of is None
    assert not head("fabric scraps").many


@pytest.mark.parametrize(
    "text",
    [
        'fabrics shore "Shore prints"  12          medium  #5f9ea8\n    sold as fat-quarters 18 x 21\n    buy 12\n',
        "fabrics roll  40\n    sold by 1/8 yd\n    buy 1/4 yd from each\n",
        'fabric cream  "Cream"  light\nfabrics shore  12  dark\n',
    ],
)
def test_the_formatter_keeps_what_a_group_says(text: str) -> None:
    once = format_text(text)
    assert format_text(once) == once
    before, after = ([n.statement for n in parse("t", x).nodes if isinstance(n, Node)] for x in (text, once))
    known = ("name", "title", "value", "colour", "directional", "many")
    for a, b in zip(before, after, strict=True):
        assert [getattr(a, x) for x in known] == [getattr(b, x) for x in known]


def test_what_is_said_twice_is_told() -> None:
    assert [p.code for p in parse("t", "fabrics shore 12 14\n").problems] == ["said-twice"]
    assert [p.code for p in parse("t", "fabrics shore 12 dark light\n").problems] == ["said-twice"]


def test_given_to_a_block_it_stands_for_one_print_and_twice_for_two() -> None:
    units = mills(PLAIN).pattern.units
    assert {"mill(one shore)", "corner(one shore)"} <= set(units)
    body = "unit pair(a, b)\n    row a 3 x 3 | b 3 x 3\nblock both\n    row pair(shore, shore)\n"
    project = pattern(body)
    assert "pair(one shore, another shore)" in project.pattern.units
    assert project.pattern.fabrics["another shore"].title == "Shore prints"


def test_a_group_within_a_block_that_has_a_print_gives_another() -> None:
    body = (
        "unit dot(a)\n    patch a 3\nblock pair(a)\n    row dot(a) | dot(shore)\n"
        "quilt\n    across 2, down 2\n    tile\n        pair(shore)\n"
    )
    units = pattern(body).pattern.units
    assert {"dot(one shore)", "dot(another shore)", "pair(one shore)"} <= set(units)


def test_one_print_by_its_number_stands_wherever_a_fabric_may() -> None:
    project = mills(PLAIN + "    border 2 shore(3)\n    binding cut 2 1/4 shore(4)\n    backing shore(12)\n")
    assert {"shore(3)", "shore(4)", "shore(12)"} <= set(project.pattern.fabrics)
    assert run(project, guarded=False) == []
    assert project.pattern.fabrics["shore(3)"].cloth == "shore"


@pytest.mark.parametrize(
    ("quilt", "groups", "code", "words"),
    [
        (PLAIN + "    border 2 shore(13)\n", FAT, "too-few-prints", "has 12 prints"),
        (PLAIN + "    border 2 cream(2)\n", FAT, "no-prints", "is one fabric"),
        (PLAIN + "    backing shore\n", FAT, "needs-one-fabric", "A backing is cut from one fabric"),
        (PLAIN + "    binding cut 2 1/4 shore, bias\n", FAT, "needs-one-fabric", "Binding on the bias"),
        (PLAIN.replace("shore", "shroe"), FAT, "unknown-name", "Did you mean shore?"),
        (PLAIN, FAT + "fabrics some 20 of shore\n", "too-few-prints", "that is 20"),
        (PLAIN, FAT + "fabrics some 2 of shroe\n", "unknown-name", "Did you mean shore?"),
        (PLAIN, FAT + "fabrics some 2 of cream\n", "no-prints", "is one fabric"),
        (PLAIN, FAT + "    have 3\n", "out-of-place", "are at hand"),
        (PLAIN, FAT + "    repeat 6 x 8\n", "out-of-place", "are not alike"),
        (PLAIN, FAT + "fabrics some 2 of shore\n    buy 2\n", "out-of-place", "is a part of shore"),
        (
            PLAIN.replace("shore", "cream"),
            FAT + "fabrics bag\nfabric one\n    buy 1 yd from each\n",
            "out-of-place",
            "one fabric",
        ),
    ],
)
def test_what_is_no_good_is_told_in_the_writers_words(quilt: str, groups: str, code: str, words: str) -> None:
    problems = [p for p in run(mills(quilt, groups), guarded=False) if not p.advice]
    assert code in {p.code for p in problems}, problems
    assert any(words in p.message for p in problems), [p.message for p in problems]


def test_more_different_prints_than_there_are() -> None:
    body = "unit pair(a, b)\n    row a 3 x 3 | b 3 x 3\nblock both\n    row pair(shore, shore)\n"
    problems = [p for p in run(pattern(body, "fabrics shore 1\n"), guarded=False) if not p.advice]
    assert [p.code for p in problems] == ["too-few-prints"]


def test_a_bag_has_no_numbers_and_a_print_no_number_of_its_own() -> None:
    bag = mills(PLAIN.replace("shore", "bag") + "    border 2 bag(1)\n", "fabrics bag\n")
    assert {p.code for p in run(bag, guarded=False)} == {"no-prints"}
    body = "unit dot(a)\n    patch a(2) 3\nblock all\n    row dot(shore)\n"
    assert "no-prints" in {p.code for p in run(pattern(body), guarded=False)}


def test_a_colourway_takes_a_group_of_as_many_or_more() -> None:
    groups = FAT + 'fabrics reef "Reef" 14 dark\nfabrics few 3\n'

    def codes(swap: str) -> list[str]:
        return [
            p.code for p in run(mills(PLAIN + f"colourway other\n    {swap}\n", groups), guarded=False) if not p.advice
        ]

    assert codes("shore = reef") == []
    assert codes("shore = few") == ["too-few-prints"]
    assert codes("cream = few") == ["needs-one-fabric"]
    assert codes("shore = cream") == ["no-prints"]
    project = mills(PLAIN + "colourway other\n    shore = reef\n", groups)
    dressed = project.in_size("", "other").pattern.fabrics
    assert (dressed["shore"].title, dressed["one shore"].value) == ("Reef", "dark")
    assert dressed["shore"].group is not None and dressed["shore"].group.count == 12


def test_a_line_on_pressing_may_name_the_group() -> None:
    """A seam beside one print is beside its group, in a unit that is given it and in the file's own line."""
    body = (
        "unit pair(a)\n    row a 3 x 3 | cream 3 x 3\n    press toward shore\n"
        "quilt\n    across 4, down 3\n    tile\n        pair(shore)\n"
    )
    project = pattern(body)
    found = run(project, guarded=False)
    assert [p.code for p in found if not p.advice] == []
    assert found and all("one shore" not in p.message and "shore" in p.message for p in found)  # a seam that fights
    assert {s.pressed for s in project.makings["pair(one shore)"].seams} <= {"left", "right"}
