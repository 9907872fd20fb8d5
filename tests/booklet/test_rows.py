"""Rows of a quilt and strips of its borders in words: what is alike is told once, and nothing is told that
cannot be measured."""

from __future__ import annotations

import re

import pytest

from patternkit import api
from patternkit.booklet.content.diagonal import alike, between_triangles, is_diagonal
from patternkit.booklet.document import Block, Bullets, Callout, Figure, Section, Step, Table
from patternkit.piecing.making import Cloth

from .conftest import made, text_project, told
from .test_words import example, steps, words

ON_POINT = ("nine-patch-on-point", "economy")


def step_of(name: str, title: str) -> Step:
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
    assert sum(int(item.split()[0]) for item in taken) == sum(len(row.parts) for row in rows)
    triangles = sum(isinstance(p.what, Cloth) and "triangle" in p.what.name for row in rows for p in row.parts)
    assert sum(int(item.split()[0]) for item in taken if "triangle" in item) == triangles


def test_a_diagonal_row_is_measured_between_its_triangles() -> None:
    """Four nine-patches and three plain squares of 6 in lie between the end triangles: 42 in."""
    ctx = told(example("nine-patch-on-point"))
    found = {row.numbers: row.length for row in alike([c.making for c in ctx.steps if is_diagonal(c.making)], ctx)}
    assert {k: str(ctx.phrases.length(v)) for k, v in found.items()} == {
        (1, 8): "6 in", (2, 7): "18 in", (3, 6): "30 in", (4,): "42 in", (5,): "42 in",
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
    step = next(s for s in steps(api.booklet(project)) if s.title == "Diagonal rows")
    found = [b for b in step.blocks if isinstance(b, Table) and len(b.heads) == 3]
    assert [[row[0] for row in t.rows] for t in found] == [["1 and 3", "2"], ["1 and 6", "2 and 5", "3", "4"]]
    # what is alike is said once: the way of pressing, and what each row must measure
    assert sum(isinstance(b, Callout) for b in step.blocks) == 1
    assert words(step).count("Press the seams") == 1


BORDERS = [
    ("geese-medallion", "Sew on border 1", "2 strips of Reed (C), 2 1/2 x 16 1/2 in (sides of border 1)"),
    ("geese-medallion", "Sew on border 3", "2 strips of Mist (D), 31 1/4 x 3 1/2 in (sides of border 3)"),
    (
        "shapes-sampler",
        "Sew on the border",
        "2 strips of Stone (C), 31 1/2 x 2 1/2 in, cut from the joined strips (top and bottom borders)",
    ),
]


@pytest.mark.parametrize(("name", "title", "said"), BORDERS)
def test_border_pieces_are_strips_however_long(name: str, title: str, said: str) -> None:
    step = step_of(name, title)
    assert said in words(step)
    assert "rectangle" not in words(step)


def test_a_strip_comes_from_joined_strips_just_where_the_cutting_says_so() -> None:
    from patternkit.booklet.content.cloth import long_words

    for name in ("shapes-sampler", "block-sampler", "geese-medallion"):
        ctx = told(example(name))
        joined = " ".join(long_words(long, ctx) for long in ctx.plan.long_strips)
        for step in steps(made(example(name))):
            for item in (i for b in step.blocks if isinstance(b, Bullets) for i in b.items):
                called = re.search(r"\(([^()]*border[^()]*)\)$", item)
                if called and " strips of " in item:
                    assert ("cut from the joined strips" in item) == (f"({called[1]})" in joined), item


def test_a_centre_of_one_block_is_taken_as_that_block() -> None:
    step = step_of("geese-medallion", "Sew on border 1")
    assert "1 star block, which is the quilt centre, 16 1/2 x 16 1/2 in" in words(step)


def test_sewn_strips_of_a_pieced_border_are_called_so() -> None:
    step = step_of("geese-medallion", "Sew on border 2")
    assert "2 sewn strips (top and bottom of border 2), each 24 1/2 x 2 1/2 in" in words(step)
