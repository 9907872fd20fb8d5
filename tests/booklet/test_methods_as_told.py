"""The pictures of a method show what its words say: which way a cut runs, whose back is drawn on."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from xml.etree import ElementTree

import pytest

from patternkit import render
from patternkit.booklet.content.context import Context
from patternkit.booklet.phrases import LANGUAGES, Phrases
from patternkit.document import Block, Booklet, Drawing, Figure, NumberedStep, Section
from patternkit.drawing.from_states import from_states
from patternkit.drawing.layout import Picture
from patternkit.drawing.methods import painters
from patternkit.drawing.scene import Path as Outline
from patternkit.drawing.scene import flat
from patternkit.drawing.sheets import CUT_DASH, pieces_picture
from patternkit.drawing.swatches import luminance
from patternkit.piecing import kinds, setting
from patternkit.piecing.kinds.half_square import EIGHT, TWO
from patternkit.piecing.kinds.triangle_in_square import TEMPLATE
from patternkit.piecing.making import Making
from patternkit.piecing.method import Method, meant
from patternkit.plan.counts import Count
from patternkit.units import IMPERIAL

from .conftest import EXAMPLES, made, taken, told


def drawings(booklet: Booklet) -> list[Drawing]:
    """Every drawing of the sections of a booklet."""

    def of(block: Block) -> list[Drawing]:
        if isinstance(block, Section | NumberedStep):
            return [d for b in block.blocks for d in of(b)]
        return list(block.drawings) if isinstance(block, Figure) else []

    return [d for section in booklet.sections for d in of(section)]


def counts(method: Method) -> list[tuple[Context, Count]]:
    """All units of the examples that are made by a method."""
    return [
        (ctx, count)
        for path in EXAMPLES
        for ctx in [told(path)]
        for count in ctx.plan.counts
        if count.making.recipe.method is method
    ]


def diagonals(picture: Picture) -> list[str]:
    """The cuts of a picture from left to right, as they lean: right from lower left to upper right."""
    found = []
    for shape, dx, _ in flat(picture.items):
        if isinstance(shape, Outline) and shape.dash == CUT_DASH:
            (ax, ay), (bx, by) = shape.loops[0]
            found.append((ax + dx, "right" if (bx - ax) * (by - ay) < 0 else "left"))  # y runs down
    return [way for _, way in sorted(found)]


def test_the_sides_of_a_triangle_in_a_square_are_cut_opposite_ways() -> None:
    """A rectangle gives two triangles of one hand only; cut alike, all of them would be for the left side."""
    found = counts(TEMPLATE)
    assert found
    for ctx, count in found:
        recipe = count.making.recipe
        assert [c.leans for c in recipe.cuts if c.then == "half"] == ["right", "left"]
        assert diagonals(pieces_picture(recipe.cuts, ctx.swatches, ctx.look)) == ["right", "left"]
        left, right = (item for item in taken(count, ctx) if " triangles " in item)
        assert "from lower left to upper right" in left and "(left side)" in left
        assert "from upper left to lower right" in right and "(right side)" in right


def test_the_cutting_tables_keep_the_two_ways_apart() -> None:
    """Strips cut alike are told once, but not those whose triangles would be mirror images."""
    for path in {p for p in EXAMPLES for c in told(p).plan.counts if c.making.recipe.method is TEMPLATE}:
        text = render.markdown(made(path))
        both = [line for line in text.splitlines() if line.startswith("|") and "right side up, from" in line]
        assert sum("lower left to upper right" in line for line in both) == len(both) / 2 > 0


@pytest.mark.parametrize("language", ["en", "de"])
def test_no_size_of_a_strip_is_cut_off(language: str) -> None:
    """The name of a strip beside the cutting drawing ends with its size, which is what one cuts by."""
    for path in (p for p in EXAMPLES if p.stem in ("lantern-walk", "harbour-chain", "churn-dash")):
        labels = [
            e.text or ""
            for d in drawings(made(path, language))
            if d.key.startswith("cut-")
            for e in ElementTree.fromstring(d.svg).iter("{http://www.w3.org/2000/svg}text")
            if e.get("text-anchor") == "end"
        ]
        assert labels and not [text for text in labels if text.endswith("…")]


def test_pieces_cut_by_template_stand_among_the_pieces_to_cut() -> None:
    ctx, count = counts(TEMPLATE)[0]
    shown = [s for s, _, _ in flat(pieces_picture(count.making.recipe.cuts, ctx.swatches, ctx.look).items)]
    assert any(getattr(s, "text", "").startswith("cut 2 by") for s in shown)
    assert any(isinstance(s, Outline) and s.fabric and len(s.loops[0]) == 3 for s in shown)


@pytest.mark.parametrize("language", ["en", "de"])
def test_both_ways_are_told_in_each_language(language: str) -> None:
    phrases = Phrases(language, IMPERIAL)
    told = {leans: phrases.say("cutting.half", n=4, leans=leans) for leans in ("", "left", "right")}
    assert len(set(told.values())) == 3
    assert ("links" if language == "de" else "left") in told["left"]


@pytest.mark.parametrize("method", [TWO, EIGHT], ids=lambda m: m.phrase)
def test_the_lighter_square_lies_on_top(method: Method) -> None:
    """The words have the line drawn on the back of the lighter one, so that back must be the one seen."""
    found = [(ctx, c) for ctx, c in counts(method) if len(fabrics(c.making)) == 2]
    assert found
    for ctx, count in found:
        performed = ctx.performed(count.making)
        assert performed is not None
        laid = from_states(count.making, performed, ctx.swatches, ctx.look)[1].picture
        sheets = [s for s, _, _ in flat(laid.items) if isinstance(s, Outline) and s.fabric]
        assert [s.wrong for s in sheets] == [False, True]
        under, above = (luminance(ctx.swatches[s.fabric].colour) for s in sheets)
        assert under < above


def fabrics(making: Making) -> set[str]:
    return {c.fabric for c in making.recipe.cuts}


def methods() -> list[Method]:
    """Every record of a way of making something, beside its kind or its part of the setting."""
    modules = [
        import_module(f"{room.__name__}.{found.name}")
        for room in (kinds, setting)
        for found in iter_modules(room.__path__)
    ]
    kept = {value for module in modules for value in vars(module).values() if isinstance(value, Method)}
    return sorted(kept | {m for kind in kinds.kinds().values() for m in kind.methods}, key=lambda m: (m.name, m.phrase))


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("method", methods(), ids=lambda m: f"{m.name} {m.phrase}")
def test_all_that_a_method_asks_for_is_there(method: Method, language: str) -> None:
    phrases = Phrases(language, IMPERIAL)
    assert method.phrase or method.as_cut
    assert not method.phrase or phrases.has(f"method.{method.phrase}")
    assert not method.formula or phrases.has(f"formula.{method.formula}")
    assert phrases.has(f"ruler.{method.ruler}")
    assert not method.drawn or method.drawn in painters()


@pytest.mark.parametrize("word", sorted(kinds.kinds()))
def test_no_word_means_two_methods_of_a_kind(word: str) -> None:
    known = kinds.kinds()[word].methods
    said = [w for m in known for w in (m.name, *m.also)]
    assert len(said) == len(set(said))
    for m in known:
        assert all(meant(known, w) is m for w in (m.name, m.name.replace(" ", "-"), *m.also))


HALF_STRIPS = """fabric red dark
fabric cream light
unit sail
    strips red 1 | cream 1 | red 1
    finished 3 x 5
unit wing
    triangle-in-a-square sail, cream
    finished 3
block pair
    row wing | wing
quilt
    across 1, down 1
    tile
        pair
"""


def test_half_strips_are_told_where_shapes_are_cut_from_a_strip_unit(tmp_path: Path) -> None:
    """Two triangles need no strips of the whole width; the step says so, as it does of segments."""
    path = tmp_path / "sail.pattern"
    path.write_text(HALF_STRIPS, encoding="utf-8")
    text = render.markdown(made(path))
    assert "For one strip unit (half strips) take:" in text and "at a time, take" not in text
