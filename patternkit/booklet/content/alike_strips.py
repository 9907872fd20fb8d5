"""Strips that a cutter cannot tell apart: the same pieces for the same thing, whatever line each was planned for."""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from patternkit.plan.cutting.model import CrossCut, CutPlan, Strip
from patternkit.plan.model import CutLine, FabricPlan

_Alike = tuple[object, ...]


def alike(plan: FabricPlan, use: Callable[[CutLine], str]) -> CutPlan:
    """The cutting plan as it is told: lines of the same size, way to cut on and `use` are one, and so are strips with
    the same cuts of one height.

    A strip of 6 pieces for one log and 18 equal ones for another is a strip of 24. The leftovers, which point to strips
    by number, are left out.
    """
    first: dict[_Alike, str] = {}
    same: dict[str, str] = {}
    for line in plan.lines:
        key: _Alike = (line.cut.width, line.cut.height, line.cut.then, line.cut.leans, line.per_strip, use(line))
        # shapes cut side by side are counted by the strip, so that each keeps its own line
        same[line.id] = line.id if line.per_strip else first.setdefault(key, line.id)
    found: dict[_Alike, Strip] = {}
    for number, strip in enumerate(plan.plan.strips):
        cuts = strip.cuts if strip.kind == "full" else _gathered(strip.cuts, same)
        own = number if strip.kind == "full" else -1  # whole strips are put together by those who tell them
        at: _Alike = (own, strip.height, strip.kind, strip.source, cuts)
        known = found.get(at)
        copies = strip.copies + (known.copies if known is not None else 0)
        found[at] = msgspec.structs.replace(strip, copies=copies, cuts=cuts)
    return msgspec.structs.replace(plan.plan, strips=tuple(found.values()), leftovers=())


def _gathered(cuts: tuple[CrossCut, ...], same: dict[str, str]) -> tuple[CrossCut, ...]:
    """A strip's cuts under the names of the lines that stand for them, those alike together, the larger first."""
    found: dict[_Alike, CrossCut] = {}
    for cut in cuts:
        piece = same[cut.piece]
        key: _Alike = (piece, cut.width, cut.height, cut.trimmed_to)
        number = cut.number + (found[key].number if key in found else 0)
        found[key] = msgspec.structs.replace(cut, piece=piece, number=number)
    return tuple(sorted(found.values(), key=lambda c: (c.trimmed_to is not None, -c.height, -c.width)))
