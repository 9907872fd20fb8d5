"""A square in a square: a centre with four corners round it, and again with more fabrics (two rounds: economy)."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import ClassVar

from patternkit.lengths import ONE, SQRT2, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import Choice, chosen, one_length, option, pieces, problems
from patternkit.piecing.chosen import NeedsSide, resolve_squares, too_large
from patternkit.piecing.kinds.base import Equations, Kind, Shop
from patternkit.piecing.kinds.quarter_square import half_cut
from patternkit.piecing.leaves import Leaf, sides
from patternkit.piecing.making import Cloth, Making, Numbers, Outline, PieceCut, Point, Recipe, Seam, rectangle
from patternkit.piecing.method import FLIP, TRIANGLES, Method
from patternkit.piecing.names import Name
from patternkit.piecing.shapes import called, making, merged, same_as, seam, sizes_in_place, square, up
from patternkit.piecing.unknowns import Unknown, of_unit
from patternkit.problems import Problem

FLIPPED = Method(
    "stitch and flip",
    "square-in-square-flip",
    FLIP,
    ruler="points",
    drawn="flips",
    formula="square-in-square-flip",
    pressed="out",
)
FROM_TRIANGLES = Method(
    "from triangles",
    "square-in-square-triangles",
    TRIANGLES,
    ruler="points",
    drawn="joins",
    formula="square-in-square-triangles",
    pressed="out",
    around="rings",
    holds_units=True,
)
STRAIGHT: Point = (ONE, ZERO)
POINTS = Fraction(1, 32)
"""Inches by which a point may lie outside where it should: that is lost in the turn of the cloth at the seam."""
SLANTED: Point = (ONE, ONE)


class Rings(Numbers, frozen=True):
    """What each ring measures from raw edge to raw edge, as it is sewn and as it is trimmed, from the inside out; how
    far beyond the points of the centre the last is trimmed."""

    rings: tuple[tuple[Length, Length], ...]
    beyond: Length


def float_of(unit: Unit) -> Unknown:
    """How far inside the edges the points of the centre lie."""
    return of_unit(unit.key, "float")


def _sized(unit: Unit) -> bool:
    """Whether a cut is stated that settles the size of the centre."""
    return any(claim.word == "cut" for claim in unit.claims) or pieces(unit)[0].cut


def usual(unit: Unit) -> Method:
    """One round is stitched and flipped (whole numbers of ruler lines); more are sewn from triangles, and so are those
    round a unit, of which nothing is lost then, or which floats."""
    listed = pieces(unit)
    plain = len(listed) <= 2 and not any(p.unit for p in listed) and option(unit, "float") is None
    return FLIPPED if plain else FROM_TRIANGLES


class SquareInSquare(Kind):
    """``square-in-a-square centre, corners``, further fabrics for further rounds of corners."""

    words: ClassVar[tuple[str, ...]] = ("square-in-a-square",)
    written: ClassVar[str] = "square-in-a-square night, glow: the centre first, then its corners"
    methods: ClassVar[tuple[Method, ...]] = (FLIPPED, FROM_TRIANGLES)
    oversize: ClassVar[bool] = True
    pieces: ClassVar[tuple[int, int]] = (2, 9)
    options: ClassVar[dict[str, str]] = {"float": "float 1/2 (how far inside its points lie)"}

    def equations(self, unit: Unit, out: Equations) -> None:
        """It is square, and each round is root 2 as wide as what it goes round."""
        listed, default = pieces(unit), usual(unit)
        for problem in problems(self, unit, default, sizes=("finished", "cut")):
            out.problem(problem)
        square(unit, out, "is a square in a square, as wide as it is high")
        choice = chosen(self, unit, default)
        floats = self._float(unit, out)
        self._must_flip(unit, out, choice, floats is not None)
        flip = choice.method is FLIPPED and len(listed) == 2 and not choice.oversize
        for n, piece in enumerate(listed):
            if piece.width is None and (n or not piece.is_sewn):
                continue
            if not piece.cut and n == 0:
                factor = root2_power(len(listed) - 1)
                text = f"each round of {called(unit)} is root 2 as wide as the one inside"
                if floats is not None:
                    text = f"{text}, and the points float inside the edges"
                more = [(2, floats)] if floats is not None else []
                for own, whole in zip(out.size_of(unit, piece), out.outer(unit), strict=True):
                    out.total([(factor, own), *more], whole, text, unit.kind_span)
                sizes_in_place(unit, piece, out)
                if piece.width is not None and piece.height is None:
                    sizes_in_place(unit, piece, out, "h")
            elif not piece.cut:
                out.problem(
                    Problem(
                        "out-of-place",
                        f"In {called(unit)}, a finished size stands beside {piece.name}; only the "
                        "centre takes one, the corners follow.",
                        piece.span,
                    )
                )
            elif flip:
                twice = 2 if n else 1
                what = "the corners are squares half as wide" if n else "the centre is cut from a square as wide"
                same_as(
                    unit,
                    piece,
                    out,
                    (twice, twice),
                    f"{called(unit)} is stitched and flipped: {what} as the unit",
                )

    def _must_flip(self, unit: Unit, out: Equations, choice: Choice, floats: bool) -> None:
        """Refuse what stitch and flip can't make."""
        rounds = len(pieces(unit)) - 1
        if choice.method is FLIPPED and floats:
            out.problem(
                Problem(
                    "method-cannot",
                    f"In {called(unit)}, stitch and flip makes points that lie on the edges, and they are to float.",
                    unit.method.span if unit.method else unit.kind_span,
                    causes=("From triangles, which are cut larger, the points lie as far inside as they are said to.",),
                )
            )
        if choice.method is FLIPPED and rounds > 1:
            out.problem(
                Problem(
                    "method-cannot",
                    f"In {called(unit)}, stitch and flip makes one round of corners, and {rounds} are wanted.",
                    unit.method.span if unit.method else unit.kind_span,
                    causes=(
                        "The corners of a further round would have to be flipped over seams of the round outside it.",
                        "From triangles, any number of rounds can be made.",
                    ),
                )
            )

    def _float(self, unit: Unit, out: Equations) -> Unknown | None:
        """The unknown distance of the points from the edges, where they float, as the line says it."""
        line, room = option(unit, "float"), float_of(unit)
        if line is None:
            return None
        out.shown(room, f"the float of {called(unit)}")
        value = one_length(unit, "float", out)
        if value is not None:
            out.stated(room, value, f"the points of {called(unit)} float {out.render(value)} inside", line.span)
        return room

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """It is trimmed beyond its points, which lie where the ruler lets the centre be cut; a square that others are
        flipped on is cut to size, and they are half as wide."""
        choice, own = chosen(self, unit, usual(unit)), out.outer(unit)
        if choice.method is FLIPPED and len(pieces(unit)) == 2:
            return (*sides(own), Leaf(own[0], factor=ONE / 2))
        if choice.method is FLIPPED or pieces(unit)[0].unit or _sized(unit):
            return tuple(Leaf(var, points=True) for var in own)
        factor = ONE / root2_power(len(pieces(unit)) - 1)
        if option(unit, "float") is not None:
            return sides(own)
        return tuple(Leaf(var, points=True, inner=(factor, factor * POINTS * 2)) for var in own)

    def make(self, unit: Unit, shop: Shop) -> Making:
        """From the centre outward; in each round opposite corners first."""
        f, listed = shop.width(unit), pieces(unit)
        rounds = len(listed) - 1
        fabrics = [shop.fabric(unit, p) for p in listed]
        room = shop.solved(float_of(unit)) if option(unit, "float") is not None else ZERO
        squares: list[Outline] = [rectangle(f - room * 2, f - room * 2, room, room)]
        for _ in range(rounds):
            squares.append(midpoints(squares[-1]))
        squares.reverse()
        cloths = [Cloth(fabrics[0], squares[0], SLANTED if rounds % 2 else STRAIGHT, Name("centre"))]
        seams: list[Seam] = []
        for n in range(1, rounds + 1):
            grain = SLANTED if (rounds - n) % 2 else STRAIGHT
            inside, first = list(range(len(cloths))), len(cloths)
            for i in (0, 2, 1, 3):
                shape: Outline = corner_of(squares[n], i)
                before, _, after = shape
                if room and n == rounds:
                    shape, (before, after) = floating(shape, i, f, room)
                seams.append(seam(before, after, (len(cloths),), inside + list(range(first, len(cloths)))))
                cloths.append(
                    Cloth(
                        fabrics[n],
                        shape,
                        grain,
                        Name("corner") if rounds == 1 else Name("corner", (n,)),
                    )
                )
        choice = chosen(self, unit, usual(unit))
        if choice.method is FLIPPED and rounds == 1:
            recipe = self._flip(unit, shop, choice, f, fabrics)
        else:
            recipe = self._triangles(unit, shop, choice, f, fabrics, room)
        return making(unit, f, f, cloths, seams, recipe)

    def _flip(self, unit: Unit, shop: Shop, choice: Choice, f: Length, fabrics: list[str]) -> Recipe:
        """A square with a smaller square sewn on its diagonal at every corner."""
        s, listed = shop.seam, pieces(unit)
        raw, corner = f + s * 2, f / 2 + s * 2
        solved = not choice.oversize
        base, place = resolve_squares(unit, shop, choice, lambda more, seam: f + more + seam * 2, listed[0], solved)
        exact = corner + base - raw  # what is trimmed from the centre is taken from both sides of a corner
        small, placed = resolve_squares(
            unit,
            shop,
            Choice(choice.method),
            lambda more, seam: (f + more) / 2 + seam * 2 + base - raw,
            listed[1],
            solved,
        )
        if placed is not None and not solved and small - exact > POINTS * 2:
            shop.problem(too_large(unit, shop, f"squares of {listed[1].name}", small, exact + POINTS * 2, placed))
        cuts = (
            PieceCut(fabrics[0], base, base, raw, raw, 1, name=Name("centre"), stated=place),
            PieceCut(fabrics[1], small, small, corner, corner, 4, name=Name("corner"), stated=placed),
        )
        return Recipe(
            choice.method,
            merged(cuts),
            sewn=(base, base) if base != raw else None,
            trim_to=(raw, raw) if base != raw else None,
        )

    def _triangles(self, unit: Unit, shop: Shop, choice: Choice, f: Length, fabrics: list[str], room: Length) -> Recipe:
        """The centre, and for each round two squares cut once corner to corner; every round is trimmed before the
        next."""
        s, listed = shop.seam, pieces(unit)
        rounds = len(listed) - 1
        inner = (f - room * 2) / root2_power(rounds)
        centre, place = resolve_squares(
            unit, shop, Choice(FROM_TRIANGLES), lambda more, seam: inner + more + seam * 2, listed[0], trimmed=False
        )
        if listed[0].is_sewn:
            centre = inner + s * 2
        elif place is None:
            centre = _centre_cut(inner + s * 2, rounds, shop)
        elif (centre - inner - s * 2) * root2_power(rounds) > POINTS * 2:
            most = inner + s * 2 + Length(POINTS * 2) / root2_power(rounds)
            shop.problem(too_large(unit, shop, f"squares of {listed[0].name}", centre, most, place))
        cuts = [
            PieceCut(fabrics[0], centre, centre, inner + s * 2, inner + s * 2, 1, name=Name("centre"), stated=place)
        ]
        around, size = centre, inner
        rings: list[tuple[Length, Length]] = []
        for n in range(1, rounds + 1):
            size = size * SQRT2
            trimmed = (around - s * 2) * SQRT2 + s * 2 if n < rounds else f + s * 2
            # a corner's raw edge lies side/root 2 above its long edge, one seam of which goes into the seam
            lost = around / SQRT2 - s * SQRT2 * 2
            usual = half_cut((size / 2 + room * 2) if n == rounds else size / 2, s)
            exact = max(usual, trimmed - lost)
            side, placed = resolve_squares(
                unit,
                shop,
                Choice(FROM_TRIANGLES, choice.oversize, choice.value),
                _corners(size, exact - half_cut(size / 2, s), n == rounds),
                listed[n],
            )
            name = Name("corner") if rounds == 1 else Name("corner", (n,))
            cuts.append(PieceCut(fabrics[n], side, side, exact, exact, 2, "half", name, stated=placed))
            sewn, around = lost + side, trimmed
            rings.append((sewn, around))
        raw = f + s * 2
        return Recipe(
            FROM_TRIANGLES,
            merged(cuts),
            sewn=(sewn, sewn) if sewn != raw else None,
            trim_to=(raw, raw) if sewn != raw else None,
            numbers=Rings(tuple(rings), s + room),
        )


