"""Booklets written into one folder: each keeps its files, and finds its own drawings."""

from __future__ import annotations

import re
from pathlib import Path
from urllib.parse import unquote

import pytest
from click.testing import CliRunner

from patternkit.cli import main

QUAY = """pattern "{title}"
fabric night "{first}" dark
fabric glow light
let side = 6

block wing
    half-square {pieces}
    finished side

quilt
    across 2, down 2
    tile
        wing
    binding cut 2 1/4 night

sizes
    cot across 2, down 2
    dusk across 4, down 5, side 9

colourway dusk
    night = glow
    glow = night

part "Dusk!"
    makes wing
part "dusk?" 2026-03-09
    makes top, finishing
"""
WISHES = (
    (),
    ("--size", "cot"),
    ("--size", "dusk"),
    ("--colourway", "dusk"),
    ("--size", "dusk", "--colourway", "dusk"),
    ("--part", "Dusk!"),
    ("--part", "DUSK?"),
    ("--only", "cutting"),
    ("--proof",),
)


def written(folder: Path, path: Path, *wishes: str) -> Path:
    """Write a booklet and give its Markdown file."""
    done = CliRunner().invoke(main, ["write", str(path), "--to", str(folder), "--as", "md", *wishes])
    assert done.exit_code == 0, done.output
    (name,) = (line for line in done.output.splitlines() if line.endswith(".md"))
    return Path(name)


def drawings(text: str) -> set[str]:
    """The pictures that a Markdown text shows, as paths beside it."""
    return {unquote(link) for link in re.findall(r"\]\(([^)\s]+\.svg)\)", text)}


@pytest.fixture
def quays(tmp_path: Path) -> list[Path]:
    """Two patterns whose units have the same names and other pieces; one's file has a space in its name."""
    (tmp_path / "files").mkdir()
    paths = [tmp_path / "files" / "harbour.pattern", tmp_path / "files" / "moor (west).pattern"]
    paths[0].write_text(QUAY.format(title="Harbour", first="Pier", pieces="night, glow"), encoding="utf-8")
    paths[1].write_text(QUAY.format(title="Moor", first="Peat", pieces="glow, night"), encoding="utf-8")
    return paths


def test_no_booklet_is_written_over_another(quays: list[Path], tmp_path: Path) -> None:
    """Every file of every booklet is what it was when its booklet was written alone."""
    alone: dict[str, bytes] = {}
    together = tmp_path / "together"
    for n, path in enumerate(quays):
        for m, wishes in enumerate(WISHES):
            folder = tmp_path / f"alone {n} {m}"
            text = written(folder, path, *wishes).read_text(encoding="utf-8")
            files = {str(f.relative_to(folder)): f.read_bytes() for f in folder.rglob("*") if f.is_file()}
            assert not alone.keys() & files.keys()
            assert drawings(text) == {name for name in files if name.endswith(".svg")}
            alone |= files
            written(together, path, *wishes)
    assert {str(f.relative_to(together)): f.read_bytes() for f in together.rglob("*") if f.is_file()} == alone


def test_the_folder_of_drawings_is_named_after_the_booklet(quays: list[Path], tmp_path: Path) -> None:
    harbour = written(tmp_path / "out", quays[0], "--size", "cot")
    assert harbour.name == "harbour-cot.md"
    assert (tmp_path / "out" / "harbour-cot-drawings" / "cover.svg").is_file()
    moor = written(tmp_path / "out", quays[1])
    assert "](moor%20%28west%29-drawings/cover.svg)" in moor.read_text(encoding="utf-8")
    assert (tmp_path / "out" / "moor (west)-drawings" / "cover.svg").is_file()
