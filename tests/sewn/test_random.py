"""Random quilts off the ruler, sewn on the table from what is told: every level comes out as told, or a problem says
why it can't.
"""

from __future__ import annotations

from fractions import Fraction

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from patternkit.checks import run
from patternkit.project import Project
from tests.sewn.table import likeness, project_of, sewn

CLOTHS = st.sampled_from("abc")
SIZES = st.builds(Fraction, st.integers(6, 60), st.sampled_from((2, 3, 4, 5, 8)))
WHOLE = st.integers(4, 14)
CALM = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)


def tried(text: str) -> Project:
    """The pattern sewn: as told at every level, or refused in words. Others (sizes that nobody could sew) are no matter
    of rounding."""
    project = project_of(text)
    problems = [p for p in run(project) if not p.advice]
    if project.sewn.trouble is not None:
        assert {p.code for p in problems} >= {"cannot-round"}
        return project
    assume(not problems)
    assert sewn(project).faults == [], text
    assert likeness(project) == [], text
    return project


def rows(n: int, m: int, cloths: list[str]) -> str:
    """Lines of a grid of plain patches."""
    return "".join(
        "        " + " | ".join(cloths[(r * m + c) % len(cloths)] for c in range(m)) + "\n" for r in range(n)
    )


@CALM
@given(st.integers(1, 5), st.integers(1, 5), st.lists(CLOTHS, min_size=3, max_size=7), WHOLE, WHOLE)
def test_grids_of_patches(n: int, m: int, cloths: list[str], wide: int, high: int) -> None:
    body = f"block grid\n    rows\n{rows(n, m, cloths)}    finished {wide} x {high}\n\n"
    project = tried(body + "quilt\n    across 2, down 3\n    tile\n        grid\n")
    assert project.sewn.trouble is None


@CALM
@given(st.lists(SIZES, min_size=2, max_size=5), SIZES, st.lists(CLOTHS, min_size=5, max_size=5))
def test_rows_of_stated_sizes_over_one_piece(widths: list[Fraction], high: Fraction, cloths: list[str]) -> None:
    line = " | ".join(f"{c} {w} x {high}" for c, w in zip(cloths, widths, strict=False))
    text = f"block mix\n    rows\n        {line}\n        b {sum(widths)} x 2\n\n"
    assert tried(text + "quilt\n    across 2, down 2\n    tile\n        mix\n").sewn.trouble is None


@CALM
@given(st.sampled_from(("log-cabin", "courthouse-steps")), SIZES, st.integers(1, 4), st.integers(6, 20), st.booleans())
def test_log_cabins(kind: str, centre: Fraction, rounds: int, size: int, framed: bool) -> None:
    assume(size > centre + rounds * 2 * Fraction(1, 2))
    text = f"block cabin\n    {kind} a {centre}\n    round b, c\n    rounds {rounds}\n    finished {size}\n\n"
    frame = "    sashing 4/3 a\n    border 5/3 b\n" if framed else ""
    assert tried(text + f"quilt\n    across 2, down 2\n    tile\n        cabin\n{frame}").sewn.trouble is None


@CALM
@given(st.integers(2, 6), st.lists(CLOTHS, min_size=6, max_size=6), WHOLE, WHOLE)
def test_strip_units(n: int, cloths: list[str], wide: int, high: int) -> None:
    text = f"block rail\n    strips {' | '.join(cloths[:n])}\n    finished {wide} x {Fraction(high, 3)}\n\n"
    tried(text + "quilt\n    across 3, down 3\n    tile\n        rail\n")


@CALM
@given(
    st.integers(2, 4), st.integers(2, 4), SIZES, st.sampled_from(("", ", cornerstones b", ", inner")),
    st.lists(SIZES, max_size=2), st.sampled_from(("", ", top first", ", cornerstones c", ", mitred")),
)  # fmt: skip
def test_sashing_and_borders(
    across: int, down: int, sash: Fraction, corners: str, borders: list[Fraction], how: str
) -> None:
    text = "block four\n    rows\n        a | b\n        b | a\n    finished 7\n\n"
    text += f"quilt\n    across {across}, down {down}\n    tile\n        four\n    sashing {sash} c{corners}\n"
    text += "".join(f"    border {b} a{how}\n" for b in borders)
    if how == ", mitred":  # the ends of mitred strips are no rectangles: sizes alone are held against each other
        project = project_of(text)
        assume(not [p for p in run(project) if not p.advice])
        assert likeness(project) == []
        return
    tried(text)


@CALM
@given(st.sampled_from((3, 5, 6, 7)), st.integers(3, 9), st.booleans(), st.booleans())
def test_a_block_beside_others(n: int, size: int, stone: bool, slanted: bool) -> None:
    """A plain block, or one with seams elsewhere, beside one that is off the ruler."""
    cells = "hs" if slanted else "a"
    half = "unit hs\n    half-square a, b\n\n" if slanted else ""
    line = "        " + " | ".join([cells] * n) + "\n"
    block = f"{half}block one\n    rows\n{line * n}    finished {size}\n\n"
    other = "block two\n    patch c\n\n" if stone else "block two\n    rows\n        a | b\n        b | c\n\n"
    quilt = "quilt\n    across 2, down 2\n    tile\n        one | two\n        two | one\n"
    project = project_of(block + other.rstrip("\n") + f"\n    finished {size}\n\n" + quilt)
    assume(not [p for p in run(project) if not p.advice])
    for axis in (0, 1):
        sizes = {(m.width, m.height)[axis] for m in project.makings.values() if m.role == "block"}
        assert len(sizes) == 1
    if not slanted:
        assert sewn(project).faults == []
    assert likeness(project) == []
