"""Moves a statement to another place: the same words met again need no second reading."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import msgspec

from patternkit.source import Span

Mover = Callable[[Any, str, int], Any]
_STAYS = (str, int, bool, type(None), Fraction)
_movers: dict[type, Mover] = {}


def shift(value: Any, file: str, by: int) -> Any:
    """The same value with each span in it `by` characters further on, in `file`."""
    mover = _movers.get(type(value)) or _mover(type(value))
    return mover(value, file, by)


def _stay(value: Any, file: str, by: int) -> Any:
    return value


def _tuple(value: Any, file: str, by: int) -> Any:
    return tuple([(_movers.get(type(v)) or _mover(type(v)))(v, file, by) for v in value]) if value else value


def _span(value: Span, file: str, by: int) -> Span:
    return Span(file, value.start + by, value.end + by)


def _mover(kind: type) -> Mover:
    """The function that moves one type of value. For a struct it is put together from its fields once, because a
    re-check after an edit moves every line below it."""
    if kind is Span:
        made: Mover = _span
    elif kind is tuple:
        made = _tuple
    elif kind in _STAYS:
        made = _stay
    elif issubclass(kind, msgspec.Struct):
        made = _struct(kind)
    else:
        raise TypeError(f"no way to move a {kind.__name__}")
    _movers[kind] = made
    return made


def _struct(kind: type[msgspec.Struct]) -> Mover:
    parts = []
    for field in msgspec.structs.fields(kind):
        value = f"v.{field.name}"
        written = str(kind.__annotations__[field.name])
        if written in ("str", "int", "bool", "Fraction") or written.startswith("Literal") or written == "MarkText":
            parts.append(value)
        elif field.name == "offsets":
            parts.append(f"tuple([o + b for o in {value}])")
        elif written == "Span":
            parts.append(f"Span(f, {value}.start + b, {value}.end + b)")
        else:
            parts.append(f"shift({value}, f, b)")
    space = {"K": kind, "Span": Span, "shift": shift}
    exec(f"def move(v, f, b): return K({', '.join(parts)})", space)  # the text is made of field names only
    made: Mover = space["move"]  # type: ignore[assignment]
    return made
