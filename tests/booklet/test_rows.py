"""Rows of a quilt and strips of its borders in words: what is alike is told once, and nothing is told that
cannot be measured."""

from __future__ import annotations

import re
from pathlib import Path

import msgspec
import pytest

from patternkit import api
from patternkit.booklet.content.context import context
from patternkit.booklet.content.diagonal import alike, between_triangles, is_diagonal
from patternkit.booklet.content.naming import Names
from patternkit.booklet.phrases import Phrases
from patternkit.document import Block, Bullets, Callout, Figure, NumberedStep, Section, Table
from patternkit.piecing.keys import OwnKey
from patternkit.piecing.making import Cloth, Making, Placed
from patternkit.piecing.names import CORNER_TRIANGLE, SIDE_TRIANGLE, Name
from patternkit.plan.rows import merge_rows
from patternkit.project import Project
from patternkit.units import IMPERIAL
from patternkit.work.forms import Turns, turns_of
from patternkit.work.model import JoinEnds

from .conftest import EXAMPLES, made, text_project, told
from .test_words import example, steps, words

ON_POINT = ("nine-patch-on-point", "economy")


def step_of(name: str, title: str) -> NumberedStep:
    return next(s for s in steps(made(example(name))) if s.title == title)


@pytest.mark.parametrize("name", ON_POINT)
def test_diagonal_rows_are_one_step_with_a_line_for_each_kind(name: str) -> None:
    ctx = told(example(name))
    rows = [c.making for c in ctx.plan.counts if is_diagonal(c.making)]
    step = step_of(name, "Diagonal rows")
    table = next(b for b in step.blocks if isinstance(b, Table))
    numbers = [int(n) for row in table.rows for n in re.findall(r"\d+", row[0])]
    assert sorted(numbers) == list(range(1, len(rows) + 1))
    assert len(table.rows) < len(rows)
    assert len({row[1:] for row in table.rows}) == len(table.rows)
    drawn = next(b for b in step.blocks if isinstance(b, Figure)).drawings[0].svg
    assert all(f">{n}</text>" in drawn for n in numbers)


@pytest.mark.parametrize("name", ON_POINT)
def test_what_all_diagonal_rows_take_is_what_lies_in_them(name: str) -> None:
    """The counts of the list, added up, are the pieces of all rows counted one by one."""
    ctx = told(example(name))
    rows = [c.making for c in ctx.plan.counts if is_diagonal(c.making)]
    taken = next(b for b in step_of(name, "Diagonal rows").blocks if isinstance(b, Bullets)).items
    taken = [item.split(": ")[-1] for item in taken]  # without the codes
    assert sum(int(item.split()[0]) for item in taken) == sum(len(row.parts) for row in rows)
    triangles = sum(
        isinstance(p.what, Cloth) and p.what.name in (SIDE_TRIANGLE, CORNER_TRIANGLE) for row in rows for p in row.parts
    )
    assert sum(int(item.split()[0]) for item in taken if "triangle" in item) == triangles


def test_a_diagonal_row_is_measured_between_its_triangles() -> None:
    """Four nine-patches and three plain squares of 6 in lie between the end triangles: 42 in."""
    ctx = told(example("nine-patch-on-point"))
    found = {row.numbers: row.length for row in alike([c.making for c in ctx.steps if is_diagonal(c.making)], ctx)}
    assert {k: str(ctx.phrases.length(v)) for k, v in found.items()} == {
        (1, 8): "6 in",
        (2, 7): "18 in",
        (3, 6): "30 in",
        (4,): "42 in",
        (5,): "42 in",
    }
    for count in ctx.steps:
        if is_diagonal(count.making):
            inner = [p.what.width for p in count.making.parts if not isinstance(p.what, Cloth)]
            assert sum(inner[1:], inner[0]) == between_triangles(count.making)


def test_the_index_tells_of_diagonal_rows_what_can_be_measured() -> None:
    def tables(blocks: tuple[Block, ...]) -> list[Table]:
        return [t for b in blocks for t in ([b] if isinstance(b, Table) else tables(getattr(b, "blocks", ())))]

    index = next(s for s in made(example("economy")).sections if s.key == "checkpoints")
    assert isinstance(index, Section)
    rows = [row for row in tables(index.blocks)[0].rows if "diagonal" in row[1]]
    assert [row[2:] for row in rows] == [
        ("2", "8 in from triangle to triangle", "–"),
        ("2", "24 in from triangle to triangle", "–"),
        ("1", "40 in from triangle to triangle", "–"),
    ]


def test_diagonal_rows_of_several_sizes_have_a_table_each() -> None:
    text = re.sub(r"(?m)^    make \d+\n", "", example("nine-patch-on-point").read_text())
    project = text_project(text + "\nsizes\n    small  across 2, down 2\n    large  across 3, down 4\n")
    step = next(s for s in steps(api.make_booklet(project)) if s.title == "Diagonal rows")
    found = [b for b in step.blocks if isinstance(b, Table) and len(b.heads) == 3]
    assert [[row[0] for row in t.rows] for t in found] == [["1 and 3", "2"], ["1 and 6", "2 and 5", "3", "4"]]
    # what is alike is said once: the way of pressing, and what each row must measure
    assert sum(isinstance(b, Callout) for b in step.blocks) == 1
    assert words(step).count("Press the seams") == 1


