"""Whether so many strips of stated heights can give the pieces that are wanted: by a plan, or by a bound against it.

A strip is cut across into segments, a segment into rows. Pieces lie with a side along the strip. The bounds hold for
any way of cutting: products of dual feasible functions of the two sides (S. Fekete, J. Schepers 2004, from memory) add
up over the pieces of a strip to no more than the same of the strip itself, since such functions are superadditive. All
in whole numbers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import NamedTuple

Strips = Mapping[int, int]
"""How many strips there are of each height."""
_Scale = tuple[Callable[[int], int], Callable[[int], int]]
"""A measure of a piece's side, and of the strip's."""


class Oblong(NamedTuple):
    """So many pieces of a size; `turns` where either side may lie along the strip, otherwise its width does."""

    width: int
    height: int
    number: int
    turns: bool = True

    @property
    def lies(self) -> tuple[tuple[int, int], ...]:
        """Side along the strip and height, each way that it may lie."""
        one = (self.width, self.height)
        return (one, one[::-1]) if self.turns and self.width != self.height else (one,)


def enough(strips: Strips, pieces: Sequence[Oblong], across: int) -> bool | None:
    """Whether the pieces can be cut from the strips, each `across` long; None where neither a plan nor a proof was
    found."""
    pieces = [p for p in pieces if p.number]
    if not pieces or any(laid(strips, pieces, across, taller) for taller in (True, False)):
        return True
    if too_few(strips, pieces, across):
        return False
    return _in_one_row(strips, pieces, across)


def fewest(height: int, strips: Strips, pieces: Sequence[Oblong], across: int, most: int) -> int | None:
    """The fewest strips of one height, beside the others, with which a plan is found; None where `most` are too few."""
    low, high = 0, most
    if not enough({**strips, height: most}, pieces, across):
        return None
    while low < high:
        middle = (low + high) // 2
        if enough({**strips, height: middle}, pieces, across):
            high = middle
        else:
            low = middle + 1
    return low


# -- plans ---------------------------------------------------------------------------------------------------
def laid(strips: Strips, pieces: Sequence[Oblong], across: int, taller: bool) -> bool:
    """Whether everything finds room where the longest pieces are laid first, each in strips of its own height, and what
    is left over in the ends of others; `taller` says in which strips pieces that fit two heights are laid first."""
    ends = [[height, across] for height in sorted(strips, reverse=True) for _ in range(strips[height])]
    heights = set(strips)

    def ways(p: Oblong) -> list[tuple[int, int]]:
        own = [way for way in p.lies if way[1] in heights]
        return sorted(own, key=lambda way: way[1], reverse=taller)

    waiting: list[tuple[int, Oblong]] = []
    for p in sorted(pieces, key=lambda p: (-max((h for _, h in ways(p)), default=0), -max(p.width, p.height))):
        left = p.number
        for along, height in ways(p):
            left -= _fill(ends, along, height, left, exact=True)
        if left:
            waiting.append((left, p))
    for left, p in sorted(waiting, key=lambda x: -x[1].width * x[1].height):
        for along, height in sorted(p.lies, key=lambda way: -way[1]):
            left -= _fill(ends, along, height, left, exact=False)
        if left > 0:
            return False
    return True


def _fill(ends: list[list[int]], along: int, height: int, wanted: int, *, exact: bool) -> int:
    """Lay pieces into the ends of strips, those of their own height or those that are taller; gives how many."""
    done = 0
    for end in sorted(ends, key=lambda e: e[0]) if not exact else ends:
        rows = end[0] // height
        if wanted <= done or not rows or (exact and end[0] != height):
            continue
        columns = min(end[1] // along, -(-(wanted - done) // rows))
        done += min(columns * rows, wanted - done)
        end[1] -= columns * along
    return done


def _in_one_row(strips: Strips, pieces: Sequence[Oblong], across: int) -> bool | None:
    """Exactly, where all strips are of one height and every piece lies in one row in one way."""
    from patternkit.lengths import Length
    from patternkit.plan.sharing import packable

    heights = [h for h, n in strips.items() if n]
    if len(heights) != 1:
        return None
    height = heights[0]
    fits = [[way for way in p.lies if way[1] <= height] for p in pieces]
    if any(len(ways) != 1 or 2 * min(p.width, p.height) <= height for p, ways in zip(pieces, fits, strict=True)):
        return None
    segments = [(Length(ways[0][0]), p.number) for p, ways in zip(pieces, fits, strict=True)]
    return packable(segments, Length(across), strips[height])


# -- bounds --------------------------------------------------------------------------------------------------
def too_few(strips: Strips, pieces: Sequence[Oblong], across: int) -> bool:
    """Whether it is proved that the pieces cannot be cut from the strips, whatever way they are cut."""
    tallest = max((h for h, n in strips.items() if n), default=0)
    lying = [(p.number, [w for w in p.lies if w[0] <= across and w[1] <= tallest]) for p in pieces]
    if any(not ways for _, ways in lying):
        return True
    widths = sorted({a for _, ways in lying for a, _ in ways})
    heights = sorted({h for _, ways in lying for _, h in ways})
    for side, whole in _scales(widths, across):
        for up, room in _rows(heights):
            need = sum(n * min(side(a) * up(h) for a, h in ways) for n, ways in lying)
            if need > whole(across) * sum(n * room(h) for h, n in strips.items()):
                return True
    return False


def _rows(heights: Sequence[int]) -> Iterator[_Scale]:
    yield (lambda h: h), (lambda h: h)
    for t in heights:
        yield (lambda h, t=t: h // t), (lambda h, t=t: h // t)  # type: ignore[misc]


def _scales(widths: Sequence[int], across: int) -> Iterator[_Scale]:
    """Dual feasible functions of the side along a strip."""
    yield (lambda w: w), (lambda u: u)
    steps = {*widths, *(across // k + 1 for k in range(1, 9)), *(across - w + 1 for w in widths)}
    for s in sorted(steps):
        if s > 0:
            yield (lambda w, s=s: w // s), (lambda u, s=s: u // s)  # type: ignore[misc]
    for k in range(1, 7):

        def rounded(w: int, k: int = k) -> int:
            return w * k if (k + 1) * w % across == 0 else (k + 1) * w // across * across

        yield rounded, (lambda u, k=k: u * k)  # type: ignore[misc]
    for e in widths:
        if 2 * e <= across:

            def cut_off(w: int, e: int = e) -> int:
                return across if w > across - e else 0 if w < e else w

            yield cut_off, (lambda u: u)
