"""The planner's own view of a list of pieces: equal sizes merged, each with the ways it may lie."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import msgspec

from patternkit.plan.cutting.model import Cut, CuttingError, Piece, Settings

Size: TypeAlias = tuple[int, int]
"""Width across the strip and height along the cloth."""
Part: TypeAlias = tuple[int, int, int, int]
"""Index of the kind, width and height as it lies, how many in one strip."""
Layout: TypeAlias = tuple[int, tuple[Part, ...]]
"""Height of a strip and its parts; the parts are kept in cutting order, so equal layouts compare equal."""
Layouts: TypeAlias = dict[Layout, int]
"""A plan as layouts and how many strips of each."""


class Kind(msgspec.Struct, frozen=True):
    """All pieces of one size: the ways they may lie, how many in all, and whose they are."""

    sizes: tuple[Size, ...]
    demand: int
    owners: tuple[tuple[str, int, Size], ...]


class Task(msgspec.Struct, frozen=True):
    """Cover the demand of every kind with strips across `width`."""

    width: int
    trim: bool
    kinds: tuple[Kind, ...]

    def heights(self) -> list[int]:
        """Give every height a strip can usefully have, lowest first."""
        return sorted({height for kind in self.kinds for _, height in kind.sizes})


def check_input(pieces: Sequence[Piece], settings: Settings) -> None:
    """Raise `CuttingError` for sizes, counts or settings that mean nothing, or a piece that cannot fit."""
    if settings.width <= 0:
        raise CuttingError(f"the usable width of the cloth must be more than nothing, but is {settings.width}")
    if settings.lot <= 0:
        raise CuttingError("the step in which cloth is sold must be more than nothing")
    if not 0 <= settings.shrinkage < 1000:
        raise CuttingError("shrinkage must be between 0 and 999 thousandths")
    if settings.spare < 0:
        raise CuttingError("the spare length cannot be less than nothing")
    seen: set[str] = set()
    for piece in pieces:
        if piece.id in seen:
            raise CuttingError(f"the piece {piece.id!r} is listed twice: give the two lists one count", piece.id)
        seen.add(piece.id)
        if piece.height <= 0 or (piece.width <= 0 and not piece.full) or piece.count < 0:
            raise CuttingError(f"the piece {piece.id!r} needs a width, a height and a count above nothing", piece.id)
        if not piece.full and not lies(piece, settings.width):
            raise CuttingError(
                f"the piece {piece.id!r} is {piece.width} x {piece.height}, too wide for cloth with a usable "
                f"width of {settings.width}: join it from strips, cut it along the length, or use wider cloth",
                piece.id,
            )


def lies(piece: Piece, width: int) -> tuple[Size, ...]:
    """Give the ways a piece may lie on cloth of this width, its own way first."""
    turned = () if piece.along or not piece.may_turn else ((piece.height, piece.width),)
    return tuple(dict.fromkeys(s for s in ((piece.width, piece.height), *turned) if s[0] <= width))


def task_of(pieces: Sequence[Piece], width: int, trim: bool) -> Task:
    """Merge equal sizes into kinds, largest first; full pieces, along pieces and counts of 0 are left out."""
    groups: dict[tuple[Size, ...], list[tuple[str, int, Size]]] = {}
    for piece in pieces:
        if piece.count and not piece.full and not piece.along:
            key = tuple(sorted(lies(piece, width)))
            if not key:
                continue
            groups.setdefault(key, []).append((piece.id, piece.count, (piece.width, piece.height)))
    kinds = [Kind(key, sum(o[1] for o in owners), tuple(owners)) for key, owners in groups.items()]
    kinds.sort(key=lambda k: (-max(max(s) for s in k.sizes), -max(min(s) for s in k.sizes), k.sizes))
    return Task(width, trim, tuple(kinds))


def layout(height: int, parts: Sequence[Part]) -> Layout:
    """Give a layout in cutting order: pieces of the strip's own height first, then taller and wider first."""
    merged: dict[tuple[int, int, int], int] = {}
    for kind, width, tall, number in parts:
        if number:
            merged[kind, width, tall] = merged.get((kind, width, tall), 0) + number
    rows = [(kind, width, tall, number) for (kind, width, tall), number in merged.items()]
    rows.sort(key=lambda p: (-p[2], -p[1], p[0]))
    return height, tuple(rows)


def used_width(parts: Sequence[Part]) -> int:
    """Add up the widths of the parts of one strip."""
    return sum(width * number for _, width, _, number in parts)


def total_height(layouts: Layouts) -> int:
    """Add up the heights of all strips."""
    return sum(height * copies for (height, _), copies in layouts.items())


def expand(task: Task, layouts: Sequence[tuple[Layout, int]]) -> list[tuple[int, int, tuple[Cut, ...]]]:
    """Give each owner its pieces, strip by strip in the order given: (height, copies, cuts).

    Equal strips stay together as long as the same owners take their pieces from them in the same way.
    """
    owed = [[list(owner) for owner in kind.owners] for kind in task.kinds]
    out: list[tuple[int, int, tuple[Cut, ...]]] = []
    for (height, parts), copies in layouts:
        for _ in range(copies):
            cuts = tuple(cut for part in parts for cut in _serve(owed[part[0]], part, height))
            if out and out[-1][0] == height and out[-1][2] == cuts:
                out[-1] = (height, out[-1][1] + 1, cuts)
            else:
                out.append((height, 1, cuts))
    return out


def _serve(owed: list[list[object]], part: Part, height: int) -> list[Cut]:
    """Hand the pieces of one part to the owners that are still owed some; drop what nobody asked for."""
    _, width, tall, number = part
    cuts = []
    for owner in owed:
        name, due, size = owner
        assert isinstance(name, str) and isinstance(due, int)
        take = min(due, number)
        if take:
            owner[1] = due - take
            number -= take
            cuts.append(Cut(name, take, width, tall, size != (width, tall), tall if tall < height else None))
    return cuts
