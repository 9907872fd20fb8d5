"""Units that fill any rectangle, or one twice as wide as high: patches, strips, geese, corners, logs."""

from __future__ import annotations

from fractions import Fraction
from math import hypot, sqrt

from .kinds import LAID, WHOLE, maker, method_line, piece
from .measures import split, typed
from .squares import chosen_cut, may_cut, oversize, striped
from .writer import Box, Scope, Writer, Written

ROOT = sqrt(2)


def anything(w: Writer, box: Box) -> bool:
    """Any rectangle that can be sewn to others."""
    return box.short >= w.m.seam * 2


@maker("patch", anything, weight=3)
def patch(w: Writer, box: Box, method: str) -> list[str]:
    fabric = w.fabric(box.long)
    way = w.pick(0, 1, 2, 3, 4)
    if way == 1:
        return [f"patch {fabric} {w.pair(box)}"]
    if way == 2:
        return [f"patch {fabric}", f"cut {w.raw_pair(box)}"]
    if way == 3 and box.square and not w.scope.strict:
        return [f"patch {fabric} cut {w.raw(box.w)}"]
    return [f"patch {fabric}", *w.claims(box)]


@maker("strips", lambda w, b: b.w >= w.m.least * 2 and b.h >= w.m.seam * 3, weight=4)
def strips(w: Writer, box: Box, method: str) -> list[str]:
    n = min(w.pick(2, 3, 3, 4, 5, 7), int(box.w / w.m.least))
    mark = w.pick(" | ", " | ", " > ", " < ", " <> ") if w.has("marks") else " | "
    if n >= 5 and n % 2 and w.chance(0.6):
        one, two = w.fabrics(2)
        line = f"strips ({one} | {two} |) {n // 2} times {one}"
        return [line, f"finished {w.size(box)}"]
    widths = split(w.numbers, box.w, n, w.m, w.chance(0.5))
    listed = w.fabrics(n)
    if len(set(widths)) > 1 or w.chance(0.3):
        listed = [f"{f} {_strip(w, x)}" for f, x in zip(listed, widths, strict=True)]
    lines = [f"strips {mark.join(listed)}"]
    if w.chance(0.25, "cuts"):
        return [*lines, f"cut {w.raw_pair(box)}"]
    if w.chance(0.2, "cuts"):
        return [*lines, f"finished {w.num(box.w)} wide", f"cut {w.raw(box.h)}"]
    return [*lines, *w.claims(box)]


def _strip(w: Writer, width: Fraction) -> str:
    return f"cut {w.raw(width)}" if w.chance(0.3) else w.num(width)


def _goose(w: Writer, box: Box) -> bool:
    return box.w == box.h * 2 and box.h >= w.m.seam * 4


@maker(
    "flying-geese",
    _goose,
    "stitch and flip",
    "four at a time",
    "from triangles",
    "from templates",
    "oversize",
    "four at a time oversize",
    "from triangles oversize",
    weight=6,
)
def flying_geese(w: Writer, box: Box, method: str) -> list[str]:
    if method == LAID:
        return [f"flying-geese {', '.join(striped(w, box.w))}", f"finished {w.size(box)}"]
    goose, *sky = w.fabrics(w.pick(2, 2, 3), box.w * 2)
    s, wide, high = float(w.m.seam), float(box.w), float(box.h)
    lines = [f"finished {w.size(box)}", *oversize(w, method)]
    if method == "" and may_cut(w):
        sky = [f"{f} cut {w.raw(box.h)}" for f in sky]
        return [f"flying-geese {goose} cut {w.raw_pair(box)}, {', '.join(sky)}"]
    if method in ("four at a time", "from triangles") and may_cut(w):
        goose += f" cut {w.num(chosen_cut(w, wide + s * (2 + 2 * ROOT)), size=False)}"
        small = w.num(chosen_cut(w, high + s * (2 + ROOT)), size=False)
        sky = [f"{f} cut {small}" for f in sky]
    return [f"flying-geese {goose}, {', '.join(sky)}", *lines]


