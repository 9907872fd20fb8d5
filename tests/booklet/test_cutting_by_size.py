"""The cuts of several sizes in one booklet, read back from the text of their tables."""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction

import pytest

from patternkit import api
from patternkit.booklet.content.cloth_sizes import in_order, rows_of
from patternkit.booklet.content.context import Context, context
from patternkit.document import Block, Figure, Section, Table

from .conftest import EXAMPLES, made, project
from .test_consistency import inches
from .test_words import example

SIZED = [p for p in EXAMPLES if project(p).pattern.sizes and not project(p).pattern.settings.units.decimals]


def whole(path: object) -> Context:
    read = project(path)  # type: ignore[arg-type]
    return context(read, sisters=[read.in_size(s.name) for s in read.pattern.sizes])


def fabric_sections(path: object) -> dict[str, Section]:
    cutting = next(s for s in made(path).sections if s.key == "cutting")  # type: ignore[arg-type]
    return {b.title: b for b in cutting.blocks if isinstance(b, Section)}


def tables(section: Section, head: str) -> list[Table]:
    return [b for b in section.blocks if isinstance(b, Table) and b.heads[0] == head]


Cuts = tuple[Counter[tuple[Fraction, Fraction]], Counter[Fraction]]


def read_back(section: Section, size: str) -> Cuts:
    """Pieces by their size and whole strips by their height, from the words of one size's tables."""
    pieces: Counter[tuple[Fraction, Fraction]] = Counter()
    strips: Counter[Fraction] = Counter()
    for table in tables(section, "Cut strips"):
        by_size = size in table.heads
        if not by_size and table.caption != size:
            continue
        for row in table.rows:
            cell = row[table.heads.index(size)] if by_size else row[2]
            if cell == "–":
                continue
            height = re.search(r"(?:(\d+) strips?, )?([\d/ ]+ in) high", row[0])
            assert height, row
            if "keep whole" in row[1]:
                strips[inches(height[2])] += int(cell)
                continue
            numbers = re.fullmatch(r"\d+ \((.*)\)", cell)[1].split("; ") if by_size else cell.split("; ")  # type: ignore[index]
            sizes = re.findall(r"\d+ of ([\d/ ]+?) x ([\d/ ]+) in", row[1])
            assert len(sizes) == len(numbers), row
            for (w, h), n in zip(sizes, numbers, strict=True):
                pieces[inches(w), inches(h)] += int(n.split(",")[0])
    return pieces, strips


@pytest.mark.parametrize("path", SIZED, ids=lambda p: p.stem)
def test_every_size_finds_all_its_cuts_in_the_tables(path: object) -> None:
    ctx, sections = whole(path), fabric_sections(path)
    for c in ctx.sizes:
        for key, plan in c.plan.fabrics.items():
            if plan.sheets is not None or any(line.per_strip for line in plan.lines):
                continue
            pieces: Counter[tuple[Fraction, Fraction]] = Counter()
            strips: Counter[Fraction] = Counter()
            for line in plan.lines:
                if line.cut.then == "strip":
                    strips[line.cut.height.fraction] += line.count
                else:
                    pieces[line.cut.width.fraction, line.cut.height.fraction] += line.count
            assert read_back(sections[ctx.fabric(key)], c.size_name) == (pieces, strips), (c.size_name, key)


@pytest.mark.parametrize("path", SIZED, ids=lambda p: p.stem)
def test_each_size_keeps_its_drawings_with_what_they_take(path: object) -> None:
    ctx, sections = whole(path), fabric_sections(path)
    for key in ctx.pattern.fabrics:
        wanted = [c for c in ctx.sizes if key in c.plan.fabrics and c.plan.fabrics[key].plan.strips]
        if not wanted:
            continue
        figures = [b for b in sections[ctx.fabric(key)].blocks if isinstance(b, Figure)]
        captions = [f.caption for f in figures if f.caption]
        assert [caption.partition(":")[0] for caption in captions] == [c.size_name for c in wanted]
        for caption, c in zip(captions, wanted, strict=True):
            assert f"buy {c.phrases.yardage(c.plan.fabrics[key].buy)}." in caption


def test_sizes_with_the_same_cuts_have_one_table() -> None:
    (rope,) = tables(fabric_sections(example("four-patch-chain"))["Tarred rope (A)"], "Cut strips")
    assert rope.heads == ("Cut strips", "From each", "For", "crib", "twin", "double")
    assert ("2 1/2 in high", "A1: 15 of 2 1/2 x 2 1/2 in", "four-patch", "5 (75)", "18 (270)", "24 (360)") in rope.rows
    (joined,) = tables(fabric_sections(example("four-patch-chain"))["Buoy red (C)"], "Size")
    # for twin the end of a strip of 2 1/2 in joins seven of 2 in, which saves an eighth of a yard
    assert [row[:2] for row in joined.rows] == [("crib", "4"), ("twin", "7"), ("double", "8")]


def test_one_table_is_never_longer_than_those_of_the_sizes() -> None:
    for path in SIZED:
        ctx = whole(path)
        for key in ctx.pattern.fabrics:
            listed = [rows_of(key, c) for c in ctx.sizes if key in c.plan.fabrics]
            merged = [row.words for row in in_order(listed)]
            assert len(merged) == len(set(merged)) <= sum(map(len, listed))
            heights = [
                inches(k[0].removesuffix(" high")) for k in merged if k[0].endswith(" high") and "from" not in k[0]
            ]
            assert heights == sorted(heights, reverse=True)


def test_one_size_alone_has_its_own_tables_as_before() -> None:
    booklet = api.make_booklet(api.load(example("four-patch-chain"), size="twin"))
    cutting = next(s for s in booklet.sections if s.key == "cutting")
    inner: list[Block] = [b for s in cutting.blocks if isinstance(s, Section) for b in s.blocks]
    assert all(t.heads == ("Cut strips", "From each", "In all", "For") for t in inner if isinstance(t, Table))
