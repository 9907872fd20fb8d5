"""The whole booklet from a project: sections in the order a maker needs them."""

from __future__ import annotations

from typing import Any, Mapping, Sequence

from patternkit.booklet.content import tables
from patternkit.booklet.content.context import Context, section_of, units_for
from patternkit.booklet.content.figures import slug
from patternkit.booklet.content.finishing import finishing_blocks
from patternkit.booklet.content.prose import prose_blocks
from patternkit.booklet.content.steps import unit_step
from patternkit.booklet.document import Block, Booklet, Bullets, Callout, Figure, Paragraph, Section, Step, Table
from patternkit.booklet.drawing.making import draw_making
from patternkit.booklet.phrases import Phrases, catalogue
from patternkit.lengths import Length
from patternkit.plan.counts import Count
from patternkit.project import Project

def context(project: Project, *, language: str = "", units: str = "", house: Mapping[str, Any] | None = None,
            solver: bool = True, sisters: Sequence[Project] = ()) -> Context:
    """Plan a project and make it ready to be told; `sisters` are the same pattern in the rows of its sizes table."""
    wanted = language or project.pattern.settings.language
    words = catalogue(wanted if wanted in ("en", "de") else "en")
    phrases = Phrases(wanted, units_for(project.pattern, units, words), house)
    plan, _ = project.plan(solver=solver, pressed=True)
    others = tuple(Context(p, p.plan(solver=solver, pressed=True)[0], p.pressed_top, phrases) for p in sisters)
    return Context(project, plan, project.pressed_top, phrases, others)


def booklet(ctx: Context, today: str = "") -> Booklet:
    """Put the booklet together."""
    settings = ctx.pattern.settings
    sections = [_glance(ctx), _before(ctx), _cutting(ctx)]
    steps, numbers = _step_sections(ctx)
    sections += steps
    finish = finishing_blocks(ctx)
    if finish:
        sections.append(Section("finishing", ctx.say("heads.finishing"), tuple(finish)))
    if ctx.steps:
        sections.append(Section("checkpoints", ctx.say("heads.checkpoints"),
                                (Paragraph(ctx.say("check.intro")), tables.checkpoints(ctx, numbers))))
    sections.append(_back(ctx))
    cover = None
    if ctx.top is not None:
        cover = draw_making(ctx.top, ctx.swatches, ctx.look, key="cover")
    return Booklet(settings.title, settings.by, _subtitle(ctx), cover, _facts(ctx),
                   tuple(s for s in sections if s.blocks), (), ctx.phrases.language, settings.copyright, settings.contact,
                   ctx.phrases.table("words"))


def _subtitle(ctx: Context) -> str:
    parts = [ctx.size_name] if ctx.pattern.size else []
    way = next((w for w in ctx.pattern.colourways if w.name == ctx.pattern.colourway), None)
    if way is not None:
        parts.append(way.title)
    return ", ".join(parts)


def _facts(ctx: Context) -> tuple[tuple[str, str], ...]:
    settings, top = ctx.pattern.settings, ctx.top
    facts: list[tuple[str, str]] = []
    if top is not None:
        w, h = ctx.raw(top)
        facts.append((ctx.say("facts.finished"), ctx.phrases.by(top.width, top.height)))
        facts.append((ctx.say("facts.top"), ctx.phrases.by(w, h)))
    blocks = [c for c in ctx.plan.counts if c.making.role == "block"]
    if blocks:
        told = [f"{c.needed} {c.making.title} ({ctx.phrases.by(c.making.width, c.making.height)})" for c in blocks]
        facts.append((ctx.say("facts.blocks"), ctx.listed(told)))
    facts.append((ctx.say("facts.seam"), ctx.phrases.length(settings.seam)))
    for key in ("skill", "number", "edition"):
        if getattr(settings, key):
            facts.append((ctx.say(f"facts.{key}"), getattr(settings, key)))
    if ctx.sizes:
        facts.append((ctx.say("facts.sizes"), ctx.listed([c.size_name for c in ctx.sizes])))
    return tuple(facts)


def _glance(ctx: Context) -> Section:
    settings = ctx.pattern.settings
    blocks: list[Block] = [*prose_blocks(settings.prose, ("intro", "note"), ctx)]
    if ctx.sizes:
        blocks.append(tables.sizes(ctx))
    blocks += tables.buying(ctx)
    tools = settings.tools or ctx.phrases.list("tools.usual")
    blocks.append(Section("tools", ctx.say("heads.tools"), (Bullets(tools),)))
    return Section("buy", ctx.say("heads.buy"), tuple(blocks))


