"""The words for how a unit's seams are pressed, from its geometry and its pressed sides."""

from __future__ import annotations

from itertools import pairwise
from typing import Literal, NamedTuple

from patternkit.booklet.content.context import Context
from patternkit.booklet.phrases import Listing, Sentence
from patternkit.piecing.keys import OwnKey
from patternkit.piecing.making import Cloth, Making, Part, Seam
from patternkit.piecing.names import END_TRIANGLE, SASHES
from patternkit.pressing.touching import touches

Ways = tuple[tuple[Listing | None, Sentence], ...]
"""Where seams are pressed, and which way; no place where one sentence says it of all."""


COUNTED = {"row": "row", "column": "column", "diagonal-row": "diagonal", "diagonal-sashing": "diagonal"}
"""Makings whose seams are counted along them, with where from."""


class PressedAt(NamedTuple):
    """Where seams lie that are told together: in a row, between two rows (`n` and the next), between two diagonal rows,
    at the corners, at a side of a border; by the seam's own number; or in `words` that name what meets there."""

    where: Literal["row", "between", "diagonal", "corner", "side", "seam", "words"]
    n: int = 0
    words: Sentence | None = None


def press_sentences(ways: Ways) -> tuple[Sentence, ...]:
    """One sentence where all seams are pressed alike, otherwise one for each group of rows that is."""
    return tuple(Sentence("press.each", (("place", place), ("how", how))) if place else how for place, how in ways)


def press_ways(making: Making, ctx: Context) -> Ways:
    """Where and which way seams are pressed, as pairs; one whole sentence, with no place, where all are pressed
    alike."""
    pressed = [(i, s) for i, s in enumerate(making.seams) if s.pressed != "free"]
    if not pressed:
        return ()
    if len(pressed) == len(making.seams):
        whole = _whole(making, ctx)
        if whole:
            return ((None, whole),)
    groups: dict[Sentence, list[PressedAt]] = {}
    for place, seams in _clear_groups(making, pressed, ctx).items():
        groups.setdefault(_ways(making, [s for _, s in seams], ctx)[0], []).append(place)
    return tuple((_places(places, making, ctx), way) for way, places in groups.items())


def numbered_seams(making: Making, ctx: Context) -> tuple[int, ...]:
    """The seams (from 1) that the words tell by number, so that the drawing must show the numbers.

    Seams of a row or a column are counted along it and need none.
    """
    pressed = [(i, s) for i, s in enumerate(making.seams) if s.pressed != "free"]
    if making.kind in COUNTED or making.kind == "border" or (len(pressed) == len(making.seams) and _whole(making, ctx)):
        return ()
    places = _clear_groups(making, pressed, ctx)
    return tuple(n for kind, n, _ in places if kind == "seam" and n != _last(making, list(places)))


def _last(making: Making, places: list[PressedAt]) -> int:
    """The number of a unit's last seam where it alone goes by number: it is called the last one."""
    alone = [n for kind, n, _ in places if kind == "seam"]
    return alone[0] if alone == [len(making.seams)] else 0


def version_sentence(making: Making, ctx: Context) -> Sentence | None:
    """How many of a unit are pressed which way, where it comes in two versions: ``Make 12 pressed out, 13 pressed
    in.``"""
    names = ctx.names.versions.get(making.key)
    if names is None:
        return None
    needed = {c.making.version: c.needed for c in ctx.plan.counts if c.making.key == making.key}
    title = ctx.names.base(making)
    called = [(needed.get(v, 0), ctx.names.version(name)) for v, name in enumerate(names) if name]
    if len(called) > 2:
        items = Listing(tuple(f"{n} {name}" for n, name in called))
        return ctx.state("press.many_versions", title=title, n=len(called), items=items)
    (a, first), (b, second) = called
    return ctx.state("press.versions", title=title, a=a, first=first, b=b, second=second)


def how(making: Making, seam: Seam, ctx: Context) -> Sentence:
    """How one seam is pressed: ``open``, ``toward Lamp yellow (B)``, ``to the right``."""
    if seam.spun is not None:
        return ctx.state("press.spun_short")
    if seam.pressed == "open":
        return ctx.state("press.open_short")
    left, right = _names(making, seam, ctx)
    mine, other = (left, right) if seam.pressed == "left" else (right, left)
    if len(mine) == 1 and not mine & other and (making.role != "centre" or making.kind != "rows"):
        return ctx.state("press.toward_short", what=next(iter(mine)))
    if len(other) == 1 and len(mine) > 1 and not mine & other and making.role in ("unit", "block"):
        return ctx.state("press.away_short", what=next(iter(other)))
    return _direction(seam, ctx)


