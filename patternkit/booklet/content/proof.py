"""The proof sheet, for the writer and her technical editor: every number, where it comes from and how it was
reached."""

from __future__ import annotations

import re
from fractions import Fraction

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.taking import SETTING, is_joined
from patternkit.booklet.phrases import Listing
from patternkit.document import Block, Booklet, Paragraph, Section, Table
from patternkit.lengths import Length
from patternkit.model.pattern import Fabric, Settings
from patternkit.piecing.making import Making, PieceCut
from patternkit.piecing.names import END_TRIANGLE, SIDE_TRIANGLE, Name
from patternkit.piecing.unknowns import Unknown, of_centre, of_unit, of_whole
from patternkit.plan.counts import Count
from patternkit.plan.finishing import measure
from patternkit.sizes.affine import Affine
from patternkit.sizes.causes import Cause, Var
from patternkit.sizes.system import System
from patternkit.sizes.walk import walk
from patternkit.source import NOWHERE, Span
from patternkit.units import decimal


def proof_sheet(ctx: Context) -> Booklet:
    """The whole sheet as a booklet of tables."""
    settings = ctx.pattern.settings
    say = ctx.say
    inner = (
        ("stated", _stated(ctx)),
        ("sizes", _sizes(ctx)),
        ("counts", _counts(ctx)),
        ("cuts", _cuts(ctx)),
        ("cloth", _cloth(ctx)),
        ("finish", _finish(ctx)),
        ("pressing", _pressing(ctx)),
    )
    sections = tuple(Section(f"proof-{key}", say(f"proof.{key}"), tuple(blocks)) for key, blocks in inner if blocks)
    return Booklet(
        say("proof.title", title=settings.title),
        settings.by,
        say("proof.intro", file=re.split(r"[/\\]", ctx.project.name)[-1]),
        None,
        (),
        sections,
        (),
        ctx.phrases.language,
        settings.copyright,
        settings.contact,
        ctx.phrases.table("words"),
    )


def line_of(span: Span | None, ctx: Context) -> str:
    """The line a span starts in; with its file's name where that is an included one."""
    place = ctx.project.read.real(span) if span is not None else NOWHERE
    source = ctx.project.sources.get(place.file)
    if source is None:
        return ctx.say("proof.nothing")
    line = str(source.place(place.start)[0])
    return line if place.file == ctx.project.name else f"{place.file}:{line}"


def _stated(ctx: Context) -> list[Block]:
    """Every value that the writer typed and that sizes are worked out from, and every claim."""
    rows: list[tuple[str, str, str]] = []
    for name, value in ctx.pattern.parameters.items():
        rows.append((line_of(ctx.pattern.spans.get(name), ctx), name, ctx.phrases.length(value)))
    seen: set[tuple[Span, str]] = set()
    for equation in ctx.project.sizing.system.equations:
        cause = equation.cause
        if cause.stated and (cause.span, cause.text) not in seen:
            seen.add((cause.span, cause.text))
            rows.append((line_of(cause.span, ctx), cause.text, _value(equation.right, ctx)))
    for unit in ctx.pattern.units.values():
        if unit.make is not None:
            images = "" if unit.make_mirrored is None else f" + {unit.make_mirrored}"
            rows.append((line_of(unit.make_span, ctx), f"make {unit.name}", f"{unit.make}{images}"))
    for fabric in ctx.pattern.fabrics.values():
        if fabric.buy is not None:
            rows.append(
                (
                    line_of(fabric.buy_span, ctx),
                    f"buy {fabric.title}",
                    ctx.phrases.yardage(fabric.buy.value(ctx.pattern.parameters)),
                )
            )
    rows.sort(key=lambda r: (not r[0].isdigit(), int(r[0]) if r[0].isdigit() else 0))
    return [Table("", ctx.phrases.list("proof.stated_heads"), tuple(rows), "rll")] if rows else []


def _value(value: Affine, ctx: Context) -> str:
    length = ctx.phrases.length(value.value(ctx.pattern.parameters))
    return length if value.is_constant else f"{ctx.project.sizing.render(value)} = {length}"


# -- sizes ---------------------------------------------------------------------------------------------------
def _sizes(ctx: Context) -> list[Block]:
    rows, seen = [], set()
    for count in ctx.plan.counts:
        making = count.making
        for var, side, size in zip(_sizes_of(making, ctx), "wh", (making.width, making.height), strict=False):
            if var in seen:
                continue
            seen.add(var)
            rows.append(
                (
                    ctx.title(making),
                    ctx.say(f"words.side_{side}"),
                    ctx.phrases.length(size),
                    ctx.phrases.length(size + ctx.seam * 2),
                    "; ".join([*chain(var, ctx), *_as_sewn(var, ctx)]),
                )
            )
    return [Table("", ctx.phrases.list("proof.sizes_heads"), tuple(rows), "llrrl")] if rows else []


