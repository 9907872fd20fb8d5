"""A session gives after every edit what a fresh check gives.

``PATTERNKIT_EDITS=5000`` in the environment tries that many edits (300 without it).
"""

from __future__ import annotations

import os
from pathlib import Path
from random import Random

import pytest

from patternkit.bench.check import edits, long_pattern
from patternkit.bench.mutate import damaged, seed_texts
from patternkit.checks import run
from patternkit.desk.report import as_json, text
from patternkit.desk.session import Session
from patternkit.project import Project
from patternkit.syntax.chunks import Chunks

EXAMPLES = Path(__file__).parents[1] / "examples"
EDITS = int(os.environ.get("PATTERNKIT_EDITS", "300"))
SOURCE = (EXAMPLES / "tide-star.pattern").read_text(encoding="utf-8")


def fresh(source: str) -> list[object]:
    return [*run(Project("live.pattern", source), guarded=False)]


def test_every_version_is_checked_as_if_it_were_the_first() -> None:
    """One edit upon another, now and then back to a sound file."""
    random, texts = Random(7), seed_texts(EXAMPLES)
    longest = sorted(texts, key=len)[-12:]
    session, now = Session("live.pattern"), texts[0]
    for number in range(EDITS):
        now = random.choice(longest) if random.random() < 0.15 else damaged(number, [now])
        assert session.check(now) == fresh(now), f"edit {number}"


def test_numbers_names_and_fabrics_that_change() -> None:
    session = Session("live.pattern")
    edits = [
        ("finished 4 x 2", "finished 4 x 3"),
        ("half-square deep, coral", "half-square coral, deep"),
        ("sashing 2 foam", "sashing 3 foam"),
        ("border 4 deep", "border 4 sand"),
        ("make 12", "make 11"),
        ("seam 1/4", "seam 3/8"),
        ("usable width 42", "usable width 4"),
        ("unit spark", "unit sparks"),
        ("block star", "# a comment\nblock star"),
        ("measures 8 1/2", "measures 8"),
        ("  dark ", "  light "),
    ]
    for old, new in edits:
        changed = SOURCE.replace(old, new)
        assert changed != SOURCE
        for version in (SOURCE, changed, changed + "\n", SOURCE):
            assert session.check(version) == fresh(version), new


PLAIN = """\
pattern "Plain blocks"
fabric night dark
fabric stone light

block wall
    rows
        night | stone
    finished 9 x 6

quilt
    across 5, down 3
    tile
        wall  | stone
        stone | wall
    border 2 night
"""


def test_plain_blocks_follow_an_edit() -> None:
    session = Session("live.pattern")
    edits = [
        ("finished 9 x 6", "finished 8 x 6"),
        ("finished 9 x 6", "finished 9"),
        ("wall  | stone", "stone | stone"),
        ("border 2", "border 3"),
        ("    finished 9 x 6\n", ""),
        ("stone | wall", "stone 9 | wall"),
        ("finished 9 x 6", "measures 9 x 6"),
        ("border 2 night", "finished 40 x 18"),
    ]
    for old, new in edits:
        changed = PLAIN.replace(old, new)
        assert changed != PLAIN
        for version in (PLAIN, changed, PLAIN):
            assert session.check(version) == fresh(version), new


TWO_BLOCKS = """\
pattern "Two blocks"
fabric night dark
fabric stone light

block wall
    rows
        night | stone
    finished 8 x 8

block gate
    rows
        stone | night
        night | stone
    finished 8 x 8

quilt
    layout
        wall  | wall
        gate  | gate
        stone | stone
"""


def test_plain_blocks_are_as_high_as_others_only_while_these_are_alike() -> None:
    """A row of plain blocks is as high as all other blocks are; which depends on their numbers alone."""
    session = Session("live.pattern")
    apart = TWO_BLOCKS.replace("finished 8 x 8\n\nquilt", "finished 8 x 9\n\nquilt")
    both = TWO_BLOCKS.replace("8 x 8", "8 x 9")
    assert {p.code for p in run(Project("live.pattern", apart))} == {"size-unknown"}
    for first in (TWO_BLOCKS, apart):
        for version in (first, apart, TWO_BLOCKS, apart, both, TWO_BLOCKS, both, apart):
            assert session.check(version) == fresh(version)
        session = Session("live.pattern")


OFF = """\
pattern "Off the ruler"
    seam 1/4

fabric night dark
fabric stone light
fabric creek medium

let side = 6

unit pane
    rows
        night | stone
        stone | night
    finished side/2

unit bar
    strips night | creek | stone
    finished side/2 x 2

block window
    column
        pane
        bar

block frame
    column
        pane
        creek

quilt
    layout
        frame | window
        window turned 180 | frame
    border 2 night
"""


