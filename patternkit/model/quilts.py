"""The ``quilt`` statement: how the blocks are set, joined, bordered and finished."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import msgspec

from patternkit.lengths import Length
from patternkit.model.cut_claims import also_cut
from patternkit.model.cut_lines import AlsoCut
from patternkit.model.pattern import Claim, Component, Finishing, Framing, Quilt, Row
from patternkit.model.pieces import UnitScope, component, no_commas
from patternkit.model.quilt_words import in_vain, ring_marks
from patternkit.model.report import Notebook
from patternkit.model.scope import statements
from patternkit.model.unit_lines import grid
from patternkit.model.values import Broken, Values, numbers
from patternkit.problems import Repair
from patternkit.sizes.affine import Affine
from patternkit.source import Span
from patternkit.syntax.statements import (
    Across,
    Also,
    Bad,
    Finish,
    Mark,
    Node,
    Num,
    PieceLine,
    PieceUse,
    PressStatement,
    Prose,
    QuiltHead,
    SeamLine,
    SizeClaim,
    SizePair,
    Tile,
)
from patternkit.syntax.words import COUNTED

MOST_BLOCKS = 200  # across or down
SIZED_BY = ("across", "down", "tile", "layout", "ring", "setting", "sashing", "border", "")
"""What a line of a quilt starts with that has a part in its size; a line that starts with no known word may be one."""


def quilt(
    node: Node,
    overrides: Mapping[str, Length],
    values: Values,
    names: UnitScope,
    notes: Notebook,
    usual: Mapping[str, Length] | None = None,
) -> Quilt:
    """Read a quilt. `overrides` may give across and down for one row of the sizes table; `usual` gives those that hold
    where the quilt itself names none."""
    head = node.statement
    assert isinstance(head, QuiltHead)
    reader = _Reader(values, names, notes)
    for child in statements(node.children):
        reader.read(child)
    found = reader.found
    for side, value in (usual or {}).items():
        if side in ("across", "down") and side not in found and not found.get("layout"):
            found[side] = _override(value, side, head, notes)
    for side in ("across", "down"):
        if side in overrides:
            found[side] = _override(overrides[side], side, head, notes) or found.get(side)
    made = Quilt(
        head.span,
        borders=tuple(reader.borders),
        finishing=tuple(reader.finishing),
        claims=tuple(reader.claims),
        press=tuple(reader.press),
        prose=tuple(reader.prose),
        also=tuple(reader.also),
        **found,
    )
    in_vain(reader.statements, made, names.fabrics, notes, as_written=not overrides)
    return made


def quilt_of_unit(
    lines: Iterable[Node], span: Span, called: str, values: Values, names: UnitScope, notes: Notebook
) -> Quilt:
    """What the lines of a unit say that is made like a quilt: how its blocks lie, what frames them."""
    reader = _Reader(values, names, notes)
    for line in lines:
        reader.read(line)
    made = Quilt(span, borders=tuple(reader.borders), called=called, **reader.found)
    in_vain(reader.statements, made, names.fabrics, notes)
    return made


class _Reader:
    """Reads the lines under quilt, one by one. `found` are fields of the quilt that stand in it once; `statements` are
    the lines that may say something in vain."""

    def __init__(self, values: Values, names: UnitScope, notes: Notebook) -> None:
        self.values, self.names, self.notes = values, names, notes
        self.found: dict[str, Any] = {}
        self.borders: list[Framing] = []
        self.finishing: list[Finishing] = []
        self.claims: list[Claim] = []
        self.press: list[PressStatement] = []
        self.prose: list[Prose] = []
        self.also: list[AlsoCut] = []
        self.statements: list[Finish | Tile | Across | PressStatement] = []

    def read(self, node: Node) -> None:
        """Take in one line; where something of it has no value, the quilt's size may not be known."""
        s = node.statement
        if isinstance(s, (Finish, Tile, Across, PressStatement)):
            self.statements.append(s)
        try:
            self._take(node)
        except Broken:
            if isinstance(s, (Across, Tile)) or (isinstance(s, Finish) and s.word in SIZED_BY):
                self.found["broken"] = True

    def _take(self, node: Node) -> None:
        s = node.statement
        if isinstance(s, Across):
            for side, e in (("across", s.across), ("down", s.down)):
                if e is not None:
                    what = f"The number of blocks {side}"
                    self.found[side] = self.values.count(e, self.names.values, what, MOST_BLOCKS)
        elif isinstance(s, Tile):
            self._tile(node, s)
        elif isinstance(s, Finish):
            self._finish(s)
        elif isinstance(s, SizeClaim):
            width, height = (
                self.values.length(e, self.names.values) if e is not None else None for e in (s.width, s.height)
            )
            assert width is not None
            self.claims.append(Claim(s.word, width, height, s.span, numbers(s.width, s.height), s.side))
        elif isinstance(s, PressStatement):
            self.press.append(s)
        elif isinstance(s, Prose):
            self.prose.append(s)
        elif isinstance(s, Also):
            self.also.append(
                also_cut(s, self.names.fabrics, self.names.values, self.values, self.notes, self.names.prints)
            )
        elif not isinstance(s, Bad):
            self.notes.report("out-of-place", "This line does not belong under quilt.", s.span)
        elif s.word in SIZED_BY:
            self.found["broken"] = True

    def _tile(self, node: Node, s: Tile) -> None:
        rows, marks = tile_rows(node, self.values, self.names, self.notes)
        if s.word == "ring":
            ring_marks([n.statement for n in statements(node.children)], self.notes)
            self.borders.append(_ring(s, rows, len(self.borders) + 1, self.notes))
        else:
            self.found |= {"rows": rows, "row_marks": marks, "layout": s.word == "layout"}

    def _finish(self, s: Finish) -> None:
        if s.word in ("sashing", "border"):
            edge = _edge(s, len(self.borders) + 1, self.values, self.names, self.notes)
            if s.word == "border":
                self.borders.append(edge)
            else:
                self.found["sashing"] = edge
            return
        done = _finishing(s, self.values, self.names, self.notes)
        if s.word == "setting":
            self.found["setting"] = done
        else:
            self.finishing.append(msgspec.structs.replace(done, after=len(self.borders)))


