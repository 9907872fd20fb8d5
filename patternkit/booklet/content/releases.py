"""Release by release, as runs of the making order: what each part of a sew-along makes, what must be ready, what is cut
for it, and its templates, in every size that is told."""

from __future__ import annotations

from collections.abc import Sequence

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.figures import slug
from patternkit.booklet.content.prose import prose_blocks
from patternkit.booklet.content.release_cuts import NONE, Shares, cut_blocks
from patternkit.booklet.content.release_names import release_title
from patternkit.document import Block, Bullets, Paragraph, Section, Table
from patternkit.piecing.making import Making
from patternkit.plan.counts import Count
from patternkit.work.runs import TOP_ROLES, RunShare


def shares_by_size(number: int, ctx: Context) -> Shares:
    """One release in every size that is told; sizes in which there is nothing for it are left out."""
    return [(c, c.shares[number]) for c in ctx.sizes or (ctx,) if number in c.shares]


def releases_section(ctx: Context) -> Section | None:
    """All releases, and what none of them makes, if anything."""
    if not ctx.pattern.parts:
        return None
    numbers = range(len(ctx.pattern.parts) + 1)
    inner = tuple(release_section(n, ctx) for n in numbers if shares_by_size(n, ctx))
    return Section("parts", ctx.say("heads.parts"), (Paragraph(ctx.say("parts.intro")), *inner))


def release_section(number: int, ctx: Context) -> Section:
    """One release: the writer's words, what is made, what must be ready, what is cut, which templates it needs."""
    shares, parts = shares_by_size(number, ctx), ctx.pattern.parts
    part = parts[number] if number < len(parts) else None
    blocks: list[Block] = []
    if part is not None:
        blocks += prose_blocks(part.prose, ("intro", "note", "before", "tip", "caution"), ctx)
    blocks += [*_makes(shares, ctx), *_ready(shares, ctx), *cut_blocks(shares, ctx), *_patterns(shares, ctx)]
    if part is not None:
        blocks += prose_blocks(part.prose, ("after", "finishing"), ctx)
    return Section(f"part-{_key(number, ctx)}", release_title(number, ctx), tuple(blocks))


def _key(number: int, ctx: Context) -> str:
    """The anchor of a release: its title's; with its number where two titles would have one."""
    titles = [slug(part.title) for part in ctx.pattern.parts]
    if number >= len(titles):
        return "rest"
    return titles[number] if titles.count(titles[number]) == 1 else f"{titles[number]}-{number + 1}"


# -- made and ready ---------------------------------------------------------------------------------------
def _makes(shares: Shares, ctx: Context) -> list[Block]:
    """What is made: units and blocks with their numbers, the top, the finishing; that it is nothing, where it is."""
    units = [(c, _in_reading_order(share, c)) for c, share in shares]
    own = [(c, [x for x in counts if x.making.role not in TOP_ROLES]) for c, counts in units]
    ends = [ctx.say("parts.top")] if any(len(a[1]) < len(b[1]) for a, b in zip(own, units, strict=True)) else []
    ends += [ctx.say("parts.finishing")] if any(share.finishes for _, share in shares) else []
    if not ctx.sizes:
        items = [c.noun(x.making, x.needed) for c, counts in own for x in counts]
        if not items and not ends:
            return [Paragraph(ctx.say("parts.nothing"))]
        return [Paragraph(ctx.say("parts.makes", items=ctx.listed([*items, *ends])))]
    table = _by_size([(c, [(x.making, x.needed) for x in counts]) for c, counts in own], "parts.made_heads", ctx)
    if not table and not ends:
        return [Paragraph(ctx.say("parts.nothing"))]
    key = "parts.makes_too" if table else "parts.makes"
    return [*table, *([Paragraph(ctx.say(key, items=ctx.listed(ends)))] if ends else [])]


def _in_reading_order(share: RunShare, c: Context) -> list[Count]:
    """What is sewn, as its steps come."""
    return sorted((x for x in counts_in(share, c) if x.making.seams), key=lambda x: c.reading(x.making))


