"""What is cut besides by the writer's word: counted, planned, told with her text, and rehearsed."""

from __future__ import annotations

from fractions import Fraction

import msgspec
import pytest

from patternkit import api, render
from patternkit.checks import run
from patternkit.lengths import Length
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.syntax.format import format_text
from patternkit.work.build import order_of
from patternkit.work.model import Extra

BAG = """pattern "Bag"
fabric night "Midnight blue" dark
fabric glow "Lamp yellow" light
fabric kelp "Kelp" medium
let s = 4
unit vane
    half-square night, glow
    finished s
    also 1 of 2 x 3 glow "tab"
        Fold the tab of {vane.measures} in half.
block wheel
    rows
        vane | vane turned 90
        vane turned 270 | vane turned 180
quilt
    across 2, down 2
    tile
        wheel
    also 2 of 4 x s*15 kelp "straps"
        Sew a strap to each side;
          # is no comment here.
    also 3 strips 2 1/2 kelp "ties"
    also 4 squares 5 kelp "pockets"
sizes
    small s 4
    big s 6
"""


CALLED_SO = """pattern "Also"
fabric also
unit even
    patch also 2
block b
    rows
        also | even
    finished 4 x 2
quilt
    tile
        b
"""


def wrong(text: str) -> list[Problem]:
    """The problems of a pattern, advice left out."""
    return [p for p in run(Project("bag", text)) if not p.advice]


def extras(project: Project) -> dict[str, tuple[Extra, ...]]:
    """What the order has besides, by its name."""
    found: dict[str, tuple[Extra, ...]] = {}
    for done in order_of(project)[0].finish:
        if isinstance(done, Extra):
            found[done.name.title] = (*found.get(done.name.title, ()), done)
    return found


def test_it_is_read_without_a_problem_and_written_back_as_it_was() -> None:
    assert wrong(BAG) == []
    settled = format_text(BAG)
    assert format_text(settled) == settled
    assert "        Sew a strap to each side;\n          # is no comment here.\n" in settled
    assert Project("bag", settled).pattern.quilt is not None


def test_the_quilts_are_cut_once_and_a_units_for_each() -> None:
    found = extras(Project("bag", BAG).in_size("small"))
    (tab,), (straps,), (ties,), (pockets,) = (found[x] for x in ("tab", "straps", "ties", "pockets"))
    assert tab.count == 16 and tab.of is not None and str(tab.of.key) == "vane"
    assert (straps.count, straps.of) == (2, None)
    assert {straps.piece.width, straps.piece.height} == {Length(4), Length(60)}
    assert (ties.count, ties.piece.form, ties.piece.height) == (3, "strip", Length(Fraction(5, 2)))
    assert (pockets.count, pockets.piece.width, pockets.piece.height) == (4, Length(5), Length(5))


@pytest.mark.parametrize(("size", "long"), [("small", 60), ("big", 90)])
def test_what_is_longer_than_the_cloth_is_joined_from_strips(size: str, long: int) -> None:
    plan = Project("bag", BAG).in_size(size).quick_plan[0]
    (strip,) = plan.long_strips
    assert [(length, n) for length, n, _ in strip.lengths] == [(Length(long), 2)]
    straps = sum(s.copies for s in plan.fabrics["kelp"].plan.strips if s.height == 4 * plan.fabrics["kelp"].scale)
    assert straps == strip.strips


def test_what_a_unit_needs_longer_than_the_cloth_is_cut_along_it() -> None:
    project = Project("bag", BAG.replace("2 x 3 glow", "2 x 45 glow"))
    (line,) = [x for x in project.quick_plan[0].lines if x.label == "tab"]
    assert line.cut.along and line.count == 16
    assert not project.quick_plan[1]


