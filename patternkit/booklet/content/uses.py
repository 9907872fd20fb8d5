"""What is cut for what, in words: purposes of the order's cuttings."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.lengths import Length
from patternkit.piecing.keys import OwnKey, Thing
from patternkit.piecing.names import HALF_STRIP, Name
from patternkit.work.model import CutBias, CutByTemplate, CutDiagonally, Cutting, JoinEnds, Purpose, fabric_of

TRIANGLES = {"half": 2, "quarter": 4}
"""How many triangles a rectangle gives that is cut corner to corner once, or twice."""


def called(use: Name | Thing, ctx: Context) -> str:
    """What a piece, or a making, is called."""
    return ctx.names.of(use) if isinstance(use, Name) else ctx.title(ctx.designs[use])


def for_what(use: Purpose, ctx: Context) -> str:
    """What something is cut for; long pieces by each of their names."""
    if use.template and not ctx.angle(use.template):
        names = (ctx.template_names.get((x, use.template)) for x in use.of)  # type: ignore[arg-type]
        return ctx.listed(list(dict.fromkeys(name for name in names if name is not None)))
    if use.joined:
        return ", ".join(each_use(use, ctx))
    title = ctx.listed(list(dict.fromkeys(called(x, ctx) for x in use.of)))
    if use.short is None:
        return title
    return ctx.say("names.half_strip" if use.short == HALF_STRIP else "names.short_strip", title=title)


def each_use(use: Purpose, ctx: Context) -> list[str]:
    """The same, one by one where strips are joined for several long pieces; in one order in all sizes."""
    return sorted({called(x, ctx) for x in use.of}) if use.joined else [for_what(use, ctx)]


def counted(uses: Iterable[tuple[Purpose, int]], ctx: Context) -> str:
    """Purposes with how many for each, where there are several."""
    found: dict[str, int] = {}
    for use, n in uses:
        found[for_what(use, ctx)] = found.get(for_what(use, ctx), 0) + n
    return next(iter(found)) if len(found) == 1 else ", ".join(f"{name} ({n})" for name, n in found.items())


def cut_from(key: str, ctx: Context) -> list[Cutting]:
    """All that is cut from a fabric, line by line, of a group all of its prints; what is cut from joined strips is none
    of it."""
    fabrics = ctx.pattern.fabrics
    return [x for x in ctx.order.cutting if fabrics[fabric_of(x)].cloth == key and not isinstance(x, JoinEnds)]


def uses(key: str, ctx: Context) -> str:
    """All that a fabric is for, each thing once."""
    names = list(dict.fromkeys(name for x in cut_from(key, ctx) for name in each_use(use_of(x), ctx)))
    return ("; " if any(", " in name for name in names) else ", ").join(names)


def count_of(cutting: Cutting) -> int:
    """How many are cut; a bias binding is cut from one piece."""
    return 1 if isinstance(cutting, CutBias) else cutting.count


def use_of(cutting: Cutting) -> Purpose:
    """What a cutting is for."""
    assert not isinstance(cutting, JoinEnds)
    return cutting.use


def in_any_size(use: Purpose, ctx: Context) -> Purpose:
    """A purpose as it is in every size: rows that go by one name for all have the number of their first."""

    def one(x: Name | Thing) -> Name | Thing:
        name = x if isinstance(x, Name) else x.key.name if isinstance(x.key, OwnKey) else None
        if name is None or name.what != "row" or name.numbers not in ctx.names.every_other:
            return x
        return msgspec.structs.replace(name, numbers=name.numbers[:1])

    return msgspec.structs.replace(use, of=tuple(map(one, use.of)))


def so_many(n: int, size: tuple[Length, Length], trimmed: Length | None, ctx: Context) -> str:
    """How many pieces of what size, and what they are trimmed to: ``4 of 13.5 x 12 cm, trimmed to 13.5 cm``."""
    return ctx.say(
        "cutting.piece" if trimmed is None else "cutting.trimmed", n=n, size=ctx.phrases.by(*size), h=trimmed
    )


class Beside(NamedTuple):
    """How many shapes lie side by side, whether they are turned about by turns, whether the template lies face down, or
    by which angle of the ruler they are cut; how wide and long bias strips are that are cut so. None of anything
    else."""

    each: int = 0
    by_turns: bool = False
    down: bool = False
    angle: int = 0
    bias: tuple[Length, Length] | None = None


def lain_side_by_side(cutting: Cutting, ctx: Context) -> Beside:
    """How shapes lie side by side."""
    if not isinstance(cutting, CutByTemplate) or not cutting.each:
        return Beside()
    return Beside(cutting.each, cutting.by_turns, cutting.face == "down", ctx.angle(cutting.piece.template),
                  ctx.bias_strip(cutting.piece.template))  # fmt: skip


def side_by_side(runs: int, size: tuple[Length, Length], lain: Beside, ctx: Context) -> str:
    """How many shapes are cut by the template side by side, or by the ruler, in how long a strip."""
    values = {"n": lain.each, "runs": runs, "size": ctx.phrases.by(*size), "turned": lain.by_turns}
    if lain.bias is not None:
        return ctx.say("cutting.run_bias", angle=lain.angle, w=lain.bias[0], long=lain.bias[1], **values)
    if lain.angle:
        return ctx.say("cutting.run_ruled", angle=lain.angle, **values)
    return ctx.say("cutting.run", down=lain.down, **values)


def becomes(cutting: Cutting, ctx: Context) -> str:
    """What is done next with what is cut: ``half``, ``quarter``, ``template``, the angle by which it is cut from a
    strip (``60``) or nothing."""
    if isinstance(cutting, CutDiagonally):
        return "half" if cutting.ways == 1 else "quarter"
    if not isinstance(cutting, CutByTemplate):
        return ""
    return str(ctx.angle(cutting.piece.template) or "template")


def and_then(then: str, n: int, leans: str, ctx: Context) -> str:
    """What is done with `n` pieces next, after a comma; nothing where they stay as they are."""
    if then in TRIANGLES:
        return f", {ctx.say(f'cutting.{then}', n=n * TRIANGLES[then], leans=leans)}"
    if then.isdecimal():
        return f", {ctx.say('cutting.ruled', angle=int(then))}"
    return f", {ctx.say('cutting.template')}" if then == "template" else ""
