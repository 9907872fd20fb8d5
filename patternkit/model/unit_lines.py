"""The lines under one unit: what it is, what it is made of, and all that is claimed of it."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from msgspec.structs import replace

from patternkit.lengths import ZERO
from patternkit.model.cut_claims import also_cut, claimed_cuts, claimed_strip_units
from patternkit.model.cut_lines import AlsoCut, ClaimedCuts, CutsFrom
from patternkit.model.pattern import Claim, Component, Row, Unit
from patternkit.model.pieces import UnitScope, component, no_commas, row
from patternkit.model.report import Notebook
from patternkit.model.scope import statements
from patternkit.model.unit_words import once
from patternkit.model.values import Broken, Values, named, numbers
from patternkit.problems import Label
from patternkit.source import Span
from patternkit.syntax.meant import CUT_ACROSS
from patternkit.syntax.statements import (
    Across,
    Also,
    Bad,
    Binary,
    Call,
    CountClaim,
    CutFromEdge,
    CutsClaim,
    Finish,
    KindStatement,
    Mark,
    MethodStatement,
    Node,
    Num,
    Option,
    PieceLine,
    PieceUse,
    PressStatement,
    Prose,
    Ref,
    SeamLine,
    SizeClaim,
    StripUnitsClaim,
    Tile,
    UnitHead,
)
from patternkit.syntax.words import OPTION_WORDS

SET = "set like a quilt"
"""The kind of a unit that is made like a quilt and of no other kind, which no keyword stands for."""
SIZELESS = ("make", "also", "strip-units", "press", "method", "intro", "note", "tip", "caution", "before", "after")
"""A line of a unit that starts with one of these has no part in its size."""
COUNTS = ("triangles", "rounds", "blades")
"""Lines of a kind behind which a whole number stands."""
MOST_COUNTED = 1000
MOST_MADE = 1_000_000  # of one unit, as far as a statement may go


class UnitReader:
    """Reads the lines under one unit, one by one. `found` are fields of the unit that stand in it once; `meant` gives a
    statement of pressing with what its name stands for."""

    def __init__(
        self,
        head: UnitHead,
        names: UnitScope,
        values: Values,
        notes: Notebook,
        meant: Callable[[PressStatement, UnitScope], PressStatement],
    ) -> None:
        self.head, self.names, self.values, self.notes = head, names, values, notes
        self._meant = meant
        self.found: dict[str, Any] = {}
        self.claims: list[Claim] = []
        self.cuts: list[ClaimedCuts] = []
        self.also: list[AlsoCut] = []
        self.lines: list[CutsFrom] = []
        self.options: list[Option] = []
        self.press: list[PressStatement] = []
        self.prose: list[Prose] = []
        self.kind: Node | None = None
        self.loose: list[Node] = []
        self.setting: list[Node] = []  # lines by which the unit is made like a quilt
        self._first: dict[str, Span] = {}

    def read(self, node: Node) -> None:
        """Take in one line."""
        s = node.statement
        if isinstance(s, KindStatement):
            self._kind(node)
        elif isinstance(s, SizeClaim):
            claims = self._claim(s)
            self.claims += claims
            self.found["unsized"] = self.found.get("unsized", False) or not claims
        elif isinstance(s, CutFromEdge):
            self._lines(s)
        elif isinstance(s, CountClaim):
            self._count(s)
        elif isinstance(s, (CutsClaim, StripUnitsClaim, Also)):
            self._counted(s)
        elif isinstance(s, MethodStatement):
            once(self._first, "method", s.span, self.head, self.notes)
            self.found |= self._method(s)
        elif isinstance(s, (PieceLine, SeamLine)):
            self.loose.append(node)
        elif isinstance(s, (Across, Tile, Finish)):
            self.setting.append(node)
        elif isinstance(s, Option) and s.word == "applique":
            self._laid_on(s)
        elif isinstance(s, Option) and s.word == "optional":
            self._optional(s)
        elif isinstance(s, Option):
            self._option(s)
        elif isinstance(s, PressStatement):
            self.press.append(self._meant(s, self.names))
        elif isinstance(s, Prose):
            self.prose.append(s)
        elif isinstance(s, Bad):
            self.found["unsized"] = self.found.get("unsized", False) or s.word not in SIZELESS
        else:
            head = self.head
            self.notes.report("out-of-place", f"This line does not belong under {head.role} {head.name}.", s.span)

    def unit(self, key: str, shown: tuple[str, ...], node: Node) -> Unit:
        """The unit, once all of its lines are read."""
        head, names = self.head, self.names
        rows: tuple[Row, ...] = ()
        row_marks: tuple[Mark | None, ...] = ()
        word, span = "", head.span
        if self.kind is not None and isinstance(self.kind.statement, KindStatement):
            word, span = self.kind.statement.kind, self.kind.statement.kind_span
            if self.kind.statement.outline:
                self.found["drawing"] = self.kind.statement.outline
            elif word == "drawing":
                self._no_outline(self.kind.statement)
            try:
                rows, row_marks = self._rows(self.kind)
                if word in ("row", "column", "rows", "strips"):
                    no_commas(rows, self.notes)
            except Broken:
                self.found["broken"] = True
            if word == "strips" and any(o.word in CUT_ACROSS for o in self.options):
                self.found["unsized"] = True  # meant for a size
        elif self.setting:
            word, span = SET, self.setting[0].statement.span
        else:
            self._no_kind(node)
        return Unit(
            key,
            head.name,
            head.title or head.name,
            head.role,
            word,
            span,
            head.span,
            rows,
            row_marks,
            tuple(self.claims),
            tuple(self.options),
            press=tuple(self.press),
            prose=tuple(self.prose),
            values=names.values,
            fabrics=names.fabrics,
            named=self._named(),
            arguments=shown,
            cuts=tuple(self.cuts),
            also=tuple(self.also),
            lines=tuple(self.lines),
            **self.found,
        )

    def _kind(self, node: Node) -> None:
        if self.kind is not None:
            self.notes.report(
                "named-twice",
                f"{self.head.name} says twice what it is.",
                node.statement.span,
                labels=[Label(self.kind.statement.span, "it is first said here")],
                causes=[
                    "A unit is made in one way. What is made in another way gets a unit of its own, "
                    "and a row joins the two by their names."
                ],
            )
        self.kind = self.kind or node

    def _no_outline(self, s: KindStatement) -> None:
        """A drawing without a file; why one that is named has no outline has been reported."""
        self.found["broken"] = True
        if s.file is None:
            self.notes.report(
                "drawing-unusable",
                f"Nothing says which drawing {self.head.role} {self.head.name} is.",
                s.span,
                causes=[
                    'It is written drawing "bird.svg", rose 4: the file beside the pattern, the fabric, its width.'
                ],
            )

    def _no_kind(self, node: Node) -> None:
        """A unit of which nothing says what it is; where a line could not be read, that one may have."""
        self.found["broken"] = True
        lines = list(statements(node.children))
        if lines and not any(isinstance(c.statement, Bad) for c in lines):
            odd = next(
                (s for s in (c.statement for c in lines) if isinstance(s, Option) and s.word not in OPTION_WORDS), None
            )
            whose = f"{self.head.role} {self.head.name}"
            self.notes.report(
                "no-kind",
                f"`{odd.word}` is no kind of unit, so nothing says what {whose} is made of."
                if odd is not None
                else f"Nothing says what {whose} is made of.",
                odd.span if odd is not None else self.head.span,
                causes=[
                    "A line such as patch, row, rows, strips or half-square says how it is pieced.",
                    *(["Any shape with straight seams is a unit of slices."] if odd is not None else []),
                ],
            )

    def _count(self, s: CountClaim) -> None:
        once(self._first, "make", s.span, self.head, self.notes)
        values, known = self.values, self.names.values
        try:
            self.found["make"] = values.count(s.value, known, "The number to make", MOST_MADE, 0)
            self.found["make_span"] = s.span
            if s.mirrored is not None:
                what = "The number of mirror images"
                self.found["make_mirrored"] = values.count(s.mirrored, known, what, MOST_MADE, 0)
        except Broken:
            pass

    def _counted(self, s: CutsClaim | StripUnitsClaim | Also) -> None:
        names = self.names
        try:
            if isinstance(s, Also):
                self.also.append(also_cut(s, names.fabrics, names.values, self.values, self.notes, names.prints))
                return
            if isinstance(s, CutsClaim):
                self.cuts.append(
                    claimed_cuts(s, names.fabrics, "", names.values, self.values, self.notes, names.prints)
                )
                return
            once(self._first, "strip units", s.span, self.head, self.notes)
            self.found["strip_units"] = claimed_strip_units(s, self.names.values, self.values)
        except Broken:
            pass

    def _lines(self, s: CutFromEdge) -> None:
        try:
            widths = tuple(self.values.length(x, self.names.values) for x in s.lengths)
        except Broken:
            self.found["unsized"] = True
            return
        if any(w.is_constant and w.const <= ZERO for w in widths):
            self.notes.report("too-small", "What is cut off has to be more than nothing.", s.span)
            return
        self.lines.append(CutsFrom(s.side, widths, s.span, tuple(numbers(x, None)[0] for x in s.lengths)))

    def _option(self, s: Option) -> None:
        """A line of the kind's own; where it counts something by a name, with the number that has it."""
        counted = s.clauses[0] if s.word in COUNTS and len(s.clauses) == 1 else ()
        one = counted[0] if len(counted) == 1 else None
        if isinstance(one, (Ref, Binary, Call)) and named(one) <= self.names.values.keys():
            try:
                n = self.values.count(one, self.names.values, f"The number behind {s.word}", MOST_COUNTED)
            except Broken:
                self.found["broken"] = True
                return
            s = replace(s, clauses=((Num(Fraction(n), None, one.span),),))
        self.options.append(s)

    def _optional(self, s: Option) -> None:
        once(self._first, "optional", s.span, self.head, self.notes)
        if s.clauses:
            self.notes.report(
                "not-understood",
                "Behind optional stands nothing; how many are made is a line of its own, `make 2`.",
                s.span,
            )
        self.found["optional"] = s.span

    def _method(self, s: MethodStatement) -> dict[str, Any]:
        if " or " in f" {s.words} ":
            return self._methods(s)
        try:
            return {
                "method": s,
                "method_value": self.values.length(s.value, self.names.values) if s.value is not None else None,
            }
        except Broken:
            return {"broken": True}

    def _methods(self, s: MethodStatement) -> dict[str, Any]:
        """The first of several methods, and those that are offered beside it."""
        ways = [way.strip() for way in f" {s.words} ".split(" or ")]
        if not all(ways) or s.value is not None or len(set(ways)) < len(ways):
            self.notes.report(
                "not-understood",
                "Between two methods stands the word or, each is named once, and none has a length of its own.",
                s.span,
                causes=[
                    "It is written `method pairs of squares or from triangles`: the amounts are those of the first."
                ],
            )
            return {}
        first, *others = (MethodStatement(way, None, s.span) for way in ways)
        return {"method": first, "method_value": None, "other_methods": tuple(others)}

    def _named(self) -> dict[Span, Component]:
        """The fabrics and units that options name, by their place; other words are the kind's own affair."""
        named: dict[Span, Component] = {}
        for part in (part for o in self.options for clause in o.clauses for part in clause):
            if not isinstance(part, (Ref, PieceUse)) or (isinstance(part, Ref) and part.name in self.names.values):
                continue
            if part.name in self.names.fabrics or part.name in self.names.units:
                use = part if isinstance(part, PieceUse) else PieceUse(part.name, part.span, part.span)
                try:
                    named[part.span] = component(use, f"option {len(named) + 1}", self.values, self.names, self.notes)
                except Broken:
                    continue
        return named

    def _laid_on(self, s: Option) -> None:
        from patternkit.model.laid_on import laid_on  # only units with something laid on them need it

        try:
            self.found["laid_on"] = (*self.found.get("laid_on", ()), laid_on(s, self.names, self.values, self.notes))
        except Broken:
            pass

    def _claim(self, s: SizeClaim) -> list[Claim]:
        try:
            width = self.values.length(s.width, self.names.values)
            height = self.values.length(s.height, self.names.values) if s.height is not None else None
        except Broken:
            return []
        if any(side.is_constant and side.const <= ZERO for side in (width, height) if side is not None):
            self.notes.report("too-small", f"What {s.word} says has to be more than nothing.", s.span)
            return []
        return [Claim(s.word, width, height, s.span, numbers(s.width, s.height), s.side)]

    def _rows(self, kind: Node) -> tuple[tuple[Row, ...], tuple[Mark | None, ...]]:
        s = kind.statement
        assert isinstance(s, KindStatement)
        lines = [n.statement for n in [*statements(kind.children), *self.loose]]
        if s.line is not None:
            lines.insert(0, s.line)
        return grid(
            [x for x in lines if isinstance(x, (PieceLine, SeamLine, Bad))], self.values, self.names, self.notes
        )


def grid(
    lines: list[PieceLine | SeamLine | Bad], values: Values, names: UnitScope, notes: Notebook
) -> tuple[tuple[Row, ...], tuple[Mark | None, ...]]:
    """Rows of pieces and the marks between them. Raises Broken when a row could not be read."""
    rows: list[Row] = []
    marks: list[Mark | None] = []
    waiting: Mark | None = None
    broken = False
    for s in lines:
        if isinstance(s, SeamLine):
            if not rows or waiting is not None:
                notes.report("out-of-place", "A seam mark on its own line stands between two rows.", s.span)
            waiting = s.mark
        elif isinstance(s, Bad):
            broken = True
        else:
            try:
                new = row(s, f"{len(rows) + 1}.", values, names, notes)
            except Broken:
                broken = True
                continue
            if rows:
                marks.append(waiting)
            waiting = None
            rows.append(new)
    if waiting is not None and not broken:
        notes.report("out-of-place", "A seam mark on its own line stands between two rows.", lines[-1].span)
    if broken:
        raise Broken
    return tuple(rows), tuple(marks)
