"""The numbered steps: each unit with what to take, how to sew, which way to press, what it must measure, how many."""

from __future__ import annotations

from fractions import Fraction

import msgspec

from patternkit.booklet.content import images, rounds, shared_strips
from patternkit.booklet.content.accuracy import remedies
from patternkit.booklet.content.context import Context, is_box
from patternkit.booklet.content.doing import last_trim, passages_told, ruler_told
from patternkit.booklet.content.figures import step_figures
from patternkit.booklet.content.pressing import press_sentences, press_told, version_sentence
from patternkit.booklet.content.prose import prose_blocks
from patternkit.booklet.content.taking import take_blocks
from patternkit.document import Block, Callout, Paragraph
from patternkit.lengths import Length
from patternkit.piecing.keys import OwnKey
from patternkit.piecing.making import Cloth, Making, Part, Side
from patternkit.piecing.names import LONG_SASHING, SASHING_ROW, border_of
from patternkit.piecing.reflect import OTHER_SEAMS
from patternkit.plan.counts import Count

Bare = tuple[object, ...]
PartRun = tuple[tuple[object, ...], tuple[Side, ...]]  # the parts from left to right; how the seams between are pressed
HAIR = Length(Fraction(1, 16))  # less than this over the size to trim to is not worth a line of its own


class Measured(msgspec.Struct, frozen=True):
    """What a checkpoint says of one size: whether of several pieces, what they measure and finish, what they show."""

    many: bool
    size: str
    finishes: str
    shows: str


class Told(msgspec.Struct, frozen=True):
    """Blocks of a step that belong together, with their place, so that the steps of several sizes can be laid side by
    side."""

    slot: str
    blocks: tuple[Block, ...]
    press: tuple[tuple[str, str], ...] = ()  # where and which way, of the blocks that say how to press
    measured: Measured | None = None  # of checkpoints: what they say, apart
    bare: Bare | None = None  # of drawings: the unit as it is but for how its seams are pressed
    run: PartRun | None = None  # of a row's drawing: what lies in it one after the other


def step_blocks(count: Count, ctx: Context) -> list[Told]:
    """Everything one step says, in order."""
    making = count.making
    unit = ctx.pattern.units.get(making.key.of)
    told: list[Told] = []

    def add(slot: str, *blocks: Block) -> None:
        told.extend(Told(f"{slot} {i}", (b,)) for i, b in enumerate(blocks))

    rows = ctx.names.every_other_of(making)
    if rows and not ctx.names.version_of(making):
        add("rows", Paragraph(ctx.say("step.every_other", a=rows[0], b=rows[0] + 2, c=rows[0] + 4)))
    if unit is not None:
        add("before", *prose_blocks(unit.prose, ("intro", "note", "before"), ctx))
    version = version_sentence(making, ctx)
    add("version", *([Paragraph(version)] if version else []))
    if making.key.mirrored and any(c.making.key == making.key.plain for c in ctx.plan.counts):
        add("mirrored", Paragraph(ctx.say("step.mirrored", title=base_title(making, ctx))))
    if making.version & OTHER_SEAMS:
        add("seams", Paragraph(ctx.say("step.other_seams", title=base_title(making, ctx))))
    taken = tuple(take_blocks(count, ctx))
    told += [Told("take", taken)] if taken else []
    before = shared_strips.made_before(count, ctx) or images.made_before(count)
    sewing = [] if before else [Paragraph(text) for text in method(count, ctx)]
    sentences = [] if before else press_sentences(making, ctx)
    pressed = [Told("press 0", (Paragraph(" ".join(sentences)),), tuple(press_told(making, ctx)))] if sentences else []
    if making.recipe.method.in_strips:  # pressed as long strips, before they are cut across
        add("method", *sewing[:1])
        told += pressed
        add("cut", *sewing[1:])
        if count.shared is not None and not before:
            told.append(Told("shared", tuple(shared_strips.cutting(count.shared, making, ctx))))
        told += _figures(count, ctx)
    else:
        add("method", *sewing)
        told += [*_figures(count, ctx), *pressed]
    add("trim", *([] if images.made_before(count) else _trim(count, ctx)))
    if is_box(making):
        told.append(Told("measure 0", (Callout("checkpoint", measure(count, ctx)),), measured=_measured(count, ctx)))
    add("remedy", *(Callout("remedy", text) for text in ([] if before else remedies(making, ctx))))
    add("spare", *_spare(count, ctx))
    if unit is not None:
        add("after", *prose_blocks(unit.prose, ("after", "tip", "caution"), ctx))
    return told


