"""Finishing: layers, backing and its seams, batting, binding, sleeve."""

from __future__ import annotations

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.edges import BASTED, edge_panels
from patternkit.booklet.content.extras import extra_panels
from patternkit.booklet.content.joined import rest_facts
from patternkit.booklet.content.merged import merge
from patternkit.booklet.content.panels import Panel, lines
from patternkit.booklet.content.prose import prose_blocks
from patternkit.booklet.phrases import Sentence
from patternkit.document import Block
from patternkit.lengths import Length
from patternkit.work.model import Bind, CutBias, EdgeFinish, Panels, RoundedCorners, Sleeve

LABELS = ("label", "etikett", "schild")
"""What a label is called where the pattern has one of its own; then the usual sentence is left out."""


def finishing_blocks(ctx: Context) -> list[Block]:
    """What is done after the top, as far as the pattern says; several sizes together."""
    if ctx.top is None:
        return []
    blocks = merge([(c, _panels(c)) for c in ctx.sizes or (ctx,)], ctx)
    if ctx.pattern.quilt is not None:
        blocks += prose_blocks(ctx.pattern.quilt.prose, ("finishing", "after"), ctx)
    return blocks + list(prose_blocks(ctx.pattern.settings.prose, ("finishing", "after"), ctx))


def _panels(ctx: Context) -> list[Panel]:
    say, state, finish = ctx.say, ctx.state, ctx.order.finish
    found: list[Panel] = []
    for done in finish:
        if isinstance(done, Panels) and done.what == "backing":
            (w, h), fabric = done.trimmed, ctx.fabric(done.fabric) if done.fabric else say("buy.backing_use")
            seams = say(f"finish.backing_{'vertical' if done.upright else 'horizontal'}")
            key = "finish.backing_none" if done.count == 1 else "finish.backing_panels"
            values = {"fabric": fabric, "w": w, "h": h, "over": done.beyond, "n": done.count, "length": done.length}
            values |= {"last": done.last}
            strip = done.between
            if strip is not None:
                key = "finish.backing_strip"
                values |= {"other": ctx.fabric(strip.fabric), "strip": strip.strip, "k": strip.count}
                values |= {"upright": done.upright, **rest_facts(strip, ctx)}
            found += lines("backing", state(key, **values, seam=done.seam, seams=seams))
        elif isinstance(done, Panels):
            found += lines("batting", state("finish.batting", w=done.trimmed[0], h=done.trimmed[1]))
    borders = len(ctx.pattern.quilt.borders) if ctx.pattern.quilt is not None else 0
    backed = any(isinstance(done, Panels) and done.what == "backing" for done in finish)
    found += lines("quilted", state("finish.quilted" if backed else "finish.quilted_plain"))
    for done in finish:
        if isinstance(done, EdgeFinish) and not (done.what in BASTED and done.after < borders):
            found += edge_panels(done, ctx)
    rounded = next((done for done in finish if isinstance(done, RoundedCorners)), None)
    if rounded is not None:
        found += lines("rounded", state("finish.rounded", radius=rounded.radius, raw=rounded.raw))
    for done in finish:
        if isinstance(done, Bind):
            how = "binding_sew" if rounded is None else "binding_sew_round"
            found += [
                *lines("binding", _binding(done, ctx)),
                *lines("sewn on", state(f"finish.{how}", half=done.strip / 2)),
            ]
        elif isinstance(done, Sleeve):
            values = {"n": done.count, "fabric": ctx.fabric(done.fabric), "h": done.strip, "length": done.length}
            values |= {"along": done.along, "bound": any(isinstance(x, Bind) for x in finish)}
            found += lines("sleeve", state("finish.sleeve", **values, **rest_facts(done, ctx)))
    quilt = ctx.pattern.quilt
    found += extra_panels(quilt.also, None, ctx) if quilt is not None else []
    own = quilt is not None and any(word in also.title.lower() for also in quilt.also for word in LABELS)
    return found if own else [*found, *lines("label", state("finish.label"))]


def _binding(done: Bind, ctx: Context) -> Sentence:
    """How the binding is joined: from strips across the cloth, or from what is cut on the bias."""
    values = {"fabric": ctx.fabric(done.fabric), "width": done.strip, "total": done.length, "straight": done.straight}
    values |= {"n": done.count, "perimeter": done.perimeter, "allowance": done.allowance}
    bias = next((x for x in ctx.order.cutting if isinstance(x, CutBias)), None)
    if bias is None:
        return ctx.state("finish.binding", **values, **rest_facts(done, ctx))
    values |= {"n": bias.count, "square": bias.square, "rounds": bias.rounds, "length": bias.length}
    values |= {"along": bias.lies is not None and bias.lies[1] > bias.lies[0]}
    gives = Length(bias.gives.floor_to(ctx.units.inches))
    if gives < done.length:  # whole units are told where they are enough
        gives = Length(bias.gives.floor_to(ctx.pattern.settings.ruler))
    return ctx.state("finish.binding_slanted" if bias.square is None else "finish.binding_bias", **values, gives=gives)
