"""Release by release: what each part of a sew-along makes, with its own cut list; together the lists are the whole."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import msgspec

from patternkit.booklet.content.cloth import long_words, use_of
from patternkit.booklet.content.context import Context
from patternkit.booklet.content.figures import slug
from patternkit.booklet.content.prose import prose_blocks
from patternkit.document import Block, Paragraph, Section, Table
from patternkit.lengths import ceil_fraction
from patternkit.model.pattern import Pattern, Release
from patternkit.piecing.names import BIAS_BINDING, BINDING, SLEEVE
from patternkit.plan.counts import Count
from patternkit.plan.lines import cut_lines, strip_line
from patternkit.plan.model import CutLine, LongStrip
from patternkit.problems import PatternError, Problem

TOP_ROLES = ("row", "centre", "quilt", "border", "border strip")


class Share(msgspec.Struct, frozen=True):
    """What one release makes: counts with the batches that fall to it, its cutting lines, its long strips."""

    release: Release | None  # None: what no release makes
    counts: tuple[Count, ...]
    lines: tuple[CutLine, ...]
    long_strips: tuple[LongStrip, ...]
    finishing: bool = False


def shares(ctx: Context) -> list[Share]:
    """The releases in order, and what none of them makes, if anything.

    A unit made in several releases is cut in batches: each release gets the batches that bring the total up to what has
    been made by then, so that the parts' cuts add up to the whole plan's. Where no release names the finishing, it goes
    with the top.
    """
    done: dict[int, int] = {}
    taken: dict[int, int] = {}
    found, finished = [], False
    named = any(name == "finishing" for release in ctx.pattern.parts for _, name, _ in release.makes)
    for release in ctx.pattern.parts:
        own, ends = [], False
        for n, name, _ in release.makes:
            ends = ends or name == ("finishing" if named else "top")
            own += _made(name, n, ctx, done, taken)
        found.append(_share(release, own, ends and not finished, ctx))
        finished = finished or ends
    rest = [c for count in ctx.plan.counts for c in _take(count, count.needed, done, taken)]
    left = _share(None, rest, not finished, ctx)
    if left.lines or left.long_strips:
        found.append(left)
    return found


def _made(name: str, n: int | None, ctx: Context, done: dict[int, int], taken: dict[int, int]) -> list[Count]:
    """The counts that a release's item stands for; a number is shared out over the unit's versions in their order."""
    if name == "top":
        return [
            c
            for count in ctx.plan.counts
            if count.making.role in TOP_ROLES
            for c in _take(count, count.needed, done, taken)
        ]
    left, own = n, []
    for count in ctx.plan.counts:
        if count.making.unit == name and count.making.role not in TOP_ROLES:
            open_now = count.needed - done.get(id(count.making), 0)
            wanted = open_now if left is None else min(open_now, left)
            left = None if left is None else left - wanted
            own += _take(count, wanted, done, taken)
    return own


def _take(count: Count, wanted: int, done: dict[int, int], taken: dict[int, int]) -> list[Count]:
    """So many more of a making, with the batches that this takes beyond those already made."""
    key = id(count.making)
    if count.shared is not None:  # all of these units are made in one part: their strip units go with it as they are
        fresh, done[key] = key not in done, count.needed
        return [count] if fresh and wanted else []
    n = min(wanted, count.needed - done.get(key, 0))
    if n <= 0:
        return []
    done[key] = done.get(key, 0) + n
    batches = ceil_fraction(Fraction(done[key], count.yields)) if count.yields else 0
    more, taken[key] = batches - taken.get(key, 0), batches
    return [Count(count.making, n, count.yields, more, count.half if more and batches == count.batches else 0)]


def _share(release: Release | None, counts: Sequence[Count], finishing: bool, ctx: Context) -> Share:
    lines, long_strips = cut_lines(counts, ctx.pattern)
    usable = {key: f.usable_width for key, f in ctx.pattern.fabrics.items()}
    lines += [strip_line(len(lines), x.fabric, x.height, x.strips, x.use, usable) for x in long_strips]
    if finishing:
        lines += [line for line in ctx.plan.lines if line.use[0] in (BINDING, BIAS_BINDING, SLEEVE)]
    return Share(release, tuple(counts), tuple(lines), tuple(long_strips), finishing)


def find_release(pattern: Pattern, title: str) -> Release:
    """The release of a title, however its letters are cased. Raises PatternError naming those there are."""
    found = next((r for r in pattern.parts if r.title.casefold() == title.strip().casefold()), None)
    if found is None:
        there = ", ".join(r.title for r in pattern.parts)
        raise PatternError(
            [
                Problem(
                    "unknown-name",
                    f"The pattern has no part called {title}.",
                    pattern.settings.span,
                    causes=(f"It has {there}." if there else "It has no parts.",),
                )
            ]
        )
    return found


def releases_section(ctx: Context) -> Section | None:
    """All releases, each with its date, what is made, and its cut list."""
    if not ctx.pattern.parts:
        return None
    inner = tuple(release_section(share, ctx) for share in shares(ctx))
    return Section("parts", ctx.say("heads.parts"), (Paragraph(ctx.say("parts.intro")), *inner))


def release_section(share: Share, ctx: Context) -> Section:
    """One release."""
    title = ctx.say("parts.rest")
    blocks: list[Block] = []
    if share.release is not None:
        title = ctx.say("parts.title", title=share.release.title, date=share.release.date)
        blocks += prose_blocks(share.release.prose, ("intro", "note", "before", "tip", "caution"), ctx)
    makes = [ctx.noun(c.making, c.needed) for c in share.counts if c.making.role not in TOP_ROLES]
    makes += [ctx.say("parts.top")] if any(c.making.role in TOP_ROLES for c in share.counts) else []
    makes += [ctx.say("parts.finishing")] if share.finishing else []
    if makes:
        blocks.append(Paragraph(ctx.say("parts.makes", items=ctx.listed(makes))))
    if share.lines:
        blocks.append(cut_list(share, ctx))
    blocks += [Paragraph(long_words(x, ctx)) for x in share.long_strips]
    if share.release is not None:
        blocks += prose_blocks(share.release.prose, ("after", "finishing"), ctx)
    key = slug(share.release.title) if share.release is not None else "rest"
    return Section(f"part-{key}", title, tuple(blocks))


def cut_list(share: Share, ctx: Context) -> Table:
    """What is cut for one release: fabric, count and size, what for."""
    rows = []
    ordered = sorted(share.lines, key=lambda x: list(ctx.pattern.fabrics).index(x.fabric))
    for line in ordered:
        size = (
            ctx.say("cutting.strip_of", h=line.cut.height)
            if line.cut.then == "strip"
            else ctx.phrases.by(line.cut.width, line.cut.height)
        )
        rows.append((ctx.fabric(line.fabric), str(line.count), size, use_of(line, ctx, share.long_strips)))
    return Table(ctx.say("parts.caption"), ctx.phrases.list("parts.heads"), tuple(rows), "lrll")
