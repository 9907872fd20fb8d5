"""What is cut: counted, held against the cloth that is bought, and looked for on the ruler."""

from __future__ import annotations

from itertools import pairwise

from patternkit.lengths import Length
from patternkit.piecing.batch import CutAcross, CutApart, Field, Item, Join, Piece, TrimBand, TrimTo
from patternkit.rehearsal.bias_cut import bias_gaps
from patternkit.rehearsal.gaps import Gap
from patternkit.rehearsal.joined_ends import join_gaps
from patternkit.rehearsal.layout import layout_gaps
from patternkit.rehearsal.motif_cut import motif_gaps
from patternkit.rehearsal.plane import area
from patternkit.rehearsal.side_by_side import angle_gaps, side_by_side_gaps
from patternkit.work.model import (
    CutByTemplate,
    CutDiagonally,
    CutPieces,
    CutStrips,
    JoinEnds,
    Order,
    Panels,
)

SPARE = 1e-6
OTHER = {"left": "right", "right": "left", "": ""}


def strip(order: Order, cutting: CutStrips) -> Piece:
    """The piece that a whole strip is: as long as the cloth is wide."""
    return Piece(cutting.fabric, "strip", order.usable.get(cutting.fabric, Length(0)), cutting.height)


def what_is_cut(order: Order) -> dict[Item, int]:
    """Everything that the cutting gives, with how many."""
    found: dict[Item, int] = {}

    def give(piece: Item, count: int) -> None:
        found[piece] = found.get(piece, 0) + count

    for cutting in order.cutting:
        if isinstance(cutting, CutStrips):
            give(strip(order, cutting), cutting.count)
        elif isinstance(cutting, CutDiagonally):
            give(cutting.gives, cutting.count * 2 * cutting.ways)
        elif isinstance(cutting, (CutPieces, CutByTemplate)):
            give(cutting.piece, cutting.count)
        elif isinstance(cutting, JoinEnds):
            for piece, count in cutting.gives:
                give(piece, count)
    for cutting in order.cutting:
        if isinstance(cutting, JoinEnds) and cutting.strip in found:
            found[cutting.strip] -= cutting.count
    return {item: n for item, n in found.items() if n}


def cutting_gaps(order: Order) -> list[Gap]:
    """Pieces that do not fit the cloth, more cloth than is bought, strips that are too short, diagonals that lean the
    wrong way as the rectangle lies."""
    gaps = []
    for cutting in order.cutting:
        if isinstance(cutting, (CutPieces, CutDiagonally)):
            wide = order.usable.get(cutting.piece.fabric)
            if wide is not None and cutting.lies[0] > wide:
                gaps.append(Gap("long", item=cutting.piece, stated=cutting.lies[0], out=wide))
            if sorted(cutting.lies) != sorted((cutting.piece.width, cutting.piece.height)):
                gaps.append(Gap("size", item=cutting.piece, stated=cutting.piece.width, out=cutting.lies[0]))
        if isinstance(cutting, CutDiagonally):
            gaps += _diagonal(cutting)
        if isinstance(cutting, CutByTemplate) and (cutting.face == "down") != cutting.piece.reversed:
            gaps.append(Gap("mirrored", item=cutting.piece))
        if isinstance(cutting, CutByTemplate):
            gaps += [*side_by_side_gaps(order, cutting), *angle_gaps(order, cutting)]
    found = [*_finishing(order), *bias_gaps(order), *join_gaps(order), *motif_gaps(order)]
    return [*gaps, *_cloth(order), *layout_gaps(order), *found]


def _finishing(order: Order) -> list[Gap]:
    """Panels side by side, less their seams, must be as large as they are trimmed to."""
    gaps = []
    for finish in order.finish:
        if isinstance(finish, Panels):
            narrower = finish.width - finish.last if finish.last is not None else Length(0)
            across = finish.width * finish.count - narrower - finish.seam * (2 * (finish.count - 1))
            if finish.between is not None:
                more = 2 if finish.count == 1 else 1  # parts: a strip, and a panel in two halves
                across += finish.between.strip - finish.seam * (2 * more)
            wide, high = finish.trimmed if finish.upright else finish.trimmed[::-1]
            pairs = [(wide, across), (high, finish.length)]
            gaps += [Gap("panels", stated=need, out=have) for need, have in pairs if float(need) > float(have) + SPARE]
    return gaps


def _diagonal(cutting: CutDiagonally) -> list[Gap]:
    """The triangle that is said to come of a rectangle must be the one that does."""
    piece = cutting.gives
    if sorted((piece.width, piece.height)) != sorted(cutting.lies):
        return [Gap("size", item=piece, stated=piece.width, out=cutting.lies[0])]
    if piece.form != ("half" if cutting.ways == 1 else "quarter"):
        return [Gap("patch", item=piece)]
    if piece.width == piece.height or cutting.ways == 2:
        return []
    leans = cutting.leans if (piece.width, piece.height) == cutting.lies else OTHER[cutting.leans]
    return [Gap("mirrored", item=piece)] if piece.hand != leans else []


