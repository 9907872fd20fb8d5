"""How many layers of fabric lie at a joint, direction by direction, and allowances that lie where they show or pile up.

Close to a point every piece that touches it covers all directions, its allowance included. Sewing along a line through
the point turns what lies beyond the line back: on the side to which the allowances are pressed lie the part itself, its
own allowance turned back, and the other part's allowance; on the other side only the part itself. Applied seam by seam
in sewing order this counts every layer, folded allowances within allowances too. Derivation: `grammar/pressing.md`.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from functools import lru_cache
from math import atan2, cos, hypot, pi, sin
from typing import Literal, NamedTuple, Union

import msgspec

from patternkit.piecing.making import Making, Outline, Placed
from patternkit.pressing.conflicts import OTHER
from patternkit.pressing.joints import Joint, JointTree, find_joints
from patternkit.pressing.looks import Looks

LIMIT = 12
"""Layers from which a joint is called bulky; a four-patch whose seams nest has 7. Common practice, no source."""

_STEPS = 120  # directions looked at: every 3 degrees, between the usual angles of seams
_NEAR = 1e-6
_LONE = 9  # two seams and the line that crosses them can't pile up more: each seam makes three of one at most
_OVER = {"left": "right", "right": "left", "open": "open"}

Stack = Union[None, "Fold"]
"""What lies around a point: None for one piece of cloth, a Fold for two stacks sewn together along a line."""


class Fold(msgspec.Struct, frozen=True):
    """Two stacks sewn along a line at `angle` (as drawn, clockwise from the right), with its left stack and its right
    one; `pressed` holds ahead along the line, `behind` the other way (they differ for a spun seam)."""

    left: Stack
    right: Stack
    angle: float
    pressed: str
    behind: str


class Layers(msgspec.Struct, frozen=True):
    """The layers at a joint. `sectors` are (from, to, layers) in degrees as drawn, clockwise from the right, in the
    coordinates of the joint's making; `most` the greatest number; `count` how often this occurs in the quilt."""

    joint: Joint
    sectors: tuple[tuple[float, float, int], ...]
    most: int
    count: int


class BadAllowance(msgspec.Struct, frozen=True):
    """A seam whose allowance lies badly: "behind light" (a darker fabric's allowance under a lighter one) or "toward
    bulk" (toward the side into which more seams run)."""

    making: Making
    seam: int
    why: Literal["behind light", "toward bulk"]
    count: int


def bulk(top: Making, limit: int = LIMIT, joints: list[Joint] | None = None) -> list[Layers]:
    """Joints with more than `limit` layers somewhere, worst first; equal ones (same seams, same layers) together.

    Free seams are counted as pressed open.
    """
    found: dict[object, Layers] = {}
    known: dict[tuple[Making, float, float], Stack] = {}
    counted: dict[Stack, tuple[tuple[float, float, int], ...]] = {}
    for joint in find_joints(top) if joints is None else joints:
        if limit >= _LONE and joint.crowd == 1:
            continue
        stack = stack_at(joint.making, float(joint.local[0]), float(joint.local[1]), joint.line, known)
        if stack not in counted:
            counted[stack] = sectors(stack)
        most = max(n for _, _, n in counted[stack])
        if most <= limit:
            continue
        key = stack, frozenset((joint.a.key, joint.b.key))
        old = found.get(key)
        found[key] = (
            Layers(joint, counted[stack], most, joint.count)
            if old is None
            else msgspec.structs.replace(old, count=old.count + joint.count)
        )
    return sorted(found.values(), key=lambda b: (-b.most, -b.count, b.joint.a.order, b.joint.b.order))


# -- what touches a point --------------------------------------------------------------------------
def stack_at(making: Making, x: float, y: float, last: int, known: dict[tuple[Making, float, float], Stack]) -> Stack:
    """The stack around a point of a making, sewn up to seam number `last`."""
    groups: dict[int, tuple[set[int], Stack]] = {}
    plain = _plain(making)
    for i, part in enumerate(making.parts):
        px, py = _into(part, plain.at[i], x, y)
        if not _on(plain.outlines[i], px, py):
            continue
        stack: Stack = None
        if isinstance(part.what, Making):
            key = (part.what, round(px, 5), round(py, 5))
            if key not in known:
                known[key] = stack_at(part.what, px, py, len(part.what.seams) - 1, known)
            stack = _placed(known[key], part)
        groups[i] = ({i}, stack)
    for j in range(last + 1):
        seam = making.seams[j]
        line = _through(plain.paths[j], x, y)
        left = next((groups[i] for i in seam.left if i in groups), None)
        right = next((groups[i] for i in seam.right if i in groups), None)
        if line is None or left is None or right is None or left is right:
            continue
        ahead = {"free": "open"}.get(seam.pressed, seam.pressed)
        spun = seam.spun is not None and hypot(float(seam.spun[0]) - x, float(seam.spun[1]) - y) < _NEAR
        before = seam.spun is not None and not spun and _before(making, j, x, y)
        if before:
            ahead = {"left": "right", "right": "left"}.get(ahead, ahead)
        behind = {"left": "right", "right": "left"}.get(ahead, ahead) if spun else ahead
        merged = (left[0] | right[0], Fold(left[1], right[1], line, ahead, behind))
        for i in merged[0]:
            groups[i] = merged
    best = max(groups.values(), key=lambda g: len(g[0]), default=(set(), None))
    return best[1]


