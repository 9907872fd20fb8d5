"""Whole patterns from a seed."""

from __future__ import annotations

from collections import Counter
from random import Random

import msgspec

from . import joins, rectangles, shapes, slices, squares
from .borders import Rounds, rounds
from .finishes import finishes
from .heads import fabrics, groups, settings
from .kinds import MAKERS, wishes
from .measures import FINE, measures, number, typed
from .newer import with_newer_forms
from .pressing import RARE, WAYS
from .quilts import LAY, block_side
from .shapes import FIELDS
from .tables import colourways, makes, notes, parts, said, sizes
from .writer import Scope, Writer, Written

FEATURES = (
    "kinds",
    "nested",
    "turned",
    "borders",
    "finishing",
    "measures",
    "claims",
    "cuts",
    "marks",
    "press",
    "prose",
    "heads",
    "lets",
    "arguments",
    "off-ruler",
    "off-grid",
    "stock",
    "directional",
    "sizes",
    "scaled",
    "colourways",
    "parts",
    "groups",
)
"""What a pattern may have beside plain patches in a plain quilt, the plainest first."""

ROOMS = (joins, rectangles, shapes, slices, squares)
"""Where the makers are; importing them registers them."""


def features_of(shape: Random) -> frozenset[str]:
    """The features of a seed: each pattern has some, few have most."""
    often = {
        "kinds": 0.97,
        "nested": 0.7,
        "finishing": 0.75,
        "measures": 0.6,
        "parts": 0.2,
        "colourways": 0.2,
        "off-ruler": 0,
    }
    part = shape.choice((0.2, 0.4, 0.6))
    return frozenset(f for f in FEATURES if f != "groups" and shape.random() < often.get(f, part))


def write(seed: int, attempt: int = 0, features: frozenset[str] | None = None) -> str:
    """The text of the pattern of a seed. Another attempt has other numbers; sound it is with luck only."""
    assert ROOMS
    shape = Random(f"shape {seed}")
    drawn = features_of(shape)
    press = WAYS[seed // 5 % len(WAYS)]
    rare = frozenset(("press",) if press in RARE else ())
    prints = frozenset(
        ("groups", "arguments") if seed % 6 == 2 else ()
    )  # by the seed, so that others are what they were
    has = drawn | rare | prints if features is None else features
    m = measures(shape, "measures" not in has)
    if attempt > 2:  # where numbers alone do not help, a fine ruler may; then fewer of them are stated
        m = msgspec.structs.replace(m, ruler=number(FINE[m.units]))
    has -= {"claims", "cuts", "sizes", "stock"} if attempt > 4 else frozenset()
    has -= {"nested", "borders"} if attempt > 6 else frozenset()
    w = Writer(shape, Random(f"numbers {seed} {attempt}"), has, m)
    asked = wishes()
    w.wish = asked[seed % len(asked)] if "kinds" in has else None
    w.press = press
    if press in RARE and w.wish and not seed % 5:
        w.wish = (RARE[press], "")
    setting = list(LAY)[(seed // 3) % len(LAY)] if "borders" in has or seed % 2 else shape.choice(list(LAY))
    text = _text(w, "tile" if w.wish and w.wish[0] in FIELDS else setting)
    return with_newer_forms(text, seed, has, m) if has and attempt <= 4 else text


def plain(w: Writer) -> str:
    """The text of a pattern whose blocks lie in a tile."""
    return _text(w, "tile")


def _text(w: Writer, setting: str) -> str:
    head, cloth = settings(w), [*fabrics(w), *groups(w)]
    lets = _lets(w)
    laid = LAY[setting](w)
    blocks_use = Counter(w.scope.uses)
    around = rounds(w, laid.size, laid.block)
    quilt = [
        "quilt",
        *_indented([*laid.lines, *around.lines, *finishes(w, around.size), *_claim(w, around), *_press(w, around)]),
    ]
    quilt += said(w, "Wash it in cold water.")
    top = w.scope.uses
    units = list(w.units)
    if w.chance(0.3):
        w.shape.shuffle(units)
    counts = makes(w, laid, blocks_use, top)
    written = [_unit(w, u, top, counts[u.name]) for u in units]
    loose = [line.strip() for line in said(w, "Read all of it before you cut.")]
    blocks = [head, loose, lets, cloth, *written, quilt, sizes(w, laid), colourways(w), parts(w, top)]
    return "\n".join("\n".join(lines) + "\n" for lines in blocks if lines)


def _indented(lines: list[str]) -> list[str]:
    return [f"    {line}" for line in lines]


def _lets(w: Writer) -> list[str]:
    """A length with a name; in a pattern that is scaled, every finished size is a part of it."""
    strict = w.has("scaled") and w.has("sizes")
    if not strict and not w.has("lets"):
        return []
    base = block_side(w)
    w.scopes = [Scope(basis=("side", base), strict=strict)]
    return [f"let side = {typed(base)}"]


def _unit(w: Writer, unit: Written, top: Counter[str], count: int) -> list[str]:
    """A unit's lines, those that may stand in any order shuffled a little."""
    role = "block" if unit.name in top and w.chance(0.9) else unit.role
    asks = f"({', '.join(unit.asks)})" if unit.asks else ""
    title = f' "The {unit.name}"' if w.chance(0.2) else ""
    make = [f"make {count}"] if count and w.chance(0.4, "claims") else []
    return [f"{role} {unit.name}{asks}{title}", *_indented([*unit.lines, *make, *unit.press, *notes(w, unit)])]


def _press(w: Writer, around: Rounds) -> list[str]:
    if not around.lines:  # one block alone has no seam that the quilt's own line could press
        return []
    return [f"press {w.pick('open', 'out')}"] if w.chance(0.15, "press") else []


def _claim(w: Writer, around: Rounds) -> list[str]:
    """The size of the quilt, where it is a plain sum."""
    if around.size is None or not w.chance(0.5, "claims"):
        return []
    size = around.size
    if w.chance(0.5):
        return [f"measures {typed(w.m.raw(size.w))} x {typed(w.m.raw(size.h))}"]
    return [f"finished {typed(size.w)} x {typed(size.h)}"]


assert MAKERS
