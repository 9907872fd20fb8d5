"""A sewn unit that is cut apart: where it is cut, and its pieces moved from each other, with their numbers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from patternkit.document import Drawing
from patternkit.drawing.geometry import apply, clipped, frame_of
from patternkit.drawing.layout import Picture, picture, scene_of
from patternkit.drawing.look import LOOK, Look
from patternkit.drawing.method_pictures import MethodPicture, panel_rows
from patternkit.drawing.pieces import DrawnPatch, Leaves, fabric_words, fabrics_of, paint
from patternkit.drawing.scene import INK, PAPER, Circle, Lettering, Path, Pt, Scene, Shape, ShapeGroup
from patternkit.drawing.sheets import cutting, square
from patternkit.drawing.svg import finished
from patternkit.drawing.swatches import Swatch
from patternkit.piecing.apart import named_number, whole_size
from patternkit.piecing.making import Apart, Making, Part

SIDE = 104.0  # points: how large the unit is drawn
GAP = 9.0  # points between pieces that are cut apart
NUMBER = 7.5


def apart_scene(making: Making, swatches: Mapping[str, Swatch], look: Look = LOOK) -> Scene:
    """The scene behind `draw_apart`."""
    apart = making.recipe.apart
    assert apart is not None
    leaves = raw_leaves(apart)
    width, height = (float(side + apart.seam * 2) for side in whole_size(apart))
    scale = SIDE / max(width, height)
    columns, rows = [0.0, *map(float, apart.columns), width], [0.0, *map(float, apart.rows), height]
    panels = [
        MethodPicture(_to_cut(leaves, columns, rows, scale, swatches), look.render("panel.apart.lines")),
        MethodPicture(_moved_apart(apart, leaves, columns, rows, scale, swatches, making), look.render("panel.apart")),
    ]
    pic, name = panel_rows(panels, gap=30.0), making.title or making.unit
    words = look.render(
        "apart.told",
        name=name,
        n=(len(columns) - 1) * (len(rows) - 1),
        fabrics=fabric_words(fabrics_of(leaves, swatches), swatches, look),
    )
    return scene_of(pic, look.render("apart.title", name=name), words, swatches)


def draw_apart(making: Making, swatches: Mapping[str, Swatch], look: Look = LOOK, *, key: str = "") -> Drawing:
    """The unit of which a making is a piece: with the lines along which it is cut, and cut apart."""
    return finished(apart_scene(making, swatches, look), look.key(key or f"apart-{making.spelled}"))


def raw_leaves(apart: Apart) -> list[DrawnPatch]:
    """The patches of the unit as it lies, the outer ones with their seam allowance; in inches from its raw upper left
    corner."""
    seam = float(apart.seam)
    width, height = map(float, whole_size(apart))

    def out(p: Pt) -> Pt:
        x, y = p
        x = -seam if x < 1e-6 else width + seam if x > width - 1e-6 else x
        y = -seam if y < 1e-6 else height + seam if y > height - 1e-6 else y
        return x + seam, y + seam

    frame = frame_of(apart.whole.place)
    return [
        DrawnPatch(leaf.fabric, tuple(out(p) for p in apply(frame, leaf.points)))
        for leaf in Leaves().of(apart.whole.what)
    ]


def _to_cut(
    leaves: Sequence[DrawnPatch],
    columns: Sequence[float],
    rows: Sequence[float],
    scale: float,
    swatches: Mapping[str, Swatch],
) -> Picture:
    wide, high = columns[-1] * scale, rows[-1] * scale
    upright = [((x * scale, 0.0), (x * scale, high)) for x in columns[1:-1]]
    level = [((0.0, y * scale), (wide, y * scale)) for y in rows[1:-1]]
    shapes = [*paint(leaves, scale, swatches), Path((square(wide, high=high),), width=1.1)]
    return picture([*shapes, *cutting([*upright, *level])])


def _moved_apart(
    apart: Apart,
    leaves: Sequence[DrawnPatch],
    columns: Sequence[float],
    rows: Sequence[float],
    scale: float,
    swatches: Mapping[str, Swatch],
    making: Making,
) -> Picture:
    found: list[Shape] = []
    for down, (top, foot) in enumerate(pairwise(rows)):
        for across, (left, right) in enumerate(pairwise(columns)):
            box = square(right - left, left, top, foot - top)
            inner = [DrawnPatch(x.fabric, p) for x in leaves if len(p := _inside(x.points, box)) > 2]
            n = named_number(_at(apart, down * (len(columns) - 1) + across + 1), making.key.mirrored)
            outline = Path((tuple((x * scale, y * scale) for x, y in box),), width=1.1)
            middle = (left + right) / 2 * scale, (top + foot) / 2 * scale
            shapes = (*paint(inner, scale, swatches), outline, *numbered(middle, n))
            found.append(ShapeGroup(shapes, across * GAP, down * GAP))
    return picture(found)


def _at(apart: Apart, number: int) -> Apart:
    return Apart(apart.whole, apart.columns, apart.rows, number, apart.seam)


def _inside(points: tuple[Pt, ...], box: Sequence[Pt]) -> tuple[Pt, ...]:
    for a, b in zip(box, [*box[1:], box[0]], strict=True):
        points = clipped(points, a, b) if len(points) > 2 else ()
    return points


def piece_number(part: Part) -> int:
    """The number of a piece of a unit that is cut apart; 0 for any other part."""
    apart = part.recipe.apart if isinstance(part, Making) else None
    return 0 if apart is None or not isinstance(part, Making) else named_number(apart, part.key.mirrored)


def numbered(at: Pt, n: int) -> list[Shape]:
    """A number on a disc, to be read on any cloth."""
    disc = Circle(*at, NUMBER * 0.85, PAPER, INK, 0.6)
    return [disc, Lettering(at[0], at[1] + NUMBER * 0.36, str(n), NUMBER, bold=True)]
