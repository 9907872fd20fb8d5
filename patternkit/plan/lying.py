"""How rectangles that are cut corner to corner lie on the cloth: turned on its side, a rectangle has its diagonal the
other way."""

from __future__ import annotations

from typing import Literal

import msgspec

from patternkit.piecing.making import PieceCut
from patternkit.plan.model import CutLine, Plan

OTHER: dict[str, Literal["", "left", "right"]] = {"": "", "left": "right", "right": "left"}


def lying(cut: PieceCut, turned: bool) -> PieceCut:
    """A rectangle to halve with its width across the cloth as it lies, and the diagonal that it then has.

    Whatever has no diagonal to mistake (squares, whole pieces, rectangles cut both ways) is given back as it is.
    """
    if not turned or cut.then != "half" or cut.width == cut.height:
        return cut
    return msgspec.structs.replace(cut, width=cut.height, height=cut.width, leans=OTHER[cut.leans])


def lies_turned(line: CutLine, plan: Plan) -> bool:
    """Whether all pieces of a line lie on their side in the layout; False where there is no layout by strips."""
    fabric = plan.fabrics.get(line.fabric)  # nothing of a group, which is cut from sheets
    strips = fabric.plan.strips if fabric is not None and fabric.sheets is None else ()
    turned = [cut.turned for strip in strips for cut in strip.cuts if cut.piece == line.id]
    return bool(turned) and all(turned)
