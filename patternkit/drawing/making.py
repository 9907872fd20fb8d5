"""The drawing of one unit, block, row or quilt as it shows, in its fabrics or in plain lines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import dist
from typing import Literal

import msgspec

from patternkit.document import Drawing
from patternkit.drawing.geometry import SAME
from patternkit.drawing.layout import (
    MARGIN,
    NORMAL,
    ROOM,
    SMALL,
    Picture,
    below,
    fabric_key,
    in_columns,
    picture,
    scene_of,
    titled,
)
from patternkit.drawing.look import LOOK, Look
from patternkit.drawing.pieces import (
    Leaves,
    Symbols,
    fabric_words,
    fabrics_of,
    letters,
    measure_words,
    outline_path,
    part_lines,
)
from patternkit.drawing.round_corners import rounded_edge
from patternkit.drawing.scene import (
    INK,
    MOST_HIGH,
    PAPER,
    SEWN,
    Box,
    Circle,
    Lettering,
    Path,
    Pt,
    Scene,
    Shape,
    ShapeGroup,
)
from patternkit.drawing.svg import finished
from patternkit.drawing.swatches import Swatch
from patternkit.lengths import ZERO
from patternkit.piecing.making import Making, Point
from patternkit.text_widths import CAP, text_width

JointKind = Literal["lock", "clash", "open"]
ShownSize = Literal["finished", "raw", "both", ""]
_LETTERED = 160  # a drawing of more patches than this shows letters in its key only


class DrawnJoint(msgspec.Struct, frozen=True):
    """A point where seams meet, in the making's coordinates: "lock", "clash" (both on one side) or "open"."""

    at: Point
    kind: JointKind = "lock"


def joint_marks(joints: Sequence[DrawnJoint], scale: float) -> list[Shape]:
    """Marks for joints: a ring where seams lock, a cross where they clash, a square where a seam is open."""
    out: list[Shape] = []
    for joint in joints:
        x, y, r = float(joint.at[0]) * scale, float(joint.at[1]) * scale, 3.0
        if joint.kind == "lock":
            out += [
                Circle(x, y, r + 0.6, PAPER, PAPER, 0.6),
                Circle(x, y, r, PAPER, SEWN, 1.2),
                Circle(x, y, 0.9, SEWN, SEWN, 0.2),
            ]
        else:
            q = r if joint.kind == "open" else r * 0.8
            square = ((x - q, y - q), (x + q, y - q), (x + q, y + q), (x - q, y + q))
            out.append(Path((square,), fill=PAPER, stroke=SEWN if joint.kind == "open" else PAPER, width=1.2))
            if joint.kind == "clash":
                out.append(Path((square[0::2], square[1::2]), closed=False, stroke=SEWN, width=1.4))
    return out


def number_mark(at: Pt, n: int) -> list[Shape]:
    """A number in a ring: a part or a seam by its place in the sewing order."""
    text = str(n)
    return [
        Circle(at[0], at[1], 5.6 + 2.2 * (len(text) - 1), PAPER, INK, 0.8),
        Lettering(at[0], at[1] + CAP * 7.5 / 2, text, 7.5, bold=True, ink=INK),
    ]


def _seam_numbers(making: Making, seams: Sequence[int], scale: float) -> list[tuple[Pt, int]]:
    """Where the numbers of seams (from 1) stand: on the seam, at its middle or clear of those before."""
    found: list[tuple[Pt, int]] = []
    for n in seams:
        seam = making.seams[n - 1]
        (x0, y0), (x1, y1) = ((float(x) * scale, float(y) * scale) for x, y in (seam.start, seam.end))
        spots = [(x0 + (x1 - x0) * t, y0 + (y1 - y0) * t) for t in (0.5, 0.65, 0.35, 0.8, 0.2, 0.9, 0.1)]
        clear = [p for p in spots if all(dist(p, q) > 17 for q, _ in found)]
        found.append(((clear or spots)[0], n))
    return found


def joint_key(joints: Sequence[DrawnJoint], look: Look) -> Picture:
    """What the marks mean, for the kinds that occur."""
    entries = []
    kinds: tuple[JointKind, ...] = ("lock", "clash", "open")
    for kind in kinds:
        if any(j.kind == kind for j in joints):
            words = look.render(f"joint.{kind}")
            mark = ShapeGroup(tuple(joint_marks([DrawnJoint((ZERO, ZERO), kind)], 1.0)), 5.0, 5.6)
            text = Lettering(13.0, 8.2, words, SMALL, "start")
            entries.append(Picture((mark, text), 13.0 + text_width(words, SMALL), 11.0))
    return in_columns(entries, 240.0)


def making_picture(
    making: Making,
    swatches: Mapping[str, Swatch],
    scale: float,
    *,
    plain: bool = False,
    with_letters: bool = True,
    joints: Sequence[DrawnJoint] = (),
    numbers: Sequence[int] = (),
    share: bool = False,
    rounded: float = 0.0,
) -> tuple[Picture, dict[str, tuple[Shape, ...]], set[str]]:
    """The making at a scale (points to the inch), the symbols it uses, and the fabrics that bear no letter.

    With `share` sub-makings that come back are drawn once, as symbols of the scene; `rounded` is the radius of the
    corners, in inches.
    """
    symbols = Symbols(making, scale, swatches, plain, 0.6 if scale > 9 else 0.35, share)
    leaves = symbols.leaves.of(making)
    shapes: list[Shape] = list(symbols.shapes(making))
    if scale > 2:
        shapes += part_lines(making, scale, 0.9 if scale > 9 else 0.6)
    shapes += rounded_edge(making, rounded, scale) if rounded else [outline_path(making, SAME, scale)]
    places = _seam_numbers(making, numbers, scale)
    bare = {leaf.fabric for leaf in leaves}
    if with_letters and not plain and len(leaves) <= _LETTERED:
        taken = [_around((float(j.at[0]) * scale, float(j.at[1]) * scale), 5.0) for j in joints]
        taken += [_around(at, 9.0) for at, _ in places]
        texts, bare = letters(leaves, scale, swatches, taken)
        shapes += texts
    shapes += joint_marks(joints, scale)
    for at, n in places:
        shapes += number_mark(at, n)
    return picture(shapes, symbols.symbols), symbols.symbols, set() if plain else bare


