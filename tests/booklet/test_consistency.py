"""Every booklet against the plan, worked out again: numbers agree, are written in one way, labels are
defined."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest

from patternkit.booklet.content import tables
from patternkit.booklet.content.cloth import cutting_table
from patternkit.booklet.content.diagonal import is_diagonal
from patternkit.booklet.content.merged import steps_of
from patternkit.document import Block, Booklet, Bullets, Callout, NumberedStep, Paragraph, Section, Table
from patternkit.piecing.making import Making, made_from

from .conftest import EXAMPLES, MARSH, made, told

ALL = [*EXAMPLES, MARSH]
INCHES = [p for p in ALL if "units inches" in p.read_text(encoding="utf-8")]
PATHS = pytest.mark.parametrize("path", ALL, ids=lambda p: p.stem)
IN_INCHES = pytest.mark.parametrize("path", INCHES, ids=lambda p: p.stem)


def blocks(booklet: Booklet) -> list[Block]:
    """Every block of a booklet."""
    found: list[Block] = []

    def walk(inner: tuple[Block, ...]) -> None:
        for b in inner:
            found.append(b)
            if isinstance(b, (Section, NumberedStep)):
                walk(b.blocks)

    walk(booklet.sections)
    return found


def texts(booklet: Booklet) -> list[str]:
    """Every text that a reader sees outside drawings, the writer's own Markdown left out."""
    found = [f"{label}: {value}" for label, value in booklet.facts]
    for b in blocks(booklet):
        if isinstance(b, Paragraph):
            found.append(f"{b.lead} {b.text}")
        elif isinstance(b, Callout) and not b.rich:
            found.append(b.text)
        elif isinstance(b, Bullets):
            found += b.items
        elif isinstance(b, Table):
            found += [b.caption, *b.heads, *(cell for row in b.rows for cell in row)]
        elif isinstance(b, (Section, NumberedStep)):
            found.append(b.title)
    for t in booklet.templates:
        found += [t.title, *t.lines]
    return found


def inches(text: str) -> Fraction:
    """A printed length as a number of inches, read independently of the printing."""
    match = re.fullmatch(r"(?:about )?(?:(\d+) )?(\d+)/(\d+)|(?:about )?(\d+)", text.removesuffix(" in").strip())
    assert match, text
    if match[4]:
        return Fraction(int(match[4]))
    return Fraction(int(match[1] or 0)) + Fraction(int(match[2]), int(match[3]))


def needed(top: Making) -> Counter[int]:
    """How often every making occurs under the top, counted by walking every copy."""
    found: Counter[int] = Counter()
    stack = [top]
    wholes: dict[int, Counter[int]] = {}  # of each thing that is cut apart how often each of its pieces occurs
    things: dict[int, Making] = {}
    while stack:
        making = stack.pop()
        found[id(making)] += 1
        if making.recipe.apart is not None:
            (whole,) = made_from(making)
            things[id(whole)] = whole
            wholes.setdefault(id(whole), Counter())[id(making)] += 1
        stack += [p.what for p in making.parts if isinstance(p.what, Making)]
    for key, pieces in wholes.items():  # none of which holds another that is cut apart
        stack += [things[key]] * max(pieces.values())
    while stack:
        making = stack.pop()
        found[id(making)] += 1
        stack += [p.what for p in making.parts if isinstance(p.what, Making)]
    return found


@IN_INCHES
def test_index_of_checkpoints_agrees_with_a_count_of_every_copy(path: Path) -> None:
    ctx = told(path)
    assert ctx.top is not None
    count = needed(ctx.top)
    table = tables.checkpoints(ctx, list(enumerate(steps_of(ctx), 1)))
    rows = [row for row in table.rows if "diagonal row" not in row[1] and "first seam" not in row[3]]
    own = [step for step in ctx.steps if not is_diagonal(step.making)]
    assert len(rows) == len(own)
    slanted = sum(count[id(step.making)] for step in ctx.steps if is_diagonal(step.making))
    assert sum(int(row[2]) for row in table.rows if row not in rows) == slanted
    for row, step in zip(rows, own, strict=True):
        making = step.making
        assert int(row[2]) == count[id(making)]
        if "about" not in row[3] and row[3] != "–":
            w, h = row[3].removesuffix(" in").split(" x ")
            seams = ctx.seam.fraction * 2
            assert inches(w) == making.width.fraction + seams and inches(h) == making.height.fraction + seams


def items(each: str) -> Iterator[tuple[str, int]]:
    """The pieces of one strip as a table's cell has them, and how often: those in rows of a segment once for each."""
    for item in re.split(r"; (?![^(]*\))", each):
        segment = re.fullmatch(r"a segment .+ in wide, cut into (.+)", item)
        if segment is None:
            yield item, 1
            continue
        rows = re.findall(r"(\d+) rows? of [^(]+ in \((?:each )?([^)]*)\)", segment[1])
        assert rows, item
        for count, inner in rows:
            for piece in inner.split("; "):
                yield piece, int(count)


