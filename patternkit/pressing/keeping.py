"""Keeping to a pressing that is told already: the sizes of a pattern share their steps, and so do its colourways.

A size prefers, among plans of equal cost, the one nearest to the plan of the pattern as it stands; and units and blocks
are pressed as they are there even where that loses a very little more at the joints (`WORTH`). A colourway is sewn by
the same steps: it takes the plan of the main fabrics as it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

import msgspec

from patternkit.piecing.keys import Thing
from patternkit.piecing.making import Making, Side

if TYPE_CHECKING:
    from patternkit.pressing.bits import Slot

Standing = tuple[Thing | None, int]
"""What a making is in every size: the thing it is; for a row of the quilt what it is sewn into, and its first place
there (its key says of all its places, whose number differs by size)."""

_SEWN_FOR_ALL = ("unit", "block", "row", "column")
WORTH = Fraction(1, 100)  # one told step is worth so much of the joints' weight; chosen here, no source
_WHOLE = ("centre", "top", "quilt")


class Kept(msgspec.Struct, frozen=True):
    """A plan to keep to. `makings` are those it was made for; `sides` and `reversed_places` are the plan's; `strictly`
    where it stands above all else, not only among plans of equal cost; `loss` how much more may be lost at joints so
    that units and blocks are pressed as told, as a part of the weight of all joints."""

    makings: dict[Standing, Making]
    sides: Mapping[tuple[Thing, int], Side]
    reversed_places: frozenset[tuple[Thing, int]]
    strictly: bool = False
    loss: Fraction = WORTH


class Wanted(msgspec.Struct, frozen=True):
    """What the plan to keep to says of one bit: its value, or None for a seam that lies open; `weight` is the price of
    the other; `own` where it is a seam of a unit or block, sewn for every size."""

    bit: int | None
    weight: int
    own: bool = False

    def apart(self, bit: int, opened: bool) -> int:
        """The price of a choice. A seam that lies open has a bit all the same, which is free to be set."""
        if self.bit is None:
            return 0 if opened else self.weight
        return self.weight * ((bit != self.bit) + opened)


def names(makings: Iterable[Making]) -> dict[Making, Standing]:
    """What each making is called in every size."""
    found: dict[Making, Standing] = {}
    rows: dict[Making, Standing] = {}
    for making in makings:
        found[making] = (making.thing, -1)
        if making.role in _WHOLE:
            for i, part in enumerate(making.parts):
                if isinstance(part.what, Making) and part.what.role == "row":
                    rows.setdefault(part.what, (making.thing, i))
    return found | rows


def wanted(
    kept: Kept,
    makings: Iterable[Making],
    seams: Sequence[tuple[Making, int]],
    fixed: Sequence[str],
    same: Sequence[tuple[int, int]],
    slots: Sequence[Slot],
) -> dict[int, Wanted]:
    """What a plan says of the bits of a puzzle (see `Puzzle` for its numbers), where it knows the seam or the place.

    `makings` are all of the tree, those without a seam too: a row of one block has a place that may be reversed. Units
    and blocks are sewn for every size: one of their seams counts more than all others together.
    """
    called = names(makings)
    heavy: dict[int, int | None] = {}
    light: dict[int, int | None] = {}
    for n, (making, j) in enumerate(seams):
        first, flip = same[n]
        other = kept.makings.get(called[making])
        if fixed[n] or first in heavy or first in light or other is None or not _alike(other, making, j):
            continue
        side = kept.sides[(other.thing, j)]
        own = called[making][1] < 0 and making.role in _SEWN_FOR_ALL
        (heavy if own else light)[first] = None if side == "open" else int(side == "left") ^ flip
    for b, slot in enumerate(slots, len(seams)):
        other = kept.makings.get(called[slot.parent])
        what = kept.makings.get(called[slot.what])
        if other is not None and slot.part < len(other.parts) and other.parts[slot.part].what is what:
            light[b] = int((other.thing, slot.part) in kept.reversed_places)
    price = 2 * len(light) + 1
    return {n: Wanted(bit, price, True) for n, bit in heavy.items()} | {n: Wanted(bit, 1) for n, bit in light.items()}


def _alike(other: Making, making: Making, j: int) -> bool:
    """Whether a seam is the same one in another tree: between the same parts."""
    if j >= len(other.seams):
        return False
    a, b = other.seams[j], making.seams[j]
    return (a.left, a.right) == (b.left, b.right)


__all__ = ["Kept", "Standing", "Wanted", "names", "wanted"]