def _ready(shares: Shares, ctx: Context) -> list[Block]:
    """What must be ready from earlier releases."""
    by_size = [(c, [(c.designs[t], n) for t, n in share.ready if t in c.designs]) for c, share in shares]
    if ctx.sizes:
        return _by_size(by_size, "parts.ready_heads", ctx)
    items = [
        c.say("step.item", what=c.noun(making, n), size=c.measures(making), n=n)
        for c, listed in by_size
        for making, n in listed
    ]
    return [Paragraph(ctx.say("parts.ready")), Bullets(tuple(items))] if items else []


def _by_size(by_size: Sequence[tuple[Context, Sequence[tuple[Making, int]]]], heads: str, ctx: Context) -> list[Block]:
    """Things with what they measure, and a column of numbers for each size."""
    found: dict[tuple[str, str], dict[str, int]] = {}
    for c, made in by_size:
        for making, n in made:
            row = found.setdefault((c.title(making), c.measures(making) or NONE), {})
            row[c.size_name] = row.get(c.size_name, 0) + n
    names = [c.size_name for c in ctx.sizes]
    rows = tuple((*key, *(str(row.get(name, NONE)) for name in names)) for key, row in found.items())
    return [Table("", (*ctx.phrases.list(heads), *names), rows, "ll" + "r" * len(names))] if rows else []


# -- the release's own counts -----------------------------------------------------------------------------
def counts_in(share: RunShare, c: Context) -> list[Count]:
    """The counts of one release: what its batches give of each making, and the plain patches that are taken for them.

    A making of one patch has no step of its own; so many are counted as parts are made of it.
    """
    sewn = dict(share.sews)
    found: dict[int, Count] = {}
    patches: dict[int, int] = {}
    for count in c.plan.counts:
        n = min(sewn.get(count.making.thing, 0), count.needed)
        if not n or not (count.making.seams or count.making.is_layered):
            continue
        sewn[count.making.thing] -= n
        found[id(count.making)] = _part_of(count, n, share.release, c)
        for part in count.making.parts:
            what = part.what
            while isinstance(what, Making) and what.is_its_part:
                patches[id(what)] = patches.get(id(what), 0) + n
                what = what.parts[0].what
    for count in c.plan.counts:
        if id(count.making) in patches:
            n = min(patches[id(count.making)], count.needed)
            found[id(count.making)] = Count(count.making, n, count.yields, _batches(n, count.yields))
    return [found[id(count.making)] for count in c.plan.counts if id(count.making) in found]


def _part_of(count: Count, n: int, release: int, c: Context) -> Count:
    """So many of a count, as one release makes them; half strips are for the last batch of all."""
    if n == count.needed:
        return count
    last = max(number for number, share in c.shares.items() if count.making.thing in dict(share.sews))
    return Count(count.making, n, count.yields, _batches(n, count.yields), count.half if release == last else 0)


def _batches(n: int, yields: int) -> int:
    return -(-n // yields) if yields else 0


# -- templates --------------------------------------------------------------------------------------------
def _patterns(shares: Shares, ctx: Context) -> list[Block]:
    """The names of the templates and the foundations that a release uses."""
    templates: dict[str, None] = {}
    papers: dict[str, None] = {}
    for c, share in shares:
        for thing in dict.fromkeys(c.order.steps[run.step].thing for run in share.runs):
            templates |= {name: None for (unit, _), name in c.template_names.items() if unit == thing}
            recipe = c.designs[thing].recipe
            if recipe.numbers.cut_outline:
                templates[c.title(c.designs[thing])] = None
            if recipe.method.on_printed_paper:
                papers[c.title(c.designs[thing])] = None
    blocks: list[Block] = []
    for key, names in (("parts.templates", templates), ("parts.papers", papers)):
        if names:
            blocks.append(Paragraph(ctx.say(key, items=ctx.listed(list(names)))))
    return blocks
