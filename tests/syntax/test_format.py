"""The formatter settles the look of a file and leaves its meaning."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from patternkit.syntax.format import format_text

from .files import files
from .helpers import codes, meaning, read

UNTIDY = """\
Pattern “Tide”
\tseam ¼
\tusable-width 40”

fabric night "Midnight blue" dark #1B2A49  # deep
fabric quay-stone directional "Quay" medium
unit wall
  strips  night 1-1/2|  quay-stone<>night 1½
  finished side / 3x3
  note
      First line
        deeper # no comment

  # about the rows


block b( a,n )
  rows
    wall|wall turned 90°<>b2
    # between
    >
    quay-stone , wall
    (wall >) 3 times wall
sizes
  cot across 3,down 5 # small
  queen  across 9 , down 11"""

TIDY = """\
pattern "Tide"
    seam 1/4
    usable width 40 in

fabric night      "Midnight blue"  dark    #1b2a49  # deep
fabric quay-stone "Quay"           medium           directional
unit wall
    strips night 1 1/2 | quay-stone <> night 1 1/2
    finished side/3 x 3
    note
        First line
          deeper # no comment

    # about the rows


block b(a, n)
    rows
        wall | wall turned 90 <> b2
        # between
        >
        quay-stone, wall
        (wall >) 3 times wall
sizes
    cot    across 3, down 5  # small
    queen  across 9, down 11
"""


def test_an_untidy_file() -> None:
    assert codes(UNTIDY) == []
    assert format_text(UNTIDY) == TIDY
    assert format_text(TIDY) == TIDY


def test_grids_are_aligned() -> None:
    text = "block b\n    rows\n        corner|wall<>corner turned 90\n        wall turned 90>glow|w\n"
    assert format_text(text) == (
        "block b\n    rows\n        corner         | wall <> corner turned 90\n        wall turned 90 > glow |  w\n"
    )


def test_what_cannot_be_read_keeps_its_words() -> None:
    text = "unit w\n  finished  3 x\n  patch   night\nunit   (\n  patch   a\n"
    assert format_text(text) == "unit w\n    finished  3 x\n    patch night\nunit   (\n    patch a\n"
    odd = "unit w\n   patch  a\n  make 3\n"
    assert format_text(odd) == odd


@pytest.mark.parametrize(
    "line, want",
    [
        ("let a = side/3/4", "let a = side/3 / 4"),
        ("let a = side/1 1/4", "let a = side / 1 1/4"),
        ("let a = side / 3/4", "let a = side / 3/4"),
        ("let a = 9 / 2", "let a = 9 / 2"),
        ("let a = 9/2", "let a = 9/2"),
        ("let a = 2 * b", "let a = 2*b"),
        ("let a = - 3", "let a = -3"),
        ("let a = b -1", "let a = b - 1"),
        ("let a = ( b+c )*2", "let a = (b + c)*2"),
        ("let a = root ( 2 )", "let a = root (2)"),
        ("let a = 1 ½ * 2", "let a = 1 1/2*2"),
        ("let a = b / 1 1/2", "let a = b / 1 1/2"),
        ("let a = 0.50 yards", "let a = 0.50 yd"),
    ],
)
def test_arithmetic(line: str, want: str) -> None:
    assert format_text(line) == want + "\n"
    assert meaning(read(want)) == meaning(read(line))


def test_the_sample_only_moves_its_comments(lantern: str) -> None:
    done = format_text(lantern)
    assert [" ".join(a.split()) for a in done.splitlines()] == [" ".join(b.split()) for b in lantern.splitlines()]


@settings(max_examples=150, deadline=None)
@given(files())
def test_the_meaning_stays_and_twice_is_once(text: str) -> None:
    file = read(text)
    assert file.problems == ()
    done = format_text(text)
    assert meaning(read(done)) == meaning(file)
    assert format_text(done) == done
