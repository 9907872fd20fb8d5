"""An order in the numbers that are printed, where a booklet is printed in another system than its pattern is drawn up
in: what nobody sees in the exact order is there in what a maker reads."""

from __future__ import annotations

from typing import Any

import msgspec

from patternkit.lengths import Length
from patternkit.units import Units, nearest
from patternkit.work.model import Order

DRAWN = frozenset({"templates", "papers", "usable", "squaring", "bought", "seam"})
"""What of an order is drawn at true size, or read by no maker as a length to cut or to trim; the seam is the
machine's."""


def in_print(order: Order, units: Units) -> Order:
    """The same order with every length that is cut, sewn together, trimmed or measured as it is printed in `units`."""
    fields = {name: _printed(getattr(order, name), units) for name in order.__struct_fields__ if name not in DRAWN}
    return msgspec.structs.replace(order, **fields)


def _printed(what: Any, units: Units) -> Any:
    if isinstance(what, Length):
        return Length(nearest(what, units) * units.inches)
    if isinstance(what, msgspec.Struct):
        found = {name: _printed(getattr(what, name), units) for name in what.__struct_fields__}
        return msgspec.structs.replace(what, **found) if found else what
    if isinstance(what, tuple):
        return tuple(_printed(x, units) for x in what)
    if isinstance(what, dict):
        return {_printed(key, units): _printed(value, units) for key, value in what.items()}
    return what