def _before(making: Making, j: int, x: float, y: float) -> bool:
    """Whether a point lies on the first half of a spun seam."""
    seam = making.seams[j]
    assert seam.spun is not None
    sx, sy = float(seam.start[0]), float(seam.start[1])
    return hypot(x - sx, y - sy) < hypot(float(seam.spun[0]) - sx, float(seam.spun[1]) - sy)


class _Plain(NamedTuple):
    """A making in plain numbers: where each part lies, its own outline, the path of each seam."""

    at: tuple[tuple[float, float], ...]
    outlines: tuple[tuple[tuple[float, float], ...], ...]
    paths: tuple[tuple[tuple[float, float], ...], ...]


@lru_cache(maxsize=256)  # makings are compared by identity
def _plain(making: Making) -> _Plain:
    return _Plain(
        tuple((float(p.place.dx), float(p.place.dy)) for p in making.parts),
        tuple(_floats(p.what.outline) for p in making.parts),
        tuple(_floats(s.path or (s.start, s.end)) for s in making.seams),
    )


def _floats(points: Outline) -> tuple[tuple[float, float], ...]:
    return tuple((float(x), float(y)) for x, y in points)


def _into(part: Placed, at: tuple[float, float], x: float, y: float) -> tuple[float, float]:
    place = part.place
    x, y, t = x - at[0], y - at[1], -place.turned * pi / 180
    x, y = x * cos(t) - y * sin(t), x * sin(t) + y * cos(t)
    return (-x if place.mirrored else x), y


def _on(points: tuple[tuple[float, float], ...], x: float, y: float) -> bool:
    """Whether a point lies in an outline or on its edge."""
    inside = False
    for (ax, ay), (bx, by) in zip(points, points[1:] + points[:1], strict=True):
        if _near_segment(ax, ay, bx, by, x, y):
            return True
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            inside = not inside
    return inside


def _near_segment(ax: float, ay: float, bx: float, by: float, x: float, y: float) -> bool:
    size = hypot(bx - ax, by - ay)
    along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / size
    off = ((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / size
    return abs(off) < _NEAR and -_NEAR < along < size + _NEAR


def _through(path: tuple[tuple[float, float], ...], x: float, y: float) -> float | None:
    """The direction of a seam at a point on its path, in degrees; None when it does not touch the point."""
    for (ax, ay), (bx, by) in itertools.pairwise(path):
        if _near_segment(ax, ay, bx, by, x, y):
            return round(atan2(by - ay, bx - ax) * 180 / pi, 4)
    return None


def _placed(stack: Stack, part: Placed) -> Stack:
    """A stack of a part, turned and mirrored into the whole."""
    if stack is None:
        return None
    angle, left, right = stack.angle, _placed(stack.left, part), _placed(stack.right, part)
    pressed, behind = stack.pressed, stack.behind
    if part.place.mirrored:  # the right hand becomes the left
        angle, left, right = 180 - angle, right, left
        pressed, behind = _OVER[pressed], _OVER[behind]
    return Fold(left, right, round((angle + part.place.turned) % 360, 4), pressed, behind)


# -- counting --------------------------------------------------------------------------------------
def layers_toward(stack: Stack, direction: float) -> int:
    """The layers close to the point in a direction (degrees as drawn, clockwise from the right)."""
    if stack is None:
        return 1
    turn = (direction - stack.angle) % 360
    mine, other, side = (stack.right, stack.left, "right") if 0 < turn < 180 else (stack.left, stack.right, "left")
    pressed = stack.pressed if turn < 90 or turn > 270 else stack.behind
    count = layers_toward(mine, direction)
    if pressed in (side, "open"):
        count += layers_toward(mine, (2 * stack.angle - direction) % 360)  # its own allowance, turned back
    if pressed == side:
        count += layers_toward(other, direction)  # the other part's allowance, lying under it
    return count


def sectors(stack: Stack) -> tuple[tuple[float, float, int], ...]:
    """Runs of directions with the same number of layers."""
    width = 360 / _STEPS
    counts = [layers_toward(stack, (k + 0.5) * width + 0.01) for k in range(_STEPS)]
    first = next((k for k in range(_STEPS) if counts[k] != counts[k - 1]), 0)
    runs: list[tuple[float, float, int]] = []
    for step in range(_STEPS):
        k = (first + step) % _STEPS
        if runs and runs[-1][2] == counts[k]:
            runs[-1] = (runs[-1][0], runs[-1][1] + width, counts[k])
        else:
            runs.append((k * width, (k + 1) * width, counts[k]))
    return tuple(runs)


# -- allowances that lie badly ---------------------------------------------------------------------
def lying_badly(top: Making, values: Mapping[str, str]) -> list[BadAllowance]:
    """Every seam pressed toward its lighter side, and every seam pressed toward the side into which more seams run.

    Whether the writer minds is for the caller: toward-dark is only a default and yields to nesting and bulk
    (http://www.sewitbetter.com/gallery/tips.htm).
    """
    tree, looks = JointTree(top), Looks(values)
    found = []
    for making in tree.makings:
        for j, seam in enumerate(making.seams):
            if seam.pressed not in ("left", "right"):
                continue
            if looks.darker(making, j) == OTHER[seam.pressed]:
                found.append(BadAllowance(making, j, "behind light", tree.counts[making]))
            left, right = looks.sides(making, j)
            here, there = (left, right) if seam.pressed == "left" else (right, left)
            if len(here) > len(there):
                found.append(BadAllowance(making, j, "toward bulk", tree.counts[making]))
    return found
