"""Plates and fans: wedges side by side, all round a hole or through a quarter turn, laid on a ground as they are.

The angle of a wedge is a whole part of a turn whose sine is a nest of roots, or none at all; so its corners are worked
out in plain numbers and put on a grid of `GRID` parts of an inch, which is nearer than any cloth is cut: a wedge's raw
outline, up to the next line of the ruler, is taken from there. The outermost corners are exact, so that the plate
measures what the writer says.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import cos, hypot, pi, sin
from typing import ClassVar

import msgspec

from patternkit.lengths import ONE, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import one_length, option, pieces, problems, words_of
from patternkit.piecing.kinds.base import Equations, Kind, Shop, Unsettled
from patternkit.piecing.making import Cloth, Making, Numbers, Outline, Point, Recipe, Seam
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name
from patternkit.piecing.offset import CannotOffset, area, raw_outline
from patternkit.piecing.shapes import called, merged, shown, square
from patternkit.piecing.templates import shape_cut, shaped
from patternkit.piecing.unknowns import of_unit
from patternkit.problems import Problem
from patternkit.source import Span
from patternkit.syntax.statements import Num

TEMPLATE = Method("from templates", "plate", ("templates",), drawn="joins", exact=True)
BLADE = Name("blade")
ENDS = ("pointed", "round", "straight")
GRID = 2**30
"""Parts of an inch on which corners lie that no root gives."""
USUAL = {360: 20, 90: 5}
"""How many blades a plate and a fan have where nothing is said (common practice, no source)."""
MOST = 40
CHORDS = 48
"""Chords that stand for the half circle at a blade's end."""
XY = tuple[float, float]


class Blades(Numbers, frozen=True):
    """How many blades there are, how wide the hole is, and whether they go all round it."""

    blades: int
    hole: Length
    ring: bool


class Plate(Kind):
    """``plate rose, leaf`` with ``blades 20``, ``hole 4``, ``ends pointed`` and ``sweep 90`` under it: the fabrics of
    the blades in turn."""

    words: ClassVar[tuple[str, ...]] = ("plate",)
    written: ClassVar[str] = "plate rose, leaf: the fabrics of the blades in turn"
    methods: ClassVar[tuple[Method, ...]] = (TEMPLATE,)
    pieces: ClassVar[tuple[int, int]] = (1, MOST)
    cloth_only: ClassVar[str] = "A blade is narrower than anyone sews one from a unit: name fabrics."
    options: ClassVar[dict[str, str]] = {
        "blades": "blades 20",
        "hole": "hole 4",
        "ends": "ends pointed",
        "sweep": "sweep 90",
    }

    def equations(self, unit: Unit, out: Equations) -> None:
        """It is as wide as it is high; the hole is stated."""
        for problem in (*problems(self, unit), *wrongs(unit)):
            out.problem(problem)
        square(unit, out, "is a plate, as wide as it is high")
        hole = of_unit(unit.key, "hole")
        out.shown(hole, f"the hole of {called(unit)}")
        stated = option(unit, "hole")
        value = one_length(unit, "hole", out)
        if stated is None:
            out.problem(
                Problem(
                    "not-understood",
                    f"{called(unit).capitalize()} needs to know how wide its hole is.",
                    unit.kind_span,
                    causes=(
                        "It is written hole 4: from corner to corner across the middle, of a fan twice its radius.",
                    ),
                )
            )
        elif value is not None:
            out.stated(hole, value, f"the hole of {called(unit)} is {out.render(value)} wide", stated.span)

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The blades clockwise, the first one above the middle, or leaving the upper end of a fan's left edge."""
        size, hole = shop.width(unit), shop.solved(of_unit(unit.key, "hole"))
        if wrongs(unit):
            raise Unsettled(unit.key)
        sweep, number, ends = sweep_of(unit), blades_of(unit), ends_of(unit)
        full = sweep == 360
        _must_fit(unit, shop, size if full else size * 2, hole, number)
        rays = _Rays(float(size), float(hole) / 2, number, sweep, ends)
        shapes = [rays.blade(k) for k in range(number)]
        if any(area(s) <= 0 for s in shapes):
            raise _cannot(unit, shop, "its hole leaves nothing of its blades")
        fabrics = [shop.fabric(unit, p) for p in pieces(unit)]
        cloths = [Cloth(fabrics[k % len(fabrics)], s, rays.grain(k), BLADE, True) for k, s in enumerate(shapes)]
        upright = rays.upright()
        try:
            raw = raw_outline(upright, shop.seam)
        except CannotOffset as wrong:
            raise _cannot(
                unit, shop, f"its blades can't be cut with a seam of {shown(shop.seam, shop)}: {wrong}"
            ) from None
        one = shape_cut(Cloth(fabrics[0], upright, (ONE, ZERO), BLADE, True), raw, shop)
        cuts = [msgspec.structs.replace(one, fabric=c.fabric) for c in cloths]
        seams = [_seam(rays, k, range(k), (k,)) for k in range(1, number)]
        if full:
            seams.append(_seam(rays, 0, (number - 1,), (0,)))
        recipe = Recipe(TEMPLATE, merged(cuts), numbers=Blades(number, hole, full))
        return shaped(unit, rays.outline(shapes), cloths, seams, recipe)


