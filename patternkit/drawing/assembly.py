"""How a quilt or block is put together: rows, straight or diagonal, and borders, pulled apart in sewing order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import dist

from patternkit.document import Drawing
from patternkit.drawing.explode import Member, PageSeam, brings_rows, gap_line, shifts, taken_apart
from patternkit.drawing.geometry import apply, between, centre_of, floats
from patternkit.drawing.layout import MARGIN, ROOM, Picture, below, fabric_key, picture, scene_of, smaller
from patternkit.drawing.look import LOOK, Look
from patternkit.drawing.making import DrawnJoint, joint_key, joint_marks, number_mark
from patternkit.drawing.pieces import Leaves, fabric_words, fabrics_of, paint, scaled
from patternkit.drawing.scene import (
    MOST_HIGH,
    Path,
    Pt,
    Scene,
    Shape,
    ShapeGroup,
)
from patternkit.drawing.steps import pressing_mark
from patternkit.drawing.svg import finished
from patternkit.drawing.swatches import Swatch
from patternkit.piecing.making import Making, Part

_OPEN_ROLES = ("row", "column", "centre", "top", "ring")
_MIDDLES = (*_OPEN_ROLES, "border")  # what borders go round: a centre, or one with borders of its own
_ROWS_GAP, _PIECES_GAP = 15.0, 7.0
_CLEAR = 7.5  # points: from a joint's mark to an arrow
_MOST_PARTS = 260  # beyond this the rows stay whole


def _opener(making: Making) -> int:
    """How many parts would lie apart if every row were opened."""
    return sum(
        _opener(p.what) if isinstance(p.what, Making) and p.what.role in _OPEN_ROLES else 1 for p in making.parts
    )


def _added(making: Making) -> list[int]:
    """The parts that go round the centre, in sewing order; empty when there is no centre to go round."""
    if not making.seams or not any(isinstance(p.what, Making) and p.what.role in _MIDDLES for p in making.parts):
        return []
    first = making.seams[0]
    centre = [
        i
        for i in (*first.left, *first.right)
        if isinstance(w := making.parts[i].what, Making) and w.role in ("centre", "top", "ring", "border")
    ]
    if not centre:
        return []
    order: list[int] = []
    for seam in making.seams:
        order += [i for i in (*seam.left, *seam.right) if i not in centre and i not in order]
    return order


def assembly_scene(
    making: Making,
    swatches: Mapping[str, Swatch],
    look: Look = LOOK,
    *,
    arrows: bool = True,
    joints: Sequence[DrawnJoint] = (),
    rows: bool | None = None,
    wide: float = 420.0,
    legend: bool = True,
) -> Scene:
    """The scene behind `draw_assembly`."""
    rows_open = (not _added(making) if rows is None else rows) and _opener(making) <= _MOST_PARTS
    shapes: list[Shape] = []
    most = MOST_HIGH - 110 if wide > 160 else wide * 1.5
    scale = min(wide / float(making.width), most / float(making.height), 30.0)
    for _ in range(30):
        members, lines = taken_apart(making, scale, lambda m, _level: rows_open and m.role in _OPEN_ROLES)
        shapes = _apart(making, members, lines, scale, swatches, arrows, joints)
        pic = picture(shapes)
        over = max(pic.width / ROOM, pic.height / (MOST_HIGH - 2 * MARGIN - 60))
        if over <= 1:
            break
        scale = smaller(scale, over, 0.93)
    pic = picture(shapes)
    if legend:
        pic = below([pic, _key(making, swatches, look, joints, max(pic.width, 240.0 if wide > 160 else 120.0))], 10.0)
    count, diagonal = _rows(making, lines)
    kind = "assembly.diagonal" if diagonal else "assembly.rows"
    description = look.render(
        "assembly.told",
        name=look.called(making),
        n=len(members),
        rows=look.render(kind, n=count) if count > 1 and rows_open else "",
        order=look.render("assembly.order")
        if _added(making)
        else look.render("assembly.numbered")
        if making.kind == "on-point"
        else "",
    ).strip()
    return scene_of(
        pic,
        look.render("assembly.title", name=look.called(making)),
        description,
        swatches,
        texture_scale=1.0 if scale > 9 else 0.6,
    )


def _key(
    making: Making, swatches: Mapping[str, Swatch], look: Look, joints: Sequence[DrawnJoint], room: float
) -> Picture:
    """What the fabrics are called, and what the marks of joints mean."""
    fabrics = fabric_key(fabrics_of(Leaves().of(making), swatches), swatches, room)
    return below([fabrics, joint_key(joints, look)], 7.0) if joints else fabrics


def draw_key(
    making: Making, swatches: Mapping[str, Swatch], look: Look = LOOK, *, key: str, joints: Sequence[DrawnJoint] = ()
) -> Drawing:
    """The key of fabrics and marks by itself, for drawings of several sizes that stand side by side without one."""
    fabrics = fabric_words(fabrics_of(Leaves().of(making), swatches), swatches, look)
    pic = _key(making, swatches, look, joints, 400.0)
    description = look.render("step.fabrics", fabrics=fabrics)
    return finished(scene_of(pic, look.render("key.title"), description, swatches), look.key(key))


def _apart(
    making: Making,
    members: Sequence[Member],
    lines: Sequence[PageSeam],
    scale: float,
    swatches: Mapping[str, Swatch],
    arrows: bool,
    joints: Sequence[DrawnJoint],
) -> list[Shape]:
    outlines = [m.outline for m in members]
    if making.kind == "on-point":  # points of pieces meet there: told by what the seam joins, not by where it lies
        large = {line: len({members[i].top for i in line.left | line.right}) > 1 for line in lines}
    else:  # a border is as large as a row, though one piece on one side
        round_it = bool(_added(making))
        large = {line: round_it or brings_rows(line, outlines) for line in lines}

    def gap(line: PageSeam) -> float:
        return _ROWS_GAP if large[line] or not any(large.values()) else _PIECES_GAP

    moves = shifts(outlines, lines, gap)
    leaves = Leaves()
    shapes: list[Shape] = []
    for member, move in zip(members, moves, strict=False):
        inner = [
            *paint(leaves.placed(member.part, member.frame), scale, swatches, width=0.6 if scale > 9 else 0.35),
            Path((member.outline,), width=0.9),
        ]
        shapes.append(ShapeGroup(tuple(inner), *move))
    marks = [(joint, *_joint_spot(joint, scale, outlines, moves)) for joint in joints]
    for line in lines if arrows else ():
        size = gap(line)
        if line.pressed == "free" or size < 12:
            continue
        way, across = gap_line(line, outlines, moves)
        spot = _clear_of(way, [at for _, at, _ in marks])
        shapes += pressing_mark(spot, across, line.pressed, size * 0.4)
    for n, part in enumerate(_added(making), 1):
        spots = [(centre_of(m.outline), move) for m, move in zip(members, moves, strict=False) if m.top == part]
        at, move = spots[len(spots) // 2]
        aside = _beside_arrow(members, part, at)
        shapes += number_mark((at[0] + move[0] + aside[0], at[1] + move[1] + aside[1]), n)
    for n, at in _row_numbers(making, members, moves, scale):
        shapes += number_mark(at, n)
    shapes += [ShapeGroup(tuple(joint_marks([joint], scale)), *move) for joint, _, move in marks]
    return shapes


def _joint_spot(
    joint: DrawnJoint, scale: float, outlines: Sequence[Sequence[Pt]], moves: Sequence[Pt]
) -> tuple[Pt, Pt]:
    """Where a joint is marked when the parts lie apart, and how far that is from where it lies."""
    here = (float(joint.at[0]) * scale, float(joint.at[1]) * scale)
    near = [move for o, move in zip(outlines, moves, strict=True) if _on_edge(here, o)] or [(0.0, 0.0)]
    dx, dy = sum(m[0] for m in near) / len(near), sum(m[1] for m in near) / len(near)
    return (here[0] + dx, here[1] + dy), (dx, dy)


def _clear_of(way: Sequence[Pt], marks: Sequence[Pt]) -> Pt:
    """The place for an arrow on a seam: its middle, or the next place where no mark of a joint covers it."""
    (x0, y0), (x1, y1) = way[0], way[-1]
    spots = [
        (x0 + (x1 - x0) * t, y0 + (y1 - y0) * t)
        for t in (0.5, *(0.5 + s * k / 24 for k in range(1, 11) for s in (-1, 1)))
    ]
    clear = [p for p in spots if all(dist(p, mark) > _CLEAR for mark in marks)]
    return (clear or spots)[0]


def _row_numbers(making: Making, members: Sequence[Member], moves: Sequence[Pt], scale: float) -> list[tuple[int, Pt]]:
    """The numbers of diagonal rows, each on the piece at the row's left end."""
    rows = [i for i, p in enumerate(making.parts) if isinstance(p.what, Making) and p.what.kind == "diagonal-row"]
    found: list[tuple[int, Pt]] = []
    for row in rows:
        n = _number(making.parts[row].what)
        k = next(i for i, m in enumerate(members) if m.top == row)
        member, outline = members[k], members[k].outline
        if isinstance(member.part, Making) and member.part.role == "row":  # left whole
            first = member.part.parts[0]
            outline = scaled(apply(member.frame, floats(first.outline)), scale)
        x, y = centre_of(outline)
        found.append((n, (x + moves[k][0], y + moves[k][1])))
    return found


