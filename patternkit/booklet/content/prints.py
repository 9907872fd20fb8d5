"""Groups of prints in words: what is shared out, how many of each print are bought, what is sewn of one print."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping

from patternkit.booklet.content.context import Context
from patternkit.booklet.phrases import Sentence
from patternkit.model.pattern import Fabric
from patternkit.piecing.keys import Key
from patternkit.piecing.making import Cloth, Making
from patternkit.plan.counts import Count
from patternkit.plan.model import FabricPlan, PrintsAlike


def _tally(values: Iterable[int]) -> list[tuple[int, int]]:
    """How often each number comes, the largest number first."""
    return sorted(Counter(values).items(), reverse=True)


# -- what is bought and cut ----------------------------------------------------------------------------------
def prints_shared(plan: FabricPlan, ctx: Context) -> list[str]:
    """Of how many prints a group is cut, how many units come of each, and what any of them will do for."""
    stock = plan.fabric.stock
    size = ctx.phrases.by(stock.width, stock.height) if stock is not None else ""
    count = plan.print_count
    words = [ctx.say("prints.intro", several=count > 1, count=count, each=plan.each, size=size)]
    for group in _groups(plan, ctx):
        for making, given in ctx.dealt.copies.get(group.key, {}).items():
            words.append(_share(making, given, ctx))
    uses = [line for line in plan.lines if _any_print(line.fabric, ctx)]
    if uses:
        names = dict.fromkeys(ctx.title(x) if isinstance(x, Making) else ctx.names.of(x) for u in uses for x in u.use)
        words.append(ctx.say("prints.any", uses=ctx.listed(list(names))))
    return words


def _groups(plan: FabricPlan, ctx: Context) -> list[Fabric]:
    """The group whose cloth it is, and those that are parts of it."""
    return [f for f in ctx.pattern.fabrics.values() if f.group is not None and f.cloth == plan.fabric.key]


def _share(making: Making, given: Mapping[int, int], ctx: Context) -> str:
    """``Each of the 20 mill blocks is of one print: 8 prints give 2, 4 prints give 1.``"""
    count = ctx.count(making)
    roles = max(1, round(sum(given.values()) / count.needed)) if count.needed else 1
    phrase = "prints.gives" if roles == 1 else "prints.comes"
    shares = [ctx.say(phrase, prints=prints, n=n) for n, prints in _tally(given.values())]
    what = ctx.noun(making, count.needed)
    return ctx.say("prints.share", roles=roles, what=what, shares=ctx.listed(shares))


def _any_print(key: str, ctx: Context) -> bool:
    return ctx.pattern.fabrics[key].group is not None


def any_will_do(plan: FabricPlan, ctx: Context) -> bool:
    """Whether some pieces are shared out among prints, so that fewer prints might do."""
    return any(_any_print(line.fabric, ctx) for line in plan.lines) if plan.prints else False


def prints_named(numbers: tuple[int, ...], cloth: str, ctx: Context) -> str:
    """The key of what prints are called by: the fabric that names one of them by its number, else the part of a group
    that they are all of; empty where they are any of the whole group."""
    fabrics = ctx.pattern.fabrics
    for key, fabric in fabrics.items():
        one = fabric.print
        if fabric.cloth == cloth and one is not None and one.number:
            group = fabrics[one.group].group
            if numbers == ((group.before if group is not None else 0) + one.number,):
                return key
    for key, fabric in fabrics.items():
        part = fabric.group if fabric.cut_from == cloth else None
        if part is not None and part.count is not None and set(numbers) <= set(part.numbers):
            return key
    return ""


def _called(numbers: tuple[int, ...], cloth: str, ctx: Context) -> tuple[str, int]:
    """The same in words, and the number of a print that is named by one."""
    key = prints_named(numbers, cloth, ctx)
    if not key:
        return "", 0
    one = ctx.pattern.fabrics[key].print
    return ctx.fabric(key), one.number if one is not None else 0


def prints_alike(alike: PrintsAlike, cloth: str, each: int, what: str, ctx: Context) -> str:
    """The prints that one way of cutting is for, and of how many pieces of each: ``8 prints, 1 fat quarter each``."""
    name, number = _called(alike.numbers, cloth, ctx)
    return ctx.say("prints.sheet", n=len(alike.numbers), name=name, number=number, what=what, each=each)


def prints_bought(plan: FabricPlan, sheets_of: Callable[[int], str], ctx: Context) -> str:
    """What to buy of prints that are sold one by one: ``12 fat quarters, one of each print``. `sheets_of` gives a
    number of sheets in words."""
    what = sheets_of(plan.packs)
    if plan.packs > plan.packs_planned:
        return what
    alike = all(one.sheets == 1 for one in plan.prints)
    found: dict[tuple[int, str], int] = {}
    for one in plan.prints:
        name, number = _called(one.numbers, plan.fabric.key, ctx)
        key = one.sheets, name if number else ""
        found[key] = found.get(key, 0) + len(one.numbers)
    parts = [
        ctx.say("prints.bought", sheets=sheets_of(sheets), n=n, name=name)
        for (sheets, name), n in sorted(found.items(), key=lambda x: (-x[1], x[0]))
    ]
    return ctx.say("prints.buy", what=what, alike=alike, parts=ctx.listed(parts))


# -- steps ---------------------------------------------------------------------------------------------------
def prints_in(count: Count, ctx: Context) -> list[Sentence]:
    """What a step says of prints: that what is sewn in one copy is of the same, how many are sewn of each, and which
    pieces are taken as they come."""
    making, words = count.making, list[Sentence]()
    fabrics = ctx.pattern.fabrics
    dealt = {group: own[making] for group, own in ctx.dealt.copies.items() if making in own}
    for group, given in dealt.items():
        roles = max(1, round(sum(given.values()) / count.needed))
        words.append(ctx.state("prints.keep", roles=roles, group=ctx.fabric(group)))
        if roles > 1 and (units := _units_of_prints(making, group, ctx)):
            words.append(ctx.state("prints.units", units=ctx.listed(units)))
    if count.shares and not dealt:
        pairs = len(count.shares[0].prints) > 1
        shares = [
            ctx.say("prints.of_each", n=n, prints=prints, pairs=pairs)
            for n, prints in _tally(share.needed for share in count.shares)
        ]
        words.append(ctx.state("prints.make", shares=ctx.listed(shares)))
    own = dict.fromkeys(p.what.fabric for p in making.parts if isinstance(p.what, Cloth))
    cut = dict.fromkeys(c.fabric for c in making.recipe.cuts)
    came = [ctx.fabric(key) for key in {**own, **cut} if key in fabrics and fabrics[key].group is not None]
    if came:
        words.append(ctx.state("prints.as_they_come", groups=ctx.listed(came)))
    return words


def _units_of_prints(making: Making, group: str, ctx: Context) -> list[str]:
    """The units sewn into one copy, with which of its prints they are of: ``4 corner units of one print``."""
    found: Counter[Making] = Counter(p.what for p in making.parts if isinstance(p.what, Making))
    names = []
    for inner, n in found.items():
        given = inner.key.arguments if isinstance(inner.key, Key) else ()
        prints = (ctx.pattern.fabrics[key].print for key in given if key in ctx.pattern.fabrics)
        roles = [one.role for one in prints if one is not None and one.group == group and one.role]
        if roles:
            which = ctx.listed([ctx.say("prints.which", role=role) for role in roles])
            names.append(ctx.say("prints.unit", what=ctx.noun(inner, n), which=which))
    return names


def segments_of_prints(count: Count, ctx: Context) -> Sentence:
    """How many segments are cut from the strip units of each print: no more than are needed of it."""
    step = ctx.makers[count.making.thing]
    cuts = [(sum(n for _, n in batch.gives), times) for batch, times in step.batches]
    ways = [ctx.say("prints.from_strips", n=n, units=times) for n, times in cuts]
    return ctx.state("prints.segments", ways=ctx.listed(ways), needed=count.needed)
