"""What is told besides the quilt: blocks that are made if one wishes, other ways of making a unit."""

from __future__ import annotations

import re

import pytest

from patternkit.api import make_booklet
from patternkit.booklet.content.besides import besides_of
from patternkit.booklet.content.context import context
from patternkit.checks import run
from patternkit.document import Table

from .conftest import text_project
from .printed import texts

PATTERN = """pattern "Wheels"
    units inches
fabric sky light
fabric gull dark
fabric sand
unit corner
    half-square gull, sky
    finished side
    method pairs of squares or from triangles
block wheel
    rows
        corner turned 90 | corner turned 180
        corner           | corner turned 270
block pocket
    rows
        sky 2 x side | corner
        sand {width} x 3
    make 2
    optional
let side = 3
quilt
    across 2, down 2
    tile
        wheel
"""
SIZES = "sizes\n    small\n    large across 4\n"


def test_amounts_are_those_of_the_quilt_and_of_the_first_way() -> None:
    project = text_project(PATTERN.format(width="2 + side"))
    assert [p.message for p in run(project)] == []
    ctx = context(project)
    assert "sand" not in ctx.plan.fabrics
    # sixteen corners: eight pairs of squares, each of side + 7/8 in
    assert {(line.fabric, line.count, line.cut.then) for line in ctx.plan.lines} == {("gull", 8, ""), ("sky", 8, "")}
    way, pocket = besides_of(ctx)
    assert {(x.fabric, x.count, x.cut.then) for x in way.ctx.plan.lines} == {("gull", 8, "half"), ("sky", 8, "half")}
    assert {key: n.count for n in pocket.ctx.plan.lines for key in [n.fabric] if key == "sand"} == {"sand": 2}
    assert all(not one.ctx.rehearsed.gaps for one in (way, pocket))
    assert pocket.ctx.fabric("gull") == ctx.fabric("gull")  # by the same letters


def test_they_are_told_behind_the_finishing_with_steps_of_their_own() -> None:
    found = make_booklet(text_project(PATTERN.format(width="2 + side")))
    titles = [s.title for s in found.sections]
    assert titles.index("Another way: corner from triangles") < titles.index("If you wish: pocket")
    way, pocket = (s for s in found.sections if s.key.startswith("beside"))
    said = list(texts(way.blocks))
    assert any(x.startswith("Instead of step 1, corner may be made from triangles.") for x in said)
    assert [x for x in texts(pocket.blocks) if x.startswith("If you wish, make 2 pocket blocks besides")]
    assert any(isinstance(block, Table) and any("sand" in row[0] for row in block.rows) for block in pocket.blocks)
    numbers = [b.number for s in found.sections for b in s.blocks if hasattr(b, "number")]
    assert numbers == list(range(1, len(numbers) + 1))


def test_every_size_has_its_numbers() -> None:
    ctx = context(project := text_project(PATTERN.format(width="2 + side") + SIZES),
                  sisters=[project.in_size(size) for size in ("small", "large")])  # fmt: skip
    way, _ = besides_of(ctx)
    assert [sum(x.needed for x in c.plan.counts) for c in way.ctx.sizes] == [16, 32]


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        ("or from triangles", "or from nonsense", "half-square has no method called from nonsense"),
        ("pairs of squares or", "or", "Between two methods stands the word or"),
        ("or from triangles", "or pairs of squares", "each is named once"),
        ("or from triangles", "or oversize 1/4", "none has a length of its own"),
        ("    optional", "    optional 2", "Behind optional stands nothing"),
        ("    optional", "    optional\n    optional", "says optional a second time"),
        ("        wheel\n", "        pocket\n", "Block pocket is optional, and the quilt is made of it."),
    ],
)
def test_what_can_not_be_meant(was: str, now: str, said: str) -> None:
    text = PATTERN.format(width="2 + side")
    assert was in text
    found = run(text_project(text.replace(was, now)))
    assert any(said in p.message for p in found if not p.advice), [p.message for p in found]


@pytest.mark.parametrize("more", ["", SIZES, 'fabric dawn light\ncolourway early "Early"\n    sky = dawn\n'])
def test_letters_are_those_of_all_that_is_told(more: str) -> None:
    """A fabric that only an optional block uses has its letter in every size and colourway."""
    text = (
        PATTERN.format(width="2 + side").replace("fabric sand\n", "").replace("fabric sky", "fabric sand\nfabric sky")
    )
    found = make_booklet(text_project(text + more))
    letters = {
        pair
        for text in texts(found.sections)
        for pair in re.findall(r"\b(Sky|Gull|Sand|sky|gull|sand) \(([A-Z])\)", text)
    }
    assert {title for title, _ in letters} == {"sand", "sky", "gull"}
    assert len(letters) == 3


BORDERED = """fabric sky light
fabric gull dark
block bay
    half-square sky, gull
    finished 10 x 10
    border 1 gull
    method pairs of squares or from triangles
block cove
    half-square gull, sky
    finished 6 x 6
    border 1 sky
    make 2
    optional
quilt
    across 2, down 2
    tile
        bay
"""


def test_of_a_block_with_borders_it_is_the_middle_that_is_sewn_another_way() -> None:
    ctx = context(text_project(BORDERED))
    found = [(one.unit.key, one.method is None) for one in besides_of(ctx)]
    assert found == [("bay", False), ("cove", True)]
    way = besides_of(ctx)[0].ctx
    assert {c.making.recipe.method.name for c in way.plan.counts} >= {"from triangles"}
    assert [(c.making.key.of, c.needed) for c in way.plan.counts if c.making.key.of] == [("bay", 4)]
    assert {line.count for line in way.plan.lines if line.cut.then == "half"} == {2}
    said = list(texts(make_booklet(text_project(BORDERED)).sections))
    assert any("Instead of steps 1 and 2, bay may be made" in x and "are for pairs of squares" in x for x in said)


def test_a_label_of_its_own_takes_the_place_of_the_usual_sentence() -> None:
    plain = PATTERN.format(width="2 + side")
    usual = "Sew a label to the back"
    labelled = plain + '    also 1 of 4 x 6 sky "quilt label"\n'
    found = [any(usual in x for x in texts(make_booklet(text_project(t)).sections)) for t in (plain, labelled)]
    assert found == [True, False]
