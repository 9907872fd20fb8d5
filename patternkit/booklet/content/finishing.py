"""Finishing: layers, backing and its seams, batting, binding, sleeve."""

from __future__ import annotations

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.prose import prose_blocks
from patternkit.booklet.document import Block, Paragraph


def finishing_blocks(ctx: Context) -> list[Block]:
    """What is done after the top, as far as the pattern says."""
    plan, say = ctx.plan, ctx.say
    if ctx.top is None:
        return []
    blocks: list[Block] = []
    if plan.backing is not None:
        b = plan.backing
        cloth = ctx.fabric(b.fabric) if b.fabric else say("buy.backing").lower()
        if b.seams == "none":
            blocks.append(Paragraph(say("finish.backing_none", w=b.width, h=b.height, fabric=cloth, over=b.overage)))
        else:
            blocks.append(Paragraph(say("finish.backing_panels", n=b.panels, fabric=cloth, length=b.length,
                                        seams=say(f"finish.backing_{b.seams}"), seam=b.seam, w=b.width, h=b.height,
                                        over=b.overage)))
    if plan.batting is not None:
        blocks.append(Paragraph(say("finish.batting", w=plan.batting[0], h=plan.batting[1])))
    blocks.append(Paragraph(say("finish.quilted")))
    if plan.binding is not None:
        x = plan.binding
        values = {"n": x.strips, "fabric": ctx.fabric(x.fabric), "width": x.width, "perimeter": x.perimeter,
                  "allowance": x.allowance, "total": x.perimeter + x.allowance}
        if x.square is not None:
            blocks.append(Paragraph(say("finish.binding_bias", square=x.square, **values)))
        else:
            blocks.append(Paragraph(say("finish.binding", **values)))
        blocks.append(Paragraph(say("finish.binding_sew")))
    if plan.sleeve is not None:
        s = plan.sleeve
        blocks.append(Paragraph(say("finish.sleeve", n=s.strips, fabric=ctx.fabric(s.fabric), h=s.height,
                                    length=s.lengths[0][0])))
    blocks.append(Paragraph(say("finish.label")))
    if ctx.pattern.quilt is not None:
        blocks += prose_blocks(ctx.pattern.quilt.prose, ("finishing", "after"), ctx)
    return blocks
