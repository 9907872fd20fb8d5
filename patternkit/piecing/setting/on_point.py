"""Blocks on point: set cornerwise in diagonal rows, with triangles along the sides and in the corners.

Looking at the finished quilt, level rows of `across` blocks alternate with rows of one block fewer; the first row under
``tile`` gives the blocks of the full rows, the second those between. The diagonal rows run up to the right: a row is
laid out in its own frame, its blocks from x = 0, and placed turned by 315 degrees.
"""

from __future__ import annotations

import msgspec

from patternkit.lengths import SQRT2, ZERO, Length
from patternkit.model.pattern import Finishing, Quilt
from patternkit.piecing.keys import OwnKey
from patternkit.piecing.making import (
    Cloth,
    Making,
    Numbers,
    Outline,
    PieceCut,
    Place,
    Placed,
    Point,
    Recipe,
    Seam,
    rectangle,
)
from patternkit.piecing.method import Method
from patternkit.piecing.names import CENTRE, CORNER_TRIANGLE, SIDE_TRIANGLE, Name
from patternkit.piecing.setting.grid import BlockGrid
from patternkit.piecing.setting.join import cloth_recipe
from patternkit.piecing.setting.setting_cuts import triangle_cuts
from patternkit.piecing.sizing import Sizing
from patternkit.piecing.unknowns import FLOAT, ON_POINT, of_centre
from patternkit.piecing.workshop import Workshop
from patternkit.problems import Problem

ROW, ROWS = Method("joined", "row-on-point", runs="across"), Method("joined", "rows-on-point")


class BeyondPoints(Numbers, frozen=True):
    """How far the trimmed centre reaches beyond the points of its blocks."""

    beyond: Length


def is_on_point(quilt: Quilt) -> bool:
    """True when the quilt's setting line says so."""
    return quilt.setting is not None and any("on point" in w or w == "on-point" for w in quilt.setting.words)


def equations(quilt: Quilt, grid: BlockGrid, out: Sizing) -> None:
    """Every block is a square of one size B; the centre is across times B root 2 wide, and a float twice if there is
    one."""
    out.shown(ON_POINT, "a block set on point")
    out.shown(of_centre("w"), "the quilt centre")
    out.shown(of_centre("h"), "the quilt centre")
    for row in quilt.rows:
        for piece in row.pieces:
            for var in out.size_in_quilt(piece):
                out.same(var, ON_POINT, "blocks on point are squares of one size", piece.span)
    floats = quilt.setting.extras.get("float") if quilt.setting is not None else None
    for side, n in (("w", grid.across), ("h", grid.down)):
        text = f"{n} blocks on point measure {n} times their diagonal from corner to corner"
        if n == 1:
            text = "one block on point measures its diagonal from corner to corner"
        if floats is None:
            out.total([(SQRT2 * n, ON_POINT)], of_centre(side), text, quilt.span)
        else:
            room = FLOAT
            if side == "w":
                out.shown(room, "the float round the blocks")
                out.stated(room, floats, f"the blocks float by {out.render(floats)}", quilt.span)
            out.total(
                [(SQRT2 * n, ON_POINT), (2, room)],
                of_centre(side),
                text + ", and the float on both sides",
                quilt.span,
            )


