"""The cuts a writer chose: a claim that is held against what the geometry needs, and then used.

A cut at or above the exact size is accepted, whatever it is rounded to: the unit comes out larger and is trimmed. A cut
below it cannot give the unit and is a problem (`cut-too-small`). A cut that is what the formula of its method gives for
the unfinished size, where no oversize was asked for, has its seams added twice (`seams-added-twice`). Much larger cuts
are accepted with an advice (`cut-much-larger`).
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.asking import Choice, pieces
from patternkit.piecing.kinds.base import Shop
from patternkit.piecing.shapes import called, opening, up
from patternkit.problems import Problem, Repair
from patternkit.sizes.affine import Affine
from patternkit.source import Span
from patternkit.units import decimal, number, show

Sides = tuple[Length, ...]
Needs = Callable[[Length, Length], Sides]
"""What a method needs to be cut, exactly: a function of how much larger than it is the unit finishes, and of the seam.
Nothing larger, with the pattern's seam, is what the unit needs; other values tell the usual slips."""
NeedsSide = Callable[[Length, Length], Length]
"""The same of squares: their side."""


class StatedCut(msgspec.Struct, frozen=True):
    """A cut that the writer gave: its sides, where it stands, and the place of its number where a repair may rewrite
    that alone: one plain length, stated once."""

    sides: Sides
    span: Span
    number: Span | None = None


def oversize(exact: Length, grid: Fraction) -> Length:
    """The usual oversize cut: at least one ruler line more than needed, on a line of twice the ruler's grid.

    On a ruler with eighths this is the trade's finished size + 1 in for half-squares from pairs (exact + 0.854), + 1
    1/2 in for quarter-squares (exact + 1.207), twice the size + 2 in for eight at a time (exact + 1.707).
    """
    return up(exact + grid, grid * 2)


def stated(unit: Unit, shop: Shop, piece: Component | None = None) -> StatedCut | None:
    """The cut the writer gave for a piece in place, or (without a piece) for the unit on a line of its own."""
    if piece is not None:
        if piece.width is None or not piece.cut:
            return None
        return _stated(shop, piece.width, piece.height, piece.span, piece.numbers[0])
    for claim in unit.claims:
        if claim.word == "cut":
            return _stated(shop, claim.width, claim.height, claim.span, claim.numbers[0])
    return None


def _stated(shop: Shop, width: Affine, height: Affine | None, span: Span, place: Span | None) -> StatedCut:
    if height is None or height == width:
        return StatedCut((shop.value(width),), span, place if height is None else None)
    return StatedCut((shop.value(width), shop.value(height)), span)


def one_for_all(unit: Unit, shop: Shop) -> StatedCut | None:
    """The cut stated for a unit whose pieces are all cut alike, on its own line or beside its pieces."""
    all_stated = [s for s in (stated(unit, shop), *(stated(unit, shop, p) for p in pieces(unit))) if s is not None]
    for other in all_stated[1:]:
        if other.sides != all_stated[0].sides:
            shop.problem(
                Problem(
                    "cuts-differ",
                    f"In {called(unit)}, two different cuts are stated, and a {unit.kind} by this "
                    "method is made from pieces cut alike.",
                    other.span,
                )
            )
            break
    if len(all_stated) > 1:  # a number that is changed alone would differ from the others
        return msgspec.structs.replace(all_stated[0], number=None)
    return all_stated[0] if all_stated else None


def resolve(
    unit: Unit,
    shop: Shop,
    choice: Choice,
    needs: Needs,
    statement: StatedCut | None,
    what: str,
    solved: bool = False,
    trimmed: bool = True,
) -> tuple[Sides, Span | None]:
    """The size to cut (one side of a square, or width and height), and the place where the writer chose it.

    `needs` is the formula of the method; `what` names what is cut, in the plural ("squares", "rectangles of night").
    `solved` is True where the cut stated is one of the sizes' equations: a contradiction has been reported there.
    `trimmed` is True where an oversize asked for makes this piece larger.
    """
    exact = needs(ZERO, shop.seam)
    rounded = tuple(up(e, shop.grid) for e in exact)
    usual = rounded
    if choice.oversize:
        more = shop.value(choice.value) if choice.value is not None else None
        usual = tuple(
            oversize(e, shop.grid) if more is None else up(r + more, shop.grid)
            for e, r in zip(exact, rounded, strict=True)
        )
    if statement is None:
        return usual, None
    sides, span = statement.sides, statement.span
    if len(sides) == 1 < len(exact):
        sides = sides * len(exact)
    if len(sides) > len(exact):
        if sides[0] != sides[1]:
            shop.problem(
                Problem(
                    "out-of-place",
                    f"In {called(unit)}, the {what} are square: one length says their size.",
                    span,
                )
            )
            return usual, None
        sides = sides[:1]
    problem = _objection(unit, shop, choice, needs, msgspec.structs.replace(statement, sides=sides), what, trimmed)
    if problem is not None and not solved:
        shop.problem(problem)
    if problem is not None and problem.code == "cut-too-small":
        return usual, None
    return sides, span


