"""Long pieces cut along the cloth: which lie side by side, and the cloth that remains beside them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from patternkit.plan.cutting.model import Piece
from patternkit.plan.cutting.task import Size


class Panel(msgspec.Struct, frozen=True):
    """A length of cloth cut into long pieces, `pieces` of (id, width, height), longest first."""

    pieces: tuple[tuple[str, int, int], ...]

    @property
    def height(self) -> int:
        """Give the length of cloth taken."""
        return self.pieces[0][2]

    @property
    def across(self) -> int:
        """Give the width the pieces take side by side."""
        return sum(piece[1] for piece in self.pieces)


def panel_choices(pieces: Sequence[Piece], width: int, most: int = 12) -> Iterator[tuple[Panel, ...]]:
    """Give ways of laying the long pieces side by side, the shortest first; `most` limits their number.

    Pieces are taken longest first; each joins a panel begun or begins its own. All ways are tried as long as
    they are few; equal pieces are interchangeable, so mirror images are left out.
    """
    single = [(p.id, p.width, p.height) for p in pieces if p.along for _ in range(p.count)]
    single.sort(key=lambda piece: (-piece[2], -piece[1], piece[0]))
    found = sorted(_assign(single, width), key=lambda panels: (sum(p.height for p in panels), len(panels)))
    yield from found[:most]


def _assign(single: Sequence[tuple[str, int, int]], width: int) -> set[tuple[Panel, ...]]:
    """Grow every assignment piece by piece; past a hundred, keep the hundred with the least length."""
    grown: set[tuple[Panel, ...]] = {()}
    for piece in single:
        longer: set[tuple[Panel, ...]] = set()
        for panels in grown:
            for at, panel in enumerate(panels):
                if panel.across + piece[1] <= width:
                    wider = Panel((*panel.pieces, piece))
                    longer.add(tuple(sorted((*panels[:at], wider, *panels[at + 1 :]), key=_order)))
            longer.add(tuple(sorted((*panels, Panel((piece,))), key=_order)))
        grown = set(sorted(longer, key=lambda ps: (sum(p.height for p in ps), [_order(p) for p in ps]))[:100])
    return grown


def _order(panel: Panel) -> tuple[object, ...]:
    return (-panel.height, -panel.across, panel.pieces)


def beds_of(panels: Sequence[Panel], width: int) -> tuple[Size, ...]:
    """Give the cloth that remains beside each panel, widest use first; panels without any are left out."""
    return tuple((width - panel.across, panel.height) for panel in panels if panel.across < width)
