"""Pieces of a unit that is cut apart which are left over although they look like one that is used more often."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from patternkit.english import listed
from patternkit.piecing.making import Making
from patternkit.piecing.reflect import corner_place, patches
from patternkit.plan.counts import Count
from patternkit.problems import Problem
from patternkit.project import Project

NEEDS_SIZES = True
CODES = ("pieces-alike",)


def check(project: Project) -> Iterable[Problem]:
    """Advice for each cutting of which fewer units would do if pieces that look alike were used by turns."""
    if not project.pattern.as_written or project.top is None:
        return
    if all(unit.kind != "cut-apart" for unit in project.pattern.units.values()):
        return
    pieces = [count for count in project.draft[0].counts if count.making.recipe.apart is not None]
    if not pieces:
        return
    from patternkit.piecing.apart import cutting_of  # only a unit that is cut apart needs it

    cuttings: dict[object, list[Count]] = {}
    for count in pieces:
        cuttings.setdefault(cutting_of(count.making), []).append(count)
    for counts in cuttings.values():
        yield from _of_one(counts, project)


def _of_one(counts: list[Count], project: Project) -> Iterator[Problem]:
    from patternkit.piecing.apart import all_pieces

    used = {str(c.making.key): c.needed for c in counts}
    busy = max(counts, key=lambda c: c.needed)
    unit = project.pattern.units.get(busy.making.key.of)
    if unit is None:
        return
    alike = []
    for piece in all_pieces(busy.making):
        turn = _turn(piece, busy.making)
        if turn is not None and used.get(str(piece.key), 0) < busy.needed:
            alike.append((piece, turn))
    total = busy.needed + sum(used.get(str(p.key), 0) for p, _ in alike)
    known = {str(p.key) for p, _ in alike}
    others = max((c.needed for c in counts if c is not busy and str(c.making.key) not in known), default=0)
    least = max(-(-total // (len(alike) + 1)), others)
    if least >= busy.needed:
        return
    called = [f"{p.key}{f' turned {turn}' if turn else ''}" for p, turn in alike]
    yield Problem(
        "pieces-alike",
        f"{busy.needed} of {unit.rows[0].pieces[0].name} are cut apart because {busy.making.key} is used "
        f"{busy.needed} times; {least} would do.",
        unit.kind_span,
        causes=(f"{listed(called)} {'looks' if len(called) == 1 else 'look'} the same, and can lie in its place.",),
        advice=True,
    )


def _turn(piece: Making, other: Making) -> int | None:
    """By how much a piece is turned to look like another, exactly; None where it is that one, or never does."""
    if piece.key == other.key:
        return None
    shows = patches(other)
    return next((t for t in (0, 90, 180, 270) if patches(piece, corner_place(piece.outline, t)) == shows), None)
