"""How many of each unit a quilt needs, and how many its method makes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

import msgspec

from patternkit.lengths import Length, ceil_fraction
from patternkit.piecing.keys import AnyKey
from patternkit.piecing.making import Making, PieceCut, made_from
from patternkit.piecing.prints import PrintShare
from patternkit.piecing.reflect import beside
from patternkit.piecing.strip_cuts import Widths

if TYPE_CHECKING:
    from patternkit.plan.shared import Shared


NONE: Mapping[Making, tuple[PrintShare, ...]] = {}


class Count(msgspec.Struct, frozen=True):
    """One making in the quilt: how many are needed, how many one batch gives, batches, and how many are left over.

    For a strip unit a batch is one strip unit across the usable width, and its yield the segments it gives. Where half
    strips are enough for the last batch, `half` is what that one gives; 0 when every batch is from whole strips.

    Strip units that are made together with those of other units are `shared`; all of them are batches of the first of
    these units, and the others have none of their own.

    Of a unit that is sewn of single prints each batch is of the same ones: `shares` says how many are needed of which.

    Where half of what a batch gives are mirror images that the quilt needs too, both come from the batches of the unit
    that is met first. The other one is its `image_of`, and has none of its own; `given` says how many come out. In the
    same way pieces of one unit that is cut apart are `cut_with` that of them which is met first, and half-squares of
    waste come from the unit that they are the `waste_of`.
    """

    making: Making
    needed: int
    yields: int
    batches: int
    half: int = 0
    shared: Shared | None = None
    image_of: Making | None = None
    given: int = 0
    shares: tuple[PrintShare, ...] = ()
    cut_with: Making | None = None
    waste_of: Making | None = None

    @property
    def made_with(self) -> Making | None:
        """The unit from whose batches it comes, where it has none of its own."""
        return self.image_of or self.cut_with or self.waste_of

    @property
    def whole(self) -> int:
        """How many batches are cut in full: all of them, or all but the one from half strips."""
        return self.batches - 1 if self.half else self.batches

    def cut(self, cut: PieceCut) -> int:
        """How many of one of the recipe's cuts are cut: those of all full batches, or only what is needed of pieces
        that are sewn one by one."""
        if self.making.recipe.one_by_one and self.yields > 1:
            needs = [share.needed for share in self.shares] or [self.needed]
            return sum(ceil_fraction(Fraction(cut.count * n, self.yields)) for n in needs)
        return cut.count * self.whole

    def cut_of(self, cut: PieceCut, share: PrintShare) -> int:
        """The same for those that are needed of some prints."""
        return msgspec.structs.replace(
            self, needed=share.needed, batches=self.batches_of(share), shares=(), half=0
        ).cut(cut)

    def cut_by_print(self, cut: PieceCut) -> tuple[tuple[int, int], ...]:
        """How many are cut of which print of a group, where each copy of a unit has one of its own."""
        return self.shares_of(cut.fabric, {share: self.cut_of(cut, share) for share in self.shares})

    def shares_of(self, fabric: str, counts: Mapping[PrintShare, int]) -> tuple[tuple[int, int], ...]:
        """What is counted for each share, by the number of the print that stands for a fabric in it."""
        found: dict[int, int] = {}
        for share, n in counts.items():
            number = dict(share.prints).get(fabric)
            if number is not None:
                found[number] = found.get(number, 0) + n
        return tuple(sorted(found.items()))

    def batches_of(self, share: PrintShare) -> int:
        """How many batches are sewn of some prints."""
        own = ceil_fraction(Fraction(share.needed, self.yields)) if self.yields else 0
        if not share.mirrored:
            return own
        return max(own, ceil_fraction(Fraction(share.mirrored, self.making.recipe.mirrored)))

    @property
    def taken(self) -> Length | None:
        """What segments, or shapes a pitch apart, take of the longest strip unit of whole strips: as many as it has
        room for, or as many as are cut of any, where strip units are shared or of single prints, of each of which few
        may be needed. None where strip units are as long as their cloth is wide."""
        recipe = self.making.recipe
        if not self.yields or recipe.segment is None or not recipe.method.in_strips:
            return None
        if self.shared is not None and not self.shares:
            return self.shared.taken
        most = max((-(-share.needed // self.batches_of(share)) for share in self.shares), default=self.yields)
        return recipe.segment + (recipe.pitch or recipe.segment) * (most - 1)

    @property
    def made(self) -> int:
        """How many come out. Of shared strip units no more segments are cut than are needed; what is sewn one by one is
        sewn as often as it is needed."""
        if self.shared is not None or self.making.recipe.one_by_one:
            return self.needed
        if self.made_with is not None:
            return self.given
        return self.whole * self.yields + self.half

    @property
    def spare(self) -> int:
        """How many are left over."""
        return self.made - self.needed


def sewing_order(roots: Sequence[Making]) -> list[Making]:
    """Every making under the roots, each after those it is made from, in the order in which they are met; what is sewn
    of the waste of a unit after that."""
    order = _order(roots, {})
    if not any(m.recipe.waste for m in order):
        return order
    sources: dict[AnyKey, list[Making]] = {}
    for m in order:
        sources.setdefault(m.key.plain, []).append(m)
    return _order(roots, sources)


def _order(roots: Sequence[Making], sources: Mapping[AnyKey, Sequence[Making]]) -> list[Making]:
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
            before = made_from(making)
            if making.recipe.waste is not None:
                before = [*before, *sources.get(making.recipe.waste.key, ())]
            stack.extend((c, False) for c in reversed(before) if id(c) not in done)
    return list(done.values())


def segments_from(making: Making, room: Length) -> int:
    """Segments from what squaring up leaves of a strip unit, or shapes, or slanted segments, that begin a pitch
    apart."""
    each, pitch = making.recipe.segment, making.recipe.pitch
    if each is None or each > room:
        return 0
    return int(((room - each) / (pitch or each)).floor_to(Fraction(1))) + 1


class _Yields:
    """What strip units of one pattern give, each width of segments worked out once."""

    def __init__(self, widths: Widths) -> None:
        self._widths = widths
        self._known: dict[tuple[Length | None, ...], tuple[int, int]] = {}

    def of(self, making: Making, needed: int) -> tuple[int, int]:
        """Units from one batch, and from a batch of half strips where those are enough for the last one; 0 where they
        are not, or where the unit is not cut from strips."""
        each = making.recipe.segment
        if each is None:
            return making.recipe.yields, 0
        long, short = (self._widths.room(making.recipe.cuts, half) for half in (False, True))
        key = each, long, short, making.recipe.pitch
        known = self._known.get(key)
        if known is None:
            known = segments_from(making, long), segments_from(making, short)
            self._known[key] = known
        whole, half = known
        return whole, half if whole and 0 < needed % whole <= half else 0


def counts(
    roots: Sequence[tuple[Making, int]], widths: Widths, shares: Mapping[Making, tuple[PrintShare, ...]] = NONE
) -> list[Count]:
    """Counts of every making, in sewing order; each root is needed as often as it says. `shares` says of those that are
    sewn of single prints how many are needed of which."""
    order = sewing_order([r for r, _ in roots])
    needed: dict[int, int] = {id(m): 0 for m in order}
    for root, n in roots:
        needed[id(root)] += n
    most: dict[object, int] = {}  # of units that are cut apart as many as the piece needs that is used most
    for making in reversed(order):
        more = needed[id(making)]
        if making.recipe.apart is not None:
            from patternkit.piecing.apart import cutting_of  # only a unit that is cut apart needs it

            cutting = cutting_of(making)
            more = max(0, more - most.get(cutting, 0))
            most[cutting] = most.get(cutting, 0) + more
        for inner in made_from(making):
            needed[id(inner)] += more
    found, yielding = [], _Yields(widths)
    for making in order:
        n = needed[id(making)]
        yields, half = yielding.of(making, n)
        batches = ceil_fraction(Fraction(n, yields)) if yields else 0
        own = shares.get(making, ())
        if own:
            half, batches = 0, sum(ceil_fraction(Fraction(s.needed, yields)) for s in own) if yields else 0
        found.append(Count(making, n, yields, batches, half, shares=own))
    _with_images(found)
    if most:
        _cut_at_once(found, most)
    if any(c.making.recipe.waste for c in found):
        _with_waste(found)
    return found


def _with_waste(found: list[Count]) -> None:
    """Sew half-squares of waste in the batches of the unit whose waste it is; the first unit of it takes all."""
    taken: set[AnyKey] = set()
    for n, count in enumerate(found):
        waste = count.making.recipe.waste
        sources = [] if waste is None else [c for c in found if c.making.key.plain == waste.key]
        if waste is not None and sources:
            given = 0 if waste.key in taken else sum(c.made for c in sources) * waste.each
            taken.add(waste.key)
            found[n] = msgspec.structs.replace(count, batches=0, waste_of=sources[0].making, given=given)


def _of_both(count: Count, image: Count) -> Count:
    """A unit of single prints with how many of its mirror images are needed of each."""
    needed = {s.prints: s.needed for s in count.shares}
    mirrored = {s.prints: s.needed for s in image.shares}
    both = [PrintShare(p, needed.get(p, 0), mirrored.get(p, 0)) for p in sorted({*needed, *mirrored})]
    return msgspec.structs.replace(count, shares=tuple(both))


def _cut_at_once(found: list[Count], most: Mapping[object, int]) -> None:
    """Cut all pieces of a unit that is cut apart in the batches of the first of them."""
    from patternkit.piecing.apart import cutting_of

    first: dict[object, Making] = {}
    for n, count in enumerate(found):
        if count.making.recipe.apart is None:
            continue
        cutting = cutting_of(count.making)
        making = first.setdefault(cutting, count.making)
        batches = most[cutting]
        if making is count.making:
            found[n] = msgspec.structs.replace(count, batches=batches)
        else:
            found[n] = msgspec.structs.replace(count, batches=0, cut_with=making, given=batches)


def _with_images(found: list[Count]) -> None:
    """Make units and their mirror images from the same batches where a batch gives both."""
    at = {c.making: n for n, c in enumerate(found)}
    by_thing = {m.thing: m for m in at}
    for making, n in at.items():
        image = beside(making, by_thing)
        if image is None or found[n].image_of is not None:
            continue
        other, mirrored = found[at[image]], making.recipe.mirrored
        batches = max(found[n].batches, ceil_fraction(Fraction(other.needed, mirrored)))
        if found[n].shares or other.shares:
            found[n] = _of_both(found[n], other)
            batches = sum(found[n].batches_of(s) for s in found[n].shares)
        given = batches * mirrored
        found[n] = msgspec.structs.replace(found[n], batches=batches)
        found[at[image]] = msgspec.structs.replace(other, batches=0, image_of=making, given=given)
