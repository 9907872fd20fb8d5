"""The quilt sewn forward: its centre from blocks as they come out, then border after border.

The centre is as large as it comes out. A plain border takes up the difference where it can, so that the quilt keeps its
size; what a coping strip can't take up is trimmed from it.
"""

from __future__ import annotations

from fractions import Fraction

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Framing, Quilt
from patternkit.piecing.leaves import Along, Leaf, sides
from patternkit.piecing.setting.borders import height_of, is_coping, is_mitred, top_first, width_of
from patternkit.piecing.sewn.attempt import LEAST, Attempt
from patternkit.piecing.sewn.ground import CENTRE, QUILT, SIDES
from patternkit.piecing.sewn.ledger import Ledger
from patternkit.piecing.sewn.model import Change, Rounded, RoundingTrouble
from patternkit.piecing.unknowns import (
    Unknown,
    of_border,
    of_centre,
    of_float,
    of_float_ends,
    of_layer,
    of_sashing,
    of_whole,
)
from patternkit.sizes.causes import Var

OWN = ("width", "height")


def sew_quilt(attempt: Attempt, quilt: Quilt) -> None:
    """Round the sizes of the quilt's own pieces and sew it; what does not fit is noted in the attempt."""
    leaves = _leaves(attempt, quilt)
    g = attempt.ground
    moved = attempt.moved and any(attempt.grown(u.key) for u in g.order)
    off = [leaf for leaf in leaves if (x := attempt.base(leaf.var)) is not None and not g.fits(leaf, x)]
    if moved or off:
        _centre(attempt, leaves)
    if (QUILT not in attempt.tied) and (moved or off or _borders_off(attempt, quilt)):
        _Borders(attempt, quilt).run()


def _leaves(attempt: Attempt, quilt: Quilt) -> list[Leaf]:
    """Plain blocks and plain sashing."""
    out = attempt.ground.sizing
    found = [
        leaf
        for row in quilt.rows
        for p in row.pieces
        if p.fabric
        for leaf in sides(out.size_in_quilt(p), p.cut, plain=True)
    ]
    sash = quilt.sashing
    if sash is not None and (sash.piece is None or sash.piece.fabric) and not (sash.corner and sash.corner.unit):
        found.append(Leaf(of_sashing(), fixed=sash.cut))
    return [leaf for leaf in found if attempt.base(leaf.var) is not None]


def _centre(attempt: Attempt, leaves: list[Leaf]) -> None:
    """The rows and columns, as far as the centre."""
    g, ledger = attempt.ground, Ledger()
    gap = attempt.take_in(ledger, QUILT)
    if gap:
        attempt.tied[QUILT] = gap
        return
    start = {leaf: attempt.base(leaf.var) or ZERO for leaf in leaves}
    for leaf in sorted(leaves, key=lambda leaf: (not g.is_free(leaf, start[leaf]), start[leaf])):
        attempt.leaf(QUILT, ledger, leaf, start[leaf])
    for float_ in (of_float(), of_float_ends()):
        room = attempt.base(float_)
        if room is not None and ledger.value(float_) is None:
            ledger.add([(float_, 1)], room)  # blocks on point float by what was said, however large they come out
    own = [var for _, e in g.of_quilt() for var in e.terms if not g.owner(var)]
    for var in dict.fromkeys(own):
        size = ledger.value(var)
        if size is not None and size <= 0:
            attempt.tied[QUILT] = -size
            return
        if size is not None:
            attempt.values[var] = size
    for side in SIDES:
        attempt.note_spread(CENTRE, side, of_centre(side))


def _free(edge: Framing) -> bool:
    """Whether a border is plain, so that its width may be another than was said."""
    return not edge.sequence and (edge.corner is None or not edge.corner.unit) and not edge.cut


def _borders_off(attempt: Attempt, quilt: Quilt) -> bool:
    g = attempt.ground
    found = [v for e in quilt.borders if _free(e) for v in (width_of(e), height_of(quilt, e))]
    return any((x := attempt.base(v)) is not None and not g.on_ruler(x) for v in found)


