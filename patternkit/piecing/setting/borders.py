"""Borders round the quilt centre: straight (sides or top first), with cornerstones, mitred, or pieced from units.

Each border is a layer: a making whose first part is everything inside it. Neighbouring mitred borders are joined into
bands first, and the bands are mitred as one.
"""

from __future__ import annotations

from fractions import Fraction

import msgspec

from patternkit.lengths import SQRT2, ZERO, Length
from patternkit.model.pattern import Framing, Quilt
from patternkit.piecing.keys import OwnKey
from patternkit.piecing.kinds.base import Unsettled
from patternkit.piecing.making import (
    Cloth,
    Making,
    Outline,
    Part,
    PieceCut,
    Place,
    Placed,
    Recipe,
    Seam,
    rectangle,
)
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name, Side, with_border
from patternkit.piecing.setting.join import cloth_recipe, owned
from patternkit.piecing.setting.pieced_border import name_of, pieced_sides
from patternkit.piecing.shapes import sizes_beside
from patternkit.piecing.sizing import Sizing
from patternkit.piecing.unknowns import Unknown, of_border, of_centre, of_layer, of_whole
from patternkit.piecing.workshop import Workshop, corner_place
from patternkit.problems import Problem
from patternkit.units import show

STRAIGHT = Method("joined", "border", around="borders", long=True)
FRAME = Method("joined", "border", around="borders", long=True, adds_up=True)
"""The same round a unit, which is trimmed to its size where its border is cut larger."""
WITH_CORNERS = Method("joined", "border-corners", runs="across")
BAND = Method("joined", "border-band", formula="mitred", runs="down", long=True, as_cut=True)
MITRED = Method("mitred", "border-mitred", around="borders")
COT_22_5 = SQRT2 + 1  # growth of a raw edge at a mitred corner for each seam
EXTRA = {False: Length(4), True: Length(Fraction(1000, 254))}
"""What the strips of a mitred border have beyond its finished outer edge: 4 in
(http://www.ritasquilts.com/borders.htm), the least of those in print that is enough at any corner; 6 in is in print,
too. 10 cm: common practice, no source."""


def is_mitred(edge: Framing) -> bool:
    """True for ``border ..., mitred``."""
    return "mitred" in edge.words


def is_lengthwise(edge: Framing) -> bool:
    """True for ``border ..., lengthwise`` or ``one piece``: strips cut along the cloth, instead of joined from its
    width."""
    return any(word in edge.words for word in ("lengthwise", "one piece"))


def along_cloth(cut: PieceCut) -> PieceCut:
    """The same cut with its long side along the length of the cloth."""
    if cut.width <= cut.height:
        return msgspec.structs.replace(cut, along=True)
    return msgspec.structs.replace(
        cut, along=True, width=cut.height, height=cut.width, exact_width=cut.exact_height, exact_height=cut.exact_width
    )


def top_first(edge: Framing) -> bool:
    """True when top and bottom go on before the sides."""
    return any(w in ("top first", "top and bottom first") for w in edge.words)


def is_coping(quilt: Quilt, edge: Framing) -> bool:
    """True for a plain border without a width that a pieced one follows: it is made as wide as lets that one fit."""
    i = quilt.borders.index(edge)
    return (
        edge.width is None and not edge.sequence and i + 1 < len(quilt.borders) and bool(quilt.borders[i + 1].sequence)
    )


def width_of(edge: Framing) -> Unknown:
    """The unknown finished width of a border."""
    return of_border(edge.nth, "width", edge.of)


def height_of(quilt: Quilt, edge: Framing) -> Unknown:
    """The unknown width of a border at top and bottom: the same as at the sides, but for a coping strip."""
    return of_border(edge.nth, "height", edge.of) if is_coping(quilt, edge) else width_of(edge)


