"""Units that are squares of triangles and curves."""

from __future__ import annotations

from fractions import Fraction
from math import sqrt

from .kinds import LAID, WHOLE, maker, method_line, piece
from .writer import Box, Writer

ROOT = sqrt(2)


def at_least(seams: int) -> object:
    """Squares of so many seams at least."""
    return lambda w, box: box.square and box.w >= w.m.seam * seams


def may_cut(w: Writer) -> bool:
    """Whether a cut is stated: a plain number, which could not follow the sizes."""
    return w.chance(0.35, "cuts") and not w.scope.strict


def chosen_cut(w: Writer, exact: float) -> Fraction:
    """A cut that is enough: on the ruler, now and then a few lines larger."""
    return w.m.up(exact) + w.m.ruler * w.pick(0, 0, 1, 2)


def oversize(w: Writer, method: str) -> list[str]:
    """The method's line, with its length now and then."""
    if method.endswith("oversize") and w.chance(0.5):
        return [f"method {method} {w.num(w.m.up(w.m.inch / 8), size=False)}"]
    return method_line(method)


@maker(
    "half-square",
    at_least(4),
    "pairs of squares",
    "four at a time",
    "eight at a time",
    "from triangles",
    "oversize",
    "four at a time oversize",
    "eight at a time oversize",
    "from triangles oversize",
    weight=4,
)
def half_square(w: Writer, box: Box, method: str) -> list[str]:
    if method == LAID or (not method and w.chance(0.15, "nested")):
        return [f"half-square {', '.join(striped(w, box.w))}", f"finished {w.size(box)}"]
    lines = [f"half-square {', '.join(w.fabrics(2, box.w * 3))}", f"finished {w.size(box)}", *oversize(w, method)]
    if method in ("", "pairs of squares") and may_cut(w):
        exact = float(box.w) + float(w.m.seam) * (2 + ROOT)
        lines.append(f"cut {w.num(chosen_cut(w, exact), size=False)}")
    return lines


@maker("quarter-square", at_least(5), "pairs of squares", "from triangles", "oversize", "from triangles oversize")
def quarter_square(w: Writer, box: Box, method: str) -> list[str]:
    if method == LAID:
        return [f"quarter-square {', '.join(striped(w, box.w))}", f"finished {w.size(box)}"]
    fabrics = w.fabrics(w.pick(2, 2, 3, 4), box.w * 2)
    lines = [f"quarter-square {', '.join(fabrics)}", f"finished {w.size(box)}", *oversize(w, method)]
    if method in ("", "pairs of squares") and may_cut(w):
        exact = float(box.w) + float(w.m.seam) * (2 + 2 * ROOT)
        lines.append(f"cut {w.num(chosen_cut(w, exact), size=False)}")
    return lines


@maker("three-patch", at_least(5), "pairs of squares", "from triangles", "oversize", "from triangles oversize")
def three_patch(w: Writer, box: Box, method: str) -> list[str]:
    half, right, lower = w.fabrics(3, box.w * 2)
    s, f = float(w.m.seam), float(box.w)
    if method in ("", "from triangles") and may_cut(w):
        half += f" cut {w.num(chosen_cut(w, f + s * (2 + ROOT)), size=False)}"
    return [f"three-patch {half}, {right}, {lower}", f"finished {w.size(box)}", *oversize(w, method)]


