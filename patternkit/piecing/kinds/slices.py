"""Slices: a shape divided by lines from edge to edge, each taking off one piece; sewn in the reverse order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar

import msgspec

from patternkit.model.pattern import Component, Unit
from patternkit.piecing.arcs import threaded
from patternkit.piecing.asking import choice, chosen, option, pieces, problems
from patternkit.piecing.division import CannotDivide, divide, inside_of
from patternkit.piecing.kinds.base import Equations, Kind, Shop, Unsettled
from patternkit.piecing.kinds.slices_lines import Reading, Slice, StripLay, extra_length, in_vain, read
from patternkit.piecing.kinds.slices_order import SliceSeam, clean_path, grouped, piece_names, sewing_order, slice_seam
from patternkit.piecing.kinds.slices_paths import SlicePath, path_of
from patternkit.piecing.kinds.slices_points import Places, Unread, side_of
from patternkit.piecing.kinds.slices_ruled import (
    CORNER,
    core_of,
    corner_recipe,
    halved,
    halves_recipe,
    rectangle_cut,
)
from patternkit.piecing.kinds.slices_strips import corner_of, laid_on, one_strip, strip_piece
from patternkit.piecing.making import Cloth, Making, Outline, PieceCut, Place, Placed, Recipe, Seam
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name, english
from patternkit.piecing.offset import CannotOffset, area, bounding_box, box_size, clean, is_convex, moved
from patternkit.piecing.round_outlines import round_outline
from patternkit.piecing.shapes import called, merged, shown
from patternkit.piecing.templates import EXTRA, PaperExtra, foundation_cut, shape_cut, shaped, template_cut
from patternkit.piecing.tips import Trims, dog_ears
from patternkit.problems import Problem, Repair
from patternkit.source import Span

TEMPLATES = Method("templates", "slices-templates", drawn="joins")
RECTANGLES = Method("rectangles", "slices-templates", drawn="joins")
FOUNDATION = Method("foundation", "slices-foundation", drawn="joins", formula="foundation", on_paper=True)


class SlicedPiece(msgspec.Struct, frozen=True):
    """A piece of the divided shape: what it is cut from, its outline, and the lay on a strip unit."""

    region: int
    outline: Outline
    piece: Component
    lay: StripLay | None


class Slices(Kind):
    """``slices sea`` with ``slice from 1/3 of top to 2/3 of bottom, night`` lines under it; the piece named on the
    kind's line is what is left at the end."""

    words: ClassVar[tuple[str, ...]] = ("slices",)
    shapes: ClassVar[bool] = True
    methods: ClassVar[tuple[Method, ...]] = (TEMPLATES, FOUNDATION)
    options: ClassVar[dict[str, str]] = {
        "slice": "slice from 1/3 of top to 2/3 of bottom, night left",
        "outline": "outline middle of top, bottom right, bottom left",
        "lay": "lay 0 x 1",
        "extra": "extra 1/4",
        "dog-ears": "dog-ears kept",
    }

    def equations(self, unit: Unit, out: Equations) -> None:
        """Nothing but what the writer says holds between its sizes."""
        once = tuple({o.word: o for o in unit.options}.values())
        for problem in problems(self, msgspec.structs.replace(unit, options=once)):
            out.problem(problem)
        reading = read(unit)
        method = choice(self, unit)
        vain = () if isinstance(method, Problem) else in_vain(unit, reading, method.method.on_paper)
        for problem in (*reading.problems, *vain):
            out.problem(problem)
        if not any(o.word == "slice" for o in unit.options):
            out.problem(
                Problem(
                    "wrong-pieces",
                    f"{called(unit).capitalize()} has no slice.",
                    unit.kind_span,
                    causes=(f"A slice is written like this: {self.options['slice']}.",),
                )
            )
        if chosen(self, unit).method.on_paper:
            for s in reading.slices:
                if s.set_in or s.about is not None:
                    what = "is set in" if s.set_in else "is an arc"
                    out.problem(
                        Problem(
                            "cannot-sew",
                            f"In {called(unit)}, slice {s.number} {what}, which paper piecing can't do.",
                            s.span,
                            repairs=(Repair(f"write method {TEMPLATES.name}"),),
                        )
                    )

    def make(self, unit: Unit, shop: Shop) -> Making:
        """All pieces, and the seams in the order in which they are sewn."""
        reading = read(unit)
        if reading.problems or not pieces(unit) or not reading.slices:
            raise Unsettled(unit.key)
        width, height = shop.width(unit), shop.height(unit)
        places = Places(unit, shop, width, height)
        outline, leaves, joints = _divided(unit, shop, reading, places)
        sewn, sections = sewing_order(joints)
        order = {region: i for i, region in enumerate(sewn)}
        leaves = sorted(leaves, key=lambda leaf: order[leaf.region])
        paper = chosen(self, unit).method.on_paper
        names = piece_names(sewn, sections)
        seams = [slice_seam(joint, order, paper) for joint in reversed(joints)]
        if places.arcs:
            return _round(unit, shop, outline, leaves, seams, names, places)
        if (ruled := _ruled(unit, shop, outline, leaves, seams, names)) is not None:
            return ruled
        parts, cuts = [], []
        whole = [n for n, leaf in enumerate(leaves) if _is_sewn(unit, leaf.piece, shop)]
        all_trims = dog_ears([leaf.outline for leaf in leaves], seams, shop.seam, whole)
        for leaf, trims in zip(leaves, all_trims, strict=True):
            part, own = _part(
                unit, shop, leaf, names[leaf.region], {} if reading.keep_points else trims, paper, reading
            )
            parts.append(part)
            cuts += own
        recipe = _recipe(unit, shop, reading, paper, cuts)
        return shaped(unit, outline, parts, seams, recipe)


