"""``cut 31 of 2 x 9 1/4``, ``cut 6 squares 7 1/4, twice`` against the pieces that the quilt, or one unit, takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import msgspec

from patternkit.checks.claims.cut_words import (
    CORNERS,
    Sides,
    Summed,
    called_size,
    claimed_sides,
    flat,
    from_each_print,
    is_strips,
    sheets_of,
    sides,
    summed,
    uses,
    written_size,
)
from patternkit.english import listed
from patternkit.model.cut_lines import ClaimedCut
from patternkit.model.pattern import Pattern, Unit
from patternkit.plan.model import CutLine
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.units import Units, number

NEEDS_SIZES = True
COUNTS_ALL = True
CODES = ("pieces-differ", "pieces-more")

FROM_TEMPLATES = ("template", "bias")
CUT_LARGER = ("half-square", "quarter-square", "half-rectangle")
"""Kinds whose squares are cut as a line `cut` under them says, and trimmed."""


class Wants(msgspec.Struct, frozen=True):
    """What is cut of a fabric: its lines, for the whole quilt or for one unit, which is `called` so.

    `shares` are the lines of all of that unit that the quilt needs, and how many these are: a claim may be the share of
    one. `larger` is True of a unit that may be cut larger by a line of its own.
    """

    lines: tuple[CutLine, ...]
    called: str
    shares: tuple[tuple[CutLine, ...], int] | None = None
    larger: bool = False


def check(project: Project) -> Iterable[Problem]:
    """Too few are a problem, and so is a size that nothing is cut; more than are needed are worth knowing. The numbers
    in a file are those of the pattern as written."""
    pattern = project.pattern
    if not pattern.as_written or project.colourway or project.top is None:
        return
    for key, fabric in pattern.fabrics.items():
        if fabric.cuts:
            lines = tuple(x for x in project.quick_plan[0].lines if pattern.fabrics[x.fabric].is_of(key))
            for each in (False, True):
                lines = from_each_print(lines, key, project) if each else lines
                claims = [c for c in flat(x for x in fabric.cuts if x.each == each) if not is_strips(c, pattern)]
                yield from _held(claims, Wants(lines, ""), project, sheets_of(project, key) if each else 1)
    for unit in pattern.units.values():
        if unit.cuts:
            yield from _of_unit(unit, project)


def _of_unit(unit: Unit, project: Project) -> Iterator[Problem]:
    """The claims of a unit, for one of it."""
    from patternkit.plan.draft import draft_plan

    making, pattern = project.makings.get(unit.key), project.pattern
    if making is None:
        return
    used = sum(c.needed for c in project.draft[0].counts if c.making.key.of == unit.key)
    one = draft_plan(pattern, None, [(making, 1)])[0].lines
    all_of_them = draft_plan(pattern, None, [(making, used)])[0].lines if used > 1 else one
    claims = [c for c in flat(unit.cuts) if not is_strips(c, pattern)]
    for key in dict.fromkeys(c.fabric for c in claims):
        own = tuple(x for x in one if x.fabric == key)
        shares = tuple(x for x in all_of_them if x.fabric == key), max(used, 1)
        wants = Wants(own, f"one {unit.name}", shares, unit.kind in CUT_LARGER)
        yield from _held([c for c in claims if c.fabric == key], wants, project)


def _held(claims: Sequence[ClaimedCut], wants: Wants, project: Project, sheets: int = 1) -> Iterator[Problem]:
    """Claims of one fabric, those of one size added up."""
    groups: dict[tuple[Sides, str], list[ClaimedCut]] = {}
    for cut in claims:
        groups.setdefault((claimed_sides(cut, project.pattern), cut.corners), []).append(cut)
    for (size, corners), cuts in groups.items():
        apart = {CORNERS[other] for (s, other) in groups if s == size and other and not corners}
        yield from _one_size(size, corners, cuts, apart, wants, project, sheets)


def _one_size(
    size: Sides,
    corners: str,
    cuts: Sequence[ClaimedCut],
    apart: set[str],
    wants: Wants,
    project: Project,
    sheets: int,
) -> Iterator[Problem]:
    stated = summed(cuts, sheets)
    own = [x for x in _of_size(wants.lines, size) if x.cut.then not in apart]
    lines = [x for x in own if not corners or x.cut.then == CORNERS[corners]]
    if not lines:
        yield _nothing(size, cuts[0], stated, own, wants, project)
        return
    needed = most = sum(x.count for x in lines)
    if wants.shares is not None:
        shared, times = wants.shares
        wanted = sum(x.count for x in _of_size(shared, size) if not corners or x.cut.then == CORNERS[corners])
        needed = min(needed, -(-wanted // times))
    pattern, units = project.pattern, project.pattern.settings.units
    title = pattern.fabrics[cuts[0].fabric].title
    what = f"{called_size(size, units)} of {title}"
    where = f" for {wants.called}" if wants.called else ""
    causes = tuple(uses(lines)) if not wants.called else ()
    if sheets > 1:
        causes = (f"{sheets} sheets with {stated.count // sheets} from each give {stated.count}.", *causes)
    if stated.count < needed:
        yield Problem(
            "pieces-differ",
            f"{stated.count} of {what} {_is(stated.count)} too few{where}: {needed} {_is(needed)} needed.",
            stated.spans[0],
            stated.labels,
            causes,
            stated.instead(most),
        )
    elif stated.count > most and (sheets == 1 or stated.count - most >= stated.count // sheets):
        more = stated.count - most
        yield Problem(
            "pieces-more",
            f"{stated.count} of {what} {_is(stated.count)} said to be cut{where}, {more} more than {_is(most)} needed.",
            stated.spans[0],
            stated.labels,
            causes,
            stated.instead(most),
            advice=True,
        )


def _is(number: int) -> str:
    return "is" if number == 1 else "are"


def _of_size(lines: Iterable[CutLine], size: Sides) -> list[CutLine]:
    """The lines that are cut to a size; where none is, those of which it is the size before rounding."""
    flat = [x for x in lines if x.cut.then not in ("strip", *FROM_TEMPLATES) and not x.per_strip]
    cut = [x for x in flat if sides(x.cut.width, x.cut.height) == size]
    return cut or [x for x in flat if sides(x.cut.exact_width, x.cut.exact_height) == size]


def _nothing(
    size: Sides, cut: ClaimedCut, stated: Summed, same: Sequence[CutLine], wants: Wants, project: Project
) -> Problem:
    """Nothing is cut to this size, or not so: say what is."""
    units, title = project.pattern.settings.units, project.pattern.fabrics[cut.fabric].title
    where = f" for {wants.called}" if wants.called else ""
    if same:
        causes = _other_ways(same)
        return Problem(
            "pieces-differ",
            f"Nothing of {title} is cut {called_size(size, units)} and then {cut.corners} corner to corner{where}.",
            cut.span,
            stated.labels,
            tuple(causes),
        )
    near = _nearest(size, cut, wants.lines)
    alike = [x for x in near if set(x[0]) & set(size) or x[1] == cut.count or _close(x[0], size)]
    causes = [f"{n} of {called_size(own, units)} are cut for {listed(names, 4)}." for own, n, names in near]
    repairs = [_rewritten(cut, own, n, project.pattern) for own, n, _ in alike[:1] if stated.number is not None]
    if near and wants.larger and not cut.corners and min(size) > min(near[0][0]) and max(size) > max(near[0][0]):
        text = written_size(size, units)
        repairs.append(Repair(f"write cut {text} alone, if it is cut that large and trimmed", cut.span, text))
    return Problem(
        "pieces-differ",
        f"Nothing of {title} is cut {called_size(size, units)}{where}.",
        cut.span,
        stated.labels,
        (*causes, *_in_strips(size, wants.lines, units)) or _strips_only(wants.lines, title),
        tuple(repairs),
    )


def _close(own: Sides, size: Sides) -> bool:
    """Whether each side of a piece is no more than a quarter off."""
    return all(abs(float(a) - float(b)) <= float(b) / 4 for a, b in zip(own, size, strict=True))


def _in_strips(size: Sides, lines: Sequence[CutLine], units: Units) -> tuple[str, ...]:
    """That patches of a size are cut with the strips that they are sewn of."""
    n = sum(x.count for x in lines if x.cut.then == "strip" and min(x.cut.width, x.cut.height) == size[0])
    if not n:
        return ()
    strips = "strip is" if n == 1 else "strips are"
    claim = f"cut {n} {'strip' if n == 1 else 'strips'} {number(size[0], units)}"
    return (f"{n} {strips} cut {called_size(size, units)} wide, and across once they are sewn, claimed by {claim}.",)


def _other_ways(same: Sequence[CutLine]) -> list[str]:
    """What happens to pieces of a size that is claimed to be cut corner to corner in another way."""
    causes = []
    for then, way in (("", ""), ("half", " once"), ("quarter", " twice")):
        own = [x for x in same if x.cut.then == then]
        n = sum(x.count for x in own)
        if own:
            done = f"cut corner to corner{way}" if way else "sewn as they are cut"
            causes.append(f"The {n} of that size for {listed([x.label for x in own], 4)} are {done}.")
    return causes


def _strips_only(lines: Sequence[CutLine], title: str) -> tuple[str, ...]:
    if any(x.cut.then == "template" or x.per_strip for x in lines):
        return (f"Pieces of {title} are cut by templates, and are claimed by no size.",)
    if any(x.cut.then == "strip" for x in lines):
        return (f"Only strips are cut of {title}: they are claimed by cut 12 strips 2 1/2.",)
    return ()


def _nearest(size: Sides, cut: ClaimedCut, lines: Sequence[CutLine]) -> list[tuple[Sides, int, list[str]]]:
    """Sizes near to one that is claimed, the nearest first, with how many of each are cut and for what: one that shares
    a side or the count comes before others."""
    found: dict[Sides, tuple[int, list[str]]] = {}
    for x in lines:
        if x.cut.then not in ("strip", *FROM_TEMPLATES) and not x.per_strip:
            own = sides(x.cut.width, x.cut.height)
            n, names = found.get(own, (0, []))
            found[own] = n + x.count, list(dict.fromkeys((*names, x.label)))

    def distance(own: Sides) -> tuple[bool, float]:
        apart = abs(float(own[0] - size[0])) + abs(float(own[1] - size[1]))
        return found[own][0] != cut.count and not set(own) & set(size), apart

    return [(own, *found[own]) for own in sorted(found, key=distance)[:3]]


def _rewritten(cut: ClaimedCut, size: Sides, count: int, pattern: Pattern) -> Repair:
    """The claim with a size and a count that are cut."""
    noun = "of" if cut.noun != "squares" or size[0] != size[1] else "square" if count == 1 else "squares"
    text = f"{count} {noun} {written_size(size, pattern.settings.units)}"
    text += f" {cut.named}" if cut.named else ""
    return Repair(f"write {text}", cut.span, text)