@maker("square-in-a-square", at_least(8), "stitch and flip", "from triangles", "oversize", "from triangles oversize")
def square_in_a_square(w: Writer, box: Box, method: str) -> list[str]:
    sewn = _centre_unit(w, box, method) if method in ("", "from triangles", WHOLE) else None
    if sewn is not None:
        return sewn
    method = "" if method == WHOLE else method
    rounds = 1 if method in ("stitch and flip", "oversize") else w.pick(1, 1, 2, 3)
    rounds = max(1, min(rounds, int(box.w / w.m.seam / 8)))
    centre, *corners = w.fabrics(rounds + 1, box.w)
    lines = [f"finished {w.size(box)}", *oversize(w, method)]
    inner = box.w / 2 ** (rounds // 2)
    if rounds % 2 == 0 and w.chance(0.5):
        centre += f" {w.num(inner)}"  # the size of the centre alone
        lines = [*oversize(w, method)]
    elif "oversize" in method and may_cut(w):
        exact = float(box.w) / ROOT**rounds + float(w.m.seam) * 2
        if method != "oversize":
            centre += f" cut {w.num(chosen_cut(w, exact), size=False)}"
    return [f"square-in-a-square {', '.join([centre, *corners])}", *lines]


def striped(w: Writer, wide: Fraction) -> tuple[str, str]:
    """A fabric and a piece cut from a strip unit so wide, which way its strips run; or two of one strip unit."""
    n = w.pick(3, 2, 4)
    bars = w.add(
        Box(wide, wide), lambda: [f"strips {' | '.join(f'{fabric} {w.num(wide / n)}' for fabric in w.fabrics(n))}"]
    )
    one, other = (f"{w.used(bars)}{turn} laid" for turn in w.pick(("", " turned 180"), (" turned 90", ""), ("", "")))
    return w.pick((one, w.fabric()), (w.fabric(), other), (one, other))


def _centre_unit(w: Writer, box: Box, method: str) -> list[str] | None:
    """A unit in the middle: on its point, floating by what is left, or upright inside two rounds."""
    if w.depth < 0 or (method != WHOLE and not w.chance(0.3, "nested")):
        return None
    around, side = w.pick((1, box.w * 2 / 3), (1, box.w / 2), (2, box.w / 2))
    if side < w.m.seam * 6 or not w.m.lies(side):
        return None
    centre = piece(w, Box(side, side))
    line = f"square-in-a-square {', '.join([centre, *w.fabrics(around, box.w)])}"
    return [line, f"finished {w.size(box)}", *(["float"] if around == 1 else [])]


@maker("quarter-circle", at_least(6), "from templates")
def quarter_circle(w: Writer, box: Box, method: str) -> list[str]:
    radius = box.w * w.numbers.choice((Fraction(3, 4), Fraction(2, 3), Fraction(4, 5), Fraction(1)))
    if radius <= w.m.seam * 3:
        radius = box.w
    lines = [f"radius {w.num(radius)}", f"finished {w.size(box)}", *method_line(method)]
    return [f"quarter-circle {', '.join(w.fabrics(2, box.w))}", *lines]


@maker("triangle-in-a-square", at_least(8), "from templates")
def triangle_in_a_square(w: Writer, box: Box, method: str) -> list[str]:
    fabrics = w.fabrics(w.pick(2, 3), box.w)
    return [f"triangle-in-a-square {', '.join(fabrics)}", f"finished {w.size(box)}", *method_line(method)]


@maker("eight-point-star", at_least(16), "set-in", "straight seams")
def eight_point_star(w: Writer, box: Box, method: str) -> list[str]:
    fabrics = w.fabrics(w.pick(1, 2, 4, 8) + 1, box.w / 2)
    kind = f"eight-point-star {', '.join(fabrics)}"
    if w.chance(0.4) or w.shapes.random() < 0.5:  # the block finishes 2 + root 2 of the side of a diamond
        return [kind, f"side {w.num(box.w)}/(2 + root(2))".replace('"/', "/"), *method_line(method)]
    return [kind, f"finished {w.size(box)}", *method_line(method)]


@maker("strings", lambda w, b: b.square and b.w >= w.m.least * 4, "foundation", weight=1)
def strings(w: Writer, box: Box, method: str) -> list[str]:
    """Strips of a stated average: of the usual one there may be no room."""
    shows = w.m.up(max(box.w / 8, w.m.least))
    middle = f"{w.fabric(box.long * 2)} {w.num(w.m.up(box.w / 8))}, " if w.chance(0.5) else ""
    width = f"cut {w.raw(shows)}" if w.chance(0.5) else w.num(shows)
    return [f"strings {middle}{w.fabric(box.long * 2)}", *w.claims(box), f"string {width}", *method_line(method)]
