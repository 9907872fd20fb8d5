"""Blocks on point: set cornerwise in diagonal rows, with triangles along the sides and in the corners.

Looking at the finished quilt, level rows of `across` blocks alternate with rows of one block fewer; the first row under
``tile`` gives the blocks of the full rows, the second those between. Where everything lies is worked out by
`diagonals.py`; what sashing and triangles are cut from, by `setting_cuts.py`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import msgspec

from patternkit.lengths import SQRT2, ZERO, Length
from patternkit.model.pattern import Finishing, Framing, Quilt
from patternkit.piecing.keys import OwnKey
from patternkit.piecing.kinds.base import Unsettled
from patternkit.piecing.making import Cloth, Making, Numbers, Outline, Part, PieceCut, Place, Placed, Recipe, Seam
from patternkit.piecing.making import rectangle as rectangle_of
from patternkit.piecing.method import Method
from patternkit.piecing.names import (
    CENTRE,
    CORNERSTONE,
    EDGE_SASHING,
    LONG_SASHING,
    SASHING,
    Name,
)
from patternkit.piecing.setting.diagonals import Diagonals, Lattice, lattice_of, moved
from patternkit.piecing.setting.edge_triangles import EdgeTriangles, edge_triangles, is_whole
from patternkit.piecing.setting.grid import BlockGrid
from patternkit.piecing.setting.join import owned
from patternkit.piecing.setting.setting_cuts import reaching
from patternkit.piecing.setting.straight import sash_width
from patternkit.piecing.shapes import merged
from patternkit.piecing.sizing import Sizing
from patternkit.piecing.templates import is_rectangle
from patternkit.piecing.unknowns import Unknown, of_block_on_point, of_centre, of_float, of_float_ends, of_sashing
from patternkit.piecing.workshop import Workshop, corner_place
from patternkit.problems import Problem
from patternkit.units import show

ROW, ROWS = Method("joined", "row-on-point", runs="across"), Method("joined", "rows-on-point")
SASHES = Method("joined", "sashing-on-point", runs="across")


class BeyondPoints(Numbers, frozen=True):
    """How far the trimmed centre reaches beyond the points of its blocks, or beyond the middles of its outer
    cornerstones where sashing goes `round` all blocks; `whole` where each strip between two rows is one piece."""

    beyond: Length
    ends: Length  # the same at top and bottom
    sashing: Lattice = ""
    whole: bool = False
    pieced: bool = False  # whether some of the triangles are
    blocks: int = 0  # how many whole blocks lie along the edge, of which a part is trimmed away
    corners: bool = False  # whether those in the corners are

    def mirrored(self, width: Length) -> Numbers:
        """The same of the mirror image, which is laid with a quarter turn: its sides are top and bottom here."""
        return msgspec.structs.replace(self, beyond=self.ends, ends=self.beyond)


class Sashed(Numbers, frozen=True):
    """What sashing lies in a diagonal row, or beside it."""

    lattice: Lattice


def equations(quilt: Quilt, grid: BlockGrid, out: Sizing) -> None:
    """Every block is a square of one size B. The centre is across times (B + sashing) root 2 wide; that much sashing
    less where it is inner only; and a float twice if there is one."""
    of, on_point = quilt.of, of_block_on_point(quilt.of)
    out.shown(on_point, "a block set on point")
    for side in "wh":
        out.shown(of_centre(side, of), f"{quilt.called} centre")
    for row in quilt.rows:
        for piece in row.pieces:
            for var in out.size_in_quilt(piece, of):
                out.same(var, on_point, "blocks on point are squares of one size", piece.span)
    floated = quilt.setting.size if quilt.setting is not None else None
    sash = quilt.sashing
    strips = -1 if lattice_of(quilt) == "inner" else 0
    for side, n in (("w", grid.across), ("h", grid.down)):
        text = f"{n} blocks on point measure {n} times their diagonal from corner to corner"
        if n == 1:
            text = "one block on point measures its diagonal from corner to corner"
        terms: list[tuple[Length | int, Unknown]] = [(SQRT2 * n, on_point)]
        if sash is not None:
            text = text.replace(" from corner to corner", "") + ", and so much sashing between them"
            terms += [(SQRT2 * (n + strips), of_sashing(of))] if n + strips else []
        if floated is not None:
            apart = floated[0] != floated[1]
            room, value = (of_float_ends(of), floated[1]) if apart and side == "h" else (of_float(of), floated[0])
            if apart or side == "w":
                out.shown(room, "the float round the blocks" if not apart else "the float at the " + ENDS[side])
                out.stated(room, value, f"the blocks float by {out.render(value)}", quilt.span)
            terms.append((2, room))
            text += ", and the float on both sides"
        out.total(terms, of_centre(side, of), text, quilt.span)
    if sash is not None:
        _sashing(sash, out)


ENDS = {"w": "sides", "h": "top and bottom"}


def floats(quilt: Quilt, shop: Workshop) -> tuple[Length, Length]:
    """How far the points float inside the edge: at the sides, at top and bottom."""
    stated = quilt.setting.size if quilt.setting is not None else None
    if stated is None:
        return ZERO, ZERO
    of = quilt.of
    return shop.solved(of_float(of)), shop.solved(of_float_ends(of) if stated[0] != stated[1] else of_float(of))


def _sashing(sash: Framing, out: Sizing) -> None:
    """The width that the sashing is said to have, and the sizes of units that it is made of."""
    sash_width(sash, out)
    if sash.piece is not None and sash.piece.unit:
        w, h = out.size_in_quilt(sash.piece, sash.of)
        out.same(w, of_sashing(sash.of), "the pieced sashing", sash.span)
        out.same(h, of_block_on_point(sash.of), "the sashing beside a block", sash.span)
    if sash.corner is not None and sash.corner.unit:
        for side in out.size_in_quilt(sash.corner, sash.of):
            out.same(side, of_sashing(sash.of), "the cornerstone", sash.span)


def counts(across: int, down: int) -> tuple[int, int, int]:
    """Blocks in all, side triangles, corner triangles of a setting on point."""
    return across * down + (across - 1) * (down - 1), 2 * (across + down - 2), 4


class OnPoint(NamedTuple):
    """All that diagonal rows are made from; so many have been numbered `before` them."""

    quilt: Quilt
    lies: Diagonals
    triangles: EdgeTriangles
    shop: Workshop
    before: int = 0


class _Laid(NamedTuple):
    """A part of the centre in the frame of a diagonal row, moved by `shift` so that its box begins at nothing."""

    what: Part
    row: int
    shift: tuple[Length, Length]


def make(quilt: Quilt, grid: BlockGrid, shop: Workshop) -> Making | None:
    """The centre on point; None after noting why there is no fabric for its triangles."""
    rooms = floats(quilt, shop)
    strip = shop.solved(of_sashing(quilt.of)) if quilt.sashing is not None else ZERO
    lies = Diagonals(grid, shop.solved(of_block_on_point(quilt.of)), strip, lattice_of(quilt), rooms)
    _possible(quilt, lies, shop)
    triangles = edge_triangles(quilt, triangle_fabric(quilt), (lies.side_leg, lies.corner_base), lies.side, rooms, shop)
    if triangles is None:
        no_triangles(quilt, shop)
        return None
    size = shop.solved(of_centre("w", quilt.of)), shop.solved(of_centre("h", quilt.of))
    return rows_joined(OnPoint(quilt, lies, triangles, shop), OwnKey(CENTRE), "centre", size, ROWS)


def no_triangles(quilt: Quilt, shop: Workshop) -> None:
    """Note that nothing says what the triangles are."""
    setting = quilt.setting
    how = setting.words[0] if setting is not None and setting.words else "on point"
    shop.problem(
        Problem(
            "no-triangles",
            "Nothing says which fabric the triangles at the sides and corners are.",
            setting.span if setting is not None else quilt.span,
            causes=(f"Write the fabric behind {how}: setting {how}, triangles stone.",),
        )
    )


def _possible(quilt: Quilt, lies: Diagonals, shop: Workshop) -> None:
    """Note sashing that can't be laid so; raises Unsettled."""
    sash = quilt.sashing
    if sash is None:
        return
    message, cause = "", ""
    if lies.corner_base <= 0:
        wide, side = show(lies.strip, shop.units), show(lies.side, shop.units)
        message = f"Inner sashing {wide} wide leaves no corner triangle beside blocks of {side}."
        cause = "With inner the sashes end on the edge, so that a corner triangle is two of them smaller than a block."
    elif sash.corner is not None and sash.corner.unit and lies.lattice == "round":
        message = f"The outer cornerstones are cut in half on point, so {sash.corner.name} must be a fabric."
        cause = "Write a fabric behind cornerstones, or inner for sashing that ends on the edge without them."
    elif sash.piece is not None and sash.piece.unit and (sash.corner is None or lies.lattice == "inner"):
        message = f"Sashing of {sash.piece.name} on point ends at a cornerstone on both sides."
        cause = "Write cornerstones with a fabric, and leave out inner; or sashing of a fabric."
    if message:
        shop.problem(Problem("cannot-sew", message, sash.span, causes=(cause,)))
        raise Unsettled(sash.called)


