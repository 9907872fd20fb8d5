"""One pressing for all sizes and colourways: nearest among plans of equal cost, against every assignment;
what that costs.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from random import Random

import pytest

from patternkit import api
from patternkit.piecing.batch import Thing
from patternkit.piecing.keys import Key
from patternkit.piecing.making import Making, Side
from patternkit.pressing import maxsat
from patternkit.pressing.joints import find_joints
from patternkit.pressing.keeping import Kept, names
from patternkit.pressing.looks import Looks
from patternkit.pressing.planner import PressPlan, kept_plan, plan_pressing
from patternkit.project import Project

from .random_quilts import VALUES
from .test_finder import _makings
from .test_plan import OLD_ROWS, Sides, assignments, free_seams, scorer, small

CHAIN = Path(__file__).parents[2] / "examples/traditional/four-patch-chain.pattern"
UNITS = (Thing(Key("four-patch")), Thing(Key("chain")))


def wish(top: Making, seed: int) -> Sides:
    """Sides to keep to, at random, open ones among them."""
    rnd = Random(seed)
    choices: tuple[Side, ...] = ("left", "right", "open")
    return {
        (m.thing, j): s.pressed if s.pressed != "free" else rnd.choice(choices)
        for m in _makings(top)
        for j, s in enumerate(m.seams)
    }


def kept(top: Making, sides: Sides, loss: Fraction) -> Kept:
    return Kept({name: m for m, name in names(_makings(top)).items()}, sides, frozenset(), loss=loss)


def weights(top: Making) -> dict[tuple[str, int], int]:
    """What a seam counts for: one of a unit or block more than all of the quilt and its rows can together."""
    whole = {top, *(p.what for p in top.parts)}
    own = {(m.thing, j): m not in whole for m, j in free_seams(top)}
    return {seam: 2 * (len(own) - sum(own.values())) + 1 if is_own else 1 for seam, is_own in own.items()}


def apart(sides: Sides, want: Sides, weight: dict[tuple[str, int], int]) -> int:
    """The price of an assignment, straight from its definition: a seam that is to lie open and does not, or
    the other way round, or the other side. (The side under an open seam is free.)
    """
    return sum(w for seam, w in weight.items() if sides[seam] != want[seam])


@pytest.mark.parametrize("seed", range(14))
@pytest.mark.parametrize("solver", [True, False], ids=["solver", "no solver"])
def test_nearest_of_the_plans_of_equal_cost(seed: int, solver: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    if not solver:
        monkeypatch.setattr(maxsat, "available", lambda: False)
    top = small(6, 14)[seed]
    want, weight, score = wish(top, seed), weights(top), scorer(top)
    plan = plan_pressing(top, VALUES, OLD_ROWS, kept(top, want, Fraction(0)))
    every = list(assignments(top, ("left", "right", "open")))
    least = min(map(score, every))
    if not plan.proved:
        assert not solver
        return
    assert plan.score == least == plan_pressing(top, VALUES, OLD_ROWS).score
    assert plan.apart == min(apart(s, want, weight) for s in every if score(s) == least)
    assert plan.apart == apart({seam: plan.sides[seam] for seam in weight}, want, weight)
    assert not plan.agreed


@pytest.mark.parametrize("top", small(7, 10, start=50), ids=range(10))
def test_a_plan_keeps_to_itself(top: Making) -> None:
    plan = plan_pressing(top, VALUES, OLD_ROWS)
    again = plan_pressing(top, VALUES, OLD_ROWS, kept_plan(plan))
    assert (again.sides, again.score, again.proved, again.apart) == (plan.sides, plan.score, plan.proved, 0)


@pytest.mark.parametrize("top", small(7, 10, start=80), ids=range(10))
def test_whatever_is_kept_to_strictly_is_kept_in_all(top: Making) -> None:
    """And its score is what the definition says, its bound no more than what the best plan loses."""
    want = wish(top, 5)
    strict = Kept({name: m for m, name in names(_makings(top)).items()}, want, frozenset(), strictly=True)
    plan = plan_pressing(top, VALUES, OLD_ROWS, strict)
    assert plan.sides == want and plan.apart == 0
    assert plan.score == scorer(top)({(m.thing, j): want[(m.thing, j)] for m, j in free_seams(top)})
    best = plan_pressing(top, VALUES, OLD_ROWS)
    assert plan.bound <= best.score[0] and (not plan.proved or plan.score == best.score)


def test_little_is_given_up_so_that_units_agree() -> None:
    found = 0
    for seed, top in enumerate(small(7, 30, start=120)):
        want, looks = wish(top, seed), Looks(VALUES)
        all_weight = sum(looks.weight(j) * j.count for j in find_joints(top))
        best = plan_pressing(top, VALUES, OLD_ROWS)
        for loss in (Fraction(1, 20), Fraction(1, 4)):
            plan = plan_pressing(top, VALUES, OLD_ROWS, kept(top, want, loss))
            assert best.score[0] <= plan.score[0] <= best.score[0] + loss * all_weight
            assert plan.bound == best.bound and plan.proved == (plan.score == best.score)
            if plan.agreed:
                found += 1
                assert all(plan.sides[seam] == want[seam] for seam, w in weights(top).items() if w > 1)
    assert found > 2


# -- whole patterns ----------------------------------------------------------------------------------------
def of_units(plan: PressPlan | None) -> dict[tuple[Thing, int], Side]:
    assert plan is not None
    return {seam: side for seam, side in plan.sides.items() if seam[0] in UNITS}


def test_sizes_agree_in_their_units_and_say_what_that_costs() -> None:
    project = api.load(CHAIN)
    first = project.pressing
    for size, lost in (("twin", 2), ("double", 2)):
        plan = project.in_size(size).pressing
        assert plan is not None and of_units(plan) == of_units(first)
        alone = api.load(CHAIN, size=size)
        alone.leader = lambda: None  # type: ignore[method-assign]
        best = alone.pressing
        assert best is not None and of_units(best) != of_units(first)
        assert best.nested - plan.nested == lost and plan.agreed and not plan.proved
        assert plan.bound == best.score[0]


def test_a_size_opened_by_itself_is_planned_as_beside_its_sisters() -> None:
    beside, alone = api.load(CHAIN).in_size("double").pressing, api.load(CHAIN, size="double").pressing
    assert beside is not None and alone is not None
    assert (beside.sides, beside.score) == (alone.sides, alone.score)


def test_the_one_block_of_a_quilt_may_have_two_versions_in_every_size() -> None:
    """Its row has no seam, and its place in that row may be turned all the same."""
    text = """
