"""From a cutting plan in whole numbers to the neutral lists that a cutting drawing takes."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from patternkit.drawing.cuts import ClothCut, DrawnCut, StripCut
from patternkit.lengths import Length
from patternkit.plan.cutting.model import CutPlan


def cloth_cut(
    fabric: str,
    plan: CutPlan,
    scale: Fraction,
    labels: Mapping[str, str] = {},
    leans: Mapping[tuple[str, bool], str] = {},
) -> ClothCut:
    """A fabric's plan as `draw_cuts` takes it.

    `scale` is the plan's whole numbers to the inch; `labels` what each piece is called on the drawing (its id when
    nothing is given); `leans` the diagonal of each rectangle that is halved, by its id and whether it lies turned.
    Strips cut from a leftover are left out: they lie in cloth that is already drawn.
    """

    def inches(value: int) -> Length:
        return Length(value) / scale

    strips = []
    for strip in plan.strips:
        if strip.source:
            continue
        pieces = tuple(
            DrawnCut(
                labels.get(cut.piece, cut.piece),
                cut.number,
                inches(cut.width),
                inches(cut.height if cut.trimmed_to is None else cut.trimmed_to),
                leans=leans.get((cut.piece, cut.turned), ""),
            )
            for cut in strip.cuts
        )
        whole = strip.kind == "full"
        strips.append(StripCut(inches(strip.height), strip.copies, () if whole else pieces, whole))
    return ClothCut(fabric, inches(plan.width), tuple(strips), Length(plan.buy) / scale)
