"""Where makings are made: solved sizes, settings, and one making for each unit however often it is used."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from typing import Protocol

import msgspec

from patternkit.lengths import ONE, ZERO, Length
from patternkit.memory import Carried, Memory, Recent
from patternkit.model.pattern import Component, Pattern, Unit
from patternkit.piecing.keys import AnyKey, Key
from patternkit.piecing.kinds import kind_of
from patternkit.piecing.kinds.base import Kind, Unsettled
from patternkit.piecing.making import Cloth, Making, Part, Place, rectangle
from patternkit.piecing.names import MIDDLE, Name
from patternkit.piecing.sewn.model import SewnSizes
from patternkit.piecing.sizing import Sizing, option_length
from patternkit.piecing.unknowns import Unknown, of_unit
from patternkit.problems import Problem
from patternkit.sizes import Affine, Solution
from patternkit.source import NOWHERE
from patternkit.syntax.statements import PressStatement
from patternkit.units import Units

__all__ = ["Unsettled", "Workshop"]

MOST_PIECES = 10_000  # in one unit: more than any quilt has; a slip of the finger must not run for minutes


class PressedByStatements(Protocol):
    """A making pressed as its statements say, and a problem for each statement that can't be followed."""

    @property
    def making(self) -> Making:
        """The making with its seams pressed."""

    @property
    def problems(self) -> Sequence[Problem]:
        """What can't be done."""


Presser = Callable[[Making, Sequence[PressStatement], Mapping[str, str], Sequence[PressStatement]], PressedByStatements]
"""Presses a making by its own statements, else by the general ones, knowing of each fabric whether it is light, medium
or dark (`pressing.statements.press_making`)."""


class Made(msgspec.Struct, frozen=True):
    """A making with all it leans on: its unit, the sizes asked for, the makings of the units it uses; its pieces."""

    unit: Unit
    leans: list[tuple[Unknown, Length]]
    inner: dict[str, Making | None]
    making: Making
    pieces: int


class _Kept:
    """Makings of the last version of a text, parts of the quilt's own, mirror images, and the solution that they were
    made by."""

    def __init__(self) -> None:
        self.makings: Carried[str, Made] = Carried()
        self.own: Carried[object, Making] = Carried()
        self.mirrored: Recent[Making, tuple[Making, int]] = Recent()
        self.solved: SewnSizes | None = None


