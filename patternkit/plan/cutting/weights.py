"""Weights for widths such that no row of pieces that fits across the cloth weighs more than the cloth.

They are dual feasible functions in the sense of S. P. Fekete and J. Schepers, "New classes of fast lower bounds for bin
packing problems" (Mathematical Programming 91, 2001), and of M. A. Boschetti and A. Mingozzi (4OR 1, 2003), multiplied
out to whole numbers (references from memory; the tests try them out). All are superadditive, so the weight of a
narrower cloth's own width limits the rows that fit on that.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeAlias

Weight: TypeAlias = tuple[str, int]
"""Name of the function and its parameter."""


def weigh(weight: Weight, width: int, cloth: int) -> int:
    """Give the weight of a width from 0 to `cloth`; the whole cloth's own width weighs most."""
    name, parameter = weight
    if name == "plain":
        return width
    if name == "count":
        # As many as fit: pieces just over 1/(k+1) of the cloth count as 1/k of it.
        whole, over = divmod((parameter + 1) * width, cloth)
        return whole * cloth if over else parameter * width
    if name == "wide":
        # What is wider than the cloth less the parameter leaves room only for what is narrower than it.
        return cloth if width > cloth - parameter else width if width >= parameter else 0
    if name == "step":
        # Widths rounded down to multiples of the parameter; beyond half the cloth, what is left is rounded.
        if 2 * width == cloth:
            return cloth // parameter
        if 2 * width < cloth:
            return 2 * (width // parameter)
        return 2 * (cloth // parameter - (cloth - width) // parameter)
    raise ValueError(f"no weight is called {name!r}")


def choices(widths: set[int], cloth: int) -> Iterator[Weight]:
    """Give the weights worth trying for these widths."""
    yield "plain", 0
    for count in range(1, min(60, cloth // min(widths)) + 1 if widths else 1):
        yield "count", count
    edges = {w for w in widths if 2 * w <= cloth} | {cloth - w for w in widths if 2 * w > cloth and w < cloth}
    edges |= {cloth - w + 1 for w in widths if 2 * w > cloth + 1}
    for edge in sorted(e for e in edges if 0 < 2 * e <= cloth):
        yield "wide", edge
        yield "step", edge
