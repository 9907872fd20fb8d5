"""The words for how a unit's seams are pressed, from its geometry and its pressed sides."""

from __future__ import annotations

from patternkit.booklet.content.context import Context
from patternkit.piecing.making import Cloth, Making, Seam
from patternkit.piecing.pressing.touching import Touch, touches


def press_sentences(making: Making, ctx: Context) -> list[str]:
    """One sentence where all seams are pressed alike, otherwise one for each seam or group that is."""
    told = [(i, s, how(making, s, ctx)) for i, s in enumerate(making.seams) if s.pressed != "free"]
    if not told:
        return []
    ways = {w for _, _, w in told}
    if len(ways) == 1 and len(told) == len(making.seams):
        way = told[0][2]
        if way == ctx.say("press.open_short"):
            word = "seam_one" if len(told) == 1 else "seam_many"
            return [ctx.say("press.open", seams=ctx.say(f"press.{word}"))]
        return [ctx.say("press.toward", what=_what(way, ctx))] if way.startswith(_toward(ctx)) else \
            [ctx.say("press.each", seam=ctx.say("press.seam_many" if len(told) > 1 else "press.seam_one"), how=way)]
    groups: dict[str, list[str]] = {}
    for _, seam, way in told:
        groups.setdefault(way, []).append(_where(making, seam, ctx))
    return [ctx.say("press.each", seam=ctx.listed(list(dict.fromkeys(places))), how=way) for way, places in groups.items()]


def how(making: Making, seam: Seam, ctx: Context) -> str:
    """How one seam is pressed, in words: ``open``, ``toward Lamp yellow (B)``, ``to the right``."""
    if seam.pressed == "open":
        return ctx.say("press.open_short")
    names = _names(making, seam, ctx)
    mine = names[0] if seam.pressed == "left" else names[1]
    other = names[1] if seam.pressed == "left" else names[0]
    if len(mine) == 1 and not mine & other:
        return ctx.say("press.toward_short", what=next(iter(mine)))
    return ctx.say("press.side_short", side=ctx.say(f"press.{_side(seam)}"))


def _toward(ctx: Context) -> str:
    return ctx.say("press.toward_short", what="").rstrip()


def _what(way: str, ctx: Context) -> str:
    return way[len(_toward(ctx)):].strip()


def _names(making: Making, seam: Seam, ctx: Context) -> tuple[set[str], set[str]]:
    """What touches the seam on its left and right: printed fabrics, or unit titles."""
    memo: dict[object, list[Touch]] = {}
    found = []
    for side in (seam.left, seam.right):
        found.append({_called(making, i, ctx) for i in side
                      if touches(making.parts[i], seam.start, seam.end, memo)})
    return found[0], found[1]


def _called(making: Making, part: int, ctx: Context) -> str:
    what = making.parts[part].what
    if isinstance(what, Cloth):
        return ctx.fabric(what.fabric)
    return what.title or what.unit


def _side(seam: Seam) -> str:
    """Right, left, up or down: the way the pressed side lies as drawn."""
    dx, dy = seam.end[0] - seam.start[0], seam.end[1] - seam.start[1]
    # left of (dx, dy) is (dy, -dx) with y down
    x, y = (dy, -dx) if seam.pressed == "left" else (-dy, dx)
    if abs(x) >= abs(y):
        return "right" if x > 0 else "left"
    return "down" if y > 0 else "up"


def _where(making: Making, seam: Seam, ctx: Context) -> str:
    left, right = _names(making, seam, ctx)
    if len(left) == 1 and len(right) == 1 and left != right:
        return ctx.say("press.between", a=next(iter(left)), b=next(iter(right)))
    number = making.seams.index(seam) + 1
    return f"{ctx.say('press.seam_one')} {number}"