def _whole(making: Making, ctx: Context) -> Sentence | None:
    """One sentence for all seams of a making, or nothing when they differ."""
    seams = making.seams
    if making.kind == "border" and len({_outward(s) for s in seams}) == 1:
        return ctx.state(
            "press.border" if _outward(seams[0]) else "press.border_in", own=isinstance(making.key, OwnKey)
        )
    if (
        making.kind == "mitred-border"
        and all(_outward(s) for s in seams[:4])
        and {s.pressed for s in seams[4:]} == {"open"}
    ):
        return ctx.state("press.mitred")
    if making.kind == "rows" and making.role in ("centre", "quilt") and len(seams) > 2:
        ways = [_direction(s, ctx) for s in sorted(seams, key=lambda s: s.start[1])]
        if len(set(ways)) == 2 and all(a != b for a, b in pairwise(ways)):
            return ctx.state("press.alternate", first=ways[0], second=ways[1])
    to = _one_way(making, ctx)
    if to:
        return ctx.state("press.one_way", what=to)
    many = ctx.state("press.seam_one" if len(seams) == 1 else "press.seam_many")
    for each in ([how(making, s, ctx) for s in seams], [_direction(s, ctx) for s in seams]):
        if len(set(each)) == 1 and making.kind != "border":
            return ctx.state("press.all", seams=many, how=each[0], n=len(seams))
    if making.kind in ("row", "column") and len(seams) > 2:
        ways = [_direction(s, ctx) for s in _along(making)]
        if len(set(ways)) == 2 and all(a != b for a, b in pairwise(ways)):
            start = ctx.state(f"press.from_{making.kind}")
            return ctx.state("press.by_turns", first=ways[0], second=ways[1], start=start)
    centre = making.parts[0].what
    if (
        making.role in ("unit", "block")
        and isinstance(centre, Cloth)
        and centre.name is not None
        and len(seams) > 2
        and all(_outward(s) and 0 in (*s.left, *s.right) for s in seams)
    ):
        return ctx.state("press.away", what=ctx.names.of(centre.name), numbered=bool(centre.name.numbers))
    return None


def _one_way(making: Making, ctx: Context) -> str:
    """The last strip of a strip unit whose seams are all pressed to it, from strip to strip; left and right would
    depend on how it lies. Nothing where both its outer strips are of one fabric, or one seam says it all."""
    ways = {_direction(s, ctx) for s in making.seams}
    if (
        not making.recipe.method.in_strips
        or len(making.seams) < 2
        or len(ways) > 1
        or making.seams[0].pressed == "open"
    ):
        return ""
    ends = sorted(making.parts, key=lambda p: min(x for x, _ in p.place.outline(p.what.outline)))
    first, last = (ctx.cloth(getattr(end.what, "fabric", "")) for end in (ends[0], ends[-1]))
    seam = max(making.seams, key=lambda s: s.start[0])
    found = last if making.parts.index(ends[-1]) in (seam.left if seam.pressed == "left" else seam.right) else first
    return found if first != last else ""


def _outward(seam: Seam) -> bool:
    """True when the side away from the inside (part 0) is pressed."""
    inside = seam.left if 0 in seam.left else seam.right
    return seam.pressed in ("left", "right") and (seam.left if seam.pressed == "left" else seam.right) != inside


def _along(making: Making) -> list[Seam]:
    """The seams of a row from left to right, of a column from top to bottom."""
    axis = 1 if making.kind == "column" else 0
    return sorted(making.seams, key=lambda s: s.start[axis] + s.end[axis])


def _ways(making: Making, seams: list[Seam], ctx: Context) -> list[Sentence]:
    """One way for a group of seams where there is one, by name or by direction; otherwise each way once."""
    if making.kind == "on-point":
        return list(dict.fromkeys(_on_point(making, s, ctx) for s in seams))
    if making.kind == "border":
        own = isinstance(making.key, OwnKey)
        return [
            ctx.state("press.to_border" if out else "press.to_quilt", own=own) for out in {_outward(s) for s in seams}
        ]
    ways = list(dict.fromkeys(how(making, s, ctx) for s in seams))
    sides = list(dict.fromkeys(_direction(s, ctx) for s in seams))
    return sides if len(ways) > 1 and len(sides) == 1 else ways