def _seam(rays: _Rays, k: int, left: Sequence[int], right: Sequence[int]) -> Seam:
    """The seam along a ray, from the hole outward: what lies before it on the left, as one walks."""
    return Seam(rays.inner[k], rays.outer[k], tuple(left), tuple(right), "right")


def _must_fit(unit: Unit, shop: Shop, across: Length, hole: Length, number: int) -> None:
    """Refuse a hole that leaves no blades, and blades narrower at it than their seams need."""
    if hole + shop.seam * 4 >= across:
        raise _cannot(unit, shop, f"a hole of {shown(hole, shop)} leaves nothing of its blades")
    narrow = float(hole) * sin(pi / number / (1 if sweep_of(unit) == 360 else 4))
    if narrow < float(shop.seam) / 2:
        raise _cannot(
            unit, shop, f"at a hole of {shown(hole, shop)} {number} blades are narrower than half a seam allowance"
        )


def _cannot(unit: Unit, shop: Shop, why: str) -> Unsettled:
    shop.problem(Problem("cannot-sew", f"{called(unit).capitalize()} can't be made: {why}.", unit.kind_span))
    return Unsettled(unit.key)


# -- geometry ---------------------------------------------------------------------------------------------
class _Rays:
    """The rays between blades, and the blades between them; the plate's box begins at (0, 0)."""

    def __init__(self, size: float, hole: float, number: int, sweep: int, ends: str) -> None:
        self.number, self.full, self.ends, self.size = number, sweep == 360, ends, size
        self.step = sweep / 180 * pi / number
        self.first = -self.step / 2 if self.full else 0.0  # the first ray, clockwise from straight up
        self.radius = 1.0
        reach = max(p[1] for k in range(number) for p in self._end(k))
        self.radius = (size / 2 if self.full else size) / reach
        self.middle = (size / 2, size / 2) if self.full else (0.0, size)
        rays = [self._ray(k) for k in range(number + (0 if self.full else 1))]
        self.outer = [self._point((x * self.radius, y * self.radius)) for x, y in rays]
        self.inner = [self._point((x * hole, y * hole)) for x, y in rays]

    def _ray(self, k: float) -> XY:
        """The direction of a ray, or of one between two, y upward."""
        angle = self.first + self.step * k
        return sin(angle), cos(angle)

    def _point(self, p: XY) -> Point:
        """A point from the middle, y upward, where it lies; exact on the sides of the box."""
        found = []
        for value in (self.middle[0] + p[0], self.middle[1] - p[1]):
            near = Fraction(round(value * GRID), GRID)
            for edge in (0.0, self.size, self.size / 2):
                near = Fraction(edge) if abs(value - edge) < 1e-7 else near
            found.append(Length(near))
        return found[0], found[1]

    def _end(self, k: int) -> list[XY]:
        """The outer end of a blade between its two corners, these included, clockwise, y upward."""
        (ax, ay), (bx, by) = ((x * self.radius, y * self.radius) for x, y in (self._ray(k), self._ray(k + 1)))
        if self.ends == "straight":
            return [(ax, ay), (bx, by)]
        cx, cy, half = (ax + bx) / 2, (ay + by) / 2, hypot(bx - ax, by - ay) / 2
        if self.ends == "pointed":
            x, y = self._ray(k + 0.5)
            return [(ax, ay), (cx + x * half, cy + y * half), (bx, by)]
        turns = [pi * i / CHORDS for i in range(CHORDS + 1)]
        u, v = ax - cx, ay - cy  # turned clockwise, y upward
        return [(cx + u * cos(t) + v * sin(t), cy - u * sin(t) + v * cos(t)) for t in turns]

    def blade(self, k: int) -> Outline:
        """A blade, clockwise from its inner corner on the ray before it."""
        after = (k + 1) % len(self.outer)
        cap = [self._point(p) for p in self._end(k)[1:-1]]
        return (self.inner[k], self.outer[k], *cap, self.outer[after], self.inner[after])

    def grain(self, k: int) -> Point:
        """The direction across a blade, which runs along the straight grain as its length does."""
        x, y = self._ray(k + 0.5)
        return Length(Fraction(y).limit_denominator(GRID)), Length(Fraction(x).limit_denominator(GRID))

    def upright(self) -> Outline:
        """A blade that points straight up."""
        turn = -(self.first + self.step / 2)
        c, s = cos(turn), sin(turn)
        x0, y0 = self.middle
        found = []
        for p in self.blade(0):
            x, y = float(p[0]) - x0, float(p[1]) - y0
            found.append(
                (
                    Length(Fraction(round((x * c - y * s) * GRID), GRID)),
                    Length(Fraction(round((x * s + y * c) * GRID), GRID)),
                )
            )
        return tuple(found)

    def outline(self, shapes: Sequence[Outline]) -> Outline:
        """The outer edge of a plate; of a fan the inner one too."""
        outer = [p for shape in shapes for p in shape[1:-2]]
        if self.full:
            return tuple(outer)
        return (*outer, self.outer[-1], *reversed(self.inner))


