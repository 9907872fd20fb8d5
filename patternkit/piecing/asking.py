"""What the writer asks of a kind, read once: its method, its options, the cuts she chose; and what can't be meant.

Problems found here: `unknown-word` (a method or option that the kind does not have), `wrong-pieces` (too many or too
few pieces listed), `out-of-place` (a size or an option where it says nothing).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import msgspec

from patternkit.model.pattern import Component, Unit
from patternkit.model.pieces import lies_alike, not_cut_here
from patternkit.piecing.kinds.base import Equations, Kind
from patternkit.piecing.method import Method, meant
from patternkit.piecing.shapes import called, opening
from patternkit.problems import Problem, Repair
from patternkit.sizes.affine import Affine
from patternkit.source import NOWHERE, Span
from patternkit.syntax.meant import CUT_ACROSS
from patternkit.syntax.statements import Binary, Call, Num, Option, Ref
from patternkit.syntax.suggest import nearest
from patternkit.syntax.words import FIELD_KINDS, ROW_KINDS

OVERSIZE = "oversize"
ONE_LENGTH = ("corner", "extra", "float", "hole", "radius", "shoulder", "side", "stagger", "top")
"""Options with one length behind them."""
FREELY = ("float",)
"""Those whose length may follow from what else is said, where nothing stands behind them."""


class Choice(msgspec.Struct, frozen=True):
    """The method asked for, whether cut oversize and trimmed, and by how much."""

    method: Method
    oversize: bool = False
    value: Affine | None = None
    span: Span = NOWHERE


def pieces(unit: Unit) -> tuple[Component, ...]:
    """The pieces listed on the kind's line."""
    return unit.rows[0].pieces if unit.rows else ()


def method_words(kind: Kind) -> tuple[str, ...]:
    """What a writer may put behind ``method`` for a kind."""
    return (*(m.name for m in kind.methods), *((OVERSIZE,) if kind.oversize else ()))


def choice(kind: Kind, unit: Unit, default: Method | None = None) -> Choice | Problem:
    """The method of a unit, or the problem with what the writer wrote."""
    usual = default or kind.methods[0]
    always = unit.trimmed and kind.trimming
    if unit.method is None:
        return Choice(usual, always and not usual.exact)
    words = unit.method.words.split()
    over = OVERSIZE in words and kind.oversize
    stated = " ".join(w for w in words if not over or w != OVERSIZE)
    found = meant(kind.methods, stated) if stated else usual
    if found is None:
        problem = _unknown(
            unit,
            unit.method.span,
            f"{unit.kind} has no method called {unit.method.words}",
            unit.method.words,
            method_words(kind),
            "Its methods are",
            "" if unit.method.value is None else None,
            "method ",
        )
        on_paper = {"foundation", "paper"} & {*words}
        return msgspec.structs.replace(problem, causes=(*problem.causes, _ON_PAPER)) if on_paper else problem
    if over and found.exact:
        return Problem(
            "out-of-place",
            f"In {called(unit)}, oversize says nothing beside the method {found.name}.",
            unit.method.span,
            causes=("A template has the raw size of its piece; nothing is trimmed.",),
        )
    if unit.method_value is not None and not (over or found.takes_length):
        return Problem(
            "out-of-place",
            f"In {called(unit)}, a length stands behind the method {found.name}, which takes none.",
            unit.method.span,
            causes=(_lengths_state(kind, found),),
        )
    return Choice(found, over or (always and not found.exact), unit.method_value, unit.method.span)


_ON_PAPER = (
    "On paper are sewn `slices`, `log-cabin`, `courthouse-steps` and `strings`; any shape with straight seams is "
    "a unit of `slices`."
)


def _pieces(n: int) -> str:
    return "no pieces" if n == 0 else "one piece" if n == 1 else f"{n} pieces"


def _lengths_state(kind: Kind, method: Method) -> str:
    if kind.oversize:
        return f"A length belongs to oversize: method {method.name} oversize 1/4 cuts 1/4 more than needed, to trim."
    return "The sizes of this method follow from the unit's finished size."


def chosen(kind: Kind, unit: Unit, default: Method | None = None) -> Choice:
    """The method of a unit, the default where what the writer wrote has been reported."""
    found = choice(kind, unit, default)
    return Choice(default or kind.methods[0]) if isinstance(found, Problem) else found


def option(unit: Unit, word: str) -> Option | None:
    """The unit's first option of that word."""
    return next((o for o in unit.options if o.word == word), None)


def behind(unit: Unit, word: str) -> object | None:
    """The expression of the one length behind an option of `ONE_LENGTH`; None where the unit has none, or something
    else stands there, which `problems` tells."""
    stated = option(unit, word)
    found = width_on(stated) if stated is not None else None
    return found[0] if found is not None and not found[1] else None


