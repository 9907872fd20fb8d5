"""Which units' strip units are made together, and what that does to the cuts."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit import api
from patternkit.booklet.content.context import context
from patternkit.piecing.batch import Piece
from patternkit.piecing.names import HALF_STRIP
from patternkit.plan.counts import Count
from patternkit.plan.model import Plan
from patternkit.project import Project

HEAD = """pattern "Slipway"
    units inches
    usable width 40

fabric night "Midnight blue" dark   #1b2a49{night}
fabric glow  "Lamp yellow"   light  #f4c95d
fabric stone "Quay stone"    medium #9aa3ad

"""
UNIT = """unit {name}
    strips {strips}
    finished 6 x {high}
{press}

"""


def text(
    units: dict[str, tuple[str, str, int]],
    press: dict[str, str] | None = None,
    end: str = "",
    night: str = "",
) -> str:
    """Units by name: strips, finished height, how many; each in a column of its own, apart by plain strips."""
    said = HEAD.format(night=night)
    for name, (strips, high, _) in units.items():
        how = "" if press is None else f"    press {press.get(name, 'toward night')}"
        said += UNIT.format(name=name, strips=strips, high=high, press=how if press is not None else "    press open")
    rows = [name for name, (_, _, n) in units.items() for _ in range(n)]
    lines = [line for name in rows for line in (f"        {name}", "        stone 6 x 1")]
    said += "block tower\n    rows\n" + "\n".join(lines[:-1]) + "\n\nquilt\n    layout\n        tower\n"
    return said + end


def plan(said: str) -> Plan:
    project = Project("slipway.pattern", said)
    assert not [p for p in api.check(project) if not p.advice], [p.message for p in api.check(project)]
    return project.quick_plan[0]


def strips(found: Plan) -> Counter[str]:
    """Strips of 2 1/2 in of each fabric: whole ones, and half ones as halves."""
    total: Counter[str] = Counter()
    for line in found.lines:
        if line.cut.height == Fraction(5, 2):
            total[line.fabric] += line.count * (1 if line.cut.name == HALF_STRIP else 2)
    return total


def by_key(found: Plan) -> dict[str, Count]:
    return {str(c.making.key): c for c in found.counts}


THREE = "night | glow | night"


@given(st.integers(1, 20), st.integers(1, 20), st.integers(1, 7), st.integers(1, 7))
@settings(max_examples=15, deadline=None)
def test_never_more_strips_than_apart(a: int, b: int, high: int, other: int) -> None:
    found = plan(text({"rung": (THREE, str(high), a), "plank": (THREE, str(other), b)}))
    apart = sum(
        (strips(plan(text({name: (THREE, str(h), n)}))) for name, h, n in (("rung", high, a), ("plank", other, b))),
        Counter[str](),
    )
    mine = strips(found)
    assert all(mine[f] <= apart[f] for f in ("night", "glow"))
    counts = by_key(found)
    assert (counts["rung"].needed, counts["plank"].needed) == (a, b)
    shared = counts["rung"].shared
    assert (shared is not None) == (mine != apart)
    if shared is not None:
        assert [shared.segments(m) for m in shared.makings] == [a, b]
        assert mine["glow"] == 2 * shared.batches - (shared.half > 0) and mine["night"] == 2 * mine["glow"]
        assert (counts["plank"].batches, counts["plank"].spare, counts["rung"].made) == (0, 0, a)


def test_two_units_of_one_width_share() -> None:
    counts = by_key(plan(text({"rung": (THREE, "2", 10), "plank": (THREE, "2", 10)})))
    assert counts["rung"].shared is counts["plank"].shared is not None
    assert (counts["rung"].batches, counts["rung"].half) == (2, 5)


def test_nothing_is_shared_that_saves_nothing() -> None:
    """15 of 2 1/2 in are one strip unit, and 8 of 4 1/2 another."""
    counts = by_key(plan(text({"rung": (THREE, "2", 15), "plank": (THREE, "4", 8)})))
    assert counts["rung"].shared is counts["plank"].shared is None


def test_a_unit_that_gains_nothing_stays_by_itself() -> None:
    units = {"rung": (THREE, "2", 15), "plank": (THREE, "3", 7), "board": (THREE, "4", 2)}
    counts = by_key(plan(text(units)))
    assert counts["rung"].shared is None and counts["rung"].batches == 1
    assert counts["plank"].shared is counts["board"].shared is not None


@pytest.mark.parametrize(
    ("other", "night", "together"),
    [
        ("night | glow", "", True),
        ("glow | night", "", True),  # turned end for end
        ("glow | night", " directional", False),  # the print would stand on its head
        ("night | glow", " directional", True),
        ("night 2 | glow 4", "", False),
        ("night | stone", "", False),
    ],
)
def test_only_strip_units_that_are_sewn_alike(other: str, night: str, together: bool) -> None:
    counts = by_key(plan(text({"rung": ("night | glow", "2", 10), "plank": (other, "4", 2)}, night=night)))
    assert (counts["rung"].shared is not None) == together


@pytest.mark.parametrize(
    ("one", "other", "together"),
    [
        ("toward night", "toward night", True),
        ("toward night", "toward glow", False),
        ("toward night", "open", False),
        ("open", "open", True),
    ],
)
def test_only_strip_units_that_are_pressed_alike(one: str, other: str, together: bool) -> None:
    said = text({"rung": (THREE, "2", 10), "plank": (THREE, "4", 2)}, {"rung": one, "plank": other})
    assert (by_key(plan(said))["rung"].shared is not None) == together


def test_pressing_one_way_is_the_same_turned_end_for_end() -> None:
    """Left and left in one, right and right in the other: half a turn makes one of the other."""
    for marks, together in ((("<", "<", ">", ">"), True), (("<", "<", "<", ">"), False), (("<", ">", "<", ">"), True)):
        a, b, c, d = marks
        units = {"rung": (f"night {a} glow {b} night", "2", 10), "plank": (f"night {c} glow {d} night", "4", 2)}
        said = text(units).replace("    press open\n", "")
        assert (by_key(plan(said))["rung"].shared is not None) == together, marks


def test_free_seams_are_pressed_before_strip_units_are_counted() -> None:
    """The planner may press the two unlike: the amounts that a check, the cuts and the booklet tell are the same."""
    said = text({"rung": (THREE, "2", 10), "plank": (THREE, "4", 2)}).replace("    press open\n", "")
    project = Project("slipway.pattern", said)
    told = context(project, solver=False)
    mine, booklet = project.quick_plan[0], told.plan
    assert strips(mine) == strips(booklet)
    assert {k: f.buy for k, f in mine.fabrics.items()} == {k: f.buy for k, f in booklet.fabrics.items()}


@pytest.mark.parametrize(("buy", "codes"), [("6 in", ["buy-short"]), ("8 in", [])])
def test_a_claim_is_held_against_shared_strip_units(buy: str, codes: list[str]) -> None:
    """18 rungs and 3 planks: three strips of night; apart they would be a whole unit and two halves, four."""
    said = text({"rung": (THREE, "2", 18), "plank": (THREE, "4", 3)})
    said = said.replace("#1b2a49", f"#1b2a49\n    buy {buy}")
    found = [p.code for p in api.check(Project("slipway.pattern", said)) if p.code.startswith("buy")]
    assert found == codes


PARTS = """
part "One" 2026-03-02
    makes {one}

