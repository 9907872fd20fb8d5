"""What every kind of unit answers: its equations, its geometry, its cuts. One file beside this one for each kind.

A kind is found by the keyword of its line (`words`). The sizes room asks it for equations, the workshop for a making at
solved sizes. What kinds share lives here and in `patternkit.piecing.shapes`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, ClassVar, Protocol

from patternkit.lengths import Length
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.leaves import Along, Ends, Leaf
from patternkit.piecing.making import Making, Part, Place
from patternkit.piecing.method import Method
from patternkit.piecing.unknowns import Unknown
from patternkit.problems import Problem
from patternkit.sizes.affine import Affine
from patternkit.source import Span
from patternkit.units import Units

if TYPE_CHECKING:
    from patternkit.piecing.forms import Form

NOTHING = Affine(0)


class Equations(Protocol):
    """Where a kind states what must hold between finished sizes. Every text is a whole sentence in trade words."""

    seam: Length

    def size_of(self, unit: Unit, piece: Component) -> tuple[Unknown, Unknown]:
        """The unknown width and height of a piece as it lies (a quarter turn swaps those of its unit)."""
        ...

    def outer(self, unit: Unit) -> tuple[Unknown, Unknown]:
        """The unknown finished width and height of the unit."""
        ...

    def same(self, a: Unknown, b: Unknown, text: str, span: Span) -> None:
        """The two sizes meet in a seam and must be equal; `text` names the place ("row 2 of block lantern")."""
        ...

    def total(
        self,
        parts: Iterable[tuple[Length | int, Unknown]],
        whole: Unknown,
        text: str,
        span: Span,
        more: Affine = NOTHING,
    ) -> None:
        """The sum of coefficient times size over `parts`, and `more`, is `whole`. For several parts with coefficient 1
        `text` names the place where they lie side by side; otherwise it is a whole sentence about the kind's
        geometry."""
        ...

    def stated(
        self,
        var: Unknown,
        value: Affine,
        text: str,
        span: Span,
        typed: Affine | None = None,
        number: Span | None = None,
    ) -> None:
        """The writer says that this finished size is `value`; `typed` is the number she wrote, where that is another (a
        raw size, two seams larger), `number` the place of that number alone."""
        ...

    def shown(self, var: Unknown, text: str) -> None:
        """How an unknown is called in messages ("the corner of unit star")."""
        ...

    def render(self, value: Affine) -> str:
        """A value in the writer's units, with its sign where it is a plain number: ``9 1/2 in``, ``side/3``."""
        ...

    def way(self, var: Unknown) -> str:
        """Which way a size runs as its piece lies: ``wide``, ``high``, or ``long`` for a size of another sort."""
        ...

    def problem(self, problem: Problem) -> None:
        """Report something wrong with the statements of a unit."""
        ...

    def length(self, unit: Unit, expression: object) -> Affine | None:
        """The value in inches of an expression in one of the unit's options, or None after reporting a problem."""
        ...

    def about(self, value: Affine) -> float:
        """A stated value as a plain number, at the pattern's parameters."""
        ...

    def form_of(self, unit: Unit, piece: Component) -> Form | None:
        """The outline of a piece as it lies, in terms of unknown sizes; None for a rectangle."""
        ...