@maker(
    "half-rectangle", lambda w, b: b.short >= w.m.seam * 5 and b.short * 3 >= b.long, "pairs of rectangles", "oversize"
)
def half_rectangle(w: Writer, box: Box, method: str) -> list[str]:
    lines = [f"half-rectangle {', '.join(w.fabrics(2, box.long * 2))}", f"finished {w.size(box)}", *oversize(w, method)]
    if w.chance(0.5):
        lines.append(f"leaning {w.pick('right', 'left')}")
    if not method and may_cut(w):
        a, b, s = float(box.w), float(box.h), float(w.m.seam)
        d = hypot(a, b)
        wide, high = (chosen_cut(w, x) for x in (a + s * (1 + (d + a) / b), b + s * (1 + (d + b) / a)))
        lines.append(f"cut {typed(wide)} x {typed(high)}")
    return lines


@maker("flipped-corners", lambda w, b: b.short >= w.m.seam * 6, "stitch and flip", "oversize", weight=3)
def flipped_corners(w: Writer, box: Box, method: str) -> list[str]:
    places = ["top left", "top right", "bottom right", "bottom left"]
    at = places if w.chance(0.5) else w.shape.sample(places, w.pick(1, 2, 3))
    size = w.m.down(box.short * w.numbers.choice((Fraction(1, 3), Fraction(1, 2), Fraction(1, 4))))
    size = min(max(size, w.m.up(w.m.seam * 2)), w.m.down(box.short / 2))
    whole = method == WHOLE or (method in ("", "stitch and flip") and w.depth >= 0 and w.chance(0.2, "nested"))
    lines = [f"finished {w.size(box)}", *oversize(w, "" if method == WHOLE else method)]
    if len(at) < 4 or w.chance(0.2):
        lines.append(f"at {', '.join(at)}")
    base = piece(w, box) if whole else w.fabric(box.long)
    if w.chance(0.5):
        return [f"flipped-corners {base}, {w.fabric(size)}", f"corner {w.num(size)}", *lines]
    if w.chance(0.5) and len(at) > 1:
        corners = [f"{w.fabric(size)} {w.num(size)}" for _ in at]
    else:
        corners = [f"{w.fabric(size)} {w.num(size)}"]
    return [f"flipped-corners {base}, {', '.join(corners)}", *lines]


def _cabin(w: Writer, box: Box) -> bool:
    return box.short >= w.m.least * 3 and box.long <= box.short * 2


@maker("log-cabin", _cabin, "logs cut to length", "foundation", weight=3)
def log_cabin(w: Writer, box: Box, method: str) -> list[str]:
    lines = [*_logs(w, box, method, "log-cabin"), *_extra(w, method)]
    if w.chance(0.5):
        lines.append(f"start {w.pick('top', 'right', 'bottom', 'left')}")
    if w.chance(0.5):
        lines.append(w.pick("clockwise", "counterclockwise"))
    return lines


@maker("courthouse-steps", _cabin, "logs cut to length", "foundation", weight=2)
def courthouse_steps(w: Writer, box: Box, method: str) -> list[str]:
    lines = [*_logs(w, box, method, "courthouse-steps"), *_extra(w, method)]
    if w.chance(0.5):
        lines.append(f"start {w.pick('left', 'top', 'right', 'bottom')}")
    return lines