class Workshop:
    """The `Shop` that kinds speak to. Makings are made on first use and kept; a unit that can't be made is tried once.
    Statements about pressing are carried out by `press`."""

    def __init__(
        self,
        pattern: Pattern,
        sizing: Sizing,
        solution: Solution | SewnSizes,
        press: Presser,
        memory: Memory | None = None,
    ) -> None:
        self.pattern, self.sizing, self._press = pattern, sizing, press
        self.solution = solution if isinstance(solution, SewnSizes) else SewnSizes(solution)
        self.seam: Length = pattern.settings.seam
        self.grid: Fraction = pattern.settings.ruler
        self.units: Units = pattern.settings.units
        self.problems: list[Problem] = []
        self._made: dict[str, Making | None] = {}
        self._pieces: dict[AnyKey, int] = {}
        self._standing: dict[str, Component] = {}  # units that stand for cloth in the unit at hand, by their stand-ins
        self._mirrored: dict[Making, tuple[Making, int]] = {}
        self._differs: frozenset[object] | None = None  # sizes that are not what they were, as far as that is known
        self._leans: list[tuple[Unknown, Length]] | None = None  # the sizes that the unit at hand has asked for
        self._carried: Carried[str, Made] | None = None
        self._own: Carried[object, Making] = Carried()
        if memory is not None:
            kept, s = memory.shelf("makings", _Kept), pattern.settings
            cloth = {k: (f.usable_width, f.value, f.directional) for k, f in pattern.fabrics.items()}
            self._carried = kept.makings.begin((s.seam, s.ruler, s.units, s.press, dict(pattern.parameters), cloth))
            self._own = kept.own.begin((s.seam, s.ruler))
            self._mirrored = kept.mirrored.among(len(self._carried.old))
            self._differs = self.solution.differs_from(kept.solved) if kept.solved is not None else None
            kept.solved = self.solution

    # -- sizes --------------------------------------------------------------------------------------------
    def solved(self, var: Unknown) -> Length:
        """A solved size at the pattern's values; raises Unsettled when nobody gave it or it is nothing."""
        value = self.solution.value(var)
        if value is None:
            raise Unsettled(f"{self.sizing.name(var)}")
        length = value.value(self.pattern.parameters)
        if length <= 0:
            raise Unsettled(f"{self.sizing.name(var)}")
        if self._leans is not None:
            self._leans.append((var, length))
        return length

    def solved_alone(self, own: Unknown, usual: Unknown) -> Length:
        """The size `own` of one piece where it has one, else the size `usual` that it shares with others."""
        return self.solved(usual if self.solution.value(own) is None else own)

    def value(self, value: Affine) -> Length:
        """A stated value at the pattern's parameters."""
        return value.value(self.pattern.parameters)

    def width(self, unit: Unit) -> Length:
        """Finished width of a unit as it is sewn, before it is trimmed."""
        return self._before_trimming(of_unit(unit.key, "w"))

    def height(self, unit: Unit) -> Length:
        """Finished height of a unit as it is sewn, before it is trimmed."""
        return self._before_trimming(of_unit(unit.key, "h"))

    def _before_trimming(self, var: Unknown) -> Length:
        length = self.solved(var)
        return length + self.solution.excess[var] if var in self.solution.excess else length

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
            if unit.broken or key in self.sizing.unmade:
                raise Unsettled(key)
            self._made[key] = self._as_before(unit) or self._new(unit)
        made = self._made[key]
        if made is None:
            raise Unsettled(key)
        return made

    def _new(self, unit: Unit) -> Making:
        """Make a unit; what it leans on is kept with it where there is a session."""
        kind = kind_of(unit.kind)
        if kind is None:
            raise Unsettled(unit.key)
        leans, self._leans = self._leans, [] if self._carried is not None else None
        before = len(self.problems)
        try:
            new = self._trimmed(self._with_units(kind, unit), unit)
            if unit.middle_of:
                new = msgspec.structs.replace(new, key=Key(unit.name, unit.arguments, piece=MIDDLE))
            self._bounded(new, unit)
            new = self.pressed(new, unit.press)
            if unit.laid_on:
                from patternkit.piecing.laid_on import with_laid_on  # only units with something laid on them need it

                new = with_laid_on(new, unit, self)
            if self._carried is not None and self._leans is not None and len(self.problems) == before:
                inner = {p.unit: self._made.get(p.unit) for p in unit.components if p.unit}
                self._carried.now[unit.key] = Made(unit, self._leans, inner, new, self._pieces[new.key])
        finally:
            self._leans = leans
        return new

    def _with_units(self, kind: Kind, unit: Unit) -> Making:
        """A unit as its kind makes it, with the units that stand for cloth in it."""
        outer, self._standing = self._standing, {}
        try:
            made = kind.make(unit, self)
            if not self._standing:
                return made
            from patternkit.piecing.standing import with_units

            return with_units(made, unit, self, self._standing)
        finally:
            self._standing = outer

    def _trimmed(self, making: Making, unit: Unit) -> Making:
        """A unit trimmed to the size that it has in its place, where it is sewn larger."""
        more = [self.solution.excess.get(of_unit(unit.key, side), ZERO) for side in "wh"]
        if not any(more):
            return making
        from patternkit.piecing.sewn.trimming import trimmed

        return trimmed(making, more[0], more[1], self.seam)

    def once(self, what: object, make: Callable[[], Making]) -> Making:
        """A part of the quilt's own. `what` names all that it is made of but the seam allowance and the ruler: where
        the last version of a text had the same, it is that one."""
        known = self._own.now.get(what) or self._own.old.get(what) or make()
        self._own.now[what] = known
        return known

    def _as_before(self, unit: Unit) -> Making | None:
        """The making of the last version of a text, where neither its unit nor anything it leans on has changed."""
        known = self._carried.old.get(unit.key) if self._carried is not None else None
        if known is None or self._carried is None or known.unit is not unit:
            return None
        if any(self.making(key) is not inner for key, inner in known.inner.items()):
            return None
        if not self._sizes_as_before(known):
            return None
        self._pieces[known.making.key] = known.pieces
        self._carried.now[unit.key] = known
        return known.making

    def _sizes_as_before(self, known: Made) -> bool:
        """Whether every size that a making leans on is what it was."""
        if self._differs is not None:
            return not any(var in self._differs for var, _ in known.leans)
        leans, self._leans = self._leans, None
        try:
            return all(self.solved(var) == length for var, length in known.leans)
        except Unsettled:
            return False
        finally:
            self._leans = leans

    def _bounded(self, making: Making, unit: Unit) -> None:
        """Keep count of the pieces; raises Unsettled for a unit of more than any quilter would sew."""
        pieces = sum(self._pieces.get(p.what.key.plain, 1) if isinstance(p.what, Making) else 1 for p in making.parts)
        if pieces > MOST_PIECES:
            self.problem(
                Problem(
                    "too-large",
                    f"{unit.role.capitalize()} {unit.name} is made of {pieces:,} pieces of "
                    f"cloth; {MOST_PIECES:,} are the most.",
                    unit.kind_span,
                )
            )
            raise Unsettled(unit.key)
        self._pieces[making.key] = pieces

    def pressed(self, making: Making, statements: Sequence[PressStatement]) -> Making:
        """A making with its seams pressed as its own statements say, else as the file's, else as its method has it."""
        if making.recipe.apart is not None:  # its seams are those of the unit that it is cut from
            return making
        general, custom = self.pattern.settings.press, making.recipe.method.pressed
        if custom:
            general = (PressStatement(custom, "", None, NOWHERE), *general)
        if not statements and not general:
            return making
        values = {key: f.value for key, f in self.pattern.fabrics.items()}
        done = self._press(making, statements, values, general)
        self.problems.extend(done.problems)
        return done.making

    def part(self, unit: Unit, piece: Component) -> tuple[Part, Place]:
        """A piece of a unit, ready to be placed with its bounding box's top left corner at (0, 0)."""
        if piece.laid is not None:
            raise Unsettled(unit.key)
        return self._part(piece, self.sizing.size_of(unit, piece) if piece.fabric else None)

    def part_in_quilt(self, piece: Component, of: str = "") -> tuple[Part, Place]:
        """The same for a piece that lies in the quilt itself, or in the unit with the key `of` that is set like one."""
        return self._part(piece, self.sizing.size_in_quilt(piece, of) if piece.fabric else None)

    def _part(self, piece: Component, cloth: tuple[Unknown, Unknown] | None) -> tuple[Part, Place]:
        if cloth is not None:
            return self.patch(piece.fabric, self.solved(cloth[0]), self.solved(cloth[1])), Place()
        what, turn = self.making(piece.unit), piece.turned
        if piece.mirrored:
            if what not in self._mirrored:
                from patternkit.piecing.reflect import mirror

                self._mirrored[what] = mirror(what)
            what, own_turn = self._mirrored[what]
            turn = (turn + own_turn) % 360
        return what, corner_place(what, turn)

    def patch(self, fabric: str, width: Length, height: Length, name: Name | None = None) -> Cloth:
        """A plain rectangle of a fabric."""
        return Cloth(fabric, rectangle(width, height), (ONE, ZERO), name)

    def fabric(self, unit: Unit, piece: Component) -> str:
        """The fabric of a piece that must be plain cloth."""
        if piece.fabric:
            return piece.fabric
        from patternkit.piecing.standing import must_be_cloth, stand_in

        refused = must_be_cloth(unit, piece)
        if refused is not None:
            self.problem(refused)
            raise Unsettled(piece.name)
        self._standing[stand_in(piece)] = piece
        return stand_in(piece)

    def strips(self, piece: Component) -> tuple[Making, Place]:
        """The strip unit from which a piece is cut, and how it is turned, its box's top left corner at (0, 0)."""
        whole = msgspec.structs.replace(piece, laid=None, turned=piece.turned - piece.turned % 90)
        what, place = self._part(whole, None)
        if not isinstance(what, Making) or what.kind != "strips":
            from patternkit.piecing.standing import no_strip_unit

            self.problem(no_strip_unit(piece))
            raise Unsettled(piece.name)
        if piece.turned % 90:
            place = place.then(Place(turned=piece.turned % 90))
        return what, place

    def stated_cuts(self, unit: Unit) -> frozenset[Length]:
        """The raw sizes stated of a unit, beside its pieces, and of the patches that it is sewn from."""
        units = [unit, *(u for p in unit.components if (u := self.pattern.units.get(p.unit)) and u.kind == "patch")]
        sizes = [side for u in units for p in u.components if p.cut for side in (p.width, p.height)]
        sizes += [side for u in units for c in u.claims if c.word == "cut" for side in (c.width, c.height)]
        return frozenset(self.value(side) for side in sizes if side is not None)

    # -- settings -----------------------------------------------------------------------------------------
    def length(self, unit: Unit, expression: object) -> Length | None:
        """An expression of an option in inches, at the pattern's values."""
        value = option_length(self.pattern, unit, expression, self.problems)
        return None if value is None else value.value(self.pattern.parameters)

    def usable_width(self, fabric: str) -> Length:
        """Usable width of a fabric."""
        return self.pattern.fabrics[fabric].usable_width

    def is_print(self, fabric: str) -> bool:
        """Whether a fabric is one print of a group, given to each copy of a unit."""
        return self.pattern.fabrics[fabric].print is not None

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
