"""A unit that is made like a quilt: blocks set straight, on point or in a zigzag, with sashing, borders and rings.

Its equations and its geometry are those of the quilt (`piecing.setting`), with unknowns and parts of its own.
"""

from __future__ import annotations

from collections.abc import Sequence

from patternkit.model.pattern import Framing, Quilt, Unit
from patternkit.piecing.kinds.base import Equations, Kind, Shop
from patternkit.piecing.leaves import Along, Leaf, sides
from patternkit.piecing.making import Making
from patternkit.piecing.setting import make_set, setting_equations
from patternkit.piecing.setting.borders import height_of, is_mitred, width_of
from patternkit.piecing.sizing import Sizing
from patternkit.piecing.unknowns import of_sashing
from patternkit.piecing.workshop import Workshop


class SetLikeQuilt(Kind):
    """No keyword stands for it: its lines are those of a quilt, ``tile``, ``setting``, ``border`` and the like."""

    def equations(self, unit: Unit, out: Equations) -> None:
        """Those of the quilt, for the unit."""
        assert isinstance(out, Sizing) and unit.quilt is not None
        setting_equations(out.pattern, unit.quilt, out)

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """Plain blocks, plain sashing, plain borders."""
        assert isinstance(out, Sizing) and unit.quilt is not None
        quilt = unit.quilt
        plain = [p for row in quilt.rows for p in row.pieces if p.fabric]
        found = [leaf for p in plain for leaf in sides(out.size_in_quilt(p, quilt.of), p.cut, plain=True)]
        if quilt.sashing is not None and _plain(quilt.sashing):
            found.append(Leaf(of_sashing(quilt.of), fixed=quilt.sashing.cut))
        for edge in quilt.borders:
            if _plain(edge):
                widths = dict.fromkeys((width_of(edge), height_of(quilt, edge)))
                found += [Leaf(var, fixed=edge.cut) for var in widths]
        return found

    def may_trim(self, unit: Unit, side: Along) -> bool:
        """Where plain strips lie along all its edges: the last border, but for mitred corners and cornerstones."""
        last = _last(unit.quilt)
        return last is not None and _plain(last) and last.corner is None and not is_mitred(last)

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The blocks set and framed."""
        assert isinstance(shop, Workshop) and unit.quilt is not None
        return make_set(unit, unit.quilt, shop)


def _last(quilt: Quilt | None) -> Framing | None:
    return quilt.borders[-1] if quilt is not None and quilt.borders else None


def _plain(edge: Framing) -> bool:
    """Whether a border, or sashing, is plain cloth, its corners too."""
    return not edge.sequence and (edge.corner is None or not edge.corner.unit)


SET_LIKE_QUILT = SetLikeQuilt()
