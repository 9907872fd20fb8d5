"""Choices of counts, block size and border widths that bring a quilt to a wanted size."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import combinations, product
from math import prod
from typing import Literal

import msgspec

from patternkit.lengths import ZERO, Length

Choices = Mapping[str, Length]
Size = tuple[Length, Length]  # width, height, finished, in inches
Measurer = Callable[[Choices], "Size | None"]

_MOST_MEASURED = 6000
_KEPT = 12
_NEAR = {True: Fraction(1, 20), False: Fraction(1, 10)}
"""By what share of the wanted width or height a choice may miss it: where another meets it exactly, and where none
does. Who asks for 60 in has no use for 54 (chosen here, no source)."""


class FitChoice(msgspec.Struct, frozen=True):
    """Something that may be chosen: a count or a length (inches), with the values it may take.

    `axis` tells whether it bears on the width alone (blocks across), the height alone (blocks down) or both; it only
    makes the search quicker. `text` is what to call it; `weight` how unwelcome a change of it is.
    """

    name: str
    values: tuple[Length, ...]
    axis: Literal["width", "height", "both"] = "both"
    text: str = ""
    weight: int = 1


class Fit(msgspec.Struct, frozen=True):
    """One set of choices: the size it gives, how far that is from the target, and what differs from now.

    `over` is width and height minus the target; `miss` the sum of both without their signs.
    """

    choices: Choices
    width: Length
    height: Length
    over: Size
    miss: Length
    changed: tuple[str, ...]
    effort: Fraction


class Fits(msgspec.Struct, frozen=True):
    """The best choices first; `complete` is False when there were too many to try them all."""

    ranked: tuple[Fit, ...]
    complete: bool
    tried: int


def steps(low: int | Fraction, high: int | Fraction, step: int | Fraction = 1) -> tuple[Length, ...]:
    """Evenly spaced values from `low` to `high`, both included where the step meets it."""
    found, value = [], Fraction(low)
    while value <= high:
        found.append(Length(value))
        value += step
    return tuple(found)


def fit(
    target: Size,
    current: Choices,
    options: Sequence[FitChoice],
    size: Measurer,
    *,
    budget: int = _MOST_MEASURED,
    keep: int = _KEPT,
) -> Fits:
    """The choices whose finished size comes closest to `target`, those that change least first among equals.

    `size` gives the finished width and height for a set of choices (a value for each option), or None where it can't be
    made; it is asked `budget` times at most. Options that bear on one axis only are not tried one by one: the size is
    measured at two of their values and the values about where the straight line through them meets the target are tried
    (exact, since sizes are linear in counts and in lengths taken singly). Otherwise, sets that change little come
    first, so that what the budget leaves out is what changes most.
    """
    search = _Search(target, current, options, size, budget)
    for base in search.bases():
        if not search.left:
            break
        search.refine(base)
    ranked = sorted(search.found.values(), key=lambda f: (f.miss, f.effort, f.changed))
    return Fits(tuple(_front(ranked, keep)), search.left > 0, budget - search.left)


def near(found: Sequence[Fit], target: Size) -> list[Fit]:
    """Those that come near the size wanted on both sides: nearer where one of them meets it exactly."""
    share = _NEAR[any(not f.miss for f in found)]
    return [f for f in found if all(abs(o) <= t * Length(share) for o, t in zip(f.over, target, strict=True))]


def _front(ranked: list[Fit], keep: int) -> Iterator[Fit]:
    """The closest, without those that come no closer than another that changes a part of the same things.

    At most two stay that change just the same things, so that there is something to choose from.
    """
    kept: list[Fit] = []
    for f in ranked:
        if any(set(k.changed) <= set(f.changed) and k.miss <= f.miss and k.effort <= f.effort for k in kept):
            continue
        if sum(k.changed == f.changed for k in kept) >= 2:
            continue
        kept.append(f)
        yield f
        if len(kept) == keep:
            return


class _Search:
    def __init__(
        self, target: Size, current: Choices, options: Sequence[FitChoice], size: Measurer, budget: int
    ) -> None:
        self.target = target
        self.current = dict(current)
        self.options = [o for o in options if o.values]
        self.size = size
        self.left = budget
        self.sizes: dict[tuple[Length, ...], Size | None] = {}
        self.found: dict[tuple[Length, ...], Fit] = {}
        one_axis: dict[str, FitChoice] = {}
        for o in self.options:
            if o.axis != "both" and len(o.values) > len(one_axis.get(o.axis, FitChoice("", ())).values):
                one_axis[o.axis] = o
        self.lines = list(one_axis.values())
        self.others = [o for o in self.options if o not in self.lines]

    def bases(self) -> Iterator[dict[str, Length]]:
        """Choices of the options that are tried one by one, with few changes first and small ones first."""
        yield dict(self.current)
        for count in range(1, len(self.others) + 1):
            groups = list(combinations(self.others, count))
            groups.sort(key=lambda g: (sum(o.weight for o in g), prod(len(o.values) for o in g)))
            for group in groups:
                for values in product(*(self._others_near(o) for o in group)):
                    yield {**self.current, **{o.name: v for o, v in zip(group, values, strict=True)}}

    def _others_near(self, option: FitChoice) -> list[Length]:
        now = self.current[option.name]
        return sorted((v for v in option.values if v != now), key=lambda v: abs(v - now))

    def measure(self, choices: Mapping[str, Length]) -> Size | None:
        """The size of these choices, remembered; None where it can't be made or the budget is spent."""
        key = tuple(choices[n] for n in sorted(choices))
        if key not in self.sizes:
            if self.left <= 0:
                return None
            self.left -= 1
            self.sizes[key] = self.size(choices)
            self._keep(key, choices, self.sizes[key])
        return self.sizes[key]

    def _keep(self, key: tuple[Length, ...], choices: Mapping[str, Length], size: Size | None) -> None:
        if size is None or size[0] <= ZERO or size[1] <= ZERO:
            return
        over = size[0] - self.target[0], size[1] - self.target[1]
        changed = tuple(o.name for o in self.options if choices[o.name] != self.current[o.name])
        effort = sum((_effort(o, self.current[o.name], choices[o.name]) for o in self.options), Fraction(0))
        miss = abs(over[0]) + abs(over[1])
        self.found[key] = Fit(dict(choices), size[0], size[1], over, miss, changed, effort)

    def refine(self, base: dict[str, Length]) -> None:
        """Measure a base, then bring width and height near the target by the options of one axis."""
        self.measure(base)
        fitting: list[dict[str, Length]] = [base]
        for option in self.lines:
            axis = 0 if option.axis == "width" else 1
            values = self._near(base, option, axis)
            fitting = [{**f, option.name: v} for f in fitting for v in (f[option.name], *values)]
        for choices in fitting:
            self.measure(choices)

    def _near(self, base: dict[str, Length], option: FitChoice, axis: int) -> list[Length]:
        """The values of an option on both sides of the one that would meet the target on its axis."""
        values = sorted(option.values)
        a, b = values[0], values[-1]
        at_a, at_b = self.measure({**base, option.name: a}), self.measure({**base, option.name: b})
        if at_a is None or at_b is None or at_a[axis] == at_b[axis]:
            return []
        wanted = a + (self.target[axis] - at_a[axis]) * (b - a) / (at_b[axis] - at_a[axis])
        below = [v for v in values if v <= wanted]
        above = values[len(below) :]
        return below[-1:] + above[:1]


def _effort(option: FitChoice, now: Length, then: Length) -> Fraction:
    """How much a choice changes: one for changing it at all, and two for each time that it grows or shrinks by its own
    size: a border four times as wide is another design, one block more is not."""
    if now == then:
        return Fraction(0)
    small, large = sorted((now, then))
    share = (large - small) / small if small > ZERO else Length(1)
    return option.weight * (1 + 2 * share.round_to(Fraction(1, 100)))
