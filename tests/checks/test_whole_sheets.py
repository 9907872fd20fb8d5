"""Squares that are sold ready cut: whole ones in a tile and in claims; and what is said where nothing is left."""

from __future__ import annotations

from patternkit.checks import run
from patternkit.lengths import Length
from patternkit.piecing.unknowns import of_whole
from patternkit.problems import Problem
from patternkit.project import Project

HALVES = """
fabrics layer 4
    sold as squares 10 x 10
fabric sand
unit half(print)
    half-square print, sand
    finished 4
    method eight at a time
    {}
quilt
    across 4, down 8
    tile
        half(layer)
"""


def problems(text: str) -> list[Problem]:
    return [p for p in run(Project("t.pattern", text)) if not p.advice]


def test_a_tile_of_pieces_cut_by_one_length_is_of_squares() -> None:
    text = "fabric a\nfabric b\nquilt\n    across 6, down 7\n    tile\n"
    text += "        a cut 5 | b cut 5\n        b cut 5 | a cut 5\n"
    project = Project("t.pattern", text)
    assert [p for p in run(project) if not p.advice] == []
    sizes = [project.solution.value(of_whole(side, "")) for side in "wh"]
    assert [x and x.const for x in sizes] == [Length(27), Length("63/2")]


def test_a_whole_sheet_that_is_claimed_is_a_square_and_may_be_the_cut() -> None:
    """Eight at a time a 4 in unit takes 9 3/4 in squares, 2 F + 1 3/4; a 10 in square is trimmed."""
    text = HALVES.format("cut 1 square 10 print")
    (problem,) = problems(text)
    assert problem.code == "pieces-differ" and "strips" not in problem.message
    smaller, larger = problem.repairs
    assert smaller.replacement == "1 square 9 3/4 print"
    for repair in problem.repairs:
        assert problems(repair.taken(text)) == []
    assert "    cut 10\n" in larger.taken(text)


def test_a_size_that_comes_out_below_nothing_is_not_told_as_one() -> None:
    text = (
        "fabric a\nfabric b\nunit u\n    column a 6 | b 8 | v\n"
        "unit v\n    patch a\n    finished 9 x 2\nunit w\n    patch b 9 x 10\nquilt\n    tile\n        u | w\n"
    )
    messages = [p.message for p in problems(text)]
    assert len(messages) == 1
    assert "the other statements leave nothing for it, and are 4 in too large" in messages[0]


def test_shapes_to_be_laid_on_are_sent_to_a_ground() -> None:
    text = "fabric a\nunit c\n    circle a 3\nquilt\n    across 2, down 2\n    tile\n        c\n"
    (problem,) = [p for p in problems(text) if p.code == "not-a-rectangle"]
    assert problem.repairs[0].text == "lay it on a patch, or on any unit: applique c at 3 x 3 under that"


def test_pieces_that_a_template_cuts_are_claimed_by_no_size() -> None:
    text = (
        "fabric a\n    cut 4 squares 6\nfabric b\nunit u\n    quarter-circle a, b\n    radius 4\n    finished 6\n"
        "quilt\n    across 2, down 2\n    tile\n        u\n    binding cut 2 1/2 a\n"
    )
    (problem,) = problems(text)
    assert problem.causes == ("Pieces of a are cut by templates, and are claimed by no size.",)


def test_a_binding_with_kept_ends_says_so_where_more_strips_are_claimed() -> None:
    """32 squares of 6 in, six to a strip, leave 27 1/2 in beside the last two: with three strips that goes round."""
    text = HALVES.format("cut 6").replace("    finished 4\n", "    finished 2\n").replace("across 4", "across 16")
    text = text.replace("down 8", "down 16").replace("half(layer)", "half(sand)").replace("print, sand", "print, night")
    text += "    binding cut 2 1/2 sand, strips 4\nfabric night\n"
    found = [p for p in run(Project("t.pattern", text)) if p.code == "finish-differs"]
    assert ["ends that are kept of strips cut into other pieces" in " ".join(p.causes) for p in found] == [True]


def test_a_claim_far_from_all_cuts_is_not_rewritten_to_one_of_them() -> None:
    text = (
        "fabric a\n    cut 16 squares 2 1/2\nfabric b\nunit u\n    strips a 2 | b 2\n    finished 2 high\n"
        "quilt\n    across 2, down 4\n    tile\n        u\n    border 6 a\n"
    )
    (problem,) = [p for p in problems(text) if p.code == "pieces-differ"]
    assert problem.repairs == ()
    assert problem.causes[-1].endswith("claimed by cut 1 strip 2 1/2.")
