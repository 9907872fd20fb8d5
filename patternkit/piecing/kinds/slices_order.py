"""The lines of a `slices` unit as they are sewn: in the reverse order, section by section."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from patternkit.piecing.division import on_segment
from patternkit.piecing.making import Point, Seam, Side
from patternkit.piecing.names import Name


class SliceSeam(msgspec.Struct, frozen=True):
    """A line as it will be sewn: its path, the regions left and right of it, and the region that came off."""

    path: tuple[Point, ...]
    left: tuple[int, ...]
    right: tuple[int, ...]
    off: int
    curved: bool


def grouped(joints: list[SliceSeam]) -> list[SliceSeam]:
    """The joints with every region that is sewn together by then on either side."""
    joined: dict[int, tuple[int, ...]] = {}
    done: list[SliceSeam] = []
    for j in reversed(joints):
        left, right = joined.get(j.left[0], j.left), joined.get(j.right[0], j.right)
        done.append(msgspec.structs.replace(j, left=left, right=right))
        kept = j.left[0] if j.right[0] == j.off else j.right[0]
        joined[kept] = (*left, *right)
    return done[::-1]


def clean_path(path: Sequence[Point]) -> list[Point]:
    """A path without points on a straight stretch."""
    kept = [path[0]]
    for i in range(1, len(path) - 1):
        if not on_segment(path[i], kept[-1], path[i + 1]):
            kept.append(path[i])
    return [*kept, path[-1]]


def sewing_order(joints: Sequence[SliceSeam]) -> tuple[list[int], dict[int, int]]:
    """The regions in the order in which they are sewn, and the section to which each belongs.

    A section grows by one piece at a time, as paper piecing does; two sections are joined by a seam of their own, after
    which a further piece counts as a section again.
    """
    order: list[int] = []
    section: dict[int, int] = {}
    of_group: dict[frozenset[int], int] = {}  # 0 for sections that were joined
    last = 0
    for j in reversed(joints):
        first, second = (j.left, j.right) if j.off in j.right else (j.right, j.left)
        order += [r for r in (*first, *second) if r not in order]
        groups = [g for g in (first, second) if len(g) > 1]
        own = 0
        if len(groups) == 1:
            own = of_group[frozenset(groups[0])]
        elif not groups:
            own = last = last + 1
        of_group[frozenset((*first, *second))] = own
        for r in (*first, *second):
            if r not in section:
                if not own:
                    last += 1
                section[r] = own or last
    return order, section


def piece_names(order: Sequence[int], section: dict[int, int]) -> dict[int, Name]:
    """Piece names in sewing order: ``piece 3``, or ``piece B2`` when there are several sections."""
    many = len(set(section.values())) > 1
    counts: dict[int, int] = {}
    names = {}
    for region in order:
        own = section[region]
        counts[own] = counts.get(own, 0) + 1
        names[region] = Name("piece", (own, counts[own]) if many else (counts[own],))
    return names


def slice_seam(joint: SliceSeam, order: dict[int, int], paper: bool) -> Seam:
    """A seam between everything sewn by then on its two sides; on paper it is pressed toward the piece that is sewn on;
    two sections are joined like anything else."""
    left, right = (tuple(sorted(order[r] for r in side)) for side in (joint.left, joint.right))
    pressed: Side = "free"
    if paper and min(len(joint.left), len(joint.right)) == 1:
        pressed = "right" if _added(joint) == joint.right else "left"
    bent = joint.path if joint.curved else tuple(clean_path(joint.path))
    return Seam(
        joint.path[0],
        joint.path[-1],
        left,
        right,
        pressed,
        set_in=len(bent) > 2 and not joint.curved,
        path=bent if len(bent) > 2 else (),
    )


def _added(joint: SliceSeam) -> tuple[int, ...]:
    """The side of a line that is sewn on to the other: one piece to several, else what came off there."""
    if len(joint.left) != len(joint.right):
        return min(joint.left, joint.right, key=len)
    return joint.right if joint.off in joint.right else joint.left
