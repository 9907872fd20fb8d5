"""Sizes off the ruler: what is rounded up, what that comes to, and where it can't be done."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from patternkit.english import listed, sentence
from patternkit.lengths import Length
from patternkit.model.pattern import Pattern
from patternkit.piecing.sewn import Change, Rounded, RoundingTrouble
from patternkit.piecing.sewn.ground import CENTRE, Ground
from patternkit.problems import Label, Problem
from patternkit.project import Project
from patternkit.source import Span
from patternkit.units import Units, apart, finely, hair, show

if TYPE_CHECKING:
    from patternkit.piecing.sewn.offers import Offers

NEEDS_SIZES = True
CODES = ("off-ruler", "cannot-round")

MOST_SIZES = 4  # told in one message


def check(project: Project) -> Iterable[Problem]:
    """For each unit, and for the quilt, which of its pieces the ruler does not have and what becomes of it; or why its
    sizes can't be rounded."""
    sewn = project.sewn
    if sewn.trouble is not None and _cut_off_ruler(project, sewn.trouble):
        return  # a cut that is stated between two lines is told by itself
    if sewn.trouble is not None:
        yield _cannot(project, sewn.trouble)
        return
    owners = dict.fromkeys((*(r.owner for r in sewn.rounded), *(c.owner for c in sewn.changes)))
    offers = _offers(project) if owners else None
    for owner in owners:
        rounded = [r for r in sewn.rounded if r.owner == owner]
        changes = [c for c in sewn.changes if c.owner == owner]
        problem = _problem(project, owner, rounded, changes, offers)
        if problem is not None:
            yield problem


def _problem(
    project: Project, owner: str, rounded: Sequence[Rounded], changes: Sequence[Change], offers: Offers | None
) -> Problem | None:
    pattern = project.pattern
    what, span = _place(pattern, owner)
    little = hair(pattern.settings.units)
    changes = [c for c in changes if abs(c.sewn - c.solved) >= little]
    rounded = [r for r in rounded if changes or r.cut - r.exact >= little]
    causes = _become(changes, pattern)
    if rounded:
        sizes = dict.fromkeys((r.exact, r.cut) for r in rounded)
        units = pattern.settings.units
        texts = [_rounded(exact, cut, units) for exact, cut in list(sizes)[:MOST_SIZES]]
        texts += [f"and {len(sizes) - MOST_SIZES} more"] if len(sizes) > MOST_SIZES else []
        message = f"Pieces of {what} are not on the ruler: {'; '.join(texts)}."
    elif causes and owner in pattern.units:
        message, causes = (
            causes[0],
            [*causes[1:], "What it is made of or lies beside is cut by the ruler, and comes out so."],
        )
    else:
        return None
    repairs = offers.of(owner, project.sewn.rounded) if offers is not None else ()
    return Problem("off-ruler", message, span, causes=tuple(dict.fromkeys(causes)), repairs=repairs, advice=True)


def _rounded(exact: Length, cut: Length, units: Units) -> str:
    """A size and the one it is cut; in decimals where the nearest fraction is that of the cut."""
    here, there = show(exact, units), show(cut, units)
    return f"{finely(exact, units) if here == f'about {there}' else here} is cut {there}"


def _offers(project: Project) -> Offers:
    from patternkit.piecing.sewn.offers import Offers

    return Offers(Ground(project.pattern, project.sizing, project.solution))


def _place(pattern: Pattern, owner: str) -> tuple[str, Span]:
    """What the owner of a size is called in a message, and where it stands."""
    unit, quilt = pattern.units.get(owner), pattern.quilt
    if unit is not None:
        return f"{unit.role} {unit.key}", unit.kind_span
    assert quilt is not None
    edge = next((e for e in quilt.borders if e.called == owner), None)
    if edge is not None:
        return owner, edge.span
    return owner or "the quilt", quilt.sashing.span if quilt.sashing is not None else quilt.span