def resolve_squares(
    unit: Unit,
    shop: Shop,
    choice: Choice,
    needs: NeedsSide,
    piece: Component,
    solved: bool = False,
    trimmed: bool = True,
) -> tuple[Length, Span | None]:
    """The side of the squares that are cut for a piece, and the place where the writer chose it; as `resolve` does."""
    (side,), place = resolve(
        unit,
        shop,
        choice,
        lambda more, seam: (needs(more, seam),),
        stated(unit, shop, piece),
        f"squares of {piece.name}",
        solved,
        trimmed,
    )
    return side, place


def too_large(unit: Unit, shop: Shop, what: str, cut: Length, most: Length, span: Span) -> Problem:
    """The problem of a stated cut after which no trimming gives the unit as it is drawn: its points lie further out
    than the edge to which it is trimmed. `most` is the largest cut with which they do not."""
    line = Length(most.floor_to(shop.grid))
    return Problem(
        "cut-too-large",
        f"In {called(unit)}, {what} cut {show(cut, shop.units)} are too large: at most {show(line, shop.units)} leaves "
        "its points.",
        span,
        causes=(
            f"{opening(unit)} finishes {_size((shop.width(unit), shop.height(unit)), shop)}.",
            "Its points lie where the seams round it meet: outside the edge, so that trimming cuts them off.",
        ),
    )


def _objection(
    unit: Unit, shop: Shop, choice: Choice, needs: Needs, stated: StatedCut, what: str, trimmed: bool
) -> Problem | None:
    exact, sides, span = needs(ZERO, shop.seam), stated.sides, stated.span
    rounded = tuple(up(e, shop.grid) for e in exact)
    typed, least = _size(sides, shop), _size(rounded, shop)
    because: tuple[str, ...] = (
        f"{opening(unit)} finishes {_size((shop.width(unit), shop.height(unit)), shop)}.",
        f"With a seam of {show(shop.seam, shop.units)}, the method {choice.method.name} needs {what} of "
        f"{_exact(exact, shop)}, "
        f"which is {least} rounded up to the ruler.",
    )
    repairs: tuple[Repair, ...] = ()
    if stated.number is not None and len(set(rounded)) == 1:
        repairs = (Repair(f"write {least} instead of {typed}", stated.number, number(rounded[0], shop.units)),)
    if any(s < e for s, e in zip(sides, exact, strict=True)):
        if _worked_with(needs, ZERO, ZERO, sides, shop.grid):
            because += (f"Without any seams it would be {_exact(needs(ZERO, ZERO), shop)}: the seams were left out.",)
        return Problem(
            "cut-too-small",
            f"In {called(unit)}, {what} cut {typed} are too small: at least {least} is needed.",
            span,
            causes=because,
            repairs=repairs,
        )
    larger = all(s > r for s, r in zip(sides, rounded, strict=True))
    if larger and not choice.oversize and _worked_with(needs, shop.seam * 2, shop.seam, sides, shop.grid):
        return Problem(
            "seams-added-twice",
            f"In {called(unit)}, {what} cut {typed} are larger than the {least} needed: the rule was worked from the "
            "unfinished size instead of the finished.",
            span,
            causes=(*because, f"For the unfinished size it gives {_exact(needs(shop.seam * 2, shop.seam), shop)}."),
            repairs=(*repairs, *([_oversize(unit, choice)] if trimmed else [])),
        )
    if any(s - e > shop.seam * 4 for s, e in zip(sides, exact, strict=True)):
        return Problem(
            "cut-much-larger",
            f"In {called(unit)}, {what} cut {typed} are much larger than the {least} needed.",
            span,
            causes=because,
            advice=True,
        )
    return None


def _worked_with(needs: Needs, more: Length, seam: Length, sides: Sides, grid: Fraction) -> bool:
    """Whether the sides stated are what the formula gives for another size or seam: exactly, or rounded up."""
    return all(s in (n, up(n, grid)) for s, n in zip(sides, needs(more, seam), strict=True))


def _oversize(unit: Unit, choice: Choice) -> Repair:
    """The larger cut as it is, where it is meant: the unit is trimmed."""
    if unit.method is None:
        return Repair("write method oversize below it, if the unit is meant to be trimmed")
    words = f"method {unit.method.words} oversize"
    return Repair(f"write {words}, if the unit is meant to be trimmed", unit.method.span, words)


def _exact(sides: Sides, shop: Shop) -> str:
    """The same as exactly as decimals tell: a thousandth where the ruler's fractions don't have it."""
    texts = []
    for side in sides[:1] if len(sides) == 2 and sides[0] == sides[1] else sides:
        own = side / shop.units.inches
        plain = own.is_fraction and 64 % own.fraction.denominator == 0
        texts.append(number(side, shop.units) if plain else decimal(own.round_to(Fraction(1, 1000)), 3))
    return " x ".join(texts) + f" {shop.units.sign}"


def _size(sides: Sides, shop: Shop) -> str:
    """One side of a square or width and height, in the writer's units."""
    if len(sides) == 2 and sides[0] == sides[1]:
        sides = sides[:1]
    return " x ".join(number(s, shop.units) for s in sides) + f" {shop.units.sign}"
