"""A four-patch or nine-patch of which one patch is sized, and whose own size would be that of equal patches but for
their seam allowances."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from patternkit.lengths import Length
from patternkit.model.pattern import Claim, Component, Unit
from patternkit.piecing.alike_patches import is_plain_grid
from patternkit.piecing.shapes import all_squares, opening
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.units import number, show

NEEDS_SIZES = True
CODES = ("patches-differ",)

WORD = {"w": "wide", "h": "high"}


def check(project: Project) -> Iterable[Problem]:
    """One problem for each grid of patches that is said to be larger or smaller than its equal patches make it, by no
    more than their seams: a sum in which seams were left out or counted twice."""
    for unit in project.pattern.units.values():
        if is_plain_grid(unit, project.pattern):
            for side in ("w", "h"):
                problem = _unlike(project, unit, side)
                if problem is not None:
                    yield problem
                    break


def _unlike(project: Project, unit: Unit, side: Literal["w", "h"]) -> Problem | None:
    sizing, index = project.sizing, "wh".index(side)
    sized: set[Length] = set()
    bare: dict[str, Length] = {}
    name = ""
    for row in unit.rows:
        for piece in row.pieces:
            value = project.solution.value(sizing.size_of(unit, piece)[index])
            if value is None:
                return None
            size = value.value(project.pattern.parameters)
            if _is_sized(project, piece, side, all_squares(row.pieces)):
                sized.add(size)
                name = name or piece.name
            else:
                bare.setdefault(piece.name, size)
    whole = project.solution.value(sizing.outer(unit)[index])
    if len(sized) != 1 or whole is None or set(bare.values()) <= sized:
        return None
    own, n = next(iter(sized)), len(unit.rows[0].pieces) if side == "w" else len(unit.rows)
    off = whole.value(project.pattern.parameters) - own * n
    if not off or abs(off) > project.pattern.settings.seam * 2 * n:
        return None
    return _problem(project, unit, side, own, n, off, name, {k: v for k, v in bare.items() if v != own})


def _is_sized(project: Project, piece: Component, side: str, squares: bool) -> bool:
    """Whether a size of a patch is stated, beside it or under the unit that it is."""
    if piece.width is not None:
        return side == "w" or piece.height is not None or squares
    if not piece.unit:
        return False
    unit = project.pattern.units[piece.unit]
    return bool(unit.claims) or any(p.width is not None for row in unit.rows for p in row.pieces)


def _problem(
    project: Project, unit: Unit, side: str, own: Length, n: int, off: Length, name: str, bare: dict[str, Length]
) -> Problem:
    units, seams = project.pattern.settings.units, project.pattern.settings.seam * 2
    claim = next((c for c in unit.claims if c.side in ("", side)), None)
    other, size = next(iter(bare.items()))
    beside = f"{other} {number(size, units)}" if side == "w" else f"{other} WIDTH x {number(size, units)}"
    return Problem(
        "patches-differ",
        f"{opening(unit)} is {show(own * n + off, units)} {WORD[side]}; with all its patches as {WORD[side]} as "
        f"{name}, {show(own, units)}, it is {show(own * n, units)}.",
        claim.span if claim is not None else unit.kind_span,
        causes=(
            f"As it is said, {other} would be {show(size, units)} {WORD[side]}.",
            f"With seams {n} such patches measure {show(own * n + seams, units)} when they are sewn together.",
            f"Where they are not meant to be alike, a size beside one of them says so: {beside}.",
        ),
        repairs=_repairs(project, claim, side, own * n),
    )


def _repairs(project: Project, claim: Claim | None, side: str, whole: Length) -> tuple[Repair, ...]:
    if claim is None or claim.word not in ("finished", "measures"):
        return ()
    size = whole + project.pattern.settings.seam * 2 if claim.word == "measures" else whole
    text = number(size, project.pattern.settings.units)
    place = claim.numbers[0 if side == "w" or claim.height is None else 1]
    return (Repair(f"write {claim.word} {text}", place, text if place is not None else None),)
