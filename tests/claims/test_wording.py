"""Lines of cutting as pages word them: read, or answered with the line rewritten."""

from __future__ import annotations

import pytest

from patternkit.syntax.parse import parse
from patternkit.syntax.statements import CutsClaim, Node, StripUnitsClaim

READ = [
    "cut 12 strips 2 1/2",
    "cut 12 strips 2.5in",
    'cut 12 strips 2-1/2" wide',
    "cut 31 of 2 x 9 1/4",
    "cut 31 rectangles 2 x 9 1/4",
    "cut 6 squares 7 1/4, cut twice on the diagonal",
    "cut 6 squares 7¼ twice diagonally",
    "cut 2 strips 9 1/4, 31 of 2 x 9 1/4",
    "cut 2 of 3 7/8 from each",
]
REWRITTEN = [
    ("cut 31 pieces of 2 by 9 1/4", "cut 31 of 2 x 9 1/4"),
    ("• (4) 5½” x 1½” rectangles", "cut 4 of 5½” x 1½”"),
    ("- (2) 1 1/2 inches by 4 1/4 inches strips (for strip piecing)", "cut 2 of 1 1/2 inches x 4 1/4 inches"),
    ("From the navy cut: 36 – 2.5″ strips", "cut 36 strips 2.5″"),
    ('Cut 3 strips 2 ½" x 38 ¾”, to lie between the rows.', 'cut 3 of 2 ½" x 38 ¾”'),
    ('1--2-1/2" square', 'cut 1 square 2-1/2"'),
    ('cut (4) 2-1/2" x WOF strips', 'cut 4 strips 2-1/2"'),
    ("cut 12 wof strips 2 1/2", "cut 12 strips 2 1/2"),
    ("cut 4 width of fabric strips 3 1/2", "cut 4 strips 3 1/2"),
    ("cut 4 2 1/2 strips", "cut 4 strips 2 1/2"),
    ('4 x 4 1/2" strips.', 'cut 4 strips 4 1/2"'),
    ('cut 7 strips 6 1/4" wide. Cross cut into 40 x 6 1/4" squares', 'cut 7 strips 6 1/4", 40 squares 6 1/4"'),
    ("cut 4 strips 2 1/2, subcut into 31 of 2 x 2 1/2", "cut 4 strips 2 1/2, 31 of 2 x 2 1/2"),
    ('two 3 3/8" sq. cut diagonally once', 'cut 2 squares 3 3/8", once'),
    ('eight 1 1/2" x 3 1/2" rect.', 'cut 8 of 1 1/2" x 3 1/2"'),
    ('cut twelve 8" squares', 'cut 12 squares 8"'),
    ("sub-cut 16 squares 2 1/2", "cut 16 squares 2 1/2"),
    ('cut 4 — 2 1/2" strips', 'cut 4 strips 2 1/2"'),
]


def under(place: str, line: str) -> tuple[object, list[tuple[str, str | None]]]:
    """What a line says under a heading, and what is offered for it."""
    text = f"{place}\n    {line}\n"
    file = parse("w.pattern", text)
    node = file.nodes[0]
    assert isinstance(node, Node) and isinstance(node.children[-1], Node)
    return node.children[-1].statement, [(p.message, r.replacement) for p in file.problems for r in p.repairs]


@pytest.mark.parametrize("line", READ)
def test_forms_that_are_read(line: str) -> None:
    stated, offers = under("fabric night", line)
    assert isinstance(stated, CutsClaim) and offers == []


@pytest.mark.parametrize(("line", "better"), REWRITTEN)
def test_forms_that_are_answered_with_the_line_rewritten(line: str, better: str) -> None:
    _, offers = under("fabric night", line)
    assert [offer for _, offer in offers] == [better]
    assert isinstance(under("fabric night", better)[0], CutsClaim)


@pytest.mark.parametrize("line", ["strip set 3", "make 3 strip sets", "3 strip sets"])
def test_strip_sets(line: str) -> None:
    (message, offer), *_ = under("unit wall", line)[1]
    assert offer == "strip units 3" and "strip units" in message
    assert isinstance(under("unit wall", "strip sets 3, 16 from each")[0], StripUnitsClaim)


def test_the_fabric_stands_behind_under_a_unit() -> None:
    assert under("unit wall", 'cut 4 2 1/2" squares night')[1][0][1] == 'cut 4 squares 2 1/2" night'


@pytest.mark.parametrize("line", ["half a yard", "cut the rest", "note well", "cut 5 stars", "12 12 12"])
def test_what_is_no_line_of_cutting_is_not_rewritten(line: str) -> None:
    assert not [offer for _, offer in under("fabric night", line)[1] if offer and offer.startswith("cut ")]


@pytest.mark.parametrize(
    ("line", "better"),
    [("night - glow", "night | glow"), ("night / glow", "night | glow"), ("2.5in night | glow", "night 2.5in | glow")],
)
def test_pieces_with_a_dash_or_a_size_before_them(line: str, better: str) -> None:
    text = f"block a\n    rows\n        {line}\n"
    (problem,) = parse("w.pattern", text).problems
    repair = problem.repairs[0]
    assert repair.span is not None and repair.replacement is not None
    mended = repair.taken(text)
    assert " ".join(mended.split()) == f"block a rows {better}"


@pytest.mark.parametrize(
    ("line", "better"),
    [("batting 72 x 90", "batting cut 72 x 90"), ("backing night 68 x 80", "backing night measures 68 x 80")],
)
def test_sizes_of_backing_and_batting(line: str, better: str) -> None:
    text = f"quilt\n    {line}\n"
    (problem,) = parse("w.pattern", text).problems
    repair = problem.repairs[0]
    assert repair.span is not None and repair.replacement is not None
    mended = repair.taken(text)
    assert mended == f"quilt\n    {better}\n" and parse("w.pattern", mended).problems == ()
