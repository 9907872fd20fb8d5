"""What is printed in another system is sewn in the numbers that are printed, and how far they are off is said."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from patternkit.booklet.content.context import context
from patternkit.booklet.content.converted import converted_line
from patternkit.lengths import Length
from patternkit.piecing.batch import Piece
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.units import SYSTEMS
from patternkit.work.printed import in_print

from .conftest import EXAMPLES
from .printed import lengths

GRIDS = {"cm": Fraction(1, 254), "mm": Fraction(1, 254), "inches": Fraction(1, 16)}
"""Inches to whose multiples lengths are printed."""
NINE = """pattern "Rounding"
    {settings}
fabric a "Ash" dark
fabric b "Bone" light
block nine
    row a | b | a | b | a | b | a | b | a
    finished {wide} x {side}
quilt
    across 1, down 3
    tile
        nine
"""


def _said(side: Fraction, units: str, *settings: str, language: str = "en") -> str:
    text = NINE.format(settings="\n    ".join(settings), side=f"{float(side):g}", wide=f"{float(side * 9):g}")
    ctx = context(Project("nine", text), units=units, language=language, solver=False)
    assert len(ctx.order.steps) == 2
    return converted_line(ctx).text


def test_rounding_that_adds_up_is_said() -> None:
    """Nine squares of 6.3 cm cut 2 1/2 in: nine roundings of a fiftieth of an inch."""
    text = _said(Fraction(51, 10), "inches", "units cm", "seam 0.6")
    assert "nearest sixteenth" in text
    (off,) = lengths(text)
    squares = round(Fraction(630, 254) * 16) / 16  # 6.3 cm as it is printed
    exact = 9 * (squares - 2 * 0.6 / 2.54) + 2 * 0.6 / 2.54
    told = round((45.9 + 1.2) / 2.54 * 16) / 16
    assert abs(exact - told) <= float(off.value) <= abs(exact - told) + 1 / 16


def test_rounding_that_no_ruler_shows_is_not_said() -> None:
    text = _said(Fraction(2), "cm", "units inches")
    assert "nearest hundredth" in text and lengths(text) == []
    assert "Hundertstel" in _said(Fraction(2), "cm", "units inches", language="de")


@pytest.mark.parametrize("units", ["cm", "mm", "inches"])
def test_an_order_in_print_has_printed_numbers_alone(units: str) -> None:
    system = SYSTEMS[units]
    for path in EXAMPLES[:12]:
        ctx = context(Project(path.name, path.read_text(encoding="utf-8")), units=units, solver=False)
        if ctx.phrases.converted:
            order = in_print(ctx.order, system)
            pieces = {item for step in order.steps for item in step.takes if isinstance(item, Piece)}
            assert pieces and all(Length(x).on_grid(GRIDS[units]) for p in pieces for x in (p.width, p.height))
            assert len(order.steps) == len(ctx.order.steps)
            counts = [g for g in rehearsal(order, ctx.worked.designs).gaps if g.kind in ("taken", "count", "mirrored")]
            assert counts == []


def test_the_page_says_it_once() -> None:
    assert len(re.findall("converted", _said(Fraction(5), "inches", "units cm"))) == 1