part "Two" 2026-03-09
    makes {two}
"""


@pytest.mark.parametrize(
    ("one", "two", "together"),
    [
        ("rung, plank", "tower, top", True),
        ("rung", "plank, tower, top", False),
        ("4 rung", "rung, plank, tower, top", False),
        ("tower", "top", True),  # what no part makes stands in a list of its own
    ],
)
def test_strip_units_are_not_shared_over_the_parts_of_a_sew_along(one: str, two: str, together: bool) -> None:
    said = text({"rung": (THREE, "2", 18), "plank": (THREE, "4", 3)}, end=PARTS.format(one=one, two=two))
    ctx = context(Project("slipway.pattern", said), solver=False)
    assert (by_key(ctx.plan)["rung"].shared is not None) == together
    cut: Counter[Piece] = Counter()
    for share in ctx.shares.values():
        strips = {piece: n for piece, n in share.pieces if piece.form == "strip"}
        cut.update(strips)
        sewn = {str(thing.key): n for thing, n in share.sews}
        # each part's own strips are enough for what it makes
        for fabric, each in (("night", 2), ("glow", 1)):
            length = sum(piece.width * n for piece, n in strips.items() if piece.fabric == fabric)
            takes = sum(
                (by_key(ctx.plan)[key].making.recipe.segment or 0) * sewn.get(key, 0) for key in ("rung", "plank")
            )
            if not (one == "4 rung" and share.release == 1):
                assert length >= takes * each
    whole: Counter[Piece] = Counter()
    for step in ctx.order.steps:
        whole.update({i: n for i, n in step.takes.items() if isinstance(i, Piece) and i.form == "strip"})
    assert cut == whole
