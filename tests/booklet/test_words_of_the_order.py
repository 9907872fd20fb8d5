"""What the booklet tells is what the making order holds: its numbers and pieces, and how seams are pressed, once."""

from __future__ import annotations

import re
from pathlib import Path
from typing import get_args

import msgspec
import pytest

from patternkit.booklet.content.context import context
from patternkit.booklet.content.diagonal import is_diagonal
from patternkit.booklet.content.doing import KEYS, Doing, sewing, stopping
from patternkit.booklet.content.panels import text
from patternkit.booklet.content.steps import method
from patternkit.booklet.phrases import LANGUAGES, Phrases
from patternkit.piecing.batch import Action, Join, Thing
from patternkit.units import IMPERIAL

from .conftest import EXAMPLES, taken, text_project, told

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
        items = taken(count, ctx)
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
    assert taken(border, ctx)[0].startswith("A3: 4 strips of ")


# -- doing -------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("language", LANGUAGES)
def test_every_action_has_a_phrase_of_its_own(language: str) -> None:
    """So that a new kind of unit speaks without new words: every action of every example is said by it."""
    assert set(KEYS) == set(get_args(Action))
    met = set[type]()
    for path in EXAMPLES:
        ctx = told(path, language)
        for step in ctx.order.steps:
            making = ctx.designs[step.thing]
            for batch, _ in step.batches:
                say = Doing(batch, making, ctx)
                for action in batch.actions:
                    met.add(type(action))
                    text = ctx.phrases.render(say.state(action))
                    assert text.endswith(".") and "about about" not in text and not DIRECTIONS[language].search(text)
    assert len(met) > len(KEYS) // 2


def test_a_passage_without_a_phrase_is_said_action_by_action() -> None:
    """Nothing of a half-square's batch is lost when its passage has a name that no phrase has."""
    path = next(p for p in EXAMPLES if p.stem == "tide-star")
    ctx = told(path)
    count = next(c for c in ctx.steps if c.making.kind == "half-square")
    batch, _ = ctx.makers[count.making.thing].batches[0]
    unknown = tuple(msgspec.structs.replace(p, name=f"new {i}") for i, p in enumerate(batch.passages))
    new = msgspec.structs.replace(batch, passages=unknown)
    method = msgspec.structs.replace(count.making.recipe.method, phrase="")
    recipe = msgspec.structs.replace(count.making.recipe, method=method)
    own = msgspec.structs.replace(count.making, recipe=recipe)
    lines = " ".join(text(sentences, ctx) for sentences in sewing(new, own, {}, ctx))
    for words in (
        "face down on",
        "1/4 in from the line on both sides",
        "Pick out the few",
        "2 1/2 x 2 1/2 in",
    ):
        assert words in lines, lines


ATTIC = """pattern "Attic"
    units inches
    seam 1/4
    usable width 42
fabric a "Red" dark
fabric b "Cream" light
fabric c "Blue" medium
block attic
    slices c
    finished 6
    slice from 2 x 0 through 2 x 4 to 6 x 4, a left, set in
    slice 1 again from 0 x 6 to 2 x 4, b bottom
quilt
    across 2, down 2
    tile
        attic
"""


@pytest.mark.parametrize(
    ("language", "words", "turned"),
    [
        ("en", "begin 1/4 in from", "Turn the pieces at that corner"),
        ("de", "0,64 cm vor den Schnittkanten", "Die Teile an dieser Ecke drehen"),
    ],
)
def test_where_a_set_in_seam_begins_is_said_one_seam_at_a_time(language: str, words: str, turned: str) -> None:
    ctx = context(text_project(ATTIC), language=language, solver=False)
    count = next(c for c in ctx.steps if c.making.kind == "slices")
    batch, _ = ctx.makers[count.making.thing].batches[0]
    stopped = [a for a in stopping(batch) if isinstance(a, Join) and "seam" in (a.start, a.stop)]
    lines = " ".join(text(sentences, ctx) for sentences in method(count, ctx))
    assert len(stopped) == 3 and (lines.count(words), lines.count(turned)) == (2, 1)
