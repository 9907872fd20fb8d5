"""Finishing: layers, backing and its seams, batting, binding, sleeve."""

from __future__ import annotations

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.merged import merge
from patternkit.booklet.content.panels import Panel, lines
from patternkit.booklet.content.prose import prose_blocks
from patternkit.booklet.phrases import Sentence
from patternkit.document import Block
from patternkit.lengths import Length


def finishing_blocks(ctx: Context) -> list[Block]:
    """What is done after the top, as far as the pattern says; several sizes together."""
    if ctx.top is None:
        return []
    blocks = merge([(c, _panels(c)) for c in ctx.sizes or (ctx,)], ctx)
    if ctx.pattern.quilt is not None:
        blocks += prose_blocks(ctx.pattern.quilt.prose, ("finishing", "after"), ctx)
    return blocks + list(prose_blocks(ctx.pattern.settings.prose, ("finishing", "after"), ctx))


def _panels(ctx: Context) -> list[Panel]:
    plan, say, state = ctx.plan, ctx.say, ctx.state
    found: list[Panel] = []

    def add(slot: str, sentence: Sentence) -> None:
        found.extend(lines(slot, sentence))

    if plan.backing is not None:
        b = plan.backing
        values = {
            "fabric": ctx.fabric(b.fabric) if b.fabric else say("buy.backing_use"),
            "w": b.width,
            "h": b.height,
            "over": b.overage,
            "n": b.panels,
            "length": b.length,
            "seam": b.seam,
        }
        if b.seams != "none":
            values["seams"] = say(f"finish.backing_{b.seams}")
        add("backing", state("finish.backing_none" if b.seams == "none" else "finish.backing_panels", **values))
    if plan.batting is not None:
        add("batting", state("finish.batting", w=plan.batting[0], h=plan.batting[1]))
    add("quilted", state("finish.quilted" if plan.backing is not None else "finish.quilted_plain"))
    if plan.binding is not None:
        x = plan.binding
        way = "binding_bias" if x.square is not None else "binding_slanted" if x.bias else "binding"
        values = {
            "n": x.strips,
            "fabric": ctx.fabric(x.fabric),
            "width": x.width,
            "perimeter": x.perimeter,
            "allowance": x.allowance,
            "total": x.total,
            "straight": x.straight,
            "square": x.square,
            "rounds": x.rounds,
            "length": x.length,
            "gives": Length(x.gives.floor_to(ctx.units.inches)),
        }
        add("binding", state(f"finish.{way}", **values))
        add("binding sew", state("finish.binding_sew", half=x.width / 2))
    if plan.sleeve is not None:
        s = plan.sleeve
        add(
            "sleeve",
            state("finish.sleeve", n=s.strips, fabric=ctx.fabric(s.fabric), h=s.height, length=s.lengths[0][0]),
        )
    add("label", state("finish.label"))
    return found
