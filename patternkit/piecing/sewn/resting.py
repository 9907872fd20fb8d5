"""Which units need no rounding, kept from one version of a text to the next."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import msgspec

from patternkit.lengths import Length
from patternkit.memory import Carried, Memory
from patternkit.model.pattern import Pattern, Unit
from patternkit.sizes import Solution
from patternkit.sizes.causes import Var


class Resting(msgspec.Struct, frozen=True):
    """A unit of which every leaf lies on the ruler, with all that this leans on: the units inside, and the sizes."""

    unit: Unit
    inner: tuple[Unit, ...]
    sizes: Mapping[Var, Length | None]


class _Kept:
    """The units at rest in the last version that was rounded, and the solution by which they were."""

    def __init__(self) -> None:
        self.units: Carried[str, Resting] = Carried()
        self.solution: Solution | None = None


class Rests:
    """The units that are known to rest as the sizes were solved; without a memory none is."""

    def __init__(self, pattern: Pattern, solution: Solution, memory: Memory | None) -> None:
        self._pattern = pattern
        self._units: Carried[str, Resting] | None = None
        self._differs: frozenset[Var] | None = None  # the sizes that are not what they were, as far as that is known
        if memory is not None:
            kept, s = memory.shelf("rests", _Kept), pattern.settings
            self._units = kept.units.begin((s.seam, s.ruler, s.units, dict(pattern.parameters), pattern.broken))
            self._differs = solution.differs_from(kept.solution) if kept.solution is not None else None
            kept.solution = solution

    def inside(self, unit: Unit, size: Callable[[Var], Length | None]) -> Sequence[Unit] | None:
        """The units inside one that rests as it did before; None where that is not known. `size` gives a size as it was
        solved."""
        known = self._units.old.get(unit.key) if self._units is not None else None
        if known is None or self._units is None or known.unit is not unit:
            return None
        if any(self._pattern.units.get(u.key) is not u for u in known.inner):
            return None
        if self._differs is None:
            if any(size(var) != length for var, length in known.sizes.items()):
                return None
        elif any(var in self._differs for var in known.sizes):
            return None
        self._units.now[unit.key] = known
        return known.inner

    def note(self, unit: Unit, inner: Sequence[Unit], sizes: Mapping[Var, Length | None]) -> None:
        """Keep that a unit rests; `sizes` are those of its leaves, and of the leaves of the units inside."""
        if self._units is not None:
            self._units.now[unit.key] = Resting(unit, tuple(inner), sizes)
