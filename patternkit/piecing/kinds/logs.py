"""The logs of a log cabin as written: fabric, width and side of each, in the order in which they are sewn."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import msgspec

from patternkit.model.pattern import Component, Unit
from patternkit.piecing.asking import width_on
from patternkit.piecing.kinds.slices_points import SIDES
from patternkit.problems import Label, Problem
from patternkit.source import NOWHERE, Span
from patternkit.syntax.statements import Binary, Call, Num, Option, PieceUse, Ref, SizePair

MOST_LOGS = 200
CLOCKWISE = {side: SIDES[(i + 1) % 4] for i, side in enumerate(SIDES)}
OPPOSITE = {side: SIDES[(i + 2) % 4] for i, side in enumerate(SIDES)}


class Log(msgspec.Struct, frozen=True):
    """One log: fabric key, its own width (an expression, `cut` when it is a raw width) or None, and its side; the raw
    `length` that the writer claims, an expression too. Where a `unit` is a log, as it lies, the fabric is none."""

    fabric: str
    side: str
    span: Span
    width: object | None = None
    cut: bool = False
    length: object | None = None
    unit: Component | None = None


class Logs(msgspec.Struct, frozen=True):
    """All logs of a unit in sewing order, the usual width (None when it is to be worked out), and what is wrong."""

    logs: tuple[Log, ...]
    usual: object | None
    usual_cut: bool
    span: Span
    direction: str
    problems: tuple[Problem, ...]


class _Written(NamedTuple):
    """A log as it stands on a line: where a size stands behind ``cut``, its length is a claim."""

    fabric: str
    width: object | None
    raw: bool
    span: Span
    length: object | None = None
    unit: Component | None = None


class _Wrong(Exception):
    def __init__(self, text: str, span: Span, *causes: str) -> None:
        super().__init__(text)
        self.text, self.span, self.causes = text, span, causes


def read_logs(unit: Unit, paired: bool) -> Logs:
    """Read the options of a log cabin (`paired` for courthouse steps)."""
    listed: list[_Written] = []
    rounds: list[list[_Written]] = []
    usual, cut, span, start, direction = None, False, NOWHERE, "left" if paired else "top", "clockwise"
    number, problems = None, list(_again(unit))
    for o in unit.options:
        try:
            if o.word == "log" or (o.word == "logs" and _one_length(o)):
                usual, cut, span = *_width(o), o.span
            elif o.word == "logs":
                listed += [_log(unit, clause, o) for clause in o.clauses or ((),)]
            elif o.word == "round":
                rounds.append(_round([_log(unit, clause, o) for clause in o.clauses], o))
            elif o.word == "rounds":
                number = _count(o)
            elif o.word == "start":
                start = _side(o)
                if len(o.clauses) == 2 and not paired:  # "start top, clockwise"
                    direction = _direction(o)
            elif o.word in ("clockwise", "counterclockwise") and not paired:
                direction = o.word
        except _Wrong as wrong:
            problems.append(
                Problem(
                    "not-understood",
                    f"In {unit.role} {unit.key}, {wrong.text}.",
                    wrong.span,
                    causes=wrong.causes,
                )
            )
    problems += _unused(unit, len(rounds), listed, number, usual)
    if rounds:
        listed += [log for n in range(number or len(rounds)) for log in rounds[n % len(rounds)]]
    elif number is not None and listed:
        listed = listed * number
    if not listed and not problems:
        problems.append(
            Problem(
                "wrong-pieces",
                f"{unit.role.capitalize()} {unit.key} has no logs.",
                unit.kind_span,
                causes=("Logs are written round glow, glow, night, night, or logs night, glow, ... one by one.",),
            )
        )
    if len(listed) > MOST_LOGS:
        problems.append(
            Problem(
                "too-large",
                f"{unit.role.capitalize()} {unit.key} has more than {MOST_LOGS} logs.",
                unit.kind_span,
            )
        )
    sides = _sides(min(len(listed), MOST_LOGS), start, direction, paired)
    logs = tuple(
        Log(one.fabric, side, one.span, one.width, one.raw, one.length, one.unit)
        for one, side in zip(listed, sides, strict=False)
    )
    return Logs(logs, usual, cut, span, direction, tuple(problems))


def _again(unit: Unit) -> Iterator[Problem]:
    """Lines that hold for all logs, given a second time."""
    first: dict[str, Span] = {}
    for o in unit.options:
        word = "log" if o.word == "logs" and _one_length(o) else o.word
        word = "clockwise" if word == "counterclockwise" else word
        if word not in ("log", "rounds", "start", "clockwise"):
            continue
        if word in first:
            stated = "which way round the logs go" if word == "clockwise" else word
            yield Problem(
                "named-twice",
                f"{unit.role.capitalize()} {unit.key} says {stated} twice.",
                o.span,
                labels=(Label(first[word], "it is first said here"),),
            )
        first.setdefault(word, o.span)


def _unused(unit: Unit, rounds: int, listed: list[_Written], number: int | None, usual: object) -> Iterator[Problem]:
    """Lines that would have no part in the unit: rounds beyond their number, a width that no log takes."""
    where = f"{unit.role} {unit.key}"
    last = [o for o in unit.options if o.word == "round"]
    if number is not None and number < rounds:
        yield Problem(
            "out-of-place",
            f"In {where}, {rounds} rounds are described and rounds says {number}: this one is never sewn.",
            last[number].span,
        )
    if rounds and listed:
        yield Problem(
            "out-of-place",
            f"In {where}, logs are said one by one and in rounds.",
            last[0].span,
            causes=("Either logs lists all of them in order, or round and rounds say how they go round.",),
        )
    own = [] if rounds else listed
    if usual is not None and own and all(width is not None for width in (one.width for one in own)):
        at = next(o.span for o in unit.options if o.word == "log" or (o.word == "logs" and _one_length(o)))
        yield Problem(
            "out-of-place",
            f"In {where}, every log has a width of its own, so log says nothing.",
            at,
        )


def _sides(n: int, start: str, direction: str, paired: bool) -> list[str]:
    """The side of each log, in order."""
    if paired:
        other = CLOCKWISE[start]
        around = [start, OPPOSITE[start], other, OPPOSITE[other]]
    else:
        at = SIDES.index(start)
        around = [SIDES[(at + (i if direction == "clockwise" else -i)) % 4] for i in range(4)]
    return [around[i % 4] for i in range(n)]


def _one_length(o: Option) -> bool:
    """Whether a line holds one number and nothing else: ``logs 1 1/2``."""
    return len(o.clauses) == 1 and len(o.clauses[0]) == 1 and isinstance(o.clauses[0][0], Num)


def _direction(o: Option) -> str:
    """The way round that stands behind the first side."""
    word = o.clauses[1][0] if len(o.clauses[1]) == 1 else None
    name = word.name if isinstance(word, Ref) else ""
    name = {"anticlockwise": "counterclockwise", "counter-clockwise": "counterclockwise"}.get(name, name)
    if name in ("clockwise", "counterclockwise"):
        return name
    raise _Wrong("behind the first side stands clockwise or counterclockwise", o.span)


def _width(o: Option) -> tuple[object, bool]:
    found = width_on(o)
    if found is not None:
        return found
    raise _Wrong("log is followed by one width", o.span, "It is written log 1, or log cut 1 1/2 for the raw width.")


def _log(unit: Unit, clause: tuple[object, ...], o: Option) -> _Written:
    """``night``, ``night 1 1/2``, ``night cut 2`` or ``night cut 2 x 6 1/2``."""
    head, rest = (clause[0] if clause else None), list(clause[1:])
    if not isinstance(head, (Ref, PieceUse)):
        raise _Wrong(
            f"the line {o.word} lists fabrics",
            o.span,
            "The width of all logs is written log 1 1/2; a log's own width stands behind its fabric.",
        )
    piece = unit.named.get(head.span)
    if piece is None:
        raise _Wrong(f"{head.name} is not a fabric", head.span)
    raw = bool(rest) and isinstance(rest[0], Ref) and rest[0].name == "cut"
    rest = rest[raw:]
    if piece.unit:
        return _unit_log(piece, head.span, bool(rest) or raw, o)
    if not rest and not raw:
        return _Written(piece.fabric, None, False, head.span)
    if len(rest) == 1 and isinstance(rest[0], (Num, Binary, Call, Ref)):
        return _Written(piece.fabric, rest[0], raw, head.span)
    if len(rest) == 1 and raw and isinstance(rest[0], SizePair) and o.word == "logs":
        return _Written(piece.fabric, rest[0].width, raw, head.span, rest[0].height)
    why = ("A log's length is claimed where logs lists them one by one: logs night cut 1 1/2 x 2 1/2.",)
    raise _Wrong(f"behind {head.name} stands one width", head.span, *why)


def _unit_log(piece: Component, span: Span, sized: bool, o: Option) -> _Written:
    """A unit as a log: it has its own size, and one of logs that are listed one by one."""
    if piece.laid is not None:
        why = "A log is a rectangle: across all strips it is a segment, a unit of strips with the size of the log."
        raise _Wrong(f"no log is cut from {piece.name} by laid", span, why)
    if o.word != "logs":
        why = "The logs of a round are not equally long, so a unit fits one of them: logs night, glow, bars, stone."
        raise _Wrong(f"{piece.name} is a unit, and stands for one log of those that logs lists", span, why)
    if sized:
        raise _Wrong(f"{piece.name} is a unit, and has a size of its own", span, "It says how wide its log is.")
    return _Written("", None, False, span, unit=piece)


def _round(logs: list[_Written], o: Option) -> list[_Written]:
    """Four logs from one, two or four fabrics: two stand for the first half and the second half of the round."""
    if len(logs) == 1:
        return logs * 4
    if len(logs) == 2:
        return [logs[0], logs[0], logs[1], logs[1]]
    if len(logs) == 4:
        return logs
    raise _Wrong(
        f"a round has four logs, and {len(logs)} fabrics stand here",
        o.span,
        "One fabric stands for all four, two for the first two logs and the last two.",
    )


def _count(o: Option) -> int:
    words = [word for clause in o.clauses for word in clause]
    if (
        len(words) == 1
        and isinstance(words[0], Num)
        and words[0].unit is None
        and words[0].value.denominator == 1
        and 1 <= words[0].value <= MOST_LOGS
    ):
        return int(words[0].value)
    raise _Wrong(f"{o.word} is followed by a whole number", o.span)


def _side(o: Option) -> str:
    words = [word for clause in o.clauses[:1] for word in clause]
    if len(words) == 1 and len(o.clauses) < 3 and isinstance(words[0], Ref) and words[0].name in SIDES:
        return words[0].name
    raise _Wrong("start is followed by top, right, bottom or left", o.span)
