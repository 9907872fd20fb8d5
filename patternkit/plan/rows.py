"""Rows of a quilt that hold the same and are pressed the same: one making, cut, sewn and shown once."""

from __future__ import annotations

import msgspec

from patternkit.piecing.keys import OwnKey
from patternkit.piecing.making import Making, Part, Placed
from patternkit.piecing.names import CENTRE, Name, What


def row_count(top: Making) -> int:
    """How many numbered rows a quilt has; none where its rows lie on the diagonal or have no numbers."""
    centre = _centre(top)
    return max((n for p in centre.parts for n in row_numbers(p.what)), default=0) if centre is not None else 0


def row_numbers(part: Part, what: What = "row") -> tuple[int, ...]:
    """The numbers of the rows that a part of the quilt's centre stands for; none of anything else, and none of rows of
    one content that are pressed apart, each of which is only some of them."""
    key = part.key if isinstance(part, Making) and not part.version else None
    return key.name.numbers if isinstance(key, OwnKey) and key.name.what == what and key.place is None else ()


def merge_rows(top: Making) -> Making:
    """The quilt with one object for all rows that are the same, under all their numbers.

    A layout gives each of its rows for itself, so that two of them may well be alike.
    """
    if top.key == OwnKey(CENTRE):
        return _merged(top)
    first = top.parts[0] if top.parts else None
    if first is None or not isinstance(first.what, Making) or first.what.role not in ("quilt", "centre", "border"):
        return top
    inner = merge_rows(first.what)
    if inner is first.what:
        return top
    return msgspec.structs.replace(top, parts=(msgspec.structs.replace(first, what=inner), *top.parts[1:]))


def _centre(top: Making) -> Making | None:
    while top.key != OwnKey(CENTRE):
        inner = top.parts[0].what if top.parts else None
        if not isinstance(inner, Making):
            return None
        top = inner
    return top


def _merged(centre: Making) -> Making:
    found: dict[object, list[Making]] = {}
    for part in centre.parts:
        if isinstance(part.what, Making) and row_numbers(part.what):
            same = found.setdefault(_sewn_as(part.what), [])
            if not any(row is part.what for row in same):
                same.append(part.what)
    merged: dict[int, Making] = {}
    for rows in found.values():
        if len(rows) > 1:
            numbers = sorted(n for row in rows for n in row_numbers(row))
            key = OwnKey(Name("row", tuple(numbers)))
            one = msgspec.structs.replace(rows[0], key=key)
            merged |= {id(row): one for row in rows}
    if not merged:
        return centre
    parts = tuple(Placed(merged.get(id(p.what), p.what), p.place, p.shown) for p in centre.parts)
    return msgspec.structs.replace(centre, parts=parts)


def _sewn_as(row: Making) -> object:
    """All of which a row's step consists: what lies where, and which way it is pressed."""
    what = tuple((id(p.what) if isinstance(p.what, Making) else p.what, p.place) for p in row.parts)
    return what, tuple((s.start, s.end, s.pressed, s.spun) for s in row.seams), row.recipe.cuts
