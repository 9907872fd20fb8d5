"""Offers are tried before they are made: what is offered mends, and nothing is offered that does not."""

from __future__ import annotations

from itertools import islice
from pathlib import Path

import pytest

from patternkit import api
from patternkit.bench.offers import patterns, slips
from patternkit.checks import run
from patternkit.desk.offers import MOST, tried
from patternkit.problems import Problem, Repair
from patternkit.project import Project

SOUND = """\
pattern "Nines"
    units inches
    seam 1/4

fabric night "Midnight" dark
fabric glow  "Glow" light

unit nine
    rows
        night | glow  | night
        glow  | night | glow
        night | glow  | night
    finished 6
    measures 6 1/2
    make 20

quilt
    across 4, down 5
    tile
        nine
    border 3 night
    finished 30 x 36
"""


def checked(text: str) -> list[Problem]:
    return [p for p in api.check(Project("t.pattern", text)) if not p.advice]


def test_the_pattern_is_sound() -> None:
    assert checked(SOUND) == []


@pytest.mark.parametrize(
    ("right", "wrong", "offer"),
    [
        ("make 20", "make 20 1/2", "write 20"),
        ("        nine\n", "        nnine\n", "write nine instead of nnine"),
        ("        nine\n", "        nine turned 91\n", "write turned 90"),
        ("across 4", "across 5", "write across 4; 1 other problem would go with it"),
        ("border 3", "border 2", "border 1 is 2 in finished: write 3 in instead of 2 in; this would settle 2 "),
        ("make 20", "make 21", "write make 20"),
        ("    units inches", "    unit inches", "write units instead of unit"),
    ],
)
def test_a_slip_is_mended_by_the_first_offer(right: str, wrong: str, offer: str) -> None:
    text = SOUND.replace(right, wrong, 1)
    problems = checked(text)
    first = [p.repairs[0] for p in problems if p.repairs]
    assert first and first[0].text.startswith(offer)
    assert checked(first[0].taken(text)) == []


def test_other_ways_of_mending_all_of_it_are_offered_too() -> None:
    text = SOUND.replace("seam 1/4", "seam 3/8")
    assert "write seam 1/4" in [r.text for p in checked(text) for r in p.repairs]
    text = SOUND.replace("unit nine", "unit nime")
    (problem,) = [p for p in checked(text) if p.code == "unknown-name"]
    called = [r for r in problem.repairs if r.text == "call it nine where it is described, instead of nime"]
    assert len({(r.span, r.replacement) for r in problem.repairs}) == len(problem.repairs)
    assert checked(called[0].taken(text)) == []


def test_an_offer_that_mends_nothing_is_not_made() -> None:
    text = SOUND.replace("make 20", "make 21")
    (problem,) = [p for p in run(Project("t.pattern", text)) if not p.advice]
    place = problem.span
    bad = Repair("write make 22", place, "make 22")
    words = Repair("count again")
    worse = Repair("take the unit out", type(place)("t.pattern", text.index("unit nine"), text.index("quilt")), "")
    given = [Problem(problem.code, problem.message, place, repairs=(words, bad, worse, *problem.repairs))]
    (told,) = tried(Project("t.pattern", text), given)
    assert [r.text for r in told.repairs][-1] == "count again"
    assert not {bad.text, worse.text} & {r.text for r in told.repairs}
    assert "write make 20" in told.repairs[0].text


def test_what_mends_most_stands_first_and_four_are_enough() -> None:
    for problem in checked(SOUND.replace("across 4", "across 5")):
        assert problem.repairs[0].text == "write across 4; 1 other problem would go with it"
        assert len(problem.repairs) <= MOST


def test_a_slip_behind_which_others_hide_is_mended_all_the_same() -> None:
    """Reading stops at the first slip; what comes to light when it is mended does not count against the offer."""
    text = SOUND.replace("tile", "tille").replace("make 20", "make 21")
    offers = [r for p in checked(text) for r in p.repairs if r.replacement == "tile"]
    assert offers
    assert {p.code for p in checked(offers[0].taken(text))} == {"make-differs"}


def test_a_sound_pattern_and_advice_are_left_as_they_are() -> None:
    text = SOUND.replace('fabric glow  "Glow" light', 'fabric glow  "Glow" light\nfabric sea   "Sea" medium')
    project = Project("t.pattern", text)
    problems = run(project)
    assert problems and all(p.advice for p in problems)
    assert tried(project, problems) == problems


def test_of_forty_slips_nearly_all_are_mended_and_no_offer_is_in_vain() -> None:
    """`python -m patternkit.bench.offers` tries more, and tells which are not mended."""
    done = list(islice(slips(1000, patterns()), 40))
    assert [s.in_vain for s in done if s.in_vain] == []
    assert sum(s.mended for s in done) >= 38, [(s.path.name, s.line, s.before, s.after) for s in done if not s.mended]


@pytest.mark.parametrize(
    ("before", "after", "offer"),
    [
        ("4 times round", "5 times round", "write 4"),
        ("unit pine", "unit pine 1/2", "leave out `1/2`"),
    ],
)
def test_a_number_that_can_not_stand_there_is_taken_back(before: str, after: str, offer: str) -> None:
    source = (Path(__file__).parents[1] / "sayable" / "traditional" / "pineapple.pattern").read_text(encoding="utf-8")
    source = source.replace("block pine", "unit pine") if before == "unit pine" else source
    assert before in source
    texts = [r.text for p in run(Project("pine.pattern", source.replace(before, after, 1))) for r in p.repairs]
    assert offer in texts, texts