def _override(value: Length, side: str, head: QuiltHead, notes: Notebook) -> int | None:
    if value.is_fraction and value.fraction.denominator == 1 and 1 <= value.fraction <= MOST_BLOCKS:
        return int(value.fraction)
    notes.report(
        "not-a-count", f"The number of blocks {side} must be a whole number from 1 to {MOST_BLOCKS}.", head.span
    )
    return None


def tile_rows(
    node: Node, values: Values, names: UnitScope, notes: Notebook
) -> tuple[tuple[Row, ...], tuple[Mark | None, ...]]:
    """The rows under tile, layout or ring."""
    lines = [n.statement for n in statements(node.children)]
    rows, marks = grid([x for x in lines if isinstance(x, (PieceLine, SeamLine, Bad))], values, names, notes)
    no_commas(rows, notes)
    return rows, marks


def _edge(s: Finish, number: int, values: Values, names: UnitScope, notes: Notebook) -> Framing:
    nth = 0 if s.word == "sashing" else number
    slot = f"{s.word} {nth}"
    piece = _piece(s.use, slot, values, names, notes)
    return Framing(
        s.word,
        s.span,
        values.length(s.value, names.values) if s.value is not None else None,
        s.cut,
        numbers(s.value)[0],
        piece,
        _piece(s.cornerstones, f"{slot} corner", values, names, notes),
        s.words,
        (piece,) if piece is not None and piece.unit else (),
        nth,
        extras=_extras(s, values, names),
        numbers=_numbers(s),
    )


