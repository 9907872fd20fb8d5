"""What the lines of a quilt say in vain: nothing that a writer states is left out without a word.

Each line of a quilt is right by itself; whether it has a meaning depends on what the others say. A line or a phrase
that nothing would come of is told where it stands, with the reason and what to write instead.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from patternkit.model.edge_words import shaped
from patternkit.model.pattern import Quilt
from patternkit.model.pieces import lies_alike, not_cut_here
from patternkit.model.report import Notebook
from patternkit.problems import Label
from patternkit.source import Span
from patternkit.syntax.statements import Across, Finish, Mark, PressStatement, SeamLine, Tile

Statements = Sequence[Finish | Tile | Across | PressStatement]


AGAINST = (
    ("setting", "straight", "on point", "Blocks stand straight or on point."),
    ("setting", "straight", "zigzag", "Blocks stand straight, or on point in a zigzag."),
    ("setting", "on point", "zigzag", "Blocks on point stand in diagonal rows, or in columns that run in a zigzag."),
    ("border", "top first", "sides first", "Either pair of sides is sewn on first."),
    ("binding", "straight", "bias", "Strips are cut on the straight grain or on the bias."),
    ("binding", "straight", "from a square", "Binding from a square is cut on the bias."),
    ("backing", "seams vertical", "seams horizontal", "The seams of a backing run one way."),
)
"""Phrases that can't both be meant on one line, and why."""

VAIN: tuple[tuple[str, str, str, str], ...] = (
    (
        "border",
        "mitred",
        "top first",
        "All four sides of a mitred border are sewn on alike, and its corners after them.",
    ),
    (
        "border",
        "mitred",
        "sides first",
        "All four sides of a mitred border are sewn on alike, and its corners after them.",
    ),
    (
        "binding",
        "bias",
        "joined straight",
        "Strips cut on the bias have slanted ends, and are joined along them.",
    ),
    (
        "binding",
        "from a square",
        "joined straight",
        "Binding from a square is cut as one strip and has no joins.",
    ),
    ("binding", "from a square", "strips", "Binding from a square is cut as one strip."),
    (
        "backing",
        "envelope",
        "from one length",
        "The back of a cushion is cut with the rest of its fabric.",
    ),
    (
        "backing",
        "wide",
        "from one length",
        "Cloth that is sold wide for backings is not the length that the top is cut from.",
    ),
)
"""Phrases beside which another says nothing, and why."""

VAIN += tuple(
    (
        "backing",
        "envelope",
        word,
        "The back of a cushion is two pieces that lie over each other, as large as the cushion with its seams.",
    )
    for word in ("overage", "wide", "seams vertical", "seams horizontal", "panels", "measures")
)

_ENVELOPE = "The back of a cushion lies in two pieces over each other: `backing kelp, envelope, overlap 4`."

REPEATED = ("border", "ring", "flange", "piping")
"""Lines that a quilt may have several of."""

LAST = ("binding", "facing", "prairie-points")
"""Lines for the last edge, of which there is one."""

ON_POINT = {
    "float": "The float is the room between the points of blocks on point and the border.",
    "triangles": "Only blocks on point leave triangles at their sides and corners.",
    "sides cut": "Only blocks on point leave triangles at their sides.",
    "corners cut": "Only blocks on point leave triangles at their corners.",
}


