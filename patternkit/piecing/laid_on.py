"""Shapes laid on a ground: a sewn unit, or a plain patch, with other units and strips on top of it.

The ground is the unit without what is laid on it, a sewn thing of its own; what is laid on lies over it, in the order
of its lines, each over those before. Points are measured from the finished upper left corner of the unit.
"""

from __future__ import annotations

from math import hypot

import msgspec

from patternkit.lengths import ONE, SQRT2, ZERO, Length
from patternkit.model.on_ground import OnGround
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.freeform import plain
from patternkit.piecing.keys import Key
from patternkit.piecing.kinds.base import Shop, Unsettled
from patternkit.piecing.kinds.laid_shape import ALLOWANCE, FUSED, RAW, WAYS, TurnedUnder
from patternkit.piecing.laid_strips import StripPath, on_track
from patternkit.piecing.making import LAYERED, Cloth, Making, Numbers, Outline, PieceCut, Place, Placed, Point, Recipe
from patternkit.piecing.method import Method, meant
from patternkit.piecing.names import Name
from patternkit.piecing.offset import bounding_box
from patternkit.piecing.shapes import called, merged, shown
from patternkit.piecing.templates import up
from patternkit.problems import Problem

APPLIQUE = Method("applique", "applique", exact=True)
GROUND, STRIP = Name("ground"), Name("bias strip")
SHOWS = 1 / 256
"""What is narrower does not show, in inches; chords of equal arcs lie apart by less."""


class LaidPart(msgspec.Struct, frozen=True):
    """One thing that is laid on: where its middle lies, or the `track` of a strip; how wide a strip finishes, and which
    of its ends a seam catches; how much is turned under all round, nothing for a raw edge; its way."""

    at: Point
    turned: Length
    way: Method
    track: StripPath | None = None
    wide: Length = ZERO
    caught: tuple[bool, bool] = (False, False)
    cut: tuple[Length, Length] = (ZERO, ZERO)  # how long and how wide a strip is cut
    called: str = ""  # what a unit is called; the fabric of a strip
    degrees: int = 0  # by how many it is turned clockwise

    @property
    def clockwise(self) -> int:
        """1 for a strip along an arc that runs clockwise, -1 for one against that; 0 for anything else."""
        angle = self.track.angle if self.track is not None else 0.0
        return (angle > 0) - (angle < 0)

    def mirrored(self, width: Length) -> LaidPart:
        """The same in the mirror image of a unit so wide."""
        track = self.track.mirrored(width) if self.track is not None else None
        at = width - self.at[0], self.at[1]
        return msgspec.structs.replace(self, at=at, track=track, degrees=-self.degrees % 360)


class LaidOn(Numbers, frozen=True):
    """What is laid on a ground, by the parts of the unit from its second on; how much larger than needed the ground is
    cut each way."""

    laid: tuple[LaidPart, ...]
    larger: Point = (ZERO, ZERO)

    def mirrored(self, width: Length) -> Numbers:
        """Everything left to right."""
        return LaidOn(tuple(part.mirrored(width) for part in self.laid), self.larger)


def laid_part(making: Making, number: int) -> LaidPart:
    """What lies as a part of so high a number on a unit with things laid on it."""
    numbers = making.recipe.numbers
    assert isinstance(numbers, LaidOn)
    return numbers.laid[number - 1]


def with_laid_on(ground: Making, unit: Unit, shop: Shop) -> Making:
    """A unit with what is laid on it. Raises Unsettled after reporting what can't be."""
    if ground.recipe.apart is not None:
        why = "What is laid on a unit that is cut apart is laid on it before: under the unit that is cut."
        shop.problem(Problem("out-of-place", f"On the pieces of {called(unit)} nothing can be laid.",
                             unit.laid_on[0].span, causes=(why,)))  # fmt: skip
        raise Unsettled(unit.key)
    assert isinstance(ground.key, Key)
    under = msgspec.structs.replace(ground, key=msgspec.structs.replace(ground.key, piece=GROUND), role="unit")
    larger = _larger(ground, shop)
    parts, laid, cuts = [Placed(under)], [], []
    cut: PieceCut | None
    for piece in unit.laid_on:
        assert piece.on is not None
        if piece.on.wide is not None:
            placed, part, cut = _strip(piece, piece.on, unit, ground, larger, shop)
        else:
            placed, part, cut = _unit(piece, piece.on, unit, ground, shop)
        parts.append(placed)
        laid.append(part)
        cuts += [cut] if cut is not None else []
    _must_show(unit, parts[1:], shop)
    recipe = Recipe(APPLIQUE, merged(cuts), numbers=LaidOn(tuple(laid), larger))
    return msgspec.structs.replace(ground, kind=LAYERED, parts=tuple(parts), seams=(), recipe=recipe)