def _around(at: Pt, by: float) -> Box:
    return at[0] - by, at[1] - by, at[0] + by, at[1] + by


def fitting_scale(width: float, height: float, most_wide: float, most_high: float, most: float) -> float:
    """The scale (points to the inch) at which a size in inches fits, never above `most`."""
    return min(most_wide / max(width, 1e-6), most_high / max(height, 1e-6), most)


def making_scene(
    making: Making,
    swatches: Mapping[str, Swatch],
    look: Look = LOOK,
    *,
    plain: bool = False,
    letters: bool = True,
    measure: ShownSize = "both",
    joints: Sequence[DrawnJoint] = (),
    numbers: Sequence[int] = (),
    legend: bool | None = None,
    scale: float | None = None,
    wide: float | None = None,
    rounded: float = 0.0,
) -> Scene:
    """The scene behind `draw_making`."""
    large = making.role in ("top", "centre", "quilt")
    room_wide = min(wide or (380.0 if large else 216.0), ROOM)
    room_high = min(room_wide * 1.4, MOST_HIGH - 2 * MARGIN - 130)
    limit = fitting_scale(float(making.width), float(making.height), ROOM, MOST_HIGH - 2 * MARGIN - 130, 1e9)
    at = (
        min(scale, limit)
        if scale
        else fitting_scale(float(making.width), float(making.height), room_wide, room_high, 40.0)
    )
    leaves = Leaves().of(making)
    pic, symbols, bare = making_picture(
        making,
        swatches,
        at,
        plain=plain,
        joints=joints,
        numbers=numbers,
        with_letters=letters and not (large and len(leaves) > 60),
        share=True,
        rounded=rounded,
    )
    used = fabrics_of(leaves, swatches)
    kinds: tuple[ShownSize, ...] = ("finished", "raw") if measure == "both" else (measure,)
    for kind in kinds:
        pic = titled(pic, measure_words(making, look, kind), NORMAL, room=160.0, gap=5.0 if kind == kinds[0] else 0.0)
    if not plain and (legend if legend is not None else bool(bare)):
        pic = below([pic, fabric_key(used, swatches, max(pic.width, 220.0))], 9.0)
    if joints:
        pic = below([pic, joint_key(joints, look)], 8.0)
    return scene_of(
        pic,
        look.render("making.title", name=look.called(making)),
        _described(making, swatches, look, plain, measure, joints, numbers),
        {} if plain else swatches,
        symbols,
        texture_scale=1.0 if at > 9 else 0.6,
    )


def _described(
    making: Making,
    swatches: Mapping[str, Swatch],
    look: Look,
    plain: bool,
    measure: ShownSize,
    joints: Sequence[DrawnJoint],
    numbers: Sequence[int],
) -> str:
    """The drawing in words."""
    leaves = Leaves().of(making)
    text = look.render(
        "making.plain" if plain else "making.told",
        role=_role(making, look),
        name=look.called(making),
        patches=look.many("patches", len(leaves)),
        fabrics=fabric_words(fabrics_of(leaves, swatches), swatches, look),
        measure=measure_words(making, look, measure or "finished"),
    )
    if joints:
        text += " " + look.many("joints", sum(j.kind == "lock" for j in joints))
    if numbers:
        text += " " + look.render("seam.numbers")
    return text


def _role(making: Making, look: Look) -> str:
    try:
        return look.render(f"role.{making.role}")
    except KeyError:
        return making.role or look.render("role.unit")


def draw_making(
    making: Making,
    swatches: Mapping[str, Swatch],
    look: Look = LOOK,
    *,
    key: str = "",
    plain: bool = False,
    letters: bool = True,
    measure: ShownSize = "both",
    joints: Sequence[DrawnJoint] = (),
    numbers: Sequence[int] = (),
    legend: bool | None = None,
    scale: float | None = None,
    wide: float | None = None,
    rounded: float = 0.0,
) -> Drawing:
    """A unit, block, row or quilt to scale.

    `plain` draws lines only; `letters` puts fabric letters where they fit; `measure` the size under it; `joints` are
    marked; `numbers` are those of seams (from 1, in sewing order) to show on them; `legend` forces the key of fabrics
    on or off (by itself it stands when a fabric bears no letter); `scale` is in points to the inch, `wide` the width to
    fit into, in points; the corners are `rounded` by that radius, in inches.
    """
    scene = making_scene(
        making,
        swatches,
        look,
        plain=plain,
        letters=letters,
        measure=measure,
        joints=joints,
        numbers=numbers,
        legend=legend,
        scale=scale,
        wide=wide,
        rounded=rounded,
    )
    return finished(scene, look.key(key or f"{'lines' if plain else 'shown'}-{making.spelled}"))