def _cloth(order: Order) -> list[Gap]:
    """The area of all that is cut from a cloth can't be more than is bought."""
    used: dict[str, float] = {}
    for cutting in order.cutting:
        if isinstance(cutting, CutStrips):
            size = float(cutting.height) * float(order.usable.get(cutting.fabric, Length(0)))
            used[cutting.fabric] = used.get(cutting.fabric, 0.0) + size * cutting.count
        elif isinstance(cutting, (CutPieces, CutDiagonally, CutByTemplate)):
            size = float(cutting.piece.width) * float(cutting.piece.height)
            template = order.templates.get(cutting.piece.template) if cutting.piece.template else None
            if template is not None:
                size = abs(area([(float(x), float(y)) for x, y in template.outline]))
            used[cutting.piece.fabric] = used.get(cutting.piece.fabric, 0.0) + size * cutting.count
    gaps = []
    for fabric, size in used.items():
        bought, wide = order.bought.get(fabric), order.usable.get(fabric)
        if bought is not None and wide is not None and size > float(bought) * float(wide) + SPARE:
            gaps.append(Gap("cloth", stated=size, out=float(bought) * float(wide)))
    return gaps


# -- the ruler --------------------------------------------------------------------------------------------
def ruler_gaps(order: Order) -> list[Gap]:
    """Numbers that a hand must find on a ruler, and that lie between its lines.

    Templates and pieces for foundations are exempt, and so is the length of what is cut to measure, and of strips, and
    what is as wide as its cloth.
    """
    grid = order.ruler.fraction
    free, measured = _exempt(order)
    gaps = []
    seen: set[Piece] = set()
    for cutting in order.cutting:
        for piece in _pieces(order, cutting):
            if piece in seen or piece in free or piece.form == "template":
                continue
            seen.add(piece)
            sides = (piece.height,) if piece.form in ("strip", "bias") else (piece.width, piece.height)
            if piece in measured:
                sides = (min(piece.width, piece.height),)
            whole = order.usable.get(piece.fabric)
            off = [side for side in dict.fromkeys(sides) if not side.on_grid(grid) and side != whole]
            gaps += [Gap("ruler", item=piece, stated=side) for side in off]
    for n, step in enumerate(order.steps):
        for b, (batch, _) in enumerate(step.batches):
            for p, passage in enumerate(batch.passages):
                for a, action in enumerate(passage.actions):
                    lengths: tuple[Length, ...] = ()
                    if isinstance(action, CutAcross):
                        lengths = (action.width,)
                    elif isinstance(action, CutApart):
                        lengths = _widths(action)
                    elif isinstance(action, TrimBand):
                        lengths = (action.width, action.height)
                    elif isinstance(action, TrimTo):
                        both = (("width", action.width), ("height", action.height))
                        lengths = tuple(x for side, x in both if side != action.kept)
                    gaps += [Gap("ruler", n, b, p, a, stated=x) for x in dict.fromkeys(lengths) if not x.on_grid(grid)]
    return gaps


def _widths(action: CutApart) -> tuple[Length, ...]:
    """How wide the pieces are that come off, one after the other; nothing is measured where a unit is only halved."""
    both = zip((action.columns, action.rows), action.middles, strict=True)
    return tuple(b - a for lines, halved in both if not halved for a, b in pairwise((Length(0), *lines)))


def _pieces(order: Order, cutting: object) -> list[Piece]:
    if isinstance(cutting, CutStrips):
        return [strip(order, cutting)]
    if isinstance(cutting, (CutPieces, CutByTemplate)):
        return [cutting.piece]
    if isinstance(cutting, CutDiagonally):
        return [cutting.gives]
    if isinstance(cutting, JoinEnds):
        return [p for p, _ in cutting.gives]
    return []


def _exempt(order: Order) -> tuple[set[Item], set[Item]]:
    """Pieces for foundations, and those that are cut to the length which is measured."""
    free: set[Item] = set()
    measured: set[Item] = set()
    for step in order.steps:
        for batch, _ in step.batches:
            for passage in batch.passages:
                for action in passage.actions:
                    if isinstance(action, Field) and 0 <= action.part < len(batch.uses):
                        free.add(batch.uses[action.part].item)
                    elif isinstance(action, Join) and action.fit == "measured":
                        measured |= {batch.uses[e.part].item for e in action.right if 0 <= e.part < len(batch.uses)}
    return free, measured