def _larger(ground: Making, shop: Shop) -> Point:
    """How much wider and higher a ground is cut than it need be."""
    if not _is_patch(ground):
        return ZERO, ZERO
    cut = ground.recipe.cuts[0]
    return cut.width - ground.width - shop.seam * 2, cut.height - ground.height - shop.seam * 2


def _is_patch(ground: Making) -> bool:
    return ground.recipe.method.as_cut and len(ground.recipe.cuts) == 1 and not ground.recipe.cuts[0].then


# -- units ------------------------------------------------------------------------------------------------
def _unit(piece: Component, on: OnGround, unit: Unit, ground: Making, shop: Shop) -> tuple[Placed, LaidPart, None]:
    """A unit with its middle on a point."""
    what, place = shop.part(unit, piece)
    at = shop.value(on.at[0]), shop.value(on.at[1])
    width, height = (what.width, what.height) if isinstance(what, Making) else (ZERO, ZERO)
    turned = place.then(Place(-width / 2, -height / 2)).then(Place(at[0], at[1], on.turned))
    placed = Placed(what, turned)
    _must_lie_on(placed.outline, piece, on, unit, ground, shop)
    numbers = what.recipe.numbers if isinstance(what, Making) else Numbers()
    own = isinstance(numbers, TurnedUnder) and isinstance(what, Making)
    way = what.recipe.method if isinstance(what, Making) and own else WAYS[0]
    under = numbers.turned if isinstance(numbers, TurnedUnder) else shop.seam
    called_so = what.called if isinstance(what, Making) else piece.name
    return placed, LaidPart(at, under, way, called=called_so, degrees=on.turned), None


def _must_lie_on(outline: Outline, piece: Component, on: OnGround, unit: Unit, ground: Making, shop: Shop) -> None:
    """Refuse what reaches over the finished edge of its ground; say by how much, and where there would be room."""
    over = max(_beyond(plain(p), ground.outline) for p in outline)
    if over <= 1e-4:
        return
    (x0, y0), (x1, y1) = bounding_box(outline)
    wide, high = x1 - x0, y1 - y0
    far = shown(up(Length(int(over * 4096) + 1) / 4096, shop.grid), shop)
    ground_size = f"{shown(ground.width, shop)} x {shown(ground.height, shop)}"
    size = f"{shown(up(wide, shop.grid), shop)} x {shown(up(high, shop.grid), shop)}"
    causes = [f"It takes {size} as it lies, and the ground finishes {ground_size}."]
    if wide > ground.width or high > ground.height:
        message = f"{piece.name} is larger than its ground, {called(unit)}."
    else:
        into = "into the seam allowance" if over < float(shop.seam) else "off the cloth"
        message = f"On {called(unit)}, {piece.name} reaches {far} over the edge of its ground, {into}."
        low, high_x = shown(up(wide / 2, shop.grid), shop), shown(_down(ground.width - wide / 2, shop), shop)
        top, bottom = shown(up(high / 2, shop.grid), shop), shown(_down(ground.height - high / 2, shop), shop)
        causes.append(f"Its middle may lie from {low} to {high_x} across, and from {top} to {bottom} down.")
    shop.problem(Problem("off-the-ground", message, on.place, causes=tuple(causes)))
    raise Unsettled(unit.key)


def _must_show(unit: Unit, laid: list[Placed], shop: Shop) -> None:
    """Refuse something that lies wholly under one that is laid on later."""
    rings = [[plain(p) for p in part.outline] for part in laid]
    for n, ring in enumerate(rings):
        for later in range(n + 1, len(rings)):
            if _covers(rings[later], ring):
                lower, upper = unit.laid_on[n], unit.laid_on[later]
                message = f"On {called(unit)}, {lower.name} lies wholly under {upper.name} and does not show."
                why = "Later lines lie over earlier ones: what is to lie on top stands last."
                shop.problem(Problem("off-the-ground", message, lower.span, causes=(why,)))
                raise Unsettled(unit.key)


