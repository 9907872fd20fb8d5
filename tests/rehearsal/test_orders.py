"""Whole orders carried out: right ones have no gap; each planted decision gives its gap at its first cause."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path

import msgspec
import pytest

from patternkit.lengths import Length
from patternkit.piecing.batch import Batch, Join, Passage, Piece, Thing, TrimTo, Use
from patternkit.piecing.keys import Key
from patternkit.piecing.making import Making
from patternkit.project import Project
from patternkit.rehearsal.gaps import Gap, gap_text
from patternkit.rehearsal.rehearse import rehearsal, rehearse
from patternkit.work.build import order_of, with_leaves
from patternkit.work.model import Bind, CutDiagonally, CutPieces, JoinEnds, Mend, Order, Panels, Run, Step
from tests.rehearsal.table import cut, num

replace = msgspec.structs.replace
EXAMPLES = Path(__file__).parents[2] / "examples"

PINWHEELS = """
pattern "Vanes"
fabric a
fabric b
fabric c
unit vane
    half-square a, b
    finished 3
block wheel
    rows
        vane | vane turned 90
        vane turned 270 | vane turned 180
quilt
    across 2, down 2
    tile
        wheel
    border 1 c
    finished 14 x 14
"""


def load(text: str) -> tuple[Order, dict[Thing, Making]]:
    """An order and its designs."""
    return order_of(Project("test", text))


@pytest.fixture(scope="module")
def vanes() -> tuple[Order, dict[Thing, Making]]:
    """Four pinwheels in a border."""
    return load(PINWHEELS)


def step_of(order: Order, key: str) -> int:
    """The number of the step that makes a thing."""
    return next(n for n, s in enumerate(order.steps) if str(s.thing.key) == key)


def changed(order: Order, n: int, batch: Batch | None = None, times: int | None = None, **more: object) -> Order:
    """The order with another first batch in a step."""
    steps = list(order.steps)
    old, often = steps[n].batches[0]
    steps[n] = replace(
        steps[n], batches=((batch or old, often if times is None else times), *steps[n].batches[1:]), **more
    )
    return replace(order, steps=tuple(steps))


def acts(batch: Batch, change: Mapping[type, object]) -> Batch:
    """A batch with actions of some classes changed (None: left out)."""
    passages = []
    for p in batch.passages:
        actions = []
        for a in p.actions:
            how = change.get(type(a), a)
            new = how(a) if callable(how) else how
            if new is not None:
                actions.append(new)
        passages.append(Passage(p.name, tuple(actions)))
    return replace(batch, passages=tuple(passages))


def test_a_right_order_has_no_gap(vanes: tuple[Order, dict[Thing, Making]]) -> None:
    found = rehearsal(*vanes)
    assert [gap_text(g) for g in found.gaps] == []
    assert found.not_rehearsed == ()


@pytest.mark.parametrize("name", ["four-patch-chain", "pinwheel"])
def test_examples_are_rehearsed_as_a_whole(name: str) -> None:
    found = rehearsal(*load((EXAMPLES / "traditional" / f"{name}.pattern").read_text()))
    assert (found.gaps, found.not_rehearsed) == ((), ())


def one(order: Order, designs: dict[Thing, Making]) -> Gap:
    """The one gap of an order."""
    found = rehearse(order, designs)
    assert len(found) == 1, [gap_text(g) for g in found]
    return found[0]


def test_too_few_batches(vanes: tuple[Order, dict[Thing, Making]]) -> None:
    """Eight batches of pairs make 16 vanes; with seven, two are missing where the blocks take them."""
    order, designs = vanes
    n = step_of(order, "vane")
    found = rehearse(changed(order, n, times=7), designs)
    assert {(g.kind, g.stated, g.out) for g in found} == {("untaken", 0, 1), ("taken", 16, 14)}


def test_a_row_that_no_step_takes(vanes: tuple[Order, dict[Thing, Making]]) -> None:
    """A cut strip that lies in the design and is in no step."""
    order, designs = vanes
    more = replace(order, cutting=(*order.cutting, CutPieces(cut("c", 2, 6), 3, (num(2), num(6)))))
    gap = one(more, designs)
    assert (gap.kind, gap.stated, gap.out) == ("untaken", 0, 3)


def test_a_turned_copy_that_is_asked_for_and_never_made(vanes: tuple[Order, dict[Thing, Making]]) -> None:
    order, designs = vanes
    n = step_of(order, "wheel")
    batch = order.steps[n].batches[0][0]
    other = Thing(Key("vane turned 90"))
    uses = (batch.uses[0], Use(other), *batch.uses[2:])
    kinds = [g.kind for g in rehearse(changed(order, n, replace(batch, uses=uses)), designs)]
    assert kinds[:2] == ["taken", "undrawn"]


FINISHED = """
quilt
    across 2, down 2
    tile
        wheel
    backing a, overage 3 3/4
    binding cut 2 1/4 b
