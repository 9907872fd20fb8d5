"""Does a pattern with named lengths add up for every value of them, and which values suit the ruler?"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import islice
from typing import Union

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.sizes.affine import Affine
from patternkit.sizes.progressions import EVERY, NEVER, Progression, landing
from patternkit.sizes.solution import Contradiction, Solution
from patternkit.units import IMPERIAL, Units, mixed, number

BoundaryTerm = tuple[str, Affine]

_MOST_LISTED = 200
_MOST_TRIED = 2000


# -- does it add up? ------------------------------------------------------------------------------------
class Verdict(msgspec.Struct, frozen=True):
    """For which values of its parameters a pattern adds up.

    `always`: for all. `never`: for none; then `against` are the conflicts that exclude it. Otherwise `fixed` gives the
    parameters that must have one value, and each of `relations` must be zero.
    """

    parameters: tuple[str, ...]
    always: bool
    never: bool
    fixed: Mapping[str, Length]
    relations: tuple[Affine, ...]
    against: tuple[Contradiction, ...]
    text: str


def verdict(solution: Solution, parameters: Sequence[str], units: Units = IMPERIAL) -> Verdict:
    """What the conditions of a solution come to, taken together."""
    names = tuple(parameters)
    plain = tuple(solution.contradictions)
    if plain:
        return Verdict(names, False, True, {}, (), plain, _never_text(names, plain, units))
    conditions = tuple(solution.conditions)
    if not conditions:
        each = " and ".join(f"every {n}" for n in names)
        return Verdict(names, True, False, {}, (), (), f"adds up for {each}" if each else "adds up")
    solved = _common([c.gap for c in conditions])
    if solved is None:
        return Verdict(names, False, True, {}, (), conditions, _never_text(names, conditions, units))
    fixed = {n: v.const for n, v in solved.items() if v.is_constant}
    if any(v <= ZERO for v in fixed.values()):
        return Verdict(names, False, True, fixed, (), conditions, _never_text(names, conditions, units))
    relations = tuple(Affine.parameter(n) - v for n, v in solved.items() if not v.is_constant)
    words = [f"{n} is {number(v, units)}" for n, v in fixed.items()]
    words += [_relation_text(r, units) for r in relations]
    return Verdict(names, False, False, fixed, relations, (), "only when " + " and ".join(words))


def _common(gaps: Iterable[Affine]) -> dict[str, Affine] | None:
    """The parameters that the conditions settle, each by the others; None when they exclude one another."""
    solved: dict[str, Affine] = {}
    for gap in gaps:
        rest = _put_in(gap, solved)
        if rest.is_constant:
            if rest:
                return None
            continue
        name = next(iter(rest.coefs))
        value = Affine.parameter(name) - rest / rest.coefs[name]
        solved = {n: _put_in(v, {name: value}) for n, v in solved.items()}
        solved[name] = value
    return solved


def _put_in(value: Affine, known: Mapping[str, Affine]) -> Affine:
    total = Affine(value.const)
    for name, c in value.coefs.items():
        total = total + known.get(name, Affine.parameter(name)) * c
    return total


def _relation_text(relation: Affine, units: Units) -> str:
    """``side + 2*edge is 12``"""
    left = Affine(ZERO, relation.coefs)
    return f"{left.text()} is {number(-relation.const, units)}"


def _never_text(names: tuple[str, ...], against: Sequence[Contradiction], units: Units) -> str:
    head = f"adds up for no {' and '.join(names)}" if names else "does not add up"
    asked = []
    for conflict in against:
        if len(conflict.gap.coefs) == 1:
            ((name, c),) = conflict.gap.coefs.items()
            asked.append(f"{name} {number(-conflict.gap.const / c, units)}")
    asked = list(dict.fromkeys(asked))
    if not asked:
        return head
    return f"{head}: its statements ask for " + " and for ".join(asked)


def positive_range(
    sizes: Iterable[Affine], name: str, env: Mapping[str, Length] | None = None
) -> tuple[Length | None, Length | None]:
    """Between which values of a parameter all sizes are above zero (both ends excluded; None: no limit there).

    A size that is never above zero gives an empty range, its upper end at or below its lower one.
    """
    others = {k: v for k, v in (env or {}).items() if k != name}
    low: Length | None = None
    high: Length | None = None
    for size in sizes:
        here = size.at(others)
        c = here.coefs.get(name)
        if len(here.coefs) > (c is not None):
            continue  # another parameter is open: nothing can be said
        if c is None:
            if here.const <= ZERO:
                return ZERO, ZERO
            continue
        bound = -here.const / c
        if c > ZERO:
            low = bound if low is None or bound > low else low
        else:
            high = bound if high is None or bound < high else high
    return low, high


# -- does it suit the ruler? ----------------------------------------------------------------------------
class Off(msgspec.Struct, frozen=True):
    """A piece that is not on the ruler's grid: its exact size, and the size to cut, rounded up (inches)."""

    label: str
    exact: Length
    cut: Fraction


