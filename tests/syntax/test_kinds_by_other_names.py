"""Kinds of units by what pages call them: told with the word that is meant, or with how the block is written."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.project import Project


def told(line: str) -> list[tuple[str, str, list[str | None]]]:
    """What is said of a unit with this line, without advice."""
    text = f"fabric a dark\nfabric b light\nunit u\n    {line}\nquilt\n    tile\n        u\n"
    return [
        (p.code, " ".join((p.message, *p.causes)), [r.replacement for r in p.repairs])
        for p in run(Project("t.pattern", text))
        if not p.advice
    ]


@pytest.mark.parametrize(
    ("line", "kind"),
    [
        ("snowballs a, b\n    corner 1\n    finished 4", "flipped-corners"),
        ("half squares a, b\n    finished 4", "half-square"),
        ("log cabins a 2\n    log 1\n    round b\n    rounds 2", "log-cabin"),
        ("strip set a 2 | b 2\n    finished 2 high", "strips"),
        ("square in square a, b\n    finished 4", "square-in-a-square"),
        ("hourglass a, b\n    finished 4", "quarter-square"),
        ("flying goose a, b\n    finished 4 x 2", "flying-geese"),
    ],
)
def test_a_kind_by_another_name(line: str, kind: str) -> None:
    code, _, repairs = told(line)[0]
    assert (code, repairs) == ("unknown-word", [kind])


@pytest.mark.parametrize("line", ["nine patch a, b", "four-patch a, b", "pinwheels a, b", "rail fence a | b"])
def test_a_block_that_is_no_kind_is_told_how_it_is_written(line: str) -> None:
    ((code, words, repairs),) = told(f"{line}\n    finished 6")
    assert code == "unknown-word"
    assert "no kind of unit" in words
    assert "`rows`" in words or "`strips`" in words
    assert repairs == []


@pytest.mark.parametrize("line", ["sections 2 1/2", "subcut 2 1/2", "segments 2 1/2"])
def test_what_a_strip_unit_is_cut_into(line: str) -> None:
    ((code, words, repairs),) = told(f"strips a 2 | b 2\n    {line}")
    assert (code, repairs) == ("unknown-word", ["cut"])
    assert "`cut 2 1/2`" in words


def test_a_name_stays_a_name() -> None:
    text = "fabric a dark\nunit hourglass\n    patch a 2\nblock nine-patch\n    row hourglass | hourglass\n"
    assert [p for p in run(Project("t.pattern", text)) if not p.advice] == []
