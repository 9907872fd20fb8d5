"""Units sewn forward from what the ruler cuts, from the inside out, and whether each of them keeps its size.

Every leaf is rounded up, the smallest first; a plain piece that lies along others is cut to the length that is there. A
unit that comes out larger keeps its size where it can: its end pieces give up the difference, or it is trimmed.
Otherwise it is as large as it comes out.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from patternkit.lengths import ONE, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.kinds import kind_of
from patternkit.piecing.leaves import Along, Ends, Leaf
from patternkit.piecing.sewn.ground import QUILT, SIDES, Ground, inner_units
from patternkit.piecing.sewn.ledger import Ledger
from patternkit.piecing.sewn.model import Change, How, Rounded, RoundingTrouble
from patternkit.piecing.unknowns import of_unit
from patternkit.sizes import Solution
from patternkit.sizes.causes import Var

LEAST = Length(Fraction(2, 3))
"""How much of its drawn width a piece keeps at least."""


class Attempt:
    """One try at all units.

    `base` gives the sizes to start from, `demands` those that a unit must have beside its neighbours, `spread` the
    units that may not be kept at their size because seams of theirs would miss those of their neighbours. With `up` a
    unit whose size is on no line of the ruler is kept at the line above it.
    """

    def __init__(
        self,
        ground: Ground,
        base: Solution | None,
        demands: Mapping[Var, Length],
        spread: frozenset[str],
        up: bool = False,
    ) -> None:
        self._up = up
        self.ground, self._base, self.demands, self.spread = ground, base, demands, spread
        self.values: dict[Var, Length] = {}
        self.excess: dict[Var, Length] = {}
        self.changes: list[Change] = []
        self.rounded: list[Rounded] = []
        self.tied: dict[str, Length] = {}  # owners in which pieces do not meet, and by how much
        self.troubles: list[RoundingTrouble] = []

    def run(self) -> None:
        """Sew every unit."""
        for unit in self.ground.order:
            before = len(self.changes)
            self._unit(unit)
            if len(self.changes) == before and self.moved:  # what lies beside it may have moved it
                for side in SIDES:
                    self.note_spread(unit.key, side, of_unit(unit.key, side))

    # -- sizes --------------------------------------------------------------------------------------------
    def base(self, var: Var) -> Length | None:
        """The size to start from."""
        found = None
        if self._base is not None:
            value = self._base.value(var)
            found = None if value is None else value.value(self.ground.pattern.parameters)
        return self.ground.design(var) if found is None else found

    def size(self, var: Var) -> Length | None:
        """The size as it stands now."""
        found = self.values.get(var)
        return self.base(var) if found is None else found

    @property
    def moved(self) -> bool:
        """Whether any size may be another than was solved."""
        return bool(self.values) or self._base is not None

    def grown(self, key: str) -> bool:
        """Whether a unit comes out at another size than was solved."""
        return any(self.size(of_unit(key, s)) != self.ground.design(of_unit(key, s)) for s in SIDES)

    def _kept_back(self, key: str) -> bool:
        """Whether a unit that was to be of another size, as all was solved again, has kept its own."""
        if self._base is None:
            return False
        sides = [of_unit(key, s) for s in SIDES]
        return any(v in self.values and self.values[v] != self.base(v) for v in sides)

    def final(self) -> Solution:
        """The solution that holds for all sizes that were not rounded."""
        return self.ground.solution if self._base is None else self._base

    # -- one unit -----------------------------------------------------------------------------------------
    def _unit(self, unit: Unit) -> None:
        g = self.ground
        if self._rests(unit):
            return
        leaves = g.leaves(unit)
        moved_inside = any(self.grown(k) or self._kept_back(k) for k in inner_units(unit))
        asked = any(of_unit(unit.key, s) in self.demands for s in SIDES)
        start = {leaf: self.base(leaf.var) if asked or not moved_inside else g.design(leaf.var) for leaf in leaves}
        off = [leaf for leaf, x in start.items() if x is not None and not g.fits(leaf, x)]
        if not off and not moved_inside:
            if self._base is None:
                g.note_rest(unit)
            return
        ledger = Ledger()
        gap = self.take_in(ledger, unit.key)
        if gap:
            self.tied[unit.key] = gap
            return
        for leaf in sorted(leaves, key=lambda leaf: self._turn(leaf, start[leaf])):
            self.leaf(unit.key, ledger, leaf, start[leaf] or ZERO)
        if self._rest(unit, ledger):
            return
        for side in SIDES:
            self._one_side(unit, side, moved_inside)

    def _rests(self, unit: Unit) -> bool:
        """Whether a unit is known to need nothing: as the sizes were solved, with nothing inside it changed."""
        inner = self.ground.resting.inside(unit, self.ground.design) if self._base is None else None
        return inner is not None and not (self.values and any(self.grown(u.key) for u in inner))

    def _turn(self, leaf: Leaf, start: Length | None) -> tuple[bool, Length]:
        """When a leaf is set: those that need no line first, then the smallest first."""
        size = ZERO if start is None else start
        return not self.ground.is_free(leaf, size), size * leaf.factor

    def take_in(self, ledger: Ledger, key: str) -> Length:
        """Put the equations of a unit's making into a ledger, the sizes of the units inside as they are now; by how
        much they disagree."""
        g = self.ground
        stated = g.of_quilt() if key == QUILT else g.stated_by(key)
        structure = [(e.terms.items(), e.right.value(g.pattern.parameters)) for _, e in stated if not e.cause.stated]
        for given, right in (*structure, *((line, ZERO) for line in g.lines(key))):
            terms = []
            for var, c in given:
                owner = g.owner(var)
                known = self.size(var) if owner and owner != key else None
                if known is None:
                    terms.append((var, c))
                else:
                    right = right - known * c
            gap = ledger.add(terms, right)
            if gap:
                return abs(gap)
        return ZERO

    def leaf(self, key: str, ledger: Ledger, leaf: Leaf, start: Length) -> None:
        """Set a leaf on the ruler; where the pieces beside it have settled it, it is as long as they are."""
        g, factor = self.ground, leaf.factor
        size = ledger.value(leaf.var)
        if size is None:
            size = start if g.fits(leaf, start) else g.up(leaf, start)
            ledger.add([(leaf.var, 1)], size)
        elif not self._follows(leaf, size) and not g.cut_finer(key):
            self.troubles.append(RoundingTrouble(key, "off", size * factor + g.seams))
        if size != start and not g.on_ruler(start, factor):
            cut = size if g.fits(leaf, size) else g.up(leaf, size)  # to what it is sewn to, later
            self.rounded.append(Rounded(key, leaf.var, start * factor + g.seams, cut * factor + g.seams))

    def _follows(self, leaf: Leaf, size: Length) -> bool:
        """Whether a leaf may be as long as the pieces beside it: on a line of the ruler, or cut to what is measured
        there, where no patch becomes too narrow by that."""
        g = self.ground
        drawn = g.design(leaf.var)
        if leaf.plain and drawn is not None and size >= drawn * LEAST:
            return True
        return g.fits(leaf, size) or not size.is_fraction

    def _rest(self, unit: Unit, ledger: Ledger) -> bool:
        """Note all sizes of a unit; those that no leaf settles are as they were. True where they can't be."""
        g = self.ground
        own = [var for _, e in g.stated_by(unit.key) for var in e.terms if g.owner(var) in ("", unit.key)]
        for var in dict.fromkeys([of_unit(unit.key, "w"), of_unit(unit.key, "h"), *own]):
            size = ledger.value(var)
            if size is None:
                size = self.demands.get(var) or self.base(var)
                if size is None:
                    continue
                ledger.add([(var, 1)], size)
            if size <= 0:
                self.tied[unit.key] = -size
                return True
            self.values[var] = size
        return False

    def _one_side(self, unit: Unit, side: Along, moved_inside: bool) -> None:
        g, var = self.ground, of_unit(unit.key, side)
        sewn, solved = self.size(var), g.design(var)
        wanted = self.demands.get(var) or (solved if moved_inside else self.base(var))
        if self._up and wanted is not None and not g.on_ruler(wanted):
            wanted = g.up(Leaf(var), wanted)
        if sewn is None or wanted is None or solved is None or sewn == wanted:
            return
        e = sewn - wanted
        if e > 0 and g.on_ruler(wanted) and unit.key not in self.spread:
            if self._by_ends(unit, side, e):
                self._note(unit.key, side, wanted, sewn, "ends")
                self.values[var] = wanted
                return
            if e >= g.hair and self._may_trim(unit, side, e):
                self._note(unit.key, side, wanted, sewn, "trimmed")
                self.values[var], self.excess[var] = wanted, e
                return
        self.note_spread(unit.key, side, var)

    def note_spread(self, owner: str, side: Along, var: Var) -> None:
        """Note that something finishes as large as it comes out, where that is not what was solved."""
        sewn, solved = self.size(var), self.ground.design(var)
        if sewn is not None and solved is not None and sewn != solved:
            self._note(owner, side, solved, sewn, "spread")

    def _note(self, owner: str, side: Along, solved: Length, sewn: Length, how: How) -> None:
        self.changes.append(Change(owner, side, solved, sewn, how))

    # -- keeping its size ---------------------------------------------------------------------------------
    def _by_ends(self, unit: Unit, side: Along, e: Length) -> bool:
        """Let both end pieces give up half of what is too much, where they have sizes of their own."""
        kind = kind_of(unit.kind)
        ends = None if kind is None else kind.ends(unit, side, self.ground.sizing)
        if ends is None or self._shared(ends):
            return False
        new: dict[Var, Length] = {}
        for end in (ends.first, ends.last):
            size = self.size(end.usual)
            drawn = self.ground.design(end.usual)
            if size is None or drawn is None:
                return False
            new[end.own] = size - e / 2
            if not self.ground.on_ruler(new[end.own]) or new[end.own] < drawn * LEAST:
                return False
        self.values.update(new)
        return True

    def _shared(self, ends: Ends) -> bool:
        """Whether an end piece is as large as a piece that is none: it would be cut at a size of its own for this."""
        g = self.ground
        between = [frozenset((g.design(w), g.design(h))) for w, h in ends.between]
        return any(
            end.across is not None and frozenset((g.design(end.usual), g.design(end.across))) in between
            for end in (ends.first, ends.last)
        )

    def _may_trim(self, unit: Unit, side: Along, e: Length) -> bool:
        """Whether half of what is too much can be trimmed from both sides, so that no piece becomes too narrow."""
        kind = kind_of(unit.kind)
        if kind is None or not kind.may_trim(unit, side):
            return False
        g = self.ground
        for leaf in g.leaves(unit):
            now, drawn = self.size(leaf.var), g.design(leaf.var)
            if leaf.factor == ONE and now is not None and drawn is not None and now - e / 2 < drawn * LEAST:
                return False
        return True
