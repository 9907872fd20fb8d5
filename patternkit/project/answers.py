"""One pattern in one size and colourway walks through the rooms: built, sized, made; pressed and planned when asked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING, Any, cast

from patternkit.lengths import Length
from patternkit.memory import Memory, Recent
from patternkit.model.build import build
from patternkit.model.pattern import Pattern
from patternkit.piecing.both_ways import by_halves, in_both_ways
from patternkit.piecing.keys import Key
from patternkit.piecing.making import Making, made_from
from patternkit.piecing.setting import make_quilt
from patternkit.piecing.sewn import SewnSizes
from patternkit.piecing.sizing import Sizing
from patternkit.piecing.solving import solve
from patternkit.piecing.workshop import Workshop
from patternkit.problems import Problem
from patternkit.project.sources import Sources
from patternkit.sizes import Solution
from patternkit.source import Source
from patternkit.syntax.statements import Node, PressStatement, Trivia

if TYPE_CHECKING:
    from patternkit.piecing.unknowns import Unknown
    from patternkit.plan.model import Plan
    from patternkit.pressing.joints import JointTree
    from patternkit.pressing.planner import PressPlan
    from patternkit.pressing.puzzle import PressOptions
    from patternkit.pressing.statements import PressedMaking
    from patternkit.sizes.explain import Explained


class Answers:
    """What follows from a pattern's text for one row of its sizes table and one colourway.

    Everything is worked out on first use and kept. `values` are set by name in the file's units; where `as_written` is
    False, counts, measures and amounts that the file states as plain numbers are not held against the pattern.
    """

    def __init__(
        self,
        sources: Sources,
        size: str,
        colourway: str,
        values: Mapping[str, Length],
        as_written: bool,
        memory: Memory | None,
    ) -> None:
        self.name, self.size, self.colourway = sources.name, size, colourway
        self.read, self._values, self._as_written, self._memory = sources, dict(values), as_written, memory
        self._joints: dict[Making, JointTree] = {}
        self._plans: dict[tuple[bool, int, Fraction | None], tuple[Plan, list[Problem]]] = {}

    def leader(self) -> Answers | None:
        """The same pattern in the size and colourway that is pressed first and that this one keeps to; None where it is
        the first itself."""
        return None

    # -- the text -----------------------------------------------------------------------------------------
    @property
    def sources(self) -> Mapping[str, Source]:
        """The text of the file and of those it includes, by name."""
        return self.read.files

    @property
    def nodes(self) -> tuple[Node | Trivia, ...]:
        """What the file says, with included files in their places."""
        return self.read.nodes

    @property
    def reading(self) -> Sequence[Problem]:
        """Problems met while reading; complete once `nodes` has been asked for."""
        return self.read.problems

    # -- model and sizes ----------------------------------------------------------------------------------
    @cached_property
    def _built(self) -> tuple[Pattern, list[Problem]]:
        return build(
            self.nodes,
            size=self.size,
            colourway=self.colourway,
            overrides=self._values,
            as_written=self._as_written and not self.size and not self._values,
            blind=self.read.blind,
            memory=self._memory,
            tables=self.read.tables,
        )

    @property
    def pattern(self) -> Pattern:
        """The model."""
        return self._built[0]

    @property
    def building(self) -> list[Problem]:
        """Problems met while building the model."""
        return self._built[1]

    @cached_property
    def _sized(self) -> tuple[Sizing, Solution]:
        sizing = Sizing(self.pattern, self._memory)
        return sizing, solve(sizing)

    @property
    def sizing(self) -> Sizing:
        """The equations."""
        return self._sized[0]

    @property
    def solution(self) -> Solution:
        """The sizes."""
        return self._sized[1]

    @cached_property
    def _repaired(self) -> tuple[list[Explained], Solution]:
        """Each contradiction explained, and the sizes once its first repair is made."""
        if not self.solution.disagrees_at(self.pattern.parameters):
            return [], self.solution
        from patternkit.sizes.explain import resolve
        from patternkit.sizes.wording import Wording

        units = self.pattern.settings
        wording = Wording(
            units.units,
            lambda var: self.sizing.name(cast("Unknown", var)),
            self.pattern.parameters,
            self.pattern.numbers,
            units.units.sign,
        )
        return resolve(self.solution, wording, grid=units.ruler, seam=units.seam)

    @property
    def disagreements(self) -> list[Explained]:
        """Sizes that can't all hold, explained; empty when everything adds up at the pattern's values."""
        return self._repaired[0]

    # -- makings ------------------------------------------------------------------------------------------
    @cached_property
    def sewn(self) -> SewnSizes:
        """The sizes that come out when everything is cut by the ruler; those that were solved where all lie on it, or
        where sizes don't agree."""
        from patternkit.piecing.sewn.choose import sewn_sizes

        if self.disagreements:
            return SewnSizes(self._repaired[1])
        return sewn_sizes(self.pattern, self.sizing, self.solution, _press, _meetings)

    @cached_property
    def shop(self) -> Workshop:
        """The workshop; its problems are complete once `makings` and `top` have been asked for. Where sizes don't agree
        it works with them as they are once the first repair of each disagreement is made."""
        return Workshop(self.pattern, self.sizing, self.sewn, _press, self._memory)

    @cached_property
    def makings(self) -> dict[str, Making]:
        """Every unit that could be made, by key."""
        return self.shop.make_all()

    @cached_property
    def top(self) -> Making | None:
        """The quilt top, or None when there is none or it can't be made."""
        self.makings  # noqa: B018  makes the units first, so that their problems come in the file's order
        top = make_quilt(self.pattern, self.shop)
        return None if top is None else in_both_ways(top)

    @cached_property
    def designed(self) -> dict[str, Making]:
        """Every unit at the size that was solved, by key: what `makings` are before anything is rounded to the
        ruler."""
        if self.sewn.as_solved:
            return self.makings
        return Workshop(self.pattern, self.sizing, self._repaired[1], _press).make_all()

    def kept(self, what: str) -> dict[Making, Any]:
        """A rule's own answers about makings, kept between versions of a text where there is a session."""
        if self._memory is None:
            return {}
        return self._memory.shelf(f"about makings: {what}", Recent[Making, Any]).among(len(self.makings))

    @cached_property
    def roots(self) -> Sequence[tuple[Making, int]]:
        """What is made in the end, with how many: the quilt, or each unit that no other unit uses."""
        if self.top is not None:
            return [(self.top, 1)]
        from patternkit.plan.counts import sewing_order

        inner = {id(x) for x in sewing_order([x for m in self.makings.values() for x in made_from(m)])}
        alone = [(m, self.pattern.units[k].make or 1) for k, m in self.makings.items() if id(m) not in inner]
        return by_halves(alone)

    def joint_tree(self, top: Making) -> JointTree:
        """Where the seams of a whole meet, read once for the checks and for the plan of its pressing."""
        from patternkit.pressing.joints import JointTree

        if top not in self._joints:
            known = self.kept("joints")
            like = next(iter(known.values()), None) if len(self.roots) == 1 else None
            known.clear()
            self._joints[top] = known[top] = JointTree(top, like)
        return self._joints[top]

    # -- pressing and plan --------------------------------------------------------------------------------
    @cached_property
    def pressing(self) -> PressPlan | None:
        """The best pressing of the quilt top; None when there is no top. Loads a solver only when parity does not do.

        Among plans of equal cost a size takes the one nearest to that of the pattern as it stands. A colourway is sewn
        by the steps that are written for the main fabrics, and takes their plan as it is.
        """
        from patternkit.pressing.planner import kept_plan, plan_pressing

        if self.top is None:
            return None
        values = self.values
        leader, strictly = self.leader(), bool(self.colourway)
        if leader is not None and strictly and values == leader.values:
            leader, strictly = leader.leader(), False  # light and dark are where they were: planned in the same way
        plan = leader.pressing if leader is not None else None
        keep = None if plan is None else kept_plan(plan, strictly=strictly)
        return plan_pressing(self.top, values, self.press_options, keep, self.joint_tree(self.top))

    @property
    def values(self) -> dict[str, str]:
        """Light, medium or dark for each fabric."""
        return {key: f.value for key, f in self.pattern.fabrics.items()}

    @property
    def press_options(self) -> PressOptions:
        """What the planner may do: which units it may press in two versions."""
        from patternkit.pressing.puzzle import PressOptions

        twofold = [u for u in self.pattern.units.values() if any(p.how == "versions" for p in u.press)]
        return PressOptions(versions=frozenset(Key(u.name, u.arguments) for u in twofold))

    @cached_property
    def pressed_top(self) -> Making | None:
        """The quilt top with every seam pressed as planned; units pressed in two versions are two makings."""
        from patternkit.pressing.planner import apply_plan

        return None if self.top is None or self.pressing is None else apply_plan(self.top, self.pressing)

    @cached_property
    def planned_top(self) -> Making | None:
        """The quilt top whose cuts are planned: the pressed one where the pressing decides how many strip units there
        are, otherwise the top as it is, which costs nothing."""
        from patternkit.plan.strip_units import rests_on_pressing

        return self.pressed_top if self.top is not None and rests_on_pressing(self.draft[0].counts) else self.top

    @cached_property
    def sewn_top(self) -> Making | None:
        """The quilt top as it is sewn: pressed as planned, one making for all rows that are alike."""
        from patternkit.plan.rows import merge_rows

        return None if self.pressed_top is None else merge_rows(self.pressed_top)

    @property
    def sewn_roots(self) -> Sequence[tuple[Making, int]]:
        """What is made in the end, as it is sewn, with how many."""
        return self.roots if self.sewn_top is None else [(self.sewn_top, 1)]

    def plan(
        self, *, solver: bool = True, steps: int = 1000, lot: Fraction | None = None
    ) -> tuple[Plan, list[Problem]]:
        """The cutting plan of the quilt as it is sewn, with what can't be cut; made once for each wish.

        With `solver` False it is a quick one; `steps` bounds the search. `lot` is the step in which cloth is sold
        (inches), where that is not the pattern's own.
        """
        from patternkit.plan.build import make_plan, sold_in

        wish = solver, steps, lot
        if wish not in self._plans:
            pattern = self.pattern if lot is None else sold_in(self.pattern, lot)
            plan, problems = make_plan(pattern, self.sewn_top, self.sewn_roots, steps=steps, solver=solver)
            self._plans[wish] = plan, [problem.placed(self.read.real) for problem in problems]
        return self._plans[wish]

    @cached_property
    def draft(self) -> tuple[Plan, list[Problem]]:
        """Counts, cutting lines and finishing, without any cutting plan: what most checks need."""
        from patternkit.plan.draft import draft_plan

        return draft_plan(self.pattern, self.top, self.roots, self.kept("strip units"))

    @cached_property
    def quick_plan(self) -> tuple[Plan, list[Problem]]:
        """A plan for checks: without the solver, and of the top as it is where pressing bears on no count. Counts and
        cuts are the same as those of `plan`, only the lengths may be a little longer."""
        from patternkit.plan.build import make_plan

        top = self.planned_top
        return make_plan(self.pattern, top, self.roots if top is None else [(top, 1)], solver=False)


def _press(
    making: Making, statements: Sequence[PressStatement], values: Mapping[str, str], general: Sequence[PressStatement]
) -> PressedMaking:
    """What a workshop presses with; loaded by the first statement."""
    from patternkit.pressing.statements import press_making

    return press_making(making, statements, values, general)


def _meetings(top: Making) -> Counter[frozenset[str]]:
    """How often seams of two makings meet where a line is sewn, by the units of the two."""
    from patternkit.pressing.joints import find_joints

    found: Counter[frozenset[str]] = Counter()
    for joint in find_joints(top):
        found[frozenset((joint.a.making.key.of, joint.b.making.key.of))] += joint.count
    return found