def _figures(count: Count, ctx: Context) -> list[Told]:
    """The drawings of a step; of a unit in several sizes with what is drawn but for the way its seams are pressed."""
    making = count.making
    bare: Bare | None = None
    if making.role in ("unit", "block") and ctx.many > 1:
        bare = unpressed(making)
        if making.recipe.method.in_strips:
            bare = (*bare, shared_strips.drawn(count, ctx), shared_strips.made_before(count, ctx))
    run = row_run(making) if making.role == "row" and ctx.many > 1 else None
    return [Told(f"figure {i}", (b,), bare=bare, run=run) for i, b in enumerate(step_figures(count, ctx))]


def row_run(row: Making) -> PartRun | None:
    """What lies in a row from left to right, whatever its size; nothing where its seams are no simple run."""
    if [(s.left, s.right) for s in row.seams] != [(tuple(range(i)), (i,)) for i in range(1, len(row.parts))]:
        return None
    if any(s.spun for s in row.seams):
        return None
    parts = tuple((_shows(p.what), p.place.turned, p.place.mirrored) for p in row.parts)
    return parts, tuple(s.pressed for s in row.seams)


def _shows(part: Part) -> object:
    """A part as it is drawn, but for its size: its name, and its fabrics piece by piece."""
    if isinstance(part, Cloth):
        return part.fabric
    inner = tuple((_shows(p.what), p.place.turned, p.place.mirrored) for p in part.parts)
    return _what(part), part.version, part.kind, inner


def unpressed(making: Making) -> Bare:
    """All of a unit that is drawn, parts within parts, but for the way its seams are pressed."""
    parts = tuple((unpressed(p.what) if isinstance(p.what, Making) else p.what, p.place) for p in making.parts)
    seams = tuple((s.start, s.end, s.left, s.right, s.path) for s in making.seams)
    return making.kind, _what(making), making.outline, parts, seams


def _what(making: Making) -> object:
    """What a making is in every size: her unit (of whatever arguments), or the part of the quilt."""
    key = making.key
    return key.name if isinstance(key, OwnKey) else (key.unit, key.piece, key.mirrored)


def is_sashing(part: Part) -> bool:
    """Whether a part of a quilt's centre is a sashing row, or a long strip of sashing between its rows."""
    if isinstance(part, Cloth):
        return part.name == LONG_SASHING
    return part.key == OwnKey(SASHING_ROW)


def base_title(making: Making, ctx: Context) -> str:
    """The title of the unit that a mirrored one is the mirror of."""
    unit = ctx.pattern.units.get(making.key.of)
    return unit.title if unit is not None else str(making.key.plain)


def sewn(making: Making, ctx: Context) -> str:
    """What a step is for, without its number: ``Corner``, ``Sew on border 1``."""
    if making.recipe.method.around == "borders":
        assert isinstance(making.key, OwnKey)
        border = ctx.names.of(border_of(making.key.name))
        return ctx.say("step.border_title", border=border, alone=ctx.names.alone)
    return ctx.say("step.sew_title", title=ctx.title(making))


def title(counts: list[Count], ctx: Context) -> str:
    """``Corner: make 72``, with a number for each size; rows and the top are just named."""
    making = counts[0].making
    if making.recipe.method.around == "borders":
        return sewn(making, ctx)
    needed = [str(c.needed) for c in counts]
    n = needed[0] if len(set(needed)) == 1 else " / ".join(needed)
    named = making.role == "row" and making.key != OwnKey(SASHING_ROW)
    return ctx.say(
        "step.sew_title" if making.role in ("centre", "quilt") or (named and n == "1") else "step.make_title",
        title=ctx.title(making),
        n=n,
    )


