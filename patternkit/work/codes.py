"""Letter and number for every cut piece: the one name that it has on every page."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from patternkit.english import letters
from patternkit.piecing.batch import Piece
from patternkit.work.model import CutDiagonally, CutPieces, CutStrips, Cutting, JoinEnds, Step


def codes_of(
    fabrics: Mapping[str, str], orders: Sequence[tuple[Sequence[Step], Sequence[Cutting]]]
) -> dict[Piece, str]:
    """The codes of all pieces of a family of orders (their steps, and their cutting), so that one code is one piece in
    every size: those that steps take in the order in which a maker meets them, then those that are only cut (strips
    that are joined, binding), size by size. `fabrics` are all fabrics in use with those by whose letter they go, which
    are in the order of these."""
    inorder = {fabric: letters(i).upper() for i, fabric in enumerate(dict.fromkeys(fabrics.values()))}
    letter = {fabric: inorder[own] for fabric, own in fabrics.items()}
    found: dict[Piece, str] = {}
    count: dict[str, int] = {}
    for piece in (piece for steps, cutting in orders for piece in _met(steps, cutting)):
        if piece in found:
            continue
        own = letter.get(piece.fabric, piece.fabric)
        n = count[own] = count.get(own, 0) + 1
        found[piece] = f"{own}{n}"
    return found


def _met(steps: Sequence[Step], cutting: Sequence[Cutting]) -> Iterator[Piece]:
    for step in steps:
        for batch, _ in step.batches:
            yield from (use.item for use in batch.uses if isinstance(use.item, Piece))
    for done in cutting:
        if isinstance(done, CutPieces):
            yield done.piece
        elif isinstance(done, CutDiagonally):
            yield done.gives
        elif isinstance(done, JoinEnds):
            yield from (piece for piece, _ in done.gives)
        elif isinstance(done, CutStrips):
            continue  # a strip that is taken whole is met in its step, the others are what pieces are cut from