@pytest.mark.parametrize("size", ["small", "big"])
def test_it_is_rehearsed(size: str) -> None:
    project = Project("bag", BAG).in_size(size)
    order, designs = order_of(project, project.quick_plan[0])
    assert rehearse(order, designs) == ()
    for n, done in enumerate(order.finish):
        if isinstance(done, Extra):
            more = msgspec.structs.replace(done, count=done.count + 1)
            gaps = rehearse(
                msgspec.structs.replace(order, finish=(*order.finish[:n], more, *order.finish[n + 1 :])), designs
            )
            assert "taken" in {gap.kind for gap in gaps}
            fewer = msgspec.structs.replace(order, finish=(*order.finish[:n], *order.finish[n + 1 :]))
            assert "untaken" in {gap.kind for gap in rehearse(fewer, designs)}


@pytest.mark.parametrize(
    ("line", "code", "words"),
    [
        ("also 4 of 2 1/2 kelp", "not-understood", "what this is for"),
        ('also 4 of 2 1/2 x 3 "pad"', "not-understood", "which fabric"),
        ('also 4 strips 2 1/2 x 3 kelp "pad"', "not-understood", "as long as the cloth is wide"),
        ('also 0 of 2 1/2 x 3 kelp "pad"', "not-a-count", "at least 1"),
        ('also 2 of 4 x 20 kepl "pad"', "unknown-name", "kepl"),
        ('also 2 of 2 1/7 x 20 kelp "pad"', "cut-off-ruler", "Pad is cut"),
        ('also 1 of 45 x 50 kelp "pad"', "too-long", "pad"),
        ('also 2 of 0 x 5 kelp "pad"', "too-small", "more than nothing"),
    ],
)
def test_mistakes_are_told_where_they_stand(line: str, code: str, words: str) -> None:
    text = BAG.replace('    also 4 squares 5 kelp "pockets"\n', f"    {line}\n")
    problems = wrong(text)
    (problem,) = [p for p in problems if p.code == code]
    assert words in problem.message
    assert text[: problem.span.start].count("\n") == text[: text.index(line)].count("\n")


def test_pieces_of_one_title_are_told_once_each() -> None:
    """Two sizes of one fabric that share a side, and a strip of another fabric."""
    lines = (
        '    also 2 of 4 x 20 kelp "straps"\n        Fold them.\n    also 1 of 4 x 30 kelp "straps"\n'
        '    also 1 strip 2 1/2 glow "straps"\n'
    )
    text = BAG[: BAG.index("sizes")].replace('    also 2 of 4 x s*15 kelp "straps"\n', lines)
    booklet = render.markdown(api.make_booklet(Project("bag", text)))
    assert [booklet.count(f"Straps: {words}") for words in ("2 pieces C1", "1 piece C2", "1 strip of")] == [1, 1, 1]
    assert booklet.count("Fold them.") == 1


def test_a_patch_has_no_step_in_which_it_could_be_told() -> None:
    text = BAG.replace("    half-square night, glow\n    finished s\n", "    patch night s\n")
    assert [p.code for p in wrong(text)] == ["out-of-place"]


def test_a_unit_and_a_fabric_may_be_called_so() -> None:
    assert wrong(CALLED_SO) == []


PRINTS = """fabric night dark
fabrics shore 4 medium
    sold as fat-quarters 18 x 21
block wheel
    rows
        shore(2) | night
        night    | shore(3)
    finished 6
    also 1 of 2 x 3 shore(3) "tab"
        Fold the tab.
quilt
    across 2, down 2
    tile
        wheel
    also 4 squares 5 shore(2) "corners"
        Hang it by its corners.
"""


def test_one_print_of_a_group_is_cut_besides() -> None:
    """Four tabs of the third print, one for each block; four squares of the second, once."""
    project = Project("prints.pattern", PRINTS)
    assert [p for p in run(project) if not p.advice] == []
    plan, _ = project.plan()
    found = {line.cut.fabric: line.count for line in plan.lines if line.cut.name and line.cut.name.what == "also"}
    assert found == {"shore(3)": 4, "shore(2)": 4}
    wrong = Project("prints.pattern", PRINTS.replace("5 shore(2)", "5 shore(9)"))
    assert [p.code for p in run(wrong) if not p.advice] == ["too-few-prints"]