def _sizes_of(making: Making, ctx: Context) -> tuple[Unknown, ...]:
    """A making's width and height in the equations; nothing for rows and strips, which have none of their own."""
    if making.role in ("unit", "block"):
        key = making.key.of or str(making.key)  # the middle of a unit with borders is a unit of its own there
        return (of_unit(key, "w"), of_unit(key, "h")) if key in ctx.pattern.units else ()
    if making.role == "centre":
        return of_centre("w"), of_centre("h")
    whole = making.role in ("quilt", "border") and making.recipe.method.around == "borders"
    return (of_whole("w"), of_whole("h")) if whole else ()


def _as_sewn(var: Unknown, ctx: Context) -> list[str]:
    """That a size is not the one that was solved, where it is rounded to the ruler."""
    solved, env = ctx.project.solution.value(var), ctx.pattern.parameters
    sewn = ctx.project.sewn.value(var)
    if solved is None or sewn is None or solved.value(env) == sewn.value(env):
        return []
    return [ctx.say("proof.as_sewn", size=sewn.value(env))]


def chain(var: Var, ctx: Context) -> list[str]:
    """The statements that give a size, in an order that can be followed, each with the size it gives.

    The size is claimed to be one inch more than it is: the contradiction that this makes consists of exactly the
    statements that settle it.
    """
    solution = ctx.project.solution
    value = solution.value(var)
    if value is None:
        return []
    system = System()
    system.equations = list(ctx.project.sizing.system.equations)
    number = system.add([(var, 1)], value + Affine(1), Cause(NOWHERE, "", True, False, True))
    solved = system.solve()
    # whichever equation closes the circle, ask for the conflict that the one added is part of
    found = next((c for c in solved.conflicts if any(p.equation == number for p in c.parts)), None)
    if found is None:
        return []
    steps = walk(found, ctx.pattern.parameters, {v: n for v, n in ctx.project.sizing.names.items()})
    rows = []
    for part, gives in zip((*steps.parts, steps.closing), (*steps.gives, None), strict=True):
        if part.equation == number:
            continue
        line = line_of(part.cause.span, ctx)
        text = part.cause.text + (f" ({ctx.say('proof.line', n=line)})" if line.isdigit() else "")
        known = steps.values.get(gives) if gives is not None else None
        rows.append(
            text
            + (
                f" = {ctx.phrases.length(known.const)}"
                if known is not None and known.is_constant and not part.cause.stated
                else ""
            )
        )
    return rows


# -- counts and cuts -----------------------------------------------------------------------------------------
def _counts(ctx: Context) -> list[Block]:
    rows = []
    for count in ctx.plan.counts:
        parts = []
        for outer in ctx.plan.counts:
            n = sum(p.what is count.making for p in outer.making.parts)
            if n:
                parts.append(ctx.say("proof.count_part", n=n, m=outer.needed, title=ctx.title(outer.making)))
        rows.append(
            (
                ctx.title(count.making),
                str(count.needed),
                (" + ".join(parts) or ctx.say("proof.count_root")) + _shared(count, ctx),
                str(count.yields) if count.shared is None else ctx.say("proof.nothing"),
                str(count.batches),
                str(count.spare),
            )
        )
    return [Table("", ctx.phrases.list("proof.counts_heads"), tuple(rows), "lrlrrr")]


def _shared(count: Count, ctx: Context) -> str:
    """How strip units made for several units are cut: so many of them times so many segments of each unit."""
    if count.shared is None:
        return ""
    if not count.batches:
        return "; " + ctx.say("proof.shared_with", title=ctx.title(count.shared.makings[0]))
    ways = []
    for way in count.shared.ways:
        of = zip(way.numbers, count.shared.makings, strict=True)
        items = " + ".join(f"{n} {ctx.title(m)}" for n, m in of if n)
        ways.append(ctx.say("proof.shared_way", times=way.times, half=way.half, items=items))
    return "; " + ctx.say("proof.shared", ways=" + ".join(ways))


def _cuts(ctx: Context) -> list[Block]:
    rows = []
    for count in ctx.plan.counts:
        for cut, (wide, high) in _with_exact(count.making, ctx):
            exact = f"{_exact(wide, ctx)} x {_exact(high, ctx)}"
            size = ctx.phrases.by(cut.width, cut.height)
            more = max(cut.width - wide, cut.height - high)
            if cut.then == "strip":
                exact, size, more = _exact(high, ctx), ctx.phrases.length(cut.height), cut.height - high
            n = cut.count * count.whole
            how = formula(count, cut.name, cut.then, ctx, joined=is_joined(cut, ctx))
            if cut.stated is not None:
                how += f" ({ctx.say('proof.cut_said', line=line_of(cut.stated, ctx))})"
            name = f" ({ctx.names.of(cut.name)})" if cut.name is not None else ""
            rows.append(
                (
                    ctx.fabric(cut.fabric),
                    ctx.title(count.making) + name,
                    exact,
                    size,
                    _exact(more, ctx),
                    ctx.say("proof.shared_with", title=ctx.title(count.shared.makings[0]))
                    if count.shared is not None and not count.batches
                    else ctx.say("proof.cut_count", each=cut.count, batches=count.whole, n=n)
                    + (f" + {ctx.say('proof.half', n=cut.count)}" if count.half else ""),
                    how,
                )
            )
    return [Table("", ctx.phrases.list("proof.cuts_heads"), tuple(rows), "llrrrll")]


