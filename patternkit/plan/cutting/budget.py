"""How much work a search may do, counted in steps that do not depend on the machine."""

from __future__ import annotations

from time import monotonic

CELLS = 100_000
"""Table cells filled, or numbers handled by the solver, that make up one step."""


class Budget:
    """Steps allowed and used; `hurried` once the net of seconds, and not the steps, ended the search."""

    def __init__(self, steps: int, seconds: float) -> None:
        """Allow a number of steps, and set the net that many seconds from now."""
        self.steps = steps
        self.work = 0
        self.hurried = False
        self._end = monotonic() + seconds
        self._whole: Budget | None = None

    def part(self, share: int, of: int) -> Budget:
        """Give a budget of this share of the steps that are left; its work counts here too."""
        left = max(0, self.steps - self.used)
        part = Budget(max(1, left * share // of), self.left())
        part._whole = self
        return part

    @property
    def used(self) -> int:
        """Give the steps used so far, rounded up."""
        return -(-self.work // CELLS)

    def charge(self, work: int) -> None:
        """Count work done, in cells."""
        self.work += work
        if self._whole is not None:
            self._whole.charge(work)

    def spent(self, share: float = 1.0) -> bool:
        """Say whether a share of the steps is used up, or the net of seconds is reached."""
        if self.work >= share * self.steps * CELLS:
            return True
        if monotonic() > self._end:
            self.hurry()
        return self.hurried

    def hurry(self) -> None:
        """Note that the net of seconds, and not the steps, ended the search."""
        self.hurried = True
        if self._whole is not None:
            self._whole.hurry()

    def left(self) -> float:
        """Give the seconds left until the net."""
        return max(0.01, self._end - monotonic())
