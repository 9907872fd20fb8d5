"""Kinds that never share a strip, planned apart: without trimming a strip holds pieces of one height only.

Two kinds belong together when they can have a height in common, or through kinds between them. The least length of the
whole is then the sum over the groups, and each is small enough to be proved by itself.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from patternkit.plan.cutting.bounds import Stairs, proofs, reachable
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.model import CuttingSettings
from patternkit.plan.cutting.rank import rank
from patternkit.plan.cutting.shelf import shelf_plans
from patternkit.plan.cutting.task import Layouts, Task, length_of
from patternkit.plan.cutting.tidy import tidied
from patternkit.plan.cutting.verify import bound_of, check_apart


class KindGroup:
    """The kinds with some indices, the best plan for them and the length they need at least."""

    def __init__(self, task: Task, kinds: tuple[int, ...], settings: CuttingSettings) -> None:
        """Begin with the shelf plans and the simple bounds."""
        self.task, self.kinds, self.settings = task, kinds, settings
        self.plans = list(shelf_plans(task))
        self.layouts = min(self.plans, key=lambda layouts: rank(task, layouts, settings))
        tried = list(proofs(task))
        self.stairs = next((proof for proof in tried if isinstance(proof, Stairs)), Stairs(()))
        self.bound = reachable(task, max(bound_of(task, proof) for proof in tried))
        self._searched = False

    def met(self) -> bool:
        """Say whether plan and bound agree."""
        return self.bound >= length_of(self.task, self.layouts)

    def search(self, budget: Budget) -> None:
        """Better the plan and the bound with the solver."""
        from patternkit.plan.cutting.improve import search

        self._searched = True
        self.layouts, proof = search(self.task, self.plans, self.stairs, self.bound, self.settings, budget)
        self.bound = max(self.bound, reachable(self.task, bound_of(self.task, proof)))

    def tidy(self) -> None:
        """Make the sub-cuts simpler where that costs nothing; a search has done so already."""
        if not self._searched:
            self.layouts = tidied(self.task, self.layouts, self.settings)


def apart(task: Task, settings: CuttingSettings) -> list[KindGroup]:
    """Split a task into its groups, the smallest first; one group of all where trimming or beds mix heights.

    Each of several groups is to be as short as can be: what can be bought is a matter of the whole.
    """
    found = groups_of(task)
    if len(found) < 2:
        return [KindGroup(task, tuple(range(len(task.kinds))), settings)]
    check_apart(task, found)
    exact = msgspec.structs.replace(settings, lot=1, spare=0, shrinkage=0)
    bare = [msgspec.structs.replace(task, kinds=tuple(task.kinds[i] for i in kinds), more=0) for kinds in found]
    return [KindGroup(one, kinds, exact) for one, kinds in zip(bare, found, strict=True)]


def groups_of(task: Task) -> list[tuple[int, ...]]:
    """Give the indices of the kinds of each group, the smallest groups first."""
    if task.trim or task.beds:
        return []
    groups: list[tuple[set[int], list[int]]] = []
    for index, kind in enumerate(task.kinds):
        heights, members = {height for _, height in kind.sizes}, [index]
        for group in [group for group in groups if group[0] & heights]:
            groups.remove(group)
            heights |= group[0]
            members += group[1]
        groups.append((heights, members))
    return sorted((tuple(sorted(members)) for _, members in groups), key=lambda g: (len(g), g))


def merge(groups: Sequence[KindGroup]) -> Layouts:
    """Put the plans of groups together, with the numbers that kinds have in the whole."""
    whole: Layouts = {}
    for group in groups:
        for row, copies in group.layouts.items():
            whole[row.renumbered(group.kinds)] = copies
    return whole


def total(groups: Sequence[KindGroup], more: int) -> int:
    """Add up the lengths that the groups need at least; a single group's has what is cut in any case."""
    return groups[0].bound if len(groups) == 1 else more + sum(group.bound for group in groups)