def _divided(
    unit: Unit, shop: Shop, reading: Reading, places: Places
) -> tuple[Outline, list[SlicedPiece], list[SliceSeam]]:
    """The outline, its pieces and the lines between them, lines in the order in which they were written."""
    if reading.outline:
        places.outline = _outline(unit, shop, reading, places)
    base = pieces(unit)[0]
    shapes: dict[int, Outline] = {0: places.outline}
    joints: list[SliceSeam] = []
    for s in reading.slices:
        try:
            path = path_of(s, shapes[s.of], places)
            for p, between in path.new:
                shapes = {n: threaded(shape, p, between) for n, shape in shapes.items()}
            rest, off, off_is_left = _taken(unit, shop, s, shapes[s.of], path)
        except Unread as wrong:
            _refuse(unit, shop, s.number, wrong.span, wrong.text)
        except CannotDivide as wrong:
            where = f"the piece of slice {s.of}" if s.of else "what is left by then"
            _refuse(unit, shop, s.number, s.span, f"on {where}, {wrong}")
        places.lines[s.number] = (path.points[0], path.points[-1])
        line = path.points
        if path.arc is not None:
            places.arcs[s.number] = path.arc
        else:
            line = inside_of(shapes[s.of], path.points)
        shapes[s.of], shapes[s.number] = rest, off
        left, right = ((s.number,), (s.of,)) if off_is_left else ((s.of,), (s.number,))
        joints.append(SliceSeam(line, left, right, s.number, path.arc is not None))
    joints = [msgspec.structs.replace(j, path=places.arcs[j.off].points) if j.curved else j for j in joints]
    named = {0: (base, reading.base_lay), **{s.number: (s.piece, s.lay) for s in reading.slices}}
    leaves = [SlicedPiece(region, shape, *named[region]) for region, shape in shapes.items()]
    return places.outline, leaves, grouped(joints)


def _outline(unit: Unit, shop: Shop, reading: Reading, places: Places) -> Outline:
    """The outline by its points, clockwise."""
    span = reading.outline[0].span.to(reading.outline[-1].span)
    try:
        outline = clean([places.point(spot) for spot in reading.outline])
    except Unread as wrong:
        shop.problem(
            Problem(
                "not-understood",
                f"In {called(unit)}, a point of the outline can't be found: {wrong.text}.",
                wrong.span,
            )
        )
        raise Unsettled(unit.key) from None
    if area(outline) < 0:
        outline = (outline[0], *reversed(outline[1:]))
    low, high = bounding_box(outline)
    if low[0] or low[1] or high != (places.width, places.height):
        shop.problem(
            Problem(
                "does-not-add-up",
                f"The outline of {called(unit)} does not fill its finished size of "
                f"{shown(places.width, shop)} x {shown(places.height, shop)}.",
                span,
                causes=("Its corners must reach all four sides.",),
            )
        )
        raise Unsettled(unit.key)
    if not is_convex(outline):
        shop.problem(
            Problem(
                "cannot-sew",
                f"The outline of {called(unit)} has a corner that points inward, which no straight seam can give.",
                span,
            )
        )
        raise Unsettled(unit.key)
    return outline


