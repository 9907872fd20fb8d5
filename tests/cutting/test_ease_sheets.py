"""Sheets cut with fewer cuts than they were filled with, the same pieces coming of them."""

from __future__ import annotations

from collections import Counter

import pytest

from patternkit.plan.cutting.ease_sheets import eased
from patternkit.plan.cutting.sheets import SheetBand
from patternkit.plan.cutting.task import CutKind


def pieces(bands: list[SheetBand]) -> Counter[tuple[int, int, int]]:
    """How many of each kind come of a sheet, by their sides, however they lie."""
    found: Counter[tuple[int, int, int]] = Counter()
    for band in bands:
        for kind, w, h, n in band.parts:
            found[kind, min(w, h), max(w, h)] += n
    return found


def kind(*sizes: tuple[int, int]) -> CutKind:
    return CutKind(sizes, 100, ())


GOOSE, CORNER = kind((18, 10), (10, 18)), kind((11, 11))


@pytest.mark.parametrize(
    ("bands", "trim", "squaring", "after"),
    [
        # 8 in one strip, and 8 more of the same: two strips one way, in the place of one and eight
        ([SheetBand(True, 18, ((0, 10, 18, 8),)), *[SheetBand(False, 10, ((0, 10, 18, 1),))] * 8], True, 2, [18, 18]),
        # with another piece among them, one strip across, from which that is trimmed
        (
            [*[SheetBand(False, 10, ((0, 10, 18, 1),))] * 6, SheetBand(False, 11, ((1, 11, 11, 1),))],
            True,
            2,
            [18],
        ),
        # and not where nothing may be trimmed, where only the strips of one kind are joined
        ([SheetBand(False, 10, ((0, 10, 18, 1),)), SheetBand(False, 11, ((1, 11, 11, 1),))], False, 2, [10, 11]),
        # the width kept for squaring up is kept here too: 8 of 10 across leave 4, and 6 are kept
        ([SheetBand(False, 10, ((0, 10, 18, 1),))] * 8, True, 6, [10] * 8),
    ],
)
def test_the_same_pieces_in_fewer_strips(bands: list[SheetBand], trim: bool, squaring: int, after: list[int]) -> None:
    """A sheet of 84 x 36, in quarters of an inch; pieces of 10 x 18 and 11 x 11."""
    found = eased((84, 18 if len(bands) == 8 else 36), bands, (GOOSE, CORNER), trim, squaring)
    assert [band.size for band in found] == after
    assert pieces(found) == pieces(bands)
