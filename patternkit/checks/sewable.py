"""Pieces too small to sew, or with no size left at all."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.lengths import Length
from patternkit.piecing.making import Cloth
from patternkit.piecing.prints import as_written
from patternkit.piecing.unknowns import Unknown, of_block, of_piece, of_unit
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.source import Span
from patternkit.units import show

NEEDS_SIZES = True
CODES = ("too-small", "narrow-piece")


def check(project: Project) -> Iterable[Problem]:
    """A finished size of nothing or less is a problem; a patch narrower than a seam allowance is worth a warning."""
    pattern, sizing = project.pattern, project.sizing
    units = pattern.settings.units
    reported: set[tuple[str, str | int]] = set()
    for var, span in _vars(project):
        value = project.solution.value(var)
        if value is None or (var.owner, var.part) in reported:
            continue
        size = value.value(pattern.parameters)
        if size <= 0:
            reported.add((var.owner, var.part))
            yield Problem(
                "too-small",
                f"{sizing.name(var)} would finish {show(size, units)}: there is nothing left of it.",
                span,
                causes=("Its size follows from the sizes around it, which take up all the room.",),
            )
    known = project.kept("narrowest")
    for key, making in project.makings.items():
        unit = pattern.units[key]
        if making not in known:
            known[making] = [
                (part.what, n)
                for part in making.parts
                if isinstance(part.what, Cloth)
                and len(part.what.outline) == 4
                and (n := _narrow(part.what)) is not None
            ]
        for cloth, narrow in known[making]:
            if narrow < pattern.settings.seam and (key, "") not in reported:
                reported.add((key, ""))
                yield Problem(
                    "narrow-piece",
                    f"A piece of {as_written(cloth.fabric)} in {unit.name} shows only "
                    f"{show(narrow, units)}, less than a seam allowance.",
                    unit.kind_span,
                    causes=(
                        "The allowances on its two sides lie over each other, and the next seam is sewn through both.",
                    ),
                    advice=True,
                )


def _vars(project: Project) -> Iterable[tuple[Unknown, Span]]:
    for unit in project.pattern.units.values():
        if unit.key in project.makings:
            continue  # whatever could be made has no size of nothing in it
        for side in ("w", "h"):
            yield of_unit(unit.key, side), unit.span
        for row in unit.rows:
            for piece in row.pieces:
                if piece.fabric:
                    for side in ("w", "h"):
                        yield of_piece(unit.key, piece.slot, side), piece.span
        own = [var for var in project.sizing.names if var.owner == unit.key and var.side not in ("w", "h")]
        yield from ((var, unit.span) for var in own if var.sort in ("unit", "piece"))  # a log's width, a radius
    quilt = project.pattern.quilt
    if quilt is not None and project.top is None:
        for piece in (p for row in quilt.rows for p in row.pieces if p.fabric):
            for side in ("w", "h"):
                yield of_block(piece.slot, side), piece.span


def _narrow(cloth: Cloth) -> Length | None:
    xs, ys = {p[0] for p in cloth.outline}, {p[1] for p in cloth.outline}
    if len(xs) != 2 or len(ys) != 2:
        return None
    return min(max(xs) - min(xs), max(ys) - min(ys))