_Numbered = list[tuple[int, Seam]]


def _clear_groups(making: Making, seams: _Numbered, ctx: Context) -> dict[PressedAt, _Numbered]:
    """Seams by where they are, each group pressed one way; what is not is told seam by seam."""
    found: dict[PressedAt, _Numbered] = {}
    for place, group in _groups(making, seams, ctx).items():
        if len(_ways(making, [s for _, s in group], ctx)) == 1:
            found[place] = group
        else:
            found |= {PressedAt("seam", i + 1): [(i, s)] for i, s in group}
    return found


def _groups(making: Making, seams: _Numbered, ctx: Context) -> dict[PressedAt, _Numbered]:
    """Seams by where they are: in a row, between two rows, at a side, or between what and what."""
    levels = sorted({s.start[1] for _, s in seams if s.start[1] == s.end[1]}) if making.kind == "rows" else []
    found: dict[PressedAt, _Numbered] = {}
    for number, seam in seams:
        if levels and seam.start[1] == seam.end[1]:
            place: PressedAt = PressedAt("between", levels.index(seam.start[1]) + 1)
        elif levels and seam.start[0] == seam.end[0]:
            middle = (seam.start[1] + seam.end[1]) / 2
            place = PressedAt("row", sum(1 for y in levels if y < middle) + 1)
        elif making.kind == "border":
            place = PressedAt("side", _side(making, seam))
        elif making.kind == "on-point":
            place = _between_diagonals(making, seam, ctx)
        else:
            place = _between(making, number, seam, ctx)
        found.setdefault(place, []).append((number, seam))
    return found


def _on_point(making: Making, seam: Seam, ctx: Context) -> Sentence:
    """How a seam of a setting on point is pressed: which way it lies, or to or from a corner triangle."""
    if seam.pressed == "open":
        return _direction(seam, ctx)
    where = _between_diagonals(making, seam, ctx)
    if where.words is not None:
        side = seam.left if seam.pressed == "left" else seam.right
        return ctx.state("press.to_sashing" if _is_sashes(making.parts[side[-1]].what) else "press.to_rows")
    if where.where == "diagonal":
        return _direction(seam, ctx)
    side = seam.left if seam.pressed == "left" else seam.right
    corner = isinstance(making.parts[side[-1]].what, Cloth) and len(side) == 1
    return ctx.state("press.to_corners" if corner else "press.to_quilt", own=isinstance(making.key, OwnKey))


def _is_sashes(what: Part) -> bool:
    """Whether a part of a centre on point is sashing between two rows."""
    return what.kind == "diagonal-sashing" if isinstance(what, Making) else what.name in SASHES


def _between_diagonals(making: Making, seam: Seam, ctx: Context) -> PressedAt:
    """Between which two diagonal rows a seam runs, that it runs along sashing, or that it sews on a corner."""
    if max(*seam.left, *seam.right) >= len(making.parts) - 2:
        return PressedAt("corner")
    if any(_is_sashes(making.parts[side[-1]].what) for side in (seam.left, seam.right)):
        return PressedAt("words", words=ctx.state("press.along_sashing"))
    before = making.parts[min(max(seam.left), max(seam.right))].what
    name = before.key.part if isinstance(before, Making) else None
    own = name.numbers if name is not None else ()
    return PressedAt("diagonal", own[0] if own else max(*seam.left, *seam.right))


def _side(making: Making, seam: Seam) -> int:
    """Which side of the quilt a border's seam lies at: left, right, top, bottom, from 0."""
    x, y = (seam.start[0] + seam.end[0]) / 2, (seam.start[1] + seam.end[1]) / 2
    if seam.start[0] == seam.end[0]:
        return 0 if x * 2 < making.width else 1
    return 2 if y * 2 < making.height else 3


