"""Sizes as they are sewn, beside those that were solved: what the sewing of a pattern comes to."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.sizes import Affine, Solution
from patternkit.sizes.causes import Var
from patternkit.sizes.equations import Equation

How = Literal["ends", "trimmed", "spread"]


class Change(msgspec.Struct, frozen=True):
    """What rounding up does to one side of a unit, of the quilt's centre, or of a border.

    `owner` is the unit's key (or the quilt's centre, or a border by its name), `side` "w" or "h". Solved it finishes
    `solved`, sewn from what the ruler cuts `sewn`. By `how`: "ends" the pieces at both ends give up the difference,
    "trimmed" it is cut off again, half from each side, "spread" it finishes `sewn`.
    """

    owner: str
    side: str
    solved: Length
    sewn: Length
    how: How


class Rounded(msgspec.Struct, frozen=True):
    """A leaf that the ruler does not have: its raw size as solved, and as it is cut."""

    owner: str
    var: Var
    exact: Length
    cut: Length


class RoundingTrouble(msgspec.Struct, frozen=True):
    """Why the sizes of a pattern can't be rounded to its ruler.

    `owner` as in `Change`; `reason`: "off" where a size that follows from others lies on no line of the ruler (`raw`),
    "tied" where units that are sewn together come out `raw` apart, "stated" where `forbids` is a size that does not
    come out, "ring" where the border `owner` no longer fits.
    """

    owner: str
    reason: Literal["off", "tied", "stated", "ring"]
    raw: Length = ZERO
    forbids: Equation | None = None


class SewnSizes:
    """The finished sizes that come out when a pattern is cut by the ruler and sewn. It answers as a `Solution` does.

    `excess` is how much larger than its size a unit is sewn that is trimmed. Where `trouble` is told, the sizes are
    those that were solved.
    """

    def __init__(
        self,
        solution: Solution,
        values: Mapping[Var, Length] | None = None,
        excess: Mapping[Var, Length] | None = None,
        changes: tuple[Change, ...] = (),
        rounded: tuple[Rounded, ...] = (),
        trouble: RoundingTrouble | None = None,
        design: Solution | None = None,
    ) -> None:
        self.solution, self.design = solution, design
        self.values = {var: Affine(length) for var, length in (values or {}).items()}
        self.excess = dict(excess or {})
        self.changes = changes
        self.rounded = rounded
        self.trouble = trouble

    @property
    def as_solved(self) -> bool:
        """Whether nothing had to be rounded."""
        return not self.values and not self.excess

    def value(self, var: Var) -> Affine | None:
        """The finished size in inches; None where nothing settles it."""
        found = self.values.get(var)
        found = self.solution.value(var) if found is None else found
        return self.design.value(var) if found is None and self.design is not None else found

    def differs_from(self, other: Solution | SewnSizes) -> frozenset[Var] | None:
        """The sizes that may differ from those of another solution; None where that is not known."""
        if isinstance(other, SewnSizes):
            if not self.as_solved or not other.as_solved:
                return None
            other = other.solution
        return self.solution.differs_from(other) if self.as_solved else None
