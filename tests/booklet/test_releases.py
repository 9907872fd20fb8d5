"""Parts of a sew-along: in every size and colourway they add up to the whole, and each can be written alone, with what
must be ready, its own cut list, steps and templates."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit import api, render
from patternkit.booklet.content.context import Context, context
from patternkit.booklet.content.release_cuts import cut_rows
from patternkit.booklet.content.releases import counts_in
from patternkit.document import Block, Booklet, NumberedStep, Paragraph, Section, Table
from patternkit.lengths import Length
from patternkit.piecing.batch import Item, Piece
from patternkit.problems import PatternError
from patternkit.project import Project
from patternkit.work.model import Bind, CutDiagonally, CutStrips, Sleeve

from .conftest import EXAMPLES, MARSH, project, text_project, told

TIDE = """pattern "Ebb and flow"
    by "Saltmarsh Sewing Room"
fabric kelp
fabric foam
fabric rust
fabric sand
unit drift
    half-square kelp, foam
    finished 2
    method from triangles
unit pair
    strips kelp | foam
    finished 2
unit petal
    triangle-in-a-square rust, foam
    finished 4
unit pet
    triangle-in-a-square sand, foam
    finished 4
block eddy
    rows
        drift | drift turned 90
        pair | drift turned 180
quilt
    across 4, down 3
    tile
        eddy | petal
        pet | eddy
    border 2 kelp
    binding cut 2 1/4 rust
    sleeve cut 8 1/2 sand
sizes
    cot  across 4, down 3
    bed  across 10, down 13
colourway dusk "At dusk"
    foam = sand
part "First week" 2026-03-02
    makes 9 drift
    makes pet
part "Second week" 2026-03-09
    makes pair, petal, drift
    makes 3 eddy
part "Third week" 2026-03-16
    makes eddy
part "Fourth week" 2026-03-23
    makes top
part "Tea" 2026-03-30
    note
        Show it to someone.
"""


def contexts(text: str = TIDE) -> list[Context]:
    """A pattern in all sizes, each in all colourways, ready to be told."""
    whole = text_project(text)
    sizes = [s.name for s in whole.pattern.sizes] or [""]
    ways = ["", *(w.name for w in whole.pattern.colourways)]
    return [context(whole.in_size(size, way), solver=False) for size in sizes for way in ways]


def table(section: Section, head: str) -> Table:
    """The table of a section that has a head."""
    return next(b for b in section.blocks if isinstance(b, Table) and head in b.heads)


def steps(blocks: tuple[Block, ...] | list[Block]) -> list[NumberedStep]:
    """All steps under some blocks, in order."""
    found: list[NumberedStep] = []
    for block in blocks:
        found += (
            steps(block.blocks) if isinstance(block, Section) else [block] if isinstance(block, NumberedStep) else []
        )
    return found


def part(booklet: Booklet) -> Section:
    """The section of the one release that a booklet is about."""
    return next(s for s in booklet.sections if s.key.startswith("part-"))


# -- adding up --------------------------------------------------------------------------------------------
def adds_up(c: Context) -> None:
    """The releases' pieces, squares and strips, counted from the runs, are those of the whole order."""
    pieces, squares, strips = Counter[Item](), Counter[Piece](), Counter[tuple[str, Length]]()
    for share in c.shares.values():
        pieces.update(dict(share.pieces))
        for action, n in share.squares:
            squares[action.gives] += n
        for joined in share.joined:
            strips[joined.strip.fabric, joined.strip.height] += joined.count
        if share.finishes:
            for done in c.order.finish:
                if isinstance(done, (Bind, Sleeve)) and done.count:
                    strips[done.fabric, done.strip] += done.count
    for piece, n in pieces.items():
        if isinstance(piece, Piece) and piece.form == "strip" and piece.width == c.order.usable[piece.fabric]:
            strips[piece.fabric, piece.height] += n
    taken = Counter[Item]()
    for step in c.order.steps:
        taken.update({i: n for i, n in step.takes.items() if isinstance(i, Piece)})
    assert pieces == taken
    diagonal = Counter[Piece]()
    for action in c.order.cutting:
        if isinstance(action, CutDiagonally):
            diagonal[action.gives] += action.count
    assert squares == diagonal
    whole = Counter[tuple[str, Length]]()
    for action in c.order.cutting:
        if isinstance(action, CutStrips):
            whole[action.fabric, action.height] += action.count
    assert strips == whole


def test_the_parts_add_up_in_every_size_and_colourway() -> None:
    for c in contexts():
        adds_up(c)
        assert set(c.shares) == {0, 1, 2, 3, 4}
        needed = {x.making.thing: x.needed for x in c.steps}
        sewn = Counter[object]()
        for share in c.shares.values():
            sewn.update({x.making.thing: x.needed for x in counts_in(share, c) if x.making.seams})
        assert sewn == needed


