"""``cut 12 strips 2 1/2``: whether so many strips give the pieces and whole strips that are wanted of their fabric."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial
from typing import Protocol

import msgspec

from patternkit.checks.claims.cut_words import Summed, called_size, claimed_sides, is_strips, sides, summed
from patternkit.checks.claims.strip_needs import (
    Counts,
    Need,
    Needs,
    StripCloth,
    cloth_of,
    gives,
    needs_of,
    planned,
    shaped,
    unsquared_plan,
)
from patternkit.english import listed
from patternkit.lengths import Length
from patternkit.model.cut_lines import ClaimedCut, ClaimedCuts
from patternkit.model.pattern import Unit
from patternkit.piecing.making import Making
from patternkit.plan.model import CutLine
from patternkit.plan.strip_room import Oblong
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.units import show


class CutLines(Protocol):
    """What is cut, as it is planned or, where it is `loose`, with nothing kept for squaring up."""

    def __call__(self, *, loose: bool = False) -> list[CutLine]: ...


NEEDS_SIZES = True
COUNTS_ALL = True
CODES = ("strips-differ", "strips-more")

ByHeight = Mapping[int, Summed]
"""What is claimed of strips, by their height."""


def check(project: Project) -> Iterable[Problem]:
    """Too few strips are a problem, with what they give; more than are enough are worth knowing. The numbers in a file
    are those of the pattern as written."""
    pattern = project.pattern
    if not pattern.as_written or project.colourway or project.top is None:
        return
    for key, fabric in pattern.fabrics.items():
        claims = [line for line in fabric.cuts if not line.each]
        if _with_strips(claims, project):
            yield from _held(claims, partial(_of_quilt, project, key), cloth_of(fabric, project), project, whole=True)
    for unit in pattern.units.values():
        if unit.cuts and _with_strips(unit.cuts, project):
            yield from _of_unit(unit, project)


def _with_strips(claims: Iterable[ClaimedCuts], project: Project) -> bool:
    return any(is_strips(cut, project.pattern) for line in claims for cut in line.cuts)


def _of_quilt(project: Project, key: str, loose: bool = False) -> list[CutLine]:
    """What is cut of a fabric for the whole quilt; with `loose` where nothing is kept for squaring up."""
    return [
        x
        for x in (unsquared_plan(project) if loose else project.quick_plan[0]).lines
        if project.pattern.fabrics[x.fabric].is_of(key)
    ]


def _of_one(project: Project, making: Making, key: str, loose: bool = False) -> list[CutLine]:
    """The same for one of a unit, or for all of those that are cut from strip units."""
    from patternkit.plan.build import unsquared
    from patternkit.plan.draft import draft_plan

    if making.recipe.segment is not None:
        return [x for x in _of_quilt(project, key, loose) if _is_for(x, making.key.of)]
    pattern = unsquared(project.pattern) if loose else project.pattern
    return [x for x in draft_plan(pattern, None, [(making, 1)])[0].lines if x.fabric == key]


def _of_unit(unit: Unit, project: Project) -> Iterator[Problem]:
    """The claims under a unit: for one of it, but of what is cut from strip units for all of these."""
    making = project.makings.get(unit.key)
    if making is None:
        return
    for key in dict.fromkeys(cut.fabric for line in unit.cuts for cut in line.cuts):
        own = [_only(line, key) for line in unit.cuts if any(cut.fabric == key for cut in line.cuts)]
        if _with_strips(own, project):
            cloth = cloth_of(project.pattern.fabrics[key], project)
            yield from _held(own, partial(_of_one, project, making, key), cloth, project)


def _is_for(line: CutLine, unit: str) -> bool:
    return any(isinstance(use, Making) and use.key.of == unit for use in (*line.use, *line.also))


def _only(line: ClaimedCuts, key: str) -> ClaimedCuts:
    return msgspec.structs.replace(line, cuts=tuple(cut for cut in line.cuts if cut.fabric == key))


def _held(
    claims: Sequence[ClaimedCuts], lines: CutLines, cloth: StripCloth, project: Project, *, whole: bool = False
) -> Iterator[Problem]:
    """CutLines that say which pieces come from their strips are held by themselves, all others against what is left;
    `whole` where they speak of the whole quilt."""
    alone: list[ClaimedCut] = []
    given: dict[tuple[Length, Length], int] = {}
    for line in claims:
        strips = [c for c in line.cuts if is_strips(c, project.pattern)]
        pieces = [c for c in line.cuts if not is_strips(c, project.pattern)]
        if not pieces or line.cuts[0] not in strips:
            alone += strips
            continue
        yield from _with_pieces(_by_height(strips, cloth, project), pieces, cloth, project)
        for cut in pieces:
            size = claimed_sides(cut, project.pattern)
            given[size] = given.get(size, 0) + cut.count
    if alone:
        left = partial(_left, lines, given)
        yield from _alone(_by_height(alone, cloth, project), left, cloth, project, whole=whole)


def _by_height(cuts: Sequence[ClaimedCut], cloth: StripCloth, project: Project) -> ByHeight:
    groups: dict[int, list[ClaimedCut]] = {}
    for cut in cuts:
        groups.setdefault(cloth.whole(claimed_sides(cut, project.pattern)[0]), []).append(cut)
    return {h: summed(found) for h, found in groups.items()}


def _left(lines: CutLines, given: Mapping[tuple[Length, Length], int], loose: bool = False) -> list[CutLine]:
    """What is not said to come from strips of its own."""
    rest, left = dict(given), []
    for line in lines(loose=loose):
        size = sides(line.cut.width, line.cut.height)
        taken = min(line.count, rest.get(size, 0)) if line.cut.then != "strip" else 0
        rest[size] = rest.get(size, 0) - taken
        left.append(msgspec.structs.replace(line, count=line.count - taken))
    return [line for line in left if line.count]


def _with_pieces(
    stated: ByHeight, pieces: Sequence[ClaimedCut], cloth: StripCloth, project: Project
) -> Iterator[Problem]:
    """``cut 2 strips 9 1/4, 31 of 2 x 9 1/4``: whether these strips give these pieces."""
    units = project.pattern.settings.units
    own = [claimed_sides(cut, project.pattern) for cut in pieces]
    wanted = tuple(
        Oblong(cloth.whole(short), cloth.whole(long), cut.count) for (short, long), cut in zip(own, pieces, strict=True)
    )
    strips = {h: t.count for h, t in stated.items()}
    causes = tuple(
        f"{gives(strips, one, cloth)} of {called_size(size, units)} come from them at most; {one.number} are said to."
        for one, size in zip(wanted, own, strict=True)
    )
    yield from _judged(stated, Needs((Need({}, wanted),)), causes, cloth, project)


def _alone(stated: ByHeight, lines: CutLines, cloth: StripCloth, project: Project, *, whole: bool) -> Iterator[Problem]:
    """Strips of all heights that are claimed, against the whole strips and the pieces of these heights."""
    by_shape = shaped(lines(), cloth)
    for h in [h for h in stated if h in by_shape and whole]:
        least = planned(cloth, project.plan()[0], ()).get(h, 0)
        if stated[h].count > least:
            yield _more(h, stated[h], least, ("Shapes that are cut by templates lie in them.",), cloth, project)
    stated = {h: t for h, t in stated.items() if h not in by_shape}
    needs = needs_of(lines(), list(stated), cloth, project)
    plan = planned(cloth, project.quick_plan[0], stated) if whole else None
    vain = [h for h in stated if not needs.causes[h] and h not in (plan or ())]
    for h in vain:
        yield _no_use(h, stated[h], lines(), cloth, project)
    held = {h: t for h, t in stated.items() if h not in vain}
    if held:
        causes = tuple(dict.fromkeys(text for h in held for text in needs.causes[h]))
        yield from _judged(held, needs, causes, cloth, project, lines, plan)


def _judged(
    stated: ByHeight,
    needs: Needs,
    causes: tuple[str, ...],
    cloth: StripCloth,
    project: Project,
    lines: CutLines | None = None,
    plan: Counts | None = None,
) -> Iterator[Problem]:
    """Whether the strips are enough; `plan` are those of the booklet's own plan, by which as many are enough too."""
    strips = {h: t.count for h, t in stated.items()}
    if not _as_planned(strips, plan) and needs.enough(strips, cloth.kept) is False:
        free = msgspec.structs.replace(cloth, kept=cloth.across)
        loose = needs if lines is None else needs_of(lines(loose=True), list(stated), free, project)
        if loose.enough(strips, free.kept) is not False:
            yield _thread(stated, cloth, causes, project)
        elif plan is None or not _as_planned(strips, planned(cloth, project.plan()[0], strips)):
            yield _short(stated, needs, causes, cloth, project)
        return
    for h, t in stated.items():
        least = min(t.count, needs.fewest_alone(h, strips, cloth.kept))
        if plan and _as_planned(strips, plan):
            least = min(least, plan.get(h, t.count))
        if least < t.count and not (plan is not None and _in_booklet(h, t.count, cloth, project)):
            yield _more(h, t, least, causes, cloth, project)


