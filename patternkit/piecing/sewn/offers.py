"""Sizes near those of a pattern at which every piece lies on the ruler: each is tried before it is offered."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from copy import copy
from fractions import Fraction

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Component, Pattern, Unit
from patternkit.piecing.leaves import Leaf
from patternkit.piecing.sewn.ground import SIDES, Ground, inner_units
from patternkit.piecing.sewn.model import Rounded
from patternkit.piecing.sewn.rounding import sew_sizes
from patternkit.piecing.sizing import Sizing
from patternkit.piecing.solving import solve
from patternkit.piecing.unknowns import of_unit
from patternkit.problems import Repair
from patternkit.sizes import Affine, Solution, System
from patternkit.sizes.equations import Equation
from patternkit.source import Span
from patternkit.units import number, show

MOST_STEPS = 24  # lines of the ruler that are tried on either side of a size
MOST_NUMBERS = 6  # numbers of a pattern that are tried
FINER = {False: (2, 4, 8), True: (2, 5, 10)}  # by what the ruler is divided, in inches and in metric units
FINEST = {False: Fraction(1, 32), True: Fraction(10, 254) / 2}


class Offers:
    """What is offered for the units of one pattern. What is tried for one of them is not tried again for the next."""

    def __init__(self, ground: Ground) -> None:
        self._ground = ground
        self._numbers = _numbers(ground)
        self._finer: dict[bool, list[Repair]] = {}

    def of(self, owner: str, rounded: Sequence[Rounded], exactly: bool = True) -> tuple[Repair, ...]:
        """The nearest sizes on either side, for the numbers on which the size of `owner` rests, at which everything
        that it is made of lies on the ruler and nothing else leaves it; then a finer ruler that has all of it, or
        (without `exactly`) to which all of it can be rounded."""
        leaves = _leaves(self._ground, owner) or [Leaf(r.var) for r in rounded if r.owner == owner]
        if not leaves:
            return ()
        if exactly not in self._finer:
            self._finer[exactly] = _finer(self._ground, exactly)
        bearing = [typed for typed in self._numbers if typed.bears_on(leaves)]
        found = [repair for typed in bearing[:MOST_NUMBERS] for repair in typed.nearest(leaves)]
        return (*found, *self._finer[exactly])

    def on_lines(self, span: Span) -> list[Repair] | None:
        """The nearest lines of the ruler for a raw size that is typed at `span`, where all sizes agree with it; None
        where no size of the pattern rests on it."""
        typed = next((t for t in self._numbers if t.span == span), None)
        return None if typed is None else typed.nearest([])


def _leaves(ground: Ground, owner: str) -> list[Leaf]:
    """The leaves of a unit and of all that it is made of."""
    units, waiting = {u.key: u for u in ground.order}, [owner]
    seen: dict[str, None] = {}
    while waiting:
        key = waiting.pop()
        if key not in seen and key in units:
            seen[key] = None
            waiting += inner_units(units[key])
    return [leaf for key in seen for leaf in ground.leaves(units[key])]


def as_resulting(ground: Ground) -> tuple[Repair, ...]:
    """The sizes that come out, in place of those that were said of the quilt; none where that does not settle it."""
    found: list[Repair] = []
    here = ground
    for _ in SIDES:
        trouble = sew_sizes(here.pattern, here.sizing, here.solution).trouble
        if trouble is None or trouble.forbids is None or trouble.reason != "stated":
            return () if trouble is not None else tuple(found)
        claim, cause = trouble.forbids, trouble.forbids.cause
        if cause.number is None or cause.typed is None or not cause.typed.is_constant or not claim.right.is_constant:
            return ()
        typed = _Typed(here, cause.number, cause.typed.const)
        typed.text = cause.text
        value = trouble.raw + cause.typed.const - claim.right.const
        equations = list(here.sizing.system.equations)
        for n, e in enumerate(equations):
            if e.cause.number == cause.number or (cause.key is not None and e.cause.key == cause.key):
                move = (value - cause.typed.const) / e.cause.per
                equations[n] = msgspec.structs.replace(e, right=e.right + Affine(move))
        found.append(typed.repair(value))
        here = _with_equations(here, equations)
    return () if sew_sizes(here.pattern, here.sizing, here.solution).trouble is not None else tuple(found)


def without(pattern: Pattern, places: Collection[Span]) -> bool:
    """Whether all units have their sizes, and can be rounded to the ruler, without the cuts stated at some places."""
    units = {key: _unsaid(unit, places) for key, unit in pattern.units.items()}
    sizing = Sizing(msgspec.structs.replace(pattern, units=units))
    solution = solve(sizing)
    if solution.conflicts or solution.disagrees_at(pattern.parameters):
        return False
    if any(solution.value(of_unit(key, side)) is None for key in units for side in SIDES):
        return False
    return sew_sizes(sizing.pattern, sizing, solution).trouble is None


def _unsaid(unit: Unit, places: Collection[Span]) -> Unit:
    """A unit of which some cuts are not stated."""

    def bare(piece: Component) -> Component:
        stated = piece.cut and piece.span in places
        return msgspec.structs.replace(piece, width=None, height=None, cut=False) if stated else piece

    rows = tuple(msgspec.structs.replace(row, pieces=tuple(map(bare, row.pieces))) for row in unit.rows)
    claims = tuple(c for c in unit.claims if c.word != "cut" or c.span not in places)
    named = {place: bare(piece) for place, piece in unit.named.items()}
    return msgspec.structs.replace(unit, rows=rows, claims=claims, named=named)


def _with_equations(ground: Ground, equations: list[Equation]) -> Ground:
    """The same pattern with other equations, as many and in the same order."""
    sizing = copy(ground.sizing)
    sizing.system = System()
    sizing.system.equations = equations
    return Ground(ground.pattern, sizing, ground.solution)


class _Typed:
    """A number in the text and what it moves: equations, or a `let` by its name."""

    def __init__(self, ground: Ground, span: Span, now: Length) -> None:
        self.ground, self.span, self.now = ground, span, now
        self.equations: list[int] = []
        self.name, self.text = "", ""
        self.unit = ground.pattern.settings.units.inches
        self._tried: dict[Length, Ground | None] = {}
        self._lost: dict[Length, bool] = {}

    def sizes_at(self, value: Length) -> Solution | None:
        """The solution with the number changed to `value` inches."""
        solution, equations = self.ground.solution, list(self.ground.solution.equations)
        for n in self.equations:
            e = equations[n]
            move = (value - self.now) / e.cause.per
            equations[n] = msgspec.structs.replace(e, right=e.right + Affine(move))
        return solution.with_numbers(equations)

    def at(self, value: Length) -> Ground | None:
        """Everything with the number changed; None where sizes do not agree any more."""
        if value not in self._tried:
            self._tried[value] = self._at(value)
        return self._tried[value]

    def _at(self, value: Length) -> Ground | None:
        pattern, solution = self.ground.pattern, self.ground.solution
        if self.name:
            env = {**pattern.parameters, self.name: value / self.unit}
            pattern = msgspec.structs.replace(pattern, parameters=env)
        else:
            changed = self.sizes_at(value)
            if changed is None:
                return None
            changed.before = None
            solution = changed
        return None if solution.disagrees_at(pattern.parameters) else self.ground.with_numbers(pattern, solution)

    def bears_on(self, leaves: Sequence[Leaf]) -> bool:
        """Whether the number moves a leaf that is off the ruler."""
        step = Length(self.ground.grid)
        there = self.at(self.now + step)
        return there is not None and any(
            there.design(leaf.var) != here
            for leaf in leaves
            if (here := self.ground.design(leaf.var)) is not None and not self.ground.fits(leaf, here)
        )

    def nearest(self, leaves: Sequence[Leaf]) -> list[Repair]:
        """The nearest values below and above at which all is well."""
        found = []
        for sign in (-1, 1):
            start = self.now.floor_to(self.ground.grid) if sign < 0 else self.now.ceil_to(self.ground.grid)
            for k in range(MOST_STEPS):
                value = Length(start + self.ground.grid * k * sign)
                if value > ZERO and value != self.now and self._well(value, leaves):
                    found.append(self.repair(value))
                    break
        return found

    def _well(self, value: Length, leaves: Sequence[Leaf]) -> bool:
        there = self.at(value)
        if there is None:
            return False
        if not all((x := there.design(leaf.var)) is not None and x > ZERO and there.fits(leaf, x) for leaf in leaves):
            return False
        if value not in self._lost:
            self._lost[value] = self._loses(there)
        return not self._lost[value]

    def _loses(self, there: Ground) -> bool:
        """Whether a leaf leaves the ruler that was on it."""
        return any(
            (x := there.design(leaf.var)) is not None and not there.fits(leaf, x) and self._fitted(leaf)
            for unit in there.order
            for leaf in there.leaves(unit)
        )

    def _fitted(self, leaf: Leaf) -> bool:
        here = self.ground.design(leaf.var)
        return here is None or self.ground.fits(leaf, here)

    def repair(self, value: Length) -> Repair:
        units = self.ground.pattern.settings.units
        new, old = show(value, units), show(self.now, units)
        return Repair(f"{self.name or self.text}: write {new} instead of {old}", self.span, number(value, units))


def _numbers(ground: Ground) -> list[_Typed]:
    """The numbers of the text that say how large something is."""
    found: dict[object, _Typed] = {}
    for n, e in enumerate(ground.solution.equations):
        if _plain(e) and e.cause.number is not None and e.cause.typed is not None:
            key = e.cause.key if e.cause.key is not None else e.cause.number
            typed = found.setdefault(key, _Typed(ground, e.cause.number, e.cause.typed.const))
            typed.equations.append(n)
            typed.text = typed.text or e.cause.text
    for name, value in ground.pattern.parameters.items():
        if name in ground.pattern.numbers:
            span, inches = ground.pattern.numbers[name], ground.pattern.settings.units.inches
            found[name] = _Typed(ground, span, value * inches)
            found[name].name = name
    return list(found.values())


def _plain(e: Equation) -> bool:
    return e.cause.stated and e.right.is_constant and e.cause.typed is not None and e.cause.typed.is_constant


def _finer(ground: Ground, exactly: bool) -> list[Repair]:
    """A finer ruler on which every piece lies."""
    settings = ground.pattern.settings
    metric = settings.units.decimals
    for part in FINER[metric]:
        grid = settings.ruler / part
        if grid < FINEST[metric]:
            break
        pattern = msgspec.structs.replace(ground.pattern, settings=msgspec.structs.replace(settings, ruler=grid))
        sewn = sew_sizes(pattern, ground.sizing, ground.solution)
        if sewn.trouble is None and not (exactly and sewn.rounded):
            return [Repair(f"write ruler {show(Length(grid), settings.units)} under pattern")]
    return []
