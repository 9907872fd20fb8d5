"""Methods drawn from the seams themselves: group by group, or round by round."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from patternkit.drawing.layout import picture
from patternkit.drawing.look import Look
from patternkit.drawing.method_pictures import MethodPicture
from patternkit.drawing.sheets import SIDE, pieces_picture
from patternkit.drawing.steps import StepGeometry
from patternkit.drawing.swatches import Swatch
from patternkit.drawing.unit_panel import unit_panel
from patternkit.piecing.making import Making, Seam

FEW_CUTS = 6
_GAP = 15.0
_MOST = 11  # panels; the steps of the booklet show every seam


def _ends(seam: Seam) -> tuple[tuple[float, float], tuple[float, float]]:
    return ((float(seam.start[0]), float(seam.start[1])), (float(seam.end[0]), float(seam.end[1])))


def _side(p: tuple[float, float], a: tuple[float, float], b: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def _meet(one: Seam, other: Seam) -> bool:
    """True when two seams touch or cross."""
    (a, b), (c, d) = _ends(one), _ends(other)
    near = 1e-9
    s, t, u, v = _side(c, a, b), _side(d, a, b), _side(a, c, d), _side(b, c, d)
    return s * t <= near and u * v <= near and not (abs(s) < near and abs(t) < near and not _same_stretch(a, b, c, d))


def _same_stretch(
    a: tuple[float, float], b: tuple[float, float], c: tuple[float, float], d: tuple[float, float]
) -> bool:
    k = 0 if abs(b[0] - a[0]) > abs(b[1] - a[1]) else 1
    return max(min(a[k], b[k]), min(c[k], d[k])) <= min(max(a[k], b[k]), max(c[k], d[k])) + 1e-9


def _tied(one: Seam, other: Seam) -> bool:
    """True when one seam must be sewn, and pressed, before the other: they share pieces and touch, or one is set in."""
    if {*one.left, *one.right}.isdisjoint({*other.left, *other.right}):
        return False
    return one.set_in or other.set_in or _meet(one, other)


def _collide(one: Seam, other: Seam, making: Making) -> bool:
    """True when the pieces of two seams lie beside each other and move apart in different directions."""
    (a, b), (c, d) = _ends(one), _ends(other)
    cross = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])
    mine, theirs = {*one.left, *one.right}, {*other.left, *other.right}
    if abs(cross) < 1e-9 or not mine.isdisjoint(theirs):
        return False
    corners = [{p for i in parts for p in making.parts[i].outline} for parts in (mine, theirs)]
    return len(corners[0] & corners[1]) > 1


def groups_of(making: Making) -> list[list[int]]:
    """Seams in sewing order, in groups that can be sewn and drawn at one go: none waits for another of the group, and
    no piece moves into another's way."""
    groups: list[list[int]] = []
    for i, seam in enumerate(making.seams):
        before = [making.seams[j] for j in groups[-1]] if groups else []
        if groups and not any(_tied(seam, s) or _collide(seam, s, making) for s in before):
            groups[-1].append(i)
        else:
            groups.append([i])
    return groups


def _panels(
    making: Making,
    groups: Sequence[Sequence[int]],
    words: Sequence[str],
    swatches: Mapping[str, Swatch],
    look: Look,
    scale: float | None = None,
) -> list[MethodPicture]:
    at = scale or SIDE / float(max(making.width, making.height))
    out = []
    few = len(making.recipe.cuts) <= FEW_CUTS  # more of them are told better by the list of what to take
    pieces = pieces_picture(making.recipe.cuts if few else (), swatches, look)
    if pieces.items:
        out.append(MethodPicture(pieces, look.render("panel.pieces")))
    room = max(1, _MOST - len(out))
    for group, text in list(zip(groups, words, strict=False))[:room]:
        out.append(MethodPicture(picture(StepGeometry(making, group, at).before(swatches, look, _GAP)[0]), text))
    return [*out, unit_panel(making, swatches, look, at, "panel.result")]


def by_groups(making: Making, swatches: Mapping[str, Swatch], look: Look) -> list[MethodPicture]:
    """Any unit: its seams in groups."""
    groups = groups_of(making)
    return _panels(making, groups, [look.render("panel.join")] * len(groups), swatches, look)


def wedges(making: Making, swatches: Mapping[str, Swatch], look: Look) -> list[MethodPicture]:
    """A star in straight seams: one of its eight wedges, then a quarter, a half and the whole."""
    each = 2  # seams of a wedge
    quarters = 8 * each
    groups = [[i] for i in range(each)] + [[quarters], [quarters + 4], [quarters + 6]]
    words = [look.render(f"panel.star.{part}") for part in ("small", "large", "quarter", "half", "whole")]
    return _panels(making, groups, words, swatches, look)


def set_in(making: Making, swatches: Mapping[str, Swatch], look: Look) -> list[MethodPicture]:
    """A star with set-in seams: a pair, its side triangle, a half with its corner square, the whole."""
    groups = [[0], [4], [8], [9], [12], [13, 14]]
    parts = ("pair", "side", "pairs", "corner", "whole", "last")
    words = [look.render(f"panel.star.{part}") for part in parts]
    return _panels(making, groups, words, swatches, look)


def partial(making: Making, swatches: Mapping[str, Swatch], look: Look) -> list[MethodPicture]:
    """Pieces that turn round a middle: the first half of the first seam, the pieces after it, the whole."""
    first, *others = making.seams
    corners = [p[0] for p in making.parts[0].place.outline(making.parts[0].what.outline)]
    ends = [min(corners), max(corners)]
    half, y = (ends[0] + ends[1]) / 2, first.start[1]
    if first.start[0] == ends[1]:  # the first piece ends with the middle on the right
        seam = msgspec.structs.replace(first, left=(0,), end=(half, y))
    else:
        seam = msgspec.structs.replace(first, left=(0,), start=(half, y))
    sewn = msgspec.structs.replace(making, seams=(seam, *others))
    words = ["panel.partial", *["panel.join"] * len(others)]
    groups = [[i] for i in range(len(sewn.seams))]
    panels = _panels(sewn, groups, [look.render(word) for word in words], swatches, look)
    at = SIDE / float(max(making.width, making.height))
    return [*panels[:-1], unit_panel(making, swatches, look, at, "panel.closed")]


def rounds(making: Making, swatches: Mapping[str, Swatch], look: Look) -> list[MethodPicture]:
    """Logs round a centre: four seams to a round."""
    groups = [list(range(i, min(i + 4, len(making.seams)))) for i in range(0, len(making.seams), 4)]
    return _panels(making, groups, [look.render("panel.round", n=n) for n in range(1, len(groups) + 1)], swatches, look)


def long_sides(making: Making, swatches: Mapping[str, Swatch], look: Look) -> list[MethodPicture]:
    """Two triangles joined on their long sides."""
    groups = groups_of(making)
    words = [look.render("panel.slide")] * len(groups)
    return _panels(making, groups, words, swatches, look)
