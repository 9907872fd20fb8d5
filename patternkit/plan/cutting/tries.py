"""Plans by rule of thumb, with dice: the tallest piece begins a strip, its end is filled with what fits it best, and
what remains under each piece with rows of others. What is tallest and what fits best is thrown anew each time.

For short lists with some room to spare a few hundred such plans hold one that takes a step of cloth less more often
than not, before any proof is begun. The dice are always thrown alike, so that a list always has the same plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from patternkit.plan.cutting.budget import CELLS, Budget
from patternkit.plan.cutting.points import TALL
from patternkit.plan.cutting.task import Layouts, Part, PieceRow, Task, stacked

LOOKS = 1500
"""Ways of lying that can be looked at in one step."""
NOISE = (0.1, 0.3, 0.6, 1.5)
"""How far the dice may raise what a piece is worth, thrown once for each plan."""
TALLER = (0.0, 0.3, 0.5)
"""How likely a strip is higher than its first piece, thrown once for each plan."""
FITTING = (0.0, 0.5, 1.0)
"""How much it counts that a piece is as high as its strip, thrown once for each plan."""
POWERS = (0.8, 1.3)
"""Large pieces are worth their area to a power between these."""

_Way = tuple[int, int, int]
"""A kind, and its width and height as it lies."""
_Row = tuple[int, list[Part]]
_Strip = tuple[int, int, list[list[_Row]]]


class Tries:
    """Plans of one task, one after another."""

    def __init__(self, task: Task, budget: Budget) -> None:
        """Throw the first dice for this task."""
        self.task, self.budget = task, budget
        self.dice = Random(1)
        self.ways = [(k, w, h) for k, kind in enumerate(task.kinds) for w, h in kind.sizes]
        self.area = [kind.sizes[0][0] * kind.sizes[0][1] for kind in task.kinds]
        self.sizes = [self.area[kind] for kind, _, _ in self.ways]
        self.low = [min(h for _, h in task.kinds[kind].sizes) for kind, _, _ in self.ways]
        self.heights = sorted({h for _, _, h in self.ways})
        self.tallest = min(task.tallest(TALL), task.reach or task.tallest(TALL))
        self.looked = 0

    def plan(self, longest: int, most: int) -> Layouts | None:
        """Give the first plan no longer than `longest`, if one is met before so many ways of lying are looked at."""
        begun = self.looked
        found: list[_Strip] | None = None
        while found is None and self.looked - begun < most and not self.budget.spent():
            before = self.looked
            self._throw()
            found = self._try(longest - self.task.more)
            self.budget.charge((self.looked - before) * CELLS // LOOKS)
        if found is None:
            return None
        plan: Layouts = {}
        for bed, height, segments in found:
            rows = [[PieceRow(high, tuple(parts)) for high, parts in segment] for segment in segments]
            strip = stacked(height, rows, bed)
            plan[strip] = plan.get(strip, 0) + 1
        return plan

    def _throw(self) -> None:
        """Throw what one plan keeps to."""
        dice = self.dice
        self.looked += len(self.ways)
        self.noise, self.taller, self.fitting = dice.choice(NOISE), dice.choice(TALLER), dice.choice(FITTING)
        power = dice.uniform(*POWERS)
        self.worth = [area**power * (1 + self.noise * dice.random()) for area in self.area]

    def _try(self, longest: int) -> list[_Strip] | None:
        """Give one plan, or None once it must come out too long: the beds are filled first."""
        task = self.task
        self.left = [kind.demand for kind in task.kinds]
        self.need = sum(kind.demand * area for kind, area in zip(task.kinds, self.area, strict=True))
        strips: list[_Strip] = []
        for bed, (width, length) in enumerate(task.beds, 1):
            while (begun := self._first(width, length)) is not None:
                height, segments = self._strip(begun, width, length)
                length -= height
                strips.append((bed, height, segments))
        room = longest
        while any(self.left):
            if self.need > room * task.width or (begun := self._first(task.width, room)) is None:
                return None
            height, segments = self._strip(begun, task.width, room)
            room -= height
            strips.append((0, height, segments))
        return strips

    def _choose(self, width: int, height: int, worths: Sequence[float], rows: bool = False) -> _Way | None:
        """Give the way of lying that is worth most of those that fit, as the dice fall; where `rows` are filled, by as
        many as lie side by side."""
        left, noise, rolled = self.left, self.noise, self.dice.random
        best, found = -1.0, None
        self.looked += len(worths)
        for way, worth in zip(self.ways, worths, strict=True):
            kind, across, high = way
            if left[kind] and across <= width and high <= height:
                value = worth * (1 + noise * rolled())
                if rows:
                    value *= min(left[kind], width // across)
                if value > best:
                    best, found = value, way
        return found

    def _first(self, width: int, room: int) -> _Way | None:
        """Give the piece that begins a strip: the tallest, lying as low as it can."""
        begun = self._choose(width, room, self.low)
        if begun is None:
            return None
        ways = [(begun[0], w, h) for w, h in self.task.kinds[begun[0]].sizes if w <= width and h <= room]
        return min(ways, key=lambda way: way[2] * (1 + self.noise * self.dice.random())) if len(ways) > 1 else begun

    def _strip(self, begun: _Way, width: int, room: int) -> tuple[int, list[list[_Row]]]:
        """Fill one strip from its first piece on; give its height and its segments."""
        height = begun[2]
        if self.dice.random() < self.taller:
            taller = height + self.dice.choice(self.heights)
            height = taller if taller <= min(room, self.tallest) else height
        segments = list[list[_Row]]()
        worths = [self.worth[kind] * (high / height) ** self.fitting for kind, _, high in self.ways]
        way: _Way | None = begun
        while way is not None:
            kind, across, high = way
            most = min(self.left[kind], width // across)
            number = self.dice.choice((1, most, most, most, self.dice.randint(1, most))) if most > 1 else 1
            self._take(kind, number)
            segments.append([(high, [(kind, across, high, number)]), *self._under(across * number, height - high)])
            width -= across * number
            way = self._choose(width, height, worths)
        return height, segments

    def _under(self, width: int, room: int) -> list[_Row]:
        """Fill what remains under the first row of a segment with rows: those of the largest area first."""
        rows = list[_Row]()
        while room >= self.heights[0]:
            way = self._choose(width, room, self.sizes, rows=True)
            if way is None:
                break
            high, beside, parts = way[2], width, list[Part]()
            while way is not None:
                kind, across, tall = way
                number = min(self.left[kind], beside // across)
                self._take(kind, number)
                parts.append((kind, across, tall, number))
                beside -= number * across
                way = self._choose(beside, high, self.sizes)
            rows.append((high, parts))
            room -= high
        return rows

    def _take(self, kind: int, number: int) -> None:
        self.left[kind] -= number
        self.need -= number * self.area[kind]