"""


def test_panels_and_a_binding_must_be_as_long_as_told() -> None:
    """A backing of 20 in from cloth of 40; binding strips, one short, do not reach round with their joins."""
    order, designs = order_of(Project("vanes.pattern", PINWHEELS[: PINWHEELS.index("quilt")] + FINISHED))
    assert not rehearse(order, designs)
    wrong = []
    for done in order.finish:
        if isinstance(done, Panels) and done.what == "backing":
            assert done.trimmed == (num(20), num(20)) and done.count == 1
            wrong.append((done, replace(done, length=num(19)), ("panels", num(20), num(19))))
            wrong.append((done, replace(done, count=2, width=num(10)), ("panels", num(20), num(19))))
        if isinstance(done, Bind):
            assert done.length == num(60) and done.count == 2
            wrong.append((done, replace(done, length=num(78)), ("strips", 78, 77.75)))
    assert len(wrong) == 3
    for done, other, gap in wrong:
        changed_so = replace(order, finish=tuple(other if x is done else x for x in order.finish))
        found = one(changed_so, designs)
        assert (found.kind, found.stated, found.out) == gap


def test_a_diagonal_the_other_way() -> None:
    """The rectangle lies on its long side and is cut along the other diagonal: every triangle is mirrored."""
    text = """
pattern "Slopes"
fabric a
fabric b
unit slope
    half-rectangle a, b
    leaning right
    finished 2 x 4
quilt
    across 2, down 2
    tile
        slope
