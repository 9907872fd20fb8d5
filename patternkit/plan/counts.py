"""How many of each unit a quilt needs, and how many its method makes."""

from __future__ import annotations

from fractions import Fraction
from typing import Mapping, Sequence

import msgspec

from patternkit.lengths import Length, ceil_fraction
from patternkit.piecing.making import Making


class Count(msgspec.Struct, frozen=True):
    """One making in the quilt: how many are needed, how many one batch gives, batches, and how many are left over.

    For a strip unit a batch is one strip unit across the usable width, and its yield the segments it gives.
    """

    making: Making
    needed: int
    yields: int
    batches: int

    @property
    def made(self) -> int:
        """How many come out."""
        return self.batches * self.yields

    @property
    def spare(self) -> int:
        """How many are left over."""
        return self.made - self.needed


def sewing_order(roots: Sequence[Making]) -> list[Making]:
    """Every making under the roots, each after those it is made from, in the order in which they are met."""
    done: dict[int, Making] = {}
    for root in roots:
        stack: list[tuple[Making, bool]] = [(root, False)]
        while stack:
            making, ready = stack.pop()
            if id(making) in done:
                continue
            if ready:
                done[id(making)] = making
                continue
            stack.append((making, True))
            children = [p.what for p in making.parts if isinstance(p.what, Making)]
            stack.extend((c, False) for c in reversed(children) if id(c) not in done)
    return list(done.values())


def strip_yield(making: Making, usable: Mapping[str, Length]) -> int:
    """Segments from one strip unit: whole segments that fit across the narrowest usable width of its fabrics."""
    segment = making.recipe.segment
    if segment is None:
        return making.recipe.yields
    width = min(usable[c.fabric] for c in making.recipe.cuts)
    whole = (width / segment).floor_to(Fraction(1))
    return max(int(whole), 0)


def counts(roots: Sequence[tuple[Making, int]], usable: Mapping[str, Length]) -> list[Count]:
    """Counts of every making, in sewing order; each root is needed as often as it says."""
    order = sewing_order([r for r, _ in roots])
    needed: dict[int, int] = {id(m): 0 for m in order}
    for root, n in roots:
        needed[id(root)] += n
    for making in reversed(order):
        for part in making.parts:
            if isinstance(part.what, Making):
                needed[id(part.what)] += needed[id(making)]
    found = []
    for making in order:
        n = needed[id(making)]
        yields = strip_yield(making, usable)
        batches = ceil_fraction(Fraction(n, yields)) if yields else 0
        found.append(Count(making, n, yields, batches))
    return found
