"""Strip units sewn alike for several units: cut into segments of each unit's width, they are made together.

They are sewn alike where the same strips, cut to the same heights, lie in the same order and every seam is pressed the
same way; turned end for end they are the same too, unless a fabric has a direction. They are made together only where
that saves strips, and where all their units fall to one part of a sew-along: nobody keeps half a strip unit for a week
that is not out yet, and each part's cut list stands alone.
"""

from __future__ import annotations

from collections.abc import Callable, Container, MutableMapping, Sequence

import msgspec

from patternkit.lengths import Length
from patternkit.model.pattern import Pattern
from patternkit.piecing.making import Making
from patternkit.piecing.strip_cuts import Widths
from patternkit.piecing.tubes import Pressed, pressings, strips_of, tube_key
from patternkit.plan.counts import Count
from patternkit.plan.shared import Shared
from patternkit.plan.sharing import Way, cost, share

Known = MutableMapping[Making, tuple[frozenset[str], object]]
"""For makings what they are like (`sewn`), with the prints that have a direction."""
_BACK: dict[Pressed, Pressed] = {"low": "high", "high": "low", "open": "open", "free": "free"}


def merge_alike(counts: Sequence[Count], pattern: Pattern, widths: Widths, known: Known | None = None) -> list[Count]:
    """The same counts, with strip units that are sewn alike made together where that saves strips. In `known` is kept
    what each making is like."""
    known = {} if known is None else known
    directional = frozenset(k for k, f in pattern.fabrics.items() if f.directional)
    alike: dict[object, list[Count]] = {}
    part_of, paired = parts_of(counts, pattern), _paired(counts, pattern)
    for count in counts:
        like = known.get(count.making)
        if like is None or like[0] != directional:
            like = known[count.making] = directional, sewn(count.making, directional)
        key, part = like[1], part_of(count)
        if count.making.key.of in paired:
            continue
        bought = all(c.fabric in pattern.fabrics for c in count.making.recipe.cuts)
        if key is not None and part is not None and count.yields and bought and not count.shares:
            alike.setdefault((key, part), []).append(count)
    found: dict[int, Count] = {}
    for group in alike.values():
        rooms = [widths.room(group[0].making.recipe.cuts, half) for half in (False, True)]
        group.sort(key=lambda c: c.making.role != "unit")  # units are sewn before blocks
        for members, ways in _worth_it(group, *rooms):
            shared = Shared(tuple(c.making for c in members), tuple(ways))
            for i, c in enumerate(members):
                batches, half = (shared.batches, shared.half) if not i else (0, 0)
                found[id(c.making)] = msgspec.structs.replace(c, batches=batches, half=half, shared=shared)
    return [found.get(id(c.making), c) for c in counts]


def _paired(counts: Sequence[Count], pattern: Pattern) -> Container[str]:
    """The units that are cut in pairs, by their keys: each of a pair has strip units of its own."""
    if not any(count.making.recipe.method.takes_unit for count in counts):
        return ()
    from patternkit.piecing.pairs import partners

    return partners(pattern)


def rests_on_pressing(counts: Sequence[Count]) -> bool:
    """Whether it is not known before the seams are pressed which strip units are sewn alike: a seam that the writer
    left free in units whose strips are the same, or a unit that may be pressed in two ways."""
    seen: dict[object, int] = {}
    free = False
    for count in counts:
        making = count.making
        if making.recipe.method.tube:  # its rings are pressed once they are open
            continue
        strip_piece = making.recipe.numbers.from_strip_unit
        if making.recipe.segment is None or not (making.recipe.method.in_strips or strip_piece):
            continue
        pressed = tuple(s.pressed for s in making.seams)
        if making.versions > 1:
            return True
        loose = msgspec.structs.replace(
            making, seams=tuple(msgspec.structs.replace(s, pressed="open") for s in making.seams)
        )
        key = _as_strip_piece(loose) if strip_piece else sewn(loose)
        seen[key] = seen.get(key, 0) + 1
        free = free or "free" in pressed
    return free and any(n > 1 for n in seen.values())


def _worth_it(group: Sequence[Count], room: Length, half: Length) -> list[tuple[list[Count], list[Way]]]:
    """The units of a group whose strip units are made together, if any: those that can do without are left out, unless
    they are rings of a tube."""

    def ways(members: Sequence[Count]) -> list[Way]:
        segments = [(c.making.recipe.segment or room, c.needed) for c in members]
        return share(segments, room, half)

    members, tube = [c for c in group if c.needed], group[0].making.recipe.method.tube
    if len(members) < 2:
        return []
    best = ways(members)
    kept: set[object] = set()  # what those are like that were found to save something
    for count in members[::-1]:
        like = count.making.recipe.segment, count.needed
        if like in kept:
            continue
        rest = [c for c in members if c is not count]
        without = ways(rest)
        alone = cost(without) + cost(ways([count]))
        if alone < cost(best) or (alone == cost(best) and not tube):
            members, best = rest, without
            kept.clear()
        else:
            kept.add(like)
    return [(members, best)] if len(members) > 1 else []


def _as_strip_piece(making: Making) -> object:
    """What the strip unit of a shape is, from which that is cut by a template."""
    from patternkit.piecing.sewing.strip_piece import sewn_as

    return sewn_as(making)


def sewn(making: Making, directional: frozenset[str] = frozenset()) -> object:
    """What a strip unit is, apart from where it is cut: equal for two that are sewn alike. None for any other unit."""
    recipe = making.recipe
    if not recipe.method.in_strips or recipe.segment is None or recipe.pitch or not recipe.segment.is_fraction:
        return None  # a unit that is cut on the slant has ends of its own
    if any(s.start[0] != s.end[0] or s.spun is not None for s in making.seams):
        return None
    strips, seams = strips_of(making), pressings(making)
    cuts = tuple(sorted((c.fabric, c.height, c.count) for c in recipe.cuts))
    if recipe.method.tube:
        return "tube", tube_key(making), cuts
    one = (tuple(strips), tuple(seams))
    other = (tuple(strips[::-1]), tuple(_BACK[s] for s in seams[::-1]))
    turns = not directional & {fabric for fabric, _ in strips}
    return (min(one, other) if turns else one), cuts


def parts_of(counts: Sequence[Count], pattern: Pattern) -> Callable[[Count], int | None]:
    """Which part of a sew-along makes all of a unit, by its number; None where several share it. 0 without parts, and
    for what no part makes."""
    stated: dict[str, list[tuple[int, int | None]]] = {}
    for number, part in enumerate(pattern.parts, 1):
        for n, name, _ in part.makes:
            stated.setdefault(name, []).append((number, n))
    needed: dict[str, int] = {}
    for count in counts:
        needed[count.making.unit] = needed.get(count.making.unit, 0) + count.needed

    def of(count: Count) -> int | None:
        if pattern.parts and count.making.role not in ("unit", "block"):
            return None
        makes = stated.get(count.making.unit, [(0, None)])
        number, n = makes[0]
        return number if len(makes) == 1 and n in (None, needed[count.making.unit]) else None

    return of


__all__ = ["Shared", "merge_alike", "rests_on_pressing", "sewn"]