def _ring(s: Tile, rows: tuple[Row, ...], number: int, notes: Notebook) -> Framing:
    """A round of units: the first row is repeated along each side, the second gives the corner."""
    if not rows or len(rows) > 2 or (len(rows) == 2 and len(rows[1].pieces) != 1):
        notes.report(
            "not-understood",
            "A ring has one row that is repeated along each side, and under it a row with the one "
            "piece that lies in the corners.",
            s.span,
        )
        raise Broken
    slot = f"{s.word} {number}"
    rename = [msgspec.structs.replace(p, slot=f"{slot}/{p.slot}") for p in rows[0].pieces]
    corner = msgspec.structs.replace(rows[1].pieces[0], slot=f"{slot} corner") if len(rows) == 2 else None
    return Framing(s.word, s.span, None, False, None, rename[0], corner, (), tuple(rename), number, marks=rows[0].marks)


def _piece(use: PieceUse | None, slot: str, values: Values, names: UnitScope, notes: Notebook) -> Component | None:
    return component(use, slot, values, names, notes) if use is not None else None


def _finishing(s: Finish, values: Values, names: UnitScope, notes: Notebook) -> Finishing:
    fabric, strip = (_cloth(use, values, names, notes) for use in (s.use, s.strip))
    if s.use is not None and fabric and names.prints.is_group(fabric):
        _one_cloth(s, s.use, notes)
    return Finishing(
        s.word,
        s.span,
        values.length(s.value, names.values) if s.value is not None else None,
        s.cut,
        fabric,
        s.words,
        _extras(s, values, names),
        strip,
        _size(s, values, names),
        _numbers(s),
        _piece(s.sides, "setting sides", values, names, notes),
        _piece(s.corners, "setting corners", values, names, notes),
    )


def _cloth(use: PieceUse | None, values: Values, names: UnitScope, notes: Notebook) -> str:
    """The key of a fabric that a finish is of; empty after noting that there is none."""
    if use is None:
        return ""
    found = names.fabrics.get(use.name, "")
    if not found and use.name in names.units:
        notes.report(
            "must-be-cloth",
            f"{use.name} is a unit, and here stands the fabric that is cut from the bolt.",
            use.span,
            causes=[
                "What goes round the quilt or lies between its blocks may be a unit: border and sashing repeat it.",
                "Binding, backing and the like are cut from cloth; `strip` and a fabric behind backing put a strip "
                "of another cloth into it.",
            ],
        )
    elif not found:
        notes.unknown("fabric", use.name, use.name_span, names.fabrics)
    elif use.args:
        return names.prints.numbered(use, found, names.values, values)
    return found


def _one_cloth(s: Finish, use: PieceUse, notes: Notebook) -> None:
    """Note a finish of a group that is cut from one cloth: a backing, a binding cut on the bias."""
    bias = s.word == "binding" and any(word in ("bias", "from a square") for word in s.words)
    if s.word != "backing" and not bias:
        return
    what = "A backing" if s.word == "backing" else "Binding on the bias"
    notes.report(
        "needs-one-fabric",
        f"{what} is cut from one fabric, and {use.name} is a group of prints.",
        use.span,
        repairs=[Repair("say which print", use.span, f"{use.name}(1)")],
    )
    raise Broken


def _extras(s: Finish, values: Values, names: UnitScope) -> dict[str, Affine]:
    """Lengths by the phrases that they stand behind, and numbers, which are whole ones."""
    for word, e in s.extras:
        if word in COUNTED:
            values.count(e, names.values, f"The number of {word}", 10_000)
    return {word: values.length(e, names.values) for word, e in s.extras}


def _numbers(s: Finish) -> dict[str, Span]:
    """The places of the plain numbers behind phrases."""
    found = {word: e.span for word, e in s.extras if isinstance(e, Num)}
    sides = (s.size.width, s.size.height) if isinstance(s.size, SizePair) else (s.size,)
    if s.size is not None and all(isinstance(side, Num) for side in sides):
        found["size"] = s.size.span
    return found


def _size(s: Finish, values: Values, names: UnitScope) -> tuple[Affine, Affine] | None:
    """What a backing measures, or what a batting is cut; one length stands for both sides of a square."""
    if s.size is None:
        return None
    width, height = (s.size.width, s.size.height) if isinstance(s.size, SizePair) else (s.size, s.size)
    return values.length(width, names.values), values.length(height, names.values)
