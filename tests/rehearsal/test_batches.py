"""Batches sewn on the simulated table: right ones have no gap, and each slip is told where it is first met."""

from __future__ import annotations

import pytest

from patternkit.rehearsal.drawn import Designs
from patternkit.rehearsal.gaps import Gap, gap_text
from patternkit.rehearsal.outcome import outcome
from tests.rehearsal import library
from tests.rehearsal.library import CASES, Case
from tests.rehearsal.table import SEAM


def gaps(case: Case) -> list[Gap]:
    """What goes wrong with a case."""
    return outcome(case.batch, case.room, Designs(case.designs, SEAM)).gaps


@pytest.mark.parametrize("name", CASES)
def test_right_batches_have_no_gap(name: str) -> None:
    assert [gap_text(g) for g in gaps(CASES[name]())] == []


def first(case: Case) -> Gap:
    """The first thing that goes wrong with a case, which must be there."""
    found = gaps(case)
    assert found
    return found[0]


def test_logs_cut_wider_than_their_lengths_say() -> None:
    """The second log meets a side that is 1/8 longer than it, and the gap stands at its join."""
    gap = first(library.logs(wide="1 5/8"))
    assert (gap.kind, gap.action, gap.stated, gap.out) == ("edges", 1, 3.625, 3.5)


def test_logs_of_a_block_off_the_ruler() -> None:
    """Logs of 5/3 cut 2 1/4, with the lengths of 2 1/6 that a table of exact sizes gives."""
    lengths = ("2 1/2", "4 1/6", "4 1/6", "5 5/6", "5 5/6", "7 1/2", "7 1/2", "9 1/6", "9 1/6", "10 5/6", "10 5/6")
    gap = first(library.logs((*lengths, "12 1/2"), wide="2 1/4"))
    assert (gap.kind, gap.action) == ("edges", 1)
    assert gap.stated == pytest.approx(4.25)
    assert gap.out == pytest.approx(4.1667, abs=1e-4)


def test_a_diagonal_that_leans_the_other_way() -> None:
    assert first(library.half_rectangle("left")).kind == "mirrored"


def test_a_pair_sewn_on_one_side_of_the_line_only() -> None:
    case = library.pairs()
    actions = [library.Sew(a.line, (1,)) if isinstance(a, library.Sew) else a for a in case.batch.passages[0].actions]
    gap = first(case._replace(batch=library.batch(list(case.batch.uses), actions, list(case.batch.gives))))
    assert (gap.kind, gap.action) == ("loose", 3)


def test_stitches_across_a_tip_that_nobody_picks_out() -> None:
    case = library.eight()
    actions = [library.Open(1) if isinstance(a, library.Open) else a for a in case.batch.passages[0].actions]
    gap = first(case._replace(batch=library.batch(list(case.batch.uses), actions, list(case.batch.gives))))
    assert gap.kind == "shut"


def test_a_trim_left_out() -> None:
    case = library.pairs()
    actions = list(case.batch.passages[0].actions[:-1])
    gap = first(case._replace(batch=library.batch(list(case.batch.uses), actions, list(case.batch.gives))))
    assert (gap.kind, gap.stated) == ("size", 3.5)
    assert gap.out == pytest.approx(3.6464, abs=1e-4)  # published: 4 less root 2 seams


def test_squares_too_small_to_trim() -> None:
    gap = first(library.pairs("3 3/4"))
    assert (gap.kind, gap.stated) == ("no cloth", 3.5)


def test_hourglasses_that_are_all_said_to_be_alike() -> None:
    assert first(library.hourglass(versions=False)).kind == "version"


def test_rings_that_are_not_trimmed_beyond_their_points() -> None:
    assert first(library.square_triangles(trimmed=False)).kind == "point"


def test_set_in_seams_sewn_through_the_allowance() -> None:
    """The gap stands at the first seam that went too far, not where the set-in piece does not fit."""
    gap = first(library.star("edge"))
    assert (gap.kind, gap.action) == ("through", 0)


def test_a_curve_of_another_radius() -> None:
    gap = first(library.quarter_circle("4 1/4"))
    assert gap.kind == "seam lines"


def test_a_partial_seam_that_is_never_finished() -> None:
    assert first(library.partial(closed=False)).kind in ("patch", "version")


def test_a_piece_that_does_not_cover_its_field() -> None:
    gap = first(library.foundation("3 3/4"))
    assert (gap.kind, gap.action, gap.out) == ("cover", 0, 3.75)


def test_strips_too_short_for_their_segments() -> None:
    """Squaring up takes some of the width: 16 segments of 2 1/2 are not to be had from 40 inches."""
    assert gaps(library.strips(16)) == []
    gap = first(library.strips(17))
    assert (gap.kind, gap.out) == ("strip", 42)


def test_mitred_strips_that_end_at_the_mitre() -> None:
    assert first(library.mitred("14 1/2")).kind == "edges"


def test_centres_on_point_trimmed_where_there_is_no_cloth() -> None:
    assert first(library.on_point("3/8")).kind == "no cloth"
