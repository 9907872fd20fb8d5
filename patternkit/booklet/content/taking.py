"""What to take for a step: cut pieces and units, for one, for a batch, or for all, as the making order's batches use
them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import gcd, lcm

import msgspec

from patternkit.booklet.content import images, shared_strips
from patternkit.booklet.content.context import Context
from patternkit.booklet.content.panels import Items, Listed, Panel, Remark, Sentences
from patternkit.booklet.content.rounds import first_piece
from patternkit.booklet.content.uses import TRIANGLES
from patternkit.booklet.phrases import Printed, Sentence
from patternkit.piecing.batch import Item, Piece, Thing
from patternkit.piecing.making import Cloth, Making, PieceCut
from patternkit.piecing.names import EDGE_TRIANGLES, Name, What
from patternkit.plan.counts import Count
from patternkit.plan.model import LongStrip
from patternkit.plan.rows import row_numbers
from patternkit.work.model import CutDiagonally

FEW = 3  # rows of a quilt that are listed one by one
SETTING = tuple(EDGE_TRIANGLES)
_Calls = list[tuple[PieceCut, str, Making]]  # a cut, what it is called in a step, and the making whose cut it is


def take_panels(count: Count, ctx: Context) -> list[Panel]:
    """For how many, and the items; where from, if another step makes them."""
    making = count.making
    if images.made_before(count):
        return [Panel("take", Remark((images.taken(count, ctx),)))]
    if shared_strips.made_before(making, ctx):
        return [Panel("take", Remark((shared_strips.taken(making, count.needed, ctx),)))]
    items, several = take(count, ctx)
    if not items:
        return []
    recipe = making.recipe
    if recipe.method.in_strips or (recipe.cuts and all(cut.then == "strip" for cut in recipe.cuts)):
        step, batches, half = ctx.makers[making.thing], count.batches, bool(count.half)
        if shared_strips.is_shared(making, ctx):
            batches, half = shared_strips.sewn_in_all(step), shared_strips.has_half(step, ctx)
        lead = ctx.state("step.take_strips", batches=batches, half=half)
    elif several > 1:
        full = count.yields + recipe.mirrored
        batches = count.batches if several == full else -(-count.needed // several)
        lead = ctx.state("step.take_batch", n=several, batches=batches)
    else:
        lead = ctx.state("step.take_one" if count.needed == 1 and not ctx.several else "step.take")
    return [Panel("take", Listed(lead, items))]


def take(count: Count, ctx: Context) -> tuple[Items, int]:
    """The items of one go, cut pieces first, then units; and how many units that makes."""
    calls = _calls([count.making], ctx)
    items, several = _one_go(count, calls, ctx)
    return _items(items, calls, [count.making], ctx), several


def take_all(counts: Sequence[Count], ctx: Context) -> Items:
    """The items for some whole steps together."""
    found: dict[Item, int] = {}
    for count in counts:
        for item, n in ctx.makers[count.making.thing].takes.items():
            found[item] = found.get(item, 0) + n
    makings = [count.making for count in counts]
    return _items(found, _calls(makings, ctx), makings, ctx)


def _one_go(count: Count, calls: _Calls, ctx: Context) -> tuple[dict[Item, int], int]:
    """What one batch uses, and how many it gives; as many batches at once as make whole squares of the triangles."""
    batch, _ = ctx.makers[count.making.thing].batches[0]
    found: dict[Item, int] = {}
    for use in batch.uses:
        found[use.item] = found.get(use.item, 0) + 1
    several = sum(n for item, n in batch.gives if isinstance(item, Thing) and item.key.plain == count.making.key.plain)
    setting = {ctx.worked.desk.piece(cut) for cut, _, _ in calls if cut.name in SETTING}
    once = 1
    for item, n in found.items():
        if isinstance(item, Piece) and item not in setting:
            whole = TRIANGLES.get(item.form, 1)
            once = lcm(once, whole // gcd(whole, n))
    return {item: n * once for item, n in found.items()}, several * once


# -- in words ----------------------------------------------------------------------------------------------
def _items(items: Mapping[Item, int], calls: _Calls, makings: Sequence[Making], ctx: Context) -> Items:
    """Cut pieces first, in the order of the recipe, then what is sewn already."""
    pieces = {item: n for item, n in items.items() if isinstance(item, Piece)}
    order = [ctx.worked.desk.piece(cut) for cut, _, _ in calls]
    cut = [_piece(x, pieces[x], calls, ctx) for x in dict.fromkeys([*(i for i in order if i in pieces), *pieces])]
    things = {item: n for item, n in items.items() if isinstance(item, Thing)}
    return (*cut, *(((x,), "") for x in _things(things, makings, ctx)))


def _calls(makings: Sequence[Making], ctx: Context) -> _Calls:
    """The cuts of some makings with what each is called: that which stands in the recipe, or the title of the unit that
    is this piece."""
    found: _Calls = []
    for making in makings:
        for cut in making.recipe.cuts:
            names = [cut.name] if cut.name is not None else []
            found.append((cut, first_piece(names, making, ctx), making))
        for part in {id(p.what): p.what for p in making.parts}.values():
            inner = itself(part)
            if isinstance(inner, Making) and inner.is_its_part:
                found += [(cut, ctx.title(inner), inner) for cut in inner.recipe.cuts]
    return found


def called(pieces: Sequence[Piece], making: Making, ctx: Context) -> list[str]:
    """What some cut pieces are called in the step of a making: by name, or by fabric where they have none."""
    calls = _calls([making], ctx)
    found: dict[str, None] = {}
    for piece in pieces:
        names = [name for cut, name, _ in calls if name and ctx.worked.desk.piece(cut) == piece]
        found |= dict.fromkeys(names or [ctx.fabric(piece.fabric)])
    return list(found)


def _piece(item: Piece, n: int, calls: _Calls, ctx: Context) -> tuple[Sentences, str]:
    """A piece under all the names that it has in a step."""
    own = [(cut, name, making) for cut, name, making in calls if ctx.worked.desk.piece(cut) == item]
    if not own:
        cut = PieceCut(item.fabric, item.width, item.height, item.width, item.height, 1)
        then = {"rectangle": "", "strip": "strip"}.get(item.form, item.form)
        own = [(msgspec.structs.replace(cut, then=then), "", ctx.plan.counts[0].making)]
    cut, _, making = own[0]
    names = ctx.listed(list(dict.fromkeys(name for _, name, _ in own if name)))
    whole = 1 if cut.name in SETTING else TRIANGLES.get(cut.then, 1)
    if len({other.name for other, _, _ in own}) > 1:  # no one name tells how it lies
        cut = msgspec.structs.replace(cut, name=None)
    sentences, name = cut_item(msgspec.structs.replace(cut, count=-(-n // whole)), making, ctx, names)
    code = ctx.codes.get(item, "")
    if not code:
        return sentences, name
    values = {"code": code, "last": _shorter(item, making, ctx), "item": sentences[0]}
    return (ctx.state("step.coded", **values), *sentences[1:]), name


def _shorter(item: Piece, making: Making, ctx: Context) -> str:
    """The code of the shorter strips that are taken for the last strip unit in the place of these."""
    if item.form != "strip" or making.thing not in ctx.makers:
        return ""
    taken = ctx.makers[making.thing].takes
    alike = [
        p for p in taken if isinstance(p, Piece) and (p.form, p.fabric, p.height) == ("strip", item.fabric, item.height)
    ]
    return ctx.listed([ctx.codes[p] for p in alike if p.width < item.width and p in ctx.codes])


def _things(things: Mapping[Thing, int], makings: Sequence[Making], ctx: Context) -> list[Sentence]:
    designs = {thing: ctx.designs[thing] for thing in things}
    rows = _rows(makings[0], list(designs.values()), ctx)
    centres = {
        inner.thing
        for making in makings
        for p in making.parts
        if isinstance(p.what, Making) and p.what.role == "centre" and isinstance(inner := itself(p.what), Making)
        if inner is not p.what
    }
    items = list(rows)
    for thing, n in things.items():
        what = designs[thing]
        if rows and what.role == "row":
            continue
        called = ctx.noun(what, n)
        if thing in centres:
            called = ctx.say("step.as_centre", what=called)
        if logs := _log_numbers(makings[0], what):
            called = ctx.say(
                "step.as_log", what=called, logs=ctx.listed([ctx.names.of(Name("log", (n,))) for n in logs])
            )
        items.append(ctx.state("step.item", what=called, size=ctx.size(what), n=n))
    return items


def _log_numbers(making: Making, what: Making) -> list[int]:
    """Which logs of a log cabin a sewn unit is."""
    around = making.recipe.method.around == "logs"
    logs = [p.what.thing if isinstance(p.what, Making) else None for p in making.parts]
    return [n for n, thing in enumerate(logs) if n and thing == what.thing] if around else []


def itself(part: Cloth | Making) -> Cloth | Making:
    """What is taken for a making of one part: that part, unless it is plain cloth."""
    while isinstance(part, Making) and part.is_its_part:
        inner = part.parts[0].what
        if not isinstance(inner, Making):
            break
        part = inner
    return part


def _rows(making: Making, parts: Sequence[Making], ctx: Context) -> list[Sentence]:
    """Many rows, those of one size together: ``rows 1 to 8, each 60 1/2 x 12 1/2 in``; none of a few."""
    sorts: tuple[What, ...] = ("row", "diagonal row", "diagonal sashing row")
    numbers_of = {id(p): next((n for sort in sorts if (n := row_numbers(p, sort))), ()) for p in parts}
    rows = [p for p in parts if numbers_of[id(p)]]
    diagonal = making.kind == "on-point"
    if len(rows) <= FEW or len(rows) < sum(p.role == "row" for p in parts):
        return []
    found: dict[tuple[bool, Printed | str], list[int]] = {}
    for row in rows:
        found.setdefault((row.kind == "diagonal-sashing", ctx.size(row)), []).extend(numbers_of[id(row)])
    items = []
    for (sashing, size), numbers in found.items():
        called = ctx.names.diagonal(sorted(numbers), True) if sashing else ctx.names.rows(sorted(numbers), diagonal)
        items.append(ctx.state("step.item", what=called, size=size, n=len(numbers)))
    return items


def cut_item(cut: PieceCut, making: Making, ctx: Context, name: str) -> tuple[Sentences, str]:
    """One cut of a recipe, counts before sizes; `name` is what the pieces are called."""
    fabric = ctx.fabric(cut.fabric)
    cut = _halved(_as_it_lies(cut, making), ctx)
    if cut.then == "strip":
        return (ctx.state("step.strip_item", n=cut.count, fabric=fabric, h=cut.height),), ""
    if cut.then == "template":
        shape, over, _ = ctx.form(cut)
        if (strip := ctx.bias_strip(shape.name)) is not None:
            values = {"n": cut.count, "fabric": fabric, "w": strip[0], "long": strip[1]}
            return (ctx.state("step.bias_item", **values),), ""
        if angle := ctx.angle(shape.name):
            sides = len(shape.outline)
            values = {"n": cut.count, "fabric": fabric, "angle": angle, "sides": sides, "h": shape.height}
            return (ctx.state("step.ruled_item", **values),), ""
        name = template_name(making, cut, ctx)
        return (ctx.state("step.template_item", n=cut.count, fabric=fabric, name=name, reversed=over),), ""
    if cut.name in SETTING and cut.then:
        values = {"n": cut.count, "name": name, "fabric": fabric, "w": cut.width, "h": cut.height}
        return (ctx.state("step.triangle_item", **values),), ""
    values = {
        "n": cut.count,
        "shape": ctx.shape(cut.width, cut.height, cut.count),
        "fabric": fabric,
        "w": cut.width,
        "h": cut.height,
    }
    if _long_strips(cut, ctx) or (not cut.then and making.recipe.method.long):
        found = [ctx.state("step.joined_item", joined=is_joined(cut, ctx), **values)]
    else:
        found = [ctx.state("step.cut_item", **values)]
    if cut.then in TRIANGLES:
        found.append(ctx.state(f"cutting.{cut.then}", n=cut.count * TRIANGLES[cut.then], leans=cut.leans))
    return tuple(found), name


def _halved(cut: PieceCut, ctx: Context) -> PieceCut:
    """A rectangle to halve as the cutting table and the layout have it, which may be on its side."""
    if cut.then != "half" or cut.width == cut.height:
        return cut
    gives = ctx.worked.desk.piece(cut)
    for action in ctx.order.cutting:
        if isinstance(action, CutDiagonally) and action.gives == gives:
            (w, h), leans = action.lies, action.leans
            return msgspec.structs.replace(cut, width=w, height=h, leans=leans)
    return cut


def _as_it_lies(cut: PieceCut, making: Making) -> PieceCut:
    """A border's strip with its width before its height as it lies in the quilt, be it cut along the cloth."""
    if not cut.along:
        return cut
    for part in making.parts:
        if isinstance(part.what, Cloth) and (part.what.name, part.what.fabric) == (cut.name, cut.fabric):
            xs, ys = zip(*part.outline, strict=True)
            if (max(xs) - min(xs) > max(ys) - min(ys)) != (cut.width > cut.height):
                return msgspec.structs.replace(cut, width=cut.height, height=cut.width)
    return cut


def is_joined(cut: PieceCut, ctx: Context) -> bool:
    """True for a piece that the plan cuts from strips joined end to end."""
    length = max(cut.width, cut.height)
    return any(
        one.joined and any(long.lengths[i][0] == length for i, _ in one.cuts)
        for long in _long_strips(cut, ctx)
        for one in long.joins
    )


def _long_strips(cut: PieceCut, ctx: Context) -> list[LongStrip]:
    """The strips that are joined end to end, or cut up for that, from which a piece comes, if it does."""
    high, length = sorted((cut.width, cut.height))
    return [
        long
        for long in ctx.plan.long_strips
        if not cut.then and (long.fabric, long.height) == (cut.fabric, high) and length in {x for x, *_ in long.lengths}
    ]


def template_name(making: Making, cut: PieceCut, ctx: Context) -> str:
    """What a template is called: its unit, with a letter where the unit has several shapes."""
    return ctx.template_names[making.thing, ctx.form(cut).shape.name]
