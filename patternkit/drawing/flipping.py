"""Stitch and flip: squares on the corners of a larger piece, sewn on their diagonals, trimmed and flipped."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from patternkit.drawing.geometry import (
    Frame,
    apply,
    area,
    box_of,
    centre_of,
    clipped,
    floats,
    frame_of,
    overlap,
)
from patternkit.drawing.layout import picture
from patternkit.drawing.look import Look
from patternkit.drawing.method_pictures import MethodPicture
from patternkit.drawing.scene import Pt, Shape
from patternkit.drawing.series import by_groups
from patternkit.drawing.sheets import (
    SIDE,
    ClothLayer,
    Segment,
    beside_line,
    cutting,
    lying,
    pieces_picture,
    square,
    stitched,
    within,
)
from patternkit.drawing.swatches import Swatch
from patternkit.drawing.unit_panel import unit_panel
from patternkit.piecing.making import Cloth, Making


class FlippedCorner(msgspec.Struct, frozen=True):
    """A corner to flip, in points of the raw piece: its fabric, the square laid on, and the stitching (base to its
    right)."""

    fabric: str
    square: tuple[Pt, ...]
    seam: Segment


def corners_of(making: Making, look: Look, scale: float) -> tuple[str, tuple[Pt, ...], list[FlippedCorner]]:
    """The base's fabric, its raw rectangle, and the corners in sewing order."""
    s = float(look.seam) * scale
    frame: Frame = (scale, 0.0, 0.0, scale, s, s)
    shapes = []
    for placed in making.parts:
        points = apply(frame, apply(frame_of(placed.place), floats(placed.what.outline)))
        shapes.append(points)
    base = max(range(len(shapes)), key=lambda i: abs(area(shapes[i])))
    raw = square(float(making.width) * scale + 2 * s, high=float(making.height) * scale + 2 * s)
    found = []
    for seam in making.seams:
        new = next((i for side in (seam.left, seam.right) if len(side) == 1 and base not in side for i in side), None)
        if new is None:
            continue
        a, b = apply(frame, [(float(x), float(y)) for x, y in (seam.start, seam.end)])
        cx, cy = centre_of(shapes[new])
        if (b[0] - a[0]) * (cy - a[1]) - (b[1] - a[1]) * (cx - a[0]) > 0:  # the corner lies to the left of its seam
            a, b = b, a
        x0, y0, x1, y1 = box_of(shapes[new])
        left, top = (
            0.0 if cx < raw[2][0] / 2 else raw[2][0] - (x1 - x0) - 2 * s,
            0.0 if cy < raw[2][1] / 2 else raw[2][1] - (y1 - y0) - 2 * s,
        )
        laid = square(x1 - x0 + 2 * s, left, top, y1 - y0 + 2 * s)
        part = making.parts[new].what
        found.append(FlippedCorner(part.fabric if isinstance(part, Cloth) else "", laid, _through(a, b, laid)))
    what = making.parts[base].what
    return what.fabric if isinstance(what, Cloth) else "", raw, found


def _through(a: Pt, b: Pt, points: Sequence[Pt]) -> Segment:
    dx, dy = b[0] - a[0], b[1] - a[1]
    return within(((a[0] - dx, a[1] - dy), (b[0] + dx, b[1] + dy)), points) or (a, b)


def in_rounds(corners: Sequence[FlippedCorner], allowance: float) -> list[list[FlippedCorner]]:
    """Corners that can be sewn at once: their squares share no more than their seam allowances."""
    rounds: list[list[FlippedCorner]] = []
    for corner in corners:
        box = box_of(corner.square)
        if rounds and not any(
            overlap(box, box_of(c.square)) and not _slight(box, box_of(c.square), allowance) for c in rounds[-1]
        ):
            rounds[-1].append(corner)
        else:
            rounds.append([corner])
    return rounds


def _slight(one: tuple[float, float, float, float], other: tuple[float, float, float, float], most: float) -> bool:
    wide = min(one[2], other[2]) - max(one[0], other[0])
    high = min(one[3], other[3]) - max(one[1], other[1])
    return wide <= most + 0.01 and high <= most + 0.01


def flipped(making: Making, swatches: Mapping[str, Swatch], look: Look) -> list[MethodPicture]:
    """A larger piece with squares flipped on its corners: geese, corners, a square in a square."""
    scale = SIDE * 1.1 / float(max(making.width + look.seam * 2, making.height + look.seam * 2))
    base, raw, corners = corners_of(making, look, scale)
    if not corners:
        return by_groups(making, swatches, look)
    s, seam = float(look.seam) * scale, look.length(look.seam)
    panels = [MethodPicture(pieces_picture(making.recipe.cuts, swatches, look), look.say("panel.pieces"))]
    done: list[FlippedCorner] = []
    for n, group in enumerate(in_rounds(corners, 2 * s)):
        under = _state(base, raw, done)
        laid = [ClothLayer(c.square, c.fabric, True, spot=clipped(c.square, *beside_line(c.seam, 2.0))) for c in group]
        shapes: list[Shape] = [
            *lying([*[ClothLayer(u.points, u.fabric, letter=False) for u in under], *laid], swatches),
            *stitched(c.seam for c in group),
        ]
        words = look.say("panel.laid.one" if len(group) == 1 else "panel.laid", n=len(group))
        panels.append(
            MethodPicture(
                picture(shapes),
                words + ". " + look.say("panel.sew.line") if not n else words + ". " + look.say("panel.again"),
            )
        )
        if not n:
            away = max(s, 3.6)
            cuts = [seg for c in group if (seg := within(beside_line(c.seam, -away), c.square))]
            panels.append(MethodPicture(picture([*shapes, *cutting(cuts)]), look.say("panel.trim", seam=seam)))
        done += group
        if not n and len(corners) > len(group):
            panels.append(MethodPicture(picture(lying(_state(base, raw, done), swatches)), look.say("panel.flip")))
    return [*panels, unit_panel(making, swatches, look, scale, "panel.flip")]


def _state(base: str, raw: tuple[Pt, ...], done: Sequence[FlippedCorner]) -> list[ClothLayer]:
    """The raw piece with the corners that are flipped so far."""
    sheets = [ClothLayer(raw, base)]
    for corner in done:
        a, b = corner.seam
        tip = clipped(raw, b, a)
        kept = clipped(sheets[0].points, a, b)
        sheets[0] = ClothLayer(kept, base)
        sheets = [
            sheets[0],
            *[ClothLayer(clipped(o.points, a, b), o.fabric) for o in sheets[1:]],
            ClothLayer(tip, corner.fabric),
        ]
    return [s for s in sheets if len(s.points) > 2 and abs(area(s.points)) > 1]
