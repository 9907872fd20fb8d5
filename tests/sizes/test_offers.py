"""What is offered against sizes that contradict each other: numbers that can be written, told apart, and sensible."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.project import Project

HEAD = "fabric salt light\nfabric tar dark\n\n"


def offers(body: str, head: str = "") -> list[str]:
    """The texts of all repairs of a pattern's problems."""
    project = Project("offers.pattern", head + HEAD + body)
    return [r.text for p in run(project, guarded=False) if not p.advice for r in p.repairs]


@pytest.mark.parametrize("patch, copies, said", [("1", 91, "93"), ("2", 83, "167"), ("1 1/2", 61, "92 1/2")])
def test_no_number_is_offered_for_itself(patch: str, copies: int, said: str) -> None:
    """A patch off by less than a fraction tells would be "about 1 in instead of 1 in"."""
    body = f"block plain\n    patch salt {patch}\nquilt\n    across {copies}, down 2\n    tile\n        plain\n"
    found = offers(body + f"    finished {said} x {'1' if patch == '0' else said}\n")
    assert found
    for text in found:
        if " instead of " in text and "write " in text:
            new, old = text.split("write ")[1].split(" instead of ")
            assert new.removeprefix("about ") != old.split(";")[0].removeprefix("about ")


def test_numbers_in_metric_that_round_to_themselves() -> None:
    body = (
        "block plain\n    patch salt 4\nquilt\n    across 97, down 1\n    tile\n        plain\n    finished 388.3 x 4\n"
    )
    assert not [t for t in offers(body, 'pattern "M"\n    units cm\n') if "about 4 cm instead of 4 cm" in t]


@pytest.mark.parametrize("cut, told", [("2 1/2", "2 1/2"), ("4", "4"), ("3 1/4", "3 1/4")])
def test_no_cut_is_offered_that_finishes_nothing(cut: str, told: str) -> None:
    """A row of two that measures what one patch is cut: the other could only be cut two seams."""
    body = (
        f"block two\n    row salt cut {cut} x {cut} | tar cut {cut} x {cut}\n    measures {told} x {told}\n"
        "quilt\n    across 2, down 2\n    tile\n        two\n"
    )
    found = offers(body)
    assert found and not [t for t in found if "write 1/2 in" in t or "write about 1/2 in" in t]


def test_alike_numbers_of_one_row_are_told_apart() -> None:
    body = (
        "block five\n    row salt 1 | tar 2 | salt 1 | tar 2 | salt 1\n    finished 6 1/2 x 3\n"
        "quilt\n    across 2, down 2\n    tile\n        five\n"
    )
    found = offers(body)
    assert len(found) == len(set(found))
    assert [t for t in found if t.endswith("(place 1 of 3)")] and [t for t in found if t.endswith("(place 3 of 3)")]


def test_one_block_on_point_is_said_as_one() -> None:
    body = (
        "block sole\n    patch salt 11\nquilt\n    setting on point tar\n    across 1, down 1\n    tile\n"
        "        sole\n    finished 15 x 15\n"
    )
    causes = [c for p in run(Project("one.pattern", HEAD + body), guarded=False) for c in p.causes]
    assert any("One block on point measures its diagonal" in c for c in causes)
    assert not any("1 blocks" in c for c in causes)
