"""Strip units that are cut in pairs: two that lie on each other seam on seam, and segments that are sewn so."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from patternkit.model.pattern import Unit
from patternkit.piecing.kinds.slanted import STRAIGHT, angle_of
from patternkit.piecing.making import Making, made_from
from patternkit.piecing.pairs import ends_on, joined_pairs, nests, partner_of
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.units import show

NEEDS_SIZES = True
CODES = ("pairs-differ",)
WRITTEN = "It is written method paired with light-row: another unit of strips, with which each segment is joined."


def check(project: Project) -> Iterable[Problem]:
    """A problem for each unit whose segments can't be cut and sewn in pairs with those of the unit that is named."""
    units = project.pattern.units
    for unit in units.values():
        name = partner_of(unit)
        if not name or unit.shifted_from:
            continue
        other = units.get(name)
        if other is None or other is unit or other.kind != "strips" or angle_of(other) != STRAIGHT:
            what = "itself" if other is unit else f"{name}, which is no unit of strips that is cut straight across"
            yield _problem(unit, f"{_called(unit)} is paired with {what}.", WRITTEN)
        else:
            yield from _held(unit, other, project)


def _held(unit: Unit, other: Unit, project: Project) -> Iterator[Problem]:
    one, two = project.makings.get(unit.key), project.makings.get(other.key)
    if one is None or two is None or project.pressed_top is None:
        return
    names = f"{unit.name} and {other.name}"
    sizes = [show(m.height, project.pattern.settings.units) for m in (one, two)]
    if one.height != two.height or len(one.parts) != len(two.parts):
        same = "as many strips" if one.height == two.height else "segments of one width"
        yield _problem(
            unit,
            f"Strip units of {names} do not have {same}, and can't be cut in pairs.",
            f"{unit.name} has {len(one.parts)} strips and segments that finish {sizes[0]}, "
            f"{other.name} {len(two.parts)} and {sizes[1]}.",
        )
        return
    needed = {c.making.key.of: c.needed for c in project.quick_plan[0].counts}
    wanted = [needed.get(u.key, 0) for u in (unit, other)]
    if not any(wanted):
        return
    if wanted[0] != wanted[1]:
        text = f"The quilt takes {wanted[0]} of {unit.name} and {wanted[1]} of {other.name}, so that not all are pairs."
        yield _problem(unit, text, "Pairs are sewn as they lie: one segment of each.")
        return
    yield from _joined(unit, other, project.pressed_top)


def _joined(unit: Unit, other: Unit, top: Making) -> Iterator[Problem]:
    """Whether segments are joined in pairs, seam on seam, and allowances nest."""
    found = False
    for making in _all(top, {}):
        for seam, a, b in joined_pairs(making, unit.key, other.key):
            found = True
            ours, theirs = ends_on(seam, a), ends_on(seam, b)
            if set(ours) != set(theirs):
                yield _problem(
                    unit,
                    f"In {making.called}, the seams of {unit.name} and {other.name} do not meet.",
                    "Strip units that are cut in pairs lie on each other seam on seam.",
                )
                return
            if not all(nests(ours[p], theirs[p]) for p in ours):
                yield _problem(
                    unit,
                    f"In {making.called}, seams of {unit.name} and {other.name} are pressed alike, and do not nest.",
                    "Strip units that are cut in pairs are pressed to opposite sides.",
                )
                return
    if not found:
        yield _problem(
            unit,
            f"Segments of {unit.name} and {other.name} are joined to each other in no unit.",
            "Pairs are sewn as they lie, along the cut edge: row or column with both, one behind the other.",
        )


def _all(making: Making, seen: dict[int, Making]) -> Iterator[Making]:
    if id(making) in seen:
        return
    seen[id(making)] = making
    yield making
    for inner in made_from(making):
        yield from _all(inner, seen)


def _called(unit: Unit) -> str:
    return f"{unit.role.capitalize()} {unit.name}"


def _problem(unit: Unit, text: str, why: str) -> Problem:
    assert unit.method is not None
    repair = Repair("leave out the method: each strip unit is then cut by itself")
    return Problem("pairs-differ", text, unit.method.span, causes=(why,), repairs=(repair,))
