"""Shapes that straight joining can't take: units that are no rectangles among others, and seams that are set in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from patternkit.model.pattern import Component
from patternkit.piecing.kinds import kind_of
from patternkit.piecing.making import Making
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.syntax.words import LAID_SHAPES

NEEDS_SIZES = True
CODES = ("not-a-rectangle", "set-in-seam")


def check(project: Project) -> Iterable[Problem]:
    """A problem for each use of a unit with slanting outer edges in a row, a grid or as a centre; advice for each unit
    with set-in seams."""
    from patternkit.piecing.templates import is_rectangle

    pattern, reported, known = project.pattern, set(), project.kept("rectangles")
    for owner, piece in _uses(project):
        making = project.makings.get(piece.unit)
        if making is None or piece.unit in reported:
            continue
        if making not in known:
            known[making] = is_rectangle(making.outline)
        if known[making]:
            continue
        reported.add(piece.unit)
        yield Problem(
            "not-a-rectangle",
            f"{piece.name} is no rectangle, and {owner} joins its pieces along straight edges.",
            piece.span,
            causes=(f"{_sort(making)} leaves gaps beside it.",),
            repairs=(Repair(_way_out(piece.name, making)),),
        )
    for key, making in project.makings.items():
        count = sum(s.set_in for s in making.seams)
        if count:
            unit = pattern.units[key]
            seams = "a set-in seam" if count == 1 else f"{count} set-in seams"
            yield Problem(
                "set-in-seam",
                f"{unit.role.capitalize()} {unit.name} has {seams}: "
                + (
                    "each is sewn edge by edge, from dot to dot."
                    if any(len(s.path) > 3 for s in making.seams if s.set_in)
                    else "each is sewn in two parts, from the inner corner outward."
                ),
                unit.method.span if unit.method is not None else unit.kind_span,
                causes=("A set-in seam stops and starts one seam allowance from the edge.",),
                advice=True,
            )


def _way_out(name: str, making: Making) -> str:
    """What to write instead for a unit of an outline of its own."""
    if making.kind in LAID_SHAPES or making.kind == "plate":
        return f"lay it on a patch, or on any unit: applique {name.lower()} at 3 x 3 under that"
    if making.kind == "tumbling-block":
        return f"let it stand in a field of hexagons, with background and a fabric: hexagons, {name.lower()}"
    return "square it off with background corners, or join shapes to a row with a line ends half, sky"


def _sort(making: Making) -> str:
    """What a unit of an outline of its own is called."""
    slanted = making.recipe.method.in_strips
    return "A segment that is cut on the slant" if slanted else f"A {making.kind} of its own outline"


def _uses(project: Project) -> Iterator[tuple[str, Component]]:
    """Every piece that is joined along straight edges, with what joins it."""
    for unit in project.pattern.units.values():
        kind = kind_of(unit.kind)
        if kind is not None and not kind.shapes:
            for row in unit.rows:
                yield from ((f"{unit.role} {unit.name}", piece) for piece in row.pieces)
    for quilt in project.pattern.quilts:
        for row in quilt.rows:
            yield from ((quilt.called, piece) for piece in row.pieces)
        for edge in quilt.frames:
            own = f"the {edge.word}" if not quilt.of else f"the {edge.word} of {quilt.of}"
            yield from ((own, p) for p in (*edge.sequence, edge.piece, edge.corner) if p is not None)
