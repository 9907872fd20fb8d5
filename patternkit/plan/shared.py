"""Strip units that are made together for several units: the record that counts and words read."""

from __future__ import annotations

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.piecing.making import Making
from patternkit.plan.sharing import Way


class Shared(msgspec.Struct, frozen=True, eq=False):
    """Strip units made together: the units they are for, in sewing order, and the ways in which they are cut, whose
    numbers stand in that order. Half strips come last."""

    makings: tuple[Making, ...]
    ways: tuple[Way, ...]

    @property
    def batches(self) -> int:
        """How many strip units are sewn in all."""
        return sum(way.times for way in self.ways)

    @property
    def half(self) -> int:
        """How many segments the strip unit of half strips gives; 0 where there is none."""
        return sum(sum(way.numbers) for way in self.ways if way.half)

    def segments(self, making: Making) -> int:
        """How many segments are cut for a unit."""
        at = self.makings.index(making)
        return sum(way.times * way.numbers[at] for way in self.ways)

    @property
    def taken(self) -> Length | None:
        """What segments take of the longest strip unit of whole strips; None where shapes lie in them by turns, or all
        are half ones."""
        widths = [m.recipe.segment for m in self.makings if m.recipe.pitch is None]
        own = [w for w in widths if w is not None]
        if len(own) < len(self.makings):
            return None
        alike = {width: [n for n, w in enumerate(own) if w == width] for width in set(own)}
        each = (
            sum((width * sum(way.numbers[n] for n in of) for width, of in alike.items()), ZERO)
            for way in self.ways
            if not way.half
        )
        return max(each, default=None)
