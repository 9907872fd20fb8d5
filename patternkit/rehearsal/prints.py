"""Groups of prints, print by print: what is sewn of one print is there in that print, cut or made.

Counted from the sheets as they are laid out and from the steps, not from how the prints were shared out.
"""

from __future__ import annotations

from collections import Counter

from patternkit.piecing.batch import Item, Piece, Thing
from patternkit.rehearsal.gaps import Gap
from patternkit.work.model import CutByTemplate, CutDiagonally, CutPieces, CutStrips, Order, PrintBatches, Step

Of = tuple[tuple[str, int], ...]


def print_gaps(order: Order) -> list[Gap]:
    """What is taken in a print of which less is cut or made, and pieces that do not lie on the sheets as often as they
    are cut."""
    if not order.prints:
        return []
    return [*_laid(order), *_sewn(order)]


def _cut(order: Order, cloth: str) -> tuple[Counter[tuple[int, Item]], Counter[Item]]:
    """What the sheets of a group give, by the number of the print, and in all."""
    by_print: Counter[tuple[int, Item]] = Counter()
    whole: Counter[Item] = Counter()
    for sheet in order.layout[cloth].sheets:
        for strip in sheet.strips:
            for laid in strip.pieces:
                done = order.cutting[laid.cutting]
                item, each = _gives(order, done), 1
                if isinstance(done, CutDiagonally):
                    each = 2 * done.ways
                if item is None:
                    continue
                n = laid.number * strip.count * each
                whole[item] += n * sheet.count
                for number in sheet.prints:
                    by_print[number, item] += n * sheet.count // len(sheet.prints)
    return by_print, whole


def _gives(order: Order, done: object) -> Item | None:
    if isinstance(done, CutStrips):
        return Piece(done.fabric, "strip", order.usable[done.fabric], done.height)
    if isinstance(done, CutDiagonally):
        return done.gives
    return done.piece if isinstance(done, (CutPieces, CutByTemplate)) else None


def _laid(order: Order) -> list[Gap]:
    """Pieces of a group that lie on its sheets more or less often than they are cut."""
    gaps = []
    for cloth in order.layout:
        if not any(sheet.prints for sheet in order.layout[cloth].sheets):
            continue
        _, laid = _cut(order, cloth)
        wanted: Counter[Item] = Counter()
        for done in order.cutting:
            item = _gives(order, done)
            if item in laid and item is not None:
                each = 2 * done.ways if isinstance(done, CutDiagonally) else 1
                wanted[item] += getattr(done, "count", 0) * each
        gaps += [Gap("laid", item=i, stated=wanted[i], out=n) for i, n in laid.items() if wanted[i] != n]
    return gaps


def _sewn(order: Order) -> list[Gap]:
    """Cut pieces and sewn things that a step takes in one print, held against what there is of them in that print."""
    there: Counter[tuple[Item, Of]] = Counter()
    keys: dict[Item, frozenset[str]] = {}
    for key, (cloth, before) in order.prints.items():
        for (number, item), n in _cut(order, cloth)[0].items() if cloth in order.layout else ():
            if isinstance(item, Piece) and item.fabric == key:
                there[item, ((key, number - before),)] += n
    gaps = []
    for n, step in enumerate(order.steps):
        taken: Counter[tuple[Item, Of]] = Counter()
        made: Counter[tuple[Item, Of]] = Counter()
        for own in step.prints:
            _of_print(step, own, taken, made, keys)
        for (item, of), count in taken.items():
            if isinstance(item, Piece) and order.prints[item.fabric][0] not in order.layout:
                continue  # no cloth is planned
            if there[item, of] < count:
                gaps.append(Gap("print", n, item=item, stated=count, out=there[item, of]))
            there[item, of] -= count
        there.update(made)
    return gaps


def _of_print(
    step: Step,
    own: PrintBatches,
    taken: Counter[tuple[Item, Of]],
    made: Counter[tuple[Item, Of]],
    keys: dict[Item, frozenset[str]],
) -> None:
    """Add what a step takes and makes of some prints."""
    given = dict(own.prints)
    for b, times in own.times:
        batch = step.batches[b][0]
        for use in batch.uses:
            item = use.item
            if isinstance(item, Piece) and item.fabric in given:
                taken[item, ((item.fabric, given[item.fabric]),)] += times
            elif isinstance(item, Thing) and keys.get(item) and keys[item] <= given.keys():
                taken[item, tuple((k, given[k]) for k in sorted(keys[item]))] += times
        for item, count in batch.gives:
            keys[item] = frozenset(given)
            made[item, own.prints] += times * count