def triangle_fabric(quilt: Quilt) -> str:
    """The fabric of the side and corner triangles: as stated, else that of the plain blocks between, else none."""
    setting: Finishing | None = quilt.setting
    if setting is not None and setting.fabric:
        return setting.fabric
    plain = [p.fabric for row in quilt.rows[1:] for p in row.pieces if p.fabric]
    return plain[0] if plain else ""


# -- the centre -------------------------------------------------------------------------------------------
def rows_joined(s: OnPoint, key: OwnKey, role: str, size: tuple[Length, Length], method: Method) -> Making:
    """The rows, and the sashing between them, joined from the upper left, then the last two corners."""
    lies, laid = s.lies, list[_Laid]()
    for p in sorted(lies.rows):
        if p == 1 and lies.lattice:
            laid.append(_sashes(0, s))
        laid.append(_row(p, s))
        if lies.lattice:
            laid.append(_sashes(p, s))
    parts: list[Placed] = []
    seams: list[Seam] = []
    for what, row, shift in laid:
        placed = Placed(what, lies.place(row, shift))
        if parts:
            xs = [x for x, y in what.outline if y == 0]
            a, b = (placed.place.point((x, ZERO)) for x in (min(xs), max(xs)))
            seams.append(Seam(a, b, tuple(range(len(parts))), (len(parts),)))
        parts.append(placed)
    beyond_rows = (Place(ZERO, -lies.pitch), lies.place(1)), (Place(ZERO, lies.pitch), lies.place(lies.last))
    for shape, (before, frame) in zip(_last_corners(lies), beyond_rows, strict=True):
        # the shape is clockwise with the seam as its middle edge, so the triangle is on the right of it
        seams.append(Seam(shape[1], shape[2], tuple(range(len(parts))), (len(parts),)))
        grain = Length(1), ZERO
        parts.append(s.triangles.end(shape) if lies.lower else s.triangles.part(shape, True, before.then(frame), grain))
    strips = [strip_cut(p.what, s.shop) for p in parts[:-2] if isinstance(p.what, Cloth)]
    whole = s.quilt.sashing is not None and s.quilt.sashing.corner is None
    beyond, ends = (room + s.shop.seam for room in lies.rooms)
    rows = [p.what for p in parts[:-2] if isinstance(p.what, Making) and p.what.kind == "diagonal-row"]
    blocks = sum(is_whole(p) for row in rows for p in (row.parts[0], row.parts[-1])) + sum(map(is_whole, parts[-2:]))
    numbers = BeyondPoints(beyond, ends, lies.lattice, whole, any(s.triangles.units), blocks, is_whole(parts[-1]))
    recipe = Recipe(method, (*s.triangles.cuts_for(parts[-2:]), *merged(strips)), numbers=numbers)
    outline = rectangle_of(*size)
    made = Making(key, "quilt", role, "on-point", outline, *size, tuple(parts), tuple(seams), recipe)
    return owned(made, s.shop, s.quilt.of)


