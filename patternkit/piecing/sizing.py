"""From a pattern to its finished sizes: every unit, and the quilt, states its equations; the sizes room solves them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

import msgspec

from patternkit.lengths import ONE, Length
from patternkit.memory import Carried, Memory
from patternkit.model.pattern import Claim, Component, Pattern, Unit
from patternkit.piecing.kinds import kind_of
from patternkit.piecing.kinds.base import NOTHING
from patternkit.piecing.unknowns import Unknown, of_block, of_piece, of_unit
from patternkit.problems import Problem
from patternkit.sizes import Affine, Cause, Solution, System, adds_up, claimed, same, stated, structure
from patternkit.sizes.equations import Equation
from patternkit.source import Span
from patternkit.units import number, show

if TYPE_CHECKING:
    from patternkit.piecing.forms import Form

SIDES = {"w": "wide", "h": "high"}


class LyingSide(Unknown):
    """The unknown size of a piece as it lies in a row: equal to the size itself, and tells which way it runs there
    (`runs`, "w" or "h"), what the piece is called there, and its number in the row."""

    runs: str
    called: str
    place: str

    @classmethod
    def of(cls, var: Unknown, runs: str, piece: Component, called: str) -> LyingSide:
        """The size `var` of a piece, seen from the row that it lies in."""
        new = cls(*var)
        new.runs, new.place = runs, piece.slot.rpartition(".")[2]
        new.called = f"{called} turned {piece.turned}" if piece.unit and piece.turned else called
        return new


class Gathered(msgspec.Struct, frozen=True):
    """What one unit states: its equations, what its unknowns are called, its problems."""

    unit: Unit
    equations: list[Equation]
    names: dict[Unknown, str]
    problems: list[Problem]
    forms: dict[str, Form | None]  # the outlines that it leans on, of the units that are joined in it


class Sizing:
    """The equations of a pattern (it is the `Equations` that kinds speak to), and their solution once `solve`d."""

    def __init__(self, pattern: Pattern, memory: Memory | None = None) -> None:
        self.pattern = pattern
        self.memory = memory
        self.seam: Length = pattern.settings.seam
        self.system = System()
        self.names: dict[Unknown, str] = {}
        self.problems: list[Problem] = []
        self.unmade: set[str] = set()  # units that list too few or too many pieces to be made
        self.shared: dict[
            int, Unit | None
        ] = {}  # equations that share what is left, and the unit they stand in; None: the quilt
        self.ranges: dict[str, range] = {}  # which equations each unit states
        self.by_value = False  # whether other numbers could make other sizes equal than those that were taken to be
        self._sizes: dict[tuple[str | None, int], tuple[Component, tuple[Unknown, Unknown]]] = {}  # with their pieces
        self._numbers: dict[tuple[Span, str], Span | None] = {}
        self._forms: dict[str, Form | None] = {}
        self._asked: dict[str, Form | None] = {}  # those that the unit at hand has asked for

    # -- what kinds call ----------------------------------------------------------------------------------
    def size_of(self, unit: Unit, piece: Component) -> tuple[Unknown, Unknown]:
        """The unknown width and height of a piece as it lies in `unit`."""
        return self._size(unit.key, piece)

    def size_in_quilt(self, piece: Component, of: str = "") -> tuple[Unknown, Unknown]:
        """The same for a piece that lies in the quilt itself, or in the unit with the key `of` that is set like one."""
        return self._size(of or None, piece)

    def _size(self, unit: str | None, piece: Component) -> tuple[Unknown, Unknown]:
        known = self._sizes.get((unit, id(piece)))
        if known is None or known[0] is not piece:
            known = self._sizes[unit, id(piece)] = piece, self._new_size(unit, piece)
        return known[1]

    def _new_size(self, unit: str | None, piece: Component) -> tuple[Unknown, Unknown]:
        for side, place in zip("wh", piece.numbers, strict=True):
            self._numbers[(piece.span, side)] = place
        if piece.unit and (piece.laid is None or unit is None):
            across, up = ("h", "w") if piece.turned % 180 == 90 else ("w", "h")
            return (
                LyingSide.of(of_unit(piece.unit, across), "w", piece, piece.unit),
                LyingSide.of(of_unit(piece.unit, up), "h", piece, piece.unit),
            )
        slot = piece.slot
        w, h = (of_block(slot, side) if unit is None else of_piece(unit, slot, side) for side in ("w", "h"))
        for var in (w, h):
            self.names.setdefault(var, piece.name)
        return LyingSide.of(w, "w", piece, piece.name), LyingSide.of(h, "h", piece, piece.name)

    def outer(self, unit: Unit) -> tuple[Unknown, Unknown]:
        """The unknown finished width and height of a unit."""
        return of_unit(unit.key, "w"), of_unit(unit.key, "h")

    def same(self, a: Unknown, b: Unknown, text: str, span: Span) -> None:
        """Two sizes are equal."""
        if a != b:
            first, second = self._called(a), self._called(b)
            if first == second and isinstance(a, LyingSide) and isinstance(b, LyingSide):
                first, second = f"{first} ({a.place})", f"{second} ({b.place})"
            way = self.way(a) if self.way(a) == self.way(b) else ""
            cause = same(span, text, ((first, a), (second, b)), "" if way == "long" else way)
            self.system.add([(a, 1), (b, -1)], Affine(0), cause)

    def total(
        self,
        parts: Iterable[tuple[Length | int, Unknown]],
        whole: Unknown,
        text: str,
        span: Span,
        more: Affine = NOTHING,
    ) -> None:
        """Coefficient times size over `parts`, and `more`, is `whole`."""
        listed = list(parts)
        if len(listed) > 1 and all(c == 1 for c, _ in listed):
            cause = adds_up(span, text, tuple((self._called(v), v) for _, v in listed), (self._called(whole), whole))
        else:
            cause = structure(span, text)
        self.system.add([*((v, c) for c, v in listed), (whole, -1)], -more, cause)

    def stated(
        self,
        var: Unknown,
        value: Affine,
        text: str,
        span: Span,
        typed: Affine | None = None,
        number: Span | None = None,
    ) -> None:
        """The writer gave this size to a piece; `typed` is what she wrote, where it is a raw size, `number` its
        place."""
        place, raw = number or self._numbers.get((span, var.side)), typed is not None and typed != value
        self.system.add([(var, 1)], value, stated(span, text, typed or value, number=place, unit=self._sign, raw=raw))

    def shown(self, var: Unknown, text: str) -> None:
        """How an unknown is called in messages."""
        self.names[var] = text

    def problem(self, problem: Problem) -> None:
        """Keep a problem with a unit's statements."""
        self.problems.append(problem)

    def length(self, unit: Unit, expression: object) -> Affine | None:
        """An expression of an option, in inches."""
        return option_length(self.pattern, unit, expression, self.problems)

    def about(self, value: Affine) -> float:
        """A stated value as a plain number."""
        return float(value.value(self.pattern.parameters))

    def form_of(self, unit: Unit, piece: Component) -> Form | None:
        """The outline of a piece as it lies; None for a rectangle."""
        if not piece.unit or piece.laid is not None:
            return None
        form = self._asked[piece.unit] = self._form(piece.unit)
        if form is None:
            return None
        from patternkit.piecing.forms import lying  # only shapes that are no rectangles need it

        return lying(form, piece.turned, piece.mirrored)

    def _form(self, key: str) -> Form | None:
        """The outline of a unit as it is described."""
        if key not in self._forms:
            unit = self.pattern.units.get(key)
            kind = None if unit is None or unit.broken else kind_of(unit.kind)
            self._forms[key] = kind.form(unit, self) if kind is not None and unit is not None else None
        return self._forms[key]

    # -- what the pattern says ----------------------------------------------------------------------------
    @property
    def _sign(self) -> str:
        return self.pattern.settings.units.sign

    def render(self, value: Affine) -> str:
        """A value in the writer's units, with its sign where it is a plain number: ``9 1/2 in``, ``side/3``."""
        units = self.pattern.settings.units
        if value.is_constant:
            return show(value.const, units)
        return (value / units.inches).text(lambda x: number(x * units.inches, units))

    def name(self, var: Unknown) -> str:
        """How an unknown is called: a piece's name, a unit's name, or what a kind called it."""
        return self.names.get(var, var.owner)

    def way(self, var: Unknown) -> str:
        """Which way a size runs as its piece lies: ``wide``, ``high``, or ``long`` for a size of another sort."""
        return SIDES.get(var.runs if isinstance(var, LyingSide) else var.side, "long")

    def _called(self, var: Unknown) -> str:
        return var.called if isinstance(var, LyingSide) else self.name(var)

    def claim(self, sizes: tuple[Unknown, Unknown], called: str, claim: Claim, held: bool = False) -> None:
        """A `finished` or `measures` line of a unit or of the quilt (its width and height), one equation for each side.

        What a unit measures and how large the quilt is are claims about the pattern as written: in another size they
        are left out where they are plain numbers, unless they are `held` there.
        """
        if (
            not held
            and not self.pattern.as_written
            and claim.width.is_constant
            and (claim.word == "measures" or sizes[0].sort == "quilt")
        ):
            return
        heights = claim.height if claim.height is not None else claim.width
        numbers = claim.numbers if claim.height is not None else (claim.numbers[0], claim.numbers[0])
        seams = self.seam * 2 if claim.word == "measures" else Length(0)
        for var, value, place in zip(sizes, (claim.width, heights), numbers, strict=True):
            side = var.side
            if claim.side and side != claim.side:
                continue
            text = (
                f"{called} is said to finish {self.render(value)} {SIDES[side]}"
                if claim.word == "finished"
                else f"{called} is said to measure {self.render(value)} {SIDES[side]}, raw edge to raw edge"
            )
            cause = claimed(
                claim.span,
                text,
                value,
                number=place,
                unit=self._sign,
                per=ONE,
                key=(claim.span.file, claim.span.start, "both" if claim.height is None and not claim.side else side),
                near=Length(self.pattern.settings.ruler),
                about=called,
                raw=claim.word == "measures",
            )
            self.system.add([(var, 1)], value - seams, cause)

    def gather(self) -> None:
        """State the equations of every unit; those of a unit that is the same as before are the same."""
        pattern, settings = self.pattern, self.pattern.settings
        kept: Carried[str, Gathered] | None = None
        if self.memory is not None:
            frame = (settings.seam, settings.units, pattern.parameters, pattern.as_written, pattern.broken)
            kept = self.memory.shelf("equations", Carried).begin(frame)
        for unit in self.pattern.units.values():
            known = kept.old.get(unit.key) if kept is not None else None
            if known is None or known.unit is not unit or any(self._form(k) != f for k, f in known.forms.items()):
                known = self._gathered(unit)
            first = len(self.system.equations)
            self.system.equations += known.equations
            self.ranges[unit.key] = range(first, len(self.system.equations))
            self.names |= known.names
            missed = ("wrong-pieces", unit.kind_span) if unit.unsized else None  # it too may stand on that line
            self.problems += [p for p in known.problems if (p.code, p.span) != missed]
            if not unit.broken:
                for side in "wh":
                    self.system.need(of_unit(unit.key, side))
            if any(p.code == "wrong-pieces" for p in known.problems):
                self.unmade.add(unit.key)
            if kept is not None:
                kept.now[unit.key] = known

        self._only_laid()

    def _only_laid(self) -> None:
        """Strip units from which pieces are cut, and nothing else, are as long as one likes: each is taken to be as
        high as it is wide where nobody says how high."""
        units = list(self.pattern.units.values())
        uses = [p for u in units for p in u.components if p.unit]
        laid = {p.unit for p in uses if p.laid is not None}
        if not laid:
            return
        quilt = self.pattern.quilt
        own = [p for row in quilt.rows for p in row.pieces] if quilt is not None else []
        edges = (*quilt.borders, *((quilt.sashing,) if quilt.sashing else ())) if quilt is not None else ()
        own += [p for e in edges for p in (*e.sequence, e.piece, e.corner) if p is not None]
        laid -= {p.unit for p in (*uses, *own) if p.laid is None}
        for unit in units:
            if unit.key in laid and unit.kind == "strips" and all(claim.side == "w" for claim in unit.claims):
                width, height = self.outer(unit)
                text = f"pieces are cut from {unit.key}, which is as long as one likes"
                self.system.add([(height, 1), (width, -1)], Affine(0), structure(unit.kind_span, text))

    def hold_measures(self) -> None:
        """In another size, hold units to what they measure where nothing else says how large they are: that is their
        size, and no claim about the pattern as written."""
        if self.pattern.as_written:
            return
        measured = [(u, c) for u in self.pattern.units.values() for c in u.claims if c.word == "measures"]
        measured = [(unit, claim) for unit, claim in measured if claim.width.is_constant]
        if measured:
            known = self.system.solve()
            for unit, claim in measured:
                sizes = [v for v in self.outer(unit) if claim.side in ("", v.side)]
                if any(known.value(v) is None for v in sizes):
                    self.claim(self.outer(unit), f"{unit.role} {unit.key}", claim, held=True)

    def _gathered(self, unit: Unit) -> Gathered:
        """What one unit states."""
        whole = self.system, self.names, self.problems
        self._asked = {}
        self.system, self.names, self.problems = System(), dict.fromkeys(self.outer(unit), unit.key), []
        kind = kind_of(unit.kind)
        if kind is None and not unit.broken:
            self.problems.append(Problem("unknown-word", f"{unit.kind} is not a kind of unit.", unit.kind_span))
        else:
            if kind is not None and not unit.broken:
                kind.equations(unit, self)
            self._claims(unit)
        if unit.unsized:  # what a kind misses may stand on the line that could not be read
            self.problems = [p for p in self.problems if p.code != "not-understood"]
        found = Gathered(unit, self.system.equations, self.names, self.problems, self._asked)
        self.system, self.names, self.problems = whole
        return found

    def _claims(self, unit: Unit) -> None:
        for claim in unit.claims:
            if claim.word != "cut":
                self.claim(self.outer(unit), f"{unit.role} {unit.key}", claim)
            elif unit.kind == "patch" and not unit.broken:
                self._cut_patch(unit, claim)

    def _cut_patch(self, unit: Unit, claim: Claim) -> None:
        """A plain patch that is said to be cut at a size finishes two seams smaller."""
        heights = claim.height if claim.height is not None else claim.width
        for i, (side, value) in enumerate((("w", claim.width), ("h", heights))):
            place = claim.numbers[i if claim.height is not None else 0]
            text = f"{unit.key} is cut {self.render(value)} {SIDES[side]}"
            self.system.add(
                [(of_unit(unit.key, side), 1)],
                value - self.seam * 2,
                stated(
                    claim.span,
                    text,
                    value,
                    number=place,
                    unit=self._sign,
                    key=(claim.span.file, claim.span.start, "both" if claim.height is None else side),
                    raw=True,
                ),
            )


def option_length(pattern: Pattern, unit: Unit, expression: object, problems: list[Problem]) -> Affine | None:
    """The value in inches of an expression in one of a unit's options; None after noting why there is none."""
    from patternkit.model.report import Notebook
    from patternkit.model.values import Broken, Values
    from patternkit.syntax.statements import Binary, Call, Num, Ref

    if not isinstance(expression, (Num, Ref, Binary, Call)):
        return None
    notes = Notebook()
    try:
        return Values(pattern.settings.units, pattern.parameters, notes).length(expression, unit.values)
    except Broken:
        problems.extend(notes.problems)
        return None


def sizes_at(solution: Solution, parameters: Mapping[str, Length], var: Unknown) -> Length | None:
    """A solved size at the pattern's values, or None."""
    value = solution.value(var)
    return None if value is None else value.value(parameters)


__all__ = ["Cause", "Sizing", "option_length", "sizes_at"]