fabric night
fabric glow
let side = 4
block tern
    flying-geese glow, night
    finished 2*side x side
    press half of them the other way
quilt
    tile
        tern
sizes
    cot side 6
colourway dusk
    night = glow
    glow = night
"""
    project = Project("tern.pattern", text)
    assert [p for p in api.check(project) if not p.advice] == []
    for at in (project, project.in_size("cot"), project.in_size("cot", "dusk")):
        assert at.pressing is not None and len(at.pressing.sides) == 2


STRIPS = """pattern "Slipway"
    units inches
    usable width 40

fabric night "Midnight blue" dark   #1b2a49
fabric glow  "Lamp yellow"   light  #f4c95d
fabric stone "Quay stone"    medium #9aa3ad
fabric chalk "Chalk"         light  #f5f5f0
fabric slate "Slate"         dark   #4b5563

unit rung
    strips night | glow | night
    finished 6 x 2
    press toward night

unit plank
    strips night | glow | night
    finished 6 x 4

block tower
    rows
        rung
        stone 6 x 1
        plank
        stone 6 x 1
    make 2

quilt
    across {across}, down 1
    tile
        tower

sizes
    mat    across 2
    table  across 5

colourway washed "Washed"
    night = chalk
    glow = slate

colourway deep "Deep"
    night = slate
    glow = chalk
"""


def sharing(project: Project) -> list[tuple[str, ...]]:
    counts = project.plan(solver=False)[0].counts
    return sorted({tuple(str(m.key) for m in c.shared.makings) for c in counts if c.shared is not None})


def test_a_colourway_is_sewn_by_the_steps_of_the_main_fabrics() -> None:
    """In "washed" dark and light change places: planned by itself, the plank would be pressed to its other
    fabric and share no strip unit with the rung, while the booklet tells of one that both are cut from.
    """
    project = Project("slipway.pattern", STRIPS.format(across=2))
    (advice,) = [p for p in api.check(project) if p.code == "colourway-turns-values"]
    assert "Washed" in advice.message and "7 seams" in advice.message  # 2 of each unit, 3 of the tower
    assert not [p for p in api.check(project) if not p.advice]
    assert sharing(project) == [("rung", "plank")]
    for size in ("", "mat", "table"):
        main = project.in_size(size, "").pressing
        assert main is not None
        for way in ("washed", "deep"):
            dressed = project.in_size(size, way)
            plan = dressed.pressing
            assert plan is not None and (plan.sides, plan.reversed_places) == (main.sides, main.reversed_places)
            assert sharing(dressed) == [("rung", "plank")]
    alone = Project("slipway.pattern", STRIPS.format(across=2), colourway="washed")
    assert alone.pressing is not None and project.pressing is not None
    assert alone.pressing.sides == project.pressing.sides


def test_planned_by_itself_that_colourway_would_share_nothing() -> None:
    """What the rule is there for."""
    washed = Project("slipway.pattern", STRIPS.format(across=2), colourway="washed")
    washed.leader = lambda: None  # type: ignore[method-assign]
    assert sharing(washed) == []


def test_a_colourway_with_light_and_dark_in_place_is_planned_as_well_as_the_main_fabrics() -> None:
    project = Project("slipway.pattern", STRIPS.format(across=2))
    deep, main = project.in_size("", "deep").pressing, project.pressing
    assert deep is not None and main is not None and (deep.score, deep.proved) == (main.score, main.proved)
