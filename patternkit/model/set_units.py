"""Units that are made like a quilt: their blocks stand under ``tile`` or ``layout``, straight or on point, with sashing
and borders. Where a line says what kind of unit it is, the borders go round a middle of that kind."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import msgspec

from patternkit.model.pattern import Component, Framing, Row, Unit
from patternkit.model.pieces import UnitScope
from patternkit.model.quilts import quilt_of_unit
from patternkit.model.report import Notebook
from patternkit.model.unit_lines import SET
from patternkit.model.values import Values
from patternkit.problems import Label
from patternkit.syntax.statements import Node, PressStatement, Tile

MIDDLE = "middle"
COUNTED_STRIPS = ("strips", "sides cut", "top cut")
"""What is claimed of the borders and sashing of a quilt, and not of those of a unit."""


def set_like_quilt(
    unit: Unit, lines: Sequence[Node], values: Values, names: UnitScope, notes: Notebook
) -> tuple[Unit, Unit | None]:
    """A unit with the lines that set it like a quilt, and the unit that is its middle, where its kind is said.

    What is said of its size, its number and its words, and what is laid on it, is that of the whole; its method, its
    options and what is cut for a patch are those of the middle.
    """
    if unit.kind == "cut-apart":
        notes.report(
            "named-twice",
            f"{unit.name} is cut apart, and this line sets it like a quilt.",
            lines[0].statement.span,
            labels=[Label(unit.kind_span, "it is said to be cut apart here")],
            causes=["What goes round one of its pieces is said in a unit of its own, in which the piece is named."],
        )
        return unit, None
    called = f"{unit.role} {unit.key}"
    quilt = quilt_of_unit(lines, unit.kind_span, called, values, names, notes)
    made = [quilt.sashing] if quilt.sashing is not None else []
    edges = [*made, *quilt.borders]
    _uncounted(edges, notes)
    middle: Unit | None = None
    if unit.kind == SET:
        _nothing(unit, notes)
    else:
        _laid_twice(unit, lines, notes)
        middle = _middle(unit, edges)
        piece = Component("1.1", middle.key, unit.kind_span, middle.key)
        row = Row((piece,), (), unit.kind_span)
        quilt = msgspec.structs.replace(quilt, rows=(row,), row_marks=())
    quilt = msgspec.structs.replace(
        quilt,
        of=unit.key,
        sashing=_of(quilt.sashing, unit.key),
        borders=tuple(msgspec.structs.replace(edge, of=unit.key) for edge in quilt.borders),
    )
    kept = {"claims": tuple(c for c in unit.claims if c.word != "cut"), "press": _pressed(unit, middle, edges, True)}
    whole = msgspec.structs.replace(
        unit,
        kind=SET,
        rows=(),
        row_marks=(),
        named={piece.span: piece for piece in quilt.pieces},
        quilt=quilt,
        broken=(middle is not None and middle.broken) or quilt.broken,
        **kept,
        **(_BARE if middle is not None else {}),
    )
    return whole, middle


_BARE: dict[str, Any] = {"options": (), "method": None, "method_value": None, "strip_units": None, "lines": ()}
"""What is said of the middle alone."""


def _of(edge: Framing | None, key: str) -> Framing | None:
    return None if edge is None else msgspec.structs.replace(edge, of=key)


def _middle(unit: Unit, edges: Sequence[Framing]) -> Unit:
    """The middle of a unit with borders, as the unit would be without them."""
    made = msgspec.structs.replace(
        unit,
        key=f"{unit.key}, {MIDDLE}",
        claims=tuple(c for c in unit.claims if c.word == "cut"),
        prose=(),
        make=None,
        make_span=None,
        make_mirrored=None,
        cuts=(),
        also=(),
        unsized=False,
        laid_on=(),
        optional=None,
        middle_of=unit.key,
    )
    return msgspec.structs.replace(made, press=_pressed(unit, made, edges, False))


def _pressed(unit: Unit, middle: Unit | None, edges: Sequence[Framing], whole: bool) -> tuple[PressStatement, ...]:
    """The statements of pressing that speak of the whole, or of its middle: of the whole those that name what it is
    framed with, and that there are two versions."""
    if middle is None:
        return unit.press
    frames = {piece.fabric or piece.name for e in edges for piece in (*(e.sequence or (e.piece,)), e.corner) if piece}
    return tuple(p for p in unit.press if (p.how == "versions" or p.name in frames) == whole)


def _nothing(unit: Unit, notes: Notebook) -> None:
    """Note lines that say nothing of blocks that are set together."""
    lines = [(o.word, o.span) for o in unit.options] + [("cut", line.span) for line in unit.lines]
    lines += [("method", unit.method.span)] if unit.method is not None else []
    lines += [("strip units", unit.strip_units.span)] if unit.strip_units is not None else []
    lines += [("cut", claim.span) for claim in unit.claims if claim.word == "cut"]
    for word, span in lines:
        notes.report(
            "out-of-place",
            f"{unit.name} is made like a quilt, and {word} says nothing of it.",
            span,
            causes=["It may have across, down, tile, layout, setting, sashing, border and ring; finished is its size."],
        )


def _laid_twice(unit: Unit, lines: Sequence[Node], notes: Notebook) -> None:
    """Note blocks that are laid in a unit of which a line says what else it is."""
    for node in lines:
        s = node.statement
        if isinstance(s, Tile) and s.word != "ring":
            notes.report(
                "named-twice",
                f"{unit.name} says twice what it is: {unit.kind}, and blocks laid by {s.word}.",
                s.span,
                labels=[Label(unit.kind_span, "it is first said here")],
                causes=["What lies among the blocks gets a unit of its own, and is named in a row."],
            )


def _uncounted(edges: Sequence[Framing], notes: Notebook) -> None:
    """Note claims of strips beside the borders of a unit: those of the quilt alone are cut from strips of their own."""
    for edge in edges:
        for word in COUNTED_STRIPS:
            if word in edge.extras:
                notes.report(
                    "out-of-place",
                    f"Only beside the {edge.word} of the quilt {word} is a claim.",
                    edge.numbers.get(word, edge.span),
                    causes=["What is cut for one unit is said by a line under it: cut 2 of 1 1/2 x 6 1/2 night."],
                )