def in_vain(
    statements: Statements, quilt: Quilt, fabrics: Mapping[str, str], notes: Notebook, as_written: bool = True
) -> None:
    """Note everything that the lines of a quilt say and that nothing would come of. In another size than the one
    `as_written` a part of the tile may well be left over."""
    lines = [s for s in statements if isinstance(s, Finish)]
    _twice(statements, quilt.called, notes)
    _last(lines, notes)
    for s in lines:
        _opposed(s, notes)
        _cloth(s, fabrics, notes)
    _between_mitred(quilt, notes)
    _setting(lines, quilt, notes)
    _layout(statements, quilt, notes)
    _edges(lines, quilt, notes)
    _marks(quilt, notes)
    for row in quilt.rows:
        for piece in row.pieces:
            problem = lies_alike(piece, quilt.called)
            if problem is not None:
                notes.add(problem)
    _uncut(quilt, notes)
    if as_written and not quilt.layout:
        _unlaid(quilt, notes)
    for press in statements:
        if isinstance(press, PressStatement) and press.how == "versions":
            _vain(
                notes,
                "A quilt is made once, so half of them says nothing here.",
                press.span,
                "Two versions of a unit are asked for under that unit.",
            )


def ring_marks(lines: Iterable[object], notes: Notebook) -> None:
    """A mark on a line of its own in a ring: its second row is no row below the first."""
    for s in lines:
        if isinstance(s, SeamLine):
            _vain(
                notes,
                "No seam runs between the lines of a ring, so this mark says nothing.",
                s.span,
                "The second line of a ring is the piece in its corners; a mark stands between two pieces of the first.",
            )


def begun(called: str) -> str:
    """What is called so, at the beginning of a sentence."""
    return called[:1].upper() + called[1:]


def _vain(notes: Notebook, message: str, span: Span, *causes: str, advice: bool = False) -> None:
    notes.report("out-of-place", message, span, causes=causes, advice=advice)


def _place(s: Finish, phrase: str) -> Span:
    """Where a phrase stands on its line."""
    if phrase == "cornerstones":
        return s.cornerstones.span if s.cornerstones is not None else s.span
    return s.places[s.words.index(phrase)] if phrase in s.words else s.span


def _twice(statements: Statements, called: str, notes: Notebook) -> None:
    """Lines that a quilt has once, given again."""
    first: dict[str, Span] = {}
    for s in statements:
        if isinstance(s, PressStatement) or (isinstance(s, (Finish, Tile)) and s.word in REPEATED):
            continue
        words = [w for w in ("across", "down") if getattr(s, w) is not None] if isinstance(s, Across) else [s.word]
        for word in words:
            key = "layout" if word == "tile" else word
            if key not in first:
                first[key] = s.span
                continue
            cause = (
                "A quilt is laid out once, by tile or by layout."
                if isinstance(s, Tile)
                else f"A quilt has one line {word}."
            )
            notes.report(
                "named-twice",
                f"{begun(called)} says {word} a second time."
                if word == key
                else f"{begun(called)} says how its blocks lie twice.",
                s.span,
                labels=[Label(first[key], "it is first said here")],
                causes=[cause],
            )


def _last(lines: Sequence[Finish], notes: Notebook) -> None:
    """An edge that is finished in two ways, and a back that is no cushion's."""
    edges = [s for s in lines if s.word in LAST]
    if edges and len({s.word for s in edges}) > 1:
        first, other = edges[0], next(s for s in edges if s.word != edges[0].word)
        notes.report(
            "said-twice",
            f"The edge of the quilt is said to have {_called(first.word)} and {_called(other.word)}.",
            other.span,
            labels=[Label(first.span, "the first is said here")],
            causes=["An edge is bound, faced, or finished with prairie points."],
        )
    for s in lines:
        if s.word == "backing" and "envelope" not in s.words and "overlap" in s.words:
            _vain(notes, "Without envelope, overlap says nothing.", _place(s, "overlap"), _ENVELOPE)
        if s.word == "backing" and "envelope" in s.words and s.use is None:
            notes.report("not-understood", "The back of a cushion names no fabric.", s.span, causes=[_ENVELOPE])
        if s.word == "backing" and "envelope" in s.words and s.strip is not None:
            _vain(notes, "Beside envelope, strip says nothing.", s.strip.span, _ENVELOPE)


