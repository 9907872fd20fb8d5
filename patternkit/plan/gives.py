"""How many pieces of finished units come of what is cut: a square sewn in pairs shows in two half-squares."""

from __future__ import annotations

from patternkit.piecing.making import Cloth, Making, PieceCut
from patternkit.plan.counts import Count

CORNERS = {"half": 2, "quarter": 4}
"""Triangles from one piece that is cut corner to corner before it is sewn."""


def pieces_from(count: Count, cut: PieceCut) -> int:
    """Pieces of the units that come of a cut in all full batches.

    A strip of a strip unit shows once in each segment. A piece that is cut up only after it is sewn shows as often as
    the units of its batch have pieces of its cloth and name, mirror images among them; where several cuts share cloth
    and name, each is one piece.
    """
    recipe = count.making.recipe
    if cut.then == "strip" and recipe.segment is not None:
        return cut.count * _segments(count)
    n = count.cut(cut)
    if cut.then:
        return n * CORNERS.get(cut.then, 1)
    return _shown(count.making, cut) * (recipe.yields + recipe.mirrored) * count.whole or n


def pieces_from_half(count: Count, cut: PieceCut) -> int:
    """Pieces of the units that come of a cut in the batch from half strips."""
    return cut.count * count.half


def _segments(count: Count) -> int:
    """Segments from whole strips, for every unit that shares them."""
    if count.shared is None:
        return count.whole * count.yields
    return sum(way.times * sum(way.numbers) for way in count.shared.ways if not way.half)


def _shown(making: Making, cut: PieceCut) -> int:
    """How many pieces of one unit are of a cut's cloth and name; 0 where that can't be told from another cut's."""
    own = [p.what for p in making.parts if isinstance(p.what, Cloth) and p.what.fabric == cut.fabric]
    others = [c for c in making.recipe.cuts if c.fabric == cut.fabric and c != cut]
    named = [c for c in own if c.name == cut.name]
    if not any(c.name == cut.name for c in others) and named:
        return len(named)
    return 0 if others else len(own)
