"""What is taken for the finish: strips that are joined, panels of a backing and a sleeve that are cut in one piece."""

from __future__ import annotations

from collections.abc import Iterator

from patternkit.lengths import Length
from patternkit.piecing.batch import Item, Piece
from patternkit.piecing.names import BACKING_PANEL, SLEEVE, Name
from patternkit.rehearsal.gaps import Gap
from patternkit.work.model import CutPieces, EdgeFinish, Extra, Finish, Order, Panels, RoundedCorners, Sleeve


def take_finishes(order: Order, pool: dict[Item, int]) -> list[Gap]:
    """Take what every finish takes of what is cut; note what is not there."""
    gaps = []
    for done in order.finish:
        for item, count in _takes(done, order):
            have = pool.get(item, 0)
            if have < count:
                gaps.append(Gap("taken", item=item, stated=count, out=have))
            pool[item] = max(0, have - count)
    return gaps


def _takes(done: Finish, order: Order) -> Iterator[tuple[Item, int]]:
    """What a finish takes, with how many."""
    if isinstance(done, Panels):
        if done.cut:
            if whole := done.count - (done.last is not None):
                yield Piece(done.fabric, "strip", order.usable[done.fabric], done.length), whole
            if done.last is not None:
                yield _along(order, BACKING_PANEL, done.fabric, done.last, done.length), 1
        if done.between is not None:
            yield from _strips(done.between.fabric, done.between.strip, done.between.count, order)
    elif isinstance(done, Sleeve) and done.along:
        yield _along(order, SLEEVE, done.fabric, done.strip, done.length), 1
    elif isinstance(done, Extra):
        yield done.piece, done.count
    elif isinstance(done, EdgeFinish):
        yield from done.pieces
    elif not isinstance(done, RoundedCorners):
        yield from _strips(done.fabric, done.strip, done.count, order)


def _strips(fabric: str, high: Length, count: int, order: Order) -> Iterator[tuple[Item, int]]:
    if count:
        yield Piece(fabric, "strip", order.usable[fabric], high), count


def _along(order: Order, name: Name, fabric: str, wide: Length, long: Length) -> Piece:
    """A piece that is cut for something as wide and as long as it is wanted, at least; the one that is wanted where
    none is."""
    for cutting in order.cutting:
        if not isinstance(cutting, CutPieces) or name not in cutting.use.of or cutting.piece.fabric != fabric:
            continue
        if cutting.lies[0] >= wide and cutting.lies[1] >= long:
            return cutting.piece
    return Piece(fabric, "rectangle", wide, long)