def _between_mitred(quilt: Quilt, notes: Notebook) -> None:
    """A flange or a piping between two mitred borders, which are mitred as one."""
    for finish in quilt.finishing:
        n = finish.after
        if finish.word not in ("flange", "piping") or not 0 < n < len(quilt.borders):
            continue
        if all("mitred" in edge.words and edge.piece and edge.piece.fabric for edge in quilt.borders[n - 1 : n + 1]):
            _vain(
                notes,
                "Mitred borders side by side are sewn together before they are sewn on, "
                f"so no {finish.word} can lie between.",
                finish.span,
                f"A {finish.word} lies inside the first border, outside the last, or beside one that is not mitred.",
            )


def _called(word: str) -> str:
    return "prairie points" if word == "prairie-points" else f"a {word}"


def _opposed(s: Finish, notes: Notebook) -> None:
    """Phrases of one line of which only one can be meant, or one of which makes the other empty."""
    for word, one, other, why in AGAINST:
        if s.word == word and one in s.words and other in s.words:
            notes.report(
                "said-twice",
                f"The {word} is said to be {one} and {other}.",
                _place(s, other),
                causes=[why],
                labels=[Label(_place(s, one), f"{one} is said here")],
            )
    for word, one, other, why in VAIN:
        if s.word == word and one in s.words and other in s.words:
            _vain(notes, f"Beside {one}, {other} says nothing.", _place(s, other), why)


def _cloth(s: Finish, fabrics: Mapping[str, str], notes: Notebook) -> None:
    """The fabric of a line: whether there is one, and what is said of it that cloth can't have."""
    if s.word == "edge":
        shaped(s, notes)
        return
    for use in (s.use, s.cornerstones, s.strip):
        if use is not None and use.name in fabrics and (use.turned or use.mirrored):
            how = "turned" if use.turned else "mirrored"
            _vain(
                notes,
                f"Here {use.name} is plain cloth, so {how} says nothing.",
                use.span,
                "A fabric has one way to lie in a line of the quilt; units may be turned and mirrored.",
            )
    if s.use is not None or s.word in ("setting", "backing", "batting"):
        if s.word == "batting" and s.use is not None:
            _vain(
                notes,
                f"The batting is no fabric of the pattern, so {s.use.name} says nothing.",
                s.use.span,
                "A batting line says how far the batting reaches beyond the top: batting overage 3.",
            )
        return
    named = [w for w in s.words if w in fabrics]
    notes.report(
        "not-understood",
        f"The {s.word} line names no fabric.",
        s.span,
        causes=[
            f"{named[0]} is a word of this line, so that a fabric of that name can't be named here; it needs another."
            if named
            else f"Write the fabric behind the width: {s.word} {'cut 2 1/4' if s.word == 'binding' else 2} "
            f"{next(iter(fabrics), 'night')}."
        ],
    )


def _setting(lines: Sequence[Finish], quilt: Quilt, notes: Notebook) -> None:
    setting = next((s for s in lines if s.word == "setting"), None)
    if setting is None:
        return
    if "zigzag" in setting.words:
        _zigzag(lines, setting, notes)
        return
    if "on point" in setting.words:
        done = quilt.setting
        if quilt.sashing is not None and "float" in setting.words:
            _vain(
                notes,
                "Beside sashing on point, float says nothing.",
                _place(setting, "float"),
                "The outer edge runs through the middles of the outer cornerstones; with inner sashing the points of "
                "the blocks lie on it.",
                "A border of the triangles' fabric gives the blocks room: border 1 stone, before the others.",
            )
        for where, piece in (("sides", done.sides), ("corners", done.corners)) if done is not None else ():
            if piece is not None and piece.unit and f"{where} cut" in setting.words:
                why = f"{piece.name} is sewn, and its own lines say what it is cut from."
                _vain(
                    notes,
                    f"Beside {where} {piece.name}, {where} cut says nothing.",
                    _place(setting, f"{where} cut"),
                    why,
                )
        return
    for phrase, why in ON_POINT.items():
        if phrase in setting.words:
            _vain(notes, f"In a straight setting {phrase} says nothing.", _place(setting, phrase), why, _turn(setting))
    for use, where in ((setting.sides, "sides"), (setting.corners, "corners")):
        if use is not None:
            why = f"Only blocks on point leave triangles at their {where}."
            _vain(notes, f"In a straight setting {where} says nothing.", use.span, why, _turn(setting))
    if setting.use is not None:
        _vain(
            notes,
            f"In a straight setting the fabric {setting.use.name} says nothing.",
            setting.use.span,
            "A fabric named here is that of the triangles round blocks on point.",
            _turn(setting),
        )


