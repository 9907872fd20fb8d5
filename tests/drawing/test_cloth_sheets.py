"""Bought pieces of cloth drawn to scale: what is cut lies where the cutter cuts it."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.document import Booklet, Figure, Section
from patternkit.drawing.audit import audit
from patternkit.drawing.cloth_sheets import DrawnBand, PieceRun, SheetCut, sheet_scene
from patternkit.drawing.geometry import box_of
from patternkit.drawing.scene import Box, Path, Scene, flat
from patternkit.lengths import Length
from tests.booklet.conftest import EXAMPLES, made, project

from . import samples as S
from .samples import L


def pieces(scene: Scene) -> list[Box]:
    """The boxes of all pieces of the fabric, in points."""
    boxes = []
    for shape, dx, dy in flat(scene.items):
        if isinstance(shape, Path) and shape.fabric:
            for loop in shape.loops:
                x0, y0, x1, y1 = box_of(loop)
                boxes.append((x0 + dx, y0 + dy, x1 + dx, y1 + dy))
    return boxes


def cloth(scene: Scene) -> Box:
    """The box of the whole piece: the first shape, what nothing is cut from."""
    shape, dx, dy = next((s, dx, dy) for s, dx, dy in flat(scene.items) if isinstance(s, Path))
    x0, y0, x1, y1 = box_of(shape.loops[0])
    return x0 + dx, y0 + dy, x1 + dx, y1 + dy


def apart(boxes: list[Box]) -> bool:
    near = 1e-6
    return all(
        a[2] <= b[0] + near or b[2] <= a[0] + near or a[3] <= b[1] + near or b[3] <= a[1] + near
        for i, a in enumerate(boxes)
        for b in boxes[i + 1 :]
    )


def run(label: str, count: int, along: str, side: str) -> PieceRun:
    return PieceRun(label, count, L(along), L(side), f"{along} x {side} in")


def quarter() -> SheetCut:
    """A fat quarter: two strips across, then two down what is left, one of them with trimmed pieces."""
    return SheetCut(
        "glow",
        L(21),
        L(18),
        (
            DrawnBand(True, L("4.5"), 2, (run("wing", 4, "4.5", "4.5"),)),
            DrawnBand(False, L(5), 1, (run("sail", 1, "6", "5"), run("mark", 1, "2", "4"))),
            DrawnBand(False, L(3), 2, (run("keel", 3, "3", "3"),)),
        ),
        "2 fat quarters, each",
    )


def test_every_piece_lies_to_scale_where_it_is_cut() -> None:
    scene = sheet_scene(quarter(), S.SWATCHES)
    assert audit(scene) == []
    x0, y0, x1, y1 = cloth(scene)
    scale = (x1 - x0) / 21
    assert y1 - y0 == pytest.approx(18 * scale)
    inches = [tuple(round(v / scale, 6) for v in (a - x0, b - y0, c - a, d - b)) for a, b, c, d in pieces(scene)]
    across = [(4.5 * i, 4.5 * j, 4.5, 4.5) for j in (0, 1) for i in range(4)]
    down = [(0, 9, 5, 6), (0, 15, 4, 2), *((5 + 3 * i, 9 + 3 * j, 3, 3) for i in (0, 1) for j in range(3))]
    assert sorted(inches) == sorted([*across, *down])


def test_its_words_say_strips_pieces_and_what_is_left() -> None:
    scene = sheet_scene(quarter(), S.SWATCHES)
    texts = " ".join(s.text for s, _, _ in flat(scene.items) if hasattr(s, "text"))
    for words in ("2 strips,", "4 1/2 in", "3 in", "wing: 8", "left over", "2 fat quarters, each", "21 in", "18 in"):
        assert words in texts, words
    assert "keel: 3" in scene.description and "21 x 18 in" in scene.description


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.booleans(), st.integers(1, 5), st.integers(1, 2), st.integers(1, 4)), min_size=1, max_size=4),
    st.sampled_from([(21, 18), (10, 10), (5, 5), (42, 3)]),
)
def test_any_bands_stay_on_the_cloth_and_can_be_read(
    bands: list[tuple[bool, int, int, int]], size: tuple[int, int]
) -> None:
    wide, high = map(Length, size)
    w, h = size
    made_bands = []
    for across, depth, copies, n in bands:
        room, long = (h, w) if across else (w, h)
        if depth * copies > room or n * 1 > long or long < 1:
            continue
        made_bands.append(
            DrawnBand(across, Length(depth), copies, (PieceRun("a unit", n, Length(long) / n, Length(depth), "1 in"),))
        )
        if across:
            h -= depth * copies
        else:
            w -= depth * copies
    scene = sheet_scene(SheetCut("night", wide, high, tuple(made_bands)), S.SWATCHES)
    assert audit(scene) == []
    x0, y0, x1, y1 = cloth(scene)
    cut = pieces(scene)
    assert apart(cut) and len(cut) == sum(b.copies * r.count for b in made_bands for r in b.runs)
    assert all(x0 - 1e-6 <= a and y0 - 1e-6 <= b and c <= x1 + 1e-6 and d <= y1 + 1e-6 for a, b, c, d in cut)


def figures(booklet: Booklet) -> dict[str, list[Figure]]:
    cutting = next(s for s in booklet.sections if s.key == "cutting")
    return {s.title: [b for b in s.blocks if isinstance(b, Figure)] for s in cutting.blocks if isinstance(s, Section)}


def test_every_fat_quarter_of_the_economy_quilt_is_drawn() -> None:
    path = next(p for p in EXAMPLES if p.stem == "economy")
    shown, plan = figures(made(path)), project(path).plan()[0]
    drawn = Counter({key: len(fabric.sheets.sheets) for key, fabric in plan.fabrics.items() if fabric.sheets})
    assert drawn.total() >= 5
    titles = {key: fabric.fabric.title for key, fabric in plan.fabrics.items()}
    for key, count in drawn.items():
        found = [f for title, fs in shown.items() if title.startswith(titles[key]) for f in fs]
        assert sum(len(f.drawings) for f in found) == count, key
