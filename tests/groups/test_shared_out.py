"""Prints shared out to copies, cut print by print, and bought."""

from __future__ import annotations

from collections import Counter

import pytest

from patternkit.checks import run
from patternkit.lengths import Length
from patternkit.piecing.prints import PrintDealer, deck, shared_out
from patternkit.plan.model import FabricPlan
from patternkit.project import Project

from .written import FAT, HEAD, MILL, mills, pattern

PLAIN = "    across 4, down 5\n    tile\n        mill(shore)\n"


def planned(project: Project, key: str = "shore") -> FabricPlan:
    """The plan of a group's cloth."""
    assert [p for p in run(project, guarded=False) if not p.advice] == []
    plan, problems = project.plan()
    assert problems == []
    return plan.fabrics[key]


def given(plan: FabricPlan) -> dict[int, dict[str, int]]:
    """What is cut of each line from each print, by its number."""
    return {n: dict(one.lines) for one in plan.prints for n in one.numbers}


@pytest.mark.parametrize("count", range(1, 41))
def test_each_round_deals_each_print_once(count: int) -> None:
    assert sorted(deck(count)) == list(range(1, count + 1))


@pytest.mark.parametrize(("count", "many"), [(12, 1), (12, 2), (5, 2), (7, 3), (2, 2), (6, 4)])
def test_prints_are_dealt_evenly_in_every_part_and_differ_within_a_copy(count: int, many: int) -> None:
    group = " ".join(f"p{n}" for n in range(many))
    body = "".join(f" | p{n} 3 x 3" if n else f"    row p{n} 3 x 3" for n in range(many))
    unit = f"unit all({', '.join(group.split())})\n{body}\n"
    args = ", ".join(["shore"] * many)
    project = pattern(f"{unit}quilt\n    across 6, down 7\n    tile\n        all({args})\n", f"fabrics shore {count}\n")
    keys = sorted(
        (k for k, f in project.pattern.fabrics.items() if f.print), key=lambda k: project.pattern.fabrics[k].print.role
    )  # type: ignore[union-attr]
    dealer = PrintDealer(project.pattern.fabrics)
    dealt = [dealer.deal(keys) for _ in range(42)]
    assert all(len(set(one.values())) == many for one in dealt)
    for key in keys:
        times = Counter(one[key] for one in dealt)
        assert max(times.values()) - min(times[n] for n in range(1, count + 1)) <= 1
    assert dealt == [PrintDealer(project.pattern.fabrics).deal(keys), *dealt[1:]]


def test_eight_prints_give_two_blocks_and_four_give_one() -> None:
    """20 blocks from 12 prints; each takes two squares of 3 7/8 for its corners and a middle of 3 1/2."""
    plan = planned(mills(PLAIN))
    corners, middle = (next(x.id for x in plan.lines if x.cut.width == Length(w) / 8) for w in (31, 28))
    cut = given(plan)
    assert Counter(one[middle] for one in cut.values()) == {2: 8, 1: 4}
    assert all(one[corners] == 2 * one[middle] for one in cut.values())
    assert (plan.sheet_count, plan.packs, [one.sheets for one in plan.prints]) == (12, 12, [1, 1])