def equations(quilt: Quilt, out: Sizing) -> None:
    """Each border adds its width twice to both sides; the last layer is the quilt.

    A coping strip may be of one width at the sides and another at top and bottom.
    """
    of = quilt.of
    whole = of_whole("w", of), of_whole("h", of)
    inner = of_centre("w", of), of_centre("h", of)
    for edge in quilt.borders:
        width, height = width_of(edge), height_of(quilt, edge)
        outermost = edge is quilt.borders[-1]
        layer = whole if outermost else (of_layer(edge.nth, "w", of), of_layer(edge.nth, "h", of))
        out.shown(width, edge.called)
        if height != width:
            out.shown(height, f"{edge.called} at the top")
        if edge.width is not None:
            finished = edge.width - out.seam * 2 if edge.cut else edge.width
            text = f"{edge.called} is {out.render(edge.width)} {'cut' if edge.cut else 'finished'}"
            out.stated(width, finished, text, edge.span, edge.width, edge.number)
        for piece in edge.sequence:
            out.same(out.size_in_quilt(piece, of)[1], width, f"{edge.called}, from {quilt.called} outward", edge.span)
            sizes_beside(piece, out.size_in_quilt(piece, of), edge.called, out)
        if edge.corner is not None and edge.corner.unit:
            for var in out.size_in_quilt(edge.corner, of):
                out.same(var, width, f"the corners of {edge.called}", edge.span)
        for within, adds, out_to in zip(inner, (width, height), layer, strict=True):
            out.shown(out_to, quilt.called if outermost else f"{quilt.called} with {edge.called}")
            text = f"{edge.called} adds its width on both sides of {quilt.called}"
            out.total([(1, within), (2, adds)], out_to, text, edge.span)
        inner = layer
    if not quilt.borders:
        for within, out_to in zip(inner, whole, strict=True):
            out.shown(out_to, quilt.called)
            out.same(within, out_to, f"{quilt.called} without borders", quilt.span)


def make(quilt: Quilt, centre: Making, shop: Workshop) -> Making:
    """Put the borders round a centre, one layer after the other."""
    inner = centre
    waiting: list[Framing] = []
    for i, edge in enumerate(quilt.borders):
        following = quilt.borders[i + 1] if i + 1 < len(quilt.borders) else None
        if is_mitred(edge):
            waiting.append(edge)
            _even(edge, quilt, shop)
            _reach(edge, shop)
            if following is None or not is_mitred(following):
                inner = _mitred(waiting, inner, shop)
                waiting = []
        else:
            inner = _straight(edge, inner, height_of(quilt, edge), shop)
    return inner


def _even(edge: Framing, quilt: Quilt, shop: Workshop) -> None:
    """Note a mitred coping strip that has to be of one width at the sides and another at top and bottom."""
    sides, ends = shop.solved(width_of(edge)), shop.solved(height_of(quilt, edge))
    if sides != ends:
        units = shop.pattern.settings.units
        shop.problem(
            Problem(
                "cannot-sew",
                f"The corners of {edge.called} can't be mitred: it has to be {show(sides, units)} wide at the sides "
                f"and {show(ends, units)} at top and bottom.",
                edge.span,
                causes=(
                    "A seam at 45 degrees joins strips of one width.",
                    "Without a width a border is made to let the next one fit; leave out mitred, or state the width.",
                ),
            )
        )
        raise Unsettled(edge.called)


def _fabric(edge: Framing) -> str:
    return edge.piece.fabric if edge.piece is not None else ""


def _straight(edge: Framing, inner: Making, height: Unknown, shop: Workshop) -> Making:
    b, t = shop.solved(width_of(edge)), shop.solved_alone(of_border(edge.nth, "height", edge.of), height)
    w, h = inner.width, inner.height
    corners, sides_first = edge.corner is not None, not top_first(edge)
    long = w + b * 2 if sides_first and not corners else w
    high = h if sides_first or corners else h + t * 2
    strips: dict[str, tuple[Part, Place]] = {}
    if edge.sequence:
        around = pieced_sides(edge, long, high, shop)
        if around is None:  # a quilt without it would be another quilt
            raise Unsettled(edge.called)
        strips = around
    else:
        for name, wide, tall in (("left", b, high), ("right", b, high), ("top", long, t), ("bottom", long, t)):
            side: Side = "sides" if name in ("left", "right") else "top and bottom"
            strips[name] = shop.patch(_fabric(edge), wide, tall, name_of(edge, side)), Place()
    if corners:
        top = _with_corners(edge, strips["top"], long, b, t, shop)
        strips["top"], strips["bottom"] = (top, Place()), (top, corner_place(top, 180))
    # in the layer's coordinates the inner top lies at (b, t)
    side_y, top_x = (t, ZERO) if sides_first or corners else (ZERO, b)
    at = {"left": (ZERO, side_y), "right": (w + b, side_y), "top": (top_x, ZERO), "bottom": (top_x, h + t)}
    order = ("left", "right", "top", "bottom") if sides_first or corners else ("top", "bottom", "left", "right")
    parts = [Placed(inner, Place(b, t))]
    seams: list[Seam] = []
    for name in order:
        what, place = strips[name]
        x, y = at[name]
        parts.append(Placed(what, Place(x + place.dx, y + place.dy, place.turned)))
        seams.append(_seam(name, len(parts) - 1, (b, t), (w, h), sides_first or corners, not edge.sequence))
    wide, tall = w + b * 2, h + t * 2
    recipe = cloth_recipe(FRAME if edge.of else STRAIGHT, parts[1:], shop)
    if is_lengthwise(edge):
        recipe = msgspec.structs.replace(recipe, cuts=tuple(along_cloth(c) for c in recipe.cuts))
    made = Making(
        OwnKey(with_border(name_of(edge))),
        "quilt",
        "border",
        "border",
        rectangle(wide, tall),
        wide,
        tall,
        tuple(parts),
        tuple(seams),
        recipe,
    )
    layer = owned(made, shop, edge.of)
    more = [shop.solution.excess.get(of_border(edge.nth, side, edge.of), ZERO) for side in ("width", "height")]
    if not any(more):
        return layer
    from patternkit.piecing.sewn.trimming import trimmed

    return trimmed(layer, more[0], more[1], shop.seam)


