"""How lists, rows, seams and units of one name are told: what a stranger reads without asking back."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from patternkit import api, render
from patternkit.booklet.content.booklet import booklet
from patternkit.booklet.content.context import context
from patternkit.booklet.content.naming import Names
from patternkit.booklet.content.panels import text
from patternkit.booklet.content.pressing import numbered_seams, press_sentences, press_ways
from patternkit.booklet.phrases import Phrases
from patternkit.document import Block, Booklet, Bullets, Figure, NumberedStep, Paragraph, Section, Table
from patternkit.units import IMPERIAL

from .conftest import EXAMPLES, MARSH, made, told

NAMES = Names(Phrases("en", IMPERIAL))


def example(name: str) -> Path:
    return next(p for p in EXAMPLES if p.stem == name)


def steps(booklet: Booklet) -> list[NumberedStep]:
    def of(section: Section) -> list[Block]:
        return [x for b in section.blocks for x in (of(b) if isinstance(b, Section) else [b])]

    return [b for s in booklet.sections for b in of(s) if isinstance(b, NumberedStep)]


def words(step: NumberedStep) -> str:
    parts = [b.text for b in step.blocks if isinstance(b, Paragraph)]
    parts += [item for b in step.blocks if isinstance(b, Bullets) for item in b.items]
    return " ".join(parts)


@pytest.mark.parametrize(
    ("items", "said"),
    [
        ([], ""),
        (["goose"], "goose"),
        (["goose", "sky"], "goose and sky"),
        (["a", "b", "c"], "a, b and c"),
        (["groyne", "top and bottom borders"], "groyne, and top and bottom borders"),
        (["2 of 42 in (top and bottom)", "2 of 30 in (sides)"], "2 of 42 in (top and bottom) and 2 of 30 in (sides)"),
        (["goose, pressed out", "spark"], "goose, pressed out; spark"),
    ],
)
def test_lists(items: list[str], said: str) -> None:
    assert NAMES.listed(items) == said


@pytest.mark.parametrize(
    ("numbers", "said"),
    [
        ([4], "row 4"),
        ([1, 2], "rows 1 and 2"),
        ([1, 2, 3, 4], "rows 1 to 4"),
        ([1, 3, 5], "rows 1, 3 and 5"),
    ],
)
def test_rows_by_number(numbers: list[int], said: str) -> None:
    assert NAMES.rows(numbers) == said


def test_diagonal_rows_by_number() -> None:
    assert NAMES.rows([1, 2, 3], diagonal=True) == "diagonal rows 1 to 3"


@pytest.mark.parametrize("path", [*EXAMPLES, MARSH], ids=lambda p: p.stem)
def test_no_two_steps_have_one_name(path: Path) -> None:
    names = [re.sub(r": make .*", "", s.title) for s in steps(made(path))]
    assert len(names) == len(set(names)), names


def test_one_unit_in_several_fabrics_is_called_by_its_fabric() -> None:
    booklet = made(example("block-sampler"))
    called = {s.title.partition(":")[0] for s in steps(booklet) if "Sixteen" in s.title}
    assert called == {"Plum Sixteen-patch", "Apple Sixteen-patch", "Corn Sixteen-patch"}
    row = next(s for s in steps(booklet) if s.title == "Row 1")
    assert "1 Plum Sixteen-patch block" in words(row) and "1 Apple Sixteen-patch block" in words(row)


@pytest.mark.parametrize("path", [*EXAMPLES, MARSH], ids=lambda p: p.stem)
def test_seams_told_by_number_show_their_number(path: Path) -> None:
    """A number in the words stands in the step's own drawing; no step leaves the seams to the drawing alone."""
    ctx = told(path)
    by_title = {re.sub(r": make .*", "", s.title).lower(): s for s in steps(made(path))}
    for count in ctx.steps:
        shown = numbered_seams(count.making, ctx)
        said = text(press_sentences(press_ways(count.making, ctx)), ctx)
        assert "as the arrows" not in said
        settled = [s for s in count.making.seams if s.pressed != "free"]
        assert bool(said) == bool(settled), count.making.key
        if shown:
            step = by_title[ctx.title(count.making).lower()]
            drawn = " ".join(d.svg for b in step.blocks if isinstance(b, Figure) for d in b.drawings)
            assert all(f">{n}</text>" in drawn for n in shown)


def test_a_star_in_straight_seams_is_told_by_numbers() -> None:
    step = next(s for s in steps(made(example("eight-point-star"))) if s.title.startswith("Split star"))
    assert re.search(r"Seams 1, .* press toward Ice \(B\)\.", words(step))


def test_a_row_of_alike_blocks_is_told_by_turns() -> None:
    step = next(s for s in steps(made(example("rail-fence"))) if "rows" in s.title)
    assert "by turns to the" in words(step) and "beginning at the left" in words(step)


def test_a_setting_on_point_is_told_by_its_diagonal_rows() -> None:
    step = next(s for s in steps(made(example("nine-patch-on-point"))) if s.title == "Quilt centre")
    assert "diagonal rows 1 to 8" in words(step)
    assert "Between diagonal rows 1 and 2, 2 and 3" in words(step)


def test_a_row_of_one_block_is_the_block() -> None:
    step = next(s for s in steps(made(example("triangle-strips"))) if s.title == "Quilt top")
    assert "6 Fleet blocks" in words(step) and "row 1" not in words(step)


def test_what_to_take_in_each_size_is_a_table() -> None:
    booklet = made(example("harbour-chain"))
    step = next(s for s in steps(booklet) if s.title.startswith("A-row"))
    table = next(b for b in step.blocks if isinstance(b, Table))
    assert [row[0] for row in table.rows] == ["throw", "twin", "cushion"]
    assert all("3 strips of Rope blue (A)" in row[1] for row in table.rows)


def test_what_a_fabric_is_for_is_one_list() -> None:
    text = render.markdown(made(example("groyne-runner")))
    assert "| groyne, half strips of groyne, side borders, top and bottom borders |" in text


def test_nothing_is_bought_of_what_lies_at_hand(tmp_path: Path) -> None:
    path = tmp_path / "hand.pattern"
    path.write_text(
        'pattern "Hand"\nfabric a\n    sold as fat-quarters 18 x 21\n    have 3\nblock p\n    patch a 6\n'
        "quilt\n    across 2, down 2\n    tile\n        p\n",
        encoding="utf-8",
    )
    told = repr(booklet(context(api.load(path), solver=False)))
    assert "The cuts take 1 fat quarter, of 3 fat quarters at hand." in told
    assert "buy 3 fat" not in told


@pytest.mark.parametrize(("language", "one", "more"), [("en", "1 is", "2 are"), ("de", "wird 1", "werden 2")])
@pytest.mark.parametrize("key", ["method.strips_yield", "method.strips_half"])
def test_one_segment_is_needed_and_two_are(language: str, one: str, more: str, key: str) -> None:
    phrases = Phrases(language, IMPERIAL)
    told = [phrases.say(key, yields=8, halves=8, batches=1, needed=n, spare=0) for n in (1, 2)]
    assert one in told[0] and more not in told[0]
    assert more in told[1] and one not in told[1]
