"""Cloth with a direction, in a unit that is turned a quarter: its print lies on its side there."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.checks.wording import listed
from patternkit.model.pattern import Component
from patternkit.model.reach import quilt_pieces, unit_pieces
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.source import Span

CODES = ("directional-turned",)


def check(project: Project) -> Iterable[Problem]:
    """One piece of advice for each place where a quarter turn lays directional cloth on its side in the
    quilt.
    """
    pattern = project.pattern
    directional = {key for key, fabric in pattern.fabrics.items() if fabric.directional}
    if not directional or pattern.quilt is None:
        return
    found: dict[Span, tuple[Component, set[str]]] = {}
    seen: set[tuple[str, int, Span | None]] = set()
    waiting: list[tuple[Component, int, Component | None]] = [
        (p, 0, None) for p in quilt_pieces(pattern.quilt)
    ]
    while waiting:
        piece, turned, by = waiting.pop()
        if piece.unit not in pattern.units:
            continue
        by = piece if piece.turned else by
        turned = (turned + piece.turned) % 360
        if (piece.unit, turned, by.span if by else None) in seen:
            continue
        seen.add((piece.unit, turned, by.span if by else None))
        inner = list(unit_pieces(pattern, piece.unit))
        laid = {p.fabric for p in inner if p.fabric in directional}
        if laid and turned % 180 == 90 and by is not None:
            found.setdefault(by.span, (by, set()))[1].update(laid)
        waiting += [(p, turned, by) for p in inner]
    for span, (piece, fabrics) in sorted(found.items()):
        names = listed(sorted(fabrics))
        yield Problem(
            "directional-turned",
            f"{piece.name} turned {piece.turned} lays {names} on its side: the print of "
            f"{names} has a direction.",
            span,
            causes=(
                "A unit made for that place, with its directional pieces cut the other way, "
                "keeps the print upright.",
            ),
            advice=True,
        )