def _seam(
    name: str, index: int, border: tuple[Length, Length], inside: tuple[Length, Length], sides_first: bool, plain: bool
) -> Seam:
    """The seam of one border strip; the inside lies on the left hand, the strip on the right.

    A plain border is pressed toward the border, as published pages have it; what the writer says of it comes first.
    """
    (b, t), (w, h) = border, inside
    x1, x2 = (ZERO, w + b * 2) if sides_first else (b, w + b)
    y1, y2 = (t, h + t) if sides_first else (ZERO, h + t * 2)
    ends = {
        "left": ((b, y1), (b, y2)),
        "right": ((w + b, y2), (w + b, y1)),
        "top": ((x2, t), (x1, t)),
        "bottom": ((x1, h + t), (x2, h + t)),
    }[name]
    return Seam(ends[0], ends[1], tuple(range(index)), (index,), "right" if plain else "free")


def _with_corners(
    edge: Framing, strip: tuple[Part, Place], long: Length, b: Length, t: Length, shop: Workshop
) -> Making:
    """The top border with its two cornerstones sewn on; turned round it is the bottom one."""
    assert edge.corner is not None
    corner: tuple[Part, Place] = (
        (shop.patch(edge.corner.fabric, b, t, name_of(edge, "cornerstone")), Place())
        if edge.corner.fabric
        else shop.part_in_quilt(edge.corner, edge.of)
    )
    parts: list[Placed] = []
    for (what, place), x, turn in ((corner, ZERO, 0), (strip, b, 0), (corner, b + long, 90)):
        if isinstance(what, Making):
            parts.append(Placed(what, corner_place(what, place.turned + turn, x)))
        else:
            parts.append(Placed(what, Place(x)))
    seams = (Seam((b, t), (b, ZERO), (0,), (1,)), Seam((b + long, t), (b + long, ZERO), (0, 1), (2,)))
    name = name_of(edge, "top and bottom")
    made = Making(
        OwnKey(name),
        "quilt",
        "border strip",
        "row",
        rectangle(long + b * 2, t),
        long + b * 2,
        t,
        tuple(parts),
        seams,
        cloth_recipe(WITH_CORNERS, parts, shop),
    )
    return owned(made, shop, edge.of)