def _refuse(unit: Unit, shop: Shop, number: int, span: Span, why: str, *repairs: str) -> None:
    shop.problem(
        Problem(
            "cannot-sew",
            f"In {called(unit)}, slice {number} can't be sewn: {why}.",
            span,
            causes=(
                "Every line runs from one edge of a piece to another, through its inside, so that "
                "the two parts can be joined by one seam.",
            ),
            repairs=tuple(Repair(r) for r in repairs),
        )
    )
    raise Unsettled(unit.key)


def _taken(unit: Unit, shop: Shop, s: Slice, shape: Outline, line: SlicePath) -> tuple[Outline, Outline, bool]:
    """What is left, what comes off, and whether that lies left of the line."""
    path = line.points
    left, right = divide(shape, path)
    if line.arc is None and len(path) > 2 and not s.set_in and len(clean_path(path)) > 2:
        _refuse(
            unit,
            shop,
            s.number,
            s.span,
            "its line bends, and a bent seam is no straight seam",
            "write `set in` after the piece, to sew it as a set-in seam",
            "divide the shape by straight lines",
        )
    if s.side:
        back = Place(turned=-s.turn % 360)  # the word names a side of the line that is written
        way = side_of([back.point(p) for p in (path[0], path[-1])], s.side)
        if not way:
            raise Unread(f"this line has no {s.side} side: it runs straight that way", s.span)
        return (right, left, True) if way < 0 else (left, right, False)
    difference = (area(left) - area(right)).sign()
    if not difference:
        raise Unread("both parts are equally large: say which side comes off, left, right, top or bottom", s.span)
    return (right, left, True) if difference < 0 else (left, right, False)


def _is_sewn(unit: Unit, piece: Component, shop: Shop) -> bool:
    """Whether a piece is a unit as it is sewn: not cloth, nor cut from a strip unit."""
    what = shop.part(unit, piece)[0] if piece.unit and piece.laid is None else None
    return isinstance(what, Making) and what.kind != "strips"


def _may_rule(unit: Unit) -> bool:
    """Whether the writer leaves it to the shapes how they are cut."""
    return unit.method is None and option(unit, "dog-ears") is None


def _ruled(
    unit: Unit,
    shop: Shop,
    outline: Outline,
    leaves: Sequence[SlicedPiece],
    seams: Sequence[Seam],
    names: Mapping[int, Name],
) -> Making | None:
    """The unit with triangles that a ruler cuts; None where it has none, or the writer wants templates."""
    shapes = [leaf.outline for leaf in leaves]
    if not _may_rule(unit) or not all(leaf.piece.fabric for leaf in leaves):
        return None
    size = box_size(outline)
    if halved(outline, shapes, shop):
        cloths = [Cloth(leaf.piece.fabric, leaf.outline) for leaf in leaves]
        return shaped(unit, outline, cloths, seams, halves_recipe(shop, size, cloths))
    core = core_of(outline, shapes, seams, shop)
    if core is None:
        return None
    cloths = [Cloth(leaf.piece.fabric, leaf.outline, name=CORNER) for leaf in leaves]
    middle = Cloth(leaves[core].piece.fabric, shapes[core], name=names[leaves[core].region], template=True)
    try:
        cloths[core], cut = rectangle_cut(middle, shop) or (middle, template_cut(middle, shop))
    except CannotOffset:
        return None
    recipe = corner_recipe(shop, core, cut, cloths)
    return shaped(unit, outline, cloths, seams, recipe)


def _round(
    unit: Unit,
    shop: Shop,
    outline: Outline,
    leaves: Sequence[SlicedPiece],
    seams: Sequence[Seam],
    names: Mapping[int, Name],
    places: Places,
) -> Making:
    """A unit with arcs: every piece of plain cloth, by its template."""
    cloths, cuts = [], []
    for leaf in leaves:
        cloth = Cloth(leaf.piece.fabric, leaf.outline, name=names[leaf.region], template=True)
        if not leaf.piece.fabric:
            shop.problem(
                Problem(
                    "must-be-cloth",
                    f"In {called(unit)}, {leaf.piece.name} is a unit, and a unit with arcs has pieces of plain cloth.",
                    leaf.piece.span,
                    causes=("A unit stands in a `slices` unit whose lines are straight.",),
                    repairs=(Repair("name a fabric, and divide the piece by a slice of its own"),),
                )
            )
            raise Unsettled(unit.key)
        try:
            raw = round_outline(leaf.outline, tuple(places.arcs.values()), shop.seam, outline)
        except CannotOffset as wrong:
            raise _no_template(unit, shop, leaf, names[leaf.region], wrong) from None
        cloths.append(cloth)
        cuts.append(shape_cut(cloth, raw, shop))
    return shaped(unit, outline, cloths, seams, Recipe(TEMPLATES, merged(cuts)))


