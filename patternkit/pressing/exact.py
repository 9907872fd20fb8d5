"""Exact coordinates that are quick to compare: one whole number for each length of a tree.

All lengths of a tree are put over one denominator; the coefficients of 1, sqrt(2), sqrt(3)... then stand in fixed
stretches of one whole number. Adding, negating and comparing for equality are those of whole numbers and stay exact;
order and products go back to `Length` and are remembered. Directions are numbered, so that turning one or comparing two
angles is a look-up after the first time.
"""

from __future__ import annotations

from fractions import Fraction
from math import atan2, degrees, gcd

from patternkit.lengths import ZERO, Length
from patternkit.piecing.making import Making, Point, cosine, made_from, sine

_ROOM = 48  # bits for the size of the quilt in inches and for sums, above the common denominator


def makings_of(top: Making) -> list[Making]:
    """Every distinct making of a tree, each after all of its parts, the top last."""
    order: list[Making] = []
    seen: set[Making] = set()
    stack: list[tuple[Making, bool]] = [(top, False)]
    while stack:
        making, done = stack.pop()
        if done:
            order.append(making)
        elif making not in seen:
            seen.add(making)
            stack.append((making, True))
            stack.extend((inner, False) for inner in reversed(made_from(making)))
    return order


class LengthPacker:
    """Packs the lengths of one tree into whole numbers, exactly.

    `plain` is True when no square root occurs and no part is turned by other than quarter turns.
    """

    def __init__(self, makings: list[Making]) -> None:
        bottoms: set[int] = set()
        radicands: set[int] = set()
        odd: dict[Making, int] = {}  # how many turns off the square lie on top of each other, at most
        for making in makings:
            deepest = 0
            for length in _lengths(making):
                bottoms.add(length.q.denominator)
                for n, c in length.roots:
                    radicands.add(n)
                    bottoms.add(c.denominator)
            for part in making.parts:
                inner = odd.get(part.what, 0) if isinstance(part.what, Making) else 0
                deepest = max(deepest, inner + (part.place.turned % 90 != 0))
            odd[making] = deepest
        bottom = 1
        for b in bottoms:
            bottom = bottom * b // gcd(bottom, b)
        turns = max(odd.values(), default=0)
        self.bottom = bottom << (turns + 1)
        self.plain = not radicands and not turns
        self._bits = self.bottom.bit_length() + _ROOM
        self._half = 1 << (self._bits - 1)
        self._slots: dict[int, int] = {1: 0}
        self._names: list[int] = [1]
        self._packed: dict[Length, int] = {}
        self._lengths: dict[int, Length] = {}
        self._signs: dict[int, int] = {}
        self._turned: dict[tuple[int, int, int], tuple[int, int]] = {}

    def fits(self, makings: list[Making]) -> bool:
        """Whether further makings can be packed in the same way: plain ones whose fractions have the same bottoms."""
        return (
            self.plain
            and all(
                not length.roots and self.bottom % length.q.denominator == 0 for m in makings for length in _lengths(m)
            )
            and not any(part.place.turned % 90 for m in makings for part in m.parts)
        )

    def pack(self, length: Length) -> int:
        """A length of the tree as a whole number; exact."""
        if not length.roots:
            q = length.q
            return q.numerator * (self.bottom // q.denominator)
        known = self._packed.get(length)
        if known is None:
            known = length.q.numerator * (self.bottom // length.q.denominator)
            for n, c in length.roots:
                known += c.numerator * (self.bottom // c.denominator) << (self._bits * self._slot(n))
            self._packed[length] = known
        return known

    def _slot(self, radicand: int) -> int:
        if radicand not in self._slots:
            self._slots[radicand] = len(self._names)
            self._names.append(radicand)
        return self._slots[radicand]

    def length(self, packed: int) -> Length:
        """The length that a whole number stands for."""
        known = self._lengths.get(packed)
        if known is None:
            rest, slot, parts = packed, 0, []
            while rest:
                low = (rest + self._half) % (2 * self._half) - self._half
                if low:
                    parts.append((self._names[slot], Fraction(low, self.bottom)))
                rest = (rest - low) >> self._bits
                slot += 1
            q = Fraction(0)
            if parts and parts[0][0] == 1:
                q = parts.pop(0)[1]
            known = self._lengths[packed] = Length._make(q, tuple(sorted(parts)))
        return known

    def sign(self, packed: int) -> int:
        """-1, 0 or 1: the exact sign of a packed length."""
        if self.plain or -self._half < packed < self._half:
            return (packed > 0) - (packed < 0)
        known = self._signs.get(packed)
        if known is None:
            known = self._signs[packed] = self.length(packed).sign()
        return known

    def between(self, a: int, p: int, b: int) -> bool:
        """Whether `p` lies between `a` and `b`, both included, in either order."""
        if self.plain:
            return a <= p <= b or b <= p <= a
        return self.sign(p - a) * self.sign(b - p) >= 0

    def turn(self, x: int, y: int, turned: int) -> tuple[int, int]:
        """A point turned clockwise as seen about the origin."""
        if turned == 0:
            return x, y
        if turned == 90:
            return -y, x
        if turned == 180:
            return -x, -y
        if turned == 270:
            return y, -x
        known = self._turned.get((x, y, turned))
        if known is None:
            c, s, lx, ly = cosine(turned), sine(turned), self.length(x), self.length(y)
            known = self.pack(lx * c - ly * s), self.pack(lx * s + ly * c)
            self._turned[(x, y, turned)] = known
        return known

    def on_line(self, x: int, y: int, ax: int, ay: int, bx: int, by: int) -> bool:
        """Whether a point lies on the stretch from a to b, ends included; exact for any slant."""
        if not (self.between(ax, x, bx) and self.between(ay, y, by)):
            return False
        dx, dy, px, py = bx - ax, by - ay, x - ax, y - ay
        if self.plain:
            return dx * py == dy * px
        if not dx or not dy:
            return not px if not dx else not py
        if dx == dy or dx == -dy:
            return px == (py if dx == dy else -py)
        return self.length(dx) * self.length(py) == self.length(dy) * self.length(px)


class Directions:
    """Numbers for directions, equal exactly when two rays are parallel and point the same way."""

    def __init__(self, grid: LengthPacker) -> None:
        self._grid = grid
        self._numbers: dict[Point, int] = {}
        self._vectors: list[Point] = []
        self._packed: dict[tuple[int, int], int] = {}
        self._turned: dict[tuple[int, int, bool], int] = {}
        self._against: dict[tuple[int, int], tuple[int, int]] = {}

    def number(self, dx: Length, dy: Length) -> int:
        """The number of a direction given by any vector along it."""
        sx = dx.sign()
        if sx:
            vector = (Length(sx), dy / abs(dx) if dy else ZERO)
        else:
            vector = (ZERO, Length(dy.sign()))
        if vector not in self._numbers:
            self._numbers[vector] = len(self._vectors)
            self._vectors.append(vector)
        return self._numbers[vector]

    def packed(self, dx: int, dy: int) -> int:
        """The number of a direction given by packed coordinates."""
        known = self._packed.get((dx, dy))
        if known is None:
            known = self._packed[(dx, dy)] = self.number(self._grid.length(dx), self._grid.length(dy))
        return known

    def placed(self, direction: int, turned: int, mirrored: bool) -> int:
        """The number of a direction after a part has been mirrored and turned."""
        known = self._turned.get((direction, turned, mirrored))
        if known is None:
            dx, dy = self._vectors[direction]
            if mirrored:
                dx = -dx
            c, s = cosine(turned), sine(turned)
            known = self._turned[(direction, turned, mirrored)] = self.number(dx * c - dy * s, dx * s + dy * c)
        return known

    def against(self, line: int, ray: int) -> tuple[int, int]:
        """How a ray stands to a line: side (-1 left of it, 1 right, 0 along it), and the number of its angle.

        The angle is folded to one side of the line, as the fabric is when the line is sewn: two rays from either side
        have one number exactly when they lie on each other once the two parts are put right sides together.
        """
        known = self._against.get((line, ray))
        if known is None:
            (lx, ly), (rx, ry) = self._vectors[line], self._vectors[ray]
            across = lx * ry - ly * rx
            known = across.sign(), self.number(lx * rx + ly * ry, abs(across))
            self._against[(line, ray)] = known
        return known

    def flipped(self, angle: int) -> int:
        """The angle number of the supplement: where a seam that runs straight through would lie."""
        return self.placed(angle, 0, True)

    def degrees(self, direction: int) -> float:
        """An angle number in degrees from the line's direction, 0 to 180; for words and drawings only."""
        dx, dy = self._vectors[direction]
        return degrees(atan2(float(dy), float(dx)))


def _lengths(making: Making) -> list[Length]:
    out = [c for p in making.outline for c in p]
    for part in making.parts:
        out += (part.place.dx, part.place.dy)
    for seam in making.seams:
        out += (*seam.start, *seam.end)
        out += [c for p in seam.path for c in p]
        if seam.spun is not None:
            out += seam.spun
    return out