def _last_corners(lies: Diagonals) -> tuple[Outline, Outline]:
    """The upper left and the lower right corner triangle, in the quilt's coordinates, clockwise; the middle edge is the
    seam."""
    leg, w, d = lies.corner_leg(), lies.width, lies.height
    return ((ZERO, ZERO), (leg, ZERO), (ZERO, leg)), ((w, d), (w - leg, d), (w, d - leg))


def strip_cut(cloth: Cloth, shop: Workshop) -> PieceCut:
    """Sashing or a cornerstone as it is cut, be it trimmed on the slant when the centre is whole."""
    exact = reaching(cloth, shop.seam)
    wide, high = (Length(side.ceil_to(shop.grid)) for side in exact)
    return PieceCut(cloth.fabric, wide, high, *exact, 1, name=cloth.name)


# -- rows -------------------------------------------------------------------------------------------------
def _row(p: int, s: OnPoint) -> _Laid:
    """One diagonal row: a triangle, blocks (with sashing before, between and behind them), a triangle."""
    lies, shop, b = s.lies, s.shop, s.lies.side
    cells = lies.rows[p]
    ends = lies.ends(p)
    corners = lies.at_corner(p)
    shift = -min(x for x, _ in ends[0])
    beside = Place(shift - lies.pitch), Place(shift + lies.pitch * len(cells))
    triangles = [
        s.triangles.part(moved(shape, shift, ZERO), corner, cell)
        for shape, corner, cell in zip(ends, corners, beside, strict=True)
    ]
    parts, joints = [triangles[0]], list[Length]()
    for i, cell in enumerate(cells):
        if lies.lattice:
            joints.append(lies.pitch * i - lies.strip)
            parts.append(_bar(lies.bar(p, i), s, shift, ZERO))
        joints.append(lies.pitch * i)
        what, place = shop.part_in_quilt(lies.grid.cell(cell.level, cell.nth), s.quilt.of)
        parts.append(Placed(what, Place(shift + lies.pitch * i + place.dx, place.dy, place.turned)))
    end = lies.pitch * (len(cells) - 1) + b
    joints.append(end)
    if lies.lattice:
        parts.append(_bar(lies.bar(p, len(cells)), s, shift, ZERO))
        joints.append(end + lies.strip)
    parts.append(triangles[1])
    seams = []
    for i, x in enumerate(joints):
        top, bottom = _shared(shift + x, parts[i : i + 2], b)
        seams.append(Seam((shift + x, bottom), (shift + x, top), tuple(range(i + 1)), (i + 1,)))
    outline = moved(lies.outline(p, ends), shift, ZERO)
    cuts = s.triangles.cuts_for(triangles)
    plain = [strip_cut(x.what, shop) for x in parts[1:-1] if isinstance(x.what, Cloth)]
    numbers = Sashed(lies.lattice) if lies.lattice else Numbers()
    recipe = Recipe(ROW, (*merged(plain), *cuts), numbers=numbers)
    width = max(x for x, _ in outline)
    key = OwnKey(Name("diagonal row", (s.before + p,)))
    made = Making(key, "quilt", "row", "diagonal-row", outline, width, b, tuple(parts), tuple(seams), recipe)
    return _Laid(owned(made, shop, s.quilt.of), p, (shift, ZERO))


