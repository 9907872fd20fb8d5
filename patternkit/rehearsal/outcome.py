"""Everything that comes out of a batch, counted and held against what is told to come out."""

from __future__ import annotations

import msgspec

from patternkit.piecing.batch import Batch, CutOut, Item, Piece, Thing
from patternkit.rehearsal.bench import Workroom, shape_of
from patternkit.rehearsal.compare import KINDS, Level, Match, match, match_piece
from patternkit.rehearsal.drawn import Designs
from patternkit.rehearsal.gaps import Gap
from patternkit.rehearsal.perform import Performance, perform
from patternkit.rehearsal.table import OnTable, Shape


class Outcome(msgspec.Struct):
    """What came of a batch: its performance, its gaps, and the raw shapes of what it makes."""

    performance: Performance
    gaps: list[Gap]
    shapes: dict[Thing, Shape]


def outcome(batch: Batch, room: Workroom, designs: Designs) -> Outcome:
    """Carry out a batch and hold what comes out against `gives` and the designs."""
    done = perform(batch, room)
    found = Outcome(done, list(done.gaps), {})
    if done.broken:
        return found
    stated = [(item, n) for item, n in batch.gives if n]
    known = []
    for item, _ in stated:
        if isinstance(item, Thing) and designs.drawn(item) is None:
            found.gaps.append(Gap("undrawn", item=item))
        else:
            known.append(item)
    if len(known) < len(stated):
        return found
    groups = _groups(done.hands)
    _unused(batch, done.hands, found)
    if any(g.kind == "unused" for g in found.gaps):
        return found
    matches = {(h, i): _match(hand, item, batch, room, designs) for h, (hand, _) in enumerate(groups)
               for i, item in enumerate(known)}  # fmt: skip
    _count(groups, stated, matches, found)
    return found


def _groups(hands: tuple[OnTable, ...]) -> list[tuple[OnTable, int]]:
    """What lies on the table and is no waste, copies of one cut counted together."""
    found: dict[int, tuple[OnTable, int]] = {}
    for hand in hands:
        if not hand.waste and not hand.rest:
            n = found[id(hand)][1] if id(hand) in found else 0
            found[id(hand)] = hand, n + 1
    return list(found.values())


def _unused(batch: Batch, hands: tuple[OnTable, ...], found: Outcome) -> None:
    """Note pieces that lie there as they were taken, unless they are told to come out so."""
    out = {item for item, _ in batch.gives}
    for hand in hands:
        parts = hand.parts
        if hand.waste or hand.rest or len(parts) != 1 or len(hand.sheets) != 1:
            continue
        (part,) = parts
        item = batch.uses[part].item
        whole = len(hand.sheets[0].facets) == 1 and not any(not s.inner for s in hand.sheets[0].seams)
        if whole and item not in out and -1 not in hand.sheets[0].facets[0].labels:
            found.gaps.append(Gap("unused", item=item))


def _match(hand: OnTable, item: Item, batch: Batch, room: Workroom, designs: Designs) -> Match:
    items = [use.item for use in batch.uses]
    if isinstance(item, Piece):
        return match_piece(hand, item, shape_of(item, room), items)
    cuts = [a for a in batch.actions if isinstance(a, CutOut)]
    named = [name for a in cuts for name in (a.template, a.between.template if a.between is not None else "")]
    cut = max((len(room.templates[name].outline) for name in named if name in room.templates), default=0)
    return match(hand, item, items, designs, rough=batch.rough, cut=cut)


def _count(
    groups: list[tuple[OnTable, int]], stated: list[tuple[Item, int]], matches: dict[tuple[int, int], Match],
    found: Outcome,
) -> None:  # fmt: skip
    """Give every hand its item, exact ones first, and note what is left on either side."""
    have = [n for _, n in groups]
    want = [n for _, n in stated]
    for level in (Level.EXACT, Level.PRESS):
        _shared(have, want, {pair for pair, m in matches.items() if m.level <= level})
        pressed = [(h, i) for (h, i), m in matches.items() if m.level == level]
        for h, i in pressed:
            item, m = stated[i][0], matches[h, i]
            if isinstance(item, Thing) and m.shape is not None and item not in found.shapes:
                found.shapes[item] = m.shape
        if level == Level.EXACT:
            before = list(want)
        else:
            found.gaps += [Gap("press", item=stated[i][0]) for i in range(len(want)) if want[i] < before[i]]
    _left_over(groups, have, want, stated, matches, found)


def _shared(have: list[int], want: list[int], pairs: set[tuple[int, int]]) -> None:
    """Take off as many as can be shared out; hands that fit fewer items come first."""
    fits = {h: [i for i in range(len(want)) if (h, i) in pairs] for h in range(len(have))}
    for h in sorted(fits, key=lambda h: len(fits[h])):
        for i in sorted(fits[h], key=lambda i: sum((o, i) in pairs for o in fits)):
            n = min(have[h], want[i])
            have[h], want[i] = have[h] - n, want[i] - n


def _left_over(
    groups: list[tuple[OnTable, int]], have: list[int], want: list[int], stated: list[tuple[Item, int]],
    matches: dict[tuple[int, int], Match], found: Outcome,
) -> None:  # fmt: skip
    """Say of what came out and is not told what it is, and of what is told and did not come out how many did."""
    for h in range(len(groups)):
        if not have[h]:
            continue
        near = min(range(len(stated)), key=lambda i: (matches[h, i].level, want[i] == 0), default=None)
        if near is None:
            found.gaps.append(Gap("extra", out=have[h]))
            continue
        m, (item, n) = matches[h, near], stated[near]
        if m.level <= Level.PRESS:
            found.gaps.append(Gap("count", item=item, stated=n, out=n + have[h]))
        elif want[near]:
            kind = KINDS[m.level]
            if not any(g.kind == kind and g.item == item for g in found.gaps):  # copies are told once
                found.gaps.append(Gap(kind, item=item, stated=m.stated, out=m.out))
            want[near] = max(0, want[near] - have[h])
        else:
            found.gaps.append(Gap("extra", item=item, out=have[h]))
        have[h] = 0
    for i, (item, n) in enumerate(stated):
        if want[i]:
            found.gaps.append(Gap("count", item=item, stated=n, out=n - want[i]))
