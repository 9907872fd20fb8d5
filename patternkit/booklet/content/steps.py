"""The numbered steps: each unit with what to take, how to sew, which way to press, what it must measure, how many."""

from __future__ import annotations

from fractions import Fraction

import msgspec

from patternkit.booklet.content import images, paired, papers, rounds, shared_strips, slanted, tubes
from patternkit.booklet.content.accuracy import remedies
from patternkit.booklet.content.context import Context, is_box
from patternkit.booklet.content.doing import before_trim, last_trim, ruler, sewing, unlike_ends
from patternkit.booklet.content.edges import flanges_under
from patternkit.booklet.content.extras import extra_panels
from patternkit.booklet.content.figures import step_figures
from patternkit.booklet.content.panels import Measures, Panel, Pressing, Remark, Sentences, lines
from patternkit.booklet.content.pressing import press_ways, version_sentence
from patternkit.booklet.content.prints import prints_in, segments_of_prints
from patternkit.booklet.content.prose import prose_blocks
from patternkit.booklet.content.taking import take_panels
from patternkit.booklet.phrases import Printed, Sentence
from patternkit.document import Callout
from patternkit.lengths import Length
from patternkit.piecing.keys import OwnKey
from patternkit.piecing.kinds.slanted import Slant
from patternkit.piecing.making import Cloth, Making, Part
from patternkit.piecing.names import LONG_SASHING, SASHING_ROW, border_of
from patternkit.piecing.reflect import OTHER_SEAMS
from patternkit.plan.counts import Count

HAIR = Length(Fraction(1, 16))  # less than this over the size to trim to is not worth a line of its own
NOTHING = Length(Fraction(1, 128))  # less than this is nothing that can be trimmed


def panels(count: Count, ctx: Context) -> list[Panel]:
    """Everything one step says, in order."""
    making = count.making
    unit = ctx.pattern.units.get(making.key.of)
    before = shared_strips.made_before(making, ctx) or images.made_before(count)
    how = [] if before else [Remark(sentences) for sentences in method(count, ctx)]
    found = [*_introduced(making, ctx), *take_panels(count, ctx), *lines("prints", *prints_in(count, ctx))]
    rings = tubes.from_rings(making, ctx)
    press = _pressed(making, ctx) if rings or not before else []
    if making.recipe.method.in_strips:  # pressed as long strips, before they are cut across, unless they are rings
        found += [*lines("method", *how[:1]), *([] if rings else press), *lines("cut", *how[1:])]
        if shared_strips.is_shared(making, ctx) and not before:
            found.append(Panel("shared", shared_strips.cutting(making, ctx)))
        if rings and not before:
            found.append(Panel("rings", tubes.opened(making, ctx)))
        found += [*(press if rings else []), *step_figures(count, ctx)]
    else:
        found += [*lines("method", *how), *step_figures(count, ctx), *press]
    if any("fused" in p.name for p in ctx.makers[making.thing].batches[0][0].passages):
        found += lines("care", Callout("caution", ctx.say("step.web_care")))
    if not images.made_before(count):
        found += lines("trim", *_trim(count, ctx))
    if is_box(making):
        found.append(Panel("measure", _measures(count, ctx)))
    if not before and (mends := remedies(making, ctx)):
        found.append(Panel("remedy", Remark(mends, "remedy")))
    found += lines("spare", *_spare(count, ctx))
    if unit is not None and unit.other_methods:
        ways = ctx.listed([ctx.look.method(way.words) for way in unit.other_methods])
        found += lines("ways", ctx.state("besides.see", title=unit.title, ways=ways))
    if unit is not None:
        found += extra_panels(unit.also, making.thing, ctx)
        found += lines("after", *prose_blocks(unit.prose, ("after", "tip", "caution"), ctx))
    return found


def _pressed(making: Making, ctx: Context) -> list[Panel]:
    """Which way its seams are pressed."""
    ways = press_ways(making, ctx)
    return [Panel("press", Pressing(ways))] if ways else []


