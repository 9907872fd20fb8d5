"""The cuts a writer chose: a claim that is held against what the geometry needs, and then used.

A cut at or above the exact size is accepted, whatever it is rounded to: the unit comes out larger and is trimmed. A cut
below it cannot give the unit and is a problem (`cut-too-small`). A cut larger by exactly two seam allowances on every
side, where no oversize was asked for, is the sign of a rule applied to the unfinished size (`seams-added-twice`). Much
larger cuts are accepted with an advice (`cut-much-larger`).
"""

from __future__ import annotations

from fractions import Fraction

from patternkit.lengths import Length
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.asking import Choice, pieces
from patternkit.piecing.kinds.base import Shop
from patternkit.piecing.shapes import called, opening, up
from patternkit.problems import Problem
from patternkit.source import Span
from patternkit.units import decimal, number, show

Sides = tuple[Length, ...]
Stated = tuple[Sides, Span]


def oversize(exact: Length, grid: Fraction) -> Length:
    """The usual oversize cut: at least one ruler line more than needed, on a line of twice the ruler's grid.

    On a ruler with eighths this is the trade's finished size + 1 in for half-squares from pairs (exact + 0.854), + 1
    1/2 in for quarter-squares (exact + 1.207), twice the size + 2 in for eight at a time (exact + 1.707).
    """
    return up(exact + grid, grid * 2)


def stated(unit: Unit, shop: Shop, piece: Component | None = None) -> Stated | None:
    """The cut the writer gave for a piece in place, or (without a piece) for the unit on a line of its own."""
    if piece is not None:
        if piece.width is None or not piece.cut:
            return None
        sides = (piece.width,) if piece.height is None else (piece.width, piece.height)
        return tuple(shop.value(v) for v in sides), piece.span
    for claim in unit.claims:
        if claim.word == "cut":
            sides = (claim.width,) if claim.height is None else (claim.width, claim.height)
            return tuple(shop.value(v) for v in sides), claim.span
    return None


def one_for_all(unit: Unit, shop: Shop) -> Stated | None:
    """The cut stated for a unit whose pieces are all cut alike, on its own line or beside its pieces."""
    all_stated = [s for s in (stated(unit, shop), *(stated(unit, shop, p) for p in pieces(unit))) if s is not None]
    for other in all_stated[1:]:
        if other[0] != all_stated[0][0]:
            shop.problem(
                Problem(
                    "cuts-differ",
                    f"In {called(unit)}, two different cuts are stated, and a {unit.kind} by this "
                    "method is made from pieces cut alike.",
                    other[1],
                )
            )
            break
    return all_stated[0] if all_stated else None


def resolve(
    unit: Unit, shop: Shop, choice: Choice, exact: Sides, statement: Stated | None, what: str, solved: bool = False
) -> tuple[Sides, Span | None]:
    """The size to cut (one side of a square, or width and height), and the place where the writer chose it.

    `exact` is what the geometry needs; `what` names what is cut, in the plural ("squares", "rectangles of night").
    `solved` is True where the cut stated is one of the sizes' equations: a contradiction has been reported there.
    """
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
    sides, span = statement
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
    problem = _objection(unit, shop, choice, exact, rounded, sides, span, what)
    if problem is not None and not solved:
        shop.problem(problem)
    if problem is not None and problem.code == "cut-too-small":
        return usual, None
    return sides, span


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
    unit: Unit, shop: Shop, choice: Choice, exact: Sides, rounded: Sides, sides: Sides, span: Span, what: str
) -> Problem | None:
    allowance = shop.seam * 2
    typed, least = _size(sides, shop), _size(rounded, shop)
    because: tuple[str, ...] = (
        f"{opening(unit)} finishes {_size((shop.width(unit), shop.height(unit)), shop)}.",
        f"With a seam of {show(shop.seam, shop.units)}, the method {choice.method.name} needs {what} of "
        f"{_exact(exact, shop)}, "
        f"which is {least} rounded up to the ruler.",
    )
    if any(s < e for s, e in zip(sides, exact, strict=True)):
        if all(s + allowance == r for s, r in zip(sides, rounded, strict=True)):
            because += (
                f"It is exactly two seam allowances ({show(allowance, shop.units)}) less than that: "
                "the seams were left out.",
            )
        return Problem(
            "cut-too-small",
            f"In {called(unit)}, {what} cut {typed} are too small: at least {least} is needed.",
            span,
            causes=because,
        )
    if not choice.oversize and all(s - r == allowance for s, r in zip(sides, rounded, strict=True)):
        return Problem(
            "seams-added-twice",
            f"In {called(unit)}, {what} cut {typed} are larger than the {least} needed by "
            "exactly two seam allowances: the rule was worked from the unfinished size instead of the "
            "finished.",
            span,
            causes=because,
        )
    if any(s - e > allowance * 2 for s, e in zip(sides, exact, strict=True)):
        return Problem(
            "cut-much-larger",
            f"In {called(unit)}, {what} cut {typed} are much larger than the {least} needed.",
            span,
            causes=because,
            advice=True,
        )
    return None


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