class Near(msgspec.Struct, frozen=True):
    """A value of the parameter at which only some pieces have to be rounded."""

    value: Fraction
    off: tuple[Off, ...]


class Ruler(msgspec.Struct, frozen=True):
    """For which values of a parameter every cut lands on the ruler's grid.

    `values`: for the pieces that can land at all; None when no value suits them all. `every` is True when any value
    will do. `listed` are the values in the range asked for (`more` when there are further ones). `rounded` are pieces
    with a square root in their size, which are rounded at any value (but for the single values in `exact`, where they
    land too); `fixed` are pieces off the grid that do not depend on the parameter. `clash` names two pieces that never
    land together, if there are such. `near` are the next best values, `off` the pieces that are off at the value the
    pattern has now.
    """

    name: str
    grid: Fraction
    values: Progression | None
    every: bool
    listed: tuple[Fraction, ...]
    more: bool
    exact: tuple[Fraction, ...]
    rounded: tuple[str, ...]
    fixed: tuple[str, ...]
    clash: tuple[str, str] | None
    near: tuple[Near, ...]
    off: tuple[Off, ...]
    text: str


def off_grid(pieces: Iterable[BoundaryTerm], env: Mapping[str, Length], grid: Fraction) -> tuple[Off, ...]:
    """The pieces that are not on the grid when the parameters have these values."""
    found = []
    for label, size in pieces:
        exact = size.value(env)
        if not exact.on_grid(grid):
            found.append(Off(label, exact, exact.ceil_to(grid)))
    return tuple(found)


def ruler(
    pieces: Sequence[BoundaryTerm],
    name: str,
    env: Mapping[str, Length],
    *,
    grid: Fraction = Fraction(1, 8),
    low: Fraction = Fraction(1, 8),
    high: Fraction = Fraction(40),
    keep: int = 6,
    inches: Fraction = Fraction(1),
    show: Callable[[Fraction], str] = mixed,
) -> Ruler:
    """For which values of `name` from `low` to `high` (inches) every piece's cut size is on the grid.

    The other parameters stay as `env` has them. `show` prints a value, which is first divided by `inches`.
    """
    others = {k: v for k, v in env.items() if k != name}
    here = [(label, size.at(others)) for label, size in pieces]
    values, clash, rounded, fixed, spots = _meet(here, name, grid)
    every = values is None and clash is None
    least, most = positive_range((size for _, size in here), name)
    low = max(low, least.floor_to(grid)) if least is not None else low
    high = min(high, most.ceil_to(grid)) if most is not None else high

    def suits(value: Fraction) -> bool:
        """Every piece is still there."""
        return low <= value <= high and (least is None or value > least) and (most is None or value < most)

    within = (v for v in values.between(low, high) if suits(v)) if values is not None else iter(())
    listed = list(islice(within, _MOST_LISTED + 1))
    exact = tuple(v for v in spots if suits(v) and not off_grid(here, {name: Length(v)}, grid))
    tried = (v for v in _tried(grid, low, high) if suits(v) and (values is None or v not in values))
    near = () if every else _near(here, name, grid, tried, keep, env.get(name))
    off = off_grid(here, {name: env[name]}, grid) if name in env else ()
    found = Ruler(
        name,
        grid,
        values,
        every,
        tuple(listed[:_MOST_LISTED]),
        len(listed) > _MOST_LISTED,
        exact,
        rounded,
        fixed,
        clash,
        near,
        off,
        "",
    )
    return msgspec.structs.replace(found, text=_ruler_text(found, lambda x: show(x / inches)))


