"""Pieces in a row: what is said of one piece, and the marks between them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, cast

from lark import Token

from patternkit.problems import Problem, Repair
from patternkit.source import Span
from patternkit.syntax import statements as st
from patternkit.syntax.lexer import Trouble, trouble
from patternkit.syntax.meant import MEANT
from patternkit.syntax.numbers import NumberTrouble, read_number
from patternkit.syntax.suggest import nearest

_SIDES = ("wide", "high", "tall")
_BARE = ("mirrored", "laid")
"""What is said of a piece by words alone, which the parser has no place of."""


def degrees(token: Token, span: Span) -> int:
    """What stands behind ``turned``; raises Trouble for what is no whole number of degrees."""
    try:
        value, unit = read_number(token)
    except NumberTrouble as error:
        raise trouble(error.code, str(error), span) from None
    if unit not in (None, "°") or value.denominator != 1:
        raise trouble(
            "odd-turn",
            "A turn is a whole number of degrees, clockwise.",
            span,
            causes=("Most often `turned 90`, `turned 180` or `turned 270`.",),
        )
    return int(value) % 360


def strips_on(token: Token, span: Span) -> int:
    """By how many strips a segment is moved on; raises Trouble for anything but a whole number."""
    try:
        value, unit = read_number(token)
    except NumberTrouble as error:
        raise trouble(error.code, str(error), span) from None
    if unit is not None or value.denominator != 1 or value < 1:
        raise trouble(
            "not-understood",
            "A segment is shifted by a whole number of strips.",
            span,
            causes=("`step shifted 1` begins one strip later, and its first strip comes last.",),
        )
    return int(value)


def laid(at: Sequence[Any], span: Span) -> st.Laid:
    """``laid``, or ``laid at`` a point; raises Trouble where that is one length alone."""
    if not at:
        return st.Laid(span)
    if type(at[-1]) is not st.SizePair:
        raise trouble(
            "not-understood",
            "Behind `laid at` stands a point: how far across and how far down, as in `laid at 0 x 1`.",
            at[-1].span,
        )
    return st.Laid(span.to(at[-1].span), at[-1].width, at[-1].height)


def _one_side(name: str, word: st.Ref, gap: Span) -> Trouble:
    """The trouble with ``cream 2 high``, by which one side of a piece is meant."""
    return trouble(
        "unknown-word",
        f"`{word.name}` has no meaning here: behind a piece stands its width, or its width, x and its height.",
        word.span,
        *([Repair("take the word out", gap, "")] if word.name == "wide" else []),
        causes=(
            f"`{name} 12 x 2` is 12 wide and 2 high. In a `column` one length is the height.",
            "A width that follows from the other rows need not be said: the height is said of the whole unit then.",
        ),
    )


def modified(use: st.PieceUse, mods: Sequence[Any]) -> st.PieceUse:
    """A piece with its turn, mirroring and size; raises Trouble when one of them is said twice."""
    fields: dict[str, Any] = {}
    end = use.span.end
    for mod in mods:
        word, value, span = mod if type(mod) is tuple else ("size", mod, mod.span)
        key = "size" if word == "cut" else word
        if word == "size" and type(mod) is st.Ref and mod.name in ("and", "then"):
            gap = Span(span.file, end, mod.span.end)
            raise trouble(
                "unknown-word",
                f"`{mod.name}` has no meaning here: a comma or a seam mark stands between two pieces.",
                mod.span,
                Repair("put a comma there", gap, ","),
                Repair("put a `|` there", gap, " |"),
            )
        if word == "size" and type(mod) is st.Ref and mod.name in _SIDES and "size" in fields:
            raise _one_side(use.name, mod, Span(span.file, end, mod.span.end))
        if word == "size" and type(mod) is st.Ref and mod.name == "by" and "size" in fields:
            message = "Between a width and a height stands `x`."
            raise trouble("unknown-word", message, mod.span, Repair("write `x`", mod.span, "x", True))
        if word == "size" and type(mod) is st.Ref and (guess := _meant(mod.name)):
            raise trouble(
                "unknown-word",
                f"`{mod.name}` has no meaning here. Did you mean `{guess}`?",
                mod.span,
                Repair(f"write `{guess}`", mod.span, guess, True),
            )
        if key in fields:
            if key == "size" and st.Ref in (type(mod), type(fields[key])):
                raise missing_mark(use.span if type(mod) is not st.Ref else fields[key].span, span)
            if key == "size" and (plus := _plus(fields[key])) is not None:
                raise not_added(plus)
            what = {"size": "a size", "turned": "a turn"}.get(key, f"`{key}`")
            raise trouble("said-twice", f"`{use.name}` is given {what} twice.", span if key not in _BARE else use.span)
        fields[key] = value
        if word == "cut":
            fields["cut"] = True
        end = max(end, span.end) if key not in _BARE else end
    if type(fields.get("turned")) is st.Ref:
        fields["turn"] = fields.pop("turned")
    size = fields.pop("size", None)
    width, height = (size.width, size.height) if type(size) is st.SizePair else (size, None)
    return st.PieceUse(
        use.name, use.name_span, Span(use.span.file, use.span.start, end), use.args, width, height, **fields
    )


def join(
    parts: Sequence[Any], at: Callable[[Token], Span], in_group: bool
) -> tuple[tuple[st.PieceUse | st.RepeatedGroup, ...], tuple[st.Mark, ...]]:
    """Pieces and the marks between them.

    Two pieces need a mark, unless the first is a group that ends with one: that mark is used again. A group may end
    with a mark of its own. Raises Trouble for a mark too many or too few.
    """
    items: list[st.PieceUse | st.RepeatedGroup] = []
    marks: list[st.Mark] = []
    for part in parts:
        if type(part) is Token:
            span = at(part)
            if len(marks) == len(items) or (items and closing(items[-1])):
                raise trouble(
                    "mark-twice",
                    "There are two seam marks between the same two pieces.",
                    span,
                    Repair("take this mark out", span, ""),
                )
            marks.append(st.Mark(cast("st.MarkText", str(part)), span))
            continue
        if len(items) > len(marks):
            mark = closing(items[-1])
            if mark is None:
                raise missing_mark(items[-1].span, part.span)
            marks.append(mark)
        items.append(part)
    if len(marks) >= len(items) and not in_group:
        raise edge_mark(marks[-1].span)
    return tuple(items), tuple(marks)


def closing(item: st.PieceUse | st.RepeatedGroup) -> st.Mark | None:
    """The mark a group ends with, if it does."""
    if type(item) is st.RepeatedGroup and len(item.marks) == len(item.items):
        return item.marks[-1]
    return None


def _meant(word: str) -> str | None:
    """What a word behind a piece stands for when it is a slip or another word for turning or mirroring."""
    meant = MEANT.get(word)
    return meant if meant in ("turned", "mirrored") else nearest(word, ("turned", "mirrored"))


def _plus(size: Any) -> Span | None:
    """Between the two sides of a sum of a number and a name: ``3 + glow``, where ``glow`` may well be a piece."""
    side = size.height if type(size) is st.SizePair else size
    if type(side) is st.Binary and side.op == "+" and type(side.right) is st.Ref:
        return Span(side.span.file, side.left.span.end, side.right.span.start)
    return None


def missing_mark(left: Span, right: Span) -> Exception:
    """The problem of two pieces with nothing between them."""
    return trouble(
        "no-mark",
        "There is no seam mark between these two pieces.",
        left.to(right),
        Repair("put a `|` between them", Span(left.file, left.end, right.start), " | "),
    )


def not_added(span: Span) -> Exception:
    """The problem of pieces that are joined with a plus sign."""
    return Trouble(added(span))


def added(span: Span, sign: str = "+") -> Problem:
    """A plus sign, a dash or a stroke where a seam mark is meant."""
    return Problem(
        "no-mark",
        f"Pieces are not joined with `{sign}`: a seam mark stands between two of them.",
        span,
        repairs=(Repair("write `|` for it", span, " | "),),
    )


def edge_mark(span: Span) -> Exception:
    """The problem of a mark that has a piece on one side only."""
    return trouble(
        "mark-at-edge",
        "A seam mark stands between two pieces; on one side of this one there is nothing.",
        span,
        Repair("take this mark out", span, ""),
    )
