"""Which joints nest, fight, need pins or are left unstated, grouped and counted, with the cheapest repair of each."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import msgspec

from patternkit.piecing.keys import Thing
from patternkit.piecing.making import Making, Side
from patternkit.pressing.joints import Joint, find_joints

Verdict = Literal["nest", "conflict", "weak", "pin", "unstated"]
SeamKey = tuple[Thing, int]
Pressing = Mapping[SeamKey, Side]

LOSS: dict[Verdict, int] = {"nest": 0, "unstated": 0, "pin": 2, "weak": 3, "conflict": 4}
"""What a joint costs, in quarters of a conflict: two open allowances lie flat but do not lock, half a conflict; one
open against one that lies to a side is little better than two that lie the same way. Chosen here, no source."""

OTHER: dict[Side, Side] = {"left": "right", "right": "left", "open": "open", "free": "free"}


class PressingChange(msgspec.Struct, frozen=True):
    """A change of pressing that would help: `how` is "turn over" (press the seam the other way), "open", "both open",
    "turn" (turn or mirror every second copy, or press it in two versions) or "plan" (no single change helps).

    `seams` are the seams to press anew; `to` the side to press them to ("free" for "turn" and "plan"); `saves` what the
    whole quilt gains, in quarters of a conflict times weight, minus what it loses elsewhere.
    """

    how: Literal["turn over", "open", "both open", "turn", "plan"]
    seams: tuple[SeamKey, ...]
    to: Side
    saves: int


class PressingConflict(msgspec.Struct, frozen=True):
    """Joints between the same two seams with the same verdict. `count` is how often they occur in the quilt; `joints`
    the distinct places, the first of them the one to show; `repair` None for what needs none."""

    verdict: Verdict
    joints: tuple[Joint, ...]
    count: int
    sides: tuple[Side, Side]
    repair: PressingChange | None = None

    @property
    def joint(self) -> Joint:
        """The example to show."""
        return self.joints[0]


def side_of(making: Making, seam: int, pressing: Pressing | None) -> Side:
    """Where a seam's allowance lies: what the plan says, otherwise what the making says."""
    if pressing is not None:
        return pressing.get((making.thing, seam), making.seams[seam].pressed)
    return making.seams[seam].pressed


def verdict(joint: Joint, a: Side, b: Side) -> Verdict:
    """What happens at a joint when its two seams lie as told. For a spun seam "open" cannot spin: weak."""
    if a == "free" or b == "free":
        return "unstated"
    if a == "open" and b == "open":
        return "pin"
    if a == "open" or b == "open":
        return "weak"
    return "nest" if (a == b) == joint.opposed else "conflict"


def conflicts(
    top: Making, pressing: Pressing | None = None, joints: list[Joint] | None = None, all_verdicts: bool = False
) -> list[PressingConflict]:
    """Everything at the joints that does not nest, equal ones counted together; worst and most frequent first.

    `pressing` overrides the sides that stand in the makings. With `all_verdicts` nested joints are listed too.
    """
    joints = [j for j in (find_joints(top) if joints is None else joints) if j.count]  # none of what is cut apart
    groups: dict[tuple[Verdict, str, bool, str, frozenset[SeamKey]], list[Joint]] = {}
    for joint in joints:
        a, b = joint.a, joint.b
        judged = verdict(joint, side_of(a.making, a.seam, pressing), side_of(b.making, b.seam, pressing))
        if judged == "nest" and not all_verdicts:
            continue
        ends = frozenset((a.key, b.key))
        groups.setdefault((judged, joint.kind, joint.opposed, joint.making.role, ends), []).append(joint)
    touching = _touching(joints) if any(key[0] in ("conflict", "weak") for key in groups) else {}
    found = []
    for key, group in groups.items():
        first = group[0]
        sides = (
            side_of(first.a.making, first.a.seam, pressing),
            side_of(first.b.making, first.b.seam, pressing),
        )
        judged = key[0]
        found.append(
            PressingConflict(
                judged,
                tuple(group),
                sum(j.count for j in group),
                sides,
                _repair(first, pressing, touching) if judged in ("conflict", "weak") else None,
            )
        )
    order = {e.making: e.making.spelled for c in found for e in (c.joint.a, c.joint.b)}

    def rank(c: PressingConflict) -> tuple[object, ...]:
        a, b = c.joint.a, c.joint.b
        return -LOSS[c.verdict], -c.joint.base, -c.count, order[a.making], a.seam, order[b.making], b.seam

    return sorted(found, key=rank)