class _Borders:
    """The borders, from the inside out."""

    def __init__(self, attempt: Attempt, quilt: Quilt) -> None:
        self.a, self.quilt, self.g = attempt, quilt, attempt.ground

    def run(self) -> None:
        """Sew each border to what is inside it."""
        inner: dict[Along, Length] = {}
        for side in SIDES:
            size = self.a.size(of_centre(side))
            if size is None:
                return
            inner[side] = size
        for edge in self.quilt.borders:
            widths = self._widths(edge, inner)
            if widths is None:
                return
            if edge.sequence and not self._closes(edge, inner, widths):
                return
            for side, own, width in zip(SIDES, OWN, widths, strict=True):
                var = of_border(edge.nth, own)
                if width != self.a.base(var) or var in self.a.values:
                    self.a.values[var] = width
                inner[side] = inner[side] + width * 2 - self.a.excess.get(var, ZERO)
                self.a.values[self._around(edge, side)] = inner[side]
        if not self.quilt.borders:
            for side in SIDES:
                self.a.values[of_whole(side)] = inner[side]

    def _widths(self, edge: Framing, inner: dict[Along, Length]) -> tuple[Length, Length] | None:
        """How wide a border is at the sides, and at top and bottom; None where that is not known or can't be."""
        first = self._width(edge, "w", width_of(edge), inner["w"])
        second = self._width(edge, "h", height_of(self.quilt, edge), inner["h"])
        if first is None or second is None:
            return None
        if is_mitred(edge) and first[0] != second[0]:
            first, second = (self._as_cut(edge, v) for v in (width_of(edge), height_of(self.quilt, edge)))
        for side, own, (width, e, how), solved in zip(SIDES, OWN, (first, second), self._layer(edge), strict=True):
            if e:
                self.a.excess[of_border(edge.nth, own)] = e
            sewn = inner[side] + width * 2
            if how == "spread" and solved is not None and sewn != solved:
                self.a.changes.append(Change(edge.called, side, solved, sewn, "spread"))
            elif how == "ends" and solved is not None:
                drawn = self.a.base(width_of(edge)) or width
                self.a.changes.append(Change(edge.called, side, drawn, width, "ends"))
            elif how == "trimmed" and solved is not None:
                self.a.changes.append(Change(edge.called, side, solved, sewn, "trimmed"))
        return first[0], second[0]

    def _layer(self, edge: Framing) -> tuple[Length | None, Length | None]:
        return self.g.design(self._around(edge, "w")), self.g.design(self._around(edge, "h"))

    def _around(self, edge: Framing, side: Along) -> Unknown:
        """The size of the quilt with a border on."""
        return of_whole(side) if edge is self.quilt.borders[-1] else of_layer(edge.nth, side)

    def _as_cut(self, edge: Framing, var: Var) -> tuple[Length, Length, str]:
        drawn = self.a.base(var) or ZERO
        return (self.g.up(Leaf(var), drawn) if _free(edge) else drawn), ZERO, "spread"

    def _width(self, edge: Framing, side: Along, var: Var, inner: Length) -> tuple[Length, Length, str] | None:
        """The width, what is trimmed from the whole, and how that came about."""
        if not _free(edge):
            size = self._given(edge, var)
            return None if size is None else (size, ZERO, "spread")
        drawn, solved = self.a.base(var), self._layer(edge)[0 if side == "w" else 1]
        if drawn is None or solved is None:
            return None
        g, ring = self.g, self._ring(edge, side, drawn, inner)
        target = solved if ring is None else ring
        room = (target - inner) / 2
        if ring is not None and room < drawn * LEAST:
            self.a.troubles.append(RoundingTrouble(edge.called, "ring", -room))
            return None
        width = g.up(Leaf(var), drawn if ring is None else room)
        if width != drawn and not g.on_ruler(drawn):
            self.a.rounded.append(Rounded(edge.called, var, drawn + g.seams, width + g.seams))
        e = inner + width * 2 - target
        if not e:
            return width, ZERO, "spread"
        if g.on_ruler(target) and e > 0:
            if g.on_ruler(room) and room >= drawn * LEAST:
                return room, ZERO, "ends"
            if ring is not None and edge.corner is None:
                return width, e, "trimmed"
        return width if ring is None else room, ZERO, "spread"

    def _ring(self, edge: Framing, side: Along, drawn: Length, inner: Length) -> Length | None:
        """How large the quilt must be with a plain border on, so that the pieced border that follows fills its sides:
        with as many units as it was designed with, or more where that leaves too little of the border. None where no
        pieced one follows, or where it did not fill them before."""
        n = self.quilt.borders.index(edge) + 1
        following = self.quilt.borders[n] if n < len(self.quilt.borders) else None
        if following is None or not following.sequence or is_mitred(edge):
            return None
        each, before = self._repeat(following)
        more = int(self._runs_past(following, side)) * 2
        own = width_of(following)
        layer, wide = self.g.design(self._around(edge, side)), self._given(following, own)
        if layer is None or wide is None or not _whole(layer + (self.g.design(own) or ZERO) * more, before):
            return None
        times = (layer + (self.g.design(own) or ZERO) * more) / before
        target = each * times - wide * more
        while is_coping(self.quilt, edge) and (target - inner) / 2 < drawn * LEAST:
            target = target + each
        return target

    def _repeat(self, edge: Framing) -> tuple[Length, Length]:
        """How long the units of a pieced border are together, as they are sewn and as they were solved."""
        each, before = ZERO, ZERO
        for piece in edge.sequence:
            var = self.g.sizing.size_in_quilt(piece)[0]
            each, before = each + (self.a.size(var) or ZERO), before + (self.g.design(var) or ZERO)
        return each, before

    def _given(self, edge: Framing, var: Var) -> Length | None:
        """The width of a border that is as wide as its units, or as it was said to be cut."""
        for piece in (*edge.sequence, edge.corner):
            if piece is not None and piece.unit:
                w, h = self.g.sizing.size_in_quilt(piece)
                return self.a.size(h if edge.sequence else w)
        return self.a.base(var)

    def _closes(self, edge: Framing, inner: dict[Along, Length], widths: tuple[Length, Length]) -> bool:
        """Whether the units of a pieced border fill each side; a side that they did not fill before is no matter of
        rounding."""
        each, before = self._repeat(edge)
        i = self.quilt.borders.index(edge)
        b0 = self.g.design(width_of(edge)) or ZERO
        for k, side in enumerate(SIDES):
            more = int(self._runs_past(edge, side)) * 2
            within = of_centre(side) if i == 0 else of_layer(self.quilt.borders[i - 1].nth, side)
            now, then = inner[side] + widths[k] * more, (self.g.design(within) or ZERO) + b0 * more
            if _whole(then, before) and not _whole(now, each):
                self.a.troubles.append(RoundingTrouble(edge.called, "ring", now))
                return False
        return True

    def _runs_past(self, edge: Framing, side: Along) -> bool:
        """Whether the strips along a side cover the ends of the others."""
        if edge.corner is not None:
            return False
        return (side == "h") == top_first(edge)


def _whole(length: Length, each: Length) -> bool:
    if each <= 0:
        return False
    times = length / each
    return times.is_fraction and times.fraction.denominator == 1 and times >= Fraction(1)
