"""Units and blocks with their parameters applied: one instance for each set of arguments."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import msgspec

from patternkit.lengths import ZERO
from patternkit.memory import Carried, Memory
from patternkit.model.pattern import Claim, Component, Row, Unit
from patternkit.model.pieces import Lie, UnitScope, component, lie, lies_alike, no_commas, row
from patternkit.model.report import Notebook
from patternkit.model.scope import statements
from patternkit.model.unit_words import once, unread, untold
from patternkit.model.values import Broken, Values, numbers
from patternkit.problems import Label
from patternkit.sizes.affine import Affine
from patternkit.source import Span
from patternkit.syntax.statements import (
    Argument,
    Bad,
    CountClaim,
    KindStatement,
    Mark,
    MethodStatement,
    Node,
    Option,
    PieceLine,
    PieceUse,
    PressStatement,
    Prose,
    Ref,
    SeamLine,
    SizeClaim,
    UnitHead,
)
from patternkit.units import mixed

DEEPEST = 60  # units inside units
SIZELESS = ("make", "press", "method", "intro", "note", "tip", "caution", "before", "after")
"""A line of a unit that starts with one of these has no part in its size."""
MOST_INSTANCES = 2_000  # units with different arguments


class Given(msgspec.Struct, frozen=True):
    """What is given for a name in brackets: a value, a fabric, or a unit as it lies."""

    value: Affine | None = None
    fabric: str = ""
    unit: str = ""
    lies: Lie = (0, False)

    @property
    def shown(self) -> str:
        """As it stands in the key of the unit that it is given to: ``core mirrored turned 90``."""
        if self.value is not None:
            return show_value(self.value)
        turned, mirrored = self.lies
        words = (self.fabric or self.unit, "mirrored" if mirrored else "", f"turned {turned}" if turned else "")
        return " ".join(w for w in words if w)


class UnitBuilder:
    """Builds unit instances on demand and keeps them by key."""

    def __init__(
        self,
        heads: Mapping[str, Node],
        fabrics: Iterable[str],
        env: Mapping[str, Affine],
        values: Values,
        notes: Notebook,
        memory: Memory | None = None,
    ) -> None:
        self.heads, self.values, self.notes = heads, values, notes
        self.built: dict[str, Unit] = {}
        self.used: set[str] = set()
        self._building: list[str] = []
        self._failed: set[str] = set()
        self.names = UnitScope(env, {f: f for f in fabrics}, {u: u for u in heads}, self.instance)
        self._kept: Carried[tuple[Node, Unit]] | None = None  # units without parameters, with their lines
        if memory is not None:
            frame = (tuple(self.names.fabrics), tuple(heads), dict(env), dict(values.parameters), values.units)
            self._kept = memory.shelf("units", Carried).begin(frame)

    def instance(self, use: PieceUse, names: UnitScope) -> str | None:
        """The key of the unit that a use names, built if need be; None after noting why it can't be."""
        name = names.units.get(use.name, use.name)
        if name not in self.heads:  # a parameter may stand for a unit that is already an instance
            if name in self.built:
                return name
            self.notes.unknown("unit", use.name, use.name_span, names.units)
            return None
        head = self.heads[name].statement
        assert isinstance(head, UnitHead)
        self.used.add(name)
        if len(use.args) != len(head.params):
            self.notes.say(
                "wrong-arguments",
                f"{name} takes {_count(len(head.params))} in brackets, and {_count(len(use.args))} stand here.",
                use.span,
                labels=[Label(head.span, f"{name} is described here")],
            )
            return None
        try:
            bound = [self._argument(a, names) for a in use.args]
        except Broken:
            return None
        return self._build(name, bound, use)

    def _argument(self, arg: Argument, names: UnitScope) -> Given:
        if isinstance(arg, PieceUse):
            return self._lying(arg, names)
        if isinstance(arg, Ref):
            if arg.name in names.fabrics:
                return Given(fabric=names.fabrics[arg.name])
            if arg.name in names.units:
                return Given(unit=names.units[arg.name], lies=names.lies.get(arg.name, (0, False)))
            if arg.name not in names.values:
                self.notes.unknown(
                    "fabric, unit or value", arg.name, arg.span, [*names.fabrics, *names.units, *names.values]
                )
                raise Broken
        return Given(value=self.values.value(arg, names.values))

    def _lying(self, arg: PieceUse, names: UnitScope) -> Given:
        """A unit that is given turned, mirrored or with arguments of its own."""
        if arg.name in names.fabrics:
            problem = lies_alike(component(arg, "", self.values, names, self.notes), "brackets")
            if problem is not None:
                self.notes.add(problem)
            raise Broken
        key = self.instance(arg, names)
        if key is None:
            raise Broken
        return Given(unit=key, lies=lie(arg, self.values, names, self.notes))

    def _build(self, name: str, bound: list[Given], use: PieceUse | None) -> str | None:
        node = self.heads[name]
        head = node.statement
        assert isinstance(head, UnitHead)
        shown = tuple(given.shown for given in bound)
        key = f"{name}({', '.join(shown)})" if bound else name
        if key in self.built:
            return key
        if key in self._failed:
            return None
        if name in self._building:
            chain = " uses ".join([*self._building[self._building.index(name) :], name])
            self.notes.say(
                "uses-itself",
                f"{name} is made from itself: {chain}.",
                use.span if use else head.span,
                causes=["A unit can only be made from units that are finished before it."],
            )
            return None
        if len(self._building) >= DEEPEST or len(self.built) >= MOST_INSTANCES:
            self.notes.say(
                "too-large", "Units are nested deeper, or in more forms, than can be worked with.", head.span
            )
            return None
        self._building.append(name)
        before = len(self.notes.problems)
        try:
            unit = self._same(name, node) or self._read(key, shown, node, head, bound)
        except Broken:
            unit = None
        finally:
            self._building.pop()
        if self._kept is not None and unit is not None and not bound and len(self.notes.problems) == before:
            self._kept.now[name] = node, unit
        if unit is None:
            self._failed.add(key)
            return None
        self.built[key] = unit
        return key

    def _same(self, name: str, node: Node) -> Unit | None:
        """The unit as it was read before, where neither its lines nor anything they can name have changed."""
        known = self._kept.old.get(name) if self._kept is not None else None
        if known is None or known[0] is not node or known[1].broken:
            return None
        unit = known[1]
        pieces = [*(p for row in unit.rows for p in row.pieces), *unit.named.values()]
        for piece in pieces:
            if piece.unit and (piece.unit not in self.heads or self._build(piece.unit, [], None) is None):
                return None
            self.used.add(piece.unit)
        return unit

    def _read(self, key: str, shown: tuple[str, ...], node: Node, head: UnitHead, bound: list[Given]) -> Unit | None:
        names = self._scope(head, bound)
        found: dict[str, Any] = {}
        claims: list[Claim] = []
        options: list[Option] = []
        press: list[PressStatement] = []
        prose: list[Prose] = []
        kind: Node | None = None
        loose: list[Node] = []
        first: dict[str, Span] = {}
        for child in statements(node.children):
            s = child.statement
            if isinstance(s, KindStatement):
                if kind is not None:
                    self.notes.say(
                        "named-twice",
                        f"{head.name} says twice what it is.",
                        s.span,
                        labels=[Label(kind.statement.span, "it is first said here")],
                        causes=[
                            "A unit is made in one way. What is made in another way gets a unit of its own, "
                            "and a row joins the two by their names."
                        ],
                    )
                kind = kind or child
            elif isinstance(s, SizeClaim):
                said = self._claim(s, names)
                claims += said
                found["unsized"] = found.get("unsized", False) or not said
            elif isinstance(s, CountClaim):
                once(first, "make", s.span, head, self.notes)
                try:
                    found["make"], found["make_span"] = (
                        self.values.count(s.value, names.values, "The number to make", 1_000_000, 0),
                        s.span,
                    )
                    if s.mirrored is not None:
                        found["make_mirrored"] = self.values.count(
                            s.mirrored, names.values, "The number of mirror images", 1_000_000, 0
                        )
                except Broken:
                    pass
            elif isinstance(s, MethodStatement):
                once(first, "method", s.span, head, self.notes)
                found |= self._method(s, names)
            elif isinstance(s, (PieceLine, SeamLine)):
                loose.append(child)
            elif isinstance(s, Option):
                options.append(s)
            elif isinstance(s, PressStatement):
                press.append(self._meant(s, names))
            elif isinstance(s, Prose):
                prose.append(s)
            elif isinstance(s, Bad):
                found["unsized"] = found.get("unsized", False) or s.word not in SIZELESS
            else:
                self.notes.say("out-of-place", f"This line does not belong under {head.role} {head.name}.", s.span)
        rows: tuple[Row, ...] = ()
        row_marks: tuple[Mark | None, ...] = ()
        word, span = "", head.span
        if kind is not None and isinstance(kind.statement, KindStatement):
            word, span = kind.statement.kind, kind.statement.kind_span
            try:
                rows, row_marks = self._rows(kind, loose, names)
                if word in ("row", "column", "rows", "strips"):
                    no_commas(rows, self.notes)
            except Broken:
                found["broken"] = True
        else:
            found["broken"] = True
            said_under = list(statements(node.children))
            if said_under and not any(isinstance(c.statement, Bad) for c in said_under):
                self.notes.say(
                    "no-kind",
                    f"Nothing says what {head.role} {head.name} is made of.",
                    head.span,
                    causes=["A line such as patch, row, rows, strips or half-square says how it is pieced."],
                )
        unit = Unit(
            key,
            head.name,
            head.title or head.name,
            head.role,
            word,
            span,
            head.span,
            rows,
            row_marks,
            tuple(claims),
            tuple(options),
            press=tuple(press),
            prose=tuple(prose),
            values=names.values,
            fabrics=names.fabrics,
            named=self._named(options, names),
            arguments=shown,
            **found,
        )
        untold(head, unit, prose, press, self.notes)
        return unit

    def _method(self, s: MethodStatement, names: UnitScope) -> dict[str, Any]:
        try:
            return {
                "method": s,
                "method_value": self.values.length(s.value, names.values) if s.value is not None else None,
            }
        except Broken:
            return {"broken": True}

    def _named(self, options: list[Option], names: UnitScope) -> dict[Span, Component]:
        """The fabrics and units that options name, by their place; other words are the kind's own affair."""
        named: dict[Span, Component] = {}
        for part in (part for o in options for clause in o.clauses for part in clause):
            if not isinstance(part, (Ref, PieceUse)) or (isinstance(part, Ref) and part.name in names.values):
                continue
            if part.name in names.fabrics or part.name in names.units:
                use = part if isinstance(part, PieceUse) else PieceUse(part.name, part.span, part.span)
                try:
                    named[part.span] = component(use, f"option {len(named) + 1}", self.values, names, self.notes)
                except Broken:
                    continue
        return named

    def _scope(self, head: UnitHead, bound: list[Given]) -> UnitScope:
        base = self.names
        values, fabrics, units = dict(base.values), dict(base.fabrics), dict(base.units)
        lies: dict[str, Lie] = {}
        for param, given in zip(head.params, bound, strict=True):
            for table in (values, fabrics, units):
                table.pop(param.name, None)
            if given.value is not None:
                values[param.name] = given.value
            elif given.fabric:
                fabrics[param.name] = given.fabric
            else:
                units[param.name] = given.unit
                lies[param.name] = given.lies
        return UnitScope(values, fabrics, units, self.instance, lies)

    def _claim(self, s: SizeClaim, names: UnitScope) -> list[Claim]:
        try:
            width = self.values.length(s.width, names.values)
            height = self.values.length(s.height, names.values) if s.height is not None else None
        except Broken:
            return []
        if any(side.is_constant and side.const <= ZERO for side in (width, height) if side is not None):
            self.notes.say("too-small", f"What {s.word} says has to be more than nothing.", s.span)
            return []
        return [Claim(s.word, width, height, s.span, numbers(s.width, s.height), s.side)]

    def _meant(self, said: PressStatement, names: UnitScope) -> PressStatement:
        """A press statement with what a name in brackets stands for: cloth and units are known by their own names."""
        unit = self.built.get(names.units.get(said.name, ""))
        name = names.fabrics.get(said.name) or (unit.name if unit is not None else said.name)
        return said if name == said.name else msgspec.structs.replace(said, name=name)

    def _rows(self, kind: Node, loose: list[Node], names: UnitScope) -> tuple[tuple[Row, ...], tuple[Mark | None, ...]]:
        s = kind.statement
        assert isinstance(s, KindStatement)
        lines = [n.statement for n in [*statements(kind.children), *loose]]
        if s.line is not None:
            lines.insert(0, s.line)
        return grid([x for x in lines if isinstance(x, (PieceLine, SeamLine, Bad))], self.values, names, self.notes)

    @property
    def idle(self) -> dict[str, Span]:
        """Units with parameters that nothing uses: nothing of theirs can be checked."""
        return {
            name: node.statement.span
            for name, node in self.heads.items()
            if isinstance(node.statement, UnitHead) and node.statement.params and name not in self.used
        }

    @property
    def unread(self) -> dict[Span, tuple[str, str]]:
        """Names in brackets that the lines of their unit never use, by place: the unit's name and the parameter's."""
        return {
            param.span: (name, param.name)
            for name, node in self.heads.items()
            if isinstance(node.statement, UnitHead) and node.statement.params and name in self.used
            for param in unread(node, node.statement)
        }

    def build_all(self) -> None:
        """Build every unit that takes no parameters, so that unused ones are checked as well."""
        for name, node in self.heads.items():
            if isinstance(node.statement, UnitHead) and not node.statement.params:
                self._build(name, [], None)


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
                notes.say("out-of-place", "A seam mark on its own line stands between two rows.", s.span)
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
        notes.say("out-of-place", "A seam mark on its own line stands between two rows.", lines[-1].span)
    if broken:
        raise Broken
    return tuple(rows), tuple(marks)


def _count(n: int) -> str:
    return "nothing" if n == 0 else "one thing" if n == 1 else f"{n} things"


def show_value(value: Affine) -> str:
    """A value as part of a unit's name: ``8``, ``side/3``."""
    if not value.coefs and value.const.is_fraction:
        return mixed(value.const.fraction)
    return value.text()
