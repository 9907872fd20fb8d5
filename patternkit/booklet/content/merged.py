"""The same step in several sizes: what is alike is said once, what differs once for each size or group of sizes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.diagonal import diagonal_told, is_diagonal
from patternkit.booklet.content.steps import PartRun, Told, sewn, step_blocks, title
from patternkit.document import Block, Bullets, Callout, Figure, NumberedStep, Paragraph, Table
from patternkit.piecing.batch import Thing
from patternkit.piecing.keys import OwnKey
from patternkit.piecing.making import Making
from patternkit.piecing.names import SASHING_ROW
from patternkit.plan.counts import Count

HALF = 230.0  # points: drawings narrower than this stand side by side
_V = TypeVar("_V")
Copies = list[tuple[Context, Count]]
_StepKey = tuple[Thing | str, int, int]  # the thing, or what stands for rows in all sizes; which of them; which time


def groups(told: Sequence[tuple[str, _V]]) -> list[tuple[list[str], _V]]:
    """Names that go with equal values, in the order in which they first come."""
    found: list[tuple[list[str], _V]] = []
    for name, value in told:
        same = next((names for names, v in found if v == value), None)
        if same is None:
            found.append(([name], value))
        else:
            same.append(name)
    return found


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
                name = ("diagonal rows", 0)  # all in one step
            elif count.making.role == "row" and count.making.key != OwnKey(SASHING_ROW):
                rows += 1
                name = ("row", rows)
            met[name] = 1 if is_diagonal(count.making) else met.get(name, 0) + 1
            key = (*name, met[name])
            if key not in found:
                found[key] = []
                order.insert(at, key)
            found[key].append((c, count))
            at = order.index(key) + 1
    steps = sorted((found[key] for key in order), key=lambda copies: min(c.reading(x.making) for c, x in copies))
    for number, copies in enumerate(steps, 1):
        for c, count in copies:
            c.numbers[id(count.making)] = number
    return steps


def step(number: int, copies: Copies, ctx: Context) -> NumberedStep:
    """One step of the booklet."""
    for c, _ in copies:
        c.several = any(count.needed > 1 for _, count in copies)
    if is_diagonal(making_of(copies)):
        by_size = [(c, [x for other, x in copies if other is c]) for c in dict.fromkeys(c for c, _ in copies)]
        told = [(c, [Told(*t) for t in diagonal_told(counts, c)]) for c, counts in by_size]
        copies = [(c, counts[0]) for c, counts in by_size]
        name = ctx.say("diagonal.title")
    else:
        told = [(c, step_blocks(count, c)) for c, count in copies]
        name = _title(copies, ctx)
    if len(told) == 1 and not ctx.sizes:
        return NumberedStep(number, name, tuple(b for t in told[0][1] for b in t.blocks))
    blocks: list[Block] = []
    if len(copies) < len(ctx.sizes):
        blocks.append(Paragraph(ctx.say("sizes.only", sizes=ctx.listed([c.size_name for c, _ in copies]))))
    return NumberedStep(number, name, (*blocks, *together(told, ctx)))


def together(told: Sequence[tuple[Context, Sequence[Told]]], ctx: Context) -> list[Block]:
    """What several sizes say, slot by slot: once where they all say the same, otherwise with their names before it."""
    blocks: list[Block] = []
    for slot in dict.fromkeys(t.slot for _, listed in told for t in listed):
        each = [(c.size_name, t) for c, listed in told for t in listed if t.slot == slot]
        found = groups([(name, t.blocks) for name, t in each])
        if len(found) == 1 and len(found[0][0]) == len(told):
            blocks += found[0][1]
        elif len(each) == len(told) and slot.startswith("press") and _one_way_each(each):
            blocks.append(Paragraph(_pressed(each, ctx)))
        elif len(each) == len(told) and slot.startswith("figure") and _alike_but_pressed(told):
            names, shown = max(found, key=lambda group: len(group[0]))
            blocks += _captioned(shown, ctx.say("sizes.drawn", sizes=ctx.listed(names)))
        elif len(each) == len(told) and slot.startswith("figure") and _one_run([t.run for _, t in each]):
            shortest = min((t.run for _, t in each if t.run), key=lambda run: len(run[0]))
            shown = next(t.blocks for _, t in each if t.run == shortest)
            drawn = [name for name, t in each if t.run == shortest]
            others = [name for name, _ in each if name not in drawn]
            said = "sizes.goes_on" if others else "sizes.drawn_for"
            blocks += _captioned(shown, ctx.say(said, sizes=ctx.listed(drawn), others=ctx.listed(others)))
        elif all(len(b) == 1 and isinstance(b[0], Figure) and b[0].drawings[0].width < HALF for _, b in found):
            drawings = tuple(dict.fromkeys(d for _, b in found for d in b[0].drawings))  # type: ignore[union-attr]
            blocks.append(Figure(drawings, " / ".join(ctx.listed(names) for names, _ in found)))
        elif slot.startswith("take"):
            blocks += _taken(found, ctx)
        elif len(each) == len(told) and all(t.measured is not None for _, t in each):
            blocks.append(Callout("checkpoint", _measures(each, ctx)))
        elif all(len(b) == 1 and isinstance(b[0], Callout) and not b[0].rich for _, b in found):
            blocks.append(_in_one(found, ctx))
        else:
            for names, (first, *rest) in found:
                blocks += [*_led(first, ctx.say("sizes.lead", sizes=ctx.listed(names))), *rest]
    return blocks


def _one_way_each(each: Sequence[tuple[str, Told]]) -> bool:
    """Whether the seams that belong together are the same in all sizes, so that only ways differ."""
    places = {tuple(place for place, _ in t.press) for _, t in each}
    return len(places) == 1 and all(place for place in next(iter(places)))


def _alike_but_pressed(told: Sequence[tuple[Context, Sequence[Told]]]) -> bool:
    """Whether the sizes differ in nothing that is drawn but the way seams are pressed, and words tell that."""
    press = [(c.size_name, t) for c, listed in told for t in listed if t.press]
    bare = [t.bare for _, listed in told for t in listed if t.slot.startswith("figure")]
    return len(press) == len(told) and _one_way_each(press) and bare[0] is not None and all(b == bare[0] for b in bare)


def _one_run(runs: Sequence[PartRun | None]) -> bool:
    """Whether the longer rows go on as the shortest begins, and that one shows all that comes again."""
    told = sorted((run for run in runs if run), key=lambda run: len(run[0]))
    if len(told) < len(runs) or not told:
        return False
    return (
        any(
            all(_repeats(parts, n) and _repeats(ways, n) for parts, ways in told)
            and len({(parts[:n], ways[:n]) for parts, ways in told}) == 1
            for n in range(1, len(told[0][0]))
        )
        or len(set(told)) == 1
    )


def _repeats(items: Sequence[object], n: int) -> bool:
    return all(items[i] == items[i - n] for i in range(n, len(items)))


def _pressed(each: Sequence[tuple[str, Told]], ctx: Context) -> str:
    """How to press in several sizes: each place once, and where the way differs, each way with its sizes."""
    told = []
    for i, (place, _) in enumerate(each[0][1].press):
        ways = groups([(name, t.press[i][1]) for name, t in each])
        if len(ways) == 1:
            how = ways[0][1]
        else:
            how = ", ".join(ctx.say("sizes.way", how=way, sizes=ctx.listed(names)) for names, way in ways)
        told.append(ctx.say("press.each", place=place, how=how))
    return " ".join(told)


def _measures(each: Sequence[tuple[str, Told]], ctx: Context) -> str:
    """The checkpoints of several sizes in one sentence, and what strips must show after it."""
    told = [(name, t.measured) for name, t in each if t.measured is not None]
    sizes = [
        ctx.say("sizes.measure", size=size, finishes=finishes, sizes=ctx.listed(names))
        for names, (size, finishes) in groups([(name, (m.size, m.finishes)) for name, m in told])
    ]
    text = ctx.say("sizes.measures", n=2 if told[0][1].many else 1, each="; ".join(sizes))
    shown = [(names, shows) for names, shows in groups([(name, m.shows) for name, m in told]) if shows]
    if len(shown) == 1 and len(shown[0][0]) == len(told):
        return f"{text} {shown[0][1]}"
    leads = [f"{ctx.say('sizes.lead', sizes=ctx.listed(names))} {shows}" for names, shows in shown]
    return " ".join([text, *leads])


def _captioned(blocks: Sequence[Block], caption: str) -> list[Block]:
    return [Figure(b.drawings, caption) if isinstance(b, Figure) else b for b in blocks]


_Found = Sequence[tuple[list[str], tuple[Block, ...]]]


def _taken(found: _Found, ctx: Context) -> list[Block]:
    """What to take in each size, as a table with a line for each; the lead once where it is the same."""
    leads = [b[0].text for _, b in found if isinstance(b[0], Paragraph)]
    once = len(set(leads)) == 1 and len(leads) == len(found)
    rows = []
    for names, told in found:
        items = [item for b in told if isinstance(b, Bullets) for item in b.items]
        lead = [] if once else [b.text for b in told if isinstance(b, Paragraph)]
        rows.append((ctx.listed(names), " ".join([*lead, "; ".join(items)])))
    heads = (ctx.phrases.list("sizes.heads")[0], ctx.say("step.take_head"))
    return [*([Paragraph(leads[0])] if once else []), Table("", heads, tuple(rows), "ll")]


def _in_one(found: _Found, ctx: Context) -> Callout:
    """The callouts of several sizes in one, each after its names."""
    kinds = [b[0].kind for _, b in found if isinstance(b[0], Callout)]
    told = [
        f"{ctx.say('sizes.lead', sizes=ctx.listed(names))} {b[0].text}"
        for names, b in found
        if isinstance(b[0], Callout)
    ]
    return Callout(kinds[0], " ".join(told))


def _title(copies: Copies, ctx: Context) -> str:
    titles = groups([(c.size_name, sewn(count.making, c)) for c, count in copies])
    if len(titles) > 1:
        names = list(dict.fromkeys(t for _, t in titles))
        return ctx.say("step.rows_title", titles=" / ".join(names))
    return title([count for _, count in copies], copies[0][0])


def _led(block: Block, lead: str) -> list[Block]:
    """A block that holds for some sizes only, with their names before it."""
    if isinstance(block, Paragraph):
        return [Paragraph(block.text, lead)]
    if isinstance(block, Callout) and not block.rich:
        return [Callout(block.kind, f"{lead} {block.text}")]
    if isinstance(block, Figure):
        return [Figure(block.drawings, lead.rstrip(":"))]
    return [Paragraph("", lead), block]


def making_of(copies: Copies) -> Making:
    """The making of a step in the first of its sizes."""
    return copies[0][1].making


__all__ = ["Copies", "Told", "groups", "making_of", "step", "steps_of", "together"]
