"""The numbered steps: each unit with what to take, how to sew, which way to press, what it must measure, how many."""

from __future__ import annotations

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.figures import step_figures
from patternkit.booklet.content.prose import prose_blocks
from patternkit.booklet.content.pressing import press_sentences
from patternkit.booklet.document import Block, Bullets, Callout, Paragraph, Step
from patternkit.lengths import Length
from patternkit.piecing.making import Cloth, Cut, Making
from patternkit.plan.counts import Count
from patternkit.units import number


def unit_step(index: int, count: Count, ctx: Context) -> Step:
    """One step of the booklet."""
    making = count.making
    unit = ctx.pattern.units.get(making.key)
    blocks: list[Block] = []
    if unit is not None:
        blocks += prose_blocks(unit.prose, ("note", "before"), ctx)
    blocks += [Bullets(tuple(take(count, ctx)))] if take(count, ctx) else []
    blocks += [Paragraph(text) for text in method(count, ctx)]
    blocks += step_figures(making, ctx)
    pressed = press_sentences(making, ctx)
    if pressed:
        blocks.append(Paragraph(" ".join(pressed)))
    blocks += _outcome(count, ctx)
    if unit is not None:
        blocks += prose_blocks(unit.prose, ("after", "tip", "caution"), ctx)
    return Step(index, title(count, ctx), tuple(blocks))


def title(count: Count, ctx: Context) -> str:
    """``Corner: make 72``; rows and the top are just named."""
    making = count.making
    name = making.title or making.unit
    name = name[:1].upper() + name[1:]
    if making.role in ("unit", "block", "row", "border strip"):
        return ctx.say("step.make_title", title=name, n=count.needed)
    return ctx.say("step.sew_title", title=name)


def take(count: Count, ctx: Context) -> list[str]:
    """What to take for one batch: cut pieces and units, one item a line."""
    making, recipe = count.making, count.making.recipe
    items: list[str] = []
    for cut in recipe.cuts:
        items.append(cut_item(cut, ctx))
    made: dict[int, tuple[Making, int]] = {}
    for part in making.parts:
        if isinstance(part.what, Making):
            n = made.get(id(part.what), (part.what, 0))[1]
            made[id(part.what)] = (part.what, n + 1)
    for what, n in made.values():
        w, h = ctx.raw(what)
        items.append(ctx.say("step.item", n=n, what=f"{what.title or what.unit} ({ctx.phrases.by(w, h)})"))
    return items


def cut_item(cut: Cut, ctx: Context) -> str:
    """One cut of a recipe in words."""
    fabric = ctx.fabric(cut.fabric)
    if cut.then == "strip":
        return ctx.say("step.strip_item", n=cut.count, fabric=fabric, h=cut.height)
    if cut.then == "template":
        return ctx.say("step.template_item", n=cut.count, fabric=fabric, name=cut.name or fabric)
    text = ctx.say("step.cut_item", n=cut.count, shape=ctx.shape(cut.width, cut.height, cut.count), fabric=fabric,
                   w=cut.width, h=cut.height)
    if cut.then:
        pieces = cut.count * (2 if cut.then == "half" else 4)
        text += ", " + ctx.say(f"cutting.{cut.then}", n=pieces)
    return text + (f" ({cut.name})" if cut.name else "")


def method(count: Count, ctx: Context) -> list[str]:
    """How to sew, in the words of the recipe's phrase."""
    making, recipe = count.making, count.making.recipe
    seam = ctx.pattern.settings.seam
    values = {"seam": seam, "half": seam, "makes": recipe.yields, "needed": count.needed, "batches": count.batches,
              "yields": count.yields}
    if recipe.phrase == "joins":
        return [ctx.say(f"method.joins_{recipe.values.get('shape', 'rows')}")] if making.seams else \
            [ctx.say("method.patch")]
    if recipe.phrase == "strips" and recipe.segment is not None and recipe.strip_unit is not None:
        n = len(making.seams)
        how = "one" if n == 1 else "outward" if n % 2 == 0 else "pairs"
        return [ctx.say(f"method.strips_{how}"),
                ctx.say("method.strips_cut", unit=recipe.strip_unit, segment=recipe.segment, **values)]
    key = f"method.{recipe.phrase}"
    if not ctx.phrases.has(key):
        return []
    lines = [ctx.say(key, **values)] if making.seams else []
    if recipe.values.get("mirror images"):
        lines.append(ctx.say("method.mirror_images", n=recipe.values["mirror images"], makes=recipe.yields))
    if recipe.phrase == "half-rectangle-pairs" and recipe.values.get("offset"):
        lines.append(ctx.say("method.tips_apart", offset=recipe.values["offset"], mark=recipe.values["mark"]))
    if recipe.phrase == "border" and making.seams:
        lines.append(_border_order(making, ctx))
    return lines


def _border_order(making: Making, ctx: Context) -> str:
    names = [p.what.name if isinstance(p.what, Cloth) else p.what.title for p in making.parts[1:]]
    return ctx.say("method.border_order", first=names[0], second=names[2]) if len(names) == 4 else ""


def _outcome(count: Count, ctx: Context) -> list[Block]:
    making, recipe = count.making, count.making.recipe
    w, h = ctx.raw(making)
    blocks: list[Block] = []
    if recipe.trim_to and recipe.sewn and recipe.phrase != "strips":
        blocks.append(Paragraph(ctx.say("step.trim", n=count.needed, sw=recipe.sewn[0], sh=recipe.sewn[1],
                                        w=recipe.trim_to[0], h=recipe.trim_to[1])))
    texts = [ctx.say("step.measures", n=count.needed, w=w, h=h, finished=making.role in ("block", "quilt", "centre"),
                     fw=making.width, fh=making.height)]
    if recipe.phrase == "strips" and len(making.parts) > 1:
        texts.append(ctx.say("step.shows", widths=visible(making, ctx)))
    blocks.append(Callout("checkpoint", " ".join(texts)))
    if count.spare and recipe.phrase != "strips":
        blocks.append(Paragraph(ctx.say("step.spare", made=count.made, needed=count.needed, spare=count.spare)))
    return blocks


def visible(making: Making, ctx: Context) -> str:
    """What each strip of a strip unit shows: its finished width, and a seam more at the two outer edges."""
    widths = []
    last = len(making.parts) - 1
    for i, part in enumerate(making.parts):
        if isinstance(part.what, Cloth):
            xs = [p[0] for p in part.what.outline]
            shown: Length = max(xs) - min(xs)
            if i in (0, last):
                shown = shown + ctx.pattern.settings.seam
            widths.append(number(shown, ctx.units))
    return f"{', '.join(widths)} {ctx.units.sign}"