def width_on(line: Option) -> tuple[object, bool] | None:
    """The one length on an option's line, and whether `cut` stands before it: ``log 1``, ``string cut 1 3/4``; None
    where something else stands there."""
    items = [item for clause in line.clauses for item in clause]
    raw = bool(items) and isinstance(items[0], Ref) and items[0].name == "cut"
    plain = len(items) == 1 + raw and isinstance(items[-1], (Num, Ref, Binary, Call))
    return (items[-1], raw) if plain else None


def one_length(unit: Unit, word: str, out: Equations) -> Affine | None:
    """The length behind an option, in inches; None without one, and after telling what is wrong with it."""
    expression, stated = behind(unit, word), option(unit, word)
    value = out.length(unit, expression) if expression is not None else None
    if value is None or stated is None or out.about(value) > 0:
        return value
    out.problem(Problem("too-small", f"In {called(unit)}, {word} has to be more than nothing.", stated.span))
    return None


def words_of(found: Option) -> list[str]:
    """The bare words of each clause of an option: ``at top left, bottom right`` gives ``top left``, ``bottom
    right``."""
    return [" ".join(a.name for a in clause if isinstance(a, Ref)) for clause in found.clauses]


def problems(
    kind: Kind, unit: Unit, default: Method | None = None, sizes: Iterable[str] = (), own_cut: bool = False
) -> list[Problem]:
    """Everything about a unit's lines that its kind can't mean, before any size is known.

    `sizes` names the in-place sizes that the kind understands: ``finished``, ``cut``; `own_cut` is True when a `cut`
    line of the unit has a meaning (all its pieces are cut alike, or it is one piece).
    """
    found: list[Problem] = []
    least, most = kind.pieces
    listed = pieces(unit)
    if not least <= len(listed) <= most:
        want = f"{least}" if least == most else f"{least} to {most}"
        found.append(
            Problem(
                "wrong-pieces",
                f"{opening(unit)} lists {_pieces(len(listed))}, and a {unit.kind} takes {want}.",
                unit.rows[0].span if unit.rows else unit.kind_span,
                causes=((f"It is written {kind.written}.",) if kind.written else ()),
            )
        )
    if kind.methods:
        method = choice(kind, unit, default)
        if isinstance(method, Problem):
            found.append(method)
        others = [msgspec.structs.replace(unit, method=other, method_value=None) for other in unit.other_methods]
        found += [p for other in others if isinstance(p := choice(kind, other, default), Problem)]
    elif unit.method is not None:
        found.append(
            Problem(
                "out-of-place",
                f"{opening(unit)} is a {unit.kind}, which is made in one way only; the method line says nothing.",
                unit.method.span,
            )
        )
    if unit.lines and not unit.piece:
        found.append(_cut_apart(unit))
    found += _options(kind, unit)
    found += _listed(kind, unit, listed)
    if not own_cut:
        found += [_which_cut(unit, claim.span, listed, "cut" in sizes) for claim in unit.claims if claim.word == "cut"]
    allowed = set(sizes)
    for piece in listed:
        if piece.width is not None and ("cut" if piece.cut else "finished") not in allowed:
            found.append(
                Problem(
                    "out-of-place",
                    f"In {called(unit)}, a size stands beside {piece.name}; the pieces of a "
                    f"{unit.kind} get their sizes from the finished size of the unit.",
                    piece.span,
                )
            )
    return found


def _listed(kind: Kind, unit: Unit, listed: tuple[Component, ...]) -> list[Problem]:
    """What is said of pieces that are listed and has no meaning there: a turn of plain cloth, a seam mark."""
    rows = unit.kind in (*ROW_KINDS, *FIELD_KINDS)
    every = [p for row in unit.rows for p in row.pieces] if rows else [*listed, *unit.named.values()]
    found = [p for piece in every if (p := lies_alike(piece, called(unit))) is not None]
    if kind.joins:
        found += [p for piece in every if (p := not_cut_here(piece, called(unit))) is not None]
    marks = [m for row in unit.rows for m in row.marks] if not rows and unit.kind != "strips" else []
    found += [
        Problem(
            "out-of-place",
            f"In {called(unit)}, the pieces of a {unit.kind} are only listed, and this mark presses nothing.",
            m.span,
            causes=("Between them stands a comma; press, on a line of its own, says how the seams are pressed.",),
            repairs=(Repair("write a comma for it", m.span, ",", safe=False),),
        )
        for m in marks
        if m.mark in ("<", ">", "<>")
    ]
    return found


