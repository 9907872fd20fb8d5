"""Sizes that nobody gave: which unit, what mentions it, and what would settle it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from patternkit.english import sentence
from patternkit.model.pattern import Pattern, Unit
from patternkit.piecing.sizing import SIDES as WAYS
from patternkit.piecing.unknowns import Unknown
from patternkit.problems import Label, Problem, Repair
from patternkit.project import Project
from patternkit.sizes.causes import Cause, Var
from patternkit.source import NOWHERE, Span

if TYPE_CHECKING:
    from patternkit.sizes.open_sizes import FreeGroup
    from patternkit.sizes.wording import Wording

CODES = ("size-unknown",)

SIDES = {"w": "width", "h": "height"}
MOST_LABELS = 4
HOW_GIVEN = "A size is said under the unit, by finished 6 x 4 (or finished 4 high), or beside a piece, by its width."


def check(project: Project) -> Iterable[Problem]:
    """One problem for each group of sizes that hang together, unless something in it could not be read."""
    if not project.solution.open_sizes():
        return
    from patternkit.sizes.wording import Wording

    pattern, sizing = project.pattern, project.sizing
    silent = {key for key, unit in pattern.units.items() if unit.broken or unit.unsized} | {""}
    wrong = {p.span for p in sizing.problems if not p.advice}
    silent |= {key for key, unit in pattern.units.items() if any(_meets(at, s) for at in _lines(unit) for s in wrong)}

    def rank(var: Var) -> int:
        return 0 if isinstance(var, Unknown) and _unit(var) and var.side in SIDES else 1

    wording = Wording(pattern.settings.units, lambda var: _name(project, var), asked=lambda var: _asked(project, var))
    for group in project.solution.free(rank):
        owners = {_unit(v) for v in group.sizes} | {_unit(v) for c in group.mentions for _, v in c.parts}
        if not owners & silent or (pattern.quilt is not None and not pattern.quilt.broken and owners & silent == {""}):
            yield _problem(pattern, group, wording)


def _lines(unit: Unit) -> list[Span]:
    """The lines that say what a unit is made of, and how."""
    return [unit.kind_span, *(row.span for row in unit.rows), *(o.span for o in unit.options)]


def _meets(a: Span, b: Span) -> bool:
    return a.file == b.file and a.start <= b.end and b.start <= a.end


def _unit(var: Var) -> str:
    """The key of the unit that a size belongs to; empty for the quilt."""
    return var.owner if isinstance(var, Unknown) and var.sort in ("unit", "piece") else ""


def _problem(pattern: Pattern, group: FreeGroup, wording: Wording) -> Problem:
    from patternkit.sizes.open_words import render_open

    words = render_open(group, wording)
    first = next((_unit(v) for v in group.resolves if _unit(v) in pattern.units), "")
    span = pattern.units[first].span if first else next((c.span for c in group.mentions), NOWHERE)
    places: dict[Span, Cause] = {}
    for cause in words.mentions:
        if cause.span != span:
            places.setdefault(cause.span, cause)
    labels = tuple(Label(c.span, c.text) for c in list(places.values())[:MOST_LABELS])
    return Problem(
        "size-unknown", sentence(words.message), span, labels, (HOW_GIVEN,), tuple(Repair(s) for s in words.remedies)
    )


def _name(project: Project, var: Var) -> str:
    assert isinstance(var, Unknown)
    name = project.sizing.name(var)
    return f"the {SIDES[var.side]} of {name}" if var.side in SIDES else name


def _asked(project: Project, var: Var) -> str:
    """The question that the width or height of a thing answers."""
    assert isinstance(var, Unknown)
    return f"how {WAYS[var.side]} {project.sizing.name(var)}{_beside(project, var)} is" if var.side in WAYS else ""


def _beside(project: Project, var: Unknown) -> str:
    """Which piece of its unit's rows is meant, by the one that lies beside it; nothing of what is no such piece."""
    unit = project.pattern.units.get(var.owner) if var.sort == "piece" else None
    if unit is None or not any(len(row.pieces) > 1 for row in unit.rows):
        return ""
    for number, row in enumerate(unit.rows, 1):
        for n, piece in enumerate(row.pieces):
            if piece.slot != var.part:
                continue
            where = f" in row {number} of {unit.name}" if len(unit.rows) > 1 else f" in {unit.name}"
            beside = row.pieces[n - 1] if n else row.pieces[1] if len(row.pieces) > 1 else None
            return f", beside {beside.name}{where}," if beside is not None else f",{where},"
    return ""