def _with_exact(making: Making, ctx: Context) -> list[tuple[PieceCut, tuple[Length, Length]]]:
    """The cuts of a making, each with the exact raw size from which it was rounded: that of the design, where its unit
    is cut from as many pieces there."""
    cuts = making.recipe.cuts
    drawn = ctx.project.designed.get(making.key.of)
    exact = drawn.recipe.cuts if drawn is not None else cuts
    if [(c.fabric, c.name, c.then) for c in exact] != [(c.fabric, c.name, c.then) for c in cuts]:
        exact = cuts
    return [(c, (e.exact_width, e.exact_height)) for c, e in zip(cuts, exact, strict=True)]


def _exact(value: Length, ctx: Context) -> str:
    """A length as exactly as decimals tell, in the units printed: four places."""
    own = value / ctx.units.inches
    return ctx.phrases.mark(decimal(own.round_to(Fraction(1, 10000)), 4))


def formula(count: Count, name: Name | None, then: str, ctx: Context, joined: bool = False) -> str:
    """How the method reckons a cut, in words."""
    method = count.making.recipe.method
    if name in SETTING:
        key = {SIDE_TRIANGLE: "setting_side", END_TRIANGLE: "setting_end"}.get(name, "setting_corner")
    elif method.formula:
        key = method.formula
    elif then in ("template", "strip"):
        key = then
    elif then == "half" and name is not None and name.plain == Name("corner"):
        key = "half-rectangle-pairs"
    else:
        key = "joined" if joined else "rectangle"
    return ctx.say(f"formula.{key}")


# -- cloth, finishing, pressing ------------------------------------------------------------------------------
def _cloth(ctx: Context) -> list[Block]:

    def extra(cloth: Fabric | Settings) -> str:
        return f"{ctx.phrases.length(cloth.spare)}, {ctx.phrases.mark(decimal(cloth.shrinkage))} %"

    rows = [
        (
            ctx.fabric(key),
            ctx.phrases.length(f.fabric.usable_width),
            ctx.phrases.length(f.used),
            extra(f.fabric),
            ctx.phrases.yardage(f.buy),
            ctx.phrases.yardage(f.least),
        )
        for key, f in ctx.plan.fabrics.items()
    ]
    back, bought = ctx.plan.backing, ctx.plan.backing_buy
    if back is not None and bought:
        cloth = ctx.pattern.fabrics[back.fabric] if back.fabric else ctx.pattern.settings
        name = ctx.say("buy.backing_of", fabric=ctx.fabric(back.fabric)) if back.fabric else ctx.say("buy.backing")
        whole = ctx.phrases.yardage(bought)
        taken = ctx.phrases.length(back.length * back.panels)
        rows.append((name, ctx.phrases.length(back.usable), taken, extra(cloth), whole, whole))
    if not rows:
        return []
    return [
        Paragraph(ctx.say("proof.cloth_note")),
        Table("", ctx.phrases.list("proof.cloth_heads"), tuple(rows), "lrrlrr"),
    ]


def _finish(ctx: Context) -> list[Block]:
    top, rows = ctx.top, []
    if top is None:
        return []
    if ctx.plan.binding is not None:
        b = ctx.plan.binding
        ends = [ctx.state("cutting.long_end", n=n, length=x) for one in b.joins for x, n in one.ends]
        way = "binding_bias" if b.square is not None else "binding_slanted" if b.bias else "binding"
        values = {
            "w": top.width,
            "h": top.height,
            "radius": ctx.plan.rounded,
            "around": b.perimeter,
            "allowance": b.allowance,
            "total": b.total,
            "n": b.strips,
            "usable": b.usable,
            "width": b.width,
            "join": b.join,
            "square": b.square,
            "rounds": b.rounds,
            "ends": Listing(tuple(ends)) if ends else "",
            "gives": Length(b.gives.floor_to(ctx.pattern.settings.ruler)),
        }
        rows.append((ctx.say("names.binding"), ctx.phrases.render(ctx.state(f"proof.{way}", **values))))
    if ctx.plan.backing is not None:
        k, (wide, high) = ctx.plan.backing, measure(top, ctx.pattern)
        rows.append(
            (
                ctx.say("buy.backing"),
                ctx.say("proof.backing", w=wide, h=high, over=k.overage, n=k.panels, usable=k.usable),
            )
        )
    return [Table("", ctx.phrases.list("proof.finish_heads"), tuple(rows), "ll")] if rows else []


def _pressing(ctx: Context) -> list[Block]:
    plan = ctx.project.pressing
    if plan is None:
        return []
    return [Paragraph(ctx.say("proof.pressing_note", nested=plan.nested, total=plan.total, proved=plan.proved_joints))]
