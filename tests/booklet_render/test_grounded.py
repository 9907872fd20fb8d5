"""Textured cloth on paper shows no light between the tiles of its texture."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from patternkit import render
from patternkit.document import Booklet, Drawing
from patternkit.drawing.making import draw_making
from patternkit.drawing.swatches import assign
from patternkit.piecing.making import Placed
from patternkit.render.grounded import grounded
from patternkit.render.svgclean import inline_svg
from tests.drawing.sample_parts import made, patch

SWATCHES = assign(
    [("foam", "Foam", "#2a3c5a", "dark"), ("rust", "Rust", "#8c3b2a", "dark"), ("reed", "Reed", "#31543a", "dark")]
)


def square(fabric: str) -> Drawing:
    making = made(fabric, 6, 6, [Placed(patch(fabric, 6, 6))], [])
    return draw_making(making, SWATCHES, key=fabric, letters=False, measure="", legend=False, wide=200.0)


def pixels(pdf: bytes, tmp_path: Path, dpi: int) -> list[tuple[int, int, int]]:
    """The colours of the first page within its middle, where the cover's drawing stands."""
    if not shutil.which("pdftoppm"):
        pytest.skip("pdftoppm is missing: install poppler-utils to run this test")
    file = tmp_path / "page.pdf"
    file.write_bytes(pdf)
    run = subprocess.run(["pdftoppm", "-r", str(dpi), "-l", "1", str(file)], capture_output=True, check=True)
    head = re.match(rb"P6\s+(\d+)\s+(\d+)\s+255\s", run.stdout)
    assert head
    wide, high, data = int(head[1]), int(head[2]), run.stdout[head.end() :]
    rows, columns = range(int(high * 0.45), int(high * 0.55)), range(int(wide * 0.4), int(wide * 0.6))
    at = (3 * (y * wide + x) for y in rows for x in columns)
    return [(data[i], data[i + 1], data[i + 2]) for i in at]


def channels(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


@pytest.mark.parametrize("dpi", [61, 97, 150])
@pytest.mark.parametrize("fabric", ["rust", "reed"])
def test_no_light_between_tiles(fabric: str, dpi: int, tmp_path: Path) -> None:
    pytest.importorskip("typst", reason='the extra "print" is not installed')
    swatch = SWATCHES[fabric]
    booklet = Booklet("T", "", "", square(fabric), (), ())
    lightest = [max(a, b) + 6 for a, b in zip(channels(swatch.colour), channels(swatch.mark), strict=True)]
    seen = set(pixels(render.pdf(booklet), tmp_path, dpi))
    assert len(seen) > 1, "the texture does not show"
    assert all(value <= most for pixel in seen for value, most in zip(pixel, lightest, strict=True)), seen


def test_only_textured_paths_get_a_ground() -> None:
    svg = inline_svg(square("rust"), "x")
    done = grounded(svg)
    assert done.count("url(#") == svg.count("url(#") >= 1
    added = re.findall(rf'<path d="([^"]*)" fill="{SWATCHES["rust"].colour}"/><path d="([^"]*)" fill="url', done)
    assert len(added) == svg.count('fill="url(#') and all(below == above for below, above in added)
    assert grounded("<svg><path d='M0 0h1'/></svg>") == "<svg><path d='M0 0h1'/></svg>"
