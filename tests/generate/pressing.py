"""Press statements that say something of the unit they stand under."""

from __future__ import annotations

import re

from .heads import CLOTH
from .writer import Writer, Written

WAYS = ("toward", "away", "open", "left", "right", "up", "down", "out", "in", "spun", "rows", "half")
"""The word behind ``press``, of every way of pressing."""
RARE = {"spun": "rows", "left": "row", "right": "strips", "up": "column"}
"""Ways of pressing that few units take, and the kind that is made for them."""
ACROSS = ("row", "strips")  # kinds whose seams run up and down
AROUND = ("flipped-corners", "square-in-a-square", "log-cabin", "courthouse-steps", "flying-geese")
HALVES = ("half-square", "half-rectangle")
PRESSED = (*ACROSS, *AROUND, *HALVES, "column", "rows", "quarter-square", "three-patch", "kite", "hexagon")
"""Kinds that take a press statement here."""


def pressing(w: Writer, unit: Written) -> list[str]:
    """Lines of a unit that say how its seams are pressed; none for a kind that has no seams of its own."""
    if unit.kind not in PRESSED or any(" > " in x or " < " in x or " <> " in x for x in unit.lines):
        return []  # marks in the text say it already
    if "method foundation" in unit.lines:
        return ["press out"] if unit.kind in AROUND else []  # as it is folded over
    ways = ["press open"]
    if unit.kind in ACROSS:
        ways += ["press left", "press right"]
    elif unit.kind == "column":
        ways += ["press up", "press down"]
        if any(" | " in x and x.split()[1] in CLOTH for x in unit.lines) and unit.uses:
            ways.append("press toward the plain patch")
    elif unit.kind in AROUND:
        ways += ["press out", "press in"]
    elif unit.kind == "rows":
        inner = [x for x in unit.lines if x.startswith(" ")]
        if sum(" | " in x for x in inner) > 1:
            ways += ["press rows alternately"] * 2
        if len(inner) == 2 and all(x.count(" | ") == 1 for x in inner):
            ways += ["press spun"] * 4
    if unit.kind in (*HALVES, *ACROSS, *AROUND):
        ways += ["press half of them the other way"]
    ways += _named(w, unit)
    liked = [x for x in ways if x.split()[1] == w.press]
    return [w.shape.choice(liked if liked and w.chance(0.8) else ways)]


def _named(w: Writer, unit: Written) -> list[str]:
    """Toward and away from a fabric; where only two meet, the darker or the plain one can be meant."""
    listed = re.sub(r"\([^)]*\)", "", unit.lines[0]).partition(" ")[2].split(", ")
    plain = [piece.split()[0] for piece in listed if piece.strip()]
    if unit.kind in HALVES and len(set(plain[:2])) == 2:
        ways = [f"press toward {plain[0]}", f"press away from {plain[1]}"]
        values = [CLOTH[x][1] for x in plain[:2] if x in CLOTH]
        return [*ways, "press toward the darker"] if w.valued and len(set(values)) == 2 else ways
    if unit.kind in ("flying-geese", "flipped-corners") and len(set(plain[:2])) == 2:
        return [f"press toward {plain[1]}", f"press away from {plain[0]}"]
    return []
