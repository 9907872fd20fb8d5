"""What a ruler sets by itself: the sizes of a unit that must lie on a line of the pattern's ruler.

A *leaf* is a side of a plain piece, a strip, a log, a segment, or the raw side of a unit that is trimmed to size. All
other sizes follow from them as the unit is sewn. Each kind of unit says what its leaves are, which plain pieces at its
ends may take up a difference, and whether its edges may be trimmed; `patternkit.piecing.sewn` does the rest.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

import msgspec

from patternkit.lengths import ONE, Length
from patternkit.sizes.causes import Var

Along = Literal["w", "h"]
"""Which way a size of a unit runs."""


class Leaf(msgspec.Struct, frozen=True):
    """A size that is set on a ruler: `factor` times the finished size `var`, and a seam allowance at both ends.

    It is `fixed` where the writer chose the raw size, which is then cut as she wrote it. With `points` the unit is
    trimmed one seam beyond its points, which needs no line of the ruler where no fraction gives the size. A unit round
    an `inner` piece that the ruler sets too: the piece is the first factor times as large, and may be off its line by
    the second length. A side of a `plain` piece may follow from what lies beside it: it is cut larger, and to the
    length that is measured there.
    """

    var: Var
    factor: Length = ONE
    fixed: bool = False
    points: bool = False
    plain: bool = False
    inner: tuple[Length, Length] | None = None

    def is_free(self, size: Length) -> bool:
        """Whether a finished size needs no line of the ruler."""
        return self.fixed or (self.points and not size.is_fraction)


class End(msgspec.Struct, frozen=True):
    """A plain piece at the end of a unit: where its own width is kept, the width it has where nothing is said of it
    alone, and its other side (None where no other piece can be as large)."""

    own: Var
    usual: Var
    across: Var | None = None


class Ends(msgspec.Struct, frozen=True):
    """The plain pieces that reach across a unit at both ends, and both sides of each plain piece between them."""

    first: End
    last: End
    between: tuple[tuple[Var, Var], ...] = ()


def sides(size: Iterable[Var], fixed: bool = False, plain: bool = False) -> tuple[Leaf, ...]:
    """The sides of a (plain) piece, or of a unit that is trimmed to size, as leaves."""
    return tuple(Leaf(var, fixed=fixed, plain=plain) for var in size)