def _number(row: Part) -> int:
    """The number of a diagonal row."""
    assert isinstance(row, Making) and row.key.part is not None
    return row.key.part.numbers[0]


def _on_edge(p: Pt, outline: Sequence[Pt]) -> bool:
    ends = zip(outline, [*outline[1:], outline[0]], strict=True)
    return any(between(p, a, b) for a, b in ends)


def _beside_arrow(members: Sequence[Member], part: int, at: Pt) -> Pt:
    """A number stands a little off the middle of a long border, where the pressing arrow points."""
    points = [p for m in members if m.top == part for p in m.outline]
    wide = max(p[0] for p in points) - min(p[0] for p in points)
    high = max(p[1] for p in points) - min(p[1] for p in points)
    return (min(24.0, wide / 4), 0.0) if wide > high else (0.0, min(24.0, high / 4))


def _rows(making: Making, lines: Sequence[PageSeam]) -> tuple[int, bool]:
    """How many rows the rows' own seams make, and whether they lie diagonally."""
    if making.kind == "mitred-border":
        return 0, False  # its slanted seams are mitres, and between no rows
    if making.kind == "on-point":
        diagonal = [p for p in making.parts if isinstance(p.what, Making) and p.what.kind == "diagonal-row"]
        return len(diagonal), True  # sashing and the corners left over are no rows
    whole = making
    inner = [p.what for p in making.parts if isinstance(p.what, Making) and p.what.role == "centre"]
    if inner:
        whole = inner[0]
    rows = sum(isinstance(p.what, Making) and p.what.role == "row" for p in whole.parts)
    last = lines[-1] if lines else None
    slanted = bool(last and min(abs(last.along[0]), abs(last.along[1])) > 0.1) and whole is making
    if slanted:
        parallel = (
            [ln for ln in lines if abs(abs(ln.along[0] * last.along[0] + ln.along[1] * last.along[1]) - 1) < 1e-6]
            if last
            else []
        )
        return len(parallel) + 1, True
    turned = any(p.place.turned % 90 for p in whole.parts)
    return rows, turned


def draw_assembly(
    making: Making,
    swatches: Mapping[str, Swatch],
    look: Look = LOOK,
    *,
    key: str = "",
    arrows: bool = True,
    joints: Sequence[DrawnJoint] = (),
    rows: bool | None = None,
    wide: float = 420.0,
    legend: bool = True,
) -> Drawing:
    """A quilt top, centre or block pulled apart along its seams, rows within it too, in the order it is sewn.

    Parts that go round a centre (borders) are numbered in sewing order, and the centre then stays whole; `rows` opens
    it nevertheless, or leaves rows whole anywhere. `arrows` shows pressing where it is settled; `joints` are marked
    where they lie; `legend` may be left off where `draw_key` gives it for several drawings.
    """
    scene = assembly_scene(making, swatches, look, arrows=arrows, joints=joints, rows=rows, wide=wide, legend=legend)
    return finished(scene, look.key(key or f"assembly-{making.spelled}"))
