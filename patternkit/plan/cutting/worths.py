"""Known weights tried across the cloth and along it, all with all: which come nearest to showing a length too short.

The weights are those of `patternkit.plan.cutting.weights`; that they may be used both ways at once is shown by S. P.
Fekete and J. Schepers (Mathematics of Operations Research 29, 2004; reference from memory).
"""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from patternkit.plan.cutting.free import FreeCloth
from patternkit.plan.cutting.weights import choices, weigh

Worths: TypeAlias = tuple[tuple[int, ...], ...]
"""A whole-number worth for each kind in each way of lying."""
Table: TypeAlias = npt.NDArray[np.float64]
LIKELY = 3
"""Weights across that are given back."""
MOST = 120
"""Most weights tried in each direction."""


def likely_worths(cloth: FreeCloth, width: int, length: int) -> list[Worths]:
    """Give the weights across that do best with some weights along, best first."""
    across, names = _tables(cloth, width, 0)
    along, _ = _tables(cloth, length, 1)
    shares = np.zeros((len(names), along[0].shape[0]))
    for kind, wide, tall in zip(cloth.kinds, across, along, strict=True):
        worth = wide[:, None, :] * tall[None, :, :]
        shares += kind.demand * worth.min(axis=2)
    best = shares.max(axis=1)
    found: list[Worths] = []
    for at in np.argsort(-best, kind="stable"):
        worths = tuple(tuple(weigh(names[at], w, width) for w, _ in kind.sizes) for kind in cloth.kinds)
        if worths not in found:
            found.append(worths)
        if len(found) == LIKELY:
            break
    return found


def _tables(cloth: FreeCloth, room: int, side: int) -> tuple[list[Table], list[tuple[str, int]]]:
    """Give, for each kind, its weights (rows) in each way of lying (columns) as shares of the whole line."""
    sizes = {size[side] for kind in cloth.kinds for size in kind.sizes}
    names = [name for name in choices(sizes, room) if weigh(name, room, room)][:MOST]
    known = {size: np.array([weigh(name, size, room) / weigh(name, room, room) for name in names]) for size in sizes}
    return [np.stack([known[size[side]] for size in kind.sizes], axis=1) for kind in cloth.kinds], names
