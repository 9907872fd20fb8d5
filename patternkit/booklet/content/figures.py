"""Which drawings stand in which step. Drawings are made by the drawing room; nothing is worked out here."""

from __future__ import annotations

from typing import Callable

from patternkit.booklet.content.context import Context
from patternkit.booklet.document import Block, Drawing, Figure
from patternkit.booklet.drawing.making import draw_making
from patternkit.piecing.making import Making

METHODS = ("half-square", "quarter-square", "three-patch", "geese", "corners", "square-in-square", "half-rectangle",
           "log-cabin", "slices", "triangle", "courthouse")


def step_figures(making: Making, ctx: Context) -> list[Block]:
    """The drawings of one step: how it is made, and what comes out."""
    key = slug(making.key)
    if making.recipe.phrase == "strips":
        from patternkit.booklet.drawing.strips import draw_strips

        return [_figure(lambda: draw_strips(making, ctx.swatches, ctx.look, key=f"strips-{key}"))]
    if making.recipe.phrase.startswith(METHODS):
        try:
            from patternkit.booklet.drawing.methods import draw_method
        except ImportError:
            return [_figure(lambda: draw_making(making, ctx.swatches, ctx.look, key=f"unit-{key}"))]
        return [_figure(lambda: draw_method(making, ctx.swatches, ctx.look, key=f"method-{key}"),
                        lambda: draw_making(making, ctx.swatches, ctx.look, key=f"unit-{key}"))]
    if making.role in ("centre", "quilt", "border"):
        from patternkit.booklet.drawing.assembly import draw_assembly

        return [_figure(lambda: draw_assembly(making, ctx.swatches, ctx.look, key=f"assembly-{key}"))]
    if not making.seams:
        return [_figure(lambda: draw_making(making, ctx.swatches, ctx.look, key=f"unit-{key}"))]
    from patternkit.booklet.drawing.steps import draw_step

    every = range(len(making.seams))
    return [_figure(lambda: draw_step(making, every, ctx.swatches, ctx.look, key=f"step-{key}"))]


def _figure(*draw: Callable[[], Drawing]) -> Figure:
    return Figure(tuple(d() for d in draw))


def slug(text: str) -> str:
    """A name for a drawing's file."""
    kept = "".join(c if c.isascii() and c.isalnum() else "-" for c in text.lower())
    return "-".join(x for x in kept.split("-") if x) or "unit"
