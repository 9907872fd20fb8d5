"""Cloth with a direction that does not lie upright: in a unit turned a quarter, on point, along the sides of a
border."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.english import listed
from patternkit.model.pattern import Component, Pattern, Quilt
from patternkit.model.reach import unit_pieces
from patternkit.piecing.prints import as_written
from patternkit.piecing.setting.pieced_border import name_of
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.source import Span

CODES = ("directional-turned",)

MOST_NAMED = 6  # fabrics that are named one by one


def check(project: Project) -> Iterable[Problem]:
    """One piece of advice for each place where a quarter turn lays directional cloth on its side in the quilt."""
    pattern = project.pattern
    directional = {key for key, fabric in pattern.fabrics.items() if fabric.directional}
    if not directional or pattern.quilt is None:
        return
    for quilt in pattern.quilts:
        yield from _cornerwise(quilt, pattern, directional)
    yield from _across(project, directional)
    yield from _behind(project, directional)
    found: dict[Span, tuple[Component, set[str]]] = {}
    seen: set[tuple[str, int, Span | None]] = set()
    waiting: list[tuple[Component, int, Component | None]] = [(p, 0, None) for p in pattern.quilt.pieces]
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
        names = listed(sorted(set(map(as_written, fabrics))), MOST_NAMED)
        yield Problem(
            "directional-turned",
            f"{piece.name} turned {piece.turned} lays {names} on its side: the print of {names} has a direction.",
            span,
            causes=(
                "A unit made for that place, with its directional pieces cut the other way, keeps the print upright.",
            ),
            advice=True,
        )


def _cornerwise(quilt: Quilt, pattern: Pattern, directional: set[str]) -> Iterable[Problem]:
    """Blocks on point: their patches lie cornerwise, and those of the triangles four ways."""
    if quilt.setting is None or not quilt.on_point:
        return
    reached, waiting = set[str](), [piece for row in quilt.rows for piece in row.pieces]
    if quilt.sashing is not None and quilt.sashing.piece is not None:
        waiting.append(quilt.sashing.piece)
    laid = {p.fabric for p in waiting} & directional
    while waiting:
        piece = waiting.pop()
        if piece.unit in pattern.units and piece.unit not in reached:
            reached.add(piece.unit)
            inner = list(unit_pieces(pattern, piece.unit))
            laid |= {p.fabric for p in inner} & directional
            waiting += inner
    if laid:
        names = listed(sorted(laid), MOST_NAMED)
        yield Problem(
            "directional-turned",
            f"On point {names} lies cornerwise: the print of {names} has a direction.",
            quilt.setting.span,
            causes=("Cloth without a direction looks alike on point; or leave it, if it is meant.",),
            advice=True,
        )


def _across(project: Project, directional: set[str]) -> Iterable[Problem]:
    """Border sides that are joined from strips across the cloth: there the print lies on its side."""
    borders = project.pattern.quilt.borders if project.pattern.quilt is not None else ()
    for long in project.draft[0].long_strips if borders and project.top is not None else ():
        for edge in borders if long.fabric in directional else ():
            if any(use == name_of(edge, "sides") for *_, use in long.lengths):
                yield Problem(
                    "directional-turned",
                    f"The sides of {edge.called} are joined from strips across the cloth, so that {long.fabric} "
                    f"lies on its "
                    f"side there: the print of {long.fabric} has a direction.",
                    edge.span,
                    causes=(
                        "With lengthwise the sides are cut along the cloth, upright, and top and bottom "
                        "lie on their side.",
                    ),
                    advice=True,
                )


def _behind(project: Project, directional: set[str]) -> Iterable[Problem]:
    """A backing whose panels are said to lie across the quilt, and a strip in it that is cut across its cloth."""
    quilt, back = project.pattern.quilt, project.draft[0].backing
    for finish in quilt.finishing if quilt is not None and back is not None else ():
        if finish.word != "backing" or back is None:
            continue
        turned = "seams horizontal" in finish.words
        names = [back.fabric] if turned and back.fabric in directional else []
        if back.strip is not None and back.strip.fabric in directional and not turned:
            names.append(back.strip.fabric)
        for name in names:
            way = "the panels lie across the quilt" if name == back.fabric else "the strip is cut across its cloth"
            yield Problem(
                "directional-turned",
                f"In the backing {way}, so that {name} lies on its side: the print of {name} has a direction.",
                finish.span,
                causes=("With vertical seams the panels of a backing lie upright, and a strip in it on its side.",),
                advice=True,
            )
