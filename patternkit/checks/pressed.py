"""Joints: seams that lie the same way where they meet, joints half open or forgotten, allowances that show or pile
up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

import msgspec

from patternkit.english import sentence
from patternkit.model.pattern import Pattern
from patternkit.piecing.making import Making, Seam, made_from
from patternkit.problems import Label, Problem, Repair
from patternkit.project import Project
from patternkit.source import NOWHERE, Span
from patternkit.syntax.statements import PressStatement
from patternkit.units import show

if TYPE_CHECKING:
    from patternkit.pressing.conflicts import PressingConflict
    from patternkit.pressing.joints import Joint
    from patternkit.pressing.words import SeamNames

NEEDS_SIZES = True
CODES = ("seams-fight", "joint-weak", "joint-unstated", "dark-behind-light", "toward-bulk", "bulk")

MOST = 12  # of one sort; more have one cause that should be mended first
MOSTLY = 3  # of four joints: from there on the writer means to state them all
WRITTEN = ("unit", "block")


def check(project: Project) -> Iterable[Problem]:
    """What the pressing stated in the file, or settled by the custom of a unit's kind, does at the joints. Seams that
    are left to the planner are left alone."""
    pattern = project.pattern
    if (
        not any(_decided(making, seam) for making in _makings(project) for seam in making.seams)
        and pattern.settings.layers >= 12
    ):
        return
    from patternkit.pressing.joints import find_joints

    for top, _ in project.roots:
        joints = [j for j in find_joints(top, project.joint_tree(top)) if j.count]  # none of what is cut apart
        yield from _fights(project, top, joints)
        yield from _unstated(top, joints, pattern)
        yield from _bulky(project, top, joints)
        yield from _badly(project, top)


def _makings(project: Project) -> Iterator[Making]:
    seen: set[Making] = set()
    waiting = [root for root, _ in project.roots]
    while waiting:
        making = waiting.pop()
        if making not in seen:
            seen.add(making)
            yield making
            waiting += made_from(making)


def _stated(stated: Span | None, mark: Span | None) -> bool:
    return mark is not None or (stated is not None and stated != NOWHERE)


def _decided(making: Making, seam: Seam) -> bool:
    """Whether a seam's side is stated, or is a unit's by custom (geese, flipped corners); a border's alone is not
    asked."""
    return _stated(seam.stated, seam.mark) or (seam.pressed != "free" and making.role in WRITTEN)


# -- joints that don't nest -------------------------------------------------------------------------------
def _fights(project: Project, top: Making, joints: list[Joint]) -> Iterator[Problem]:
    """Seams pressed the same way, or one of them open, equal cases told once with their number."""
    from patternkit.pressing.conflicts import conflicts
    from patternkit.pressing.words import SeamNames

    groups: dict[tuple[str, frozenset[Span | None]], list[PressingConflict]] = {}
    for conflict in conflicts(top, joints=joints):
        ends = [e.what for e in (conflict.joint.a, conflict.joint.b)]
        if conflict.verdict in ("conflict", "weak"):
            words = frozenset(s.mark or s.stated for s in ends)
            groups.setdefault((conflict.verdict, words), []).append(conflict)
    names = SeamNames(top) if groups else None
    for group in list(groups.values())[:MOST]:
        assert names is not None
        yield _fight(project, top, group, names)


def _fight(project: Project, top: Making, group: list[PressingConflict], names: SeamNames) -> Problem:
    from patternkit.pressing.words import conflict_words, place_words, repair_words, side_words

    units = project.pattern.settings.units
    first = group[0]
    joint, count = first.joint, sum(c.count for c in group)
    words = conflict_words(msgspec.structs.replace(first, count=count), top, units, names)
    x, y = joint.point
    causes = (
        [
            f"On the drawing of {names.of[top]} "
            f"the joint lies {show(x, units)} from the left and {show(y, units)} from "
            "the top."
        ]
        if joint.making is not top or top.role == "quilt"
        else []
    )
    others: dict[str, int] = {}
    for other in group[1:]:
        where = place_words(other.joint, top, units)
        others[where] = others.get(where, 0) + other.count
    for where, times in list(others.items())[:2]:
        causes.append(f"The same lines do so here too: {where} ({times} times).")
    if len(others) > 2:
        causes.append(f"And so in {len(others) - 2} more places.")
    labels = [
        Label(place, f"{names.seam(end.making, end.seam)} is {side_words(end.making, end.seam, side)}")
        for end, side in zip((joint.a, joint.b), first.sides, strict=True)
        for place in [end.what.mark or end.what.stated]
        if place is not None and place != NOWHERE
    ]
    repairs = [Repair(repair_words(first.repair, first, names))] if first.repair is not None else []
    one, other_one = (names.seam(end.making, end.seam) for end in (joint.a, joint.b))
    if repairs and first.verdict == "conflict" and one == other_one:
        # what is pressed the other way is pressed so on both sides of the joint, and they lie alike again
        repairs = []
        causes.append("Both are the same seam of the unit: pressed the other way, they still lie the same way.")
    code = "seams-fight" if first.verdict == "conflict" else "joint-weak"
    span = labels[0].span if labels else _place_of(project, joint)
    if not labels:
        causes.append("The method of these units presses them so; no line of the file says it.")
    return Problem(code, sentence(words), span, tuple(labels), tuple(causes), tuple(repairs), True, count=count)


def _place_of(project: Project, joint: Joint) -> Span:
    """The line that says what one of a joint's units is; the quilt's where neither is a unit of the file."""
    pattern = project.pattern
    for end in (joint.a, joint.b):
        unit = pattern.units.get(end.making.key.of)
        if unit is not None:
            return unit.kind_span
    return pattern.quilt.span if pattern.quilt is not None else pattern.settings.span


def _unstated(top: Making, joints: list[Joint], pattern: Pattern) -> Iterator[Problem]:
    """Joints inside units that are left over where nearly all others have their pressing stated."""
    inner = [j for j in joints if j.making.role in WRITTEN]
    free = [j for j in inner if "free" in (j.a.what.pressed, j.b.what.pressed)]
    if not free or (len(inner) - len(free)) < MOSTLY * len(free):
        return
    from patternkit.pressing.words import SeamNames, place_words

    names = SeamNames(top)
    joint = free[0]
    end = joint.a if joint.a.what.pressed == "free" else joint.b
    unit = pattern.units.get(end.making.key.of) or pattern.units.get(joint.making.key.of)
    times = sum(j.count for j in free)
    yield Problem(
        "joint-unstated",
        "Nearly every joint has its pressing stated; "
        f"{'this one has' if len(free) == 1 else 'these have'} not: "
        f"{'; '.join(place_words(j, top, pattern.settings.units) for j in free[:3])}"
        f"{'; ...' if len(free) > 3 else ''}.",
        unit.kind_span if unit is not None else pattern.settings.span,
        causes=(f"Nothing says which way {names.seam(end.making, end.seam)} is pressed.",),
        repairs=(Repair("write > or < in place of |, or a press line under the unit"),),
        advice=True,
        count=times,
    )


# -- layers, and allowances that show
# -------------------------------------------------------------------------
def _bulky(project: Project, top: Making, joints: list[Joint]) -> Iterator[Problem]:
    from patternkit.pressing.bulk import bulk
    from patternkit.pressing.words import place_words

    settings = project.pattern.settings
    for found in bulk(top, settings.layers, joints)[:MOST]:
        where = place_words(found.joint, top, settings.units)
        unit = project.pattern.units.get(found.joint.making.key.of)
        yield Problem(
            "bulk",
            f"{sentence(where)[:-1]}: {found.most} layers of cloth lie on each other, and the limit is "
            f"{settings.layers}.",
            unit.kind_span if unit is not None else settings.span,
            repairs=(Repair("press one of the seams that meet there open, or spin the centre"),),
            advice=True,
            count=found.count,
        )


def _badly(project: Project, top: Making) -> Iterator[Problem]:
    """A dark allowance under a light fabric, or one toward the bulky side, where the writer asked for the other."""
    pattern = project.pattern
    asked = {how for how in ("darker", "plain") if any(p.how == how for p in _all_press(pattern))}
    if not asked:
        return
    from patternkit.pressing.bulk import lying_badly
    from patternkit.pressing.words import SeamNames, side_words

    reported: dict[tuple[str, Span], Problem] = {}
    for lying in lying_badly(top, {key: f.value for key, f in pattern.fabrics.items()}):
        how, code = ("darker", "dark-behind-light") if lying.why == "behind light" else ("plain", "toward-bulk")
        seam, unit = lying.making.seams[lying.seam], pattern.units.get(lying.making.key.of)
        place = seam.mark or seam.stated
        own = unit.press if unit is not None else pattern.quilt.press if pattern.quilt is not None else ()
        if (
            how not in asked
            or place is None
            or place == NOWHERE
            or not any(p.how == how for p in (*pattern.settings.press, *own))
        ):
            continue
        names = SeamNames(top)
        what = f"{names.seam(lying.making, lying.seam)} is {side_words(lying.making, lying.seam, seam.pressed)}"
        why = (
            "so that the darker allowance lies behind the lighter fabric"
            if how == "darker"
            else "the side into which more seams run"
        )
        old = reported.get((code, place))
        asks = "toward the darker fabric" if how == "darker" else "toward the plain patch"
        reported[code, place] = (
            Problem(
                code,
                f"{sentence(what)[:-1]}, {why}.",
                place,
                causes=(f"The file asks for pressing {asks}; what is nearer to the seam wins.",),
                advice=True,
                count=lying.count,
            )
            if old is None
            else msgspec.structs.replace(old, count=old.count + lying.count)
        )
    yield from list(reported.values())[:MOST]


def _all_press(pattern: Pattern) -> Iterator[PressStatement]:
    yield from pattern.settings.press
    for unit in pattern.units.values():
        yield from unit.press
    if pattern.quilt is not None:
        yield from pattern.quilt.press
