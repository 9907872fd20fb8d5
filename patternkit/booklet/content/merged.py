"""The same step in several sizes: panels of the same data are said once, others for each size or group of sizes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from patternkit.booklet.content import apart
from patternkit.booklet.content.context import Context
from patternkit.booklet.content.diagonal import diagonal_panels, is_diagonal, rows_of, sort_of, title_of
from patternkit.booklet.content.panels import Depicted, Listed, Measures, Panel, Pressing, Remark, text
from patternkit.booklet.content.steps import panels, sewn, title
from patternkit.booklet.phrases import Sentence
from patternkit.document import Block, Bullets, Callout, Figure, NumberedStep, Paragraph, Table
from patternkit.lengths import Length
from patternkit.piecing.batch import Thing
from patternkit.piecing.keys import OwnKey
from patternkit.piecing.making import Making
from patternkit.piecing.names import SASHING_ROW
from patternkit.plan.counts import Count
from patternkit.units import nearest
from patternkit.work.forms import replaced

HALF = 230.0  # points: drawings narrower than this stand side by side
_V = TypeVar("_V")
Copies = list[tuple[Context, Count]]
_StepKey = tuple[Thing | str, int, int]  # the thing, or what stands for rows in all sizes; which of them; which time
_Found = list[tuple[list[Context], Panel]]


def groups(
    each: Sequence[tuple[Context, _V]], of: Callable[[_V], object] = lambda v: v
) -> list[tuple[list[Context], _V]]:
    """Sizes of equal values (or of what is asked `of` them), in the order in which they first come."""
    found: list[tuple[list[Context], _V]] = []
    for c, value in each:
        same = next((sizes for sizes, v in found if of(v) == of(value)), None)
        if same is None:
            found.append(([c], value))
        else:
            same.append(c)
    return found


def named(sizes: Sequence[Context], ctx: Context) -> str:
    """Sizes by their names: ``cot and throw``."""
    return ctx.listed([c.size_name for c in sizes])


def steps_of(ctx: Context) -> list[Copies]:
    """The steps of a booklet in order, each with its count in every size that needs it.

    They run release by release, and in each section by section. A step that only later sizes have comes after the one
    that it follows in them, and so before what is made of it.
    """
    found: dict[_StepKey, Copies] = {}
    order: list[_StepKey] = []
    for c in ctx.sizes or (ctx,):
        rows, at, met = 0, 0, dict[tuple[Thing | str, int], int]()
        for count in c.steps:
            name: tuple[Thing | str, int] = (count.making.thing, 0)
            if is_diagonal(count.making):
                name = (f"{sort_of(count.making)} rows {rows_of(count.making)}", 0)  # all of one unit in one step
            elif count.making.role == "row" and count.making.key != OwnKey(SASHING_ROW):
                rows += 1
                name = ("row", rows)
            met[name] = 1 if is_diagonal(count.making) else met.get(name, 0) + 1
            key = (*name, met[name])
            if key not in found:
                found[key] = []
                order.insert(at, key)
            again = is_diagonal(count.making) and any(other is c for other, _ in found[key])
            found[key].append((c, count))
            if not again:  # diagonal rows and those of sashing are met by turns
                at = order.index(key) + 1
    steps = sorted((found[key] for key in order), key=lambda copies: min(c.reading(x.making) for c, x in copies))
    for number, copies in enumerate(steps, 1):
        for c, count in copies:
            c.numbers[count.making.thing] = number
    return steps


def step(number: int, copies: Copies, ctx: Context) -> NumberedStep:
    """One step of the booklet."""
    for c, _ in copies:
        c.several = any(count.needed > 1 for _, count in copies)
    if is_diagonal(making_of(copies)):
        by_size = [(c, [x for other, x in copies if other is c]) for c in dict.fromkeys(c for c, _ in copies)]
        each = [(c, diagonal_panels(counts, c)) for c, counts in by_size]
        copies = [(c, counts[0]) for c, counts in by_size]
        name = title_of(making_of(copies), ctx)
    else:
        of = apart.panels if apart.is_apart(making_of(copies)) else panels
        each = [(c, of(count, c)) for c, count in copies]
        name = _title(copies, ctx)
    if len(each) == 1 and not ctx.sizes:
        return NumberedStep(number, name, tuple(b for c, listed in each for p in listed for b in p.blocks(c)))
    blocks: list[Block] = []
    if len(copies) < len(ctx.sizes):
        blocks.append(Paragraph(ctx.say("sizes.only", sizes=named([c for c, _ in copies], ctx))))
    return NumberedStep(number, name, (*blocks, *merge(each, ctx)))


def merge(sizes: Sequence[tuple[Context, Sequence[Panel]]], ctx: Context) -> list[Block]:
    """The panels of several sizes, slot by slot: once where they all hold the same, else with the sizes' names."""
    blocks: list[Block] = []
    drawn = _alike_but_pressed([panel for _, listed in sizes for panel in listed], len(sizes))
    for slot in dict.fromkeys(p.slot for _, listed in sizes for p in listed):
        each = [(c, p) for c, listed in sizes for p in listed if p.slot == slot]
        found = groups(each, lambda panel: as_printed(panel.data, ctx))
        if len(found) == 1 and len(each) == len(sizes):
            blocks += each[0][1].blocks(each[0][0])
        else:
            blocks += _merged(slot, found, len(each) == len(sizes), drawn, ctx)
    return blocks