def _become(changes: Sequence[Change], pattern: Pattern) -> list[str]:
    """What each difference does, as a sentence; one for both sides where they are alike."""
    ways: dict[tuple[object, ...], list[str]] = {}
    alike: dict[tuple[object, ...], Change] = {}
    for c in changes:
        key = (c.how, c.solved, c.sewn)
        ways.setdefault(key, []).append({"w": "wide", "h": "high"}[c.side])
        alike.setdefault(key, c)
    return [sentence(_becomes(c, " and ".join(ways[key]), pattern)) for key, c in alike.items()]


def _becomes(change: Change, way: str, pattern: Pattern) -> str:
    units = pattern.settings.units
    what = _place(pattern, change.owner)[0]
    more = change.sewn - change.solved
    solved, sewn, half = (show(x, units) for x in (change.solved, change.sewn, more / 2))
    if change.how == "trimmed":
        return f"{what} is sewn to finish {sewn} {way}, and trimmed to finish {solved}, {half} from each side"
    if change.owner in pattern.units and change.how == "ends":
        return f"its outermost pieces are cut {half} narrower for that, so that {what} finishes {solved} {way}"
    if change.how == "ends":
        return f"{what} is {sewn} wide instead of {solved}, so that the quilt keeps its size"
    if change.owner not in pattern.units and change.owner != CENTRE:
        what = f"the quilt with {what}"
    return f"{what} finishes {sewn} {way} instead of {solved}"


def _cut_off_ruler(project: Project, trouble: RoundingTrouble) -> bool:
    """Whether what forbids to round the sizes is a stated cut that is on no line of the ruler itself."""
    cause = trouble.forbids.cause if trouble.forbids is not None else None
    if trouble.forbids is None or cause is None or cause.claim or cause.typed is None:
        return False
    if cause.typed == trouble.forbids.right:
        return False
    return not cause.typed.value(project.pattern.parameters).on_grid(project.pattern.settings.ruler)


def _cannot(project: Project, trouble: RoundingTrouble) -> Problem:
    pattern, units = project.pattern, project.pattern.settings.units
    what, span = _place(pattern, trouble.owner)
    labels: tuple[Label, ...] = ()
    if trouble.reason == "off":
        message = (
            f"A piece of {what} would have to be cut {show(trouble.raw, units)}, which is on no line of the ruler."
        )
    elif trouble.reason == "ring":
        message = f"The pieces of {what} no longer fill its sides once everything is cut by the ruler."
    elif trouble.reason == "stated" and trouble.forbids is not None:
        cause = trouble.forbids.cause
        message, span = f"{cause.text}, and comes out otherwise once everything is cut by the ruler.", cause.span
    else:
        gap = apart(trouble.raw, units)
        message = f"What is sewn together in {what} comes out {gap} apart once everything is cut by the ruler."
    rounded = [r for r in project.sewn.rounded if r.owner in pattern.units]
    owners = list(dict.fromkeys(r.owner for r in rounded)) or [trouble.owner]
    causes = [
        f"{_place(pattern, r.owner)[0]}: {_rounded(r.exact, r.cut, units)}"
        for r in {(x.owner, x.exact): x for x in project.sewn.rounded}.values()
    ]
    offers = _offers(project)
    found = [r for owner in owners for r in offers.of(owner, project.sewn.rounded, exactly=False)]
    repairs = tuple({r.text: r for r in found}.values())
    if trouble.reason == "stated" and trouble.forbids is not None:
        from patternkit.piecing.sewn.offers import as_resulting

        ground = Ground(pattern, project.sizing, project.solution)
        repairs = (*as_resulting(ground), *repairs)
    causes = [sentence(c) for c in causes[:MOST_SIZES]]
    if not repairs:
        causes.append(f"No size near those of {listed(owners)} was found at which every piece is on the ruler.")
    return Problem("cannot-round", sentence(message), span, labels, tuple(causes), repairs)