@pytest.mark.parametrize("path", [MARSH, *(p for p in EXAMPLES if 'part "' in p.read_text())], ids=lambda p: p.stem)
def test_the_parts_of_whole_patterns_add_up(path: object) -> None:
    adds_up(told(path))  # type: ignore[arg-type]


@settings(max_examples=12, deadline=None)
@given(st.lists(st.integers(1, 9), min_size=1, max_size=4))
def test_any_division_of_a_unit_adds_up(numbers: list[int]) -> None:
    text = MARSH.read_text(encoding="utf-8")
    head = text[: text.index('part "Week one"')]
    head += "".join(f'part "P{i}" 2026-04-{i + 1:02d}\n    makes {n} spark\n' for i, n in enumerate(numbers))
    adds_up(context(Project("parts.pattern", head), solver=False))


def test_a_part_makes_what_its_batches_give() -> None:
    """13 of 24 units at two a pair: seven pairs give 14, and five pairs the other 10 when the rest is made."""
    c = told(MARSH)
    first, second = (counts_in(c.shares[n], c) for n in (0, 1))
    assert [(x.needed, x.batches) for x in first] == [(14, 7)]
    assert next((x.needed, x.batches) for x in second if str(x.making.key) == "spark") == (10, 5)


# -- told -------------------------------------------------------------------------------------------------
def test_a_part_is_told_in_every_size() -> None:
    booklet = api.make_booklet(text_project(TIDE), part="2")
    made = table(part(booklet), "Make")
    assert made.heads == ("Make", "Measures", "cot", "bed")
    numbers = {row[0]: row[2:] for row in made.rows}
    assert numbers["petal"][1] != numbers["petal"][0] and numbers["eddy"] == ("3", "3")
    cut = table(part(booklet), "Cut")
    assert cut.heads[-2:] == ("cot", "bed")
    assert all(len(row) == len(cut.heads) for row in cut.rows)
    assert "Templates of this release: petal" in render.markdown(booklet)


def test_what_must_be_ready_is_what_earlier_parts_left() -> None:
    """Each part takes of earlier ones what its batches use and it does not make; nothing else is asked for."""
    for c in contexts():
        needed = {x.making.unit: x.needed for x in c.steps}
        ready = {c.designs[t].unit: n for t, n in c.shares[3].ready}
        assert ready == {name: needed[name] for name in ("eddy", "petal", "pet")}
        assert c.shares[0].ready == ()
        rest = {c.designs[t].unit: n for t, n in c.shares[2].ready}
        eddies = needed["eddy"] - 3
        assert rest == {"drift": 3 * eddies, "pair": eddies}
    section = part(api.make_booklet(text_project(TIDE), part="Fourth week"))
    told_ready = table(section, "Have ready from earlier releases")
    assert {row[0] for row in told_ready.rows} == {"eddy", "petal", "pet"}
    one = part(api.make_booklet(text_project(TIDE).in_size("cot"), part="Fourth week"))
    assert any(isinstance(b, Paragraph) and b.text == "Have ready from earlier releases:" for b in one.blocks)


def test_squares_are_cut_corner_to_corner_once() -> None:
    """9 half-squares are 9 triangles of each cloth, from 5 squares; the tenth triangle serves the next part."""
    c = contexts()[0]
    halves = [cell.number for _, cell in cut_rows(c.shares[0], c) if " for " in cell.number]
    assert halves[:2] == ["5 for 9", "5 for 9"]
    rest = next(x.needed for x in c.steps if x.making.unit == "drift") - 9
    assert f"{(9 + rest + 1) // 2 - 5} for {rest}" in [cell.number for _, cell in cut_rows(c.shares[1], c)]


def test_a_part_without_units_says_so() -> None:
    section = part(api.make_booklet(text_project(TIDE), part="Tea"))
    assert Paragraph("Nothing is sewn in this release.") in section.blocks
    assert not any(isinstance(b, Table) for b in section.blocks)


def test_templates_are_those_that_the_steps_use() -> None:
    """Two units whose titles begin alike (pet, petal): each part has the templates of its own."""
    whole = text_project(TIDE)
    printed = {n: [t.title for t in api.make_booklet(whole, part=str(n)).templates] for n in range(1, 6)}
    assert printed[1] and all(t.startswith("pet") and "petal" not in t for t in printed[1])
    assert printed[2] and all(t.startswith("petal") for t in printed[2])
    assert printed[3] == printed[4] == printed[5] == []
    for c in contexts():
        for share in c.shares.values():
            cuts = [cut for x in counts_in(share, c) for cut in x.making.recipe.cuts if cut.then == "template"]
            assert {c.worked.desk.piece(cut).template for cut in cuts} == set(share.templates)


