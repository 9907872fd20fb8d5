"""The lines of a `slices` unit as written: each slice with its points, its piece and which side comes off."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from patternkit.lengths import Length
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.asking import behind
from patternkit.piecing.kinds.slices_points import POINTS, SIDES, Spot, Unread, Words, read_spot
from patternkit.problems import Problem, Repair
from patternkit.source import Span
from patternkit.syntax.statements import Option, PieceUse, Ref

SLICE = "slice from 1/3 of top to 2/3 of bottom, night left"
ROUND = (2, 3, 4, 6, 8, 12)
"""How often a line may go round the middle: the parts of a full turn whose sine and cosine are exact."""


class StripLay(msgspec.Struct, frozen=True):
    """Where the top left corner of a strip unit lies, as it is turned."""

    spot: Spot


class Slice(msgspec.Struct, frozen=True):
    """One line: its points in order, the piece that comes off, and which side that is.

    `of` is 0 for the piece that is left so far, or the number of an earlier slice whose piece is divided again; `side`
    is a word such as ``left``, or "" for the smaller part; `set_in` says that a bent line may be sewn as a set-in seam.
    `about` is the point at which the compass stands that draws an arc. `turn` is by how many degrees the line is turned
    clockwise about the middle of the unit, where several are written as one.
    """

    number: int
    span: Span
    spots: tuple[Spot, ...]
    piece: Component
    of: int = 0
    side: str = ""
    lay: StripLay | None = None
    set_in: bool = False
    about: Spot | None = None
    turn: int = 0


class Reading(msgspec.Struct, frozen=True):
    """Everything a unit's options say, and what could not be read."""

    slices: tuple[Slice, ...]
    outline: tuple[Spot, ...]
    base_lay: StripLay | None
    extra: object | None
    keep_points: bool
    problems: tuple[Problem, ...]


def read(unit: Unit) -> Reading:
    """Read the options of a `slices` unit. Nothing is looked up that needs a size."""
    slices: list[Slice] = []
    outline: tuple[Spot, ...] = ()
    lay, extra, keep, problems = None, None, False, []
    number = 0
    first: dict[str, Option] = {}
    for o in unit.options:
        if o.word in first and o.word != "slice":
            problems.append(
                Problem("named-twice", f"{unit.role.capitalize()} {unit.key} says {o.word} a second time.", o.span)
            )
        first.setdefault(o.word, o)
        try:
            if o.word == "slice":
                number += 1
                slices += _slices(unit, o, number)
                number = slices[-1].number
            elif o.word == "outline":
                outline = tuple(_only(Words(clause, o.span)) for clause in o.clauses)
                if len(outline) < 3:
                    raise Unread("an outline has three corners or more", o.span)
            elif o.word == "lay":
                lay = StripLay(_only(Words(_flat(o), o.span)))
            elif o.word == "extra":
                extra = behind(unit, "extra")
            elif o.word == "dog-ears":
                keep = _word(o) == "kept"
                if _word(o) not in ("kept", "trimmed"):
                    raise Unread("dog-ears are kept or trimmed", o.span)
        except Unread as wrong:
            problems.append(_problem(unit, o, number, wrong))
    return Reading(tuple(slices), outline, lay, extra, keep, tuple(problems))


def _flat(o: Option) -> list[object]:
    return [word for clause in o.clauses for word in clause]


def _word(o: Option) -> str:
    words = _flat(o)
    return words[0].name if len(words) == 1 and isinstance(words[0], Ref) else ""


def _only(words: Words) -> Spot:
    spot = read_spot(words)
    if words.peek() is not None:
        raise Unread("more stands here than one point", words.span)
    return spot


def _slices(unit: Unit, o: Option, number: int) -> Iterator[Slice]:
    """One ``slice`` line: [N again] from POINT [through POINT]... to POINT [about POINT], PIECE [SIDE] [lay POINT] [,
    set in], or all those that are written as one: ..., PIECE [SIDE] [, PIECE]..., N times round."""
    if not o.clauses:
        raise Unread("it says nothing", o.span)
    words, of = Words(o.clauses[0], o.span), 0
    if words.word(1) == "again":
        of = words.whole_number("slice")
        words.next()
        if of >= number:
            raise Unread(f"there is no slice {of} before this one", o.span)
    if not words.take("from"):
        raise Unread("it starts with from and a point", words.span)
    spots = [read_spot(words)]
    while words.take("through"):
        spots.append(read_spot(words))
    if not words.take("to"):
        raise Unread("its second point is missing, after the word to", words.span)
    spots.append(read_spot(words))
    about = _about(words, len(spots) > 2)
    if words.peek() is not None:
        raise Unread("a comma stands before the piece that comes off", words.span)
    if len(o.clauses) < 2:
        raise Unread("the piece that comes off is missing, after a comma", o.span)
    clauses, times = _times(o)
    taken = [_piece(unit, clauses[0][0])]
    rest = list(clauses[0][1:])
    for clause in clauses[1:]:
        if times and getattr(clause[0], "span", None) in unit.named:
            taken.append(_piece(unit, clause[0]))
            rest += clause[1:]
        else:
            rest += clause
    side, lay, set_in = _rest(Words(rest, o.span))
    if times and (lay is not None or set_in):
        raise Unread("what goes round has neither a lay nor set-in seams", o.span)
    if len(taken) > max(times, 1):
        raise Unread(f"{len(taken)} pieces are named for {times} lines", o.span)
    for k in range(max(times, 1)):
        piece, turn = taken[k % len(taken)], 360 // times * k if times else 0
        yield Slice(number + k, o.span, tuple(spots), piece, of, side, lay, set_in, about, turn)