def _in_booklet(h: int, count: int, cloth: StripCloth, project: Project) -> bool:
    """Whether the booklet itself cuts as many strips of a height."""
    return planned(cloth, project.plan()[0], ()).get(h, 0) >= count


def _as_planned(strips: Counts, plan: Counts | None) -> bool:
    """Whether there are as many strips of every height as a plan takes."""
    return bool(plan) and all(n >= (plan or {}).get(h, 0) for h, n in strips.items())


# -- words -------------------------------------------------------------------------------------------------------
def _strips(n: int, h: int, cloth: StripCloth, project: Project) -> str:
    high = show(cloth.length(h), project.pattern.settings.units)
    return f"{n} {'strip' if n == 1 else 'strips'} of {high} of {cloth.fabric.title}"


def _short(stated: ByHeight, needs: Needs, causes: tuple[str, ...], cloth: StripCloth, project: Project) -> Problem:
    """Too few, with the number that would be enough; where one size alone is cut, with how many they give."""
    units, strips = project.pattern.settings.units, {h: t.count for h, t in stated.items()}
    enough = {h: needs.fewest(h, strips, cloth.kept) for h in stated}
    h = next((h for h in stated if enough[h] > strips[h]), min(stated))
    n, need = strips[h], needs.ways[0]
    what = _strips(n, h, cloth, project)
    message = f"{what} {'is' if n == 1 else 'are'} too few; {enough[h]} are enough."
    if len(need.pieces) == 1 and not need.whole:
        piece = need.pieces[0]
        size = called_size(sides(cloth.length(piece.width), cloth.length(piece.height)), units)
        some = gives(strips, piece, cloth)
        message = f"{what} {'gives' if n == 1 else 'give'} {some} of {size}; {piece.number} are needed."
    long = f"A strip is {show(cloth.length(cloth.kept), units)} long, by the usable width."
    return Problem(
        "strips-differ", message, stated[h].spans[0], stated[h].labels, (*causes, long), stated[h].instead(enough[h])
    )


