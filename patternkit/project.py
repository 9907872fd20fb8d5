"""A pattern on its way through the rooms: read, built, sized, made; planned when asked."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any, cast

from patternkit.lengths import Length
from patternkit.memory import Memory
from patternkit.model.build import build
from patternkit.model.pattern import Pattern
from patternkit.piecing.making import Making
from patternkit.piecing.setting import make_quilt
from patternkit.piecing.sizing import Sizing
from patternkit.piecing.solving import solve
from patternkit.piecing.workshop import Workshop
from patternkit.problems import Problem
from patternkit.sizes import Solution
from patternkit.source import Source
from patternkit.syntax.parse import parse
from patternkit.syntax.statements import File, Include, Node, Trivia

if TYPE_CHECKING:
    from patternkit.piecing.unknowns import Unknown
    from patternkit.plan.model import Plan
    from patternkit.pressing.planner import PressPlan
    from patternkit.sizes.explain import Explained

MOST_INCLUDES = 50

Reader = Callable[[str, str], tuple[str, str]]
"""Takes the including file's name and the path as written; gives the included file's name and text, or raises
OSError.
"""


class Recent:
    """Answers about the makings of the present project: those about makings that are gone are dropped in time."""

    def __init__(self) -> None:
        self._answers: dict[Making, Any] = {}
        self._project: Project | None = None

    def now(self, project: Project) -> dict[Making, Any]:
        """The answers for a project; what a project before the last knew is forgotten."""
        if self._project is not project:
            if len(self._answers) > 4 * len(project.makings) + 100:
                self._answers = {}
            self._project = project
        return self._answers


class Project:
    """One pattern file (with what it includes), for one row of its sizes table and one colourway.

    Everything is worked out on first use and kept; nothing is read or written here but through `reader`.
    """

    def __init__(
        self,
        name: str,
        text: str,
        *,
        size: str = "",
        colourway: str = "",
        overrides: Mapping[str, Length] | None = None,
        reader: Reader | None = None,
        as_written: bool = True,
        memory: Memory | None = None,
    ) -> None:
        self.name, self.size, self.colourway = name, size, colourway
        self._memory = memory
        self._as_written = as_written and not size and not overrides
        self._overrides = dict(overrides or {})
        self._reader = reader
        self.sources: dict[str, Source] = {name: Source(name, text)}
        self.reading: list[Problem] = []
        self._kin: dict[tuple[str, str], Project] = {(size, colourway): self}

    def in_size(self, size: str, colourway: str | None = None) -> Project:
        """The same pattern in a row of its sizes table (and a colourway); what is read stays read."""
        text = self.sources[self.name].text
        new = Project(
            self.name,
            text,
            size=size,
            colourway=self.colourway if colourway is None else colourway,
            overrides=self._overrides,
            reader=self._reader,
        )
        return new._related(self)

    def _related(self, other: Project) -> Project:
        """This project, known to another of the same pattern: what is told for one of them is kept to by the others."""
        self._kin = other._kin
        self._kin.setdefault((self.size, self.colourway), self)
        return self

    def _told(self) -> Project | None:
        """The project whose pressing is told first: a colourway keeps to that of the main fabrics, a size to
        that of the pattern as it stands. None for that one itself.
        """
        if not self.size and not self.colourway:
            return None
        want = (self.size if self.colourway else "", "")
        return self._kin.get(want) or self.in_size(*want)

    def with_values(self, values: Mapping[str, Length], text: str | None = None) -> Project:
        """The same pattern with other values (by name, in the file's units), and maybe another text.

        It is not the pattern as written any more: the counts, measures and amounts that the file states as plain
        numbers are not held against it.
        """
        return Project(
            self.name,
            self.sources[self.name].text if text is None else text,
            size=self.size,
            colourway=self.colourway,
            overrides={**self._overrides, **values},
            reader=self._reader,
            as_written=False,
        )

    @cached_property
    def nodes(self) -> tuple[Node | Trivia, ...]:
        """What the file says, with included files in their places."""
        first = parse(self.name, self.sources[self.name].text)
        return tuple(self._included(first, [self.name]))

    def _included(self, file: File, chain: list[str]) -> list[Node | Trivia]:
        self.reading.extend(file.problems)
        nodes: list[Node | Trivia] = []
        for node in file.nodes:
            statement = node.statement if isinstance(node, Node) else None
            nodes.append(node)
            if isinstance(statement, Include):
                nodes.extend(self._include(statement, chain))
        return nodes

    def _include(self, statement: Include, chain: list[str]) -> list[Node | Trivia]:
        if self._reader is None:
            self.reading.append(
                Problem("cannot-include", f"The file {statement.path} can't be read from here.", statement.span)
            )
            return []
        try:
            name, text = self._reader(chain[-1], statement.path)
        except (OSError, UnicodeDecodeError, ValueError) as error:
            reason = getattr(error, "strerror", None) or "it is not plain text"
            self.reading.append(
                Problem("cannot-include", f"The file {statement.path} can't be read: {reason}.", statement.span)
            )
            return []
        if name in chain:
            self.reading.append(
                Problem("cannot-include", f"The file {statement.path} includes itself.", statement.span)
            )
            return []
        if name in self.sources:
            return []
        if len(self.sources) >= MOST_INCLUDES:
            self.reading.append(Problem("too-large", f"More than {MOST_INCLUDES} files are included.", statement.span))
            return []
        self.sources[name] = Source(name, text)
        return self._included(parse(name, text), [*chain, name])

    @cached_property
    def _built(self) -> tuple[Pattern, list[Problem]]:
        nodes = self.nodes
        blind = any(p.code == "cannot-include" for p in self.reading)
        return build(
            nodes,
            size=self.size,
            colourway=self.colourway,
            overrides=self._overrides,
            as_written=self._as_written,
            blind=blind,
            memory=self._memory,
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
    def _settled(self) -> tuple[list[Explained], Solution]:
        if not self.solution.disagrees_at(self.pattern.parameters):
            return [], self.solution
        from patternkit.sizes.explain import Wording, settle

        units = self.pattern.settings
        wording = Wording(
            units.units,
            lambda var: self.sizing.name(cast("Unknown", var)),
            self.pattern.parameters,
            self.pattern.numbers,
            units.units.sign,
        )
        return settle(self.solution, wording, grid=units.ruler, seam=units.seam)

    @property
    def disagreements(self) -> list[Explained]:
        """Sizes that can't all hold, explained; empty when everything adds up at the pattern's values."""
        return self._settled[0]

    @cached_property
    def shop(self) -> Workshop:
        """The workshop; its problems are complete once `makings` and `top` have been asked for. Where sizes don't agree
        it works with them as they are once the first repair of each disagreement is made."""
        return Workshop(self.pattern, self.sizing, self._settled[1], self._memory)

    @cached_property
    def makings(self) -> dict[str, Making]:
        """Every unit that could be made, by key."""
        return self.shop.make_all()

    @cached_property
    def top(self) -> Making | None:
        """The quilt top, or None when there is none or it can't be made."""
        self.makings  # noqa: B018  makes the units first, so that their problems come in the file's order
        return make_quilt(self.pattern, self.shop)

    def kept(self, what: str) -> dict[Making, Any]:
        """A rule's own answers about makings, kept between versions of a text where there is a session."""
        if self._memory is None:
            return {}
        return self._memory.shelf(f"about makings: {what}", Recent).now(self)

    @property
    def roots(self) -> Sequence[tuple[Making, int]]:
        """What is made in the end, with how many: the quilt, or each unit that no other unit uses."""
        if self.top is not None:
            return [(self.top, 1)]
        inner = {id(p.what) for m in self.makings.values() for p in m.parts}
        return [(m, self.pattern.units[k].make or 1) for k, m in self.makings.items() if id(m) not in inner]

    @cached_property
    def pressing(self) -> PressPlan | None:
        """The best pressing of the quilt top; None when there is no top. Loads a solver only when parity does
        not do.

        Among plans of equal cost a size takes the one nearest to that of the pattern as it stands. A
        colourway is sewn by the steps that are told for the main fabrics, and takes their plan as it is.
        """
        from patternkit.pressing.planner import PressOptions, kept_plan, plan_pressing

        if self.top is None:
            return None
        values = {key: f.value for key, f in self.pattern.fabrics.items()}
        versions = frozenset(u.key for u in self.pattern.units.values() if any(p.how == "versions" for p in u.press))
        told, strictly = self._told(), bool(self.colourway)
        if told is not None and strictly and values == {key: f.value for key, f in told.pattern.fabrics.items()}:
            told, strictly = told._told(), False  # light and dark are where they were: planned in the same way
        plan = told.pressing if told is not None else None
        keep = None if plan is None else kept_plan(plan, strictly=strictly)
        return plan_pressing(self.top, values, PressOptions(versions=versions), keep)

    @cached_property
    def pressed_top(self) -> Making | None:
        """The quilt top with every seam pressed as planned; units pressed in two versions are two makings."""
        from patternkit.pressing.planner import apply_plan

        return None if self.top is None or self.pressing is None else apply_plan(self.top, self.pressing)

    @cached_property
    def planned_top(self) -> Making | None:
        """The quilt top whose cuts are planned: the pressed one where the pressing decides how many strip
        units there are, otherwise the top as it is, which costs nothing.
        """
        from patternkit.plan.strip_units import rests_on_pressing

        return self.pressed_top if self.top is not None and rests_on_pressing(self.draft[0].counts) else self.top

    def plan(self, *, solver: bool = True, steps: int = 1000) -> tuple[Plan, list[Problem]]:
        """The cutting plan; with `solver` False the quick one."""
        from patternkit.plan.build import make_plan

        top = self.planned_top
        roots = self.roots if top is None else [(top, 1)]
        return make_plan(self.pattern, top, roots, steps=steps, solver=solver)

    @cached_property
    def draft(self) -> tuple[Plan, list[Problem]]:
        """Counts, cutting lines and finishing, without any cutting plan: what most checks need."""
        from patternkit.plan.draft import draft_plan

        return draft_plan(self.pattern, self.top, self.roots)

    @cached_property
    def quick_plan(self) -> tuple[Plan, list[Problem]]:
        """The plan without the solver: counts and cuts are the same, only the lengths may be a little longer."""
        return self.plan(solver=False)