class Shop(Protocol):
    """Where a kind makes its making: solved sizes, settings and the makings of the units it is built from."""

    seam: Length
    grid: Fraction
    units: Units

    def value(self, value: Affine) -> Length:
        """A stated value (a claim's, a size in place, a method's length) at the pattern's parameters."""
        ...

    def width(self, unit: Unit) -> Length:
        """Finished width of a unit as it is sewn."""
        ...

    def height(self, unit: Unit) -> Length:
        """Finished height of a unit as it is sewn."""
        ...

    def solved(self, var: Unknown) -> Length:
        """A solved unknown at the pattern's values; raises Unsettled when nobody gave it."""
        ...

    def solved_alone(self, own: Unknown, usual: Unknown) -> Length:
        """The size `own` of one piece where it has one, else the size `usual` that it shares with others."""
        ...

    def piece_size(self, unit: Unit, piece: Component) -> tuple[Length, Length]:
        """Finished width and height of a piece as it lies."""
        ...

    def part(self, unit: Unit, piece: Component) -> tuple[Part, Place]:
        """The piece ready to be placed: its making or cloth, and the placement that puts the top left corner of its
        bounding box at (0, 0) (turned and mirrored as the writer says; a mirrored unit comes as its own making)."""
        ...

    def fabric(self, unit: Unit, piece: Component) -> str:
        """The fabric of a piece that is drawn as cloth. Where it is a unit, the name of the cloth that stands for it
        until the making is made (see `piecing.standing`); raises Unsettled after reporting where no unit can be."""
        ...

    def strips(self, piece: Component) -> tuple[Making, Place]:
        """The strip unit from which a `laid` piece is cut, and how it is turned, its box's top left corner at (0, 0)
        unless it lies on the slant."""
        ...

    def stated_cuts(self, unit: Unit) -> frozenset[Length]:
        """The raw sizes that the writer states of a unit's plain pieces: they are cut as she wrote them, and so is what
        is as large."""
        ...

    def length(self, unit: Unit, expression: object) -> Length | None:
        """The value in inches of an expression in an option."""
        ...

    def usable_width(self, fabric: str) -> Length:
        """Usable width of a fabric."""
        ...

    def is_print(self, fabric: str) -> bool:
        """Whether a fabric is one print of a group, which is not the same in all copies of a unit."""
        ...

    def needed(self, unit: Unit) -> int | None:
        """How many of the unit the writer says to make (a `make` claim), where a method depends on it."""
        ...

    def problem(self, problem: Problem) -> None:
        """Keep a problem met while making."""
        ...


class Unsettled(Exception):
    """A size that the geometry needs is not known; the sizes check has reported it."""


class Kind:
    """A kind of unit. Subclasses are stateless; one instance of each is kept in the registry."""

    words: ClassVar[tuple[str, ...]] = ()  # keywords, the first is the usual one
    written: ClassVar[str] = ""  # how its line is written, for one that lists too many pieces or too few
    methods: ClassVar[tuple[Method, ...]] = ()  # those a writer may choose, the usual one first; none: made in one way
    oversize: ClassVar[bool] = False  # whether it may be cut larger than needed, and trimmed
    trimming: ClassVar[bool] = False  # whether `trimming yes` of the pattern makes it so
    options: ClassVar[dict[str, str]] = {}  # option word -> how it is written, for "did you mean" and the reference
    shapes: ClassVar[bool] = False  # whether its pieces may be no rectangles: it says itself which do not fit
    joins: ClassVar[bool] = False  # whether its pieces are rectangles that are sewn together as they are
    cloth_only: ClassVar[str] = ""  # what to write instead, of a kind of which no piece is ever a unit
    pieces: ClassVar[tuple[int, int]] = (1, 1)  # least and most pieces listed on the kind's line

    def equations(self, unit: Unit, out: Equations) -> None:
        """State what must hold between this unit's sizes and those of its pieces."""
        raise NotImplementedError

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The making of this unit at its solved size. Raises Unsettled when a size is missing."""
        raise NotImplementedError

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """The sizes of this unit that a ruler sets by itself; none where all is cut by templates or sewn on paper."""
        return ()

    def ends(self, unit: Unit, side: Along, out: Equations) -> Ends | None:
        """The plain pieces that reach across the whole unit at both ends, along its width or its height; None where
        there are none. They may give up what the pieces between them take too much."""
        return None

    def form(self, unit: Unit, out: Equations) -> Form | None:
        """The outline of a unit that is no rectangle, in terms of its unknown sizes, its box's upper left corner at (0,
        0)."""
        return None

    def may_trim(self, unit: Unit, side: Along) -> bool:
        """Whether a little may be trimmed from both ends of the width or the height of the sewn unit: only plain cloth
        lies there, and no slanted seam and no point reaches the edge."""
        return False
