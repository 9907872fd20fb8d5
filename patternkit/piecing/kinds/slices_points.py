"""Points as writers name them: coordinates, parts of an edge, corners, ends of earlier lines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Protocol

import msgspec

from patternkit.lengths import ONE, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.arcs import Arc
from patternkit.piecing.division import between
from patternkit.piecing.kinds.base import Shop
from patternkit.piecing.making import Outline, Point
from patternkit.piecing.offset import length_of, minus, times
from patternkit.source import Span
from patternkit.syntax.statements import Binary, Call, Num, Ref, SizePair

BEFORE = ("from", "through", "to", "about", "again")
"""Words behind which a point stands."""
SIDES = ("top", "right", "bottom", "left")
POINTS = "3 x 2 (across and down), 1/3 of top, 2 along left, top left, start 1 or end 1"


class Unread(Exception):
    """A clause that makes no sense; carries what is wrong and where, and what may stand there instead."""

    def __init__(self, text: str, span: Span, instead: Sequence[str] = ()) -> None:
        super().__init__(text)
        self.text, self.span, self.instead = text, span, instead


class NamedEdge(msgspec.Struct, frozen=True):
    """An edge by name: a side of the box, ``edge 2`` of the outline or ``slice 1``."""

    word: str
    number: int
    span: Span


class Spot(msgspec.Struct, frozen=True):
    """A point as written. `how` is "at" (a size across and down), "of" (a fraction of an edge), "along" (a length along
    it), "corner" (a word such as ``top left``, or a number) or "start"/"end" of an earlier line."""

    how: str
    span: Span
    value: object = None
    edge: NamedEdge | None = None
    word: str = ""
    number: int = 0


class Lines(Protocol):
    """Earlier lines by number, each from its start to its end."""

    def __getitem__(self, number: int) -> tuple[Point, Point]: ...


class Words:
    """The words of one clause, read from left to right."""

    def __init__(self, words: Sequence[object], span: Span) -> None:
        self.words, self.at, self.whole = [part for word in words for part in _parted(word)], 0, span

    @property
    def span(self) -> Span:
        """The place of the next word, or of the whole clause at its end."""
        found: Span = getattr(self.peek(), "span", self.whole)
        return found

    def peek(self, ahead: int = 0) -> object:
        """A word not yet read, or None."""
        i = self.at + ahead
        return self.words[i] if i < len(self.words) else None

    def word(self, ahead: int = 0) -> str:
        """The next word where it is a bare one, else ""."""
        found = self.peek(ahead)
        return found.name if isinstance(found, Ref) else ""

    def take(self, *names: str) -> str:
        """Read the next word if it is one of `names`; "" otherwise."""
        if self.word() in names:
            self.at += 1
            found = self.words[self.at - 1]
            return found.name if isinstance(found, Ref) else ""
        return ""

    def next(self) -> object:
        """Read one word."""
        found = self.peek()
        if found is None:
            raise Unread("it ends too soon", self.whole)
        self.at += 1
        return found

    def whole_number(self, what: str) -> int:
        """Read a whole number from 1."""
        span, found = self.span, self.next()
        if isinstance(found, Num) and found.unit is None and found.value.denominator == 1 and found.value >= 1:
            return int(found.value)
        raise Unread(f"{what} is followed by its number", span)


def _parted(word: object) -> Iterator[object]:
    """A word of a line as it is meant: in ``about -2 x 4`` the minus belongs to the number, and not to the word before
    it."""
    size = word.width if isinstance(word, SizePair) else word
    if not (isinstance(size, Binary) and size.op == "-" and isinstance(size.left, Ref) and size.left.name in BEFORE):
        yield word
        return
    yield size.left
    minus_two = Binary("-", Num(Fraction(0), None, size.span), size.right, size.span)
    yield msgspec.structs.replace(word, width=minus_two) if isinstance(word, SizePair) else minus_two


def read_spot(words: Words) -> Spot:
    """One point. Raises Unread."""
    span, word = words.span, words.word()
    if word in SIDES and words.word(1) not in SIDES:  # top 1/3
        words.next()
        return _part_of(words.next(), NamedEdge(word, 0, span), span)
    if word in ("top", "bottom"):
        words.next()
        side = words.take("left", "right")
        if not side:
            raise Unread(f"a corner is written {word} left or {word} right", span)
        return Spot("corner", span, word=f"{word} {side}")
    if words.take("start", "end"):
        return Spot(word, span, number=words.whole_number(word))
    if words.take("corner"):
        return Spot("corner", span, number=words.whole_number("corner"))
    if words.take("centre", "center", "middle"):
        if words.take("of"):
            return Spot("of", span, Num(Fraction(1, 2), None, span), _edge(words))
        return Spot("corner", span, word="centre")
    found = words.peek()
    if isinstance(found, SizePair):
        return Spot("at", span, words.next())
    if isinstance(found, (Num, Binary, Call)) or (isinstance(found, Ref) and words.word(1) in ("of", "along")):
        words.next()
        how = words.take("of", "along")
        if how:
            return Spot(how, span, found, _edge(words))
        raise Unread("a length alone is no point", span)
    raise Unread("a point is missing" if found is None else f"{word or 'this'} is no point", span)


def _part_of(value: object, edge: NamedEdge, span: Span) -> Spot:
    if isinstance(value, (Num, Binary, Call)):
        return Spot("of", span, value, edge)
    raise Unread(f"{edge.word} is followed by a fraction of it, such as {edge.word} 1/3", span)


def _edge(words: Words) -> NamedEdge:
    span, word = words.span, words.take(*SIDES, "edge", "slice")
    if not word:
        raise Unread("the edge is missing: top, right, bottom, left, edge 2 or slice 1", span)
    return NamedEdge(word, words.whole_number(word) if word in ("edge", "slice") else 0, span)


class Places:
    """Where the points of a unit lie, at its solved size."""

    def __init__(self, unit: Unit, shop: Shop, width: Length, height: Length) -> None:
        self.unit, self.shop, self.width, self.height = unit, shop, width, height
        self.outline: Outline = ((ZERO, ZERO), (width, ZERO), (width, height), (ZERO, height))
        self.lines: dict[int, tuple[Point, Point]] = {}
        self.arcs: dict[int, Arc] = {}

    def point(self, spot: Spot) -> Point:
        """The point of a spot. Raises Unread when it has none."""
        if spot.how == "at" and isinstance(spot.value, SizePair):
            return self._length(spot.value.width, spot.span), self._length(spot.value.height, spot.span)
        if spot.how in ("start", "end"):
            return self._line(spot.number, spot.span)[spot.how == "end"]
        if spot.how == "corner":
            return self._corner(spot)
        assert spot.edge is not None
        value = self._length(spot.value, spot.span)
        if spot.edge.word == "slice" and spot.edge.number in self.arcs:
            return self._on_arc(spot, self.arcs[spot.edge.number], value)
        a, b = self._ends(spot.edge)
        if spot.how == "along":
            whole = length_of(minus(b, a))
            if not ZERO <= value <= whole:
                raise Unread(f"this is further along than the {_named(spot.edge)} is long", spot.span)
            return between(a, b, value / whole)
        part = value / self.shop.units.inches
        if not ZERO <= part <= ONE:
            raise Unread(
                f"a part of an edge lies between 0 and 1; a length is written 2 along {_named(spot.edge)}",
                spot.span,
            )
        return between(a, b, part)

    def _on_arc(self, spot: Spot, arc: Arc, value: Length) -> Point:
        """A point that part of the way along an arc, or so far along it."""
        far = float(arc.radius) * arc.angle if spot.how == "along" else float(self.shop.units.inches)
        part = float(value) / far
        if not 0 <= part <= 1 + 1e-9:
            raise Unread("this is no part of the arc" if spot.how == "of" else "the arc is not so long", spot.span)
        return arc.at(part)

    def _length(self, value: object, span: Span) -> Length:
        found = self.shop.length(self.unit, value)
        if found is None:
            raise Unread("this length can't be worked out", span)
        return found

    def _line(self, number: int, span: Span) -> tuple[Point, Point]:
        if number not in self.lines:
            raise Unread(f"there is no slice {number} before this one", span)
        return self.lines[number]

    def _corner(self, spot: Spot) -> Point:
        if spot.number:
            if spot.number > len(self.outline):
                raise Unread(f"the outline has {len(self.outline)} corners", spot.span)
            return self.outline[spot.number - 1]
        if spot.word == "centre":
            return self.width / 2, self.height / 2
        down, across = spot.word.split()
        return (self.width if across == "right" else ZERO), (self.height if down == "bottom" else ZERO)

    def _ends(self, edge: NamedEdge) -> tuple[Point, Point]:
        w, h = self.width, self.height
        sides: Mapping[str, tuple[Point, Point]] = {
            "top": ((ZERO, ZERO), (w, ZERO)),
            "bottom": ((ZERO, h), (w, h)),
            "left": ((ZERO, ZERO), (ZERO, h)),
            "right": ((w, ZERO), (w, h)),
        }
        if edge.word in sides:
            return sides[edge.word]
        if edge.word == "slice":
            return self._line(edge.number, edge.span)
        if edge.number > len(self.outline):
            raise Unread(f"the outline has {len(self.outline)} edges", edge.span)
        return self.outline[edge.number - 1], self.outline[edge.number % len(self.outline)]


def _named(edge: NamedEdge) -> str:
    return f"{edge.word} {edge.number}" if edge.number else edge.word


def side_of(path: Sequence[Point], word: str) -> int:
    """Where the side of a line that a word names lies as the line runs: -1 left, 1 right, 0 when it has no such
    side."""
    run = minus(path[-1], path[0])
    ways = {"left": (-ONE, ZERO), "right": (ONE, ZERO), "top": (ZERO, -ONE), "bottom": (ZERO, ONE)}
    way = ways[word]
    # walking along the line the right-hand side lies in the direction (-dy, dx), y running down
    right = times((-run[1], run[0]), 1)
    return (right[0] * way[0] + right[1] * way[1]).sign()
