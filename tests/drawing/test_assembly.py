"""Quilts pulled apart: every border numbered and with its arrow, arrows clear of marks, marks explained."""

from __future__ import annotations

from math import dist

import msgspec
import pytest

from patternkit.drawing.assembly import assembly_scene, draw_key
from patternkit.drawing.audit import audit
from patternkit.drawing.making import DrawnJoint
from patternkit.drawing.scene import Arrow, Circle, Lettering, Pt, Scene, flat
from patternkit.piecing.making import Making

from . import samples as S


def texts(scene: Scene) -> list[str]:
    return [s.text for s, _, _ in flat(scene.items) if isinstance(s, Lettering)]


def arrows(scene: Scene) -> list[tuple[Pt, Pt]]:
    return [
        ((s.start[0] + dx, s.start[1] + dy), (s.end[0] + dx, s.end[1] + dy))
        for s, dx, dy in flat(scene.items)
        if isinstance(s, Arrow)
    ]


def bordered_twice() -> Making:
    """A border sewn to a quilt that has one already, as a step of its own."""
    inner = msgspec.structs.replace(S.bordered(S.chequer(3), [("night", 1)]), role="border", title="inner")
    return S.bordered(inner, [("rust", 2)])


def test_a_border_round_a_bordered_quilt_is_numbered_too() -> None:
    scene = assembly_scene(bordered_twice(), S.SWATCHES)
    assert [t for t in texts(scene) if t.isdigit()] == ["1", "2", "3", "4"]
    assert "sewing order" in scene.description
    assert audit(scene) == []


def test_every_border_has_its_arrow() -> None:
    found = arrows(assembly_scene(bordered_twice(), S.SWATCHES))
    ways = {(round((b[0] - a[0]) / dist(a, b)), round((b[1] - a[1]) / dist(a, b))) for a, b in found}
    assert ways == {(-1, 0), (1, 0), (0, -1), (0, 1)}  # all are pressed outward, toward the border


def rows(pressed: str) -> Making:
    patches = [S.patch("night", 6, 3), S.patch("glow", 6, 3)]
    whole = S.line_up("centre", [S.line_up(f"row {n}", patches, True, ["left"], role="row") for n in (1, 2)], False)
    seams = tuple(msgspec.structs.replace(s, pressed=pressed) for s in whole.seams)
    return msgspec.structs.replace(whole, role="centre", seams=seams)


@pytest.mark.parametrize("pressed", ["left", "right", "open"])
def test_an_arrow_is_not_hidden_under_the_mark_of_a_joint(pressed: str) -> None:
    """The joint lies in the very middle of the seam, where the arrow would stand by itself."""
    making = rows(pressed)
    middle = DrawnJoint(S.P(6, 3))
    bare, marked = (assembly_scene(making, S.SWATCHES, joints=j) for j in ((), (middle,)))
    assert len(arrows(bare)) == len(arrows(marked)) == 1
    (a, b) = arrows(marked)[0]
    rings = [(s.x + dx, s.y + dy) for s, dx, dy in flat(marked.items) if isinstance(s, Circle)]
    spot = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    assert rings and all(dist(spot, ring) > 7 for ring in rings)
    assert audit(marked) == []


def test_marks_are_explained_and_only_those_that_occur() -> None:
    making = rows("left")
    assert "both allowances on one side" in texts(
        assembly_scene(making, S.SWATCHES, joints=[DrawnJoint(S.P(6, 3), "clash")])
    )
    locked = texts(assembly_scene(making, S.SWATCHES, joints=[DrawnJoint(S.P(6, 3))]))
    assert "seams lock" in locked and "both allowances on one side" not in locked
    assert "seams lock" not in texts(assembly_scene(making, S.SWATCHES))


def test_a_key_may_stand_for_several_drawings() -> None:
    making = rows("left")
    bare = assembly_scene(making, S.SWATCHES, joints=[DrawnJoint(S.P(6, 3))], legend=False)
    assert not texts(bare)
    key = draw_key(making, S.SWATCHES, key="key", joints=[DrawnJoint(S.P(6, 3))])
    assert "seams lock" in key.svg and "Midnight blue" in key.svg
    assert draw_key(S.bordered(making, []), S.SWATCHES, key="key", joints=[DrawnJoint(S.P(6, 3))]).svg == key.svg
