"""Fussy cutting: pieces that each show a motif of their own, counted by the repeats of the print.

A motif lies once in every repeat, but nobody knows where the first one lies: how far from the selvedge, and how far
from the cut edge. Pieces are counted that can be cut wherever that is.
"""

from __future__ import annotations

from fractions import Fraction

import msgspec

from patternkit.lengths import Length
from patternkit.model.pattern import Fabric
from patternkit.piecing.making import PieceCut


class Motifs(msgspec.Struct, frozen=True):
    """`across` motifs side by side on the width and `rows` of them on a `length` of cloth, each with a piece round it.

    Motifs that are cut lie `step` apart, across and along the cloth: one repeat, or as many as a piece needs.
    """

    across: int
    rows: int
    length: Length
    step: tuple[Length, Length]
    repeat: tuple[Length, Length]

    def in_row(self, row: int, count: int) -> int:
        """How many pieces of `count` are cut from a row, numbered from 0."""
        return max(0, min(self.across, count - row * self.across))


def motifs(cut: PieceCut, count: int, fabric: Fabric) -> Motifs | None:
    """The motifs of so many pieces; None where the print's repeat is not known, where it comes in sheets, or where no
    whole motif is sure to lie on the width.

    Round a motif anywhere in a repeat r wide, windows w wide lie whole in a width U at least floor((U - w) / r) times.
    Of neighbours closer than a piece only every ceil(w / r)th is cut. Along the cloth the first row may lie a repeat
    below the edge: k rows take r + w + (k - 1) r ceil(w / r).
    """
    if fabric.repeat is None or fabric.in_sheets:
        return None
    (wide, high), room = fabric.repeat, fabric.usable_width - cut.width
    skip, down = (_up(side / each) for side, each in ((cut.width, wide), (cut.height, high)))
    whole = int((room / wide).floor_to(Fraction(1))) if room >= wide else 0
    across = -(-whole // skip)
    if not across:
        return None
    rows = -(-count // across)
    length = high + cut.height + high * down * (rows - 1)
    return Motifs(across, rows, length, (wide * skip, high * down), fabric.repeat)


def _up(times: Length) -> int:
    return int(times.ceil_to(Fraction(1)))