def as_printed(data: object, ctx: Context) -> object:
    """Data with its lengths as they are printed: two that print alike are told alike."""
    return replaced(data, lambda value: nearest(value, ctx.units) if isinstance(value, Length) else None)


def _merged(slot: str, found: _Found, all_sizes: bool, once: bool, ctx: Context) -> Sequence[Block]:
    """One slot in which the sizes differ; `once`: that only pressing differs in the drawings, which words tell."""
    if slot == "take":
        return _taken(found, ctx)
    if all_sizes and all(isinstance(p.data, Pressing) for _, p in found) and _one_place_each([p for _, p in found]):
        return [Paragraph(_pressed(found, ctx))]
    if all_sizes and all(isinstance(p.data, Measures) for _, p in found):
        return [Callout("checkpoint", _measures(found, ctx))]
    if all(isinstance(p.data, Depicted) for _, p in found):
        return _figures(found, all_sizes, once, ctx)
    if all(isinstance(p.data, (Remark, Measures)) for _, p in found):
        rendered = [(sizes, p.blocks(sizes[0])[0]) for sizes, p in found]
        callouts = [(sizes, b) for sizes, b in rendered if isinstance(b, Callout)]
        if len(callouts) == len(found):
            words = (f"{ctx.say('sizes.lead', sizes=named(sizes, ctx))} {b.text}" for sizes, b in callouts)
            return [Callout(callouts[0][1].kind, " ".join(words))]
    return [b for sizes, p in found for b in _led(p.blocks(sizes[0]), ctx.say("sizes.lead", sizes=named(sizes, ctx)))]


def _one_place_each(pressing: Sequence[Panel]) -> bool:
    """Whether the seams that belong together are the same in all sizes, so that only ways differ."""
    places = [tuple(place for place, _ in p.data.ways) for p in pressing if isinstance(p.data, Pressing)]
    return all(each == places[0] for each in places) and None not in places[0]


def _alike_but_pressed(listed: Sequence[Panel], sizes: int) -> bool:
    """Whether the sizes differ in nothing that is drawn but the way seams are pressed, and words tell that."""
    pressing = [p for p in listed if isinstance(p.data, Pressing)]
    bare = [p.data.bare for p in listed if isinstance(p.data, Depicted)]
    one = bool(bare) and bare[0] is not None and all(each == bare[0] for each in bare)
    return one and len(pressing) == sizes and _one_place_each(pressing)


def _figures(found: _Found, all_sizes: bool, once: bool, ctx: Context) -> Sequence[Block]:
    """The drawings of several sizes: one that stands for all, those of all side by side, or one after the other."""
    if all_sizes and once:
        sizes, shown = max(found, key=lambda group: len(group[0]))
        return _captioned(shown.blocks(sizes[0]), ctx.say("sizes.drawn", sizes=named(sizes, ctx)))
    rows = [(sizes, p, p.data) for sizes, p in found if isinstance(p.data, Depicted)]
    if all_sizes and rows[0][2].row is not None and all(data.row == rows[0][2].row for _, _, data in rows):
        (c, *_), shown, least = min(rows, key=lambda group: group[2].parts)
        here = [c for sizes, _, data in rows for c in sizes if data.parts == least.parts]
        others = [c for sizes, _, _ in rows for c in sizes if c not in here]
        names = {"sizes": named(here, ctx), "others": named(others, ctx)}
        return _captioned(shown.blocks(c), ctx.say("sizes.goes_on", **names) if others else "")
    alike = groups([(c, figure) for sizes, p in found for (figure,) in [p.blocks(sizes[0])] for c in sizes])
    figures = [figure for _, figure in alike if isinstance(figure, Figure)]  # those of one proportion are drawn alike
    if all(figure.drawings[0].width < HALF for figure in figures):
        drawings = dict.fromkeys(d for figure in figures for d in figure.drawings)
        return [Figure(tuple(drawings), " / ".join(named(sizes, ctx) for sizes, _ in alike) if figures[1:] else "")]
    return [b for sizes, figure in alike for b in _led([figure], ctx.say("sizes.lead", sizes=named(sizes, ctx)))]


