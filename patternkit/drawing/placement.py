"""Where shapes lie on their ground: in colour with the numbers of their layers, and at true size to lay them by."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from patternkit.document import Drawing
from patternkit.drawing.geometry import apply, box_of, floats, frame_of, grown, inside, label_spot
from patternkit.drawing.layout import MARGIN, ROOM, below, fabric_key, picture, scene_of
from patternkit.drawing.look import LOOK, Look
from patternkit.drawing.making import fitting_scale, number_mark
from patternkit.drawing.pieces import Leaves, fabrics_of, paint, scaled
from patternkit.drawing.scene import INK, MOST_HIGH, PAPER, SOFT, Lettering, Path, Pt, Scene, Shape
from patternkit.drawing.svg import finished
from patternkit.drawing.swatches import Swatch
from patternkit.drawing.templates import INCH, SEWING_DASH
from patternkit.piecing.making import Making
from patternkit.text_widths import shortened

HIDDEN = (1.6, 2.0)
CROSS = 5.0
ROOM_WIDE = 300.0


def outlines(making: Making) -> list[tuple[Pt, ...]]:
    """The outline of everything that is laid on, from the lowest layer up, in inches."""
    return [apply(frame_of(p.place), floats(p.what.outline)) for p in making.parts[1:]]


def spots(rings: Sequence[Sequence[Pt]], room: float) -> Iterator[Pt]:
    """Where the number of each layer stands: within its outline, and under no later one if that can be."""
    for n, ring in enumerate(rings):
        left, top, right, foot = box_of(ring)
        middle = label_spot(ring, room, room) or ((left + right) / 2, (top + foot) / 2)
        grid = [
            (left + (right - left) * i / 14, top + (foot - top) * j / 14) for i in range(1, 14) for j in range(1, 14)
        ]
        free = [p for p in (middle, *grid) if inside(p, ring) and not any(inside(p, o) for o in rings[n + 1 :])]
        yield free[0] if free else middle


def placement_scene(making: Making, swatches: Mapping[str, Swatch], look: Look = LOOK) -> Scene:
    """The scene behind `draw_placement`."""
    width, height = float(making.width), float(making.height)
    scale = fitting_scale(width, height, min(ROOM, ROOM_WIDE), MOST_HIGH - 2 * MARGIN - 130, 40.0)
    leaves = Leaves().of(making)
    shapes: list[Shape] = list(paint(leaves, scale, swatches))
    shapes.append(Path((scaled(floats(making.outline), scale),), width=1.3))
    rings = [scaled(ring, scale) for ring in outlines(making)]
    for n, at in enumerate(spots(rings, 14.0), 1):
        shapes += number_mark(at, n)
    used = fabrics_of(leaves, swatches)
    pic = picture(shapes)
    pic = below([pic, fabric_key(used, swatches, max(pic.width, 220.0))], 9.0)
    description = look.render("placement.told", name=look.called(making), layers=look.many("layers", len(rings)))
    return scene_of(pic, look.render("placement.title", name=look.called(making)), description, swatches)


def draw_placement(making: Making, swatches: Mapping[str, Swatch], look: Look = LOOK, *, key: str = "") -> Drawing:
    """A unit with shapes laid on it, to scale, each with the number of its layer: 1 is laid on first."""
    return finished(placement_scene(making, swatches, look), look.key(key or f"placement-{making.spelled}"))


def true_placement_scene(making: Making, look: Look = LOOK) -> Scene:
    """The scene behind `draw_true_placement`."""
    whole = scaled(floats(making.outline), INCH)
    outer = grown(whole, float(look.seam) * INCH)
    left, top, right, foot = box_of(whole)
    across, down = (left + right) / 2, (top + foot) / 2
    shapes: list[Shape] = [Path((outer,), fill=PAPER, width=1.0)]
    shapes.append(Path((((across, top), (across, foot)), ((left, down), (right, down))), closed=False,
                       stroke=SOFT, width=0.5, dash=HIDDEN))  # fmt: skip
    rings = [scaled(ring, INCH) for ring in outlines(making)]
    shapes += [Path((ring,), fill=PAPER, width=0.9) for ring in rings]
    shapes.append(Path(tuple(rings), stroke=SOFT, width=0.5, dash=HIDDEN))
    shapes.append(Path((whole,), width=0.8, dash=SEWING_DASH))
    for ring in rings:
        x0, y0, x1, y1 = box_of(ring)
        x, y = (x0 + x1) / 2, (y0 + y1) / 2
        cross = ((x - CROSS, y), (x + CROSS, y)), ((x, y - CROSS), (x, y + CROSS))
        shapes.append(Path(cross, closed=False, stroke=INK, width=0.6))
    for n, at in enumerate(spots(rings, 16.0), 1):
        shapes += number_mark(at, n)
    name = shortened(look.called(making), 9.0, max(120.0, right - left), True)
    shapes.append(Lettering(across, box_of(outer)[3] + 16, name, 9.0, bold=True))
    description = look.render("placement.true", name=look.called(making), layers=look.many("layers", len(rings)))
    return scene_of(
        picture(shapes), look.render("placement.title", name=look.called(making)), description, {}, true_size=True
    )


def draw_true_placement(making: Making, look: Look = LOOK, *, key: str = "") -> Drawing:
    """The same at true size, as lines: the ground's raw edge, its finished one dashed, the lines through its middle,
    and every shape with a cross in the middle of its box; what lies under others is dotted."""
    return finished(true_placement_scene(making, look), look.key(key or f"placed-{making.spelled}"))