def _which_cut(unit: Unit, span: Span, listed: tuple[Component, ...], in_place: bool) -> Problem:
    """A `cut` line where it doesn't say what is cut."""
    example = f"; a cut belongs beside its piece: {listed[0].name} cut 2 1/2" if in_place and listed else ""
    return Problem(
        "out-of-place",
        f"In {called(unit)}, the cut line does not say which piece is cut{example}.",
        span,
        causes=(
            f"{called(unit)} is sewn from several pieces; what it measures from raw edge to raw edge is said "
            "with measures.",
        ),
    )


def _cut_apart(unit: Unit) -> Problem:
    """A line that cuts a sewn unit apart, under another kind of unit."""
    return Problem(
        "not-cut-apart",
        f"In {called(unit)}, a line says where it is cut apart, and {unit.kind} says how it is sewn.",
        unit.lines[0].span,
        causes=(
            f"What is cut apart is a unit of its own: `cut-apart {unit.name}` under `unit pieces`, with this line "
            "below it. Its pieces are then `pieces(1)`, `pieces(2)` and so on.",
        ),
    )


def _options(kind: Kind, unit: Unit) -> list[Problem]:
    found: list[Problem] = []
    seen: dict[str, Option] = {}
    for o in unit.options:
        if o.word in CUT_ACROSS and unit.kind == "strips":
            found.append(
                Problem(
                    "unknown-word",
                    f"In {called(unit)}, how wide the segments are cut is said by cut.",
                    o.span,
                    causes=("`cut 2 1/2` is raw; `finished 2 high` says the same without its seams.",),
                    repairs=(Repair("write cut for it", o.word_span, "cut"),),
                )
            )
        elif o.word == "usable-width":
            found.append(
                Problem(
                    "unknown-word",
                    f"In {called(unit)}, the width of fabric says nothing.",
                    o.span,
                    causes=(
                        "Strips across the cloth are claimed by `cut 3 strips 2 1/2 night`, the strip units of a unit "
                        "of strips by `strip units 3`; how wide cloth is stands under the fabric: `usable width 42`.",
                    ),
                )
            )
        elif o.word not in kind.options:
            found.append(
                _unknown(
                    unit,
                    o.word_span,
                    f"{o.word} says nothing about a {unit.kind}",
                    o.word,
                    kind.options,
                    "What can be said is",
                    besides=("applique",),
                )
            )
        elif o.word in seen:
            found.append(Problem("named-twice", f"{opening(unit)} says {o.word} twice.", o.span))
        elif o.word in ONE_LENGTH and behind(unit, o.word) is None and (o.clauses or o.word not in FREELY):
            found.append(
                Problem(
                    "not-understood",
                    f"In {called(unit)}, behind {o.word} stands one length.",
                    o.span,
                    causes=(f"It is written {kind.options[o.word]}.",),
                )
            )
        elif kind.options[o.word] == o.word and o.clauses:
            found.append(Problem("not-understood", f"In {called(unit)}, {o.word} stands alone on its line.", o.span))
        seen[o.word] = o
    return found


def _unknown(
    unit: Unit,
    span: Span,
    what: str,
    word: str,
    known: Iterable[str],
    lead: str,
    after: str | None = "",
    before: str = "",
    besides: Sequence[str] = (),
) -> Problem:
    """A word that the kind does not know, with the nearest of those that it knows and of what may be said `besides`.

    The repair puts that between `before` and `after` at the span; where `after` is None it only tells of it.
    """
    names = list(known)
    close = nearest(word, [*names, *besides])
    repairs: tuple[Repair, ...] = ()
    if close:
        text = None if after is None else before + close + after
        repairs = (Repair(f"write {close} instead of {word}", span if text else None, text, safe=text is not None),)
    causes = (f"{lead}: {', '.join(names)}.",) if names else (f"A {unit.kind} takes no lines of its own.",)
    message = f"In {called(unit)}, {what}." + (f" Did you mean {close}?" if close else "")
    return Problem("unknown-word", message, span, causes=causes, repairs=repairs)


def where(names: Mapping[str, str], found: Option, unit: Unit) -> list[tuple[str, Span]] | Problem:
    """The places an option names, by `names` (written form to place), each with its span; or the problem."""
    places: list[tuple[str, Span]] = []
    if not found.clauses:
        listed = f"What can stand behind {found.word} is: {', '.join(names)}."
        message = f"In {called(unit)}, nothing stands behind {found.word}."
        return Problem("not-understood", message, found.span, causes=(listed,))
    for text, clause in zip(words_of(found), found.clauses, strict=True):
        span = clause[0].span.to(clause[-1].span) if clause else found.span
        if text not in names:
            return _unknown(
                unit,
                span,
                f"{text or 'this'} can not stand behind {found.word}",
                text,
                names,
                f"What can stand behind {found.word} is",
            )
        places.append((names[text], span))
    return places
