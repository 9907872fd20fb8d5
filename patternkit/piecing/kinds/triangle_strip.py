"""Strips of 60 degree triangles, pointing up and down by turns, with or without pieces that square off the ends."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from patternkit.lengths import ONE, SQRT3, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import chosen, option, pieces, problems, words_of
from patternkit.piecing.forms import NOTHING, Form, Sum, size, solved
from patternkit.piecing.kinds.base import Equations, Kind, Shop, Unsettled
from patternkit.piecing.making import Cloth, Making, Numbers, Outline, Recipe, Seam, rectangle
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name
from patternkit.piecing.offset import trimmed_outline
from patternkit.piecing.shapes import called, merged, seam
from patternkit.piecing.templates import shape_cut, shaped, template_cut
from patternkit.piecing.tips import dog_ears
from patternkit.piecing.unknowns import of_unit
from patternkit.problems import Problem
from patternkit.syntax.statements import Num, PieceUse, Ref

STRIPS = Method("from strips", "triangle-strip", drawn="row")
TEMPLATES = Method("from templates", "triangle-strip-templates", ("templates",), drawn="row")
HALF, FITTED, SLANTED = "half", "fitted", "slanted"
MOST = 200


class TriangleSides(Numbers, frozen=True):
    """The side of a whole triangle, finished and with its points as it is cut from a strip, and that strip."""

    side: Length
    raw: Length
    strip: Length


class TriangleStrip(Kind):
    """``triangle-strip night, glow`` with ``triangles 7`` under it: the fabrics in turn, the first triangle points up.

    ``ends half`` squares the strip off with half triangles, which take their turn among the fabrics unless one is named
    (``ends half, sky``); ``ends fitted`` makes the end pieces as wide as the stated width needs; ``ends slanted`` has
    none.
    """

    words: ClassVar[tuple[str, ...]] = ("triangle-strip",)
    methods: ClassVar[tuple[Method, ...]] = (STRIPS, TEMPLATES)
    pieces: ClassVar[tuple[int, int]] = (1, MOST)
    options: ClassVar[dict[str, str]] = {
        "triangles": "triangles 7",
        "ends": "ends half, sky",
        "first": "first up",
    }

    def equations(self, unit: Unit, out: Equations) -> None:
        """With n triangles it is n + 1 half sides wide, and a side is 2 / root 3 of the height."""
        for problem in (*problems(self, unit), *wrongs(unit)):
            out.problem(problem)
        if ends_of(unit) != FITTED:
            w, h = out.outer(unit)
            n = number_of(unit)
            out.total(
                [(SQRT3 * (n + 1) / 3, h)],
                w,
                f"{called(unit)} is a strip of {n} triangles with equal sides",
                unit.kind_span,
            )

    def form(self, unit: Unit, out: Equations) -> Form | None:
        """The strip without end pieces."""
        if ends_of(unit) != SLANTED:
            return None
        width, height = size(of_unit(unit.key, "w"), number_of(unit) + 1.0), size(of_unit(unit.key, "h"), float(SQRT3))
        return _slanted(unit, width, height)

    def make(self, unit: Unit, shop: Shop) -> Making:
        """Triangles from left to right, each seam between all that is sewn and the next."""
        if wrongs(unit):
            raise Unsettled(unit.key)
        width, height = shop.width(unit), shop.height(unit)
        shapes = _shapes(unit, shop, width, height)
        fabrics = [shop.fabric(unit, p) for p in pieces(unit)]
        cloths = []
        for i, (shape, name) in enumerate(shapes):
            fabric = _end_fabric(unit) if name != Name("triangle") else ""
            turn = i - (ends_of(unit) != SLANTED and bool(_end_fabric(unit)))
            # one that points down is cut turned half round, so that all triangles are one template
            grain = (-ONE, ZERO) if name == Name("triangle") and shape[0][1] == ZERO else (ONE, ZERO)
            cloths.append(Cloth(fabric or fabrics[turn % len(fabrics)], shape, grain, name, True))
        seams = _seams(unit, width, height, len(cloths))
        outline = rectangle(width, height)
        if ends_of(unit) == SLANTED:
            corners = _slanted(unit, size(of_unit(unit.key, "w"), 2.0), size(of_unit(unit.key, "h"), 1.0))
            outline = solved(corners, lambda var: width if var.side == "w" else height)
        return shaped(unit, outline, cloths, seams, self._recipe(unit, shop, cloths, seams, width, height))

    def _recipe(
        self,
        unit: Unit,
        shop: Shop,
        cloths: Sequence[Cloth],
        seams: Sequence[Seam],
        width: Length,
        height: Length,
    ) -> Recipe:
        s, method = shop.seam, chosen(self, unit).method
        side = (height + s * 3) * 2 / SQRT3
        cuts = []
        all_trims = dog_ears([c.outline for c in cloths], seams, s)
        for cloth, trims in zip(cloths, all_trims, strict=True):
            if cloth.name != Name("triangle"):
                cuts.append(template_cut(cloth, shop, trims))
                continue
            raw = trimmed_outline(cloth.outline, s, {} if method is STRIPS else trims)
            cuts.append(shape_cut(cloth, raw, shop, pitch=side / 2 if method is STRIPS else None))
        return Recipe(
            method,
            merged(cuts),
            numbers=TriangleSides(height * 2 / SQRT3, side, height + s * 3),
        )


def number_of(unit: Unit) -> int:
    """How many whole triangles; as many as fabrics are listed when nothing is said."""
    stated = option(unit, "triangles")
    words = [word for clause in stated.clauses for word in clause] if stated is not None else []
    if (
        len(words) == 1
        and isinstance(words[0], Num)
        and words[0].value.denominator == 1
        and 1 <= words[0].value <= MOST
    ):
        return int(words[0].value)
    return max(1, len(pieces(unit)))


def ends_of(unit: Unit) -> str:
    """half, fitted or slanted."""
    stated = option(unit, "ends")
    words = words_of(stated) if stated is not None else []
    return words[0] if words and words[0] in (HALF, FITTED, SLANTED) else HALF


def first_of(unit: Unit) -> str:
    """Whether the first whole triangle points up or down."""
    stated = option(unit, "first")
    return "down" if stated is not None and words_of(stated) == ["down"] else "up"


def wrongs(unit: Unit) -> list[Problem]:
    """What the options say wrongly."""
    found = []
    stated = option(unit, "triangles")
    if stated is not None:
        words = [word for clause in stated.clauses for word in clause]
        if not (
            len(words) == 1
            and isinstance(words[0], Num)
            and words[0].unit is None
            and words[0].value.denominator == 1
            and 1 <= words[0].value <= MOST
        ):
            found.append(_wrong(unit, f"triangles is followed by a whole number up to {MOST}", stated.span))
    stated = option(unit, "first")
    if stated is not None and words_of(stated) not in (["up"], ["down"]):
        found.append(_wrong(unit, "the first triangle points up or down", stated.span))
    stated = option(unit, "ends")
    if stated is not None:
        if not stated.clauses or words_of(stated)[0] not in (HALF, FITTED, SLANTED) or len(stated.clauses) > 2:
            found.append(_wrong(unit, "ends are half, fitted or slanted", stated.span))
        elif len(stated.clauses) == 2 and (not _end_fabric(unit) or ends_of(unit) == SLANTED):
            found.append(_wrong(unit, "behind the comma stands the fabric of the end pieces", stated.span))
    return found


def _wrong(unit: Unit, text: str, span: object) -> Problem:
    from patternkit.source import NOWHERE, Span

    return Problem("not-understood", f"In {called(unit)}, {text}.", span if isinstance(span, Span) else NOWHERE)


def _end_fabric(unit: Unit) -> str:
    stated = option(unit, "ends")
    if stated is None or len(stated.clauses) != 2 or len(stated.clauses[1]) != 1:
        return ""
    word = stated.clauses[1][0]
    piece = unit.named.get(word.span) if isinstance(word, (Ref, PieceUse)) else None
    return piece.fabric if piece is not None else ""


def _rest(unit: Unit, shop: Shop, width: Length, height: Length) -> Length:
    """What fitted end pieces are wider than half triangles, each."""
    rest = (width - height * (number_of(unit) + 1) / SQRT3) / 2
    if rest < 0:
        n = number_of(unit)
        shop.problem(
            Problem(
                "does-not-add-up",
                f"{called(unit).capitalize()} is too narrow for {n} triangles and two end pieces.",
                unit.kind_span,
                causes=(f"A strip of {n} triangles is {n + 1} half sides wide.",),
            )
        )
        raise Unsettled(unit.key)
    return rest


def _shapes(unit: Unit, shop: Shop, width: Length, height: Length) -> list[tuple[Outline, Name]]:
    """The outlines from left to right, with their names."""
    n, half, up = number_of(unit), height / SQRT3, first_of(unit) == "up"
    ended = ends_of(unit) != SLANTED
    x = _rest(unit, shop, width, height) if ends_of(unit) == FITTED else ZERO
    shapes: list[tuple[Outline, Name]] = []
    if ended:
        shapes.append((_end(ZERO, x, x + half, height, up), Name("left end")))
    for i in range(n):
        a = x + half * i
        if up == (i % 2 == 0):
            shapes.append((((a, height), (a + half, ZERO), (a + half * 2, height)), Name("triangle")))
        else:
            shapes.append((((a, ZERO), (a + half * 2, ZERO), (a + half, height)), Name("triangle")))
    if ended:
        last_up = up == ((n - 1) % 2 == 0)
        shapes.append((_end(width, width - x, width - x - half, height, last_up), Name("right end")))
    return shapes


def _end(edge: Length, short: Length, long: Length, height: Length, beside_up: bool) -> Outline:
    """An end piece from the outer edge to the slanting side: its long edge on top when it lies beside a triangle that
    points up."""
    top, bottom = (long, short) if beside_up else (short, long)
    points = ((edge, ZERO), (top, ZERO), (bottom, height), (edge, height))
    if edge > top or edge > bottom:
        points = ((edge, ZERO), (edge, height), (bottom, height), (top, ZERO))
    kept = [p for i, p in enumerate(points) if p != points[i - 1]]
    return tuple(kept)


def _seams(unit: Unit, width: Length, height: Length, parts: int) -> list[Seam]:
    """Slanting seams from bottom to top; the next piece lies on the right."""
    n, half, up = number_of(unit), height / SQRT3, first_of(unit) == "up"
    ended = ends_of(unit) != SLANTED
    x = (width - half * (n + 1)) / 2 if ended else ZERO
    seams: list[Seam] = []
    for i in range(0 if ended else 1, n + 1 if ended else n):
        # seam i lies to the left of triangle i; it leans to the right when that triangle points up
        leans_right = up == (i % 2 == 0)
        a = x + half * i
        bottom, top = (a, a + half) if leans_right else (a + half, a)
        number = len(seams) + 1
        seams.append(seam((bottom, height), (top, ZERO), range(number), (number,)))
    assert len(seams) == parts - 1
    return seams


def _slanted(unit: Unit, width: Sum, height: Sum) -> Form:
    """The outline of a strip without end pieces."""
    half, up = height * (ONE / SQRT3), first_of(unit) == "up"
    last_up = up == ((number_of(unit) - 1) % 2 == 0)
    left = ((NOTHING, height), (half, NOTHING)) if up else ((half, height), (NOTHING, NOTHING))
    right = ((width - half, NOTHING), (width, height)) if last_up else ((width, NOTHING), (width - half, height))
    if number_of(unit) > 1:
        return *left, *right
    return (left[0], left[1], right[1]) if up else (left[0], left[1], right[0])  # one edge of a triangle is a point
