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


STRIPES = """block stripes
    strips tar cut 2 1/2 | salt cut 2 1/2 | tar cut 2 1/2 | salt cut 2 1/2 | tar cut 2 1/2
block plain
    patch tar cut 10
quilt
    across 5, down 5
    tile
        stripes | plain
        plain   | stripes
"""


def test_a_size_that_two_rows_settle_together_is_worked_out() -> None:
    """Three striped and two plain blocks beside two and three: that makes the striped one as wide as the plain one."""
    (found,) = (p for p in run(Project("offers.pattern", HEAD + STRIPES), guarded=False) if not p.advice)
    assert found.message == (
        "The strips of block stripes: tar 2 in + salt 2 in + tar 2 in + salt 2 in + tar 2 in = 10 in, "
        "and stripes is 9 1/2 in."
    )
    assert "The widths in row 2 of the quilt add up to the quilt centre, so stripes is 9 1/2 in." in found.causes
    assert not [c for c in found.causes if "with seams" in c], "a cut has its seams"


def left_after(body: str, offer: str) -> list[str]:
    """The problems that are left when the offer with that number is taken."""
    text = HEAD + body
    for p in run(Project("offers.pattern", text), guarded=False):
        for r in p.repairs:
            if r.replacement == offer and r.span is not None:
                text = r.taken(text)
                return [q.message for q in run(Project("offers.pattern", text), guarded=False) if not q.advice]
    raise AssertionError(f"{offer} is not offered")


NINE_ON_POINT = """unit sq
    patch tar cut 4 5/8
block nine
    rows
        sq | salt | sq
        salt | sq | salt
        sq | salt | sq
block plain
    patch salt cut 12 3/8
quilt
    across 4, down 5
    setting on point salt
    tile
        nine
        plain
    measures 70 1/2 x 88
"""


def test_a_number_that_settles_a_diagonal_is_the_one_on_the_ruler() -> None:
    """The claim alone gives blocks of 12.374 and a cut of about 12 7/8; the other blocks make it 12 7/8, and the claim
    was rounded from just that."""
    found = offers(NINE_ON_POINT)
    assert [t for t in found if "write 12 7/8 in instead of 12 3/8 in" in t]
    assert not [t for t in found if "about 12 7/8" in t]
    assert left_after(NINE_ON_POINT, "12 7/8") == []


def test_both_sides_of_a_claim_are_held_against_what_is_written() -> None:
    """Blocks of 10 on point, 4 across and 5 down: a cut that would make the width right leaves the height, so it is not
    offered, and the height is not told with it."""
    body = """block plain
    patch tar cut 10 1/2
quilt
    across 4, down 5
    setting on point salt
    tile
        plain
        plain
    finished 63 5/8 x 79 1/4
"""
    (found,) = (p for p in run(Project("offers.pattern", HEAD + body), guarded=False) if not p.advice)
    assert "about 56 9/16 in" in found.message and "about 70 11/16 in" in found.message
    assert not [c for c in (*found.causes, *(r.text for r in found.repairs)) if "11 3/4" in c]


def test_an_offer_that_leaves_another_disagreement_says_so() -> None:
    body = """unit u
    patch tar
    finished 3
block b
    row u | u
    measures 9 1/2 x 3 1/2
quilt
    across 2, down 2
    tile
        b
    finished 40 x 6
"""
    found = offers(body)
    left = [t for t in found if "write 4 1/2 in instead of 3 in" in t]
    assert left and all("would then differ" in t or "would still differ" in t for t in left)


@pytest.mark.parametrize(
    ("bar", "said"),
    [
        ("patch tar cut 12 1/2 x 3", "leaves about 0.021 in over"),
        ("row tar cut 6 1/2 x 3 | salt cut 6 1/2 x 3", "= 12 in, and bar is 12.021 in"),
    ],
)
def test_a_diagonal_beside_what_it_was_rounded_to_is_told_in_decimals(bar: str, said: str) -> None:
    """8 1/2 times root 2 is 12.021: nobody is told that 12 in and about 12 in differ, or that about nothing is left."""
    body = f"block q\n    square-in-a-square tar 8 1/2, salt\n    method from triangles\nblock bar\n    {bar}\n"
    body += "quilt\n    layout\n        q\n        bar\n"
    (found,) = (p for p in run(Project("offers.pattern", HEAD + body), guarded=False) if not p.advice)
    assert said in found.message
