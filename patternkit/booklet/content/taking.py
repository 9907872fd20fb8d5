"""What to take for a step: cut pieces and units, for one, for a batch, or for all."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from patternkit.booklet.content import shared_strips
from patternkit.booklet.content.alike import row_numbers
from patternkit.booklet.content.context import Context
from patternkit.booklet.content.rounds import first_piece
from patternkit.document import Block, Bullets, Paragraph
from patternkit.piecing.making import Cloth, Making, PieceCut
from patternkit.plan.counts import Count

FEW = 3  # rows of a quilt that are listed one by one
SETTING = ("side triangle", "corner triangle")


def take_blocks(count: Count, ctx: Context) -> list[Block]:
    """A line that says for how many, and the items."""
    if shared_strips.made_before(count, ctx):
        return [Paragraph(shared_strips.taken(count, ctx))]
    items = take(count, ctx)
    if not items:
        return []
    if count.making.recipe.method.in_strips:
        units = count.shared or count
        lead = ctx.say("step.take_strips", batches=units.batches, half=units.half)
    elif count.yields > 1:
        lead = ctx.say("step.take_batch", n=count.yields, batches=count.batches)
    else:
        lead = ctx.say("step.take_one" if count.needed == 1 and not ctx.several else "step.take")
    return [Paragraph(lead), Bullets(tuple(items))]


def take(count: Count, ctx: Context) -> list[str]:
    """The items for one batch: cut pieces first, then units."""
    making = count.making
    items = [
        cut_item(cut, making, ctx, first_piece(names, making, ctx)) for cut, names in _alike(making.recipe.cuts, ctx)
    ]
    made: dict[int, tuple[Making, int]] = {}
    whole: dict[int, Making] = {}  # what a unit stands for where it is all of a row or of the centre
    for part in making.parts:
        if isinstance(part.what, Making):
            what = _itself(part.what)
            made[id(what)] = (what, made.get(id(what), (what, 0))[1] + 1)
            whole[id(what)] = part.what
    rows = _rows(making, [what for what, _ in made.values()], ctx)
    items += rows
    for what, n in made.values():
        if rows and what.role == "row" and what.seams:
            continue
        if what.seams or len(what.parts) != 1:
            called = ctx.noun(what, n)
            if what is not whole[id(what)] and whole[id(what)].role == "centre":
                called = ctx.say("step.as_centre", what=called)
            items.append(ctx.say("step.item", what=called, size=ctx.measures(what), n=n))
        else:
            items += _plain(what, n, ctx)
    return items


def _itself(making: Making) -> Making:
    """What is taken for a row of one block, a centre of one row, a unit that is another one turned: that one."""
    while not making.seams and len(making.parts) == 1:
        inner = making.parts[0].what
        if not isinstance(inner, Making):
            break
        making = inner
    return making


def _rows(making: Making, parts: Sequence[Making], ctx: Context) -> list[str]:
    """Many rows, those of one size together: ``rows 1 to 8, each 60 1/2 x 12 1/2 in``; none of a few."""
    numbers_of = {id(p): row_numbers(p) or row_numbers(p, "diagonal row") for p in parts}
    rows = [p for p in parts if numbers_of[id(p)]]
    diagonal = making.kind == "on-point"
    if len(rows) <= FEW or len(rows) < sum(p.role == "row" for p in parts):
        return []
    found: dict[str, list[int]] = {}
    for row in rows:
        found.setdefault(ctx.measures(row), []).extend(numbers_of[id(row)])
    return [
        ctx.say("step.item", what=ctx.names.rows(sorted(numbers), diagonal), size=size, n=len(numbers))
        for size, numbers in found.items()
    ]


def _alike(cuts: tuple[PieceCut, ...], ctx: Context) -> list[tuple[PieceCut, str]]:
    """Rectangles that are cut alike one after the other are taken together, under all their names."""
    found: list[tuple[PieceCut, list[str]]] = []
    for cut in cuts:
        name = ctx.names.text(cut.name) if cut.name else ""
        last = found[-1][0] if found else None
        if (
            last is not None
            and not cut.then
            and cut == msgspec.structs.replace(last, name=cut.name, count=cut.count, said=cut.said)
        ):
            found[-1] = (msgspec.structs.replace(last, count=last.count + cut.count), [*found[-1][1], name])
        else:
            found.append((cut, [name]))
    return [(cut, ctx.listed(list(dict.fromkeys(n for n in names if n)))) for cut, names in found]


def _plain(what: Making, n: int, ctx: Context) -> list[str]:
    """A unit that is one plain piece is taken as it was cut."""
    cuts = (msgspec.structs.replace(cut, count=n * cut.count) for cut in what.recipe.cuts)
    return [cut_item(cut, what, ctx, ctx.title(what)) for cut in cuts]


def cut_item(cut: PieceCut, making: Making, ctx: Context, name: str) -> str:
    """One cut of a recipe in words, counts before sizes; `name` is what the pieces are called."""
    fabric = ctx.fabric(cut.fabric)
    cut = _as_it_lies(cut, making, name)
    if cut.then == "strip":
        return ctx.say("step.strip_item", n=cut.count, fabric=fabric, h=cut.height)
    if cut.then == "template":
        return ctx.say("step.template_item", n=cut.count, fabric=fabric, name=template_name(making, cut, ctx))
    if cut.name in SETTING and cut.then:
        return ctx.say("step.triangle_item", n=cut.count, name=name, fabric=fabric, w=cut.width, h=cut.height)
    values = {
        "n": cut.count,
        "shape": ctx.shape(cut.width, cut.height, cut.count),
        "fabric": fabric,
        "w": cut.width,
        "h": cut.height,
    }
    joined = is_joined(cut, ctx)
    if joined or (not cut.then and making.recipe.method.long):
        text = ctx.say("step.joined_item", joined=joined, **values)
    else:
        text = ctx.say("step.cut_item", **values)
    if cut.then in ("half", "quarter"):
        text += ", " + ctx.say(f"cutting.{cut.then}", n=cut.count * (2 if cut.then == "half" else 4), leans=cut.leans)
    return f"{text} ({name})" if name else text


def _as_it_lies(cut: PieceCut, making: Making, name: str) -> PieceCut:
    """A border's strip (`name` is what it is called there) with its width before its height as it lies in the quilt,
    be it cut along the cloth."""
    if not cut.along:
        return cut
    for part in making.parts:
        if isinstance(part.what, Cloth) and (part.what.name, part.what.fabric) == (name, cut.fabric):
            xs, ys = zip(*part.place.outline(part.what.outline), strict=True)
            if (max(xs) - min(xs) > max(ys) - min(ys)) != (cut.width > cut.height):
                return msgspec.structs.replace(cut, width=cut.height, height=cut.width)
    return cut


def is_joined(cut: PieceCut, ctx: Context) -> bool:
    """True for a piece that the plan cuts from strips joined end to end, be it longer than the cloth is wide
    or a shorter one of the same border."""
    high, length = sorted((cut.width, cut.height))
    return not cut.then and any(
        long.fabric == cut.fabric and long.height == high and any(length == one for one, _, _ in long.lengths)
        for long in ctx.plan.long_strips
    )


def template_name(making: Making, cut: PieceCut, ctx: Context) -> str:
    """What a template is called: its unit, with a letter where the unit has several shapes."""
    return ctx.template_names[making.key, cut.shape]