def _about(words: Words, bent: bool) -> Spot | None:
    """The point at which the compass stands."""
    place = words.span
    if not words.take("about"):
        return None
    if bent:
        raise Unread("an arc runs about one point, and through no other", place)
    return read_spot(words)


def _times(o: Option) -> tuple[Sequence[Sequence[object]], int]:
    """The clauses behind a line's points without ``4 times round``, and how often that is; 0 where it is not said."""
    clauses = o.clauses[1:]
    last = clauses[-1]
    if not any(isinstance(word, Ref) and word.name in ("times", "round") for word in last):
        return clauses, 0
    words = Words(last, o.span)
    place, times = words.span, words.whole_number("a comma")
    if not (words.take("times") and words.take("round")) or words.peek() is not None:
        raise Unread("how often it goes round is written 4 times round, behind the last comma", words.span)
    if times not in ROUND:
        listed = ", ".join(map(str, ROUND[:-1]))
        near = sorted(ROUND, key=lambda n: (abs(n - times), n))[:2]
        raise Unread(
            f"a line goes {listed} or {ROUND[-1]} times round, by angles that are exact", place, [str(n) for n in near]
        )
    if len(clauses) < 2:
        raise Unread("the piece that comes off is missing, before how often the line goes round", place)
    return clauses[:-1], times


def _piece(unit: Unit, word: object) -> Component:
    span = getattr(word, "span", unit.span)
    if not isinstance(word, (Ref, PieceUse)):
        raise Unread("the piece that comes off is a fabric or a strip unit", span)
    if word.span not in unit.named:
        raise Unread(f"{word.name} is not a fabric or a unit", span)
    return unit.named[word.span]


def _rest(words: Words) -> tuple[str, StripLay | None, bool]:
    side, lay, set_in = "", None, False
    while words.peek() is not None:
        word = words.take(*SIDES, "lay", "set-in", "set")
        if word in SIDES:
            if side:
                raise Unread("one side comes off, and two are named", words.span)
            side = word
        elif word == "lay":
            lay = StripLay(read_spot(words))
        elif word == "set-in" or (word == "set" and words.take("in")):
            set_in = True
        else:
            raise Unread(f"{words.word() or 'this'} says nothing of the piece", words.span)
    return side, lay, set_in


def _problem(unit: Unit, o: Option, number: int, wrong: Unread) -> Problem:
    what = f"slice {number}" if o.word == "slice" else f"the line {o.word}"
    example = {"slice": SLICE, "outline": "outline middle of top, bottom right, bottom left"}.get(o.word, "")
    causes = [f"Points are written {POINTS}."]
    if example:
        causes.append(f"It is written like this: {example}.")
    return Problem(
        "not-understood",
        f"In {unit.role} {unit.key}, {what} can't be read: {wrong.text}.",
        wrong.span,
        causes=tuple(causes),
        repairs=tuple(Repair(f"write {word}", wrong.span, word) for word in wrong.instead),
    )


def in_vain(unit: Unit, reading: Reading, paper: bool) -> Iterator[Problem]:
    """What these lines say and the method, or the piece they speak of, makes nothing of."""
    where = f"{unit.role} {unit.key}"
    spans = {o.word: o.span for o in unit.options}
    base = unit.rows[0].pieces[0] if unit.rows and unit.rows[0].pieces else None
    if "extra" in spans and not paper:
        yield Problem(
            "out-of-place",
            f"In {where}, extra says nothing: pieces cut by template are not larger than they have to be.",
            spans["extra"],
            causes=("It is what pieces for paper piecing have more than they need: method foundation.",),
        )
    if "dog-ears" in spans and paper:
        yield Problem(
            "out-of-place",
            f"In {where}, dog-ears says nothing: on a foundation pieces are trimmed after they are sewn.",
            spans["dog-ears"],
            causes=("It speaks of the points of templates: method templates.",),
        )
    if "dog-ears" in spans and not paper and any(s.about is not None for s in reading.slices):
        yield Problem(
            "out-of-place",
            f"In {where}, dog-ears says nothing: beside arcs every tip sharper than a right angle is trimmed.",
            spans["dog-ears"],
            causes=("It speaks of templates whose edges are all straight.",),
        )
    for lay, piece, span in [
        (reading.base_lay, base, spans.get("lay")),
        *((s.lay, s.piece, s.span) for s in reading.slices),
    ]:
        if lay is not None and piece is not None and piece.fabric and span is not None:
            yield Problem(
                "out-of-place",
                f"In {where}, {piece.name} is plain cloth, so lay says nothing.",
                span,
                causes=("It says how a strip unit lies under the piece that is cut from it.",),
            )
    for s in reading.slices:
        if s.set_in and len(s.spots) == 2:
            yield Problem(
                "out-of-place",
                f"In {where}, slice {s.number} is straight, so set in says nothing.",
                s.span,
                causes=("A line with a corner, through a third point, is set in.",),
            )


def extra_length(extra: Length | None, usual: Length) -> Length:
    """What pieces for paper piecing are cut larger on every side."""
    return usual if extra is None else extra