def _more(h: int, claim: Summed, least: int, causes: tuple[str, ...], cloth: StripCloth, project: Project) -> Problem:
    n = claim.count
    return Problem(
        "strips-more",
        f"{_strips(n, h, cloth, project)} {'is' if n == 1 else 'are'} {n - least} more than needed: "
        f"{least or 'none'} {'is' if least == 1 else 'are'} enough.",
        claim.spans[0],
        claim.labels,
        causes,
        claim.instead(least) if least else (),
        advice=True,
    )


def _thread(stated: ByHeight, cloth: StripCloth, causes: tuple[str, ...], project: Project) -> Problem:
    first = next(iter(stated.values()))
    return Problem(
        "every-thread",
        f"The strips of {cloth.fabric.title} are enough only where every thread of the width is used.",
        first.spans[0],
        first.labels,
        (*causes, f"{show(cloth.fabric.squaring, project.pattern.settings.units)} of each are kept for squaring up."),
        advice=True,
    )


def _no_use(h: int, claim: Summed, lines: Sequence[CutLine], cloth: StripCloth, project: Project) -> Problem:
    units = project.pattern.settings.units
    sizes = dict.fromkeys(
        f"strips of {show(x.cut.height, units)}"
        if x.cut.then == "strip"
        else called_size(sides(x.cut.width, x.cut.height), units)
        for x in lines
    )
    high = show(cloth.length(h), units)
    return Problem(
        "strips-differ",
        f"Nothing is cut from strips of {high} of {cloth.fabric.title}.",
        claim.spans[0],
        claim.labels,
        (f"Of {cloth.fabric.title} are cut: {listed(list(sizes), 6)}.",) if sizes else (),
    )