def _pressed(found: _Found, ctx: Context) -> str:
    """How to press in several sizes: each place once, and where the way differs, each way with its sizes."""
    each = [(c, p.data.ways) for sizes, p in found if isinstance(p.data, Pressing) for c in sizes]
    sentences = []
    for i, (place, _) in enumerate(each[0][1]):
        ways = groups([(c, own[i][1]) for c, own in each])
        how: Sentence | str = ways[0][1]
        if len(ways) > 1:
            each_way = [
                ctx.say("sizes.way", how=ctx.phrases.render(way), sizes=named(sizes, ctx)) for sizes, way in ways
            ]
            how = ", ".join(each_way)
        sentences.append(ctx.state("press.each", place=place, how=how))
    return text(sentences, ctx)


def _measures(found: _Found, ctx: Context) -> str:
    """The checkpoints of several sizes in one sentence, and what strips must show after it."""
    each = [(c, p.data) for sizes, p in found if isinstance(p.data, Measures) for c in sizes]
    by = ctx.phrases.by
    numbers = [
        ctx.say(
            "sizes.measure", size=by(*m.raw), finishes=by(*m.finished) if m.finished else "", sizes=named(sizes, ctx)
        )
        for sizes, m in groups(each, lambda m: (m.raw, m.finished))
    ]
    measured = ctx.say("sizes.measures", n=2 if each[0][1].many else 1, each="; ".join(numbers))
    shown = [(sizes, text(m.shows, ctx)) for sizes, m in groups(each, lambda m: m.shows) if m.shows]
    if len(shown) == 1 and len(shown[0][0]) == len(each):
        return f"{measured} {shown[0][1]}"
    return " ".join(
        [measured, *(f"{ctx.say('sizes.lead', sizes=named(sizes, ctx))} {words}" for sizes, words in shown)]
    )


def _taken(found: _Found, ctx: Context) -> list[Block]:
    """What to take in each size, as a table with a line for each; the lead once where it is the same."""
    leads = [p.data.lead for _, p in found if isinstance(p.data, Listed)]
    once = len(leads) == len(found) and all(lead == leads[0] for lead in leads)
    rows = []
    for sizes, panel in found:
        lead, *rest = panel.blocks(sizes[0])
        cells = "; ".join(item for b in rest if isinstance(b, Bullets) for item in b.items)
        rows.append((named(sizes, ctx), cells if once or not isinstance(lead, Paragraph) else f"{lead.text} {cells}"))
    heads = (ctx.phrases.list("sizes.heads")[0], ctx.say("step.take_head"))
    return [*([Paragraph(text(leads[:1], ctx))] if once else []), Table("", heads, tuple(rows), "ll")]


def _captioned(blocks: Sequence[Block], caption: str) -> list[Block]:
    return [Figure(b.drawings, caption) if isinstance(b, Figure) else b for b in blocks]


def _led(blocks: Sequence[Block], lead: str) -> list[Block]:
    """Blocks that hold for some sizes only, with their names before them."""
    first, *rest = blocks
    if isinstance(first, Paragraph):
        return [Paragraph(first.text, lead), *rest]
    if isinstance(first, Callout) and not first.rich:
        return [Callout(first.kind, f"{lead} {first.text}"), *rest]
    if isinstance(first, Figure):
        return [Figure(first.drawings, lead.rstrip(":")), *rest]
    return [Paragraph("", lead), *blocks]


def _title(copies: Copies, ctx: Context) -> str:
    if apart.is_apart(making_of(copies)):
        return apart.title([count for _, count in copies], copies[0][0])
    titles = list(dict.fromkeys(sewn(count.making, c) for c, count in copies))
    if len(titles) > 1:
        return ctx.say("step.rows_title", titles=" / ".join(titles))
    return title([count for _, count in copies], copies[0][0])


def making_of(copies: Copies) -> Making:
    """The making of a step in the first of its sizes."""
    return copies[0][1].making
