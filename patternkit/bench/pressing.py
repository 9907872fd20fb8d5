"""Benchmark of the pressing room: ``python -m patternkit.bench.pressing``.

A quilt of 12 x 12 blocks of six kinds, turned: all joints found and judged from an existing geometry (aim: 50 ms), and
planned with a proof (aim: one second). Run by itself; times are the best of a few rounds.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from time import perf_counter

from patternkit.lengths import ZERO, Length
from patternkit.piecing.keys import Key
from patternkit.piecing.making import Cloth, Making, Part, Place, Placed, Recipe, Seam, rectangle
from patternkit.pressing.conflicts import conflicts
from patternkit.pressing.joints import find_joints
from patternkit.pressing.planner import kept_plan, plan_pressing
from patternkit.pressing.puzzle import PressOptions

VALUES = {"night": "dark", "glow": "light", "stone": "medium"}
CHECK_LIMIT, PLAN_LIMIT = 0.050, 1.0  # seconds
_NONE = Recipe()

Item = tuple[Part, int]


def _patch(fabric: str, width: int, height: int) -> Item:
    return Cloth(fabric, rectangle(Length(width), Length(height))), 0


def _half_square(key: str, side: int) -> Making:
    s = Length(side)
    parts = (
        Placed(Cloth("night", ((ZERO, ZERO), (s, ZERO), (ZERO, s)))),
        Placed(Cloth("glow", ((s, ZERO), (s, s), (ZERO, s)))),
    )
    return Making(
        Key(key),
        key,
        "unit",
        "half-square",
        rectangle(s, s),
        s,
        s,
        parts,
        (Seam((ZERO, s), (s, ZERO), (0,), (1,)),),
        _NONE,
    )


def _placed(item: Item, x: Length, y: Length) -> tuple[Placed, Length, Length]:
    """An item with its top left at (x, y), and its width and height there."""
    what, turned = item
    points = Place(turned=turned).outline(what.outline)
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (Placed(what, Place(x - min(xs), y - min(ys), turned)), max(xs) - min(xs), max(ys) - min(ys))


def _row(key: str, unit: str, items: Sequence[Item]) -> Making:
    x, height, parts, seams = ZERO, ZERO, [], []
    for i, item in enumerate(items):
        part, width, height = _placed(item, x, ZERO)
        if i:
            seams.append(Seam((x, height), (x, ZERO), tuple(range(i)), (i,)))
        parts.append(part)
        x += width
    return Making(Key(key), unit, "row", "row", rectangle(x, height), x, height, tuple(parts), tuple(seams), _NONE)


def _rows(key: str, role: str, lines: Sequence[Sequence[Item]]) -> Making:
    y, width, parts, seams = ZERO, ZERO, [], []
    for i, line in enumerate(lines):
        part, width, height = _placed((_row(f"{key}, row {i + 1}", key, line), 0), ZERO, y)
        if i:
            seams.append(Seam((ZERO, y), (width, y), tuple(range(i)), (i,)))
        parts.append(part)
        y += height
    return Making(Key(key), key, role, "rows", rectangle(width, y), width, y, tuple(parts), tuple(seams), _NONE)


def blocks() -> list[Making]:
    """Six blocks of 12 x 12 in: nine squares, star points, corners, rails with corners, a pinwheel, uneven steps."""
    night, glow, stone = (_patch(f, 4, 4) for f in ("night", "glow", "stone"))
    h = [_half_square(f"half-square {i}", 4) for i in range(3)]
    big = _half_square("half-square 6 in", 6)
    up, over = _rows("rail", "unit", [[_patch("night", 4, 2)], [_patch("glow", 4, 2)]]), 90
    rail: Item = (up, 0)
    return [
        _rows("nine", "block", [[night, glow, night], [glow, night, glow], [night, glow, night]]),
        _rows(
            "star",
            "block",
            [[glow, (h[0], 0), glow], [(h[0], 270), night, (h[0], 90)], [glow, (h[0], 180), glow]],
        ),
        _rows(
            "corners",
            "block",
            [[(h[1], 0), glow, (h[1], 90)], [glow, night, glow], [(h[1], 270), glow, (h[1], 180)]],
        ),
        _rows(
            "rails",
            "block",
            [
                [(h[2], 0), rail, (h[2], 90)],
                [(up, 270), stone, (up, over)],
                [(h[2], 270), (up, 180), (h[2], 180)],
            ],
        ),
        _rows("pinwheel", "block", [[(big, 0), (big, 90)], [(big, 270), (big, 180)]]),
        _rows(
            "steps",
            "block",
            [
                [_patch("stone", 3, 4), _patch("glow", 9, 4)],
                [_patch("night", 8, 4), _patch("stone", 4, 4)],
                [_patch("glow", 4, 4), night, _patch("stone", 4, 4)],
            ],
        ),
    ]


def quilt(across: int = 12, down: int = 12) -> Making:
    """The quilt of the benchmark: kinds and turns change from place to place by a fixed rule without symmetry."""
    kinds = blocks()
    return _rows(
        "quilt",
        "quilt",
        [
            [
                (kinds[(r * 7 + c * 3 + r * c // 2 + r // 3) % 6], 90 * ((r * r + 3 * c + r * c // 2) % 4))
                for c in range(across)
            ]
            for r in range(down)
        ],
    )


def timed(work: Callable[[], object], rounds: int) -> float:
    """The best time of a few rounds, in seconds."""
    best = float("inf")
    for _ in range(rounds):
        start = perf_counter()
        work()
        best = min(best, perf_counter() - start)
    return best


def main() -> int:
    """Print what was measured; 1 when an aim is missed."""
    top = quilt()
    joints = find_joints(top)
    check = timed(lambda: conflicts(top, joints=find_joints(top)), 5)
    plan = plan_pressing(top, VALUES, PressOptions(seconds=20))
    planning = timed(lambda: plan_pressing(top, VALUES, PressOptions(seconds=20)), 2)
    print(f"12 x 12 blocks of 6 kinds, turned: {sum(j.count for j in joints)} joints, {len(joints)} distinct")
    print(f"check: {check * 1000:.1f} ms (aim {CHECK_LIMIT * 1000:.0f} ms)")
    proof = "proved best" if plan.proved else f"not proved, at most {plan.gap:.1%} to gain"
    print(
        f"plan: {planning * 1000:.0f} ms (aim {PLAN_LIMIT * 1000:.0f} ms), {plan.nested} of {plan.total} "
        f"nest, {len(plan.opened)} seams open, {proof}"
    )
    keep = kept_plan(plan)
    again = timed(lambda: plan_pressing(top, VALUES, PressOptions(seconds=20), keep), 2)
    print(f"plan that keeps to another: {again * 1000:.0f} ms (aim {PLAN_LIMIT * 1000:.0f} ms)")
    return int(check > CHECK_LIMIT or max(planning, again) > PLAN_LIMIT or not plan.proved)


if __name__ == "__main__":
    raise SystemExit(main())
