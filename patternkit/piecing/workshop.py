"""Where makings are made: solved sizes, settings, and one making for each unit however often it is used."""

from __future__ import annotations

from fractions import Fraction
from typing import Sequence

from patternkit.lengths import ONE, ZERO, Length
from patternkit.model.pattern import Component, Pattern, Unit
from patternkit.piecing.kinds import kind_of
from patternkit.piecing.kinds.base import Unsettled, Var
from patternkit.piecing.making import Cloth, Making, Part, Place, rectangle
from patternkit.piecing.sizing import Sizing, option_length
from patternkit.problems import Problem
from patternkit.sizes import Affine, Solution
from patternkit.source import NOWHERE
from patternkit.syntax.statements import Press
from patternkit.units import Units

__all__ = ["Unsettled", "Workshop"]

MOST_PIECES = 10_000  # in one unit: more than any quilt has; a slip of the finger must not run for minutes


class Workshop:
    """The `Shop` that kinds speak to. Makings are made on first use and kept; a unit that can't be made is tried once."""

    def __init__(self, pattern: Pattern, sizing: Sizing, solution: Solution) -> None:
        self.pattern, self.sizing, self.solution = pattern, sizing, solution
        self.seam: Length = pattern.settings.seam
        self.grid: Fraction = pattern.settings.ruler
        self.units: Units = pattern.settings.units
        self.problems: list[Problem] = []
        self._made: dict[str, Making | None] = {}
        self._pieces: dict[str, int] = {}
        self._mirrored: dict[str, tuple[Making, int]] = {}

    # -- sizes --------------------------------------------------------------------------------------------
    def solved(self, var: Var) -> Length:
        """A solved size at the pattern's values; raises Unsettled when nobody gave it or it is nothing."""
        value = self.solution.value(var)
        if value is None:
            raise Unsettled(f"{self.sizing.name(var)}")
        length = value.value(self.pattern.parameters)
        if length <= 0:
            raise Unsettled(f"{self.sizing.name(var)}")
        return length

    def value(self, value: Affine) -> Length:
        """A stated value at the pattern's parameters."""
        return value.value(self.pattern.parameters)

    def width(self, unit: Unit) -> Length:
        """Finished width of a unit."""
        return self.solved((unit.key, "w"))

    def height(self, unit: Unit) -> Length:
        """Finished height of a unit."""
        return self.solved((unit.key, "h"))

    def piece_size(self, unit: Unit, piece: Component) -> tuple[Length, Length]:
        """Finished width and height of a piece as it lies."""
        w, h = self.sizing.size_of(unit, piece)
        return self.solved(w), self.solved(h)

    # -- parts --------------------------------------------------------------------------------------------
    def making(self, key: str) -> Making:
        """The making of a unit by key; raises Unsettled when it can't be made (a problem says why)."""
        if key not in self._made:
            self._made[key] = None
            unit = self.pattern.units[key]
            kind = kind_of(unit.kind)
            if kind is None or unit.broken or key in self.sizing.unmade:
                raise Unsettled(key)
            new = kind.make(unit, self)
            self._bounded(new, unit)
            self._made[key] = self.pressed(new, unit.press, kind.pressing)
        made = self._made[key]
        if made is None:
            raise Unsettled(key)
        return made

    def _bounded(self, making: Making, unit: Unit) -> None:
        """Keep count of the pieces; raises Unsettled for a unit of more than any quilter would sew."""
        pieces = sum(self._pieces.get(p.what.key, 1) if isinstance(p.what, Making) else 1 for p in making.parts)
        if pieces > MOST_PIECES:
            self.problem(Problem("too-large", f"{unit.role.capitalize()} {unit.name} is made of {pieces:,} pieces of "
                                 f"cloth; {MOST_PIECES:,} are the most.", unit.kind_span))
            raise Unsettled(unit.key)
        self._pieces[making.key] = pieces

    def pressed(self, making: Making, statements: Sequence[Press], custom: str = "") -> Making:
        """A making with its seams pressed as its own statements say, else as the file's, else by its kind's custom."""
        general = self.pattern.settings.press
        if custom:
            general = (Press(custom, "", None, NOWHERE), *general)
        if not statements and not general:
            return making
        from patternkit.piecing.pressing.statements import press_making

        values = {key: f.value for key, f in self.pattern.fabrics.items()}
        done = press_making(making, statements, values, general)
        self.problems.extend(done.problems)
        return done.making

    def part(self, unit: Unit, piece: Component) -> tuple[Part, Place]:
        """A piece of a unit, ready to be placed with its bounding box's top left corner at (0, 0)."""
        return self.part_in(unit.key, piece)

    def part_in(self, owner: str, piece: Component) -> tuple[Part, Place]:
        """The same for an owner that is not a unit (the quilt)."""
        if piece.fabric:
            w, h = self.sizing.size_in(owner, piece)
            return self.patch(piece.fabric, self.solved(w), self.solved(h)), Place()
        what, turn = self.making(piece.unit), piece.turned
        if piece.mirrored:
            if piece.unit not in self._mirrored:
                from patternkit.piecing.reflect import mirror

                self._mirrored[piece.unit] = mirror(what)
            what, own_turn = self._mirrored[piece.unit]
            turn = (turn + own_turn) % 360
        return what, corner_place(what, turn)

    def patch(self, fabric: str, width: Length, height: Length, name: str = "") -> Cloth:
        """A plain rectangle of a fabric."""
        return Cloth(fabric, rectangle(width, height), (ONE, ZERO), name)

    def fabric(self, unit: Unit, piece: Component) -> str:
        """The fabric of a piece that must be plain cloth."""
        if not piece.fabric:
            self.problem(Problem("must-be-cloth", f"In {unit.role} {unit.name}, {piece.name} must be a fabric: a "
                                 f"{unit.kind} is cut from plain cloth.", piece.span))
            raise Unsettled(piece.name)
        return piece.fabric

    # -- settings -----------------------------------------------------------------------------------------
    def length(self, unit: Unit, expression: object) -> Length | None:
        """An expression of an option in inches, at the pattern's values."""
        value = option_length(self.pattern, unit, expression, self.problems)
        return None if value is None else value.value(self.pattern.parameters)

    def usable_width(self, fabric: str) -> Length:
        """Usable width of a fabric."""
        return self.pattern.fabrics[fabric].usable_width

    def needed(self, unit: Unit) -> int | None:
        """The writer's own count of a unit, where she gave one."""
        return unit.make

    def problem(self, problem: Problem) -> None:
        """Keep a problem met while making."""
        self.problems.append(problem)

    def make_all(self) -> dict[str, Making]:
        """Make every unit that can be made."""
        made: dict[str, Making] = {}
        for key in self.pattern.units:
            try:
                made[key] = self.making(key)
            except Unsettled:
                continue
        return made


def corner_place(what: Part, turned: int, x: Length = ZERO, y: Length = ZERO) -> Place:
    """Place a part turned by quarter turns so that its bounding box's top left corner is at (x, y)."""
    if isinstance(what, Cloth):
        return Place(x, y)
    t = turned % 360
    if t == 90:
        return Place(x + what.height, y, t)
    if t == 180:
        return Place(x + what.width, y + what.height, t)
    if t == 270:
        return Place(x, y + what.width, t)
    return Place(x, y, t)