def _mitred(edges: list[Framing], inner: Making, shop: Workshop) -> Making:
    """One or more borders joined into bands, sewn on, and their corners mitred as one."""
    widths = [shop.solved(width_of(e)) for e in edges]
    total = sum(widths, ZERO)
    w, h = inner.width, inner.height
    name = Name("border", tuple(e.nth for e in edges))
    bands = {"ends": _band(edges, widths, "top and bottom", w, shop), "sides": _band(edges, widths, "sides", h, shop)}
    parts = [Placed(inner, Place(total, total))]
    seams: list[Seam] = []
    # a band is drawn as the bottom one: its short edge above
    for side, turned in (("bottom", 0), ("left", 90), ("top", 180), ("right", 270)):
        band = bands["ends" if side in ("top", "bottom") else "sides"]
        y = h + total if side == "bottom" else ZERO
        x = w + total if side == "right" else ZERO
        parts.append(Placed(band, corner_place(band, turned, x, y)))
        a, b = {
            "bottom": ((total, h + total), (w + total, h + total)),
            "left": ((total, total), (total, h + total)),
            "top": ((w + total, total), (total, total)),
            "right": ((w + total, h + total), (w + total, total)),
        }[side]
        seams.append(Seam(a, b, tuple(range(len(parts) - 1)), (len(parts) - 1,), "right"))
    big_w, big_h = w + total * 2, h + total * 2
    # mitre seams run from the inner corner out; the parts are 1 bottom, 2 left, 3 top, 4 right
    for a, b, left, right in (
        ((total, h + total), (ZERO, big_h), 1, 2),
        ((total, total), (ZERO, ZERO), 2, 3),
        ((w + total, total), (big_w, ZERO), 3, 4),
        ((w + total, h + total), (big_w, big_h), 4, 1),
    ):
        seams.append(Seam(a, b, (left,), (right,), "open"))
    made = Making(
        OwnKey(with_border(name)),
        "quilt",
        "border",
        "mitred-border",
        rectangle(big_w, big_h),
        big_w,
        big_h,
        tuple(parts),
        tuple(seams),
        Recipe(MITRED),
    )
    return owned(made, shop, edges[0].of)


def _extra(edge: Framing, shop: Workshop) -> Length:
    """What a mitred border's strips have beyond its finished outer edge."""
    if "extra" in edge.extras:
        return edge.extras["extra"].value(shop.pattern.parameters)
    return EXTRA[bool(shop.pattern.settings.units.decimals)]


def _reach(edge: Framing, shop: Workshop) -> None:
    """Note a mitred border whose strips are said to be shorter than its corners need."""
    units, least, extra = shop.pattern.settings.units, shop.seam * 2 * COT_22_5, _extra(edge, shop)
    if extra >= least:
        return
    shop.problem(
        Problem(
            "too-small",
            f"The strips of {edge.called} are too short with extra {show(extra, units)}: their corners take "
            f"{show(Length(least.ceil_to(shop.grid)), units)} beyond the finished outer edge.",
            edge.span,
            causes=("At a mitred corner the raw edge runs (1 + root 2) times the seam beyond the finished one.",),
        )
    )


def _band(edges: list[Framing], widths: list[Length], side: Side, inner_length: Length, shop: Workshop) -> Making:
    """The strips of one side joined lengthwise: trapezoids, the short edge above; cut long enough for the mitre.

    A mitred strip's raw long edge is its finished one and s cot(22.5 degrees) more at each end. It is cut as much
    longer as the border has `extra`, to have something to hold while the corner is sewn.
    """
    total = sum(widths, ZERO)
    parts: list[Placed] = []
    seams: list[Seam] = []
    cuts: list[PieceCut] = []
    y = ZERO
    for edge, b in zip(edges, widths, strict=True):
        x1, x2, y2 = total - y, total + inner_length + y, y + b
        shape: Outline = ((x1, y), (x2, y), (x2 + b, y2), (x1 - b, y2))
        parts.append(Placed(Cloth(_fabric(edge), shape, name=name_of(edge, side))))
        exact = (x2 - x1) + b * 2 + shop.seam * 2 * COT_22_5
        high = b + shop.seam * 2
        long = (x2 - x1) + b * 2 + _extra(edge, shop)
        cut = PieceCut(
            _fabric(edge),
            Length(max(exact, long).ceil_to(shop.grid)),
            Length(high.ceil_to(shop.grid)),
            exact,
            high,
            1,
            name=name_of(edge, side),
        )
        cuts.append(along_cloth(cut) if is_lengthwise(edge) else cut)
        if y:
            seams.append(Seam((x1, y), (x2, y), tuple(range(len(parts) - 1)), (len(parts) - 1,)))
        y = y2
    width = inner_length + total * 2
    outline: Outline = ((total, ZERO), (total + inner_length, ZERO), (width, total), (ZERO, total))
    name = Name("border", tuple(e.nth for e in edges), side)
    made = Making(
        OwnKey(name),
        "quilt",
        "border strip",
        "joined-borders",
        outline,
        width,
        total,
        tuple(parts),
        tuple(seams),
        Recipe(BAND, tuple(cuts)),
    )
    return owned(made, shop, edges[0].of)
