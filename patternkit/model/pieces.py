"""Rows of pieces: groups unrolled, names resolved to units and fabrics, sizes in place worked out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

import msgspec

from patternkit.model.groups import Prints
from patternkit.model.pattern import Component, PieceLay, Row
from patternkit.model.report import Notebook
from patternkit.model.values import Broken, Values, numbers
from patternkit.problems import Problem, Repair
from patternkit.sizes.affine import Affine
from patternkit.source import Span
from patternkit.syntax.meant import TURNS
from patternkit.syntax.statements import Mark, Num, PieceLine, PieceUse, Ref, RepeatedGroup

MOST_PIECES = 400  # in one row: more than any block or strip unit has; keeps a slip of the finger bounded


Lie = tuple[int, bool]
"""How a piece lies: turned by so many degrees clockwise, and whether it is mirrored before that."""


class UnitScope(msgspec.Struct, frozen=True):
    """What names mean inside one unit: values, fabrics, units (its parameters among them), and how to get an instance
    of a unit with arguments (a unit key, or None after noting why not). `prints` gives what stands for one print of a
    group; `lies` says how units lie that were given turned or mirrored."""

    values: Mapping[str, Affine]
    fabrics: Mapping[str, str]
    units: Mapping[str, str]
    instance: Callable[[PieceUse, UnitScope], str | None]
    prints: Prints
    lies: Mapping[str, Lie] = {}


def flatten(line: PieceLine | RepeatedGroup, values: Values, names: UnitScope) -> tuple[list[PieceUse], list[Mark]]:
    """The pieces of a row in order with the marks between them, groups repeated as often as they say.

    Where a group repeats without a mark of its own at the end, a seam with free pressing joins the repeats.
    """
    uses: list[PieceUse] = []
    marks: list[Mark] = []
    for i, item in enumerate(line.items):
        if isinstance(item, PieceUse):
            uses.append(item)
        else:
            times = values.count(item.times, names.values, "The number of times", MOST_PIECES)
            inner, between = flatten(item, values, names)
            own_end = between[len(inner) - 1] if len(between) >= len(inner) else Mark("|", item.span)
            if len(inner) * times > MOST_PIECES:
                values.notes.report("too-large", f"This row has more than {MOST_PIECES} pieces.", item.span)
                raise Broken
            for turn in range(times):
                uses.extend(inner)
                marks.extend(between[: len(inner) - 1])
                if turn < times - 1:
                    marks.append(own_end)
        if i < len(line.marks):
            marks.append(line.marks[i])
    if len(uses) > MOST_PIECES:
        values.notes.report("too-large", f"This row has more than {MOST_PIECES} pieces.", line.span)
        raise Broken
    return uses, marks


def row(line: PieceLine, where: str, values: Values, names: UnitScope, notes: Notebook) -> Row:
    """One row of pieces; `where` begins the slots of its plain patches. Raises Broken when a name has no meaning."""
    uses, marks = flatten(line, values, names)
    pieces: list[Component] = []
    broken = False
    for i, use in enumerate(uses):
        try:
            pieces.append(component(use, f"{where}{i + 1}", values, names, notes))
        except Broken:
            broken = True
    if broken:
        raise Broken
    return Row(tuple(pieces), tuple(marks[: len(pieces) - 1]), line.span)


def no_commas(rows: Iterable[Row], notes: Notebook) -> None:
    """Note each comma between pieces that are sewn side by side: a seam is made visible by a mark."""
    for mark in dict.fromkeys(m for r in rows for m in r.marks if m.mark == ","):
        notes.report(
            "no-mark",
            "A comma is no seam: a seam mark stands between two pieces that are sewn side by side.",
            mark.span,
            repairs=[Repair("write `|` for it", mark.span, " |", True)],
        )


def _laid_across(use: PieceUse, word: Ref, notes: Notebook) -> None:
    """How the strips of a piece lie is said by how the strip unit is turned."""
    turned = use.name if word.name == "down" else f"{use.name} turned 90"
    notes.report(
        "not-understood",
        f"The strips of {use.name} lie as they are drawn, or as it is turned.",
        word.span,
        causes=[f"`{use.name} laid` has them as they are drawn, `{use.name} turned 90 laid` across that."],
        repairs=[Repair(f"write {turned} laid", use.span.to(word.span), f"{turned} laid", safe=False)],
    )


def component(use: PieceUse, slot: str, values: Values, names: UnitScope, notes: Notebook) -> Component:
    """A piece by name, with what is said of it in place."""
    if isinstance(use.width, Ref) and use.width.name in ("across", "lengthwise", "down") and use.laid is not None:
        _laid_across(use, use.width, notes)
        raise Broken
    if isinstance(use.width, Ref) and use.width.name not in names.values:
        _two_words(use, use.width, names, notes)
    width = values.length(use.width, names.values) if use.width is not None else None
    height = values.length(use.height, names.values) if use.height is not None else None
    unit, cloth = "", ""
    if use.name in names.fabrics and not use.args:
        cloth = names.fabrics[use.name]
    elif use.name in names.fabrics:
        cloth = names.prints.numbered(use, names.fabrics[use.name], names.values, values)
    elif use.name in names.units or use.args:
        found = names.instance(use, names)
        if found is None:
            raise Broken
        unit = found
    else:
        notes.unknown("unit or fabric", use.name, use.name_span, [*names.fabrics, *names.units])
        raise Broken
    if use.shifted and cloth:
        notes.report(
            "out-of-place",
            f"{use.name} is plain cloth, and nothing in it is shifted.",
            use.span,
            causes=["Shifted are the strips of a segment: the unit's name stands there, such as `step shifted 1`."],
        )
        raise Broken
    turned, mirrored = lie(use, values, names, notes)
    places = numbers(use.width, use.height)
    if height is not None and names.lies.get(use.name, (0, False))[0] % 180:
        # the sizes are those of what was given as it lies
        width, height, places = height, width, (places[1], places[0])
    return Component(
        slot,
        use.name,
        use.span,
        unit,
        cloth,
        turned,
        mirrored,
        width,
        height,
        use.cut,
        places,
        _lay(use, values, names),
    )


def _lay(use: PieceUse, values: Values, names: UnitScope) -> PieceLay | None:
    """How a piece that is cut from a strip unit lies on it."""
    if use.laid is None:
        return None
    if use.laid.x is None or use.laid.y is None:
        return PieceLay()
    x, y = (values.length(side, names.values) for side in (use.laid.x, use.laid.y))
    return PieceLay((x, y))


def degrees_of(turn: Ref | Num, values: Values, names: UnitScope, notes: Notebook) -> int:
    """A whole number of degrees, by itself or by its name; raises Broken after noting what is wrong with it."""
    if isinstance(turn, Ref) and turn.name in TURNS and turn.name not in names.values:
        message = "A unit is turned clockwise, by a number of degrees."
        repair = Repair(f"write {TURNS[turn.name]}", turn.span, TURNS[turn.name], True)
        notes.report("odd-turn", message, turn.span, repairs=[repair])
        raise Broken
    degrees = values.now(values.value(turn, names.values), turn.span)
    if not degrees.is_fraction or degrees.fraction.denominator != 1:
        notes.report("odd-turn", "A turn is a whole number of degrees, clockwise.", turn.span)
        raise Broken
    return int(degrees.fraction)


def lie(use: PieceUse, values: Values, names: UnitScope, notes: Notebook) -> Lie:
    """How a piece lies: as the argument that its name stands for lies, then mirrored, then turned."""
    turned = use.turned
    if use.turn is not None:
        turned = degrees_of(use.turn, values, names, notes)
    if turned % 90 and use.laid is not None:
        if turned % 30 and turned % 45:
            notes.report(
                "odd-turn",
                "Strips are laid straight, or turned by an angle that rulers have: 30, 45, 60 degrees and so on.",
                use.span,
            )
            raise Broken
    elif turned % 90:
        notes.report(
            "odd-turn", f"In a row pieces lie straight: {use.name} can be turned 90, 180 or 270 degrees.", use.span
        )
        raise Broken
    before, flipped = names.lies.get(use.name, (0, False))
    return (turned + (-before if use.mirrored else before)) % 360, use.mirrored != flipped


def lies_alike(piece: Component, owner: str) -> Problem | None:
    """The problem of plain cloth that is said to be turned or mirrored: it is cut to lie upright, and looks alike.

    Where two sizes stand beside it turning changes them over; a name in brackets may stand for a unit as well.
    """
    if not piece.fabric or piece.name != piece.fabric or not (piece.turned or piece.mirrored or piece.laid):
        return None
    if piece.laid is None and piece.height is not None and piece.turned % 180:
        return None
    how = "laid" if piece.laid is not None else "turned" if piece.turned else "mirrored"
    return Problem(
        "out-of-place",
        f"In {owner}, {piece.name} is plain cloth, so {how} says nothing.",
        piece.span,
        causes=(
            "Units are turned and mirrored, strip units are laid; a patch of one fabric lies as it is cut, its print "
            "upright.",
        ),
    )


def not_cut_here(piece: Component, owner: str) -> Problem | None:
    """The problem of a rectangle that is to be cut from a strip unit where it is joined to others."""
    if piece.laid is None or piece.fabric:
        return None
    return Problem(
        "must-be-cloth",
        f"In {owner}, no piece is cut from {piece.name}: what is joined here is plain cloth, or sewn already.",
        piece.span,
        causes=(
            "A rectangle across all strips is a segment: a unit of strips with the size that it has here. A part of "
            "their width is a unit of fewer strips.",
        ),
        repairs=(Repair("leave out laid, and say the size of the unit of strips"),),
    )


def _two_words(use: PieceUse, second: Ref, names: UnitScope, notes: Notebook) -> None:
    """Two words side by side are a piece and its size; say what they may be instead, and raise Broken."""
    if use.name in notes.broken:  # the line that names it has been reported
        raise Broken
    gap = Span(use.span.file, use.name_span.end, second.span.start)
    both, known = f"{use.name}-{second.name}", {*names.fabrics, *names.units}
    if both in known:
        notes.report(
            "unknown-name",
            f"There is no piece called {use.name} {second.name}. Did you mean {both}?",
            use.span,
            causes=["A name is one word, with hyphens."],
            repairs=[Repair(f"write {both}", gap, "-", safe=True)],
        )
        raise Broken
    if second.name in known and use.name in known:
        notes.report(
            "no-mark",
            "There is no seam mark between these two pieces.",
            use.span,
            repairs=[Repair("put a | between them", gap, " | ")],
        )
        raise Broken
