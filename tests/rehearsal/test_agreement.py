"""The rehearsal agrees with what else there is to try things by, which shares no code with it: the tests' own cutter,
and the tests' own sewing with polygons."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from patternkit.plan.model import FabricPlan
from patternkit.project import Project
from patternkit.rehearsal.outcome import outcome
from patternkit.work.build import order_from
from patternkit.work.model import CutBias, CutDiagonally, CutPieces, CutStrips, JoinEnds, Order
from tests.cutting.replay import cut_one_by_one
from tests.generate import pattern
from tests.kinds.bench import one
from tests.kinds.sewing import Line, cloth, fits, misfit, rect, right_triangle, sew
from tests.kinds.test_sewing_corners import geese_of, heart, middle_of_goose
from tests.kinds.test_sewing_squares import pairs
from tests.rehearsal import library
from tests.rehearsal.library import Case
from tests.rehearsal.table import SEAM

EXAMPLES = sorted(p for p in (Path(__file__).parents[2] / "examples").rglob("*.pattern") if "wrong" not in p.name)
SEEDS = range(40)
Sides = tuple[Fraction, Fraction]


# -- cutting -----------------------------------------------------------------------------------------------
def boxes_cut(plan: FabricPlan, usable: Fraction) -> Counter[Sides]:
    """Every rectangle that is cut of a fabric, by its sides in inches, the shorter first: cut one by one by a cutter
    that owns the cloth, without those that are cut to shape by a template."""
    lines = {line.id: line for line in plan.lines}
    found = Counter[Sides]()
    for _, cut, box in cut_one_by_one(plan.plan, int(usable * plan.scale)):
        line = lines[cut.piece]
        if line.cut.then != "template" and not line.per_strip:
            low, high = sorted(Fraction(n) / plan.scale for n in box[2:])
            found[low, high] += 1
    return found


def boxes_told(order: Order, fabric: str) -> Counter[Sides]:
    """The same as the order tells it."""
    found = Counter[Sides]()
    joined = Counter[Fraction]()
    for cutting in order.cutting:
        if isinstance(cutting, CutPieces) and cutting.motif is not None and cutting.piece.fabric == fabric:
            low, high = sorted((cutting.motif.length.fraction, order.usable[fabric].fraction))
            found[low, high] += 1  # a length of the cloth, whose motifs the pieces are cut round
        elif isinstance(cutting, (CutPieces, CutDiagonally)) and cutting.piece.fabric == fabric:
            low, high = sorted(x.fraction for x in cutting.lies)
            found[low, high] += cutting.count
        elif isinstance(cutting, CutStrips) and cutting.fabric == fabric:
            low, high = sorted((cutting.height.fraction, order.usable[fabric].fraction))  # a panel may be the longer
            found[low, high] += cutting.count
        elif isinstance(cutting, JoinEnds) and cutting.strip.fabric == fabric:
            joined[cutting.strip.height.fraction] += cutting.count
        elif isinstance(cutting, CutBias) and cutting.fabric == fabric:
            low, high = sorted(
                x.fraction for x in (cutting.length or cutting.square, cutting.square or order.usable[fabric])
            )
            found[low, high] += 1
    for height, count in joined.items():
        assert found[height, order.usable[fabric].fraction] >= count, "joined of strips that nobody cuts"
    return found


PATTERNS = [
    *(pytest.param(p.read_text(encoding="utf-8"), id=p.stem) for p in EXAMPLES),
    *(pytest.param(pattern(seed), id=f"made-{seed}") for seed in SEEDS),
]


@pytest.mark.parametrize("text", PATTERNS)
def test_the_order_tells_what_a_cutter_cuts(text: str) -> None:
    """In every size: as many of each rectangle, whatever the plan lays where."""
    whole = Project("cut", text)
    for size in [s.name for s in whole.pattern.sizes] or [""]:
        project = whole.in_size(size, "")
        plan, problems = project.plan(solver=False)
        if problems or project.sewn_top is None:
            continue
        order = order_from(project.pattern, plan, project.sewn_roots, (size, "")).order
        for fabric, own in plan.fabrics.items():
            if own.sheets is None:
                assert boxes_told(order, fabric) == boxes_cut(own, order.usable[fabric].fraction), (size, fabric)


# -- sewing ------------------------------------------------------------------------------------------------
def sewn_by_hand(case: Case) -> bool:
    """Whether the rehearsal finds nothing wrong."""
    from patternkit.rehearsal.drawn import Designs

    return not outcome(case.batch, case.room, Designs(case.designs, SEAM)).gaps


def _pairs(side: float) -> bool:
    return fits(pairs("a", "b", side, SEAM), library.half_square(), SEAM, (0, 0))


def _eight(side: float) -> bool:
    return _pairs(side / 2)


def _four(side: float) -> bool:
    quarter = cloth("x", (0, 0), (side, 0), (side / 2, side / 2)).raw
    halves = rect("a", side, side).kept(quarter), rect("b", side, side).kept(quarter)
    return fits(sew(*halves, Line((0, SEAM), (1, 0)), 1), library.half_square(), SEAM, (side / 2, SEAM))


def _triangles(side: float) -> bool:
    a, b = right_triangle("a", side, side), right_triangle("b", side, side)
    middle = side / 2 - SEAM / 2**0.5
    sewn = sew(a, b, Line((0, side), (1, -1)).shifted(-SEAM), -1)
    return not misfit(sewn, library.half_square(), SEAM, (middle, middle), 0)


def _geese_four(small: float) -> bool:
    made = one("flying-geese", "night, glow", finished="4 x 2", method="four at a time")
    large = 5.25
    upper, right = geese_of(heart(large, small, SEAM, "glow", "glow"), large, small, SEAM, "glow")
    centre = middle_of_goose(large, SEAM, made)
    turned = right.turned(-90, (large / 2, large / 2))
    return not misfit(upper, made, SEAM, centre, 180) and not misfit(turned, made, SEAM, centre, 180)


SIXTEENTHS = [Fraction(n, 16) for n in range(-8, 1)]
TRIED: dict[str, tuple[Callable[[str], Case], Callable[[float], bool], Fraction]] = {
    "pairs": (library.pairs, _pairs, Fraction(4)),
    "four at a time": (library.four, _four, Fraction(23, 4)),
    "eight at a time": (library.eight, _eight, Fraction(8)),
    "geese four at a time": (lambda small: library.geese_four(small=small), _geese_four, Fraction(23, 8)),
    "triangles": (library.triangles, _triangles, Fraction(31, 8)),
}


@pytest.mark.parametrize("method", TRIED)
def test_both_ways_of_sewing_find_the_same_cuts_too_small(method: str) -> None:
    """Squares cut smaller by sixteenths: what the one finds short the other does, but for what no hand can see."""
    case, alone, side = TRIED[method]
    verdicts = []
    for by in SIXTEENTHS:
        n, d = (side + by).as_integer_ratio()
        text = f"{n // d} {n % d}/{d}" if n % d else str(n // d)
        verdicts.append((sewn_by_hand(case(text)), alone(float(side + by))))
    assert verdicts[-1] == (True, True) and verdicts[0] == (False, False)
    short = [one for one in verdicts if one[0] != one[1]]
    assert len(short) <= 1, (method, verdicts)  # a difference below 1/32 in is one that a hand can't see