"""
    order, designs = load(text)
    assert [g.kind for g in rehearse(order, designs)] == []
    wrong = replace(order, cutting=tuple(
        replace(c, lies=(c.lies[1], c.lies[0])) if isinstance(c, CutDiagonally) else c for c in order.cutting
    ))  # fmt: skip
    assert {g.kind for g in rehearse(wrong, designs)} == {"mirrored"}


def test_mirror_images_put_aside_and_cut_afresh(vanes: tuple[Order, dict[Thing, Making]]) -> None:
    order, designs = vanes
    n, m = step_of(order, "vane"), step_of(order, "wheel")
    image = Thing(Key("vane", mirrored=True))
    batch = order.steps[n].batches[0][0]
    aside = Batch(batch.uses, (), ((Thing(Key("vane")), 1), (image, 1)))
    afresh = Step(image, ((Batch(batch.uses, (), ((image, 2),)), 1),), rehearsed=False)
    steps = list(order.steps)
    steps[n] = replace(steps[n], batches=((aside, 16),), leaves=((image, 16),), rehearsed=False)
    steps.insert(m, afresh)
    found = [g for g in rehearse(replace(order, steps=tuple(steps)), designs) if g.kind == "again"]
    assert [(g.step, g.item, g.stated, g.out) for g in found] == [(n, image, 16, 2)]


def test_one_batch_too_many(vanes: tuple[Order, dict[Thing, Making]]) -> None:
    order, designs = vanes
    n = step_of(order, "vane")
    more = with_leaves(changed(order, n, times=9))
    found = rehearse(more, designs)
    assert [g.kind for g in found if g.item == Thing(Key("vane"))] == ["again"]


def test_a_seam_told_to_be_pressed_where_the_plan_does_not(vanes: tuple[Order, dict[Thing, Making]]) -> None:
    order, designs = vanes
    n = step_of(order, "wheel")

    def over(join: Join) -> Join:
        return replace(join, toward=join.left[0].part if join.toward == join.right[0].part else join.right[0].part)

    gap = one(changed(order, n, acts(order.steps[n].batches[0][0], {Join: over})), designs)
    assert (gap.kind, gap.step) == ("press", n)


def test_a_told_size_an_eighth_off(vanes: tuple[Order, dict[Thing, Making]]) -> None:
    """Said once, where it is trimmed: what is sewn from the thing goes on as drawn."""
    order, designs = vanes
    n = step_of(order, "vane")
    wide = acts(order.steps[n].batches[0][0], {TrimTo: lambda t: replace(t, width=num("3 3/8"), height=num("3 3/8"))})
    if wide == order.steps[n].batches[0][0]:
        wide = replace(wide, passages=(replace(wide.passages[0], actions=(
            *wide.passages[0].actions, TrimTo(num("3 3/8"), num("3 3/8"), "diagonal"))),))  # fmt: skip
    gap = one(changed(order, n, wide), designs)
    assert (gap.kind, gap.step) == ("size", n)
    assert (gap.stated, gap.out) == (pytest.approx(3.5), pytest.approx(3.375))


def test_gives_left_out(vanes: tuple[Order, dict[Thing, Making]]) -> None:
    order, designs = vanes
    n = step_of(order, "vane")
    batch = order.steps[n].batches[0][0]
    fewer = replace(batch, gives=((Thing(Key("vane")), 1),))
    found = rehearse(changed(order, n, fewer), designs)
    assert (found[0].kind, found[0].stated, found[0].out) == ("count", 1, 2)


def test_triangles_in_the_wrong_number() -> None:
    """Two triangles come of a square cut once: squares counted in triangles are too few."""
    order, designs = load(PINWHEELS.replace("finished 3\n", "finished 3\n    method from triangles\n"))
    assert rehearse(order, designs) == ()
    few = replace(order, cutting=tuple(
        replace(c, count=c.count // 2) if isinstance(c, CutDiagonally) else c for c in order.cutting
    ))  # fmt: skip
    assert {g.kind for g in rehearse(few, designs)} == {"taken"}


def test_a_release_that_takes_what_a_later_one_makes(vanes: tuple[Order, dict[Thing, Making]]) -> None:
    order, designs = vanes
    runs = tuple(Run(1, n, ((0, s.batches[0][1]),)) for n, s in enumerate(order.steps))
    assert rehearse(replace(order, runs=runs), designs) == ()
    n = step_of(order, "vane")
    late = tuple(replace(r, release=2) if r.step == n else r for r in runs)
    assert [g.kind for g in rehearse(replace(order, runs=late), designs)] == ["run"]
    split = (Run(1, n, ((0, 6),)), *(r for r in runs if r.step != n))
    kinds = {g.kind for g in rehearse(replace(order, runs=split), designs)}
    assert kinds == {"run", "runs"}


def test_strips_too_short_for_a_long_border() -> None:
    strip = Piece("c", "strip", num(40), num("1 1/2"))
    long = cut("c", "1 1/2", 60)
    joins = JoinEnds(strip, 3, True, ((long, 2),))
    order = Order("", "", num("1/4"), num("1/8"), (joins,), (), None)
    gap = next(g for g in rehearse(order, {}) if g.kind == "strips")
    assert (gap.stated, gap.out) == (120, 117)  # each slanted join takes the strip's width


def test_numbers_between_the_lines_of_the_ruler(vanes: tuple[Order, dict[Thing, Making]]) -> None:
    order, designs = vanes
    fine = replace(order, ruler=Length(Fraction(1)))
    found = rehearse(fine, designs)
    assert found
    assert {g.kind for g in found} == {"ruler"}


def mended(order: Order, error: str, by: str, axis: str = "w", count: int = 2) -> Order:
    """The order with a remedy beside the border's step: the side strips cut wider."""
    n = step_of(order, "quilt with border 1")
    inner = next(u.item for u in order.steps[n].batches[0][0].uses if isinstance(u.item, Thing))
    side = order.steps[n].batches[0][0].uses[1].item
    assert isinstance(side, Piece)
    mend = Mend(inner, axis, num(error), ((side, count, num(by)),))  # type: ignore[arg-type]
    steps = list(order.steps)
    steps[n] = replace(steps[n], remedies=(mend,))
    return replace(order, steps=tuple(steps))