def _zigzag(lines: Sequence[Finish], setting: Finish, notes: Notebook) -> None:
    """What says nothing of columns that run in a zigzag."""
    why = "The columns of a zigzag lie side by side, and their blocks touch each other and the edges."
    for s in lines:
        if s.word == "sashing":
            _vain(notes, "In a zigzag sashing says nothing.", s.span, why)
    if "float" in setting.words:
        _vain(notes, "In a zigzag float says nothing.", _place(setting, "float"), why)


def _turn(setting: Finish) -> str:
    return "Blocks are set on point by setting on point; otherwise leave it out."


def _layout(statements: Statements, quilt: Quilt, notes: Notebook) -> None:
    """Counts beside a layout, which is laid once; a layout on point, where the rows go by turns."""
    tile = next((s for s in statements if isinstance(s, Tile) and s.word in ("tile", "layout")), None)
    if tile is None or not quilt.rows:
        return
    on_point = quilt.on_point
    if quilt.layout and on_point:
        _vain(
            notes,
            "Blocks on point are laid by tile: a layout has no meaning there.",
            tile.span,
            "across and down count the blocks whose corners touch, and the rows under tile go by turns to these and "
            "to the rows between them.",
        )
    lengths = {len(row.pieces) for row in quilt.rows}
    for s in statements:
        if not isinstance(s, Across) or not quilt.layout:
            continue
        for side, n, own in (("across", quilt.across, lengths), ("down", quilt.down, {len(quilt.rows)})):
            if getattr(s, side) is not None and n is not None and own != {n}:
                lies = f"{min(own)}" if len(own) == 1 else f"{min(own)} to {max(own)}"
                _vain(
                    notes,
                    f"The layout lies {lies} {side}, and is laid once; {side} {n} says nothing.",
                    s.span,
                    "Under tile, rows of blocks are repeated as often as across and down say.",
                )


def _edges(lines: Sequence[Finish], quilt: Quilt, notes: Notebook) -> None:
    borders = [e for e in quilt.borders if e.word == "border"]
    written = [s for s in lines if s.word == "border"]
    for edge, s in zip(borders, written, strict=False):
        corner = "Mitred corners leave no room for cornerstones."
        if "mitred" in s.words:
            if edge.sequence:
                _vain(
                    notes,
                    f"A border of units can't be mitred: {edge.piece.name if edge.piece else ''} is repeated along "
                    "each side.",
                    _place(s, "mitred"),
                    "Its corners are pieces of their own: cornerstones with a unit or a fabric.",
                )
            if s.cornerstones is not None:
                _vain(notes, "Beside mitred, cornerstones say nothing.", _place(s, "cornerstones"), corner)
        if "extra" in s.words and "mitred" not in s.words:
            _vain(
                notes,
                "The strips of this border end with its corners, so extra says nothing.",
                _place(s, "extra"),
                "extra is what the strips of a mitred border have beyond its outer edge, to hold and to trim.",
            )
        for word in ("lengthwise", "one piece") if edge.sequence else ():
            if word in s.words:
                _vain(
                    notes,
                    f"A border of units is no strip, so {word} says nothing.",
                    _place(s, word),
                    f"{word} cuts a plain border along the cloth, without a seam in it.",
                )
        if "top first" in s.words and s.cornerstones is not None:
            _vain(
                notes,
                "With cornerstones the sides are sewn on first, so top first says nothing.",
                _place(s, "top first"),
                "The cornerstones are sewn to the ends of the top and bottom border.",
            )
    sash = next((s for s in lines if s.word == "sashing"), None)
    if sash is not None and "inner" in sash.words and quilt.rows:
        _inner(sash, quilt, notes)


