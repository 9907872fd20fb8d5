"""The states of the table, from which drawings are made."""

from __future__ import annotations

import pytest

from patternkit.rehearsal.perform import perform
from patternkit.rehearsal.plane import area
from tests.rehearsal import library


def test_a_state_for_what_is_taken_and_for_every_action() -> None:
    case = library.pairs()
    states = perform(case.batch, case.room).states
    assert [(s.passage, s.action) for s in states] == [(-1, -1), (0, 0), (0, 1), (0, 2), (0, 3), (0, 4)]
    assert [len(s.hands) for s in states] == [2, 1, 1, 2, 2, 2]
    assert [len(s.hands[0].sheets) for s in states] == [1, 2, 2, 2, 1, 1]


def test_what_is_laid_over_lies_face_down() -> None:
    case = library.pairs()
    laid = perform(case.batch, case.room).states[1].hands[0]
    assert [[f.up for f in sheet.facets] for sheet in laid.sheets] == [[True], [False]]


def test_two_rows_of_stitches_and_a_cut_between() -> None:
    """Each row lies a seam beside the diagonal, so it is two seams shorter than that."""
    case = library.pairs()
    states = perform(case.batch, case.room).states
    diagonal = 4 * 2**0.5
    for a, b in states[2].hands[0].stitches:
        assert ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5 == pytest.approx(diagonal - 2 * 0.25)
    assert len(states[2].lines) == 2
    assert len(states[3].lines) == 1


def test_cloth_is_neither_made_nor_lost_by_cutting() -> None:
    """What shows before and after a cut through two squares is the same."""
    case = library.eight()
    states = perform(case.batch, case.room).states
    before, after = (sum(area(f.ring) for h in states[n].hands for f in h.facets) for n in (3, 4))
    assert before == pytest.approx(2 * 8 * 8)
    assert after == pytest.approx(before)


def test_opened_and_trimmed_it_is_a_square_of_its_size() -> None:
    case = library.eight()
    hands = perform(case.batch, case.room).states[-1].hands
    assert len(hands) == 8
    for hand in hands:
        assert sum(area(f.ring) for f in hand.facets) == pytest.approx(3.5**2)
