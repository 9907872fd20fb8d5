"""The exact finder against an independent one in floats, over every placed seam of random quilts."""

from __future__ import annotations

from collections import Counter

import pytest

from patternkit.piecing.making import Making, Place, Point
from patternkit.pressing.conflicts import conflicts
from patternkit.pressing.joints import Joint, find_joints

from .builders import checkerboard, eight_point, half_square, inches, on_point, pinwheel, quilt, row
from .finder import find
from .random_quilts import small_quilt, turned_quilt


def plain(joint: Joint) -> tuple[str, tuple[tuple[str, int], int], tuple[tuple[str, int], int]]:
    """A joint without its place, in the other finder's terms."""
    first, second = sorted([(joint.a.order, joint.a.ahead), (joint.b.order, joint.b.ahead)])
    if first[1] < 0:
        first, second = (first[0], 1), (second[0], -second[1])
    return joint.kind, first, second


def expected(top: Making) -> Counter[object]:
    return Counter(found[2:] for found in find(top))


def counted(top: Making) -> Counter[object]:
    out: Counter[object] = Counter()
    for joint in find_joints(top):
        out[plain(joint)] += joint.count
    return out


@pytest.mark.parametrize("seed", range(60))
def test_same_joints_as_the_float_finder(seed: int) -> None:
    top = small_quilt(seed) if seed % 3 else turned_quilt(seed)
    assert counted(top) == expected(top)


@pytest.mark.parametrize(
    "top",
    [
        checkerboard(4, 4),
        on_point(checkerboard(4, 3)),
        quilt([[pinwheel(half_square("h", "night", "glow"))] * 3] * 2),
        quilt([[eight_point("eight", "night", "glow")] * 2] * 2),
    ],
    ids=lambda t: t.spelled,
)
def test_same_joints_on_known_quilts(top: Making) -> None:
    assert counted(top) == expected(top)
    assert counted(top)


@pytest.mark.parametrize("seed", range(0, 60, 4))
def test_example_places_are_among_the_found(seed: int) -> None:
    top = turned_quilt(seed)
    places = {(f.x, f.y) for f in find(top)}
    for joint in find_joints(top):
        x, y = joint.point
        assert any(abs(float(x) - fx) < 1e-3 and abs(float(y) - fy) < 1e-3 for fx, fy in places)


@pytest.mark.parametrize("seed", range(40))
def test_every_conflict_is_confirmed_and_none_is_missed(seed: int) -> None:
    top = small_quilt(seed, fixed=True)
    sides = {(m.spelled, j): s.pressed for m in _makings(top) for j, s in enumerate(m.seams)}
    ahead = {"left": 1, "right": -1}
    fights = 0
    for found in find(top):
        (one, a), (two, b) = found.first, found.second
        if sides[one] in ahead and sides[two] in ahead:
            fights += ahead[sides[one]] * a == ahead[sides[two]] * b
    assert sum(c.count for c in conflicts(top) if c.verdict == "conflict") == fights


def test_two_seams_that_nearly_meet_are_no_joint() -> None:
    """A thousandth of an inch apart is not the same point."""
    off = inches("1/1000")
    one = row("one", _strip(inches(2)), _strip(inches(2)))
    two = row("two", _strip(inches(2) + off), _strip(inches(2) - off))
    from .builders import column

    assert find_joints(column("both", one, two)) == []
    assert len(find_joints(column("both", one, row("three", _strip(inches(2)), _strip(inches(2)))))) == 1


def _strip(width: object) -> object:
    from .builders import patch

    return patch("night", width, 1)  # type: ignore[arg-type]


def _makings(top: Making) -> list[Making]:
    seen: dict[Making, None] = {}

    def walk(making: Making) -> None:
        if making not in seen:
            for part in making.parts:
                if isinstance(part.what, Making):
                    walk(part.what)
            seen[making] = None

    walk(top)
    return list(seen)


def test_roots_compare_exactly() -> None:
    """A row of whole squares along a diagonal line against one whose seams lie at multiples of the root of
    two."""
    from patternkit.lengths import SQRT2

    from .builders import column, patch

    one = row("one", patch("night", SQRT2 * 2, 1), patch("glow", SQRT2, 1))
    two = row("two", patch("night", SQRT2 + SQRT2, 1), patch("glow", SQRT2, 1))
    turned = on_point(column("both", one, two))
    (joint,) = find_joints(turned)
    at: Point = Place(turned=45).point((SQRT2 * 2, inches(1)))
    shift = turned.parts[0].place
    assert joint.point == (at[0] + shift.dx, at[1] + shift.dy)
