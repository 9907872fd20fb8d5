"""Sizes that hang together with others: chosen cuts, templates, roots, halves of a size."""

from __future__ import annotations

from fractions import Fraction

import pytest

from patternkit.checks import run
from patternkit.lengths import Length
from patternkit.piecing.batch import CutMeasured
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.units import SYSTEMS, apart
from patternkit.work.build import order_of
from tests.sewn.table import inches, project_of


def test_a_cut_that_the_writer_chose_is_chosen_for_its_equals() -> None:
    """Row 1 is cut 2 1/16; so are the patches that are as large, although the ruler has eighths."""
    text = (
        "block nine\n    rows\n        a cut 2 1/16 x 2 1/16 | b cut 2 1/16 x 2 1/16 | a cut 2 1/16 x 2 1/16\n"
        "        b | a | b\n        a | b | a\n    finished 4 11/16\n\n"
        "quilt\n    across 2, down 2\n    tile\n        nine\n"
    )
    project = project_of(text)
    assert project.sewn.as_solved
    assert {c.width for c in project.makings["nine"].recipe.cuts} == {inches("2 1/16")}


def test_a_plain_piece_is_cut_to_what_it_is_sewn_to() -> None:
    """3 1/5 in and two seams lie on no line of the ruler: the strip beside a unit cut by templates is cut longer, and
    to the length that is measured there."""
    text = (
        "unit fan\n    flying-geese a, b\n    method from templates\n    finished 6.4 x 3.2\n\n"
        "block both\n    row fan | c 2\n\nquilt\n    layout\n        both\n"
    )
    project = project_of(text)
    assert project.sewn.trouble is None and not [p for p in run(project) if not p.advice]
    (cut,) = project.makings["both"].recipe.cuts
    assert (cut.width, cut.height, cut.exact_height) == (inches("2 1/2"), inches("3 3/4"), Length(Fraction(37, 10)))
    assert project.makings["both"].height == Length(Fraction(16, 5))
    order, designs = order_of(project)
    told = [a for s in order.steps for b, _ in s.batches for p in b.passages for a in p.actions]
    assert [a.about for a in told if isinstance(a, CutMeasured)] == [Length(Fraction(37, 10))]
    assert rehearsal(order, designs).gaps == ()


def test_corners_of_half_a_side_need_a_line_too() -> None:
    """A square in a square of 2 1/8 by stitch and flip: squares of 1 9/16 are cut 1 5/8, so it finishes 2 1/4."""
    project = project_of("unit drift\n    square-in-a-square a, b\n    finished 2 1/8\n")
    drift = project.makings["drift"]
    assert drift.width == inches("2 1/4")
    assert {c.width for c in drift.recipe.cuts} == {inches("2 3/4"), inches("1 5/8")}


def test_sizes_that_no_fraction_gives_stay_where_they_hang_together() -> None:
    """A half-square as high as a diamond with its 60 degrees is wide: on no ruler, and neither is what is beside it."""
    text = (
        "unit dune\n    diamond a, b\n    method from templates\n    finished 9 high\n\n"
        "block cable\n    row dune | c\n    finished 9\n\nblock lamp\n    half-square a, b\n    finished 9\n\n"
        "quilt\n    layout\n        lamp | cable\n"
    )
    project = project_of(text)
    assert project.sewn.trouble is None and not [p for p in run(project) if not p.advice]


def test_a_border_that_no_longer_fits_is_told_with_what_would() -> None:
    text = (
        "block star\n    rows\n        hs | hs | hs\n        hs | hs | hs\n        hs | hs | hs\n    finished 5\n\n"
        "unit hs\n    half-square a, b\n\nunit post\n    patch c 1\n\n"
        "quilt\n    across 2, down 2\n    tile\n        star\n    border post, cornerstones post\n"
    )
    (problem,) = [p for p in run(project_of(text)) if not p.advice]
    assert problem.code == "cannot-round" and "no longer fill its sides" in problem.message


def test_every_offer_was_tried() -> None:
    """With each number that is offered, written in its place, nothing is off the ruler any more."""
    head = "block cabin\n    log-cabin a 1 1/2\n    round b, c\n    rounds 3\n    finished 8\n"
    project = project_of(head)
    (advice,) = [p for p in run(project) if p.code == "off-ruler"]
    assert len(advice.repairs) >= 4
    text = project.sources[project.name].text
    for repair in advice.repairs:
        assert repair.span is not None and repair.replacement is not None
        again = project_of("")
        changed = repair.taken(text)
        again = type(project)(project.name, changed)
        assert again.sewn.as_solved and again.sewn.rounded == () and not run(again)


def test_metric_rulers_and_seams() -> None:
    """14 mm of seams on a ruler with every 5 mm: the border is cut to what is measured, as no line says how long."""
    text = (
        'pattern "Metric"\n    units cm\n    seam 7 mm\n    ruler 5 mm\n\nfabric a dark\nfabric b light\n\n'
        "block nine\n    rows\n        a | b | a\n        b | a | b\n        a | b | a\n    finished 15\n\n"
        "quilt\n    across 2, down 2\n    tile\n        nine\n    border 5 a\n"
    )
    project = type(project_of(""))("metric.pattern", text)
    assert project.top is not None and not [p for p in run(project) if not p.advice]
    centre, cm = project.makings["nine"].width * 2, Length(Fraction(100, 254))
    assert centre == cm * Fraction(306, 10) and project.top.width == centre + cm * Fraction(102, 10)
    order, designs = order_of(project)
    assert rehearsal(order, designs).gaps == () and rehearsal(order, designs).not_rehearsed == ()


