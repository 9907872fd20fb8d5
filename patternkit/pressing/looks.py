"""What a joint looks like: how visible its point is, how long its seams are, and which side of a seam is darker."""

from __future__ import annotations

from collections.abc import Mapping

from patternkit.lengths import Length
from patternkit.piecing.making import Making
from patternkit.pressing.joints import Joint, SeamEnd
from patternkit.pressing.touching import VALUES, Memo, Touch, beside, darkness, near, seams_in, touches

_LONG = (3, 6)  # inches: from here a seam counts twice, from here three times; chosen here, no source


class Looks:
    """Answers about the seams of one tree, each worked out once. `values` has light, medium or dark for each fabric."""

    def __init__(self, values: Mapping[str, str]) -> None:
        self.values = values
        self._sides: dict[tuple[Making, int], tuple[list[Touch], list[Touch]]] = {}
        self._lengths: dict[tuple[Making, int], int] = {}
        self._contrast: dict[tuple[Making, int, bool], int] = {}
        self._memo: Memo = {}

    def sides(self, making: Making, seam: int) -> tuple[list[Touch], list[Touch]]:
        """The pieces along the left and the right of a seam, in order."""
        key = (making, seam)
        if key not in self._sides:
            self._sides[key] = beside(making.parts, making.seams[seam], self._memo)
        return self._sides[key]

    def darker(self, making: Making, seam: int) -> str:
        """Which side is darker, "left" or "right"; "" when neither is, or a value is missing."""
        a, b = (darkness(side, self.values) for side in self.sides(making, seam))
        return "" if a is None or b is None or a == b else "left" if a > b else "right"

    def plainer(self, making: Making, seam: int) -> str:
        """Which side is plainer, "left" or "right": fewer seams run into this one, then fewer seams in all; "" when
        equal."""
        left, right = self.sides(making, seam)
        a, b = len(left), len(right)
        if a == b:
            what, parts = making.seams[seam], making.parts
            a, b = (
                sum(
                    seams_in(parts[i].what)
                    for i in near(parts, side, what.start, what.end, self._memo)
                    if touches(parts[i], what.start, what.end, self._memo)
                )
                for side in (what.left, what.right)
            )
        return "" if a == b else "left" if a < b else "right"

    def weight(self, joint: Joint) -> int:
        """How much it matters that a joint nests, without its count: 10 or 3, times 1 to 3 for how plainly both seams
        show at the point, times 1 to 3 for the length of the shorter of them."""
        shows = min(self._shows(joint.a), self._shows(joint.b))
        return joint.base * (1 + shows) * min(self._long(joint.a), self._long(joint.b))

    def _shows(self, end: SeamEnd) -> int:
        """The step in value across a seam at its end: 0 none, 2 from light to dark."""
        key = (end.making, end.seam, end.at_start)
        if key not in self._contrast:
            left, right = self.sides(end.making, end.seam)
            if not left or not right:
                self._contrast[key] = 0
            else:
                a, b = (left[0], right[0]) if end.at_start else (left[-1], right[-1])
                va, vb = (VALUES.get(self.values.get(t.fabric, "")) for t in (a, b))
                self._contrast[key] = int(a.fabric != b.fabric) if va is None or vb is None else abs(va - vb)
        return self._contrast[key]

    def _long(self, end: SeamEnd) -> int:
        key = (end.making, end.seam)
        if key not in self._lengths:
            seam = end.what
            dx, dy = seam.end[0] - seam.start[0], seam.end[1] - seam.start[1]
            square: Length = dx * dx + dy * dy
            self._lengths[key] = 1 + sum(square >= limit * limit for limit in _LONG)
        return self._lengths[key]
