"""Outlines from drawings: the one shape of an SVG file as points, its box a unit wide. Path data is read by svg.path.

A drawing is a stranger's file: entities, scripts, pictures and other files are never followed, and how long it may be,
how deep and of how many points is bounded. What can't be used is said in words for the writer.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from math import cos, hypot, isfinite, radians, sin, tan
from xml.parsers import expat

XY = tuple[float, float]
Matrix = tuple[float, float, float, float, float, float]
STAY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
LARGEST = 1_000_000  # characters of a drawing
DEEPEST, MOST_ELEMENTS, MOST_SEGMENTS, MOST_POINTS = 60, 5_000, 3_000, 600
PER_CURVE = 32
NEAR = 1 / 2000
"""The part of its longer side by which the chords of an outline may lie off its curves: on 8 in 1/250 in."""
REFUSED = {
    "script": "it holds a script",
    "image": "it holds a picture",
    "foreignobject": "it holds more than a drawing",
    "use": "it repeats shapes by reference; draw each as a path",
    "text": "it holds text; turn that into a path",
}
SHAPES = ("path", "polygon", "rect", "circle", "ellipse")
UNSEEN = ("defs", "clippath", "mask", "symbol", "marker", "pattern", "metadata", "namedview", "title", "desc", "style")
NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")


class NoOutline(ValueError):
    """A drawing that can't be used; the text says why, as the end of a sentence."""


def outline_of(text: str) -> tuple[XY, ...]:
    """The outline of a drawing's one shape, clockwise, its box from (0, 0) to 1 across; raises NoOutline."""
    if len(text) > LARGEST:
        raise NoOutline(f"it is longer than {LARGEST:,} characters")
    found = _Shapes().read(text)
    if not found:
        raise NoOutline("it holds no closed path, circle, ellipse, rectangle or polygon")
    if len(found) > 1:
        raise NoOutline(f"it holds {len(found)} shapes, and one is laid on: leave the others out, or unite them")
    (data, matrix) = found[0]
    points = [_moved(matrix, p) for p in _points(data)]
    if not all(isfinite(x) and isfinite(y) for x, y in points):
        raise NoOutline("its numbers are too large")
    return _at_home(points)


class _Shapes:
    """The shapes of an SVG file, each as path data and how it is moved."""

    def __init__(self) -> None:
        self.found: list[tuple[str, Matrix]] = []
        self.stack: list[tuple[Matrix, bool]] = [(STAY, True)]
        self.elements = 0

    def read(self, text: str) -> list[tuple[str, Matrix]]:
        """All shapes that are drawn."""
        parser = expat.ParserCreate(namespace_separator="}")
        parser.StartElementHandler, parser.EndElementHandler = self._begin, self._end
        parser.EntityDeclHandler = self._entity
        parser.SetParamEntityParsing(expat.XML_PARAM_ENTITY_PARSING_NEVER)
        try:
            parser.Parse(text, True)
        except expat.ExpatError as wrong:
            raise NoOutline(f"it is no whole SVG file (line {wrong.lineno})") from None
        return self.found

    def _entity(self, *_: object) -> None:
        raise NoOutline("it declares entities, which a drawing does not need")

    def _begin(self, name: str, attributes: Mapping[str, str]) -> None:
        space, _, tag = name.rpartition("}")
        tag = tag.lower()
        self.elements += 1
        if self.elements == 1 and tag != "svg":
            raise NoOutline("it is no SVG file")
        if len(self.stack) > DEEPEST or self.elements > MOST_ELEMENTS:
            raise NoOutline("it holds far more than one outline")
        matrix, seen = self.stack[-1]
        seen = seen and tag not in UNSEEN and (not space or space.endswith("/svg"))
        if seen and tag in REFUSED:
            raise NoOutline(REFUSED[tag])
        if any(key.lower().startswith("on") for key in attributes):
            raise NoOutline(REFUSED["script"])
        matrix = _after(_matrix(attributes.get("transform", "")), matrix)
        self.stack.append((matrix, seen))
        if seen and tag in SHAPES and "none" not in attributes.get("display", ""):
            self.found.append((_data(tag, attributes), matrix))

    def _end(self, _: str) -> None:
        self.stack.pop()


def _data(tag: str, a: Mapping[str, str]) -> str:
    """The path data of a shape."""

    def of(key: str, other: str = "0") -> float:
        value = NUMBER.match(a.get(key, other).strip() or "0")
        return float(value.group()) if value is not None else 0.0

    if tag == "path":
        return a.get("d", "")
    if tag == "polygon":
        return f"M {a.get('points', '')} Z"
    if tag == "rect":
        x, y, w, h = (of(k) for k in ("x", "y", "width", "height"))
        return f"M {x} {y} H {x + w} V {y + h} H {x} Z"
    rx, ry = (of("r"), of("r")) if tag == "circle" else (of("rx"), of("ry"))
    x, y = of("cx"), of("cy")
    half = f"A {rx} {ry} 0 0 1"
    return f"M {x - rx} {y} {half} {x + rx} {y} {half} {x - rx} {y} Z"


