"""To which of its sides a piece is trimmed that is cut from a higher strip."""

from __future__ import annotations

from pathlib import Path

from patternkit import api
from patternkit.booklet.content.booklet import booklet
from patternkit.booklet.content.context import context


def test_a_piece_that_lies_along_its_strip_is_trimmed_to_its_width(tmp_path: Path) -> None:
    """A coping strip 3/4 in wide and 21 in high lies along the strip, which is trimmed to 3/4 in and not to 21 in."""
    path = tmp_path / "slim.pattern"
    path.write_text(
        'pattern "Slim"\n    usable width 44\nfabric reed\nfabric foam\nblock slim\n    rows\n'
        "        reed 1/4 x 20 1/2 | foam 4 x 20 1/2 | reed 4 x 20 1/2\nquilt\n    tile\n        slim\n",
        encoding="utf-8",
    )
    section = next(s for s in booklet(context(api.load(path), solver=False)).sections if s.key == "cutting")
    told = repr(section)
    assert "1 of 3/4 x 21 in, trimmed to 3/4 in" in told
    assert "trimmed to 21 in" not in told
