"""Flipped corners: a rectangle with squares sewn on their diagonals at some or all corners (all four: a snowball)."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import ClassVar

import msgspec

from patternkit.lengths import ONE, ZERO, Length
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.asking import behind, chosen, one_length, option, pieces, problems, where
from patternkit.piecing.chosen import NeedsSide, resolve, resolve_squares, stated
from patternkit.piecing.kinds.base import Equations, Kind, Shop, Unsettled
from patternkit.piecing.leaves import Leaf, sides
from patternkit.piecing.making import Cloth, Making, Outline, PieceCut, Point, Recipe, Seam
from patternkit.piecing.method import FLIP, Method
from patternkit.piecing.names import Name
from patternkit.piecing.shapes import called, making, merged, opening, same_as, seam, shown
from patternkit.piecing.unknowns import Unknown, of_piece
from patternkit.problems import Problem, Repair
from patternkit.source import Span
from patternkit.units import show

GRAIN: Point = (ONE, ZERO)
MOVED = Length(Fraction(1, 24))
"""Inches by which a corner may come out larger: nobody sees that."""
FLIPPED = Method(
    "stitch and flip",
    "corners-flip",
    FLIP,
    ruler="corners",
    drawn="flips",
    formula="corners-flip",
    pressed="out",
    flips=True,
    holds_units=True,
)
CORNERS = ("top left", "top right", "bottom right", "bottom left")
PLACES: dict[str, tuple[str, ...]] = {
    **{c: (c,) for c in CORNERS},
    **{" ".join(reversed(c.split())): (c,) for c in CORNERS},
    "top": CORNERS[:2],
    "bottom": (CORNERS[3], CORNERS[2]),
    "left": (CORNERS[0], CORNERS[3]),
    "right": CORNERS[1:3],
    "all": CORNERS,
    "all corners": CORNERS,
}


class FlippedCorners(Kind):
    """``flipped-corners base, corner`` with ``corner 2`` (finished) and ``at top left, bottom right`` (all four
    otherwise).

    One corner fabric serves all corners; otherwise there is one for each, in the order of ``at``.
    """

    words: ClassVar[tuple[str, ...]] = ("flipped-corners",)
    written: ClassVar[str] = "flipped-corners stone, night: the base first, then its corners"
    methods: ClassVar[tuple[Method, ...]] = (FLIPPED,)
    oversize: ClassVar[bool] = True
    options: ClassVar[dict[str, str]] = {
        "corner": "corner 2 (how far it finishes along the edge)",
        "at": "at top left, bottom right",
    }
    pieces: ClassVar[tuple[int, int]] = (2, 5)

    def equations(self, unit: Unit, out: Equations) -> None:
        """The base is as large as the unit; the corners' size is stated once for all, or beside each."""
        for problem in problems(self, unit, sizes=("finished", "cut")):
            out.problem(problem)
        listed, over = pieces(unit), chosen(self, unit).oversize
        found = places(unit)
        if isinstance(found, Problem):
            out.problem(found)
        elif 2 < len(listed) != len(found) + 1:
            out.problem(
                Problem(
                    "wrong-pieces",
                    f"{opening(unit)} has {len(found)} flipped corners and names "
                    f"{len(listed) - 1} fabrics for them: one for all, or one for each.",
                    unit.rows[0].span,
                )
            )
        if listed and over and listed[0].is_sewn:
            out.problem(
                Problem(
                    "method-cannot",
                    f"In {called(unit)}, the base is {listed[0].name}, which is sewn already and can't be cut larger.",
                    unit.method.span if unit.method is not None else unit.kind_span,
                    causes=("Oversize cuts the base larger and trims it; corners are flipped onto a unit as it is.",),
                    repairs=(Repair("leave out oversize"),),
                )
            )
        if listed and not (listed[0].cut and over):
            same_as(unit, listed[0], out, (1, 1), f"the base of {called(unit)} is as large as the unit")
        line, size = option(unit, "corner"), one_length(unit, "corner", out)
        for piece in listed[1:]:
            var = corner_var(unit, piece)
            out.shown(var, f"the flipped corner of {called(unit)}")
            if piece.width is not None and not (piece.cut and over):
                value = piece.width - out.seam * 2 if piece.cut else piece.width
                verb = "is cut" if piece.cut else "finishes"
                text = f"in {called(unit)}, the corner {piece.name} {verb} {out.render(piece.width)}"
                out.stated(var, value, text, piece.span, piece.width, piece.numbers[0])
            if size is not None and line is not None:
                number = getattr(behind(unit, "corner"), "span", None) if size.is_constant else None
                out.stated(
                    var,
                    size,
                    f"the corners of {called(unit)} finish {out.render(size)}",
                    line.span,
                    size,
                    number,
                )
        if line is None and not unit.unsized and all(p.width is None for p in listed[1:]):
            out.problem(
                Problem(
                    "size-unknown",
                    f"Nothing says how large the corners of {called(unit)} are.",
                    unit.kind_span,
                    causes=("A line under the unit says it: corner 2.",),
                )
            )

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """The base, and the squares that are flipped on it: larger only by what the trimming takes from the base."""
        listed, over = pieces(unit), chosen(self, unit).oversize
        base = sides(out.outer(unit), fixed=bool(listed) and listed[0].cut and not over)
        if listed and listed[0].is_sewn:
            base = ()  # it comes as it is sewn
        return (*base, *(Leaf(corner_var(unit, p), fixed=p.cut and not over) for p in listed[1:]))

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The corners are sewn one after the other, in the order in which they are named."""
        w, h, listed = shop.width(unit), shop.height(unit), pieces(unit)
        found = places(unit)
        at = list(CORNERS) if isinstance(found, Problem) else [name for name, _ in found]
        which = (
            [listed[min(n + 1, len(listed) - 1)] for n in range(len(at))] if len(listed) > 2 else [listed[1]] * len(at)
        )
        sizes = {name: shop.solved(corner_var(unit, piece)) for name, piece in zip(at, which, strict=True)}
        self._must_fit(unit, shop, w, h, sizes)
        cloths = [Cloth(shop.fabric(unit, listed[0]), base_outline(w, h, sizes), GRAIN, Name("base"))]
        seams: list[Seam] = []
        for n, (name, piece) in enumerate(zip(at, which, strict=True), 1):
            before, corner, after = corner_triangle(name, w, h, sizes[name])
            seams.append(seam(before, after, (n,), range(n)))
            cloths.append(Cloth(shop.fabric(unit, piece), (before, corner, after), GRAIN, Name("corner")))
        return making(unit, w, h, cloths, seams, self._recipe(unit, shop, w, h, cloths, at, which, sizes))

    def _must_fit(self, unit: Unit, shop: Shop, w: Length, h: Length, sizes: dict[str, Length]) -> None:
        """Refuse corners that overlap, or that leave nothing of the base."""
        for a, b, edge, side in (
            (0, 1, w, "top"),
            (1, 2, h, "right"),
            (3, 2, w, "bottom"),
            (0, 3, h, "left"),
        ):
            total = sizes.get(CORNERS[a], ZERO) + sizes.get(CORNERS[b], ZERO)
            if total > edge:
                shop.problem(
                    Problem(
                        "cannot-sew",
                        f"In {called(unit)}, the corners along the {side} edge finish {shown(total, shop)} "
                        f"together, and that edge is {shown(edge, shop)} long.",
                        unit.kind_span,
                        causes=("Flipped corners may meet, and may not overlap.",),
                    )
                )
                raise Unsettled(unit.key)
        for a, b in ((0, 2), (1, 3)):
            if CORNERS[a] in sizes and CORNERS[b] in sizes and sizes[CORNERS[a]] + sizes[CORNERS[b]] >= w + h:
                shop.problem(
                    Problem(
                        "cannot-sew",
                        f"In {called(unit)}, the corners leave nothing of the base.",
                        unit.kind_span,
                    )
                )
                raise Unsettled(unit.key)

    def _recipe(
        self,
        unit: Unit,
        shop: Shop,
        w: Length,
        h: Length,
        cloths: list[Cloth],
        at: list[str],
        which: list[Component],
        sizes: dict[str, Length],
    ) -> Recipe:
        s, choice, listed = shop.seam, chosen(self, unit), pieces(unit)
        raw = (w + s * 2, h + s * 2)
        (wide, high), place = raw, None
        if not listed[0].is_sewn:
            (wide, high), place = resolve(
                unit,
                shop,
                choice,
                lambda more, seam: (w + more + seam * 2, h + more + seam * 2),
                stated(unit, shop, listed[0]),
                f"pieces of {listed[0].name}",
                not choice.oversize,
            )
        trimmed = (wide - raw[0] + high - raw[1]) / 2  # what a corner loses of both its sides where the base is trimmed
        if place is None and choice.oversize and not trimmed.on_grid(shop.grid):
            high, trimmed = high + shop.grid, trimmed + shop.grid / 2  # so that the corner's square lies on the ruler
        base = wide, high
        cuts = [PieceCut(cloths[0].fabric, base[0], base[1], raw[0], raw[1], 1, name=Name("base"), stated=place)]
        done: dict[str, tuple[Length, Span | None]] = {}
        for n, (name, piece) in enumerate(zip(at, which, strict=True), 1):
            corner = sizes[name] + trimmed
            exact = corner + s * 2
            if piece.slot not in done:
                side, place = resolve_squares(
                    unit,
                    shop,
                    msgspec.structs.replace(choice, oversize=False),
                    _corner(corner),
                    piece,
                    not choice.oversize,
                    trimmed=False,
                )
                if choice.oversize:
                    self._same_corner(unit, shop, piece, side, exact, cuts[0].stated)
                done[piece.slot] = side, place
            side, place = done[piece.slot]
            cuts.append(PieceCut(cloths[n].fabric, side, side, exact, exact, 1, name=Name("corner"), stated=place))
        return Recipe(
            choice.method,
            merged(cuts),
            sewn=base if base != raw else None,
            trim_to=raw if base != raw else None,
        )

    def _same_corner(
        self, unit: Unit, shop: Shop, piece: Component, cut: Length, exact: Length, base: Span | None
    ) -> None:
        """Refuse a square whose diagonal does not lie where the corner's seam is drawn, in a unit that is trimmed."""
        line = Length(exact.ceil_to(shop.grid))
        if piece.cut and cut >= line + shop.grid:
            shop.problem(
                Problem(
                    "cut-too-large",
                    f"In {called(unit)}, squares of {piece.name} cut {show(cut, shop.units)} are too large: "
                    f"{show(line, shop.units)} gives the corner.",
                    piece.span,
                    causes=(
                        "A corner's seam is the diagonal of its square: with a larger square the corner is larger.",
                    ),
                )
            )
        elif base is not None and not exact.on_grid(shop.grid) and line - exact > MOVED:
            shop.problem(
                Problem(
                    "cut-off-ruler",
                    f"In {called(unit)}, the base is trimmed by so much that the squares of {piece.name} are cut "
                    f"{show(exact, shop.units)}, which is on no line of the ruler.",
                    base,
                    causes=(
                        "Half of what is trimmed from its width and its height is taken from both sides of a corner.",
                        f"A base cut {show(Length(shop.grid), shop.units)} wider or higher settles it.",
                    ),
                )
            )


