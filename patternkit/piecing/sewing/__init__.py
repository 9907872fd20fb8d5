"""How each kind of unit is sewn, as batches of actions: a function ``batches(making, desk)``.

It stands in the kind's own file, or, where that would grow too long and for what a setting makes, in a module here that
is named after the kind of its makings (``half-square``: half_square.py) or stands in `ELSEWHERE`. Kinds without one are
not rehearsed, and taken as they are drawn.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from importlib import import_module
from importlib.util import find_spec

from patternkit.piecing.batch import Batch
from patternkit.piecing.making import Making
from patternkit.piecing.method import PIECED
from patternkit.piecing.sewing.desk import Desk, NoCut
from patternkit.piecing.sewing.shaped import as_drawn

ELSEWHERE = {
    **dict.fromkeys(("row", "rows", "column", "border"), "joins"),
    **dict.fromkeys(("diamond", "hexagon", "kite", "trapezoid"), "boxed"),
    "courthouse-steps": "log_cabin",
    "square-in-a-square": "square_in_square",
    "diagonal-row": "on_point",
    "diagonal-sashing": "on_point",
    "joined-borders": "mitred_border",
}
Batches = list[tuple[Batch, int]]
"""Batches with how many times each is done."""


@lru_cache(maxsize=256)
def _module(kind: str) -> Callable[[Making, Desk], Batches] | None:
    own = kind.replace("-", "_")
    for room, name in (("patternkit.piecing.kinds", own), (__name__, ELSEWHERE.get(kind, own))):
        if name.isidentifier() and name != "desk" and find_spec(f"{room}.{name}") is not None:
            found: Callable[[Making, Desk], Batches] | None = getattr(import_module(f"{room}.{name}"), "batches", None)
            if found is not None:
                return found
    return None


def _of_templates(making: Making, desk: Desk) -> Batches:
    """A unit of any kind with pieces from strip units: templates with their tips trimmed."""
    return as_drawn(making, desk, trimmed=True)


def batches_of(making: Making, desk: Desk) -> Batches | None:
    """How a making is sewn; None where its kind (or its method) does not say, or says of no cut which piece it is."""
    sewing = _of_templates if making.recipe.method is PIECED else _module(making.kind)
    if sewing is None:
        return None
    try:
        return sewing(making, desk) or None
    except NoCut:
        return None
