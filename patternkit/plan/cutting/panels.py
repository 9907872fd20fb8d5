"""Long pieces cut along the cloth: which lie side by side, and the cloth that remains beside them."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

import msgspec

from patternkit.plan.cutting.model import PieceDemand
from patternkit.plan.cutting.task import Size


class LongPanel(msgspec.Struct, frozen=True):
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


MOST = 8
"""Ways of laying the long pieces side by side that are planned in full."""
WIDE = 100
"""Ways kept while the long pieces are taken one by one."""


def panel_choices(pieces: Sequence[PieceDemand], width: int) -> tuple[list[tuple[LongPanel, ...]], int | None]:
    """Give ways of laying the long pieces side by side, shortest first, and the least length of any left out.

    Pieces are taken longest first; each joins a panel begun or begins its own. Equal pieces are interchangeable. None
    are left out unless there are very many, and then those that take the most length.
    """
    single = [(p.id, p.width, p.height) for p in pieces if p.along for _ in range(p.count)]
    single.sort(key=lambda piece: (-piece[2], -piece[1], piece[0]))
    grown: list[tuple[LongPanel, ...]] = [()]
    left_out: list[int] = []
    for piece in single:
        longer = sorted({new for panels in grown for new in _joined(panels, piece, width)}, key=_taken)
        grown = longer[:WIDE]
        left_out += [_taken(panels)[0] for panels in longer[WIDE:]]
    left_out += [_taken(panels)[0] for panels in grown[MOST:]]
    return grown[:MOST], min(left_out, default=None)


def _joined(panels: tuple[LongPanel, ...], piece: tuple[str, int, int], width: int) -> Iterator[tuple[LongPanel, ...]]:
    """Lay one more piece beside each panel that has room, or by itself."""
    for at, panel in enumerate(panels):
        if panel.across + piece[1] <= width:
            wider = LongPanel((*panel.pieces, piece))
            yield tuple(sorted((*panels[:at], wider, *panels[at + 1 :]), key=_order))
    yield tuple(sorted((*panels, LongPanel((piece,))), key=_order))


def _taken(panels: tuple[LongPanel, ...]) -> tuple[int, int, list[tuple[object, ...]]]:
    return sum(panel.height for panel in panels), len(panels), [_order(panel) for panel in panels]


def _order(panel: LongPanel) -> tuple[object, ...]:
    return (-panel.height, -panel.across, panel.pieces)


def beds_of(panels: Sequence[LongPanel], width: int, sizes: Collection[Size], squaring: int = 0) -> tuple[Size, ...]:
    """Give the cloth that remains beside each panel; panels without any are left out.

    Of its length only as much is given as strips of these sizes can use up together; of its width, what squaring up
    leaves.
    """
    beds = []
    for panel in panels:
        beside = width - panel.across - squaring
        if beside > 0:
            beds.append((beside, longest_sum({h for w, h in sizes if w <= beside}, panel.height)))
    return tuple(beds)


def longest_sum(heights: Collection[int], limit: int) -> int:
    """Give the largest sum of heights, each taken as often as wanted, that is not above the limit."""
    sums, mask = 1, (1 << limit + 1) - 1
    for height in heights:
        step = height
        while step <= limit:
            sums |= (sums << step) & mask
            step *= 2
    return sums.bit_length() - 1
