"""Every part that a maker looks for in a bought pattern is there: title, designer, sizes, skill, what to buy,
tools, what is taken for granted, cutting, steps, finishing, templates, whom to ask.

The list is the usual one of published patterns (https://tamarinis.typepad.com/tamarinis/2019/09/\
exploring-the-basics-anatomy-of-a-quilt-pattern.html, https://daphnegreig.blogspot.com/2014/09/\
pattern-writing-inside-scoop-part-2.html).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from patternkit import render
from patternkit.document import Booklet, Bullets, Section

from .conftest import EXAMPLES, MARSH, made, told


def tools_of(booklet: Booklet) -> list[str]:
    """The tools that are listed."""
    buy = next(s for s in booklet.sections if s.key == "buy")
    tools = next(b for b in buy.blocks if isinstance(b, Section) and b.key == "tools")
    return [str(i) for b in tools.blocks if isinstance(b, Bullets) for i in b.items]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_nothing_is_missing(path: Path) -> None:
    booklet, ctx = made(path), told(path)
    facts = {name.partition(" (")[0] for name, _ in booklet.facts}
    assert booklet.title and booklet.author and booklet.contact and booklet.cover is not None
    assert {"Skill", "Seam allowance"} <= facts and facts & {"Finished size", "Finished sizes"}
    heads = [s.key for s in booklet.sections]
    assert [k for k in ("buy", "before", "cutting", "finishing", "checkpoints") if k not in heads] == []
    assert heads.index("buy") < heads.index("before") < heads.index("cutting") < heads.index("finishing")
    made_of = {"units": "unit", "blocks": "block"}
    for key, role in made_of.items():
        own = [c.making for c in ctx.plan.counts if c.making.role == role and (c.making.seams or c.making.is_layered)]
        own = [m for m in own if m.recipe.apart is None]  # these stand with what they are cut from
        assert (key in heads) == bool(own)
    assert bool(booklet.templates) == any(
        cut.then == "template" or c.making.recipe.method.on_printed_paper
        for c in ctx.plan.counts
        for cut in c.making.recipe.cuts
    )
    text = render.markdown(booklet)
    for words in ("usable width", "raw edge to raw edge", "Counts stand before sizes", booklet.contact):
        assert words in text


@pytest.mark.parametrize("path", [*EXAMPLES, MARSH], ids=lambda p: p.stem)
def test_paper_is_among_the_tools_where_it_is_needed(path: Path) -> None:
    booklet, ctx = made(path), told(path)
    listed = " ".join(tools_of(booklet))
    foundations = any(c.making.recipe.method.on_printed_paper for c in ctx.plan.counts)
    cut = any(x.then == "template" for c in ctx.plan.counts for x in c.making.recipe.cuts)
    assert ("foundation" in listed) == foundations
    assert ("templates" in listed) == cut


def test_the_tools_of_a_pattern_stand_beside_the_usual_ones(tmp_path: Path) -> None:
    """A rotary cutter is among the usual ones, and is not listed again."""
    path = tmp_path / "net.pattern"
    path.write_text(
        'pattern "Net"\n    tools "rotary cutter", "12 1/2 in square ruler"\nfabric kelp dark\nblock net\n'
        "    patch kelp 6\nquilt\n    across 2, down 2\n    tile\n        net\n",
        encoding="utf-8",
    )
    items = tools_of(made(path))
    assert [i for i in items if "sewing machine" in i] and items[-1] == "12 1/2 in square ruler"
    assert sum("rotary cutter" in i for i in items) == 1