def loss(joints: list[Joint], pressing: Pressing | None = None) -> int:
    """What all joints together lose, in quarters of a conflict: LOSS times base weight times count."""
    return sum(_loss(j, pressing) for j in joints)


def _loss(joint: Joint, pressing: Pressing | None) -> int:
    a, b = joint.a, joint.b
    judged = verdict(joint, side_of(a.making, a.seam, pressing), side_of(b.making, b.seam, pressing))
    return LOSS[judged] * joint.base * joint.count


def _touching(joints: list[Joint]) -> dict[SeamKey, list[tuple[Joint, int]]]:
    """The distinct joints of every seam, equal ones added up."""
    sums: dict[tuple[SeamKey, SeamKey, bool, str], tuple[Joint, int]] = {}
    for j in joints:
        key = (j.a.key, j.b.key, j.opposed, j.kind)
        first, weight = sums.get(key, (j, 0))
        sums[key] = first, weight + j.base * j.count
    out: dict[SeamKey, list[tuple[Joint, int]]] = {}
    for j, weight in sums.values():
        out.setdefault(j.a.key, []).append((j, weight))
        if j.b.key != j.a.key:
            out.setdefault(j.b.key, []).append((j, weight))
    return out


def _repair(
    joint: Joint, pressing: Pressing | None, touching: dict[SeamKey, list[tuple[Joint, int]]]
) -> PressingChange:
    """The single change that saves the most; the writer's marks are hers, so every change is only proposed."""
    a, b = joint.a, joint.b
    if a.key == b.key and not joint.opposed:
        return PressingChange("turn", (a.key,), "free", 0)  # one pressing for all copies: only turning or versions help
    best: PressingChange | None = None
    for end in (a, b):
        now = side_of(end.making, end.seam, pressing)
        tries = [_tried("turn over", (end.key,), OTHER[now], pressing, touching)] if now != "open" else []
        tries += [_tried("open", (end.key,), "open", pressing, touching)] if now != "open" else []
        for change in tries:
            best = change if best is None or change.saves > best.saves else best
    both = _tried("both open", (a.key, b.key), "open", pressing, touching)
    if best is None or both.saves > best.saves:
        best = both
    return best if best.saves > 0 else PressingChange("plan", (a.key, b.key), "free", 0)


def _tried(
    how: Literal["turn over", "open", "both open"],
    seams: tuple[SeamKey, ...],
    to: Side,
    pressing: Pressing | None,
    touching: dict[SeamKey, list[tuple[Joint, int]]],
) -> PressingChange:
    """A change with what it saves over all joints that its seams touch."""
    changed = dict.fromkeys(seams, to)
    saved, seen = 0, set()
    for key in seams:
        for joint, weight in touching.get(key, ()):
            mark = (joint.a.key, joint.b.key, joint.opposed, joint.kind)
            if mark in seen:
                continue
            seen.add(mark)
            old = [side_of(e.making, e.seam, pressing) for e in (joint.a, joint.b)]
            new = [changed.get(e.key, side) for e, side in zip((joint.a, joint.b), old, strict=False)]
            saved += weight * (LOSS[verdict(joint, old[0], old[1])] - LOSS[verdict(joint, new[0], new[1])])
    return PressingChange(how, tuple(dict.fromkeys(seams)), to, saved)
