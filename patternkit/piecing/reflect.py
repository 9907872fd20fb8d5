"""Mirrored units: the making seen in a mirror, and whether a turn gives the same thing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, MutableMapping

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.piecing.keys import AnyKey, Key, Thing
from patternkit.piecing.making import (
    Apart,
    Cloth,
    Making,
    Outline,
    Part,
    PieceCut,
    Place,
    Placed,
    Point,
    Recipe,
    Seam,
    rectangle,
)
from patternkit.piecing.offset import minus

Known = MutableMapping[AnyKey, tuple[Making, int]]
Patch = tuple[str, frozenset[Point]]

WHERE_IT_LIES = Place()
OTHER_SEAMS = 2
"""What the version of a unit differs by whose seams are the mirror image of another's that looks the same."""
_QUARTERS: tuple[int, ...] = (0, 90, 180, 270)
_ANY: tuple[int, ...] = tuple(sorted({*range(0, 360, 30), *range(0, 360, 45)}))
_ON_POINT = ("on-point", "diagonal-row", "diagonal-sashing")
"""Parts of a setting on point, of which rows must still run up when they are seen in a mirror."""
_SWAPPED = {"left": "right", "right": "left"}


def flattened(part: Part, place: Place = WHERE_IT_LIES, sewn: bool = False) -> Iterator[tuple[Cloth, Place]]:
    """Every piece of cloth in a part, with its placement in the coordinates of the whole; of units with shapes laid on
    them without these, where it is asked what is `sewn`."""
    if isinstance(part, Cloth):
        yield part, place
    else:
        for inner in part.parts[:1] if sewn and part.is_layered else part.parts:
            if not inner.shown:
                yield from flattened(inner.what, inner.place.then(place), sewn)
            else:
                yield from ((cloth, place) for cloth in showing(inner))


def showing(part: Placed) -> Iterator[Cloth]:
    """What shows of a part over whose corners others are flipped: its pieces, where they lie in the whole."""
    from patternkit.piecing.division import within  # only what corners are flipped onto needs it

    for cloth, lies in flattened(part.what, part.place):
        kept = within(lies.outline(cloth.outline), part.shown)
        if kept:
            grain = minus(lies.point(cloth.grain), lies.point((ZERO, ZERO)))
            yield msgspec.structs.replace(cloth, outline=kept, grain=grain)


def patches(part: Part, place: Place = WHERE_IT_LIES) -> frozenset[Patch]:
    """What a part shows: each patch's fabric and its corners, exact, in the coordinates of the whole."""
    return frozenset((cloth.fabric, frozenset(p.outline(cloth.outline))) for cloth, p in flattened(part, place))


def corner_place(outline: Outline, turned: int) -> Place:
    """The placement that turns an outline and brings its bounding box's top left corner to (0, 0)."""
    points = Place(turned=turned).outline(outline)
    return Place(-min(p[0] for p in points), -min(p[1] for p in points), turned)


def mirror(making: Making, known: Known | None = None) -> tuple[Making, int]:
    """The making seen in a mirror (left to right), and a turn to lay it with.

    When a turn of the making itself looks the same, that making is returned with the turn: laid with it, its bounding
    box's top left corner brought back to (0, 0), it is the mirrored unit. Otherwise a new making, with a turn where its
    blocks stand on point. `known` keeps the answers for the units inside, so that units shared before are shared again.
    """
    known = {} if known is None else known
    if making.key not in known:
        turn = same_turned(making)
        known[making.key] = (making, turn) if turn is not None else _new_image(making, known)
    return known[making.key]


def image_of(making: Making) -> Making:
    """What comes out beside a unit where half of what is sewn at a time are mirror images.

    Where the mirror image looks like the unit, it is the unit with its seams the other way round: another version (the
    long seam of an hourglass on the other diagonal).
    """
    image = _reflected(making, {})
    if same_turned(making) is None:
        return image
    return msgspec.structs.replace(image, key=making.key, title=making.title, version=making.version ^ OTHER_SEAMS)


def beside(making: Making, others: Mapping[Thing, Making]) -> Making | None:
    """The making among others that comes out of the same batches as one of which half are mirror images."""
    if not making.recipe.mirrored:
        return None
    images = Thing(making.key.image, making.version), Thing(making.key, making.version ^ OTHER_SEAMS)
    return next((others[t] for t in images if t in others and others[t] is not making), None)


def same_turned(making: Making) -> int | None:
    """The turn of a making that looks like its mirror image, exactly; None when there is none."""
    image = patches(making, Place(making.width, mirrored=True))
    box = rectangle(making.width, making.height)
    turns = _QUARTERS if set(making.outline) == set(box) else _ANY
    for turn in turns:
        place = corner_place(making.outline, turn)
        if patches(making, place) == image:
            return turn
    return None