def test_what_is_cut_for_a_print_is_whole_batches_of_it() -> None:
    """Three corners a block from pairs of squares, two from a pair: a print with one block takes two pairs and has one
    corner over; one with two blocks takes three and has none."""
    body = MILL.replace("corner(print) turned 180", "cream")
    plan = planned(pattern(body + "\nquilt\n" + PLAIN))
    corners = next(x for x in plan.lines if x.cut.width == Length(31) / 8)
    assert dict(Counter(n for _, n in corners.shares)) == {3: 8, 2: 4}
    assert corners.count == 32 > -(-60 // 2)


def test_one_print_by_its_number_is_cut_from_that_print() -> None:
    plan = planned(mills(PLAIN + "    border 2 shore(3)\n"))
    border = next(x.id for x in plan.lines if x.fabric == "shore(3)")
    cut = given(plan)
    assert [n for n, one in cut.items() if border in one] == [3]
    assert {n: one.sheets for one in plan.prints for n in one.numbers}[3] == 2
    assert plan.packs == 13


def test_pieces_of_any_print_are_shared_out_over_all() -> None:
    body = (
        "block four\n    rows\n        shore | cream\n        cream | shore\n    finished 6\n"
        "quilt\n    across 5, down 5\n    tile\n        four\n"
    )
    plan = planned(pattern(body))
    (line,) = plan.lines
    assert line.count == 50
    assert Counter(one[line.id] for one in given(plan).values()) == {5: 2, 4: 10}


# Squares from a fat quarter of 18 x 21 in, by their cut side
# (http://piecefulliving.blogspot.com/2011/08/number-of-squares-from-fat-quarter.html)
PUBLISHED = {"2 1/2": 56, "3": 42, "3 1/2": 30, "4": 20, "4 1/2": 16, "5": 12, "5 1/2": 9, "6": 9}


@pytest.mark.parametrize("side", ["2 1/2", "3", "3 1/2", "4", "4 1/2", "5"])
def test_published_squares_from_each_fat_quarter(side: str) -> None:
    """Each of three prints gives as many squares as are published for a fat quarter, and not one more."""
    for more, sheets in ((0, 1), (1, 2)):
        n = (PUBLISHED[side] + more) * 3
        body = (
            f"block one\n    patch shore\n    cut {side}\nquilt\n    across 3, down {n // 3}\n    tile\n        one\n"
        )
        plan = planned(pattern(body, FAT.replace("12", "3")))
        assert [one.sheets for one in plan.prints] == [sheets], side


def test_twenty_cabins_from_a_roll_of_strips() -> None:
    """Two rounds of logs 2 in wide round a centre of 2: the light logs of a block take 22 in of a strip, the dark ones
    30, so that 20 dark strips give one of each log each, and 16 light ones hold what 20 blocks need."""
    body = (
        "block cabin\n    log-cabin cream 2\n    round lights, lights, darks, darks\n    log 2\n    rounds 2\n"
        "quilt\n    across 4, down 5\n    tile\n        cabin\n"
    )
    groups = (
        "fabrics roll 40\n    sold as strips 2 1/2 x 40, 40 to a pack\n"
        "fabrics lights 16 of roll light\nfabrics darks 20 of roll dark\n"
    )
    plan = planned(pattern(body, groups), "roll")
    assert (plan.sheet_count, plan.packs) == (36, 1)
    cut = given(plan)
    dark = {x.id for x in plan.lines if x.fabric == "darks"}
    assert all(set(cut[n]) == dark and set(cut[n].values()) == {1} for n in range(17, 37))
    assert all(sum(cut[n].values()) == 5 and not set(cut[n]) & dark for n in range(1, 17))


def test_a_pack_that_holds_each_print_once_is_bought_as_often_as_a_print_is_cut() -> None:
    """Nine by eleven blocks: 396 dark logs of four lengths, 30 in for a set; five sets from a print fit in four strips
    of 40 in."""
    body = "block one\n    patch shore 8\nquilt\n    across 4, down 4\n    tile\n        one\n"
    packs = [
        planned(pattern(body, f"fabrics shore {n}\n    sold as squares 10, {n * 2} to a pack\n")).packs
        for n in (16, 8, 4)
    ]
    assert packs == [1, 1, 2]  # 1, 2 and 4 squares of each print, two in a pack


def test_lengths_are_bought_of_each_print() -> None:
    """Two blocks of one print take a strip of 3 7/8 and the middles beside it: 1/8 yd, less an inch to spare, is too
    little, and 1/4 yd is enough."""
    project = mills(PLAIN, "fabrics shore 12\n    buy 1/4 yd from each\n")
    plan = planned(project)
    assert (plan.each, plan.sheet_count) == (Length(9), 12)
    short = [
        p for p in run(mills(PLAIN, "fabrics shore 12\n    buy 1/8 yd from each\n"), guarded=False) if not p.advice
    ]
    assert [p.code for p in short] == ["buy-short"] and "1/8 yd of each print" in short[0].message
    more = run(mills(PLAIN, "fabrics shore 12\n    buy 1 yd from each\n"), guarded=False)
    assert [p.code for p in more] == ["buy-more"] and more[0].advice


@pytest.mark.parametrize(
    ("buy", "codes"), [("12", []), ("11", ["buy-short"]), ("14", ["buy-more"]), ("12 fat quarters", [])]
)
def test_a_number_of_sheets_is_held_against_the_prints(buy: str, codes: list[str]) -> None:
    assert [p.code for p in run(mills(PLAIN, FAT + f"    buy {buy}\n"), guarded=False)] == codes


@pytest.mark.parametrize(
    ("claim", "codes"),
    [("4 of 3 7/8 from each", []), ("3 of 3 7/8 from each", ["pieces-differ"]), ("40 squares 3 7/8", [])],
)
def test_what_is_cut_from_each_print_is_claimed(claim: str, codes: list[str]) -> None:
    assert [p.code for p in run(mills(PLAIN, FAT + f"    cut {claim}\n"), guarded=False)] == codes


@pytest.mark.parametrize(("claim", "codes"), [("2 of 3 7/8 print", []), ("1 of 3 7/8 print", ["pieces-differ"])])
def test_what_one_block_takes_of_its_print_is_claimed(claim: str, codes: list[str]) -> None:
    body = MILL + f"    cut {claim}\n\nquilt\n" + PLAIN
    assert [p.code for p in run(pattern(body), guarded=False)] == codes


def test_prints_of_which_nothing_is_cut_are_told() -> None:
    few = mills("    across 2, down 3\n    tile\n        mill(shore)\n")
    assert [p.code for p in run(few, guarded=False)] == ["prints-over"]


def test_each_copy_has_a_print_of_its_own_from_a_bag() -> None:
    project = mills(PLAIN.replace("shore", "bag"), "fabrics bag\n")
    plan = planned(project, "bag")
    assert sorted(n for one in plan.prints for n in one.numbers) == list(range(1, 21))
    loose = pattern("block one\n    patch bag 3\nquilt\n    across 4, down 5\n    tile\n        one\n", "fabrics bag\n")
    assert planned(loose, "bag").prints == ()  # any cloth will do for any piece: one plan, by length


def test_the_same_file_gives_the_same_prints() -> None:
    first, second = (shared_out(mills(PLAIN).roots, mills(PLAIN).pattern.fabrics) for _ in range(2))
    assert [s for s in first.shares.values()] == [s for s in second.shares.values()]


def test_strips_of_single_prints_are_no_longer_than_is_needed() -> None:
    """Four segments of 3 1/2 in a block: 14 1/2 in with an end squared up, so that a strip of 40 in gives two,
    and one of a fat quarter one."""
    body = (
        "unit dash(print)\n    strips cream | print\n    finished 3\n"
        "block hoop(print)\n    rows\n        dash(print) | dash(print)\n        dash(print) | dash(print)\n"
        "quilt\n    across 4, down 5\n    tile\n        hoop(shore)\n"
    )
    head = HEAD.replace("squaring 0", "squaring 1/2")
    plan, problems = pattern(body, FAT, head).plan()
    assert problems == []
    sizes = {(x.fabric, x.cut.width, x.cut.height): x.count for x in plan.lines}
    assert sizes == {("cream", Length(29) / 2, Length(2)): 20, ("one shore", Length(21), Length(2)): 20}
    ways = next(c for c in plan.counts if c.making.unit == "dash")
    assert (ways.batches, ways.taken) == (20, Length(14))


def test_scraps_of_a_bag_are_of_no_print() -> None:
    """What is at hand of a bag serves pieces that any print will do for; each copy's own print is bought."""
    loose = "block one\n    patch bag 3\nquilt\n    across 4, down 5\n    tile\n        one\n"
    bag = "fabrics bag\n    have 20 of 4\n"
    assert sum(n for _, n in planned(pattern(loose, bag), "bag").scraps_cut) == 20
    own = planned(mills(PLAIN.replace("shore", "bag"), bag), "bag")
    assert own.scraps_cut == () and own.sheet_count == 20