def _introduced(making: Making, ctx: Context) -> list[Panel]:
    """What is said of a unit before it is made: which rows, the writer's words, which version of what."""
    unit = ctx.pattern.units.get(making.key.of)
    rows = ctx.names.every_other_of(making)
    found: list[Panel] = []
    if rows and not ctx.names.version_of(making):
        found += lines("rows", ctx.state("step.every_other", a=rows[0], b=rows[0] + 2, c=rows[0] + 4))
    if unit is not None:
        found += lines("before", *prose_blocks(unit.prose, ("intro", "note", "before"), ctx))
    version = version_sentence(making, ctx)
    found += lines("version", *([version] if version else []))
    if making.key.mirrored and any(c.making.key == making.key.plain for c in ctx.plan.counts):
        found += lines("mirrored", ctx.state("step.mirrored", title=base_title(making, ctx)))
    if making.recipe.method.around == "borders" and isinstance(making.key, OwnKey):
        found += flanges_under(border_of(making.key.name).numbers[0], ctx)
    if making.version & OTHER_SEAMS:
        found += lines("seams", ctx.state("step.other_seams", title=base_title(making, ctx)))
    return found


def is_sashing(part: Part) -> bool:
    """Whether a part of a quilt's centre is a sashing row, or a long strip of sashing between its rows."""
    if isinstance(part, Cloth):
        return part.name == LONG_SASHING
    return part.key.part == SASHING_ROW


def base_title(making: Making, ctx: Context) -> str:
    """The title of the unit that a mirrored one is the mirror of; the name of a part of the quilt."""
    if isinstance(making.key, OwnKey):
        return ctx.names.of(making.key.name)
    unit = ctx.pattern.units.get(making.key.of)
    return unit.title if unit is not None else str(making.key.plain)


def sewn(making: Making, ctx: Context) -> str:
    """What a step is for, without its number: ``Corner``, ``Sew on border 1``."""
    if making.recipe.method.around == "borders" and isinstance(making.key, OwnKey):
        border = ctx.names.of(border_of(making.key.name))
        return ctx.say("step.border_title", border=border, alone=ctx.names.alone)
    return ctx.say("step.sew_title", title=ctx.title(making))


def title(counts: list[Count], ctx: Context) -> str:
    """``Corner: make 72``, with a number for each size; rows and the top are just named."""
    making = counts[0].making
    if making.recipe.method.around == "borders" and isinstance(making.key, OwnKey):
        return sewn(making, ctx)
    needed = [str(c.needed) for c in counts]
    n = needed[0] if len(set(needed)) == 1 else " / ".join(needed)
    named = making.role == "row" and making.key != OwnKey(SASHING_ROW)
    return ctx.say(
        "step.sew_title" if making.role in ("centre", "quilt") or (named and n == "1") else "step.make_title",
        title=ctx.title(making),
        n=n,
    )


def method(count: Count, ctx: Context) -> list[Sentences]:
    """How to sew, by the recipe's phrase."""
    making, recipe = count.making, count.making.recipe
    values = {
        "seam": ctx.seam,
        "makes": recipe.yields + recipe.mirrored,
        "needed": count.needed,
        "batches": count.batches,
        "yields": count.yields,
        "sashed": any(is_sashing(p.what) for p in making.parts),
        "outer": bool(making.parts) and is_sashing(making.parts[0].what),
        "templates": bool(recipe.cuts),
        "own": isinstance(making.key, OwnKey),
        "half": (making.width + ctx.seam * 2) / 2,
        **msgspec.structs.asdict(recipe.numbers),
        **rounds.values(making, ctx),
        **papers.values(making, ctx),
    }
    batch = ctx.makers[making.thing].batches[0][0]
    found, slant = sewing(batch, making, values, ctx), recipe.numbers
    if recipe.method.in_strips and unlike_ends(batch):
        found[0] = (*found[0], ctx.state("method.strips_level"))
    if tubes.from_rings(making, ctx):
        found = [(*found[0], tubes.closed(making, ctx))]
    if recipe.method.in_strips and not shared_strips.is_shared(making, ctx):
        key = "method.strips_half" if count.half else "method.strips_yield"
        if isinstance(slant, Slant):
            found[0] = (*found[0], slanted.staggered(slant, ctx))
            found.append((slanted.cut(making, slant, ctx),))
        elif (pairs := paired.cut(making, ctx)) is not None:
            found.append((pairs,))
        else:
            found.append((ctx.state("method.strips_cut", unit=recipe.strip_unit, segment=recipe.segment),))
        if count.shares:
            found.append((segments_of_prints(count, ctx),))
        else:
            found.append((ctx.state(key, spare=count.spare, halves=count.half, **values),))
    if (near := shared_strips.by_turns(count, ctx)) is not None:
        found.append((near,))
    if (pairs := paired.sewn(making, ctx)) is not None:
        found.append((pairs,))
    if recipe.mirrored:
        found.append((images.beside(count, ctx),))
    found += [(sentence,) for sentence in images.of_waste(count, ctx)]
    if making.kind == "border":
        found += _border_order(making, ctx)
    return found