def _before(ctx: Context) -> Section:
    settings = ctx.pattern.settings
    seam = settings.seam
    strip = seam * 6
    say = ctx.say
    blocks: list[Block] = [
        *prose_blocks(settings.prose, ("before", "tip", "caution"), ctx),
        Paragraph(say("before.seam", seam=seam, strip=strip, three=strip * 3 - seam * 4, middle=strip - seam * 2)),
        Paragraph(say("before.width", usable=settings.usable_width)), Paragraph(say("before.sizes")),
        Paragraph(say("before.letters")), Paragraph(say("before.press")),
        Callout("caution", " ".join((say("before.safety_blade"), say("before.safety_iron"), say("before.safety_makers")))),
    ]
    return Section("before", say("heads.before"), tuple(blocks))


def _cutting(ctx: Context) -> Section:
    blocks: list[Block] = [Paragraph(ctx.say("cutting.intro"))]
    if ctx.sizes:
        blocks.append(tables.pieces_by_size(ctx))
        for c in ctx.sizes:
            inner = tuple(_fabric_cuts(c, key) for key in c.plan.fabrics)
            blocks.append(Section(f"cutting-{slug(c.size_name)}", f"{ctx.say('heads.cutting')}: {c.size_name}", inner))
    else:
        for key in ctx.plan.fabrics:
            blocks.append(_fabric_cuts(ctx, key))
    return Section("cutting", ctx.say("heads.cutting"), tuple(blocks), new_page=True)


def _fabric_cuts(ctx: Context, key: str) -> Section:
    plan = ctx.plan.fabrics[key]
    bound = ctx.say("buy.proved") if plan.buy == plan.least else ctx.say("buy.gap", gap=plan.buy - plan.least)
    used = Paragraph(ctx.say("cutting.takes", used=plan.used, bound=bound))
    prefix = f"{slug(ctx.size_name)}-" if ctx.pattern.size else ""
    return Section(f"cut-{prefix}{slug(key)}", ctx.fabric(key), (tables.cutting(plan, ctx), used))


def _step_sections(ctx: Context) -> tuple[list[Section], dict[int, int]]:
    numbers: dict[int, int] = {}
    gathered: dict[str, list[Block]] = {"units": [], "blocks": [], "top": [], "borders": []}
    for index, count in enumerate(ctx.steps, 1):
        numbers[id(count.making)] = index
        gathered[section_of(count.making)].append(_with_sizes(unit_step(index, count, ctx), count, ctx))
    if ctx.top is not None and ctx.pattern.quilt is not None:
        gathered["top"] = [*prose_blocks(ctx.pattern.quilt.prose, ("note", "before", "tip", "caution"), ctx), *gathered["top"]]
        last = gathered["borders"] or gathered["top"]
        last.append(Figure((draw_making(ctx.top, ctx.swatches, ctx.look, key="quilt-plain", plain=True),)))
    return [Section(key, ctx.say(f"heads.{key}"), tuple(blocks)) for key, blocks in gathered.items() if blocks], numbers


def _with_sizes(step: Step, count: Count, ctx: Context) -> Step:
    """Add what the other sizes need of this unit, where that differs."""
    rows = []
    for c in ctx.sizes:
        other = next((o for o in c.plan.counts if o.making.key == count.making.key), None)
        if other is not None:
            w, h = c.raw(other.making)
            rows.append((c.size_name, str(other.needed), c.phrases.by(w, h)))
    if len({r[1:] for r in rows}) <= 1:
        return step
    heads = (ctx.phrases.list("sizes.heads")[0], *ctx.phrases.list("check.heads")[2:4])
    table = Table(count.making.title or count.making.key, heads, tuple(rows), "lrr")
    return Step(step.number, step.title, (*step.blocks, table))


def _back(ctx: Context) -> Section:
    s = ctx.pattern.settings
    told = [ctx.say(f"back.{key}", **{key: getattr(s, key)}) for key in ("by", "contact", "corrections", "copyright")
            if getattr(s, key)]
    return Section("about", ctx.say("heads.back"), tuple(Paragraph(t) for t in told))


def yard(value: Length, ctx: Context) -> str:
    """A length to buy."""
    return ctx.phrases.yardage(value)
