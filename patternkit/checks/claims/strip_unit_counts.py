"""``strip units 3, 16 from each`` against the segments that the quilt takes of a unit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from patternkit.english import listed
from patternkit.model.cut_lines import ClaimedStripUnits
from patternkit.model.pattern import Unit
from patternkit.piecing.kinds.slanted import Slant
from patternkit.plan.counts import Count, segments_from
from patternkit.plan.lines import widths_of
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.units import show

NEEDS_SIZES = True
COUNTS_ALL = True
CODES = ("strip-units-differ", "strip-units-more")


def check(project: Project) -> Iterable[Problem]:
    """Strip units that give too few segments are a problem; more than are needed are worth knowing. The numbers in a
    file are those of the pattern as written."""
    pattern = project.pattern
    claims = [u for u in pattern.units.values() if u.strip_units is not None]
    if not claims or not pattern.as_written or project.colourway or project.top is None:
        return
    for unit in claims:
        assert unit.strip_units is not None
        own = [c for c in project.quick_plan[0].counts if c.making.key.of == unit.key]
        cut = [c for c in own if c.making.recipe.segment is not None]
        if own and not cut:
            yield Problem(
                "strip-units-differ",
                f"{unit.role.capitalize()} {unit.name} is not cut from strip units, so strip units says nothing.",
                unit.strip_units.span,
                causes=("Only a unit of the kind strips is sewn in strips and cut across.",),
            )
        elif cut and cut[0].yields:
            yield from _held(unit, unit.strip_units, cut, project)


def _held(unit: Unit, claim: ClaimedStripUnits, counts: Sequence[Count], project: Project) -> Iterator[Problem]:
    most, needed = counts[0].yields, sum(c.needed for c in counts)
    whole = _every_thread(counts[0], project)
    causes = (_length(counts[0], project),)
    if claim.each > whole:
        yield Problem(
            "strip-units-differ",
            f"One strip unit of {unit.name} gives {most} segments; {claim.each} are said to come from each.",
            claim.span,
            causes=causes,
            repairs=_instead(claim, each=most),
        )
        return
    each = claim.each or most
    gives, enough = claim.count * each, -(-needed // most)
    if claim.each > most or (not claim.each and gives < needed <= claim.count * whole):
        yield Problem(
            "every-thread",
            f"{claim.each or whole} segments from a strip unit of {unit.name} need every thread of the width; {most} "
            "leave room to square up its end.",
            claim.span,
            causes=causes,
            repairs=_rewritten(claim, max(claim.count, enough) if gives >= needed else enough, most),
            advice=True,
        )
        return
    alone = -(-needed // each)
    if gives < needed:
        yield Problem(
            "strip-units-differ",
            f"{claim.count} strip {_units(claim.count)} of {unit.name} {'gives' if claim.count == 1 else 'give'} "
            f"{gives} segments; {needed} are needed.",
            claim.span,
            causes=(f"{each} come from each.", *causes),
            repairs=(*_instead(claim, count=alone), *_more_from_each(claim, most, needed)),
        )
    elif claim.count > max(alone, sum(-(-c.needed // each) for c in counts)) and claim.count != _shared(counts):
        yield Problem(
            "strip-units-more",
            f"{claim.count} strip units of {unit.name} give {gives} segments, and {needed} are needed: "
            f"{alone} {'is' if alone == 1 else 'are'} enough.",
            claim.span,
            causes=causes,
            repairs=_instead(claim, count=alone),
            advice=True,
        )


def _rewritten(claim: ClaimedStripUnits, count: int, each: int) -> tuple[Repair, ...]:
    """The whole line with numbers that leave room."""
    text = f"strip units {count}, {each} from each" if claim.each else f"strip units {count}"
    return (Repair(f"write {text}", claim.span, text),)


def _units(n: int) -> str:
    return "unit" if n == 1 else "units"


def _shared(counts: Sequence[Count]) -> int:
    """How many strip units are made in all where others share them."""
    return sum(way.times for c in counts if c.shared is not None for way in c.shared.ways)


def _every_thread(count: Count, project: Project) -> int:
    """Segments from a strip unit where nothing is kept for squaring up."""
    return segments_from(count.making, widths_of(project.pattern).whole(count.making.recipe.cuts))


def _length(count: Count, project: Project) -> str:
    """How long a strip unit is, and what is cut from it."""
    units, cuts, widths = project.pattern.settings.units, count.making.recipe.cuts, widths_of(project.pattern)
    segment = count.making.recipe.segment
    assert segment is not None
    long, kept = show(widths.whole(cuts), units), show(widths.trimmed(cuts), units)
    shared = count.shared.makings if count.shared is not None else ()
    others = [m.called for m in shared if m.key.of != count.making.key.of]
    also = f" They are sewn together with those of {listed(others)}." if others else ""
    slant = count.making.recipe.numbers
    if isinstance(slant, Slant):
        return (
            f"A strip unit is {long} long, {kept} of it kept for squaring up. Its slanted ends take "
            f"{show(slant.lost, units)}, and each segment, cut {show(slant.width, units)} square to its cuts, takes "
            f"{show(slant.takes, units)} of the rest."
        )
    cut = show(segment, units)
    return f"A strip unit is {long} long, {kept} of it kept for squaring up; a segment is cut {cut}.{also}"


def _instead(claim: ClaimedStripUnits, count: int = 0, each: int = 0) -> tuple[Repair, ...]:
    """A number that would settle it, where one stands as a plain number."""
    if count and claim.number is not None:
        what = f"{count} strip {_units(count)}"
        return (Repair(f"write {count}, for {what}", claim.number, f"{count}"),)
    if each and claim.each_number is not None:
        return (Repair(f"write {each} from each", claim.each_number, f"{each}"),)
    return ()


def _more_from_each(claim: ClaimedStripUnits, most: int, needed: int) -> tuple[Repair, ...]:
    """More from each, where as many strip units are enough then."""
    if claim.each and claim.each < most and claim.count * most >= needed:
        return _instead(claim, each=most)
    return ()
