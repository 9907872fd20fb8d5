"""What the booklet tells is what the making order holds: its numbers and pieces, and how seams are pressed, once."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from patternkit.booklet.content.diagonal import is_diagonal
from patternkit.booklet.content.taking import take
from patternkit.booklet.phrases import LANGUAGES, Phrases
from patternkit.piecing.batch import Thing
from patternkit.units import IMPERIAL

from .conftest import EXAMPLES, told

DIRECTIONS = {
    "en": re.compile(r"press\w*\b[^.;:]*\b(out|outward|inward|open|toward|away|to one side|up|down)\b"),
    "de": re.compile(r"\b(außen|innen|auseinander|auseinanderbügeln|umbügeln|hin|weg|oben|unten)\b[^.;:]*bügeln"),
}


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_phrase_of_a_method_says_a_direction_of_pressing(language: str) -> None:
    """The pressing plan alone says it, so that no step says it twice and differently."""
    told = Phrases(language, IMPERIAL).table("method")
    wrong = {key: text for key, text in told.items() if DIRECTIONS[language].search(text)}
    assert not wrong
    assert DIRECTIONS["en"].search("trim and press the corner out") and DIRECTIONS["de"].search("nach außen bügeln")


PIECES = re.compile(r"^(\d+) (?!x )")


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_a_step_takes_what_its_batch_uses(path: Path) -> None:
    """As many items as the batch has different ones, and no piece that is cut alike twice."""
    ctx = told(path)
    for count in ctx.steps:
        step = ctx.makers[count.making.thing]
        if step.thing != count.making.thing or is_diagonal(count.making):
            continue
        items = take(count, ctx)
        batch, _ = step.batches[0]
        used = {use.item for use in batch.uses}
        rows = sum(getattr(ctx.designs.get(x), "role", "") == "row" for x in used if isinstance(x, Thing))
        assert len(items) == len(set(items))
        assert len(items) == len(used) or rows > len(items), (count.making.key, items)
        numbers = [int(m[1]) for item in items if (m := PIECES.match(item))]
        assert sum(numbers) <= len(batch.uses) * 4


def test_pieces_cut_alike_are_one_item() -> None:
    """Four strips of one length, two for the sides and two for top and bottom, come from one pile."""
    ctx = told(next(p for p in EXAMPLES if p.stem == "half-rectangle"))
    border = next(c for c in ctx.steps if c.making.kind == "border")
    assert take(border, ctx)[0].startswith("4 strips of ")