def _shared(x: Length, beside: Sequence[Placed], high: Length) -> tuple[Length, Length]:
    """From where to where two neighbours of a row meet: as far as cloth that is cut by the quilt's edge reaches."""
    top, bottom = ZERO, high
    for part in beside:
        if isinstance(part.what, Cloth):
            ys = [y for u, y in part.place.outline(part.what.outline) if u == x]
            top, bottom = max(top, min(ys)), min(bottom, max(ys))
    return top, bottom


def _sashes(q: int, s: OnPoint) -> _Laid:
    """The sashing below row `q`: one long strip, or sewn together from sashes and cornerstones."""
    lies, sash = s.lies, s.quilt.sashing
    assert sash is not None
    row, top = lies.between(q)
    found = lies.beams(q) if sash.corner is not None else [("long", lies.long_strip(q))]
    xs = [x for _, shape in found for x, _ in shape]
    shift = -min(xs), -top
    if len(found) == 1:
        what, shape = found[0]
        name = LONG_SASHING if what == "long" else EDGE_SASHING
        return _Laid(Cloth(_fabric(sash), moved(shape, *shift), name=name), row, shift)
    parts = [_bar(shape, s, *shift) if what == "beam" else _post(shape, s, *shift) for what, shape in found]
    joints = [max(x for x, _ in shape) + shift[0] for _, shape in found[:-1]]
    seams = [Seam((x, lies.strip), (x, ZERO), tuple(range(i + 1)), (i + 1,)) for i, x in enumerate(joints)]
    outline = moved(lies.long_strip(q), *shift)
    cuts = merged(strip_cut(x.what, s.shop) for x in parts if isinstance(x.what, Cloth))
    key, width = OwnKey(Name("diagonal sashing row", (q + 1,))), max(x for x, _ in outline)
    recipe, high = Recipe(SASHES, cuts, numbers=Sashed(lies.lattice)), lies.strip
    made = Making(key, "quilt", "row", "diagonal-sashing", outline, width, high, tuple(parts), tuple(seams), recipe)
    return _Laid(owned(made, s.shop, s.quilt.of), row, shift)


def _fabric(sash: Framing) -> str:
    return sash.piece.fabric if sash.piece is not None else ""


def _bar(shape: Outline, s: OnPoint, dx: Length, dy: Length) -> Placed:
    """One sash where it lies: cloth, or a unit, upright or along."""
    sash, box = s.quilt.sashing, moved(shape, dx, dy)
    assert sash is not None
    if sash.piece is None or sash.piece.fabric:
        return Placed(Cloth(_fabric(sash), box, name=SASHING if is_rectangle(box) else EDGE_SASHING))
    what, place = s.shop.part_in_quilt(sash.piece, sash.of)
    x, y = min(x for x, _ in box), min(y for _, y in box)
    wide = max(x for x, _ in box) - x > s.lies.strip
    return Placed(what, corner_place(what, place.turned + (90 if wide else 0), x, y))


def _post(shape: Outline, s: OnPoint, dx: Length, dy: Length) -> Placed:
    """One cornerstone where it lies; on the edge, the half of it that shows."""
    sash, box = s.quilt.sashing, moved(shape, dx, dy)
    assert sash is not None and sash.corner is not None
    if sash.corner.fabric:
        return Placed(Cloth(sash.corner.fabric, box, name=CORNERSTONE))
    what, place = s.shop.part_in_quilt(sash.corner, sash.of)
    return Placed(what, corner_place(what, place.turned, min(x for x, _ in box), min(y for _, y in box)))
