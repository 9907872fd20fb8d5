"""Counted cuts: ``cut 2 strips 9 1/4, 31 of 2 x 9 1/4``, ``cut 6 squares 7 1/4 night, twice``, ``... shore(2)``."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import msgspec
from lark import Token

from patternkit.problems import Problem, Repair
from patternkit.source import Span
from patternkit.syntax import statements as st
from patternkit.syntax.lexer import Trouble, trouble
from patternkit.syntax.suggest import nearest

_ALSO = 'The fabric stands behind the size, and in quotes what is made of it: `also 2 of 4 x 20 night "handles"`.'
SIDES = ("left", "right", "top", "bottom")
"""The sides of a sewn unit from which it is cut apart."""


def counted_cut(c: Sequence[Any], at: Callable[[Token], Span]) -> st.CountedCut:
    """One cut of a line; raises Trouble for a square with two sides."""
    count, noun, size = c[:3]
    name = next((part for part in c[3:] if type(part) is Token and part.type == "NAME"), None)
    width, height = (size.width, size.height) if type(size) is st.SizePair else (size, None)
    if noun == "squares" and height is not None and _unlike(width, height):
        raise _worded(
            "not-understood",
            "A square has one length, and two stand here.",
            size.span,
            causes=("Pieces of other shapes are written `cut 31 of 2 x 9 1/4`.",),
        )
    args: Sequence[Any] = next((part[1] for part in c[3:] if type(part) is tuple), ())
    fabric = None
    if name is not None:
        end = args[-1].span.end + 1 if args else at(name).end
        fabric = st.PieceUse(str(name), at(name), Span(at(name).file, at(name).start, end), tuple(args))
    last = fabric.span if fabric is not None else size.span
    return st.CountedCut(count, noun, width, height, count.span.to(last), fabric=fabric)


def _worded(code: str, message: str, span: Span, *repairs: Repair, causes: tuple[str, ...] = ()) -> Trouble:
    """The mistake of a line that is worded as it should be."""
    return Trouble(Problem(code, message, span, causes=causes, repairs=repairs), worded=True)


def _unlike(width: st.Expr, height: st.Expr) -> bool:
    """Whether two sides stand as numbers that differ."""
    return isinstance(width, st.Num) and isinstance(height, st.Num) and width.value != height.value


def cuts_claim(parts: Sequence[Any], span: Span) -> st.CutsClaim:
    """A line of counted cuts with what is said behind them; raises Trouble for what can't be."""
    cuts: list[st.CountedCut] = []
    each = False
    for part in parts:
        if isinstance(part, st.CountedCut):
            cuts.append(part)
        elif part[0] == "each":
            each = True
        elif cuts[-1].noun == "strips" or cuts[-1].corners:
            why = "Strips are not cut corner to corner; the pieces cut from them are."
            why = "This is cut corner to corner already." if cuts[-1].corners else why
            raise _worded("not-understood", why, cuts[-1].span)
        else:
            cuts[-1] = msgspec.structs.replace(cuts[-1], corners=part[0])
    for cut in cuts:
        if cut.noun == "strips" and cut.height is not None:
            raise _worded(
                "not-understood",
                "A strip is as long as the cloth is wide: it is written with the width it is cut.",
                cut.span,
                Repair("leave the second length out", cut.width.span.to(cut.height.span), _text(cut.width)),
                causes=("Shorter ones are pieces: `cut 8 of 2 1/2 x 20`.",),
            )
    return st.CutsClaim(tuple(cuts), span, each)


def also_line(cut: st.CountedCut, title: str, span: Span) -> st.Also:
    """What is cut besides; raises Trouble where its fabric, its name or a length is missing, or is one too many."""
    if cut.fabric is None:
        raise trouble("not-understood", "Nothing says which fabric this is cut from.", cut.span, causes=(_ALSO,))
    if not title.strip():
        raise trouble("not-understood", "Nothing says what this is for.", span, causes=(_ALSO,))
    if cut.noun == "strips" and cut.height is not None:
        raise trouble(
            "not-understood",
            "A strip is as long as the cloth is wide: it is written with the width it is cut.",
            cut.span,
            causes=('Shorter or longer ones are pieces: `also 2 of 2 1/2 x 60 night "ties"`.',),
        )
    return st.Also(cut, title, span)


def cut_lines(c: Sequence[Any], at: Callable[[Token], Span], whole: Span) -> st.CutFromEdge:
    """Where a sewn unit is cut apart; raises Trouble for a word that is no side of it."""
    side = next(part for part in reversed(c) if type(part) is Token and part.type == "NAME")
    lengths = tuple(part for part in c if type(part) is not Token)
    if side not in SIDES:
        guess = nearest(str(side), SIDES)
        raise _worded(
            "unknown-word",
            f"`{side}` is no side of a unit." + (f" Did you mean `{guess}`?" if guess else ""),
            at(side),
            *([Repair(f"write `{guess}`", at(side), guess, True)] if guess else []),
            causes=("The sides are `left`, `right`, `top` and `bottom`.",),
        )
    return st.CutFromEdge(lengths, str(side), whole)


def _text(e: st.Expr) -> str | None:
    from patternkit.units import mixed

    return mixed(e.value) if isinstance(e, st.Num) else None
