"""The whole booklet from a project: sections in the order a maker needs them."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from patternkit.booklet.content import besides, tables
from patternkit.booklet.content.accuracy import accuracy_section
from patternkit.booklet.content.cloth import fabric_cuts
from patternkit.booklet.content.cloth_sizes import fabrics_by_size
from patternkit.booklet.content.colourways import AFTER, BEFORE, colourways_section, way_prose, way_title
from patternkit.booklet.content.context import Context, context
from patternkit.booklet.content.converted import converted_line
from patternkit.booklet.content.figures import MOST_MARKS, slug
from patternkit.booklet.content.finishing import finishing_blocks
from patternkit.booklet.content.merged import Copies, making_of, step, steps_of
from patternkit.booklet.content.pieces import pieces_table
from patternkit.booklet.content.prose import prose_blocks
from patternkit.booklet.content.release_names import release_title
from patternkit.booklet.content.releases import counts_in, release_section, releases_section, shares_by_size
from patternkit.booklet.content.templates import templates
from patternkit.document import Block, Booklet, Bullets, Callout, Drawing, Figure, Paragraph, Section
from patternkit.drawing.making import draw_making
from patternkit.piecing.sewing.paper import paper_sections
from patternkit.problems import PatternError, Problem
from patternkit.work.sections import section_of

WIDE = 150.0  # points a drawing of one of several sizes is wide


def booklet(ctx: Context, colourways: tuple[Context, ...] = ()) -> Booklet:
    """Put the booklet together; `colourways` are the same pattern in its other colourways."""
    settings = ctx.pattern.settings
    steps = list(enumerate(steps_of(ctx), 1))
    sections: list[Section | None] = [_intro(ctx), _glance(ctx), _before(ctx)]
    sections += [_cutting(ctx), *_step_sections(ctx, steps)]
    finish = finishing_blocks(ctx)
    if finish:
        sections.append(Section("finishing", ctx.say("heads.finishing"), tuple(finish)))
    sections += besides.sections(ctx, len(steps))
    if steps:
        sections.append(
            Section(
                "checkpoints",
                ctx.say("heads.checkpoints"),
                (Paragraph(ctx.say("check.intro")), tables.checkpoints(ctx, steps)),
            )
        )
    sections += [
        accuracy_section(ctx),
        releases_section(ctx),
        colourways_section(ctx, colourways),
        _back(ctx),
    ]
    return Booklet(
        settings.title,
        settings.by,
        _subtitle(ctx),
        _cover(ctx),
        _facts(ctx),
        tuple(s for s in sections if s is not None and s.blocks),
        besides.printed(ctx),
        ctx.phrases.language,
        settings.copyright,
        settings.contact,
        ctx.phrases.table("words"),
    )


def release_booklet(number: int, ctx: Context) -> Booklet:
    """The booklet of one release, by its number from 0: what it makes, its cut list, its steps, its templates, in every
    size that is told. Raises PatternError where nothing is left that no release makes, and that is asked for."""
    settings = ctx.pattern.settings
    steps, shares = list(enumerate(steps_of(ctx), 1)), shares_by_size(number, ctx)
    if number >= len(ctx.pattern.parts) and not shares:
        raise PatternError([Problem("nothing-to-write", "The parts make everything; nothing is left over.")])
    counts = {c: counts_in(share, c) for c, share in shares}
    own = {(c, id(x.making)): x for c, listed in counts.items() for x in listed}
    texts = [(n, [(c, own[c, id(x.making)]) for c, x in copies if (c, id(x.making)) in own]) for n, copies in steps]
    mine = [(n, copies) for n, copies in texts if copies]
    sections = [release_section(number, ctx), _before(ctx), *_step_sections(ctx, mine, whole=False)]
    if any(share.finishes for _, share in shares):
        sections.append(Section("finishing", ctx.say("heads.finishing"), tuple(finishing_blocks(ctx))))
    if mine:
        sections.append(Section("checkpoints", ctx.say("heads.checkpoints"), (tables.checkpoints(ctx, mine),)))
    return Booklet(
        settings.title,
        settings.by,
        ", ".join(word for word in (release_title(number, ctx), _subtitle(ctx)) if word),
        None,
        (),
        tuple(s for s in sections if s.blocks),
        templates(ctx, dict(shares)),
        ctx.phrases.language,
        settings.copyright,
        settings.contact,
        ctx.phrases.table("words"),
    )


def warned(texts: Booklet, ctx: Context) -> Booklet:
    """A booklet that says at its head that what it tells did not come out when it was tried."""
    warning = Callout("caution", ctx.say("before.unrehearsed"))
    first, *rest = texts.sections
    first = msgspec.structs.replace(first, blocks=(warning, *first.blocks))
    return msgspec.structs.replace(texts, sections=(first, *rest))


def _cover(ctx: Context) -> Drawing | None:
    top = ctx.top
    if top is None:
        return None
    # its sizes stand in the facts below it
    look = msgspec.structs.replace(ctx.look, title=ctx.pattern.settings.title)
    return draw_making(
        ctx.as_shown(top),
        ctx.swatches,
        look,
        key="cover",
        letters=False,
        measure="",
        legend=True,
        rounded=float(ctx.plan.rounded),
    )


def _subtitle(ctx: Context) -> str:
    parts = [ctx.size_name] if ctx.pattern.size else []
    return ", ".join([*parts, *([way_title(ctx)] if way_title(ctx) else [])])


def _facts(ctx: Context) -> tuple[tuple[str, str], ...]:
    settings, top = ctx.pattern.settings, ctx.top
    facts: list[tuple[str, str]] = []
    if ctx.sizes:
        texts = [
            ctx.say("facts.size", size=c.size_name, finished=c.phrases.by(c.top.width, c.top.height))
            for c in ctx.sizes
            if c.top is not None
        ]
        facts.append((ctx.say("facts.sizes"), ctx.listed(texts)))
    elif top is not None:
        facts.append((ctx.say("facts.finished"), ctx.phrases.by(top.width, top.height)))
        facts.append((ctx.say("facts.top"), ctx.measures(top)))
    blocks = [c for c in ctx.plan.counts if c.making.role == "block" and c.making.key.part is None]
    if blocks and not ctx.sizes:
        texts = [
            ctx.say(
                "facts.block",
                n=c.needed,
                what=ctx.noun(c.making, c.needed),
                size=ctx.phrases.by(c.making.width, c.making.height),
            )
            for c in blocks
        ]
        facts.append((ctx.say("facts.blocks"), "; ".join(texts)))
    facts.append((ctx.say("facts.seam"), ctx.phrases.length(settings.seam)))
    for key in ("skill", "number", "edition"):
        if getattr(settings, key):
            facts.append((ctx.say(f"facts.{key}"), getattr(settings, key)))
    return tuple(facts)


def _intro(ctx: Context) -> Section | None:
    """What the writer says of the quilt as a whole, before anything else."""
    texts = (*prose_blocks(ctx.pattern.settings.prose, ("intro", "note"), ctx), *way_prose(ctx, (*BEFORE, *AFTER)))
    return Section("intro", ctx.say("heads.intro"), texts) if texts else None


def _glance(ctx: Context) -> Section:
    settings = ctx.pattern.settings
    blocks: list[Block] = []
    if ctx.sizes:
        blocks.append(tables.sizes(ctx))
    blocks += tables.buying(ctx)
    usual = ctx.phrases.list("tools.usual")
    named = [word.strip().lower() for line in usual for word in line.split(",")]
    tools = (*usual, *(tool for tool in settings.tools if tool.lower() not in named))
    others = [c for one in besides.besides_of(ctx) for c in one.ctx.family]
    if any(
        cut.then == "template" and not c.angle(c.form(cut).shape.name)
        for c in (ctx, *others)
        for x in c.plan.counts
        for cut in x.making.recipe.cuts
    ):
        tools = (*tools, ctx.say("tools.print"))
    sizes = [
        [
            (x, x.making.recipe.method)
            for own in (c, *others)
            if own.project.size == c.project.size
            for x in own.plan.counts
        ]
        for c in ctx.family
    ]
    papers = max(
        sum(x.needed * len(paper_sections(x.making)) for x, how in own if how.on_printed_paper) for own in sizes
    )
    if papers:
        tools = (*tools, ctx.say("tools.foundations", n=papers))
    if squares := max(sum(x.needed for x, how in own if how.plain_paper) for own in sizes):
        tools = (*tools, ctx.say("tools.plain_paper", n=squares))
    blocks.append(Section("tools", ctx.say("heads.tools"), (Bullets(tools),)))
    return Section("buy", ctx.say("heads.buy"), tuple(blocks))


def _before(ctx: Context) -> Section:
    settings = ctx.pattern.settings
    seam, say = settings.seam, ctx.say
    strip = seam * 6
    blocks: list[Block] = [
        *prose_blocks(settings.prose, ("before", "tip", "caution"), ctx),
        Paragraph(say("before.seam", seam=seam, strip=strip, three=strip * 3 - seam * 4, middle=strip - seam * 2)),
        Paragraph(say("before.width", usable=settings.usable_width, squaring=settings.squaring)),
        Paragraph(f"{say('before.sizes')} {say('before.numbers')}"),
    ]
    if ctx.phrases.converted:
        blocks.append(converted_line(ctx))
    if ctx.sizes:
        blocks.append(Paragraph(say("before.several", sizes=" / ".join(c.size_name for c in ctx.sizes))))
    blocks.append(Paragraph(say("before.letters")))
    kinds = {m.kind for marks in ctx.marks.values() if len(marks) <= MOST_MARKS for m in marks}
    texts = [say(f"press.{kind}") for kind in ("lock", "clash", "open") if kind in kinds]
    blocks.append(Paragraph(" ".join([say("before.press"), *texts])))
    safety = ("before.safety_blade", "before.safety_iron", "before.safety_makers")
    blocks.append(Callout("caution", " ".join(say(key) for key in safety)))
    return Section("before", say("heads.before"), tuple(blocks))


def _cutting(ctx: Context) -> Section:
    leaning = any(x.cut.leans for c in ctx.sizes or (ctx,) for f in c.plan.fabrics.values() for x in f.lines)
    intro = ctx.say("cutting.intro") + (f" {ctx.say('cutting.lean')}" if leaning else "")
    blocks: list[Block] = [Paragraph(intro)]
    if ctx.sizes:
        blocks += [Paragraph(ctx.say("cutting.by_size")), pieces_table(ctx), *fabrics_by_size(ctx)]
    else:
        blocks += [Paragraph(ctx.say("cutting.codes")), pieces_table(ctx)]
        blocks += [fabric_cuts(ctx, key) for key in ctx.plan.fabrics]
    return Section("cutting", ctx.say("heads.cutting"), tuple(blocks))


def _step_sections(ctx: Context, steps: Sequence[tuple[int, Copies]], whole: bool = True) -> list[Section]:
    """The steps in the order of their numbers under their heads. Where a release goes back to an earlier head, that
    comes again with the release's title."""
    groups: list[tuple[str, int, list[Block]]] = []
    for number, copies in steps:
        key = section_of(making_of(copies))
        if not groups or groups[-1][0] != key:
            release = min(c.reading(x.making)[0] for c, x in copies)
            groups.append((key, release, []))
        groups[-1][2].append(step(number, copies, ctx))
    keys = [key for key, _, _ in groups]
    if ctx.top is not None and ctx.pattern.quilt is not None and (whole or "top" in keys):
        prose = prose_blocks(ctx.pattern.quilt.prose, ("intro", "note", "before", "tip", "caution"), ctx)
        if prose and "top" not in keys:
            at = next((n for n, key in enumerate(keys) if key == "borders"), len(groups))
            groups.insert(at, ("top", 0, []))
        if prose:
            next(blocks for key, _, blocks in groups if key == "top")[:0] = prose
        last = [blocks for key, _, blocks in groups if key in ("top", "borders") and blocks]
        if last:
            last[-1].append(_lines(ctx))
    sections, often = [], dict[str, int]()
    for key, release, blocks in groups:
        often[key] = often.get(key, 0) + 1
        head = ctx.say(f"heads.{key}")
        if often[key] > 1:
            head = ctx.say("parts.section", head=head, title=release_title(release, ctx))
        sections.append(Section(key if often[key] == 1 else f"{key}-{often[key]}", head, tuple(blocks)))
    return sections


def _lines(ctx: Context) -> Figure:
    """The quilt as plain lines, to colour in; all sizes side by side."""
    drawn = [c for c in ctx.sizes or (ctx,) if c.top is not None]
    wide = WIDE if len(drawn) > 1 else 220.0
    return Figure(
        tuple(
            draw_making(
                c.top,
                c.swatches,
                msgspec.structs.replace(c.look, title=c.size_name if ctx.sizes else ctx.pattern.settings.title),
                key=f"lines-{slug(c.size_name)}" if ctx.sizes else "lines",
                plain=True,
                wide=wide,
                rounded=float(c.plan.rounded),
            )
            for c in drawn
            if c.top is not None
        ),
        ctx.say("top.lines"),
    )


def _back(ctx: Context) -> Section:
    s = ctx.pattern.settings
    texts = [
        ctx.say(f"back.{key}", **{key: getattr(s, key)})
        for key in ("by", "number", "edition", "corrections")
        if getattr(s, key)
    ]
    if texts and not any((s.number, s.edition, s.corrections)):
        texts = []  # her name, and where to ask, stand on the cover and in the imprint
    return Section("about", ctx.say("heads.back"), tuple(Paragraph(t) for t in texts))


__all__ = ["booklet", "context", "release_booklet"]
