"""Sections of a unit for paper piecing, in words: which are joined to which, in order."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from patternkit.booklet.content.context import Context
from patternkit.booklet.phrases import Listing
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.paper import paper_sections


def values(making: Making, ctx: Context) -> dict[str, Any]:
    """What the phrases of paper piecing ask for; nothing for other ways of sewing."""
    if not making.recipe.method.on_paper:
        return {}
    if making.recipe.method.plain_paper:
        w, h = ctx.raw(making)
        return {"w": w, "h": h}
    found = paper_sections(making)
    letter = {part: section.letter for section in found for part in section.parts}
    inner = {n for section in found for n in section.seams}

    def listed(parts: Sequence[int]) -> str:
        return ctx.listed(sorted({letter[part] for part in parts}))

    between = [seam for n, seam in enumerate(making.seams) if n not in inner]
    joins = []
    for n, seam in enumerate(between):
        one, other = sorted((seam.left, seam.right), key=len)
        joins.append(ctx.state("method.section_joined", n=n, left=listed(one), right=listed(other)))
    return {
        "lettered": len(found) > 1,
        "dotted": any(section.marks for section in found),
        "joined": Listing(tuple(joins)),
    }