def _places(places: list[PressedAt], making: Making, ctx: Context) -> Listing:
    """Several places as the beginning of a sentence: ``In rows 1 and 3``, ``Between rows 1 and 2, and 3 and 4``."""
    places = sorted(dict.fromkeys(places), key=lambda p: (p.where != "row", p))
    found: dict[str, list[int]] = {}
    for kind, n, _ in places:
        found.setdefault(kind, []).append(n)
    last = _last(making, places)
    seams = [n for n in found.get("seam", []) if n != last]
    if making.kind in COUNTED:
        along = _along(making)
        seams = sorted(along.index(making.seams[n - 1]) + 1 for n in seams)
    sentences: list[Sentence] = []
    if "row" in found:
        sentences.append(ctx.state("press.rows_seams", n=len(found["row"]), rows=Listing(tuple(found["row"]))))
    for kind, key in (("between", "press.row_between"), ("diagonal", "press.diagonal_between")):
        if kind in found:
            pairs = tuple(ctx.state("press.pair", a=n, b=n + 1) for n in found[kind])
            sentences.append(ctx.state(key, pairs=Listing(pairs, "press.pairs_join")))
    if "corner" in found:
        outer = making.parts[-1].what
        ends = isinstance(outer, Cloth) and outer.name == END_TRIANGLE
        sentences.append(ctx.state("press.at_ends" if ends else "press.at_corners"))
    if seams:
        start = ctx.state(f"press.counted_{COUNTED[making.kind]}") if making.kind in COUNTED else ""
        sentences.append(ctx.state("press.seam_numbers", n=len(seams), seams=Listing(tuple(seams)), start=start))
    if last:
        sentences.append(ctx.state("press.last_seam"))
    if "side" in found:
        sides = (ctx.state(f"press.at_{('left', 'right', 'top', 'bottom')[n]}") for n in found["side"])
        sentences.append(ctx.state("press.at", sides=Listing(tuple(sides))))
    return Listing((*sentences, *(p.words for p in places if p.words)))


def _between(making: Making, number: int, seam: Seam, ctx: Context) -> PressedAt:
    left, right = _names(making, seam, ctx)
    if len(left) == 1 and len(right) == 1 and left != right:
        a, b = sorted((next(iter(left)), next(iter(right))))
        return PressedAt("words", words=ctx.state("press.between", a=a, b=b))
    lone = [side for side in (left, right) if len(side) == 1]
    if len(lone) == 1 and not left & right and making.role in ("unit", "block"):
        return PressedAt("words", words=ctx.state("press.along", a=next(iter(lone[0]))))
    return PressedAt("seam", number + 1)


def _names(making: Making, seam: Seam, ctx: Context) -> tuple[set[str], set[str]]:
    """What touches the seam on its left and right: printed fabrics, or unit titles."""
    memo, key = ctx.touched, (making, id(seam), ctx.many)
    if key in memo:
        known: tuple[set[str], set[str]] = memo[key]
        return known
    bends = list(pairwise(seam.path or (seam.start, seam.end)))  # a set-in seam goes round a corner
    found = []
    for side in (seam.left, seam.right):
        meet = {i for i in side for a, b in bends if touches(making.parts[i], a, b, memo)}
        found.append({_called(making, i, ctx) for i in meet})
    memo[key] = known = found[0], found[1]
    return known


def _called(making: Making, part: int, ctx: Context) -> str:
    what = making.parts[part].what
    if isinstance(what, Cloth):
        if making.role in ("border", "quilt") and what.name is not None:
            return ctx.say("press.the_piece", what=ctx.names.of(what.name))
        return ctx.cloth(what.fabric)
    if what.role == "row":
        return ctx.title(what)
    if what.recipe.apart is not None:
        return ctx.title(what)
    role = what.role if what.role in ("unit", "block") and what.key.part is None else "piece"
    n = sum(p.what is what for p in making.parts)
    if making.kind == "diagonal-row" or (making.role == "row" and ctx.many > 1):
        n = max(n, 2)  # told of several rows, or of several sizes, at once
    return ctx.say(f"press.the_{role}", what=ctx.title(what), n=n)


def _direction(seam: Seam, ctx: Context) -> Sentence:
    """Open, or right, left, up, down: the way the pressed side lies as drawn."""
    if seam.pressed == "open":
        return ctx.state("press.open_short")
    dx, dy = seam.end[0] - seam.start[0], seam.end[1] - seam.start[1]
    # left of (dx, dy) is (dy, -dx) with y down
    x, y = (dy, -dx) if seam.pressed == "left" else (-dy, dx)
    if abs(x) == abs(y):
        return ctx.state(f"press.{'lower' if y > 0 else 'upper'}_{'right' if x > 0 else 'left'}")
    side = ("right" if x > 0 else "left") if abs(x) > abs(y) else ("down" if y > 0 else "up")
    return ctx.state(f"press.{side}")