@IN_INCHES
def test_cutting_tables_cut_every_piece_once(path: Path) -> None:
    """What the table's rows cut, read back from its text, is what the units need."""
    ctx = told(path)
    for key, plan in ctx.plan.fabrics.items():
        if plan.sheets is not None:
            continue
        cut: Counter[tuple[Fraction, Fraction]] = Counter()
        whole: Counter[Fraction] = Counter()
        shapes = 0
        kept: dict[str, Fraction] = {}  # how high of each leftover is not cut up yet
        for first, each, _, _ in cutting_table(key, ctx).rows:
            strips = re.fullmatch(r"(?:from leftover \w+: )?(\d+) strips?, (.+) high", first) or re.fullmatch(
                r"first, (\d+) lengths? of (.+), cut along the cloth", first
            )
            assert strips, first
            each, _, rest = each.partition("; keep what is left beside ")
            if rest:
                size = re.fullmatch(r"(?:it|them), .+ x (.+) in, as leftover (\w+)", rest)
                assert size, rest
                kept[size[2]] = inches(size[1])
            if own := re.match(r"from leftover (\w+)", first):
                kept[own[1]] -= int(strips[1]) * inches(strips[2])
            if each == "keep whole":
                whole[inches(strips[2])] += int(strips[1])
                continue
            for item, times in items(each):
                item = re.sub(r"^[A-Z]+\d+: ", "", item)
                run = re.fullmatch(
                    r"(\d+) by the (?:template|\d+ degree line).*side by side.* in (?:each of (\d+) lengths of )?.+ in",
                    item,
                )
                if run:
                    shapes += int(run[1]) * int(run[2] or 1) * int(strips[1]) * times
                    continue
                fewer = r"(?: \((?:(\d+)|none) from the last\))?"
                piece = re.fullmatch(r"(\d+) of ([^,]+) x ([^,]+?) in(?:, trimmed to [^,]+ in)?" + fewer, item)
                assert piece, item
                n = int(piece[1]) * int(strips[1]) * times
                if item.endswith("from the last)"):
                    n += int(piece[4] or 0) - int(piece[1])
                cut[inches(piece[2]), inches(piece[3])] += n
        wanted: Counter[tuple[Fraction, Fraction]] = Counter()
        strips_wanted: Counter[Fraction] = Counter()
        for line in plan.lines:
            if line.cut.then == "strip":
                strips_wanted[line.cut.height.fraction] += line.count
            elif line.run is None:
                wanted[line.cut.width.fraction, line.cut.height.fraction] += line.count
        assert cut == wanted and whole == strips_wanted
        assert all(left >= 0 for left in kept.values())
        assert shapes == sum(line.count for line in plan.lines if line.run is not None)


@IN_INCHES
def test_amounts_to_buy_cover_the_strips_of_the_table(path: Path) -> None:
    ctx = told(path)
    for key, plan in ctx.plan.fabrics.items():
        if plan.sheets is not None:
            continue
        length = sum(Fraction(s.height * s.copies, plan.scale) for s in plan.plan.strips if not s.source)
        bought = re.fullmatch(r"(?:(\d+) )?(?:(\d+)/(\d+)|(\d+)) yd", tables.to_buy(ctx, key))
        assert bought, tables.to_buy(ctx, key)
        yards = inches(tables.to_buy(ctx, key).removesuffix(" yd"))
        assert length <= yards * 36 < length + plan.fabric.lot + ctx.pattern.settings.spare.fraction


@IN_INCHES
def test_numbers_are_written_in_one_way(path: Path) -> None:
    for text in texts(made(path)):
        assert not re.search(r"\d\.\d", text), text  # decimals have no place in a booklet in inches
        assert not re.search(r"\d-\d+/\d|[¼½¾⅛⅜⅝⅞]|\d\"", text), text
        assert not re.search(r"\bNone\b|Length\(|\{\{|\{%|  ", text), text
        assert not re.search(r"\b(\d+)/(\d+)\b", text) or all(
            int(a) < int(b) for a, b in re.findall(r"\b(\d+)/(\d+)\b", text)
        ), text


@PATHS
def test_letters_are_those_of_the_fabrics(path: Path) -> None:
    """Each letter in a text stands after its own fabric's name, and every fabric of the tables has one."""
    ctx = told(path)
    own = [s for s in ctx.swatches.values() if not s.of]  # prints go by the letter of their group
    assert len({s.letter: s.title for s in own}) == len(own)
    for s in (s for s in ctx.swatches.values() if s.of):
        assert (s.letter, s.title) == (ctx.swatches[s.of].letter, ctx.swatches[s.of].title)
    ways = [told(path, way=w.name).swatches.values() for w in ctx.pattern.colourways]
    pairs = {(s.title, s.letter) for swatches in (ctx.swatches.values(), *ways) for s in swatches}
    for text in texts(made(path)):
        for before, letter in re.findall(r"([^()]*?) \(([A-Z])\)", text):
            assert any(letter == own and before.endswith(title) for title, own in pairs), text


@PATHS
def test_units_are_made_before_they_are_taken(path: Path) -> None:
    ctx = told(path)
    seen: set[int] = set()
    for _, copies in enumerate(steps_of(ctx), 1):
        for _, count in copies:
            for part in count.making.parts:
                if isinstance(part.what, Making) and part.what.seams:
                    assert id(part.what) in seen, (ctx.title(count.making), ctx.title(part.what))
            seen.add(id(count.making))
            seen |= {id(c.making) for c in ctx.plan.counts if count.making in (c.cut_with, c.waste_of)}


@PATHS
def test_drawing_keys_are_unique_and_sections_have_content(path: Path) -> None:
    booklet = made(path)
    sections = [b for b in blocks(booklet) if isinstance(b, Section)]
    assert len({s.key for s in sections}) == len(sections)
    assert all(s.blocks for s in sections)
    steps = [b.number for b in blocks(booklet) if isinstance(b, NumberedStep)]
    assert steps == sorted(steps) == list(range(1, len(steps) + 1))
