"""Strips that are joined take what is left of other strips: only where less is bought, only what is there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

import msgspec
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from patternkit.lengths import Length
from patternkit.plan import build, rests
from patternkit.plan.model import Plan
from patternkit.project import Project
from patternkit.rehearsal.joined_ends import join_gaps
from patternkit.work.build import order_from
from patternkit.work.model import Bind, JoinEnds, Order
from tests.published.desk import pattern

EXAMPLES = Path(__file__).parents[2] / "examples"
SAVING = ["snowball", "block-sampler", "four-patch-chain"]


def project(name: str) -> Project:
    path = next(EXAMPLES.rglob(f"{name}.pattern"))
    return Project(str(path), path.read_text(encoding="utf-8"))


def without(found: Project, monkeypatch: pytest.MonkeyPatch) -> Plan:
    """The quick plan with every joined strip a whole one."""
    top = found.planned_top
    roots = [(top, 1)] if top is not None else list(found.roots)
    with monkeypatch.context() as patch:
        patch.setattr(build, "with_rests", lambda plan, *_: plan)
        return build.make_plan(found.pattern, top, roots, solver=False)[0]


@pytest.mark.parametrize("path", sorted(EXAMPLES.rglob("*.pattern")), ids=lambda p: p.stem)
def test_a_rest_is_joined_only_where_less_is_bought(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    found = Project(str(path), path.read_text(encoding="utf-8"))
    if "wrong" in path.stem:
        return
    plain, plan = without(found, monkeypatch), found.quick_plan[0]
    for key, fabric in plan.fabrics.items():
        ends = [one for (of, *_), joins in plan.rests.items() if of == key for one in joins if one.of is not None]
        assert fabric.buy <= plain.fabrics[key].buy
        assert bool(ends) == (fabric.buy < plain.fabrics[key].buy)
        least = fabric.fabric.usable_width / 4
        assert all(one.left is not None and one.left >= least for one in ends)


def test_binding_from_whole_strips_and_an_end_is_as_long_as_it_must_be() -> None:
    """Snowball: 180 in round and 12 in beyond. Five strips of 40 in lose 2 1/4 in at each join, 191 in: one inch short
    of six strips' need; an end of 32 in is left of the strips 2 1/2 in high."""
    binding = project("snowball").quick_plan[0].binding
    assert binding is not None and binding.total.fraction == 192
    kept, whole = binding.joins
    assert kept.of is not None and kept.of >= binding.width
    have = 40 * whole.wholes + sum(x.fraction * n for x, n in whole.ends)
    joins = whole.wholes + sum(n for _, n in whole.ends) - 1
    assert have - Fraction(9, 4) * joins == binding.gives.fraction >= 192
    assert 40 * whole.wholes - Fraction(9, 4) * (whole.wholes - 1) < 192, "the end is needed"


@pytest.mark.parametrize("name", SAVING)
def test_every_end_that_is_joined_is_left_of_a_strip_in_the_layout(name: str) -> None:
    """Counted from the layout of the cutting plan as it is, with half an inch squared off."""
    plan = project(name).plan()[0]
    assert plan.rests
    _ends_are_there(plan)


def _ends_are_there(plan: Plan) -> None:
    """Every end that is joined is left at that many strips, counted from the layout."""
    for (key, _, _), joins in plan.rests.items():
        fabric = plan.fabrics[key]
        there = Counter[tuple[Fraction, Fraction]]()
        for strip in fabric.plan.strips:
            left = fabric.fabric.usable_width.fraction - Fraction(1, 2)
            left -= Fraction(sum(cut.width * cut.number for cut in strip.cuts)) / fabric.scale
            if strip.kind == "cut" and all(len(segment.rows) == 1 for segment in strip.segments):
                there[Fraction(strip.height) / fabric.scale, left] += strip.copies
        for one in joins:
            if one.of is not None and one.left is not None:
                assert there[one.of.fraction, one.left.fraction] >= one.count


@pytest.mark.parametrize("name", [*SAVING, "friendship-star", "harbour-chain"])
def test_what_the_other_way_of_cutting_would_take_is_what_it_takes(name: str) -> None:
    """With ends of other strips too: a plan of one way says of the other what that says of itself."""
    found = project(name)
    path = Path(found.name)
    written = path.read_text(encoding="utf-8")
    text = written.replace("    units inches\n", "    units inches\n    cutting simple\n", 1)
    assert text != written
    simply = Project(str(path), text)
    for size in [row.name for row in found.pattern.sizes] or [""]:
        close = (found.in_size(size) if size else found).plan()[0]
        simple = (simply.in_size(size) if size else simply).plan()[0]
        for key, fabric in close.fabrics.items():
            one, other = fabric.plan, simple.fabrics[key].plan
            assert (one.buy, one.simple_buy) == (one.close_buy, other.buy)
            assert (other.buy, other.close_buy) == (other.simple_buy, one.buy)