def _new_image(making: Making, known: Known) -> tuple[Making, int]:
    """A new making that is the mirror image, and a turn to lay it with."""
    if making.kind not in _ON_POINT:
        return _reflected(making, known), 0
    from patternkit.piecing.diagonal_image import image

    def part(placed: Placed, width: Length) -> Placed:
        return _part(placed, width, known)

    recipe = _recipe(making.recipe, making.width)
    return image(making, part, recipe)


def _reflected(making: Making, known: Known) -> Making:
    """A new making, everything in it left to right."""
    width = making.width
    assert isinstance(making.key, Key)  # nothing of the quilt's own lies in a unit
    key = making.key.image
    if making.recipe.apart is not None:
        return _other_piece(making, key, making.recipe.apart, known)
    return msgspec.structs.replace(
        making,
        key=key,
        outline=_outline(making.outline, width),
        parts=tuple(_part(p, width, known) for p in making.parts),
        seams=tuple(_seam(s, width) for s in making.seams),
        recipe=_recipe(making.recipe, width),
    )


def _other_piece(making: Making, key: Key, apart: Apart, known: Known) -> Making:
    """The piece that comes of the mirror image of the unit that is cut apart."""
    from patternkit.piecing.apart import cut_piece, mirrored, whole_size

    whole = _part(apart.whole, whole_size(apart)[0], known)
    parts, seams, apart = cut_piece(mirrored(apart, whole))
    recipe = msgspec.structs.replace(making.recipe, apart=apart)
    return msgspec.structs.replace(
        making, key=key, outline=_outline(making.outline, making.width), parts=parts, seams=seams, recipe=recipe
    )


def _point(p: Point, width: Length) -> Point:
    return width - p[0], p[1]


def _outline(points: Outline, width: Length) -> Outline:
    """Mirrored within `width`, and again clockwise."""
    return tuple(_point(p, width) for p in reversed(points))


def _part(part: Placed, width: Length, known: Known) -> Placed:
    """A part of a mirrored whole."""
    image = _image(part, width, known)
    return msgspec.structs.replace(image, shown=_outline(part.shown, width)) if part.shown else image


def _image(part: Placed, width: Length, known: Known) -> Placed:
    """Cloth with a mirrored outline, a unit as its own mirrored making."""
    what, old = part.what, part.place
    if isinstance(what, Cloth):
        # the cloth's own coordinates are mirrored about x = 0, its placement then turns the other way
        place = Place(width - old.dx, old.dy, -old.turned % 360, old.mirrored)
        return Placed(
            msgspec.structs.replace(
                what,
                outline=_outline(what.outline, ZERO),
                name=what.name.image if what.name is not None else None,
                grain=(-what.grain[0], what.grain[1]),
            ),
            place,
        )
    if old.mirrored:  # a mirrored placement of a unit: its mirror image is the unit itself, turned the other way
        return Placed(what, Place(width - old.dx, old.dy, -old.turned % 360))
    image, turn = mirror(what, known)
    laid = corner_place(image.outline, turn)
    turned = Place(turned=-old.turned % 360)
    back = turned.point((what.width, ZERO))
    moved = Place(width - old.dx - back[0], old.dy - back[1], turned.turned)
    return Placed(image, laid.then(moved))


def _seam(s: Seam, width: Length) -> Seam:
    """A mirrored seam runs the other way, so that what lay on its left still does."""
    return msgspec.structs.replace(
        s,
        start=_point(s.end, width),
        end=_point(s.start, width),
        path=tuple(_point(p, width) for p in reversed(s.path)),
        spun=None if s.spun is None else _point(s.spun, width),
    )


def _cut(c: PieceCut) -> PieceCut:
    """A mirrored template; rectangles and squares stay as they are, but for the way they are halved."""
    name = c.name.image if c.name is not None else None
    if not c.shape:
        return msgspec.structs.replace(c, name=name, leans=_SWAPPED.get(c.leans, c.leans))
    wide = max(p[0] for p in c.shape) + min(p[0] for p in c.shape)
    return msgspec.structs.replace(c, name=name, shape=_outline(c.shape, wide), sewn=_outline(c.sewn, wide))


def _recipe(recipe: Recipe, width: Length) -> Recipe:
    """The same recipe with its cuts mirrored."""
    cuts = tuple(_cut(c) for c in recipe.cuts)
    return msgspec.structs.replace(recipe, cuts=cuts, numbers=recipe.numbers.mirrored(width))
