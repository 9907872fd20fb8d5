"""Half-rectangles drawn: cut the right way, tips as far apart as worked out, the seam through both dots."""

from __future__ import annotations

from math import hypot

import pytest

from patternkit.drawing.audit import audit
from patternkit.drawing.leaning import half_rectangle
from patternkit.drawing.look import LOOK
from patternkit.drawing.methods import method_scene
from patternkit.drawing.scene import Circle, Path, Pt, flat
from patternkit.drawing.sheets import CUT_DASH
from patternkit.piecing.kinds.half_rectangle import Tips
from patternkit.piecing.making import Making

from . import samples as S

WAYS = [(way, method) for way in ("left", "right") for method in ("oversize", "pairs of rectangles")]


def panels(making: Making) -> list[list[tuple[object, float, float]]]:
    return [list(flat(p.picture.items)) for p in half_rectangle(making, S.SWATCHES, LOOK)]


def lines(shapes: list[tuple[object, float, float]]) -> list[tuple[Path, Pt, Pt]]:
    found = []
    for s, dx, dy in shapes:
        if isinstance(s, Path) and not s.closed and len(s.loops[0]) == 2:
            (ax, ay), (bx, by) = s.loops[0]
            found.append((s, (ax + dx, ay + dy), (bx + dx, by + dy)))
    return found


@pytest.mark.parametrize(("way", "method"), WAYS)
def test_pieces_are_cut_the_way_the_unit_leans(way: str, method: str) -> None:
    """A triangle cut the other way is the mirror image of the one that is wanted, and no turning mends it."""
    cuts = [(a, b) for s, a, b in lines(panels(S.half_rectangle(way, method))[0]) if s.dash == CUT_DASH]
    assert len(cuts) == 2
    for (ax, ay), (bx, by) in cuts:
        rises = (bx - ax) * (by - ay) < 0  # y runs down
        assert rises == (way == "right")


@pytest.mark.parametrize(("way", "method"), WAYS)
def test_tips_are_drawn_as_far_apart_as_the_words_say(way: str, method: str) -> None:
    making = S.half_rectangle(way, method)
    assert isinstance(making.recipe.numbers, Tips)
    offset, cut = making.recipe.numbers.offset, making.recipe.cuts[0]
    shapes = panels(making)[1]
    triangles = [s.loops[0] for s, _, _ in shapes if isinstance(s, Path) and s.fabric]
    assert len(triangles) == 2
    ends = [(min(px for px, _ in t), max(px for px, _ in t)) for t in triangles]
    scale = (ends[0][1] - ends[0][0]) / hypot(float(cut.width), float(cut.height))
    for i in (0, 1):
        assert abs(ends[0][i] - ends[1][i]) / scale == pytest.approx(float(offset))
    assert sum(getattr(s, "text", "") == LOOK.length(offset) for s, _, _ in shapes) == 2


@pytest.mark.parametrize(("way", "method"), WAYS)
def test_the_dots_lie_one_seam_inside_two_opposite_corners(way: str, method: str) -> None:
    making = S.half_rectangle(way, method)
    shapes = panels(making)[2]
    dots = sorted((s.x + dx, s.y + dy) for s, dx, dy in shapes if isinstance(s, Circle))
    (ax, ay), (bx, by) = dots
    scale = (bx - ax) / float(making.width)
    assert abs(by - ay) / scale == pytest.approx(float(making.height))
    assert (by < ay) == (way == "right")
    outlines = [
        [(x + dx, y + dy) for x, y in s.loops[0]]
        for s, dx, dy in shapes
        if isinstance(s, Path) and len(s.loops[0]) == 4 and not s.fabric
    ]
    trimmed = outlines[-1]
    seam = float(LOOK.seam) * scale
    assert ax - min(x for x, _ in trimmed) == pytest.approx(seam)
    assert max(x for x, _ in trimmed) - bx == pytest.approx(seam)
    assert min(ay, by) - min(y for _, y in trimmed) == pytest.approx(seam)
    assert bool(making.recipe.trim_to) == (len(outlines) > 1)


@pytest.mark.parametrize(("way", "method"), WAYS)
def test_it_can_be_read(way: str, method: str) -> None:
    scene = method_scene(S.half_rectangle(way, method), S.SWATCHES)
    assert audit(scene) == []
    letters = [s.text for s, _, _ in flat(scene.items) if getattr(s, "text", "") in ("A", "B", "C")]
    assert len(letters) == 6  # both fabrics in each of three pictures
