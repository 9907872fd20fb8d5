"""Pieces that are sewn together as they are drawn: shapes cut by template, triangles, things that are sewn already."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from patternkit.piecing.batch import Action, Batch, Join, Piece
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.cloths import parts_of
from patternkit.piecing.sewing.desk import Desk, Part
from patternkit.piecing.templates import is_rectangle

TRIANGLES = ("half", "quarter")


def as_drawn(
    making: Making, desk: Desk, *, trimmed: bool = False, ending: Sequence[Action] = ()
) -> list[tuple[Batch, int]]:
    """All pieces of one unit, seam by seam, as often as the unit is made; `ending` is how it is trimmed.

    `trimmed` says that the tips of templates are trimmed so that raw edges meet.
    """
    parts, recipe = parts_of(making, desk), making.recipe
    seams: list[Action] = [j for n in range(len(making.seams)) for j in joins(making, n, parts, desk, trimmed=trimmed)]
    measured = [desk.measure(making)] if is_rectangle(making.outline) else []
    passages = [(recipe.method.phrase, seams), ("trim", ending), ("measure", measured)]
    found = desk.batch([p.use for p in parts], passages, [(desk.thing(making), 1)])
    return [(found, desk.needed if recipe.one_by_one else desk.times * recipe.yields)]


def joins(making: Making, n: int, parts: Sequence[Part], desk: Desk, *, trimmed: bool = False) -> list[Join]:
    """A seam of a making as joins, one for each straight piece of it.

    Edges that end square meet raw edge to raw edge. The tips of triangles that are cut from squares or rectangles cross
    the other edge evenly; trimmed templates meet raw edge to raw edge; others by the ends of their seam lines. A seam
    stops a seam allowance before a corner into which it is set, or into which a later one is.
    """
    seam, found = making.seams[n], list[Join]()
    path = seam.path or (seam.start, seam.end)
    bends = {p for later in making.seams[n:] for p in later.path[1:-1]}
    for i, join in enumerate(desk.joins(seam, parts)):
        # the left side lies clockwise: it begins where the line ends
        stop, start = ("seam" if p in bends else "edge" for p in path[i : i + 2])
        new = msgspec.structs.replace(join, start=start, stop=stop)
        if "seam" in (start, stop):
            new = msgspec.structs.replace(new, fit="points", ears=True)
        elif join.fit == "points":
            new = _tips(new, parts, trimmed)
        found.append(new)
    return found


def _tips(join: Join, parts: Sequence[Part], trimmed: bool) -> Join:
    """How edges meet that do not end square."""
    items = [parts[e.part].use.item for e in (*join.left, *join.right)]
    if any(isinstance(item, Piece) and item.form in TRIANGLES for item in items):
        return msgspec.structs.replace(join, fit="crossed")
    whole = all(isinstance(item, Piece) for item in items)  # what is sewn already keeps its points
    return msgspec.structs.replace(join, fit="level", ears=False) if trimmed and whole else join
