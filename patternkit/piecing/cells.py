"""Fields of hexagons with a point at the top: where cells lie, what squares them off, and how they are sewn together.

Corners are pairs of whole numbers, halves of a cell's width to the right and halves of its side down: exact, whatever
the size.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

Spot = tuple[int, int]
Ring = tuple[Spot, ...]
HEXAGON: Ring = ((0, -2), (1, -1), (1, 1), (0, 2), (-1, 1), (-1, -1))
"""The corners of a cell round its middle, clockwise from the top."""
AROUND: tuple[Spot, ...] = ((1, 1), (-1, 1), (-2, 0), (-1, -1), (1, -1), (2, 0))
"""From a cell to the next one of a round that begins at the upper right, side by side: half widths, rows."""


class UnevenRows(ValueError):
    """A row of cells that is neither as long as the one before nor one longer or shorter; its `number`, from 0."""

    def __init__(self, number: int) -> None:
        self.number = number


class Sewing(NamedTuple):
    """One seam of a field: the path along which what is `added` meets what is `sewn`, on its left."""

    path: Ring
    sewn: tuple[int, ...]
    added: tuple[int, ...]


def in_rows(lengths: Sequence[int]) -> list[list[Spot]]:
    """The middles of cells in rows of those lengths: rows as long as the one before lie half a cell to the right of it,
    and back again by turns, others are centred under it. Raises UnevenRows."""
    found: list[list[Spot]] = []
    start, back = 0, False
    for n, length in enumerate(lengths):
        if n:
            more = length - lengths[n - 1]
            if abs(more) > 1:
                raise UnevenRows(n)
            start += -more if more else -1 if back else 1
            back = not back if not more else back
        found.append([(start + 2 * i, n) for i in range(length)])
    return found


def in_rounds(rounds: int) -> list[list[Spot]]:
    """The middles of a cell and of the rounds about it, each clockwise from the upper right."""
    found: list[list[Spot]] = [[(0, 0)]]
    for n in range(1, rounds + 1):
        x, row = n, -n
        ring = []
        for dx, down in AROUND:
            for _ in range(n):
                ring.append((x, row))
                x, row = x + dx, row + down
        found.append(ring)
    return found


def cell(middle: Spot) -> Ring:
    """The corners of a cell."""
    x, row = middle
    return tuple((x + dx, 3 * row + dy) for dx, dy in HEXAGON)


def box(cells: Iterable[Ring]) -> tuple[Spot, Spot]:
    """The upper left and lower right corner of what lies round some cells."""
    spots = [spot for ring in cells for spot in ring]
    return (min(x for x, _ in spots), min(y for _, y in spots)), (max(x for x, _ in spots), max(y for _, y in spots))


def around(middles: Sequence[Spot]) -> list[tuple[Spot, Ring]]:
    """What squares off a field: the cells between it and the box round it, as far as they lie inside that."""
    (left, top), (right, bottom) = box(cell(m) for m in middles)
    known, found = set(middles), list[tuple[Spot, Ring]]()
    rows = [row for _, row in middles]
    odd = (middles[0][0] - middles[0][1]) % 2
    for row in range(min(rows) - 1, max(rows) + 2):
        for x in range(left, right + 1):
            if (x - row) % 2 == odd and (x, row) not in known:
                ring = _within(cell((x, row)), left, right, top, bottom)
                if len(ring) > 2:
                    found.append(((x, row), ring))
    return found


def _within(ring: Ring, left: int, right: int, top: int, bottom: int) -> Ring:
    """What of a cell lies inside a box that runs through corners and middles of cells."""
    for keeps, axis, at in ((1, 0, left), (-1, 0, right), (1, 1, top), (-1, 1, bottom)):
        kept: list[Spot] = []
        for i, spot in enumerate(ring):
            before = ring[i - 1]
            inside, was = keeps * (spot[axis] - at) >= 0, keeps * (before[axis] - at) >= 0
            if inside != was and before[axis] != at and spot[axis] != at:
                over, there = 1 - axis, (at - before[axis]) / (spot[axis] - before[axis])
                cut = round(before[over] + there * (spot[over] - before[over]))
                kept.append((at, cut) if axis == 0 else (cut, at))
            if inside:
                kept.append(spot)
        ring = tuple(kept)
    flat = len({x for x, _ in ring}) < 2 or len({y for _, y in ring}) < 2
    return () if flat else ring


# -- sewing -----------------------------------------------------------------------------------------------
def row_by_row(cells: Sequence[Ring], rows: Sequence[Sequence[int]]) -> list[Sewing]:
    """The cells of each row joined from the left, then the rows from the top; what fills a notch between two cells of
    the next row, or of the one before, is set in by itself."""
    seams: list[Sewing] = []
    runs: list[list[int]] = []
    for row in rows:
        first = len(runs)
        for n in row:
            if len(runs) > first and _path([cells[n]], [cells[k] for k in runs[-1]]):
                seams.append(Sewing(_path([cells[n]], [cells[k] for k in runs[-1]]), tuple(runs[-1]), (n,)))
                runs[-1] = [*runs[-1], n]
            else:
                runs.append([n])
    long = max(map(len, runs))
    start = next(run for run in runs if len(run) >= min(2, long))  # the first row, not what lies in its notches
    return [*seams, *_joined(cells, start, [run for run in runs if run is not start])]


def _top(cells: Sequence[Ring], run: Sequence[int]) -> int:
    return min(y for n in run for _, y in cells[n])


def _joined(cells: Sequence[Ring], start: Sequence[int], others: list[list[int]]) -> list[Sewing]:
    """What is sewn already with each of the others that touches it, from the top."""
    whole, seams = list(start), list[Sewing]()
    waiting = sorted(others, key=lambda run: (_top(cells, run), min(x for n in run for x, _ in cells[n])))
    while waiting:
        near = next((run for run in waiting if _path([cells[n] for n in run], [cells[n] for n in whole])), None)
        if near is None:
            raise ValueError("a field in several parts")
        waiting.remove(near)
        path = _path([cells[n] for n in near], [cells[n] for n in whole])
        seams.append(Sewing(path, tuple(whole), tuple(near)))
        whole += near
    return seams


def one_by_one(cells: Sequence[Ring], order: Sequence[int]) -> list[Sewing]:
    """Each cell set into all those before it."""
    return [
        Sewing(_path([cells[n]], [cells[k] for k in order[:i]]), tuple(order[:i]), (n,))
        for i, n in enumerate(order)
        if i
    ]


def _edges(cells: Iterable[Ring]) -> dict[Spot, Spot]:
    """The edges round some cells that are sewn together, each from its start, clockwise."""
    all_edges = {(a, ring[(i + 1) % len(ring)]) for ring in cells for i, a in enumerate(ring)}
    return {a: b for a, b in all_edges if (b, a) not in all_edges}


def _path(added: Sequence[Ring], sewn: Sequence[Ring]) -> Ring:
    """The line along which some cells meet others, clockwise round them; nothing where they do not meet."""
    others = {(b, a) for ring in sewn for i, a in enumerate(ring) for b in (ring[(i + 1) % len(ring)],)}
    edges = {a: b for a, b in _edges(added).items() if (a, b) in others}
    start = next((a for a in edges if a not in edges.values()), None)
    path = [start] if start is not None else []
    while path and path[-1] in edges:
        path.append(edges[path[-1]])
    return tuple(path)


def outline(cells: Sequence[Ring]) -> Ring:
    """The outline round cells that are sewn together, from its upper, then left corner."""
    edges = _edges(cells)
    at = min(edges, key=lambda spot: (spot[1], spot[0]))
    ring = [at]
    while edges[ring[-1]] != at:
        ring.append(edges[ring[-1]])
    n = len(ring)
    return tuple(p for i, p in enumerate(ring) if not _straight(ring[i - 1], p, ring[(i + 1) % n]))


def _straight(a: Spot, b: Spot, c: Spot) -> bool:
    return (b[0] - a[0]) * (c[1] - b[1]) == (b[1] - a[1]) * (c[0] - b[0])