@maker("partial-seam", lambda w, b: b.w == b.h and b.w >= w.m.least * 4, weight=2)
def partial_seam(w: Writer, box: Box, method: str) -> list[str]:
    wide = w.m.down(box.w * w.numbers.choice((Fraction(1, 3), Fraction(1, 4))))
    core = box.w - wide * 2
    long = core + wide
    a, b = w.fabric(long), w.fabric(long)
    middle = piece(w, Box(core, core)) if w.depth > 0 and w.chance(0.4) else f"{w.fabric(core)} {w.num(core)}"
    said = w.pick(0, 1, 2)
    if said == 0:
        around = f"{a} {w.num(wide)}, {b} {w.num(wide)}"
    elif said == 1:
        around = f"{a} cut {w.raw(wide)}, {b}, {a}, {b}"
    else:
        around = f"{a}, {b}"
    lines = [f"partial-seam {middle}", f"round {around}"]
    if said or w.chance(0.5):
        lines.append(f"finished {w.size(box)}")
    if w.chance(0.4):
        lines.append(w.pick("clockwise", "counterclockwise"))
    elif w.shapes.random() < 0.4:
        lines.append("counterclockwise")
    return lines


def _extra(w: Writer, method: str) -> list[str]:
    """How much larger logs are cut for a foundation, now and then."""
    if method != "foundation" or w.shapes.random() > 0.6:
        return []
    return [f"extra {w.num(w.m.up(w.m.inch / 2), size=False)}"]


def _logs(w: Writer, box: Box, method: str, word: str) -> list[str]:
    """A centre with rounds of logs, all of one width, or of two by turns of the rounds."""
    rounds = min(w.pick(1, 2, 2, 3), int((box.short / w.m.least - 1) / 2))
    room = (box.short - w.m.least) / 2 / rounds
    log = w.m.least if w.chance(0.5) else w.m.down(room)
    inner = Box(box.w - log * 2 * rounds, box.h - log * 2 * rounds)
    centre = f"{w.fabric(inner.long)} {w.pair(inner)}"
    if w.chance(0.3, "nested") and w.depth > 0:
        centre = piece(w, inner)
    lines = [f"{word} {centre}", *method_line(method)]
    if w.chance(0.3):
        return [*lines, f"logs {', '.join(f'{w.fabric()} {w.num(log)}' for _ in range(rounds * 4))}"]
    lines += [f"round {', '.join(w.fabrics(w.pick(1, 2, 4)))}" for _ in range(w.pick(1, rounds))]
    lines.append(f"rounds {rounds}")
    way = w.pick(0, 1, 2)
    if way == 0:
        return [*lines, f"finished {w.size(box)}"]
    return [*lines, f"log {w.num(log)}" if way == 1 else f"log cut {w.raw(log)}"]


def _flock(w: Writer, box: Box) -> bool:
    corner = _corner_of(w)
    return box.h >= max(corner * 2, w.m.least * 2) and box.w >= corner * 2 + w.m.least


def _corner_of(w: Writer) -> Fraction:
    """The corner of which the waste gives half-squares of the least size: 2 root 2 seams larger at least."""
    return w.m.up(w.m.least + w.m.seam * 3)


@maker("bonus", _flock, weight=1)
def bonus(w: Writer, box: Box, method: str) -> list[str]:
    """A rectangle with flipped corners, beside it one of the half-squares that its corners give."""
    least, corner = w.m.least, _corner_of(w)
    scope = Scope(basis=w.scopes[0].basis, strict=w.scopes[0].strict)
    with w.within(scope):
        base = Box(box.w - least, box.h)
        lines = [f"flipped-corners {w.fabric(box.long)}, {w.fabric(corner)}", f"corner {w.num(corner)}"]
        source = Written(w.name(), "unit", base, [*lines, f"finished {w.size(base)}"])
        w.units.append(source)
        small = [f"bonus {source.name}", f"finished {w.num(least)}"]
        chick = Written(w.name(), "unit", Box(least, least), small)
        w.units.append(chick)

    def column() -> list[str]:
        return [f"column {w.used(chick)} | {w.fabric(box.h)}", f"finished {w.num(box.h)} high"]

    beside = w.add(Box(least, box.h), column)
    return [f"row {w.used(source)} | {w.used(beside)}", *w.claims(box)]