def _matrix(text: str) -> Matrix:
    """What a `transform` does; raises NoOutline for one that nobody knows."""
    whole = STAY
    for name, inside in re.findall(r"([a-zA-Z]+)\s*\(([^)]*)\)", text):
        n = [float(x) for x in NUMBER.findall(inside)]
        whole = _after(_one(name.lower(), n), whole)
    if not all(map(isfinite, whole)):
        raise NoOutline("its numbers are too large")
    return whole


def _one(name: str, n: Sequence[float]) -> Matrix:
    try:
        if name == "matrix":
            a, b, c, d, e, f = n
            return a, b, c, d, e, f
        if name == "translate":
            return 1.0, 0.0, 0.0, 1.0, n[0], n[1] if len(n) > 1 else 0.0
        if name == "scale":
            return n[0], 0.0, 0.0, n[1] if len(n) > 1 else n[0], 0.0, 0.0
        if name == "rotate":
            t, (x, y) = radians(n[0]), (n[1], n[2]) if len(n) > 2 else (0.0, 0.0)
            c, s = cos(t), sin(t)
            return c, s, -s, c, x - x * c + y * s, y - x * s - y * c
        if name in ("skewx", "skewy"):
            t = tan(radians(n[0]))
            return (1.0, 0.0, t, 1.0, 0.0, 0.0) if name == "skewx" else (1.0, t, 0.0, 1.0, 0.0, 0.0)
    except (IndexError, ValueError):
        pass
    raise NoOutline(f"its transform {name} can't be read")


def _after(inner: Matrix, outer: Matrix) -> Matrix:
    """First the one, then the other."""
    a, b, c, d, e, f = inner
    p, q, r, s, t, u = outer
    return (a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u)


def _moved(m: Matrix, p: XY) -> XY:
    return m[0] * p[0] + m[2] * p[1] + m[4], m[1] * p[0] + m[3] * p[1] + m[5]


def _points(data: str) -> list[XY]:
    """Points along path data, which is one closed line."""
    from svg.path import Close, Line, Move, parse_path  # only drawings need it

    if len(data) > LARGEST // 4:
        raise NoOutline("its path is far too long")
    try:
        segments = list(parse_path(data))
    except Exception:  # whatever a stranger's path makes the parser raise, it can't be read
        raise NoOutline("its path can't be read") from None
    if sum(isinstance(s, Move) for s in segments) > 1:
        raise NoOutline("its path has several parts, or a hole; one outline is laid on")
    if len(segments) > MOST_SEGMENTS:
        raise NoOutline(f"its path has more than {MOST_SEGMENTS:,} segments")
    found: list[XY] = []
    for s in segments:
        try:
            steps = [1.0] if isinstance(s, (Close, Line, Move)) else [i / PER_CURVE for i in range(1, PER_CURVE + 1)]
            found += [(p.real, p.imag) for p in (complex(s.point(t)) for t in steps)]
        except (ArithmeticError, ValueError):
            raise NoOutline("its path can't be read") from None
    if not segments or not (
        isinstance(segments[-1], Close) or hypot(found[0][0] - found[-1][0], found[0][1] - found[-1][1]) < 1e-6
    ):
        raise NoOutline("its path is not closed")
    return found


def _at_home(points: Sequence[XY]) -> tuple[XY, ...]:
    """Clockwise, in a box a unit wide, no more points than its curves need."""
    left, top = min(p[0] for p in points), min(p[1] for p in points)
    wide, high = max(p[0] for p in points) - left, max(p[1] for p in points) - top
    if not (wide > 0 and high > 0 and 1 / 50 < wide / high < 50):
        raise NoOutline("it is only a line, or as good as one")
    ring = [((x - left) / wide, (y - top) / wide) for x, y in points]
    ring = [p for i, p in enumerate(ring) if hypot(p[0] - ring[i - 1][0], p[1] - ring[i - 1][1]) > 1e-9]
    if sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)) < 0:
        ring.reverse()
    off = NEAR * max(1.0, high / wide)
    far = max(range(len(ring)), key=lambda i: hypot(ring[i][0] - ring[0][0], ring[i][1] - ring[0][1]))
    kept = [*_fewer(ring[: far + 1], off), *_fewer([*ring[far:], ring[0]], off)]
    kept = [p for i, p in enumerate(kept) if p != kept[i - 1]]
    if len(kept) > MOST_POINTS:
        raise NoOutline(f"its outline has more than {MOST_POINTS} corners and bends")
    if len(kept) < 3:
        raise NoOutline("it is only a line, or as good as one")
    return tuple(kept)


def _fewer(points: Sequence[XY], off: float) -> Iterator[XY]:
    """The points of a line that are needed for no other one to lie farther off than so."""
    kept, waiting = {0, len(points) - 1}, [(0, len(points) - 1)]
    while waiting:
        first, last = waiting.pop()
        (x, y), (u, v) = points[first], points[last]
        long = hypot(u - x, v - y)
        far, at = 0.0, first
        for i in range(first + 1, last):
            p, q = points[i][0] - x, points[i][1] - y
            d = hypot(p, q) if long < 1e-12 else abs(p * (v - y) - q * (u - x)) / long
            if d > far:
                far, at = d, i
        if far > off:
            kept.add(at)
            waiting += [(first, at), (at, last)]
    return (points[i] for i in sorted(kept))
