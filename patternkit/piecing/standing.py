"""Units where cloth stands: a piece of any kind is a fabric or, as well, a unit that is sewn already.

A kind draws its pieces as cloth, whatever they are. For a unit it is given cloth of a fabric that nobody has, its
`stand_in`; once the kind is done, the units are put in the places of these, here, and for all kinds alike. A unit is
sewn in whole, and has the shape of its place; what is `laid` is cut from a strip unit by a template.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import msgspec

from patternkit.model.pattern import Component, Unit
from patternkit.piecing.kinds import kind_of
from patternkit.piecing.kinds.base import Shop, Unsettled
from patternkit.piecing.kinds.slices_strips import StripTemplate, laid_on, one_strip, strip_piece
from patternkit.piecing.making import Cloth, Making, Outline, PieceCut, Place, Placed, Recipe
from patternkit.piecing.method import PIECED, meant
from patternkit.piecing.names import Name, english
from patternkit.piecing.offset import CannotOffset, bounding_box, box_size, moved
from patternkit.piecing.reflect import patches
from patternkit.piecing.shapes import called, merged, shown
from patternkit.piecing.templates import template_cut
from patternkit.piecing.tips import Trims, dog_ears
from patternkit.problems import Problem, Repair
from patternkit.source import Span

TURNS = (0, 45, 90, 135, 180, 225, 270, 315, 30, 60, 120, 150, 210, 240, 300, 330)
"""By how many degrees a place may be turned against the first that the same piece has, or against an upright one."""


def stand_in(piece: Component) -> str:
    """The fabric of the cloth that stands for a unit; no fabric has a name like it."""
    return f"\n{piece.slot}"


def must_be_cloth(unit: Unit, piece: Component) -> Problem | None:
    """The problem of a unit in a place where nobody sews one, with what to write instead."""
    kind = kind_of(unit.kind)
    if kind is not None and kind.cloth_only:
        return Problem(
            "must-be-cloth",
            f"In {called(unit)}, {piece.name} must be a fabric: a {unit.kind} is cut from plain cloth.",
            piece.span,
            causes=(kind.cloth_only,),
        )
    return None


def no_strip_unit(piece: Component) -> Problem:
    """The problem of a piece that is to be cut from a unit that is not as long as one likes."""
    return Problem(
        "must-be-cloth",
        f"Nothing can be cut from {piece.name}: it is no strip unit.",
        piece.span,
        causes=(
            "With laid, a piece is cut from a unit of strips, which is as long as one likes; any other unit is "
            "sewn in whole.",
        ),
        repairs=(Repair("leave out laid"),),
    )


def with_units(making: Making, unit: Unit, shop: Shop, units: Mapping[str, Component]) -> Making:
    """A making with units in the places of the cloth that stands for them: `units` are these by their stand-ins.

    Where its method sews a unit in as it is, that is all. Else every piece is cut by template. Raises Unsettled after
    reporting what can't be.
    """
    whole = all(piece.laid is None for piece in units.values())
    if making.recipe.method.holds_units and whole:
        parts = [p for p, _ in _placed(making, unit, shop, units, [{}] * len(making.parts))]
        cuts = tuple(c for c in making.recipe.cuts if c.fabric not in units)
        recipe = msgspec.structs.replace(making.recipe, cuts=cuts)
        return msgspec.structs.replace(making, parts=tuple(parts), recipe=recipe)
    _may_be_templates(unit, making, units, shop)
    outlines = [p.place.outline(p.what.outline) for p in making.parts]
    kept = [n for n, (_, piece) in enumerate(_standing(making, units)) if piece is not None and piece.laid is None]
    placed = list(_placed(making, unit, shop, units, dog_ears(outlines, making.seams, shop.seam, kept)))
    recipe = Recipe(PIECED, merged(cut for _, cut in placed if cut is not None))
    return msgspec.structs.replace(making, parts=tuple(p for p, _ in placed), recipe=recipe)


def _standing(making: Making, units: Mapping[str, Component]) -> Iterator[tuple[Placed, Component | None]]:
    """Each part with the unit that it stands for."""
    for p in making.parts:
        yield p, units.get(p.what.fabric) if isinstance(p.what, Cloth) else None


def _placed(
    making: Making, unit: Unit, shop: Shop, units: Mapping[str, Component], trims: list[Trims]
) -> Iterator[tuple[Placed, PieceCut | None]]:
    """Each part in its place, with its template where it is cloth. Places that one piece has in common are filled
    alike, turned as their shapes are against the first."""
    first: dict[str, tuple[Outline, Placed]] = {}
    for n, (p, piece) in enumerate(_standing(making, units)):
        outline = p.place.outline(p.what.outline)
        if piece is None:
            yield p, _template(unit, p, outline, trims[n], shop)
            continue
        if piece.slot in first:
            turn = _turn(first[piece.slot][0], outline)
            if turn is not None:
                again = _turned(first[piece.slot], turn, outline)
                yield again, _template(unit, again, outline, trims[n], shop)
                continue
        name = p.what.name if isinstance(p.what, Cloth) else None
        own = Name("piece", (n + 1,))
        if piece.laid is None and n == 0 and making.recipe.method.flips:
            whole = _whole(unit, piece, making.outline, "the unit, over whose corners others are flipped", shop)
            found = msgspec.structs.replace(whole, shown=outline)
        elif piece.laid is None:
            called_so = "its place" if name is None else f"the {english(name)}"
            found = _whole(unit, piece, outline, called_so, shop, making.recipe.method.inward)
        else:
            found = _known(_cut_from(unit, piece, outline, own, trims[n], shop), first)
            plain = one_strip(found, outline, name)
            found = found if plain is None else Placed(plain)
        first.setdefault(piece.slot, (outline, found))
        yield found, _template(unit, found, outline, trims[n], shop)


def _whole(unit: Unit, piece: Component, outline: Outline, name: str, shop: Shop, inward: bool = False) -> Placed:
    """A unit as it is sewn in the place of a piece, upright if it fits so, else on its point or turned as it fits; with
    `inward` first corner on first corner, if that fits."""
    what, place = shop.part(unit, piece)
    lies = place.outline(what.outline)
    turns = [t for t in (0, 180, *TURNS) if _fits(lies, outline, t)]
    turn = next((t for t in turns if inward and _corner_on_corner(lies, outline, t)), turns[0] if turns else None)
    if turn is not None:
        return _on(Placed(what, place), lies, turn, outline)
    wide, high = (shown(side, shop) for side in box_size(what.outline))
    repairs: tuple[Repair, ...] = ()
    own_wide, own_high = (shown(side, shop) for side in box_size(outline))
    causes = [
        f"{piece.name} finishes {wide} x {high}; a unit is sewn in whole, and has the shape of its place.",
        f"Its place finishes {own_wide} x {own_high}, from side to side as the unit is drawn.",
    ]
    if isinstance(what, Making) and what.kind == "strips":
        causes.append("A piece is cut from a strip unit where laid stands behind its name.")
        repairs = (Repair(f"write {piece.name} laid", Span(piece.span.file, piece.span.end, piece.span.end), " laid"),)
    alike = len(what.outline) == len(outline)
    shop.problem(
        Problem(
            "does-not-add-up" if alike else "must-be-cloth",
            f"In {called(unit)}, {piece.name} does not have the shape of {name}.",
            piece.span,
            causes=tuple(causes),
            repairs=repairs,
        )
    )
    raise Unsettled(unit.key)


def _cut_from(unit: Unit, piece: Component, outline: Outline, name: Name, trims: Trims, shop: Shop) -> Placed:
    """A piece cut from a strip unit, which lies as it is drawn."""
    strips, place, at = laid_on(unit, shop, piece, outline)
    return strip_piece(unit, shop, outline, piece, at, strips, place, name, trims)


def _known(piece: Placed, first: Mapping[str, tuple[Outline, Placed]]) -> Placed:
    """A piece cut from a strip unit, as one of those before where it is cut alike."""
    new = piece.what
    for _, other in first.values():
        old = other.what
        if isinstance(old, Making) and isinstance(new, Making) and _cut_alike(old, new):
            return msgspec.structs.replace(piece, what=old)
    return piece


def _cut_alike(one: Making, other: Making) -> bool:
    """Whether two pieces have one template, which lies alike on strip units sewn alike."""
    ours, others = one.recipe.numbers, other.recipe.numbers
    if not isinstance(ours, StripTemplate) or not isinstance(others, StripTemplate):
        return False
    shapes = [(set(n.raw), n.from_edge, n.strips, n.first, n.unit) for n in (ours, others)]
    return shapes[0] == shapes[1] and patches(one) == patches(other) and one.seams == other.seams


def _fits(shape: Outline, outline: Outline, turn: int) -> bool:
    """Whether a shape that is turned is an outline, but for where it lies."""
    there, here = Place(turned=turn).outline(shape), outline
    if box_size(there) != box_size(here):
        return False
    (x0, y0), (x1, y1) = bounding_box(there)[0], bounding_box(here)[0]
    return {(x - x0, y - y0) for x, y in there} == {(x - x1, y - y1) for x, y in here}


def _turn(shape: Outline, outline: Outline) -> int | None:
    """By how much an outline is turned against a shape: corner on corner where that can be; None for another shape."""
    found = [turn for turn in TURNS if _fits(shape, outline, turn)]
    return next((turn for turn in found if _corner_on_corner(shape, outline, turn)), found[0] if found else None)


def _corner_on_corner(shape: Outline, outline: Outline, turn: int) -> bool:
    there = Place(turned=turn).outline(shape)
    off = outline[0][0] - there[0][0], outline[0][1] - there[0][1]
    return moved(there, off) == outline


def _on(part: Placed, lies: Outline, turn: int, outline: Outline) -> Placed:
    """A part, which lies so, turned further and moved on an outline."""
    place = part.place.then(Place(turned=turn))
    there, here = bounding_box(Place(turned=turn).outline(lies))[0], bounding_box(outline)[0]
    return Placed(
        part.what,
        msgspec.structs.replace(place, dx=place.dx + here[0] - there[0], dy=place.dy + here[1] - there[1]),
    )


def _turned(first: tuple[Outline, Placed], turn: int, outline: Outline) -> Placed:
    """What lies in the first place, in one that is turned against it."""
    cloth = first[1].what
    if isinstance(cloth, Cloth):
        grain = Place(turned=turn).point(cloth.grain)
        return Placed(msgspec.structs.replace(cloth, outline=outline, grain=grain))
    return _on(first[1], first[0], turn, outline)


def _template(unit: Unit, p: Placed, outline: Outline, trims: Trims, shop: Shop) -> PieceCut | None:
    """The template of a piece of plain cloth."""
    if not isinstance(p.what, Cloth):
        return None
    try:
        return template_cut(msgspec.structs.replace(p.what, outline=outline), shop, trims)
    except CannotOffset as wrong:
        shop.problem(Problem("cannot-sew", f"In {called(unit)}, a piece can't be cut: {wrong}.", unit.kind_span))
        raise Unsettled(unit.key) from None


def _may_be_templates(unit: Unit, making: Making, units: Mapping[str, Component], shop: Shop) -> None:
    """Refuse a method that the writer asks for and that sews from plain squares."""
    if unit.method is None or meant((PIECED,), unit.method.words) is not None:
        return
    piece = next(iter(units.values()))
    shop.problem(
        Problem(
            "method-cannot",
            f"In {called(unit)}, {piece.name} is a unit, and the method {unit.method.words} is sewn from plain cloth.",
            unit.method.span,
            causes=("Pieces that are units, or are cut from strip units, are sewn in one by one, cut by templates.",),
            repairs=(Repair("leave this line out, or write method from triangles"),),
        )
    )
    raise Unsettled(unit.key)