BORDERS = [
    ("geese-medallion", "Sew on border 1", "2 strips of Reed (C), 2 1/2 x 16 1/2 in (sides of border 1)"),
    (
        "geese-medallion",
        "Sew on border 3",
        "4 strips of Mist (D), 34 x 3 1/2 in (top and bottom of border 3, and",
    ),
    (
        "shapes-sampler",
        "Sew on the border",
        "2 strips of Stone (C), 31 1/2 x 2 1/2 in (top and bottom borders)",
    ),
]


@pytest.mark.parametrize(("name", "title", "said"), BORDERS)
def test_border_pieces_are_strips_however_long(name: str, title: str, said: str) -> None:
    step = step_of(name, title)
    assert said in words(step)
    assert "rectangle" not in words(step)


def test_a_strip_comes_from_joined_strips_just_where_the_cutting_says_so() -> None:
    from patternkit.booklet.content.joined import joined_blocks

    for name in ("shapes-sampler", "block-sampler", "geese-medallion"):
        ctx = told(example(name))
        blocks = [b for x in ctx.order.cutting if isinstance(x, JoinEnds) for b in joined_blocks(x, ctx)]
        each = [t for b in blocks for t in (b.items if isinstance(b, Bullets) else [b.text] if b.text else [])]
        joined = " ".join(s for s in each if re.search(r"\b[Jj]oin (?!strips)", s))
        for step in steps(made(example(name))):
            for item in (i for b in step.blocks if isinstance(b, Bullets) for i in b.items):
                called = re.search(r"\(([^()]*border[^()]*)\)$", item)
                if called and " strips of " in item:
                    assert ("cut from the joined strips" in item) == (f", {called[1]})" in joined), item


def test_a_centre_of_one_block_is_taken_as_that_block() -> None:
    step = step_of("geese-medallion", "Sew on border 1")
    assert "1 star block, which is the quilt centre, 16 1/2 x 16 1/2 in" in words(step)


def test_sewn_strips_of_a_pieced_border_are_called_so() -> None:
    step = step_of("geese-medallion", "Sew on border 2")
    assert "2 sewn strips (top and bottom of border 2), each 24 1/2 x 2 1/2 in" in words(step)


def layout_project() -> Project:
    """Four rows of a layout, the first and the third alike."""
    return text_project(LAYOUT)


LAYOUT = """pattern "Rows"
    units inches
    seam 1/4

fabric sail "Sailcloth" light #f2ead8
fabric rope "Rope" dark #2b4c6f

block light
    patch sail
    finished 6

block pair
    row sail | rope
    finished 6 x 6

quilt
    layout
        light | pair | light
        pair | light | pair
        light | pair | light
        light | light | pair
    binding cut 2 1/4 rope
"""


def test_alike_rows_of_a_layout_are_told_once() -> None:
    project = layout_project()
    assert not [p for p in api.check(project) if not p.advice]
    booklet = api.make_booklet(project)
    titles = [s.title for s in steps(booklet)]
    assert "Rows 1 and 3: make 2" in titles
    assert [t for t in titles if t.startswith("Row")] == ["Rows 1 and 3: make 2", "Row 2", "Row 4"]
    whole = next(s for s in steps(booklet) if s.title == "Quilt top")
    assert "rows 1 and 3, each 18 1/2 x 6 1/2 in" in words(whole)


def test_rows_alike_but_for_their_pressing_stay_apart() -> None:
    ctx = context(layout_project())
    centre = next(c.making for c in ctx.plan.counts if str(c.making.key) == "centre")
    rows = [p.what for p in centre.parts if isinstance(p.what, Making)]
    ninth = OwnKey(Name("row", (9,)))
    turned = msgspec.structs.replace(
        rows[0], key=ninth, seams=tuple(msgspec.structs.replace(s, pressed="open") for s in rows[0].seams)
    )
    mixed = msgspec.structs.replace(centre, parts=(*centre.parts, Placed(turned, centre.parts[0].place)))
    again = merge_rows(mixed)
    assert again.parts[-1].what is turned
    same = msgspec.structs.replace(rows[0], key=ninth)
    mixed = msgspec.structs.replace(centre, parts=(*centre.parts, Placed(same, centre.parts[0].place)))
    again = merge_rows(mixed)
    assert again.parts[-1].what is again.parts[0].what
    assert isinstance(again.parts[0].what, Making) and str(again.parts[0].what.key).endswith(" and 9")


def test_every_other_row_has_one_name_in_all_sizes() -> None:
    titles = [s.title for s in steps(made(example("four-patch-chain")))]
    assert "Odd-numbered rows: make 3 / 5 / 5" in titles and "Even-numbered rows: make 2 / 5 / 5" in titles
    step = step_of("four-patch-chain", "Odd-numbered rows: make 3 / 5 / 5")
    assert "These are rows 1, 3, 5 and so on, counted from the top." in words(step)


