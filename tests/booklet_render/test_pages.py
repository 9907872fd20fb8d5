"""Which parts stand together on a page: the choice itself, and how full it makes the pages of every example."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from patternkit import render
from patternkit.document import Block, Booklet, Drawing, Figure, NumberedStep, Paragraph, Section, Table
from patternkit.render.pdf_data import data_of
from tests.booklet.conftest import EXAMPLES, MARSH, made

from .pdf_text import filled

ASSETS = Path(render.__file__).parent / "assets"
SIZES = (1.25, 1.12, 1, 0.93, 0.86, 0.8, 0.8, 0.8)  # of drawings, as the levels have them

Pages = list[tuple[int, int, int]]


def paged(parts: Sequence[dict[str, Any]], high: float = 600, begun: float = 0) -> Pages:
    """What the typesetter's own choice is for parts of words and drawings."""
    typst = pytest.importorskip("typst", reason='the extra "print" is not installed')
    told = [
        {
            "above": 10,
            "chapter": p.get("chapter", False),
            "fresh": p.get("fresh", False),
            "heights": [p.get("words", 0) + p.get("drawing", 0) * size for size in SIZES],
        }
        for p in parts
    ]
    source = f"""
    #import "pages.typ": paged, levels
    #let points(p) = (..p, above: p.above * 1pt, heights: p.heights.map(x => x * 1pt))
    #assert(levels.map(l => l.size) == {json.dumps(SIZES).replace("[", "(").replace("]", ")")})
    #let parts = json(bytes(sys.inputs.parts)).map(points)
    #metadata(paged(parts, {high}pt, {begun}pt)) <pages>
    """
    compiler = typst.Compiler(source.encode(), root=str(ASSETS), sys_inputs={"parts": json.dumps(told)})
    found = json.loads(compiler.query("<pages>", field="value", one=True))
    return [(p["from"], p["to"], p["level"]) for p in found]


def test_parts_that_fit_stand_on_one_page_with_drawings_as_large_as_may_be() -> None:
    assert paged([{"words": 100, "drawing": 100}] * 2) == [(0, 2, 0)]
    assert paged([{"words": 100, "drawing": 170}] * 2) == [(0, 2, 1)]
    assert paged([{"words": 110, "drawing": 185}] * 2) == [(0, 2, 2)]


def test_drawings_are_made_smaller_where_that_saves_a_page() -> None:
    assert paged([{"words": 100, "drawing": 200}] * 2) == [(0, 2, 3)]
    assert paged([{"words": 100, "drawing": 240}] * 2) == [(0, 2, 5)]
    assert [p[:2] for p in paged([{"words": 100, "drawing": 280}] * 2)] == [(0, 1), (1, 2)]


def test_what_stays_empty_is_shared_out() -> None:
    """Seven parts, of which three fill a page: none of the three pages is left with a single one."""
    pages = paged([{"words": 180}] * 7)
    assert sorted(to - at for at, to, _ in pages) in ([2, 2, 3], [1, 3, 3])
    assert all(to > at for at, to, _ in pages) and pages[-1][1] == 7


def test_a_page_rather_ends_where_a_chapter_does() -> None:
    for chapter, pages in ((1, [(0, 1), (1, 3), (3, 4)]), (2, [(0, 2), (2, 3), (3, 4)])):
        parts = [{"words": words, "chapter": i == chapter} for i, words in enumerate((420, 70, 420, 560))]
        assert [p[:2] for p in paged(parts)] == pages


def test_a_few_lines_are_not_cut_off_from_their_chapter() -> None:
    """The last words of a chapter would just not fit: a part goes over with them."""
    parts = [{"words": 280}, {"words": 280}, {"words": 40}, {"words": 100, "chapter": True}]
    assert [p[:2] for p in paged(parts)] == [(0, 1), (1, 4)]


def test_a_fresh_part_begins_a_page_and_a_page_begun_is_filled_up() -> None:
    parts = [{"words": 100}, {"words": 100, "fresh": True}]
    assert [p[:2] for p in paged(parts)] == [(0, 1), (1, 2)]
    assert [p[:2] for p in paged([{"words": 200}] * 2, begun=300)] == [(0, 1), (1, 2)]
    assert [p[:2] for p in paged([{"words": 200}] * 2, begun=150)] == [(0, 2)]


def test_a_part_higher_than_a_page_is_not_lost() -> None:
    assert [p[:2] for p in paged([{"words": 100}, {"words": 900}, {"words": 100}])] == [(0, 1), (1, 2), (2, 3)]
    assert paged([]) == []


@pytest.mark.parametrize("path", (*EXAMPLES, MARSH), ids=lambda p: p.stem)
def test_pages_of_examples_are_well_filled(path: Path) -> None:
    pytest.importorskip("typst", reason='the extra "print" is not installed')
    shares = filled(render.pdf(made(path), include="text"))[1:-1]  # after the cover, before the last
    assert sum(shares) / len(shares) >= 0.8, shares
    assert min(shares) >= 0.3, shares


@pytest.mark.parametrize(
    ("width", "height", "blocks", "aside"),
    [
        (200, 200, (), "always"),
        (280, 300, (), "short"),
        (280, 60, (), "never"),  # nothing is won beside
        (420, 400, (), "never"),  # its letters would be smaller than 6 points
        (200, 200, (Table("", ("Size", "Take"), (("cot", "2 strips"),)),), "never"),
    ],
)
def test_when_a_drawing_stands_beside_the_words(
    width: float, height: float, blocks: tuple[Block, ...], aside: str
) -> None:
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}"><text font-size="7.5">A</text></svg>'
    figure = Figure((Drawing("d", svg, "T", "T", width, height),))
    step = NumberedStep(1, "Sew", (Paragraph("Words."), *blocks, figure))
    booklet = Booklet("T", "", "", None, (), (Section("a", "A", (step,)),))
    assert data_of(booklet, "letter", "all")["sections"][0]["blocks"][0]["aside"] == aside