def _border_order(making: Making, ctx: Context) -> list[Sentences]:
    if len(making.parts) != 5:
        return []
    upright = making.seams[0].start[0] == making.seams[0].end[0]
    sides, ends = (ctx.say(f"names.border_{which}", n="", many=False) for which in ("sides", "top"))
    first, second = (sides, ends) if upright else (ends, sides)
    return [(ctx.state("method.border_order", first=first, second=second),)]


def _trim(count: Count, ctx: Context) -> list[Remark]:
    recipe, batch = count.making.recipe, ctx.makers[count.making.thing].batches[0][0]
    trim = last_trim(count.making, ctx)
    if trim is None:
        return []
    w, h = trim.width, trim.height
    n = 2 if count.needed > 1 or ctx.several else 1
    if recipe.method.in_strips:
        return [Remark((ctx.state("step.trim_strips", w=w, h=h),))]
    sewn = before_trim(trim, count.making, ctx)
    if recipe.sewn is None or sewn is None:
        to_size = ctx.state("step.trim_only", n=n, w=w, h=h)
    elif max(sewn[0] - w, sewn[1] - h) < NOTHING:
        return []  # what was cut to measure leaves nothing to trim
    else:
        sw, sh = sewn
        key = "step.trim_hair" if max(sw - w, sh - h) < HAIR else "step.trim"
        to_size = ctx.state(key, n=n, sw=sw, sh=sh, w=w, h=h)
    beyond = msgspec.structs.asdict(recipe.numbers).get("beyond", ctx.seam)
    return [Remark((to_size, ruler(trim, batch, ctx, beyond)))]


def _measures(count: Count, ctx: Context) -> Measures:
    """What a unit must measure, and what its strips must show."""
    making = count.making
    finishes = making.role in ("block", "quilt", "centre", "border")
    widths = visible_widths(making, ctx) if making.role in ("unit", "block") else []
    kind = "strips" if making.recipe.method.in_strips else making.kind
    key = {"strips": "step.shows", "row": "step.shows_row"}.get(kind, "step.shows_column")
    return Measures(
        count.needed > 1 or ctx.several,
        ctx.raw(making),
        (making.width, making.height) if finishes else None,
        (ctx.state(key, widths=Printed("row", tuple(widths))),) if widths else rounds.shown(making, ctx),
    )


def visible_widths(making: Making, ctx: Context) -> list[Length]:
    """What each plain piece of a strip unit, row or column shows: its finished width, and a seam more at the two
    ends."""
    plain = [p for p in making.parts if isinstance(p.what, Cloth)]
    if (
        len(plain) != len(making.parts)
        or len(plain) < 2
        or (not making.recipe.method.in_strips and making.kind not in ("row", "column"))
    ):
        return []
    axis = 1 if making.kind == "column" else 0
    widths = []
    for i, part in enumerate(plain):
        along = [p[axis] for p in part.outline]
        widths.append(max(along) - min(along) + (ctx.seam if i in (0, len(plain) - 1) else Length(0)))
    return widths


def _spare(count: Count, ctx: Context) -> list[Sentence]:
    """What a step makes and no step takes; of strip units that is told where they are cut."""
    step, thing = ctx.makers[count.making.thing], count.making.thing
    spare = dict(step.leaves).get(thing, 0)
    if not spare or count.making.recipe.method.in_strips:
        return []
    made = step.gives[thing]
    return [ctx.state("step.spare", made=made, needed=made - spare, spare=spare)]
