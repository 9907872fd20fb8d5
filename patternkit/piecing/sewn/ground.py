"""What stays the same however a pattern is rounded: its equations by owner, the sizes solved, the ruler, the leaves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from copy import copy
from fractions import Fraction

import msgspec

from patternkit.lengths import Length
from patternkit.memory import Memory
from patternkit.model.pattern import Component, Pattern, Unit
from patternkit.piecing.kinds import kind_of
from patternkit.piecing.leaves import Along, Leaf
from patternkit.piecing.sewn.lines import Terms, lines_of_quilt, lines_of_unit
from patternkit.piecing.sewn.resting import Rests
from patternkit.piecing.sizing import Sizing
from patternkit.piecing.unknowns import Unknown
from patternkit.sizes import Solution
from patternkit.sizes.causes import Var
from patternkit.sizes.equations import Equation
from patternkit.units import hair

QUILT = ""
"""The owner of what the quilt itself states: no unit has this key."""
CENTRE = "the quilt centre"
"""The owner of the sizes of the quilt's centre; no unit has such a key, as none is called ``border 1``."""
SIDES: tuple[Along, Along] = ("w", "h")


MOST_LINES = 8
"""Lines of the ruler that are tried for a unit whose inner piece is to lie on one as well."""


class Ground:
    """A pattern, its sizing and their solution, seen from the ruler.

    With `measured`, what no fraction gives stays as it was solved: it is cut a little larger and fitted to what it is
    sewn to, as nothing else can be done where such sizes hang together. With a `memory`, units that rest on the ruler
    as they did in the last version of a text are not looked at again.
    """

    def __init__(
        self,
        pattern: Pattern,
        sizing: Sizing,
        solution: Solution,
        measured: bool = False,
        memory: Memory | None = None,
    ) -> None:
        self.measured = measured
        self.pattern, self.sizing, self.solution = pattern, sizing, solution
        self.seams: Length = pattern.settings.seam * 2
        self.grid: Fraction = pattern.settings.ruler
        self.hair = hair(pattern.settings.units)
        self.resting = Rests(pattern, solution, memory)
        self.order = _inner_first(pattern)
        self._lines: dict[str, list[Terms]] = {}
        self._leaves: dict[str, Sequence[Leaf]] = {}
        self._open: set[str] = set()  # units with leaves that nothing settles
        self._design: dict[Var, Length | None] = {}

    def with_numbers(self, pattern: Pattern, solution: Solution) -> Ground:
        """The same with other numbers: a pattern of the same units, and their sizes then."""
        new = copy(self)
        new.pattern, new.solution = pattern, solution
        new._lines, new._leaves, new._open, new._design = {}, {}, set(), {}
        return new

    # -- sizes --------------------------------------------------------------------------------------------
    def design(self, var: Var) -> Length | None:
        """A size as it was solved, at the pattern's values."""
        if var not in self._design:
            value = self.solution.value(var)
            self._design[var] = None if value is None else value.value(self.pattern.parameters)
        return self._design[var]

    def on_ruler(self, size: Length, factor: Length | None = None) -> bool:
        """Whether a finished size, with its two seams, lies on a line of the ruler."""
        return ((size if factor is None else size * factor) + self.seams).on_grid(self.grid)

    def up(self, leaf: Leaf, size: Length) -> Length:
        """The least finished size not below `size` at which a leaf lies on the ruler, and what is inside it too."""
        raw = Length((size * leaf.factor + self.seams).ceil_to(self.grid))
        for n in range(1 if leaf.inner is None else MOST_LINES):
            found = (raw + self.grid * n - self.seams) / leaf.factor
            if self._inner_fits(leaf, found):
                return found
        assert leaf.inner is not None  # it is as large as its inner piece makes it
        inner = Length((size * leaf.inner[0] + self.seams).ceil_to(self.grid))
        return (inner - self.seams) / leaf.inner[0]

    def _inner_fits(self, leaf: Leaf, size: Length) -> bool:
        """Whether what is inside a leaf may be cut on the line of the ruler that is next to its size."""
        if leaf.inner is None:
            return True
        factor, slack = leaf.inner
        raw = size * factor + self.seams
        above = Length(raw.ceil_to(self.grid))
        return min(above - raw, raw - above + self.grid) <= slack

    # -- what units say -----------------------------------------------------------------------------------
    def leaves(self, unit: Unit) -> Sequence[Leaf]:
        """The leaves of a unit whose sizes are known."""
        if unit.key not in self._leaves:
            kind = kind_of(unit.kind)
            found: Sequence[Leaf] = ()
            if (
                kind is not None
                and not unit.broken
                and unit.key not in self.sizing.unmade
                and (unit.rows or unit.quilt)
            ):
                found = kind.leaves(unit, self.sizing)
            known = [leaf for leaf in found if self.design(leaf.var) is not None]
            if len(known) < len(found):
                self._open.add(unit.key)
            self._leaves[unit.key] = self._as_chosen(known, unit)
        return self._leaves[unit.key]

    def _as_chosen(self, leaves: Sequence[Leaf], unit: Unit) -> Sequence[Leaf]:
        """The same leaves; one that is as large as a raw size that the writer chose in that unit, or of a patch that is
        sewn into it, is cut like it."""
        chosen = {self._raw(leaf) for leaf in (*leaves, *self._beside(unit)) if leaf.fixed}
        if not chosen:
            return leaves
        return [msgspec.structs.replace(leaf, fixed=leaf.fixed or self._raw(leaf) in chosen) for leaf in leaves]

    def _beside(self, unit: Unit) -> list[Leaf]:
        """The leaves of the patches that are sewn into a unit."""
        return [leaf for u in self.inside(unit) if u.kind == "patch" for leaf in self.leaves(u)]

    def inside(self, unit: Unit) -> list[Unit]:
        """The units that a unit is made of."""
        return [u for k in inner_units(unit) if (u := self.pattern.units.get(k)) is not None]

    def note_rest(self, unit: Unit) -> None:
        """Keep that a unit rests, for the next version of a text."""
        inside = self.inside(unit)
        leaves = (*self.leaves(unit), *(self._beside(unit) if inside else ()))
        if not self._open.isdisjoint((unit.key, *(u.key for u in inside))):
            return
        self.resting.note(unit, inside, {leaf.var: self.design(leaf.var) for leaf in leaves})

    def cut_finer(self, key: str) -> bool:
        """Whether the writer cuts pieces of a unit, or patches sewn into it, between the lines of the ruler."""
        unit = self.pattern.units.get(key)
        if unit is None:
            return False
        found = (leaf for leaf in (*self.leaves(unit), *self._beside(unit)) if leaf.fixed)
        return any(not self._raw(leaf).on_grid(self.grid) for leaf in found)

    def _raw(self, leaf: Leaf) -> Length:
        size = self.design(leaf.var)
        assert size is not None
        return size * leaf.factor + self.seams

    def has_roots(self) -> bool:
        """Whether some leaf has a size that no fraction gives."""
        sizes = (self.design(leaf.var) for unit in self.order for leaf in self.leaves(unit))
        return any(size is not None and not size.is_fraction for size in sizes)

    def fits(self, leaf: Leaf, size: Length) -> bool:
        """Whether a leaf of a finished size can be set: on a line of the ruler, or without one."""
        return self.is_free(leaf, size) or (self.on_ruler(size, leaf.factor) and self._inner_fits(leaf, size))

    def is_free(self, leaf: Leaf, size: Length) -> bool:
        """Whether a leaf needs no line of the ruler."""
        if leaf.inner is not None and not leaf.fixed:  # trimmed beyond its points, wherever these lie
            return self.on_ruler(size, leaf.inner[0]) or (not size.is_fraction and self._inner_fits(leaf, size))
        return leaf.is_free(size) or (self.measured and not size.is_fraction)

    # -- equations ----------------------------------------------------------------------------------------
    def stated_by(self, key: str) -> Iterator[tuple[int, Equation]]:
        """The equations that a unit states, shares included, with their numbers."""
        equations = self.sizing.system.equations
        for number in self.sizing.ranges.get(key, ()):
            yield number, equations[number]
        for number, unit in self.sizing.shared.items():
            if unit is not None and unit.key == key:
                yield number, equations[number]

    def of_quilt(self) -> Iterator[tuple[int, Equation]]:
        """The equations of the quilt, with their numbers: its rows, its borders, what its plain blocks share."""
        equations = self.sizing.system.equations
        units = sum(len(r) for r in self.sizing.ranges.values())
        for number in range(units, len(equations)):
            if self.sizing.shared.get(number) is None:
                yield number, equations[number]

    def lines(self, key: str) -> list[Terms]:
        """Sums of widths in a unit, or in the quilt, that are nought because a line goes on from row to row."""
        if key not in self._lines:
            unit = self.pattern.units.get(key)
            if unit is not None:
                self._lines[key] = list(lines_of_unit(unit, self.sizing, self.design))
            else:
                self._lines[key] = list(lines_of_quilt(self.pattern.quilt, self.sizing, self.design))
        return self._lines[key]

    def owner(self, var: Var) -> str:
        """The unit whose own width or height a size is; empty for any other size."""
        assert isinstance(var, Unknown)
        return var.owner if var.sort == "unit" and var.side in SIDES else ""


def inner_units(unit: Unit) -> list[str]:
    """The keys of the units that a unit is made of."""
    return list(dict.fromkeys(p.unit for p in components(unit) if p.unit))


def components(unit: Unit) -> list[Component]:
    """Everything a unit names as a piece."""
    return unit.components


def _inner_first(pattern: Pattern) -> list[Unit]:
    """The units, each after those that it is made of."""
    done: dict[str, Unit] = {}
    for first in pattern.units.values():
        waiting = [first]
        while waiting:
            unit = waiting[-1]
            before = [
                pattern.units[k] for k in inner_units(unit) if k in pattern.units and k not in done and k != unit.key
            ]
            before = [u for u in before if u not in waiting]
            if before:
                waiting += before
            else:
                done.setdefault(unit.key, unit)
                waiting.pop()
    return list(done.values())
