"""How each kind of unit is sewn, as batches of actions: one module here for each kind that says it.

A module is named after the kind of its makings (``half-square``: half_square.py), or stands in `ELSEWHERE`, and offers
``batches(making, desk)``. Kinds without one are not rehearsed, and taken as they are drawn.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from importlib import import_module
from importlib.util import find_spec

from patternkit.piecing.batch import Batch
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.desk import Desk, NoCut

ELSEWHERE = {
    **dict.fromkeys(("row", "rows", "column", "border"), "joins"),
    **dict.fromkeys(("diamond", "hexagon", "kite", "trapezoid"), "boxed"),
    "courthouse-steps": "log_cabin",
    "square-in-a-square": "square_in_square",
    "diagonal-row": "on_point",
    "band": "mitred_border",
}
Batches = list[tuple[Batch, int]]
"""Batches with how many times each is done."""


@lru_cache(maxsize=256)
def _module(kind: str) -> Callable[[Making, Desk], Batches] | None:
    name = ELSEWHERE.get(kind, kind.replace("-", "_"))
    if not name.isidentifier() or name == "desk" or find_spec(f"{__name__}.{name}") is None:
        return None
    found: Callable[[Making, Desk], Batches] | None = getattr(import_module(f"{__name__}.{name}"), "batches", None)
    return found


def batches_of(making: Making, desk: Desk) -> Batches | None:
    """How a making is sewn; None where its kind (or its method) does not say, or says of no cut which piece it is."""
    say = _module(making.kind)
    if say is None:
        return None
    try:
        return say(making, desk) or None
    except NoCut:
        return None