def test_remedies_are_tried_both_ways(vanes: tuple[Order, dict[Thing, Making]]) -> None:
    order, designs = vanes
    assert rehearse(mended(order, "1/4", "1/8"), designs) == ()


def test_a_remedy_in_the_wrong_axis(vanes: tuple[Order, dict[Thing, Making]]) -> None:
    order, designs = vanes
    assert one(mended(order, "1/4", "1/8", axis="h"), designs).kind == "remedy"


def test_a_remedy_whose_sums_do_not_meet(vanes: tuple[Order, dict[Thing, Making]]) -> None:
    order, designs = vanes
    gap = one(mended(order, "3/8", "1/8"), designs)
    assert (gap.kind, gap.out) == ("remedy", pytest.approx(1 / 8))


def test_more_cloth_than_is_bought(vanes: tuple[Order, dict[Thing, Making]]) -> None:
    order, designs = vanes
    gap = one(replace(order, bought={"c": num(1)}), designs)
    assert gap.kind == "cloth"


def test_kites_squared_up_by_their_points_add_up_over_a_row() -> None:
    """Triangles cut by the ruler lie a little aslant round a kite; what is squared to its points does not."""
    order, designs = load(
        'pattern "Gulls"\nfabric a\nfabric b\nunit kite-unit\n    kite a, b\n    angle free\n    shoulder 2\n'
        "    finished 3 x 6\nquilt\n    across 12, down 1\n    tile\n        kite-unit\n    border 2 a\n"
    )
    assert [gap_text(g) for g in rehearse(order, designs)] == []


@pytest.mark.parametrize("turned", ["", "turned 90", "turned 270"])
def test_plain_units_that_are_laid_turned_are_taken_as_they_are_cut(turned: str) -> None:
    text = (
        f'pattern "Piers"\nfabric a\nfabric b\nunit plank\n    patch a 2 x 4\nunit post\n    half-square a, b\n'
        f"    finished 4\nblock pier\n    {'row' if not turned else 'column'} post | plank {turned}\n"
        "quilt\n    across 2, down 2\n    tile\n        pier\n"
    )
    order, designs = load(text)
    found = rehearsal(order, designs)
    assert [gap_text(g) for g in found.gaps] == []
    assert found.not_rehearsed == ()


@pytest.mark.parametrize("count", [1, 4, 6])
def test_mitred_borders_that_are_wide_beside_their_quilt(count: int) -> None:
    """The mitre of the strips at one end is longer than the seam that joins them to the quilt."""
    borders = "    border 2 b, mitred\n" * count
    order, designs = load(
        f'pattern "Frame"\nfabric a\nfabric b\nquilt\n    across 1, down 1\n    tile\n        a 9 x 9\n{borders}'
    )
    assert [gap_text(g) for g in rehearse(order, designs)] == []


def test_quarter_circles_add_up_over_a_long_row() -> None:
    """The chords of an arc lie a hair inside it; that is no error of the unit."""
    order, designs = load(
        'pattern "Bays"\n    seam 1/2\nfabric a\nfabric b\nunit bay\n    quarter-circle a, b\n    radius 2\n'
        "    finished 3\nquilt\n    across 14, down 1\n    tile\n        bay\n    border 2 a\n"
    )
    assert [gap_text(g) for g in rehearse(order, designs)] == []


@pytest.mark.parametrize("radius", ["1.5", "2", "3", "8"])
def test_a_narrow_curve_holds(radius: str) -> None:
    """An arc of about two seams is a chain of few chords: that they are no arc is no fault of what is told."""
    text = f"""pattern "Cove"
    units cm
    seam 0.7
    ruler 0.5
fabric ash
fabric bone
unit u
    quarter-circle ash, bone
    radius {radius}
    finished 12
quilt
    across 2, down 2
    tile
        u | u turned 90
"""
    order, designs = order_of(Project("cove", text))
    assert [gap_text(g) for g in rehearsal(order, designs).gaps] == []