def _corners(size: Length, beyond: Length, outer: bool) -> NeedsSide:
    """The squares for corners with which it finishes `size`, and so much larger as the centre lies beyond its line.

    Only with the outermost corners is that the size of the block; nobody takes another for it.
    """
    return lambda more, seam: half_cut((size + more if outer else size) / 2, seam) + beyond


def _centre_cut(exact: Length, rounds: int, shop: Shop) -> Length:
    """The centre on the ruler: the next line, or the one before where the points would so come to lie so far outside
    that the last trimming cuts them off. What it is larger by grows by root 2 in every round."""
    above = up(exact, shop.grid)
    return above if (above - exact) * root2_power(rounds) <= POINTS * 2 else above - shop.grid


def root2_power(n: int) -> Length:
    """The square root of 2, `n` times multiplied with itself."""
    value = ONE
    for _ in range(n):
        value = value * SQRT2
    return value


def midpoints(outline: Outline) -> Outline:
    """The square whose corners are the middles of a square's sides, clockwise."""
    return tuple(
        ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in zip(outline, outline[1:] + outline[:1], strict=True)
    )


def floating(triangle: Outline, i: int, f: Length, room: Length) -> tuple[Outline, tuple[Point, Point]]:
    """A corner of a square with sides `f` in which the centre's points float, and the ends of its seam; `triangle` is
    what it would be with the points on the edges of a smaller square.

    Opposite corners come first: the next two are sewn along the whole side, over the ends of these.
    """
    before, _, after = triangle
    half, more = f / 2 - room, f / 2 + room
    corner = rectangle(f, f)[i]
    if i % 2:
        ends = ((f - more, ZERO), (f, more)) if i == 1 else ((more, f), (ZERO, f - more))
        return (ends[0], corner, ends[1]), ends
    cut = ((ZERO, half), (half, ZERO)) if i == 0 else ((f, f - half), (f - half, f))
    return (before, cut[0], corner, cut[1], after), (before, after)


def corner_of(outline: Outline, i: int) -> tuple[Point, Point, Point]:
    """The corner triangle at corner i of a square: the middle of the side before it, the corner, the middle after."""
    mids = midpoints(outline)
    return mids[i - 1], outline[i], mids[i]
