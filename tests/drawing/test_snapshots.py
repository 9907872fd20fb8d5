"""A few drawings kept as files, to be looked at when they change."""

from __future__ import annotations

import pytest
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode

from patternkit.document import Drawing
from patternkit.drawing import (
    ClothCut,
    DrawnCut,
    StripCut,
    draw_assembly,
    draw_cuts,
    draw_foundation,
    draw_making,
    draw_method,
    draw_step,
    draw_strips,
)

from . import samples as S
from .samples import L
from .test_from_states import GEESE, PAIRS, SWATCHES, performed


class SvgFile(SingleFileSnapshotExtension):
    """One SVG file for each drawing."""

    _write_mode = WriteMode.TEXT
    _file_extension = "svg"
    file_extension = "svg"


CLOTH = ClothCut(
    "stone",
    L(40),
    (
        StripCut(L("9.5"), 2, (DrawnCut("plain block", 4, L("9.5"), L("9.5")),)),
        StripCut(L("1.5"), 8, whole=True),
    ),
)


def shown(unit: str) -> Drawing:
    """A unit's method, from the states of the table."""
    making, worked = performed(unit)
    return draw_method(making, SWATCHES, worked=worked)


DRAWINGS = {
    "block": lambda: draw_making(S.lantern(), S.SWATCHES),
    "lines": lambda: draw_making(S.on_point(), S.SWATCHES, plain=True),
    "quilt": lambda: draw_making(S.quilt(), S.SWATCHES),
    "step": lambda: draw_step(S.quarter_square(), [0, 1], S.SWATCHES),
    "strips": lambda: draw_strips(S.strip_wall(), S.SWATCHES),
    "pairs": lambda: shown(PAIRS),
    "geese": lambda: shown(GEESE),
    "assembly": lambda: draw_assembly(S.quilt(), S.SWATCHES),
    "cuts": lambda: draw_cuts(CLOTH, S.SWATCHES),
    "foundation": lambda: draw_foundation(S.slices(), S.SWATCHES),
}


@pytest.mark.parametrize("name", DRAWINGS)
def test_drawings_stay_as_they_are(name: str, snapshot: SnapshotAssertion) -> None:
    drawing: Drawing = DRAWINGS[name]()
    assert drawing.svg == snapshot(extension_class=SvgFile)
    assert DRAWINGS[name]().svg == drawing.svg