def _covers(upper: list[tuple[float, float]], lower: list[tuple[float, float]]) -> bool:
    """Whether all of one outline lies in another: its corners do, and no notch of the other reaches into it."""
    return all(_holds(upper, p) or _away(upper, p) < SHOWS for p in lower) and not any(
        _holds(lower, p) and _away(lower, p) >= SHOWS for p in upper
    )


def _away(ring: list[tuple[float, float]], p: tuple[float, float]) -> float:
    """How far a point lies from the nearest edge of a ring."""
    found = float("inf")
    for i, (x, y) in enumerate(ring):
        u, v = ring[i - 1][0] - x, ring[i - 1][1] - y
        part = min(1.0, max(0.0, ((p[0] - x) * u + (p[1] - y) * v) / (u * u + v * v or 1.0)))
        found = min(found, hypot(p[0] - x - u * part, p[1] - y - v * part))
    return found


def _holds(ring: list[tuple[float, float]], p: tuple[float, float]) -> bool:
    """Whether a point lies inside a ring, by the edges that a level ray from it crosses."""
    inside = False
    for i, (x, y) in enumerate(ring):
        u, v = ring[i - 1]
        if (y > p[1]) != (v > p[1]) and p[0] < x + (p[1] - y) * (u - x) / (v - y):
            inside = not inside
    return inside


def _down(value: Length, shop: Shop) -> Length:
    return Length(value.floor_to(shop.grid))


def _beyond(p: tuple[float, float], outline: Outline) -> float:
    """How far a point lies outside a convex outline; less than nothing inside it."""
    ring, worst = [plain(q) for q in outline], float("-inf")
    for i, a in enumerate(ring):
        b = ring[(i + 1) % len(ring)]
        x, y = b[0] - a[0], b[1] - a[1]
        worst = max(worst, ((p[0] - a[0]) * y - (p[1] - a[1]) * x) / hypot(x, y))
    return worst


# -- strips -----------------------------------------------------------------------------------------------
def _strip(
    piece: Component, on: OnGround, unit: Unit, ground: Making, larger: Point, shop: Shop
) -> tuple[Placed, LaidPart, PieceCut]:
    """A bias strip along a line or an arc."""
    assert on.wide is not None and on.to is not None
    start, end = ((shop.value(p[0]), shop.value(p[1])) for p in (on.at, on.to))
    about = (shop.value(on.about[0]), shop.value(on.about[1])) if on.about is not None else None
    wide, way = shop.value(on.wide), meant(WAYS, on.way) or WAYS[0]
    turned = ZERO if way in (RAW, FUSED) else ALLOWANCE
    try:
        beyond = shop.seam + max(larger) / 2
        track = on_track(StripPath(start, end, about), (wide, turned), ground.outline, beyond, shop)
    except ValueError as wrong:
        message = f"On {called(unit)}, a strip of {piece.name} can't be laid: {wrong}."
        shop.problem(Problem("off-the-ground", message, on.span))
        raise Unsettled(unit.key) from None
    fabric = shop.fabric(unit, piece)
    cloth = Cloth(fabric, track.outline, (ONE, ZERO), STRIP, template=True)
    cut = strip_cut(fabric, track.cut, wide + turned * 2, shop)
    return (
        Placed(cloth),
        LaidPart(start, turned, way, track.path, wide, track.caught, (track.cut, wide + turned * 2), fabric),
        cut,
    )


def strip_cut(fabric: str, long: Length, wide: Length, shop: Shop) -> PieceCut:
    """A strip on the bias, by its raw length and width."""
    shape = on_bias(long, wide)
    side = max(p[0] for p in shape)
    lines = up(side, shop.grid)
    return PieceCut(fabric, lines, lines, side, side, 1, "template", STRIP, shape, sewn=shape)


def on_bias(long: Length, wide: Length) -> Outline:
    """A rectangle that lies on the cloth turned by 45 degrees, its box's upper left corner at (0, 0)."""
    a, b = long / SQRT2, wide / SQRT2
    return (b, ZERO), (a + b, a), (a, a + b), (ZERO, b)