def test_an_end_that_is_joined_is_not_left_over() -> None:
    """Of the strips 2 1/2 in high one leaves 32 in, which goes into the binding."""
    plan = project("snowball").quick_plan[0]
    (kept,) = (one for joins in plan.rests.values() for one in joins if one.of is not None)
    assert kept.of is not None and kept.left is not None
    berry = plan.fabrics["berry"]
    left = {(Fraction(x.width) / berry.scale, Fraction(x.height) / berry.scale) for x in berry.plan.leftovers}
    assert (kept.left.fraction, kept.of.fraction) not in left
    assert all(berry.plan.strips[x.strip].kind == "cut" for x in berry.plan.leftovers)


def order(name: str) -> Order:
    """The order as it is printed, with its layout."""
    found = project(name)
    return order_from(found.pattern, found.plan()[0], found.sewn_roots).order


def test_the_rehearsal_joins_what_the_order_says() -> None:
    for name in SAVING:
        assert join_gaps(order(name)) == []


def longer(made: Order) -> Order:
    """The same, every kept end an inch longer than is left."""

    def more(one: Bind | JoinEnds) -> Bind | JoinEnds:
        inch = Length(Fraction(1))
        joins = tuple(
            msgspec.structs.replace(
                j,
                left=j.left + inch if j.left is not None else None,
                keeps=tuple((x + inch, n) for x, n in j.keeps),
                ends=tuple((x + inch, n) for x, n in j.ends),
            )
            for j in one.joins
        )
        return msgspec.structs.replace(one, joins=joins)

    return msgspec.structs.replace(
        made,
        finish=tuple(more(x) if isinstance(x, Bind) else x for x in made.finish),
        cutting=tuple(more(x) if isinstance(x, JoinEnds) else x for x in made.cutting),
    )


def test_an_end_longer_than_what_is_left_is_noticed() -> None:
    assert join_gaps(longer(order("snowball")))


def test_an_end_that_is_joined_and_never_kept_is_noticed() -> None:
    made = order("snowball")
    finish = tuple(
        msgspec.structs.replace(x, joins=tuple(j for j in x.joins if j.of is None)) if isinstance(x, Bind) else x
        for x in made.finish
    )
    assert join_gaps(msgspec.structs.replace(made, finish=finish))


def test_a_whole_strip_fewer_is_noticed() -> None:
    made = order("snowball")
    finish = tuple(
        msgspec.structs.replace(
            x, joins=tuple(msgspec.structs.replace(j, wholes=j.wholes - 1) if j.wholes else j for j in x.joins)
        )
        if isinstance(x, Bind)
        else x
        for x in made.finish
    )
    assert join_gaps(msgspec.structs.replace(made, finish=finish))


SLATS = """unit slats
    row glow {0} | stone {1} | glow {2}
    finished {3} high

quilt
    across 4, down {4}
    tile
        slats
    border {5} glow
    binding cut 2 1/4 glow
"""
PLANNED = (3, 2, 4, 3, 3, 4)
"""Cut 3 1/2 and 4 1/2 by 3 1/2 in, twelve of each, from cloth 40 in wide; a border cut 4 1/2 in, binding."""


def slats(numbers: Sequence[int], monkeypatch: pytest.MonkeyPatch | None = None) -> Plan:
    """The plan of a quilt of slats; with a patch, without room made for ends."""
    made = pattern(SLATS.format(*numbers), "usable width 40")
    if monkeypatch is None:
        return made.plan()[0]
    with monkeypatch.context() as patch:
        patch.setattr(rests, "with_room_for_ends", lambda *_: None)
        return made.plan()[0]


def test_room_is_made_for_ends_where_that_saves_a_step(monkeypatch: pytest.MonkeyPatch) -> None:
    """Worked out beside: the strips of the patches are filled otherwise than they would be, so that an end is left."""
    with_room, without_room = slats(PLANNED).fabrics["glow"], slats(PLANNED, monkeypatch).fabrics["glow"]
    assert (with_room.plan.lots, without_room.plan.lots) == (7, 8)
    _ends_are_there(slats(PLANNED))


@settings(deadline=None, max_examples=12)
@example(numbers=PLANNED)
@given(st.tuples(*(st.integers(a, b) for a, b in ((1, 5), (1, 5), (1, 5), (3, 9), (2, 7), (1, 4)))))
def test_nothing_is_lost_where_room_is_made_for_ends(numbers: tuple[int, ...]) -> None:
    """Replayed: every patch is cut, no strip holds more than the cloth has, what is joined is long enough and there,
    and no more is bought than without; what was proved for any way of cutting stays true."""
    made = pattern(SLATS.format(*numbers), "usable width 40")
    plan = made.plan()[0]
    with pytest.MonkeyPatch.context() as patch:
        plain = slats(numbers, patch)
    for key, fabric in plan.fabrics.items():
        before, scale = plain.fabrics[key], fabric.scale
        assert fabric.plan.lots <= before.plan.lots
        assert fabric.plan.lots == before.plan.lots or before.plan.status != "proved"
        given_pieces = Counter[str]()
        for strip in fabric.plan.strips:
            assert sum(segment.width for segment in strip.segments) <= 40 * scale
            for cut in strip.cuts:
                given_pieces[cut.piece] += cut.number * strip.copies
        assert given_pieces == {line.id: line.count for line in fabric.lines}
        assert sum(s.height * s.copies for s in fabric.plan.strips) == fabric.plan.length
    _ends_are_there(plan)
    assert join_gaps(order_from(made.pattern, plan, made.sewn_roots).order) == []
