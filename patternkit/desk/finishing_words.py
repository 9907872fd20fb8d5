"""What is joined end to end, and how a quilt is finished, in words: behind each fabric's cuts in the cutting plan."""

from __future__ import annotations

from collections.abc import Sequence

from patternkit.lengths import Length
from patternkit.piecing.joined import JoinedStrip
from patternkit.plan.model import Binding, LongStrip, Plan, called
from patternkit.project import Project
from patternkit.units import Units, show, show_size


def finishing_text(project: Project, plan: Plan) -> list[str]:
    """A paragraph for each set of strips that are joined end to end, and for binding, sleeve and batting."""
    units, fabrics = project.pattern.settings.units, project.pattern.fabrics
    found = [f"Joined end to end, {fabrics[x.fabric].title}: {_joined(x, units)}" for x in plan.long_strips]
    strip = plan.backing.strip if plan.backing is not None else None
    if strip is not None:
        found.append(f"Strip in the backing, {fabrics[strip.fabric].title}: {_joined(strip, units)}")
    if plan.binding is not None:
        found.append(f"Binding, {fabrics[plan.binding.fabric].title}: {_binding(plan.binding, units)}")
    if plan.sleeve is not None:
        found.append(f"Sleeve, {fabrics[plan.sleeve.fabric].title}: {_joined(plan.sleeve, units)}")
    if plan.batting is not None:
        found.append(f"Batting: {show_size(*plan.batting, units)}{_sold(project, plan)}")
    if plan.web is not None:
        found.append(f"Paper-backed web, {show(plan.web.width, units)} wide: {show(plan.web.length, units)}")
    return found


def _sold(project: Project, plan: Plan) -> str:
    """In which of the sizes that are sold a batting is bought."""
    units, one = project.pattern.settings.units, plan.packet
    if one is not None:
        return f"; sold as {show_size(one.width, one.height, units)}" + (f" ({one.name} size)" if one.name else "")
    return "; larger than any packet" if project.pattern.settings.packets else ""


def _strips(n: int, height: Length, units: Units) -> str:
    return f"{n} {'strip' if n == 1 else 'strips'} {show(height, units)}"


def _joined(long: LongStrip, units: Units) -> str:
    seams = f", joined by straight seams that take {show(long.join, units)} each" if long.strips > 1 else ""
    cut = f"; cut {_cut([(i, n) for i, (_, n, _) in enumerate(long.lengths)], long, units)}"
    if len(long.joins) > 1 or any(one.count > 1 or one.of is not None for one in long.joins):
        cut = "".join(f"\n  {_joined_strip(one, long, units)}" for one in long.joins)
    whole = _strips(long.strips, long.height, units) if long.strips else f"cut {show(long.height, units)} high"
    if long.along:
        whole = f"1 piece {show(long.height, units)} wide, cut along the cloth"
    return f"{whole}{seams}{cut}"


def _cut(cuts: Sequence[tuple[int, int]], long: LongStrip, units: Units) -> str:
    each = [(n, *long.lengths[i]) for i, n in cuts]
    return "; ".join(f"{n} of {show(length, units)} ({called(use)})" for n, length, _, use in each)


def _joined_strip(one: JoinedStrip, long: LongStrip, units: Units) -> str:
    """One joined strip: of what it is joined, what is cut from it, which of its ends are kept."""
    cut = [_cut(one.cuts, long, units)] if one.cuts else []
    return f"{_of(one, units)}: {'; '.join([*cut, *_ends(one.keeps, units, ' kept')])}"


def _of(one: JoinedStrip, units: Units) -> str:
    """What a strip is joined of, and how many are."""
    times = f"{one.count} times " if one.count > 1 else ""
    if one.of is not None and one.left is not None:
        return f"{times}the end of a strip {show(one.of, units)}, {show(one.left, units)} long"
    whole = [f"{one.wholes} whole {'strip' if one.wholes == 1 else 'strips'}"] if one.wholes else []
    return times + " and ".join([*whole, *_ends(one.ends, units)])


def _ends(ends: Sequence[tuple[Length, int]], units: Units, kept: str = "") -> list[str]:
    return [f"{n} {'end' if n == 1 else 'ends'} of {show(x, units)} or more{kept}" for x, n in ends]


def _binding(done: Binding, units: Units) -> str:
    """What the strips give once they are joined (rounded down), and what is wanted of it."""
    gives = show(Length(done.gives.floor_to(units.grid)), units)
    if done.square is not None:
        rounds = _strips(done.rounds, done.width, units)
        how = f"a square of {show(done.square, units)} sewn into a tube, {rounds} round"
    elif done.length is not None:
        how = f"{_strips(done.strips, done.width, units)} at 45 degrees across {show(done.length, units)} of cloth"
    else:
        kind = "straight" if done.straight else "diagonal"
        seams = f", joined by {kind} seams that take {show(done.join, units)} each" if done.strips > 1 else ""
        ends = (_of(one, units) for one in done.joins if one.of is not None)
        how = " and ".join([_strips(done.strips, done.width, units), *ends]) + seams
    wanted = f"{show(done.perimeter, units)} round and {show(done.allowance, units)} beyond"
    return f"{how}; gives {gives}, {show(done.total, units)} are wanted ({wanted})"
