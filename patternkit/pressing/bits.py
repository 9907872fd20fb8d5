"""What a pressing puzzle is made of: joints that want bits to agree or differ, places of units, costs."""

from __future__ import annotations

from typing import NamedTuple

from patternkit.piecing.making import Making

Levels = tuple[int, int, int, int, int, int]
"""What is to be as small as possible, most important first: the weight of the joints that do not nest; units in two
versions; how rough those joints are (their weight for each of the two seams that is not open); open seams; seams not
pressed toward the dark; seams not pressed toward the side with fewer seams."""

Cost = tuple[int, int, int, int, int, int, int]
"""The levels, and last of all how far a plan is from the one it should keep to (see `keeping.Kept`); 0 without one."""


class ParityConstraint(NamedTuple):
    """Equal joints added up: nests when the bits `terms` sum to `want` (mod 2) and neither seam `a` nor `b` is open."""

    terms: tuple[int, ...]
    want: int
    a: int
    b: int
    weight: int


class Slot(NamedTuple):
    """A place into which a unit is sewn: part number `part` of `parent`."""

    parent: Making
    part: int
    what: Making


class PuzzleComponent(NamedTuple):
    """Bits and joints that depend on each other and on nothing else."""

    bits: tuple[int, ...]
    edges: tuple[ParityConstraint, ...]