def method(count: Count, ctx: Context) -> list[str]:
    """How to sew, in the words of the recipe's phrase."""
    making, recipe = count.making, count.making.recipe
    values = {
        "seam": ctx.seam,
        "makes": recipe.yields + recipe.mirrored,
        "needed": count.needed,
        "batches": count.batches,
        "yields": count.yields,
        "sashed": any(is_sashing(p.what) for p in making.parts),
        "outer": bool(making.parts) and is_sashing(making.parts[0].what),
        "half": (making.width + ctx.seam * 2) / 2,
        **msgspec.structs.asdict(recipe.numbers),
        **rounds.values(making, ctx),
    }
    batch = ctx.makers[making.thing].batches[0][0]
    lines = passages_told(batch, making, values, ctx)
    if recipe.method.in_strips and count.shared is None:
        lines += [
            ctx.say("method.strips_cut", unit=recipe.strip_unit, segment=recipe.segment, **values),
            ctx.say(
                "method.strips_half" if count.half else "method.strips_yield",
                spare=count.spare,
                halves=count.half,
                **values,
            ),
        ]
    if recipe.mirrored:
        lines.append(images.beside(count, ctx))
    if making.kind == "border":
        lines += _border_order(making, ctx)
    return lines


def _border_order(making: Making, ctx: Context) -> list[str]:
    if len(making.parts) != 5:
        return []
    upright = making.seams[0].start[0] == making.seams[0].end[0]
    sides, ends = (ctx.say(f"names.border_{which}", n="", many=False) for which in ("sides", "top"))
    first, second = (sides, ends) if upright else (ends, sides)
    return [ctx.say("method.border_order", first=first, second=second)]


def _trim(count: Count, ctx: Context) -> list[Block]:
    recipe, batch = count.making.recipe, ctx.makers[count.making.thing].batches[0][0]
    trim = last_trim(count.making, ctx)
    if trim is None:
        return []
    w, h = trim.width, trim.height
    if recipe.method.in_strips:
        return [Paragraph(ctx.say("step.trim_strips", w=w, h=h))]
    if recipe.sewn is None:
        text = ctx.say("step.trim_only", n=count.needed, w=w, h=h)
    else:
        sw, sh = recipe.sewn
        key = "step.trim_hair" if max(sw - w, sh - h) < HAIR else "step.trim"
        text = ctx.say(key, n=count.needed, sw=sw, sh=sh, w=w, h=h)
    return [Paragraph(f"{text} {ruler_told(trim, batch, ctx)}")]


def measure(count: Count, ctx: Context) -> str:
    """What a unit must measure, and what its strips must show."""
    making = count.making
    w, h = ctx.raw(making)
    told = _measured(count, ctx)
    text = ctx.say(
        "step.measures",
        n=2 if told.many else 1,
        w=w,
        h=h,
        finished=bool(told.finishes),
        fw=making.width,
        fh=making.height,
    )
    return f"{text} {told.shows}".rstrip()


def _measured(count: Count, ctx: Context) -> Measured:
    """The same apart, so that several sizes can be told in one sentence."""
    making = count.making
    finishes = making.role in ("block", "quilt", "centre", "border")
    shown = visible(making, ctx)
    kind = "strips" if making.recipe.method.in_strips else making.kind
    key = {"strips": "step.shows", "row": "step.shows_row"}.get(kind, "step.shows_column")
    return Measured(
        count.needed > 1 or ctx.several,
        ctx.measures(making),
        ctx.phrases.by(making.width, making.height) if finishes else "",
        ctx.say(key, widths=shown) if shown else rounds.shown(making, ctx),
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
        along = [p[axis] for p in part.place.outline(part.what.outline)]
        widths.append(max(along) - min(along) + (ctx.seam if i in (0, len(plain) - 1) else Length(0)))
    return widths


def visible(making: Making, ctx: Context) -> str:
    """The same in words, the unit of length once."""
    widths = visible_widths(making, ctx)
    if not widths or making.role not in ("unit", "block"):
        return ""
    return ctx.phrases.row(widths)


def _spare(count: Count, ctx: Context) -> list[Block]:
    if not count.spare or count.making.recipe.method.in_strips:
        return []
    return [Paragraph(ctx.say("step.spare", made=count.made, needed=count.needed, spare=count.spare))]
