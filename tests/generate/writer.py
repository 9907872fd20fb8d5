"""What a pattern is written with: its choices, its numbers, its names, and the units written so far."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from fractions import Fraction
from random import Random
from typing import TypeVar

from .measures import Measures, spelled, typed

T = TypeVar("T")
WORDS = """
    wall reed gull pebble drift shoal lamp mast rope buoy fern knot hull ridge cove plank weir groyne dune tern spar
    wharf ferry tide cable anchor bell crab eel heron jetty kelp marsh net oar pier quay sluice
"""
NAMES = tuple(WORDS.split())


@dataclass(frozen=True)
class Box:
    """A finished size."""

    w: Fraction
    h: Fraction

    @property
    def square(self) -> bool:
        return self.w == self.h

    @property
    def turned(self) -> Box:
        return Box(self.h, self.w)

    @property
    def short(self) -> Fraction:
        return min(self.w, self.h)

    @property
    def long(self) -> Fraction:
        return max(self.w, self.h)


@dataclass
class Written:
    """A unit that is written: its name and lines, its size, what it takes in brackets, which units it uses."""

    name: str
    role: str
    box: Box
    lines: list[str]
    kind: str = ""
    asks: list[str] = field(default_factory=list)  # names in brackets; "" stands nowhere
    uses: Counter[str] = field(default_factory=Counter)
    press: list[str] = field(default_factory=list)
    piece: int = 0  # which piece of it is used, where it is cut apart


@dataclass
class Scope:
    """What may be named where lines are being written: fabrics and a length given in brackets, units used."""

    fabrics: list[str] = field(default_factory=list)
    basis: tuple[str, Fraction] | None = None
    strict: bool = False  # every finished size is said as a part of the basis
    uses: Counter[str] = field(default_factory=Counter)
    asked: list[str] = field(default_factory=list)


class Writer:
    """Writes one pattern. `shape` decides what is made, `numbers` the sizes: another attempt has other sizes."""

    def __init__(self, shape: Random, numbers: Random, features: frozenset[str], measures: Measures) -> None:
        self.shape, self.numbers, self.features, self.m = shape, numbers, features, measures
        self.units: list[Written] = []
        self.cloth: list[str] = []
        self.groups: list[str] = []  # groups of prints, for pieces of units and for brackets
        self.dealing = Random(f"prints {shape.getstate()[1][1]}")
        self.shapes = Random(f"shapes {shape.getstate()[1][1]}")
        self.valued = False  # whether the fabrics have their values
        self.small: list[tuple[str, Fraction]] = []  # fabrics that come in sheets, and the longest side of a piece
        self.scopes = [Scope()]
        self.depth = 3  # how many units may still lie inside each other
        self.wish: tuple[str, str] | None = None  # a kind and its method, to be made at the first place that takes it
        self.cut_piece = 0  # which piece is used of the unit that was cut apart last
        self.press = ""  # a way of pressing that is liked where it can be said
        self.names = list(NAMES)
        shape.shuffle(self.names)

    # -- choices -------------------------------------------------------------------------------------------
    def has(self, feature: str) -> bool:
        """Whether the pattern may have this."""
        return feature in self.features

    def pick(self, *choices: T) -> T:
        """One of the choices; the plainest stands first."""
        return self.shape.choice(choices)

    def chance(self, part: float, feature: str = "") -> bool:
        """True so often, where the feature is there."""
        lucky = self.shape.random() < part  # drawn in any case, so that features change as little else as can be
        return lucky and (not feature or self.has(feature))

    # -- words ---------------------------------------------------------------------------------------------
    @property
    def scope(self) -> Scope:
        return self.scopes[-1]

    def name(self) -> str:
        """A name that nothing has."""
        if not self.names:
            self.names = [f"{n}{len(self.units)}" for n in NAMES]
        return self.names.pop()

    def fabric(self, size: Fraction | None = None) -> str:
        """A fabric; one that comes in sheets only for pieces of at most `size` that its sheets take. In a unit it may
        be any print of a group."""
        if self.groups and len(self.scopes) > 1 and self.dealing.random() < 0.25:
            return self.dealing.choice(self.groups)
        if self.scope.fabrics and self.chance(0.6):
            chosen = self.shape.choice(self.scope.fabrics)
            self.scope.asked.append(chosen)
            return chosen
        fits = [name for name, room in self.small if size is not None and size <= room]
        return self.shape.choice(fits if fits and self.chance(0.5) else self.cloth)

    def fabrics(self, n: int, size: Fraction | None = None) -> list[str]:
        """So many fabrics, neighbours unlike where there are enough."""
        found: list[str] = []
        while len(found) < n:
            one = self.fabric(size)
            for _ in range(4):
                if found and one == found[-1]:
                    one = self.fabric(size)
            found.append(one)
        return found

    def num(self, value: Fraction, size: bool = True, pair: bool = False) -> str:
        """A length as text: as a part of the length in force now and then, always where it has to follow it.

        `size` is False for lengths that are no finished size, and stay as they are; `pair` is True for one of two
        that are joined by ``x``, where a unit of length would stand for both.
        """
        basis = self.scope.basis
        if basis is not None and size and (self.scope.strict or self.numbers.random() < 0.7):
            ratio = value / basis[1]
            if self.scope.strict or (ratio.numerator <= 12 and ratio.denominator <= 12):
                self.scope.asked.append(basis[0])
                over = f"/{ratio.denominator}" if ratio.denominator > 1 else ""
                return f"{ratio.numerator}*{basis[0]}{over}" if ratio.numerator > 1 else f"{basis[0]}{over}"
        return spelled(value, self.m, self.numbers, pair)

    def raw(self, value: Fraction, pair: bool = False) -> str:
        """A raw size as text."""
        if self.scope.basis is not None and self.scope.strict:
            return f"{self.num(value)} + {typed(self.m.seam * 2)}"
        return spelled(self.m.raw(value), self.m, self.numbers, pair)

    def pair(self, box: Box) -> str:
        """Width x height."""
        return f"{self.num(box.w, pair=True)} x {self.num(box.h, pair=True)}"

    def raw_pair(self, box: Box) -> str:
        """Raw width x raw height."""
        return f"{self.raw(box.w, True)} x {self.raw(box.h, True)}"

    def size(self, box: Box) -> str:
        """Width x height; one length for a square mostly."""
        return self.num(box.w) if box.square and self.chance(0.7) else self.pair(box)

    def claims(self, box: Box) -> list[str]:
        """Lines that state the finished size of a unit."""
        lines = [f"finished {self.size(box)}"]
        if self.chance(0.15):
            lines = [f"finished {self.num(box.w)} wide", f"finished {self.num(box.h)} high"]
        if self.chance(0.1):
            lines = [f"finished {self.num(box.w)} wide, {self.num(box.h)} high"]
        raw = f"measures {self.raw_pair(box)}"
        if self.chance(0.25, "claims"):
            # where there are sizes, raw sizes as plain numbers are those of the pattern as written, and settle nothing
            lines = [raw] if self.chance(0.5) and not self.has("sizes") else [*lines, raw]
        return lines

    # -- units ---------------------------------------------------------------------------------------------
    @contextmanager
    def within(self, scope: Scope) -> Iterator[Scope]:
        """Write lines under other names."""
        self.scopes.append(scope)
        try:
            yield scope
        finally:
            self.scopes.pop()

    def used(self, unit: Written, times: int = 1) -> str:
        """A unit's name as it is used, with what stands in its brackets."""
        self.scope.uses[unit.name] += times
        if not unit.asks and not unit.piece:
            return unit.name
        given = [self.num(unit.box.w) if a == "length" else self._given(unit) for a in unit.asks]
        given += [str(unit.piece)] if unit.piece else []
        return f"{unit.name}({', '.join(given)})"

    def _given(self, unit: Written) -> str:
        """A fabric for a unit's brackets, unlike those that it names itself; or a group, of which each copy gets one
        print, or one of its prints by its number."""
        if self.groups and self.dealing.random() < 0.6:
            return self.dealing.choice(self.groups) + self.dealing.choice(("", "", "(2)"))
        known = set(" ".join(unit.lines).replace(",", " ").split())
        one = self.fabric()
        for _ in range(4):
            if one in known:
                one = self.fabric()
        return one

    def add(self, box: Box, write: Callable[[], Sequence[str]], kind: str = "", role: str = "unit") -> Written:
        """A new unit. With brackets, where the pattern has them."""
        outer = self.scope
        scope = Scope(basis=self.scopes[0].basis, strict=self.scopes[0].strict)
        if self.chance(0.25, "arguments"):
            scope.fabrics = [self.pick("lit", "shade")]
            if self.chance(0.5):
                scope.basis = ("length", box.w)
        name = self.name()
        with self.within(scope):
            lines = list(write())
        asked = [f for f in scope.fabrics if f in scope.asked]
        if scope.basis and scope.basis[0] == "length" and "length" in scope.asked:
            asked.append("length")
        unit = Written(name, role, box, lines, kind, asked, scope.uses)
        self.units.append(unit)
        assert self.scope is outer
        return unit