def _inner(sash: Finish, quilt: Quilt, notes: Notebook) -> None:
    """Inner sashing where nothing lies between blocks."""
    across = quilt.across if quilt.across and not quilt.layout else max(len(r.pieces) for r in quilt.rows)
    down = quilt.down if quilt.down and not quilt.layout else len(quilt.rows)
    if across == down == 1:
        _vain(
            notes,
            "With one block there is nothing between blocks for inner sashing.",
            _place(sash, "inner"),
            "Without inner, the sashing goes round the block.",
            advice=True,
        )
    elif sash.cornerstones is not None and 1 in (across, down):
        _vain(
            notes,
            "With blocks in one line the strips of inner sashing do not meet, so cornerstones say nothing.",
            _place(sash, "cornerstones"),
            advice=True,
        )


def _marks(quilt: Quilt, notes: Notebook) -> None:
    """Marks between blocks that are not sewn to each other."""
    if quilt.on_point:
        why = "Blocks on point that stand in one line under tile touch at their corners only; no seam joins them."
    elif quilt.sashing is not None:
        under = quilt.called.split()[-1]
        why = f"With sashing no two blocks are sewn together; press under {under} says how its seams are pressed."
    else:
        return
    marks: list[Mark | None] = [*(m for row in quilt.rows for m in row.marks), *quilt.row_marks]
    for m in marks:
        if m is not None and m.mark in ("<", ">", "<>"):
            _vain(notes, "This mark presses nothing.", m.span, why)


def _uncut(quilt: Quilt, notes: Notebook) -> None:
    """Pieces that are to be cut from a strip unit where units are joined."""
    edges = (*quilt.borders, *((quilt.sashing,) if quilt.sashing is not None else ()))
    pieces = [p for row in quilt.rows for p in row.pieces]
    pieces += [p for e in edges for p in (*e.sequence, *((e.corner,) if e.corner is not None else ()))]
    for piece in pieces:
        problem = not_cut_here(piece, quilt.called)
        if problem is not None:
            notes.add(problem)


def _unlaid(quilt: Quilt, notes: Notebook) -> None:
    """Rows and pieces of a tile that the counts leave no place for."""
    if not quilt.rows:
        return
    on_point = quilt.setting is not None and "on point" in quilt.setting.words
    across = quilt.across or max(len(row.pieces) for row in quilt.rows)
    down = quilt.down or len(quilt.rows)
    laid = 2 * down - 1 if on_point else down
    for n, row in enumerate(quilt.rows):
        room = across
        if on_point:  # a row of the tile that falls on full rows somewhere is laid as far as these go
            rows = range(n, laid, len(quilt.rows))
            room = max((across - k % 2 for k in rows), default=0)
        if n >= laid:
            _vain(
                notes,
                "This row of the tile is never laid.",
                row.span,
                _counts(quilt.called, across, down, on_point),
                advice=True,
            )
        elif len(row.pieces) > room:
            over = row.pieces[room].span.to(row.pieces[-1].span)
            _vain(
                notes,
                "This part of the tile is never laid.",
                over,
                _counts(quilt.called, across, down, on_point),
                advice=True,
            )


def _counts(called: str, across: int, down: int, on_point: bool) -> str:
    if on_point:
        return (
            f"{begun(called)} is {across} blocks across and {down} down; the rows of the tile go by turns to the "
            f"rows of {across} and to the rows of {across - 1} between them."
        )
    return f"{begun(called)} is {across} blocks across and {down} down."
