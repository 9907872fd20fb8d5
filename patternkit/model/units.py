"""Units and blocks with their parameters applied: one instance for each set of arguments."""

from __future__ import annotations

from collections.abc import Collection, Mapping

import msgspec

from patternkit.memory import Carried, Memory
from patternkit.model.groups import Prints
from patternkit.model.pattern import Fabric, Unit
from patternkit.model.pieces import Lie, UnitScope, component, lie, lies_alike
from patternkit.model.report import Notebook
from patternkit.model.scope import statements
from patternkit.model.unit_lines import UnitReader
from patternkit.model.unit_words import unread, untold
from patternkit.model.values import Broken, Values
from patternkit.problems import Label, Repair
from patternkit.sizes.affine import Affine
from patternkit.source import Span
from patternkit.syntax.statements import (
    Argument,
    KindStatement,
    Node,
    PieceUse,
    PressStatement,
    Ref,
    UnitHead,
)
from patternkit.units import mixed

APART = "cut-apart"
"""The kind of which the last thing in the brackets is the number of a piece."""
DEEPEST = 60  # units inside units
MOST_INSTANCES = 2_000  # units with different arguments


class Given(msgspec.Struct, frozen=True):
    """What is given for a name in brackets: a value, a fabric, or a unit as it lies."""

    value: Affine | None = None
    fabric: str = ""
    unit: str = ""
    lies: Lie = (0, False)

    @property
    def number(self) -> int:
        """The whole number that it is, from 1; 0 for anything else."""
        value = self.value
        if value is None or not value.is_constant or not value.const.is_fraction:
            return 0
        whole = value.const.fraction
        return int(whole) if whole.denominator == 1 and whole > 0 else 0

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
        fabrics: dict[str, Fabric],
        env: Mapping[str, Affine],
        values: Values,
        notes: Notebook,
        memory: Memory | None = None,
        trimmed: bool = False,
    ) -> None:
        self.heads, self.values, self.notes = heads, values, notes
        self.trimmed = trimmed
        self.built: dict[str, Unit] = {}
        self.used: set[str] = set()
        self._building: list[str] = []
        self._failed: set[str] = set()
        self.prints = Prints(fabrics, notes)
        self._apart = frozenset(name for name, node in heads.items() if _is_apart(node))
        self.names = UnitScope(env, {f: f for f in fabrics}, {u: u for u in heads}, self.instance, self.prints)
        self._kept: Carried[str, tuple[Node, Unit]] | None = None  # units without parameters, with their lines
        if memory is not None:
            names = tuple((key, f.group) for key, f in fabrics.items()), tuple(heads)
            frame = (*names, dict(env), dict(values.parameters), values.units, trimmed)
            self._kept = memory.shelf("units", Carried).begin(frame)

    def instance(self, use: PieceUse, names: UnitScope) -> str | None:
        """The key of the unit that a use names, built if need be; None after noting why it can't be."""
        key = self._instance(use, names)
        if key is None or not use.shifted or self.built[key].broken:
            return key
        from patternkit.model.shifted import can_shift, shifted  # few units are

        if not can_shift(self.built[key], use, self.notes):
            return None
        unit = shifted(self.built[key], use.shifted)
        self.built.setdefault(unit.key, unit)
        return unit.key

    def _instance(self, use: PieceUse, names: UnitScope) -> str | None:
        """The same of a unit as it is described."""
        name = names.units.get(use.name, use.name)
        if name not in self.heads:  # a parameter may stand for a unit that is already an instance
            if name in self.built:
                return name
            self.notes.unknown("unit", use.name, use.name_span, names.units)
            return None
        head = self.heads[name].statement
        assert isinstance(head, UnitHead)
        self.used.add(name)
        apart = name in self._apart
        if len(use.args) != len(head.params) + apart:
            self._wrong_number(name, head, use, apart)
            return None
        try:
            bound: list[Given] = []
            for a in use.args:
                bound.append(self._argument(a, names, [given.fabric for given in bound]))
            if apart:
                self._must_be_number(name, bound[-1], use)
        except Broken:
            return None
        return self._build(name, bound, use)

    def _wrong_number(self, name: str, head: UnitHead, use: PieceUse, apart: bool) -> None:
        """Note that too many or too few things stand in the brackets behind a unit."""
        labels = [Label(head.span, f"{name} is described here")]
        if apart and len(use.args) == len(head.params):
            which = Repair("say which piece is meant", use.name_span, f"{use.name}(1)") if not head.params else None
            self.notes.report(
                "wrong-arguments",
                f"{name} is cut apart, and nothing says which of its pieces lies here.",
                use.span,
                labels=labels,
                causes=["Its number stands last in brackets: they are numbered as one reads, from the upper left."],
                repairs=[which] if which is not None else [],
            )
            return
        self.notes.report(
            "wrong-arguments",
            f"{name} takes {_count(len(head.params) + apart)} in brackets, and {_count(len(use.args))} stand here.",
            use.span,
            labels=labels,
        )

    def _must_be_number(self, name: str, given: Given, use: PieceUse) -> None:
        """Raise Broken for what is no number of a piece, after noting it."""
        if not given.number:
            self.notes.report(
                "wrong-arguments",
                f"Last in the brackets behind {name} stands the number of one of its pieces, such as {name}(1).",
                use.span,
            )
            raise Broken

    def _argument(self, arg: Argument, names: UnitScope, given: Collection[str] = ()) -> Given:
        """What an argument stands for; of a group a print that is none of those `given` already, nor one that the unit
        was given whose line this is."""
        if isinstance(arg, PieceUse):
            return self._lying(arg, names)
        if isinstance(arg, Ref):
            if arg.name in names.fabrics:
                key = names.fabrics[arg.name]
                if self.prints.is_group(key):
                    key = self.prints.given(key, {*given, *names.fabrics.values()}, arg.span)
                return Given(fabric=key)
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
        if arg.name in names.fabrics and arg.args:
            return Given(fabric=component(arg, "", self.values, names, self.notes).fabric)
        if arg.name in names.fabrics:
            problem = lies_alike(component(arg, "", self.values, names, self.notes), "brackets")
            if problem is not None:
                self.notes.add(problem)
            raise Broken
        if arg.laid is not None:
            self.notes.report(
                "out-of-place",
                f"A unit is given as it lies; that a piece is cut from it is said where the piece is: {arg.name} laid.",
                arg.span,
            )
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
            self.notes.report(
                "uses-itself",
                f"{name} is made from itself: {chain}.",
                use.span if use else head.span,
                causes=["A unit can only be made from units that are finished before it."],
            )
            return None
        if len(self._building) >= DEEPEST or len(self.built) >= MOST_INSTANCES:
            self.notes.report(
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
        pieces = unit.components
        for piece in pieces:
            if piece.unit and (piece.unit not in self.heads or self._build(piece.unit, [], None) is None):
                return None
            self.used.add(piece.unit)
        if unit.cloths - set(self.prints.fabrics):
            return None  # one print by its number, which is no fabric before it is met
        return unit

    def _read(self, key: str, shown: tuple[str, ...], node: Node, head: UnitHead, bound: list[Given]) -> Unit | None:
        reader = UnitReader(head, self._scope(head, bound), self.values, self.notes, self._meant)
        for child in statements(node.children):
            reader.read(child)
        unit = reader.unit(key, shown, node)
        if reader.setting:
            unit = self._set(unit, reader)
        if len(bound) > len(head.params):
            unit = msgspec.structs.replace(unit, piece=bound[-1].number)
        if self.trimmed:
            unit = msgspec.structs.replace(unit, trimmed=True)
        untold(head, unit, reader.prose, reader.press, self.notes)
        return unit

    def _set(self, unit: Unit, reader: UnitReader) -> Unit:
        """A unit that is made like a quilt; its middle is a unit of its own."""
        from patternkit.model.set_units import set_like_quilt  # few units are

        whole, middle = set_like_quilt(unit, reader.setting, self.values, reader.names, self.notes)
        if middle is not None:
            self.built[middle.key] = middle
        return whole

    def _scope(self, head: UnitHead, bound: list[Given]) -> UnitScope:
        base = self.names
        values, fabrics, units = dict(base.values), dict(base.fabrics), dict(base.units)
        lies: dict[str, Lie] = {}
        for param, given in zip(head.params, bound, strict=False):
            for table in (values, fabrics, units):
                table.pop(param.name, None)
            if given.value is not None:
                values[param.name] = given.value
            elif given.fabric:
                fabrics[param.name] = given.fabric
            else:
                units[param.name] = given.unit
                lies[param.name] = given.lies
        return UnitScope(values, fabrics, units, self.instance, self.prints, lies)

    def _meant(self, statement: PressStatement, names: UnitScope) -> PressStatement:
        """A press statement with what a name in brackets stands for: cloth and units are known by their own names."""
        unit = self.built.get(names.units.get(statement.name, ""))
        name = names.fabrics.get(statement.name) or (unit.name if unit is not None else statement.name)
        return statement if name == statement.name else msgspec.structs.replace(statement, name=name)

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
            if isinstance(node.statement, UnitHead) and not node.statement.params and name not in self._apart:
                self._build(name, [], None)

    def build_unused(self) -> None:
        """Build the first piece of every unit that is cut apart and of which no piece is used, so that it is
        checked."""
        for name, node in self.heads.items():
            head = node.statement
            if isinstance(head, UnitHead) and not head.params and name not in self.used and name in self._apart:
                self._build(name, [Given(value=Affine(1))], None)


def _is_apart(head: Node) -> bool:
    """Whether a unit is another one cut apart: the last thing in its brackets is the number of a piece."""
    lines = (child.statement for child in statements(head.children))
    return any(isinstance(s, KindStatement) and s.kind == APART for s in lines)


def _count(n: int) -> str:
    return "nothing" if n == 0 else "one thing" if n == 1 else f"{n} things"


def show_value(value: Affine) -> str:
    """A value as part of a unit's name: ``8``, ``side/3``."""
    if not value.coefs and value.const.is_fraction:
        return mixed(value.const.fraction)
    return value.text()