def test_templates_go_with_the_part_that_needs_them() -> None:
    booklet = api.make_booklet(project(MARSH), part="Week two")
    assert {t.title for t in booklet.templates} == {"dune", "cabin"}


def test_one_part_alone_has_its_own_steps_and_counts() -> None:
    booklet = api.make_booklet(project(MARSH), part="week one")
    keys = [s.key for s in booklet.sections]
    assert keys == ["part-week-one", "before", "units", "checkpoints"]
    assert [s.title for s in steps(booklet.sections)] == ["Spark: make 14"] and booklet.templates == ()


def test_steps_are_numbered_as_the_parts_come() -> None:
    whole = text_project(TIDE)
    booklet = api.make_booklet(whole)
    listed = steps(booklet.sections)
    assert [s.number for s in listed] == list(range(1, len(listed) + 1))
    title_of = {s.number: s.title.partition(":")[0] for s in listed}
    first: dict[int, int] = {}
    for n in range(1, 6):
        for step in steps(api.make_booklet(whole, part=str(n)).sections):
            assert title_of[step.number] == step.title.partition(":")[0]
            first.setdefault(step.number, n)
    assert set(first) == set(title_of)
    assert all(first[a] <= first[b] for a, b in pairwise(sorted(first)))
    heads = [s.key for s in booklet.sections if s.key.startswith(("units", "blocks", "top", "borders"))]
    assert heads == ["units", "blocks", "top", "borders"]


# -- asked for --------------------------------------------------------------------------------------------
@pytest.mark.parametrize("asked", ["2", "2026-03-09", "Second week", "second week "])
def test_a_part_is_asked_for_by_number_date_or_title(asked: str) -> None:
    made = api.files(text_project(TIDE), formats=("md",), part=asked)
    assert [name for name in made if name.endswith(".md")] == ["test-second-week.md"]


def test_all_parts_are_written_with_the_whole() -> None:
    made = api.files(text_project(TIDE), formats=("md",), part="all")
    pages = [name for name in made if name.endswith(".md")]
    weeks = ("first-week", "second-week", "third-week", "fourth-week", "tea")
    assert pages == ["test.md", *(f"test-{w}.md" for w in weeks)]
    for week in weeks:
        assert (
            made[f"test-{week}.md"]
            == api.files(text_project(TIDE), formats=("md",), part=week.replace("-", " "))[f"test-{week}.md"]
        )


def test_what_no_part_makes_is_written_too() -> None:
    text = TIDE.replace("    makes top\n", "")
    made = api.files(text_project(text), formats=("md",), part="all")
    assert "test-rest.md" in made and b"In no release" in made["test-rest.md"]


def test_sections_are_asked_for_of_the_parts_that_have_them() -> None:
    made = api.files(text_project(TIDE), formats=("md",), part="all", only=("templates",))
    assert [n for n in made if n.endswith(".md")] == [
        "test-templates.md",
        "test-first-week-templates.md",
        "test-second-week-templates.md",
    ]
    with pytest.raises(PatternError):
        api.files(text_project(TIDE), formats=("md",), part="all", only=("tempaltes",))


@pytest.mark.parametrize("asked", ["Week nine", "0", "4", "2026-03-03"])
def test_an_unknown_part_is_named_with_those_there_are(asked: str) -> None:
    with pytest.raises(PatternError) as caught:
        api.make_booklet(project(MARSH), part=asked)
    problem = caught.value.problems[0]
    assert asked in problem.message and "1: Week one (2026-03-02)" in problem.causes[0]


def test_two_parts_of_one_date_are_asked_for_by_number() -> None:
    text = TIDE.replace("2026-03-09", "2026-03-02")
    with pytest.raises(PatternError) as caught:
        api.make_booklet(text_project(text), part="2026-03-02")
    assert "2 parts" in caught.value.problems[0].message


def test_nothing_is_left_over_where_the_parts_make_everything() -> None:
    with pytest.raises(PatternError) as caught:
        api.make_booklet(text_project(TIDE), part="rest")
    assert "nothing is left over" in caught.value.problems[0].message


# -- in words ---------------------------------------------------------------------------------------------
def test_dates_are_in_the_language_of_the_booklet() -> None:
    assert api.make_booklet(text_project(TIDE), part="1").subtitle == "First week (2 March 2026)"
    german = api.make_booklet(text_project(TIDE), part="1", language="de")
    assert german.subtitle == "First week (2. März 2026)"
    text = render.markdown(german)
    assert "2026-03" not in text and "Für diese Folge zuzuschneiden" in text and "5 für 9" in text


def test_one_size_or_colourway_is_named() -> None:
    booklet = api.make_booklet(text_project(TIDE).in_size("bed", "dusk"), part="1")
    assert booklet.subtitle == "First week (2 March 2026), bed, At dusk"