def test_units_that_rest_on_the_ruler_and_units_that_do_not() -> None:
    """From one edit to the next the sizes come to lie on lines of the ruler, and leave them again."""
    session = Session("live.pattern")
    assert not [p for p in session.check(OFF) if p.code == "off-ruler" and "pane" in p.message]
    off = OFF.replace("side = 6", "side = 20/3")
    assert [p for p in session.check(off) if p.code == "off-ruler" and "pane" in p.message]
    for old, new in [
        ("side = 6", "side = 7"),
        ("side = 6", "side = 20/3"),
        ("side/2\n", "side/4\n"),
        ("seam 1/4", "seam 3/8"),
        ("seam 1/4", "seam 1/4\n    ruler 1/16"),
        ("border 2", "border 5/3"),
        ("night | stone\n", "night | stone | stone\n"),
        ("    finished side/2\n", ""),
        ("side/2 x 2", "side/2 x 33/16"),
        ("frame | window", "window | window"),
    ]:
        changed = OFF.replace(old, new)
        assert changed != OFF, old
        for version in (OFF, changed, changed.replace("stone light", "stone medium"), OFF, off, changed, OFF):
            assert session.check(version) == fresh(version), new


def test_places_lie_in_the_text_and_can_be_reported() -> None:
    session = Session("live.pattern")
    wrong = SOURCE.replace("measures 8 1/2", "measures 8")
    found = session.check(wrong)
    spans = (
        [p.span for p in found]
        + [x.span for p in found for x in p.labels]
        + [r.span for p in found for r in p.repairs if r.span is not None]
    )
    assert spans and all(s.file == "live.pattern" and s.end <= len(wrong) for s in spans)
    assert "measures 8" in text(found, session.sources())
    assert b"\\u0000" not in as_json(found, session.sources()) and b"\x00" not in as_json(found, session.sources())


def test_what_an_edit_does_not_touch_is_not_read_again() -> None:
    chunks = Chunks("live.pattern")
    before, _ = chunks.read(SOURCE)
    after, _ = chunks.read(SOURCE.replace("border 4 deep", "border 3 deep"))
    assert len(before) == len(after) > 5
    assert sum(a is b for a, b in zip(before, after, strict=True)) == len(before) - 1


def test_units_and_makings_stay_the_same_objects() -> None:
    session = Session("live.pattern")
    session.check(SOURCE)
    assert session.project is not None
    first = session.project
    session.check(SOURCE.replace("border 4 deep", "border 3 deep"))
    second = session.project
    assert second is not first
    assert all(second.pattern.units[k] is u for k, u in first.pattern.units.items())
    assert all(second.makings[k] is m for k, m in first.makings.items())
    session.check(SOURCE.replace("finished 4 x 2", "finished 2 x 1"))
    third = session.project
    assert third.makings["goose"] is not first.makings["goose"]


def test_included_files_are_read_anew() -> None:
    shelf = {"cloth": 'fabric night "Midnight"\n'}
    session = Session("live.pattern", lambda including, path: (path, shelf[path]))
    source = 'include "cloth"\n\nblock star\n    patch night\n    finished 3\n'
    assert session.check(source) == []
    shelf["cloth"] = 'fabric nights "Midnight"\n'
    assert {p.code for p in session.check(source)} == {"unknown-name"}


def test_the_long_pattern_of_the_benchmark_is_sound_and_its_edits_are_checked_rightly() -> None:
    source = long_pattern(300)
    assert 250 < source.count("\n") < 350
    session = Session("live.pattern")
    assert session.check(source) == fresh(source) == []
    for what, changed in edits(source):
        assert session.check(changed) == fresh(changed), what
        assert session.check(source) == []


SHORE = """fabrics shore 6
    sold as fat-quarters 18 x 21
fabric sea
unit pip
    half-square sea, shore
    finished 2 x 2
{own}
quilt
    across 3, down 2
    tile
        {tile}
"""


@pytest.mark.parametrize(
    ("own", "tile"),
    [
        ('    also 1 of 2 x 3 shore(2) "tab"\n', "pip"),
        ("    cut 1 of 2 7/8 x 2 7/8 shore(2)\n", "pip"),
        ("unit rim\n    across 2, down 2\n    tile\n        pip\n    setting on point shore(2)\n", "rim"),
    ],
)
def test_a_print_that_is_named_by_its_number_beside_the_pieces(own: str, tile: str) -> None:
    source, session = SHORE.format(own=own, tile=tile), Session("live.pattern")
    for version in (source, source.replace("across 3", "across 4"), source + "# a comment\n", source):
        assert session.check(version) == fresh(version)
