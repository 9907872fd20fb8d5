"""What is cut: counted, held against the cloth that is bought, and looked for on the ruler."""

from __future__ import annotations

from patternkit.lengths import Length
from patternkit.piecing.batch import CutAcross, Field, Item, Join, Piece, TrimTo
from patternkit.rehearsal.gaps import Gap
from patternkit.rehearsal.plane import area
from patternkit.work.model import (
    CutByTemplate,
    CutDiagonally,
    CutPieces,
    CutStrips,
    JoinEnds,
    Order,
)

SPARE = 1e-6
OTHER = {"left": "right", "right": "left", "": ""}


def strip(order: Order, told: CutStrips) -> Piece:
    """The piece that a whole strip is: as long as the cloth is wide."""
    return Piece(told.fabric, "strip", order.usable.get(told.fabric, Length(0)), told.height)


def what_is_cut(order: Order) -> dict[Item, int]:
    """Everything that the cutting gives, with how many."""
    found: dict[Item, int] = {}

    def give(piece: Item, count: int) -> None:
        found[piece] = found.get(piece, 0) + count

    for told in order.cutting:
        if isinstance(told, CutStrips):
            give(strip(order, told), told.count)
        elif isinstance(told, CutDiagonally):
            give(told.gives, told.count * 2 * told.ways)
        elif isinstance(told, (CutPieces, CutByTemplate)):
            give(told.piece, told.count)
        elif isinstance(told, JoinEnds):
            for piece, count in told.gives:
                give(piece, count)
    for told in order.cutting:
        if isinstance(told, JoinEnds) and told.strip in found:
            found[told.strip] -= told.count
    return {item: n for item, n in found.items() if n}


def cutting_gaps(order: Order) -> list[Gap]:
    """Pieces that do not fit the cloth, more cloth than is bought, strips that are too short, diagonals that lean the
    wrong way as the rectangle lies."""
    gaps = []
    for told in order.cutting:
        if isinstance(told, (CutPieces, CutDiagonally)):
            wide = order.usable.get(told.piece.fabric)
            if wide is not None and told.lies[0] > wide:
                gaps.append(Gap("long", item=told.piece, told=told.lies[0], out=wide))
            if sorted(told.lies) != sorted((told.piece.width, told.piece.height)):
                gaps.append(Gap("size", item=told.piece, told=told.piece.width, out=told.lies[0]))
        if isinstance(told, CutDiagonally):
            gaps += _diagonal(told)
        if isinstance(told, CutByTemplate) and (told.face == "down") != told.piece.reversed:
            gaps.append(Gap("mirrored", item=told.piece))
        if isinstance(told, JoinEnds):
            gaps += _long_enough(order, told)
    return [*gaps, *_cloth(order)]


def _diagonal(told: CutDiagonally) -> list[Gap]:
    """The triangle that is said to come of a rectangle must be the one that does."""
    piece = told.gives
    if sorted((piece.width, piece.height)) != sorted(told.lies):
        return [Gap("size", item=piece, told=piece.width, out=told.lies[0])]
    if piece.form != ("half" if told.ways == 1 else "quarter"):
        return [Gap("patch", item=piece)]
    if piece.width == piece.height or told.ways == 2:
        return []
    leans = told.leans if (piece.width, piece.height) == told.lies else OTHER[told.leans]
    return [Gap("mirrored", item=piece)] if piece.hand != leans else []


def _long_enough(order: Order, told: JoinEnds) -> list[Gap]:
    """Strips joined end to end, less what the joins take, must be long enough for what is cut from them."""
    each = float(told.strip.width)
    join = float(told.strip.height) if told.slanted else 2 * float(order.seam)
    have = each * told.count - join * max(0, told.count - 1)
    need = sum(float(max(p.width, p.height)) * n for p, n in told.gives)
    return [Gap("strips", item=told.strip, told=need, out=have)] if need > have + SPARE else []


def _cloth(order: Order) -> list[Gap]:
    """The area of all that is cut from a cloth can't be more than is bought."""
    used: dict[str, float] = {}
    for told in order.cutting:
        if isinstance(told, CutStrips):
            size = float(told.height) * float(order.usable.get(told.fabric, Length(0)))
            used[told.fabric] = used.get(told.fabric, 0.0) + size * told.count
        elif isinstance(told, (CutPieces, CutDiagonally, CutByTemplate)):
            size = float(told.piece.width) * float(told.piece.height)
            template = order.templates.get(told.piece.template) if told.piece.template else None
            if template is not None:
                size = abs(area([(float(x), float(y)) for x, y in template.outline]))
            used[told.piece.fabric] = used.get(told.piece.fabric, 0.0) + size * told.count
    gaps = []
    for fabric, size in used.items():
        bought, wide = order.bought.get(fabric), order.usable.get(fabric)
        if bought is not None and wide is not None and size > float(bought) * float(wide) + SPARE:
            gaps.append(Gap("cloth", told=size, out=float(bought) * float(wide)))
    return gaps


# -- the ruler --------------------------------------------------------------------------------------------
def ruler_gaps(order: Order) -> list[Gap]:
    """Numbers that a hand must find on a ruler, and that lie between its lines.

    Templates and pieces for foundations are exempt, and so is the length of what is cut to measure, and of strips.
    """
    grid = order.ruler.fraction
    free, measured = _exempt(order)
    gaps = []
    seen: set[Piece] = set()
    for told in order.cutting:
        for piece in _pieces(order, told):
            if piece in seen or piece in free or piece.form == "template":
                continue
            seen.add(piece)
            sides = (piece.height,) if piece.form in ("strip", "bias") else (piece.width, piece.height)
            if piece in measured:
                sides = (min(piece.width, piece.height),)
            gaps += [Gap("ruler", item=piece, told=side) for side in dict.fromkeys(sides) if not side.on_grid(grid)]
    for n, step in enumerate(order.steps):
        for b, (batch, _) in enumerate(step.batches):
            for p, passage in enumerate(batch.passages):
                for a, action in enumerate(passage.actions):
                    lengths: tuple[Length, ...] = ()
                    if isinstance(action, CutAcross):
                        lengths = (action.width,)
                    elif isinstance(action, TrimTo):
                        both = (("width", action.width), ("height", action.height))
                        lengths = tuple(x for side, x in both if side != action.kept)
                    gaps += [Gap("ruler", n, b, p, a, told=x) for x in dict.fromkeys(lengths) if not x.on_grid(grid)]
    return gaps


def _pieces(order: Order, told: object) -> list[Piece]:
    if isinstance(told, CutStrips):
        return [strip(order, told)]
    if isinstance(told, (CutPieces, CutByTemplate)):
        return [told.piece]
    if isinstance(told, CutDiagonally):
        return [told.gives]
    if isinstance(told, JoinEnds):
        return [p for p, _ in told.gives]
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