_Meeting = tuple[
    Union[Progression, None], Union[tuple[str, str], None], tuple[str, ...], tuple[str, ...], list[Fraction]
]


def _meet(pieces: Sequence[BoundaryTerm], name: str, grid: Fraction) -> _Meeting:
    """Where all pieces land that can: the progression, two that clash, rounded, fixed ones, single spots."""
    values: Progression | None = None
    seen: dict[Progression, str] = {}
    clash: tuple[str, str] | None = None
    rounded: list[str] = []
    fixed: list[str] = []
    spots: list[Fraction] = []
    for label, size in pieces:
        lands = landing(size, name, grid)
        if not size.const.is_fraction or any(not c.is_fraction for c in size.coefs.values()):
            rounded.append(label)
            if isinstance(lands, Progression):
                spots.append(lands.first)
        elif lands == NEVER:
            fixed.append(label)
        elif lands != EVERY and isinstance(lands, Progression) and lands not in seen:
            if clash is None:
                clash = next(((other, label) for p, other in seen.items() if p.meets(lands) is None), None)
            seen[lands] = label
            values = lands if values is None else values.meets(lands) if clash is None else None
    return (None if clash else values), clash, tuple(rounded), tuple(fixed), sorted(set(spots))


def _tried(grid: Fraction, low: Fraction, high: Fraction) -> Iterator[Fraction]:
    """Values on the grid, or on a coarser one where there would be too many."""
    step = grid
    while (high - low) / step > _MOST_TRIED:
        step *= 2
    return Progression(Fraction(0), step).between(low, high)


def _near(
    pieces: Sequence[BoundaryTerm], name: str, grid: Fraction, values: Iterator[Fraction], keep: int, now: Length | None
) -> tuple[Near, ...]:
    """Of these values those with the fewest pieces off, then least added by rounding, then nearest."""
    tried: list[tuple[int, Length, Length, Near]] = []
    for value in values:
        off = off_grid(pieces, {name: Length(value)}, grid)
        added = sum((Length(o.cut) - o.exact for o in off), ZERO)
        tried.append((len(off), added, abs(Length(value) - (now or value)), Near(value, off)))
    tried.sort(key=lambda t: t[:3])
    return tuple(t[3] for t in tried[:keep] if t[0] < max(len(pieces), 1))


def _ruler_text(found: Ruler, show: Callable[[Fraction], str]) -> str:
    grid = show(found.grid)
    if found.clash:
        a, b = found.clash
        text = f"no {found.name} puts every cut on the {grid} grid: {a} and {b} never land on it together"
    elif found.every:
        text = f"every cut is on the {grid} grid whatever {found.name} is"
    elif not found.listed:
        text = f"no {found.name} in that range puts every cut on the {grid} grid"
    else:
        some = ", ".join(show(v) for v in found.listed[:12]) + (", ..." if len(found.listed) > 12 else "")
        text = f"every cut is on the {grid} grid when {found.name} is {some}"
        if found.values is not None and found.values.step:
            text += f" (every {show(found.values.step)})"
    if found.rounded:
        text += f"; rounded at any size: {', '.join(dict.fromkeys(found.rounded))}"
    if found.fixed:
        text += f"; off the grid at any size: {', '.join(found.fixed)}"
    return text