@pytest.mark.parametrize(
    ("rows", "several", "numbers", "said"),
    [
        (5, True, [1, 3, 5], "odd-numbered rows"),
        (5, False, [1, 3, 5], "rows 1, 3 and 5"),
        (7, False, [2, 4, 6], "even-numbered rows"),
        (3, True, [2], "row 2"),
        (8, False, [2, 4, 6, 8], "even-numbered rows"),
        (9, True, [1, 3, 5, 7], "rows 1, 3, 5 and 7"),  # the ninth is another
        (2, True, [1], "row 1"),
    ],
)
def test_odd_rows_are_all_odd_rows(rows: int, several: bool, numbers: list[int], said: str) -> None:
    assert Names(Phrases("en", IMPERIAL), rows=rows, several=several).rows(numbers) == said


def test_units_of_all_sizes_are_pressed_alike() -> None:
    """The best plans of crib and twin press the four-patch apart, for 2 joints of 510: the twin keeps to the crib's."""
    step = step_of("four-patch-chain", "Four-patch: make 40 / 140 / 180")
    assert "Between rows 1 and 2: press up." in words(step)


def test_sizes_that_differ_in_pressing_alone_are_one_step(monkeypatch: pytest.MonkeyPatch) -> None:
    """What differs is one sentence, and one set of drawings says for which sizes it is drawn. (Sizes keep to
    one pressing unless that loses much at the joints; here each is planned by itself.)
    """
    monkeypatch.setattr(Project, "leader", lambda self: None)
    booklet = api.make_booklet(api.load(example("four-patch-chain")))
    step = next(s for s in steps(booklet) if s.title == "Four-patch: make 40 / 140 / 180")
    assert "Between rows 1 and 2: press up (crib), down (twin and double)." in words(step)
    assert words(step).count("In rows 1 and 2: press toward Tarred rope (A).") == 1
    (figure,) = (b for b in step.blocks if isinstance(b, Figure))
    assert len(figure.drawings) == 2
    assert figure.caption == "Drawn as it is pressed for twin and double"
    own = made_alone("four-patch-chain", "twin")
    assert figure.drawings == next(b for b in own.blocks if isinstance(b, Figure)).drawings


def made_alone(name: str, size: str) -> NumberedStep:
    booklet = api.make_booklet(api.load(example(name), size=size))
    return next(s for s in steps(booklet) if s.title.startswith("Four-patch"))


def test_what_each_size_measures_is_one_sentence() -> None:
    step = next(s for s in steps(made(example("four-patch-chain"))) if s.title == "Quilt centre")
    (check,) = (b.text for b in step.blocks if isinstance(b, Callout))
    assert check == (
        "It measures, raw edge to raw edge, 32 1/2 x 40 1/2 in and finishes 32 x 40 in (crib); "
        "56 1/2 x 80 1/2 in and finishes 56 x 80 in (twin); 72 1/2 x 80 1/2 in and finishes 72 x 80 in (double)."
    )


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_no_figure_shows_a_drawing_twice(path: Path) -> None:
    for step in steps(made(path)):
        for figure in (b for b in step.blocks if isinstance(b, Figure)):
            assert len(figure.drawings) == len(set(figure.drawings)), step.title


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("sawtooth-star", "Between every two rows of blocks lies sashing, and so above the first and below the last."),
        ("four-patch-chain", ""),
    ],
)
def test_where_sashing_lies_is_said_where_the_rows_are_joined(name: str, said: str) -> None:
    joined = words(step_of(name, "Quilt centre"))
    assert said in joined and ("sashing" in joined.replace("sashing rows", "")) == bool(said)


def run(text: str, ways: str) -> Turns:
    """A row of blocks, a letter for each, and the ways its seams are pressed."""
    return turns_of(tuple(text), tuple(ways))


@pytest.mark.parametrize(
    ("short", "long", "one"),
    [
        (run("aba", "lr"), run("abababa", "lrlrlr"), True),
        (run("aba", "lr"), run("aba", "lr"), True),
        (run("abc", "lr"), run("abc", "lr"), True),
        (run("aba", "lr"), run("abababa", "rlrlrl"), False),  # pressed the other way
        (run("aba", "lr"), run("abaab", "lrlr"), False),  # the longer one does not go on so
        (run("abc", "lr"), run("abcabc", "lrlrl"), False),  # nothing of the shorter one comes again
        (run("ab", "l"), run("abab", "lrl"), False),
    ],
)
def test_one_drawing_stands_for_rows_that_go_on_alike(short: Turns, long: Turns, one: bool) -> None:
    assert (short == long) is one


@pytest.mark.parametrize("name", ["lantern-walk", "harbour-chain"])
def test_rows_of_several_sizes_are_drawn_once(name: str) -> None:
    rows = [s for s in steps(made(example(name))) if "numbered rows" in s.title.lower()]
    assert len(rows) == 2
    for step in rows:
        (figure,) = (b for b in step.blocks if isinstance(b, Figure))
        assert len(figure.drawings) == 1 and "goes on in the same way" in figure.caption