def _corner(size: Length) -> NeedsSide:
    """The square for a corner that finishes `size` along the edges."""
    return lambda more, seam: size + more + seam * 2


def corner_var(unit: Unit, piece: Component) -> Unknown:
    """The unknown finished size of a corner, along the edges."""
    return of_piece(unit.key, piece.slot, "corner")


def places(unit: Unit) -> list[tuple[str, Span]] | Problem:
    """Which corners are flipped, in the writer's order; all four from the top left clockwise when nothing is said."""
    line = option(unit, "at")
    if line is None:
        return [(c, unit.kind_span) for c in CORNERS]
    found = where({name: name for name in PLACES}, line, unit)
    if isinstance(found, Problem):
        return found
    named: dict[str, Span] = {}
    for name, span in found:
        for corner in PLACES[name]:
            if corner in named:
                return Problem("named-twice", f"In {called(unit)}, the corner at the {corner} is named twice.", span)
            named[corner] = span
    return list(named.items())


def corner_triangle(name: str, w: Length, h: Length, c: Length) -> tuple[Point, Point, Point]:
    """Where a corner's seam starts, the corner itself, where the seam ends; clockwise round the unit."""
    if name == "top left":
        return (ZERO, c), (ZERO, ZERO), (c, ZERO)
    if name == "top right":
        return (w - c, ZERO), (w, ZERO), (w, c)
    if name == "bottom right":
        return (w, h - c), (w, h), (w - c, h)
    return (c, h), (ZERO, h), (ZERO, h - c)


def base_outline(w: Length, h: Length, sizes: dict[str, Length]) -> Outline:
    """What shows of the base: the rectangle without its flipped corners."""
    points: list[Point] = []
    for name in CORNERS:
        before, corner, after = corner_triangle(name, w, h, sizes.get(name, ZERO))
        for p in (before, after) if name in sizes else (corner,):
            if p not in points:
                points.append(p)
    return tuple(points)