@pytest.mark.parametrize(("across", "down"), [(1, 1), (2, 1), (4, 1), (3, 2), (4, 5)])
def test_a_coping_strip_round_blocks_on_point_fits_the_ring_outside_it(across: int, down: int) -> None:
    """No fraction gives the centre: the coping strips are cut up and trimmed to what the ring measures."""
    text = (
        "block drift\n    patch b\n    finished 8\n\nunit key\n    patch b\n    finished 2 3/4\n\n"
        f"quilt\n    setting on point a\n    across {across}, down {down}\n    tile\n        drift\n    border b\n"
        "    border key, cornerstones a\n"
    )
    project = project_of(text)
    assert not [p for p in run(project) if not p.advice]
    order, designs = order_of(project)
    assert rehearsal(order, designs).gaps == () and rehearsal(order, designs).not_rehearsed == ()


def test_a_coping_strip_is_as_wide_as_the_ring_that_comes_out_asks_for() -> None:
    """Squares of 7/3 are cut 2 7/8 and finish 2 3/8: seven of them round a block of 14 leave (16 5/8 - 14)/2."""
    text = (
        "block lamp\n    half-square a, b\n    finished 14\n\nunit key\n    patch b\n    finished 7/3\n\n"
        "quilt\n    tile\n        lamp\n    border b\n    border key, cornerstones a\n"
    )
    project = project_of(text)
    assert not [p for p in run(project) if not p.advice] and project.top is not None
    assert project.top.width == inches("16 5/8") + inches("4 3/4")
    order, designs = order_of(project)
    assert rehearsal(order, designs).gaps == ()


def test_a_difference_too_small_for_a_fraction_is_told_in_decimals() -> None:
    inches_of, cm = SYSTEMS["inches"], SYSTEMS["cm"]
    assert apart(Length(Fraction(1, 50)), inches_of) == "about 0.02 in"
    assert apart(Length(Fraction(1, 8)), inches_of) == "1/8 in"
    assert apart(Length(Fraction(3, 10000)), cm) == "about 0.001 cm"


def test_a_stated_cut_between_two_lines_is_told_with_a_ruler_that_has_it() -> None:
    text = (
        "block nine\n    rows\n        a cut 2 1/16 x 2 1/16 | b cut 2 1/16 x 2 1/16 | a cut 2 1/16 x 2 1/16\n"
        "        b | a | b\n        a | b | a\n    finished 4 11/16\n\n"
        "quilt\n    across 2, down 2\n    tile\n        nine\n"
    )
    project = project_of(text)
    found = [p for p in run(project) if not p.advice]
    assert {p.code for p in found} == {"cut-off-ruler"} and len(found) == 3
    assert "write ruler 1/16 in under pattern" in [r.text for r in found[0].repairs]
    finer = type(project)("n.pattern", 'pattern "N"\n    ruler 1/16\n\nfabric a\nfabric b\n\n' + text)
    assert not [p for p in run(finer) if not p.advice]
    order, designs = order_of(finer)
    assert rehearsal(order, designs).gaps == ()


def test_lines_that_are_offered_for_a_stated_cut_settle_it() -> None:
    text = "block rail\n    strips a cut 1.7 | b\n    finished 4 x 4\n\nquilt\n    tile\n        rail\n"
    project = project_of(text)
    (problem,) = [p for p in run(project) if not p.advice]
    source = project.sources[project.name].text
    edits = [r for r in problem.repairs if r.span is not None and r.replacement is not None]
    assert [r.replacement for r in edits] == ["1 5/8", "1 3/4"]
    for r in edits:
        assert r.span is not None and r.replacement is not None
        changed = r.taken(source)
        assert not [p for p in run(type(project)(project.name, changed)) if not p.advice]
    assert "leave out the cut: what follows from the other sizes is cut by the ruler" in [
        r.text for r in problem.repairs
    ]


def test_sizes_that_come_out_are_offered_for_both_sides_of_a_claim() -> None:
    """Nine half-squares of 5/3 are cut 2 1/4 and can't be trimmed: a block of 5 1/4, and a quilt of 10 1/2."""
    text = (
        "unit hs\n    half-square a, b\n\nblock star\n    rows\n        hs | hs | hs\n        hs | hs | hs\n"
        "        hs | hs | hs\n    finished 5\n\n"
        "quilt\n    across 2, down 1\n    tile\n        star\n    finished 10 x 5\n"
    )
    (problem,) = [p for p in run(project_of(text)) if not p.advice]
    assert problem.code == "cannot-round"
    assert [r.replacement for r in problem.repairs[:2]] == ["10 1/2", "5 1/4"]
