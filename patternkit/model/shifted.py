"""Strip units whose strips are moved on: ``step shifted 1`` begins one strip lower; what was first comes last."""

from __future__ import annotations

import msgspec

from patternkit.model.pattern import Row, Unit
from patternkit.model.report import Notebook
from patternkit.source import NOWHERE
from patternkit.syntax.statements import Mark, PieceUse

UNSTATED = Mark(",", NOWHERE)
"""Of the seam between the last strip and the first, which no mark in the text is for."""


def can_shift(unit: Unit, use: PieceUse, notes: Notebook) -> bool:
    """Whether the strips of a unit can be moved on so far; notes why not."""
    strips = len(unit.rows[0].pieces) if unit.rows else 0
    if unit.kind != "strips":
        notes.report(
            "out-of-place",
            f"{unit.name} is no strip unit, so that nothing in it is shifted.",
            use.span,
            causes=["Shifted are the strips of a segment: the first ones come last. A unit is turned or mirrored."],
        )
    elif not 0 < use.shifted < strips:
        notes.report(
            "out-of-place",
            f"{unit.name} has {strips} strips, and is shifted by at least 1 and at most {strips - 1} of them.",
            use.span,
        )
    else:
        return True
    return False


def shifted(unit: Unit, by: int) -> Unit:
    """The unit with its first strips last. Its sizes are those of the unit as it is described (`shifted_from`), and so
    is what is said of the strips; how many are made, and the writer's words, are told of that one alone."""
    row = unit.rows[0]
    marks = (*row.marks[by:], UNSTATED, *row.marks[: by - 1])
    moved = Row((*row.pieces[by:], *row.pieces[:by]), marks, row.span)
    return msgspec.structs.replace(
        unit,
        key=f"{unit.key} shifted {by}",
        rows=(moved,),
        claims=tuple(c for c in unit.claims if c.word == "cut"),
        prose=(),
        make=None,
        make_span=None,
        make_mirrored=None,
        cuts=(),
        strip_units=None,
        also=(),
        shifted=by,
        shifted_from=unit.key,
    )
