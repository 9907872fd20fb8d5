"""How long cloth must be however it is cut: quick bounds first, then those that the solver finds."""

from __future__ import annotations

from collections.abc import Sequence

from patternkit.plan.cutting.bounds import LineBound, proofs, reachable
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.free import free_cloth
from patternkit.plan.cutting.model import CuttingSettings, PieceDemand
from patternkit.plan.cutting.task import CutKind, Task
from patternkit.plan.cutting.verify import bound_of

MANY = 16
"""Most kinds for which lines across and along are tried together."""


class FreeBound:
    """The length that is known to be needed however a list is cut; it rises where more is asked.

    Pieces can always be pushed up until each lies under others or at the top, so that the length is a sum of heights of
    pieces.
    """

    def __init__(self, pieces: Sequence[PieceDemand], settings: CuttingSettings) -> None:
        """Begin with what weights of widths show."""
        self.cloth = free_cloth(pieces, settings)
        kinds = tuple(CutKind(kind.sizes, kind.demand, ()) for kind in self.cloth.kinds)
        self.task = Task(self.cloth.width, True, kinds, more=self.cloth.more)
        self.length = 0
        self._asked: set[int] = set()
        self._raise(max(bound_of(self.task, proof) for proof in proofs(self.task) if isinstance(proof, LineBound)))
        self._raise(self.cloth.more + self.cloth.tallest())

    def _raise(self, length: int) -> None:
        self.length = max(self.length, reachable(self.task, length))

    def reach(self, length: int, budget: Budget) -> bool:
        """Try to show with the solver that so much is needed; say whether it is."""
        if self.length >= length or length in self._asked:
            return self.length >= length
        from patternkit.plan.cutting.slices import slices, too_short
        from patternkit.plan.cutting.verify_free import check_too_short, length_needed

        self._asked.add(length)
        lines = slices(self.cloth, budget, length)
        self._raise(length_needed(self.cloth, lines))
        if self.length < length and len(self.cloth.kinds) <= MANY and not budget.spent():
            short = too_short(self.cloth, length - 1, lines.across, budget)
            if short is not None:
                check_too_short(self.cloth, short)
                self._raise(length)
        return self.length >= length
