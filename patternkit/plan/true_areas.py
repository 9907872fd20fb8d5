"""What is proved of a plan with shapes cut by template: the cloth that the shapes themselves take, however they lie.

The planner has such shapes as rectangles, one for each or one for a run of them, and what it proves holds for those
alone. So it is with pieces round the motifs of a print: other pieces may lie between them. What holds for the shapes is
their area: at every height of the cloth the pieces of a strip are no wider than what squaring up leaves of it. Of
motifs there are no more in a row than the width has repeats.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.turns import area_of, is_box
from patternkit.plan.cutting import CutPlan, CuttingSettings, PieceDemand
from patternkit.plan.cutting.proved import figures
from patternkit.plan.model import CutLine
from patternkit.plan.motifs import Motifs

FINE = Fraction(1, 1 << 20)


def proved_by_area(
    plan: CutPlan, pieces: Sequence[PieceDemand], lines: Sequence[CutLine], settings: CuttingSettings, scale: Fraction
) -> CutPlan:
    """The plan with the bound that the true areas of its pieces prove, where some are cut by template, or round motifs;
    otherwise as it is. `pieces` are the planner's, of the same `lines`, in whole numbers of `scale` to the inch."""
    if not any((line.cut.then == "template" and not is_box(line.cut.shape)) or line.motifs for line in lines):
        return plan
    needed, rows = Fraction(0), Fraction(0)
    for piece, line in zip(pieces, lines, strict=True):
        if line.motifs is not None:
            area = (line.cut.width * line.cut.height * line.count).floor_to(FINE)
            needed += area * scale * scale / settings.width
            rows = max(rows, _rows_take(line, line.motifs, Fraction(settings.width) / scale) * scale)
        elif piece.full:
            needed += piece.height * piece.count
        elif line.cut.then == "template":
            area = Length(area_of(line.cut.shape) * line.count).floor_to(FINE)
            needed += area * scale * scale / settings.room
        else:
            wide = Fraction(piece.width, settings.width if piece.along else settings.room)
            needed += min(wide, Fraction(1)) * piece.height * piece.count
    return bounded_by(plan, int(-(-max(needed, rows) // 1)), settings)


def _rows_take(line: CutLine, motifs: Motifs, width: Fraction) -> Fraction:
    """The length without which there are not so many motifs, however well they lie; nothing where pieces are larger
    than a repeat, as those may be cut from rows between."""
    if motifs.step != motifs.repeat:
        return Fraction(0)
    in_row = int(((width - line.cut.width) / motifs.step[0]).floor_to(Fraction(1))) + 1
    rows = -(-line.count // in_row)
    return (motifs.step[1] * (rows - 1) + line.cut.height).floor_to(FINE)


def bounded_by(plan: CutPlan, length: int, settings: CuttingSettings) -> CutPlan:
    """The plan with what is proved of the length used, where no more than that is."""
    return msgspec.structs.replace(plan, **figures(plan.length, length, length, settings))
