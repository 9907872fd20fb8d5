"""The words for how a unit's seams are pressed, from its geometry and its pressed sides."""

from __future__ import annotations

from patternkit.booklet.content.context import Context
from patternkit.piecing.making import Cloth, Making, Seam
from patternkit.piecing.pressing.touching import Touch, touches


def press_sentences(making: Making, ctx: Context) -> list[str]:
    """One sentence where all seams are pressed alike, otherwise one for each row, or each group of seams that is."""
    told = [(i, s, how(making, s, ctx)) for i, s in enumerate(making.seams) if s.pressed != "free"]
    if not told:
        return []
    whole = len(told) == len(making.seams)
    for ways in ([w for *_, w in told], [_direction(s, ctx) for _, s, _ in told]):
        if whole and len(set(ways)) == 1:
            return [_all(ways[0], len(told), ctx)]
    groups: dict[str, list[str]] = {}
    for place, seams in _groups(making, [(i, s) for i, s, _ in told], ctx).items():
        for way in _ways(making, seams, ctx):
            groups.setdefault(way, []).append(place)
    return [ctx.say("press.each", seam=ctx.listed(list(dict.fromkeys(places))), how=way) for way, places in groups.items()]


def how(making: Making, seam: Seam, ctx: Context) -> str:
    """How one seam is pressed, in words: ``open``, ``toward Lamp yellow (B)``, ``to the right``."""
    if seam.pressed == "open":
        return ctx.say("press.open_short")
    left, right = _names(making, seam, ctx)
    mine, other = (left, right) if seam.pressed == "left" else (right, left)
    if len(mine) == 1 and not mine & other and making.role not in ("centre",):
        return ctx.say("press.toward_short", what=next(iter(mine)))
    return _direction(seam, ctx)


def _all(way: str, n: int, ctx: Context) -> str:
    many = ctx.say("press.seam_one" if n == 1 else "press.seam_many")
    if way == ctx.say("press.open_short"):
        return ctx.say("press.open", seams=many)
    return ctx.say("press.all", seams=many, how=way)


def _ways(making: Making, seams: list[Seam], ctx: Context) -> list[str]:
    """One way for a group of seams where there is one, by name or by direction; otherwise each way once."""
    ways = list(dict.fromkeys(how(making, s, ctx) for s in seams))
    sides = list(dict.fromkeys(_direction(s, ctx) for s in seams))
    return sides if len(ways) > 1 and len(sides) == 1 else ways


def _groups(making: Making, seams: list[tuple[int, Seam]], ctx: Context) -> dict[str, list[Seam]]:
    """Seams by where they are: in a row, between two rows, or between what and what."""
    levels = sorted({s.start[1] for _, s in seams if s.start[1] == s.end[1]}) if making.kind == "rows" else []
    found: dict[str, list[Seam]] = {}
    for _, seam in seams:
        if levels and seam.start[1] == seam.end[1]:
            n = levels.index(seam.start[1]) + 1
            place = ctx.say("press.row_between", a=n, b=n + 1)
        elif levels and seam.start[0] == seam.end[0]:
            middle = (seam.start[1] + seam.end[1]) / 2
            place = ctx.say("press.rows_seams", n=sum(1 for y in levels if y < middle) + 1)
        else:
            place = _between(making, seam, ctx)
        found.setdefault(place, []).append(seam)
    return found


def _between(making: Making, seam: Seam, ctx: Context) -> str:
    left, right = _names(making, seam, ctx)
    if len(left) == 1 and len(right) == 1 and left != right:
        a, b = sorted((next(iter(left)), next(iter(right))))
        return ctx.say("press.between", a=a, b=b)
    return f"{ctx.say('press.seam_one')} {making.seams.index(seam) + 1}"


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
        return what.name if making.role in ("border", "quilt") and what.name else ctx.fabric(what.fabric)
    return what.title or what.unit


def _direction(seam: Seam, ctx: Context) -> str:
    """Open, or right, left, up, down: the way the pressed side lies as drawn."""
    if seam.pressed == "open":
        return ctx.say("press.open_short")
    dx, dy = seam.end[0] - seam.start[0], seam.end[1] - seam.start[1]
    # left of (dx, dy) is (dy, -dx) with y down
    x, y = (dy, -dx) if seam.pressed == "left" else (-dy, dx)
    side = ("right" if x > 0 else "left") if abs(x) >= abs(y) else ("down" if y > 0 else "up")
    return ctx.say(f"press.{side}")