# -- pieces -----------------------------------------------------------------------------------------------
def _part(
    unit: Unit, shop: Shop, leaf: SlicedPiece, name: Name, trims: Trims, paper: bool, reading: Reading
) -> tuple[Placed | Cloth, list[PieceCut]]:
    """A piece in its place, and what is cut for it by this unit."""
    if leaf.piece.fabric:
        cloth = Cloth(leaf.piece.fabric, leaf.outline, name=name, template=not paper)
        if _may_rule(unit) and not any(trims.values()) and (ruled := rectangle_cut(cloth, shop)) is not None:
            return ruled[0], [ruled[1]]
        return cloth, [_cut(unit, shop, leaf, cloth, trims, paper, reading)]
    what, place = shop.strips(leaf.piece) if leaf.piece.laid is not None else shop.part(unit, leaf.piece)
    if isinstance(what, Making) and what.kind == "strips":
        if paper:
            shop.problem(
                Problem(
                    "cannot-sew",
                    f"In {called(unit)}, {leaf.piece.name} is a strip unit; pieces for paper "
                    "piecing are cut from plain cloth.",
                    leaf.piece.span,
                )
            )
            raise Unsettled(unit.key)
        at = corner_of(unit, shop, leaf.outline, leaf.lay)
        if leaf.piece.laid is not None and leaf.lay is None:
            what, place, at = laid_on(unit, shop, leaf.piece, leaf.outline)
        striped = strip_piece(unit, shop, leaf.outline, leaf.piece, at, what, place, name, trims)
        plain = one_strip(striped, leaf.outline, name)
        if plain is not None:
            return plain, [_cut(unit, shop, leaf, plain, trims, paper, reading)]
        return striped, []
    low, _ = bounding_box(leaf.outline)
    there = moved(place.outline(what.outline), low)
    if set(there) != set(leaf.outline):
        sizes = [" x ".join(shown(side, shop) for side in box_size(o)) for o in (there, leaf.outline)]
        shop.problem(
            Problem(
                "does-not-add-up",
                f"In {called(unit)}, {leaf.piece.name} does not have the shape of {english(name)}.",
                leaf.piece.span,
                causes=(
                    "A piece is cut from a fabric or from a strip unit; another unit "
                    "must be exactly the shape and size that its place has.",
                    f"From side to side as it lies {leaf.piece.name} is {sizes[0]}, and its place {sizes[1]}.",
                ),
            )
        )
        raise Unsettled(unit.key)
    return Placed(what, msgspec.structs.replace(place, dx=place.dx + low[0], dy=place.dy + low[1])), []


def _cut(
    unit: Unit,
    shop: Shop,
    leaf: SlicedPiece,
    cloth: Cloth,
    trims: Trims,
    paper: bool,
    reading: Reading,
) -> PieceCut:
    """The template of a piece, or the rectangle that covers its field."""
    try:
        if paper:
            extra = shop.length(unit, reading.extra) if reading.extra is not None else None
            return foundation_cut(cloth, shop, extra_length(extra, EXTRA))
        return template_cut(cloth, shop, trims)
    except CannotOffset as wrong:
        assert cloth.name is not None
        raise _no_template(unit, shop, leaf, cloth.name, wrong) from None


def _no_template(unit: Unit, shop: Shop, leaf: SlicedPiece, name: Name, wrong: CannotOffset) -> Unsettled:
    """Report that a piece has no raw outline."""
    shop.problem(
        Problem(
            "cannot-sew",
            f"In {called(unit)}, {english(name)} of {leaf.piece.name} can't be cut with a seam "
            f"of {shown(shop.seam, shop)}: {wrong}.",
            leaf.piece.span,
        )
    )
    return Unsettled(unit.key)


def _recipe(unit: Unit, shop: Shop, reading: Reading, paper: bool, cuts: Sequence[PieceCut]) -> Recipe:
    if not paper:
        ruled = bool(cuts) and not any(cut.then for cut in cuts)
        return Recipe(RECTANGLES if ruled else TEMPLATES, merged(cuts))
    extra = shop.length(unit, reading.extra) if reading.extra is not None else None
    return Recipe(FOUNDATION, merged(cuts), numbers=PaperExtra(extra_length(extra, EXTRA)))