class _Frame:
    """Where the blocks of one quilt lie: level rows to diagonal rows."""

    def __init__(self, grid: BlockGrid, side: Length, room: Length, cuts: tuple[PieceCut, PieceCut]) -> None:
        self.grid, self.side, self.room, self.cuts = grid, side, room, cuts
        self.half = side * SQRT2 / 2  # half a block's diagonal
        self.rows: dict[int, list[tuple[int, int, int, int]]] = {}  # diagonal row -> (ux, uy, level row, place in it)
        for k in range(2 * grid.down - 1):
            for j in range(grid.across - k % 2):
                ux, uy = 2 * j + 1 + k % 2, k + 1
                self.rows.setdefault((ux + uy) // 2, []).append((ux, uy, k, j))
        for row in self.rows.values():
            row.sort()


def counts(across: int, down: int) -> tuple[int, int, int]:
    """Blocks in all, side triangles, corner triangles of a setting on point."""
    return across * down + (across - 1) * (down - 1), 2 * (across + down - 2), 4


def make(quilt: Quilt, grid: BlockGrid, shop: Workshop) -> Making | None:
    """The centre on point; None after noting why there is no fabric for its triangles."""
    cloth = triangle_fabric(quilt)
    if not cloth:
        shop.problem(
            Problem(
                "no-triangles",
                "Nothing says which fabric the triangles at the sides and corners are.",
                quilt.setting.span if quilt.setting else quilt.span,
                causes=("Write the fabric behind on point: setting on point, triangles stone.",),
            )
        )
        return None
    side = shop.solved(ON_POINT)
    room = shop.solved(FLOAT) if quilt.setting and "float" in quilt.setting.extras else ZERO
    frame = _Frame(grid, side, room, triangle_cuts(quilt, cloth, side, room, shop))
    parts: list[Placed] = []
    seams: list[Seam] = []
    last = max(frame.rows)
    for p in sorted(frame.rows):
        row, left = _row(p, frame, cloth, shop)
        ux, uy = frame.rows[p][0][:2]
        corner = (
            frame.half * (ux - 1) + room,
            frame.half * uy + room,
        )  # the left corner of the row's first block
        place = Place(turned=315)
        shift = place.point((left, ZERO))
        placed = Placed(row, Place(corner[0] - shift[0], corner[1] - shift[1], 315))
        parts.append(placed)
        if p > min(frame.rows):
            ends = _top_edge(p, frame)
            a, b = (placed.place.point((x + left, ZERO)) for x in ends)
            seams.append(Seam(a, b, tuple(range(len(parts) - 1)), (len(parts) - 1,)))
    for p, where in ((min(frame.rows), "top left"), (last, "bottom right")):
        shape = _last_corner(where, frame)
        parts.append(Placed(Cloth(cloth, shape, name=CORNER_TRIANGLE)))
        # the shape is clockwise with the seam as its middle edge, so the triangle is on the right of it
        seams.append(Seam(shape[1], shape[2], tuple(range(len(parts) - 1)), (len(parts) - 1,)))
    width, height = shop.solved(of_centre("w")), shop.solved(of_centre("h"))
    recipe = Recipe(
        ROWS,
        (msgspec.structs.replace(frame.cuts[1], count=2),),
        numbers=BeyondPoints(room + shop.seam),
    )
    return Making(
        OwnKey(CENTRE),
        "quilt",
        "centre",
        "on-point",
        rectangle(width, height),
        width,
        height,
        tuple(parts),
        tuple(seams),
        recipe,
    )


def triangle_fabric(quilt: Quilt) -> str:
    """The fabric of the side and corner triangles: as stated, else that of the plain blocks between, else none."""
    setting: Finishing | None = quilt.setting
    if setting is not None and setting.fabric:
        return setting.fabric
    plain = [p.fabric for row in quilt.rows[1:] for p in row.pieces if p.fabric]
    return plain[0] if plain else ""


def _row(p: int, f: _Frame, cloth: str, shop: Workshop) -> tuple[Making, Length]:
    """One diagonal row in its own frame (blocks from x = 0 shifted so that its leftmost point is 0), and that shift."""
    b, cells = f.side, f.rows[p]
    n = len(cells)
    left, right = _ends(p, f)
    shift = -min(x for x, _ in left)
    parts = [
        Placed(
            Cloth(cloth, _moved(left, shift), grain=(Length(1), Length(-1)), name=_end_name(p == f.grid.down)),
            Place(),
        )
    ]
    for i, (_, _, k, j) in enumerate(cells):
        what, place = shop.part_in_quilt(f.grid.cell(k, j))
        parts.append(Placed(what, Place(shift + b * i + place.dx, place.dy, place.turned)))
    parts.append(
        Placed(
            Cloth(cloth, _moved(right, shift), grain=(Length(1), Length(-1)), name=_end_name(p == f.grid.across)),
            Place(),
        )
    )
    seams = [Seam((shift + b * i, b), (shift + b * i, ZERO), tuple(range(i + 1)), (i + 1,)) for i in range(n + 1)]
    outline = _moved(_row_outline(left, right, n, b), shift)
    width = max(x for x, _ in outline)
    cuts = [f.cuts[is_corner] for is_corner in (p == f.grid.down, p == f.grid.across)]
    if cuts[0] == cuts[1]:
        cuts = [msgspec.structs.replace(cuts[0], count=2)]
    plain = cloth_recipe(ROW, parts[1:-1], shop)
    recipe = Recipe(ROW, (*plain.cuts, *cuts))
    name = Name("diagonal row", (p,))
    return Making(
        OwnKey(name),
        "quilt",
        "row",
        "diagonal-row",
        outline,
        width,
        b,
        tuple(parts),
        tuple(seams),
        recipe,
    ), shift


def _end_name(corner: bool) -> Name:
    return CORNER_TRIANGLE if corner else SIDE_TRIANGLE


def _ends(p: int, f: _Frame) -> tuple[Outline, Outline]:
    """The cloth at the left and right end of diagonal row `p`, in the row's frame with its first block from x = 0."""
    b, x, t = f.side, f.side * len(f.rows[p]), f.room * SQRT2
    down, across = f.grid.down, f.grid.across
    if p == down:  # the bottom left corner of the quilt
        left: Outline = ((ZERO, ZERO), (ZERO, b), (-t, b), (-b / 2 - t, b / 2), (-t, ZERO))
    elif p < down:  # the left side: the tip lies low
        left = ((ZERO, ZERO), (ZERO, b), (-b - t, b), (-t, ZERO))
    else:  # the bottom: the tip lies high
        left = ((ZERO, ZERO), (ZERO, b), (-t, b), (-b - t, ZERO))
    if p == across:  # the top right corner
        right: Outline = ((x, b), (x, ZERO), (x + t, ZERO), (x + b / 2 + t, b / 2), (x + t, b))
    elif p < across:  # the top: the tip lies low
        right = ((x, b), (x, ZERO), (x + t, ZERO), (x + b + t, b))
    else:  # the right side: the tip lies high
        right = ((x, b), (x, ZERO), (x + b + t, ZERO), (x + t, b))
    return _tidy(left), _tidy(right)


def _tidy(points: Outline) -> Outline:
    """Drop points that fall together when there is no float."""
    kept: list[Point] = []
    for q in points:
        if not kept or (q != kept[-1] and q != kept[0]):
            kept.append(q)
    return tuple(kept)


def _moved(points: Outline, dx: Length) -> Outline:
    return tuple((x + dx, y) for x, y in points)


def _row_outline(left: Outline, right: Outline, n: int, b: Length) -> Outline:
    # left runs down the first block's side and round; right runs up the last block's side and round
    return (*left[2:], (ZERO, ZERO), *right[1:], (b * n, b), (ZERO, b))


def _top_edge(p: int, f: _Frame) -> tuple[Length, Length]:
    """From where to where (in the row's frame) the upper edge of row `p` is sewn to the row before."""
    left, right = _ends(p, f)
    xs = [x for x, y in (*left, *right) if y == 0]
    return min(xs), max(xs)


def _last_corner(where: str, f: _Frame) -> Outline:
    """The two corner triangles that are sewn on last, in the quilt's coordinates, clockwise; the middle edge is the
    seam."""
    h, r = f.half, f.room
    if where == "top left":
        return _tidy(((ZERO, ZERO), (h + r * 2, ZERO), (ZERO, h + r * 2)))
    w, d = f.half * 2 * f.grid.across + r * 2, f.half * 2 * f.grid.down + r * 2
    return _tidy(((w, d), (w - h - r * 2, d), (w, d - h - r * 2)))