# -- lines ------------------------------------------------------------------------------------------------
def blades_of(unit: Unit) -> int:
    """How many blades; as many as are usual where nothing is said."""
    stated = option(unit, "blades")
    words = [word for clause in stated.clauses for word in clause] if stated is not None else []
    if len(words) == 1 and isinstance(words[0], Num) and words[0].unit is None and words[0].value.denominator == 1:
        return int(words[0].value)
    return USUAL[sweep_of(unit)]


def sweep_of(unit: Unit) -> int:
    """360 for a plate, 90 for a fan."""
    stated = option(unit, "sweep")
    words = [word for clause in stated.clauses for word in clause] if stated is not None else []
    return 90 if len(words) == 1 and isinstance(words[0], Num) and words[0].value == 90 else 360


def ends_of(unit: Unit) -> str:
    """pointed, round or straight."""
    stated = option(unit, "ends")
    words = words_of(stated) if stated is not None else []
    return words[0] if words and words[0] in ENDS else ENDS[0]


def wrongs(unit: Unit) -> list[Problem]:
    """What of its own lines can't be meant."""
    found = []
    for word, written in (
        ("ends", "Its blades end pointed, round or straight: ends pointed."),
        ("sweep", "A fan is a quarter turn, sweep 90; a plate goes all round, sweep 360."),
        ("blades", "It is written blades 20."),
    ):
        stated = option(unit, word)
        if stated is None:
            continue
        words = [one for clause in stated.clauses for one in clause]
        one = words[0] if len(words) == 1 else None
        right = {
            "ends": len(words) == 1 and words_of(stated) == [ends_of(unit)],
            "sweep": isinstance(one, Num) and one.unit is None and one.value in (90, 360),
            "blades": isinstance(one, Num) and one.unit is None and one.value == blades_of(unit),
        }[word]
        if not right:
            found.append(_unclear(unit, word, stated.span, written))
    number, full = blades_of(unit), sweep_of(unit) == 360
    if not found and ((full and (number % 4 or not 8 <= number <= MOST)) or not (full or 2 <= number <= MOST // 4)):
        stated = option(unit, "blades")
        written = (
            f"All round there are 8, 12, 16 or more, up to {MOST}: fours, so that the plate is as wide as it is high."
            if full
            else f"In a quarter there are 2 to {MOST // 4}."
        )
        found.append(_unclear(unit, "blades", stated.span if stated is not None else unit.kind_span, written))
    return found


def _unclear(unit: Unit, word: str, span: Span, written: str) -> Problem:
    return Problem(
        "not-understood", f"What {called(unit)} says of its {word} can't be sewn or read.", span, causes=(written,)
    )
