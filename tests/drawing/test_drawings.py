"""Every kind of drawing over every sample: sound by geometry, well-formed, true to the making."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from time import process_time
from xml.etree import ElementTree

import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union

from patternkit.drawing import DrawnJoint, Look, audit, draw_making, draw_step
from patternkit.drawing.assembly import assembly_scene
from patternkit.drawing.explode import shifts, taken_apart
from patternkit.drawing.making import making_scene
from patternkit.drawing.methods import method_scene, painters
from patternkit.drawing.pieces import Leaves
from patternkit.drawing.scene import Scene
from patternkit.drawing.series import groups_of
from patternkit.drawing.steps import components, step_scene
from patternkit.drawing.strips import strips_scene
from patternkit.drawing.svg import slug, svg_text
from patternkit.drawing.templates import foundation_scene
from patternkit.lengths import Length
from patternkit.piecing.kinds.half_square import EIGHT
from patternkit.piecing.making import Making
from patternkit.project import Project
from patternkit.units import CENTIMETRES

from . import samples as S
from .svg_reader import NS, polygons

ALL = S.everything()
METRIC = Look(units=CENTIMETRES, seam=Length(Fraction(10, 254)) * Fraction(3, 4))
SCENES: dict[str, Callable[[Making, Look], Scene]] = {
    "making": lambda m, k: making_scene(m, S.SWATCHES, k),
    "small": lambda m, k: making_scene(m, S.SWATCHES, k, wide=60, measure="raw", legend=True),
    "plain": lambda m, k: making_scene(m, S.SWATCHES, k, plain=True, measure=""),
    "method": lambda m, k: method_scene(m, S.SWATCHES, k),
    "assembly": lambda m, k: assembly_scene(m, S.SWATCHES, k),
    "opened": lambda m, k: assembly_scene(m, S.SWATCHES, k, rows=True, joints=[DrawnJoint(m.outline[0])]),
    "foundation": lambda m, k: foundation_scene(m, S.SWATCHES, k),
}


def well_formed(scene: Scene, key: str = "some-key") -> ElementTree.Element:
    svg = svg_text(scene, key)
    root = ElementTree.fromstring(svg)
    ids = [e.get("id", "") for e in root.iter() if e.get("id")]
    assert len(ids) == len(set(ids)) and all(i.startswith(key + "-") for i in ids)
    assert root.get("role") == "img" and set(root.get("aria-labelledby", "").split()) <= set(ids)
    assert root[0].tag == NS + "title" and root[0].text == scene.title
    assert root[1].tag == NS + "desc" and root[1].text == scene.description
    for element in root.iter():
        for name in ("href", "fill"):
            value = element.get(name, "")
            target = value[5:-1] if value.startswith("url(#") else value[1:] if name == "href" else ""
            assert not target or target in ids
    return root


@pytest.mark.parametrize("look", [Look(), METRIC], ids=["inches", "metric"])
@pytest.mark.parametrize("kind", SCENES)
@pytest.mark.parametrize("name", ALL)
def test_every_drawing_is_sound(name: str, kind: str, look: Look) -> None:
    scene = SCENES[kind](ALL[name], look)
    assert audit(scene) == []
    well_formed(scene)
    assert "{" not in scene.title + scene.description
    assert scene.true_size == (kind == "foundation")


@pytest.mark.parametrize("name", ALL)
def test_every_step_is_sound(name: str) -> None:
    making = ALL[name]
    for group in [*groups_of(making), *([i] for i in range(min(6, len(making.seams))))]:
        scene = step_scene(making, group, S.SWATCHES)
        assert audit(scene) == []
        well_formed(scene)


@pytest.mark.parametrize("name", [n for n, m in ALL.items() if m.recipe.segment])
def test_strip_units_are_sound(name: str) -> None:
    scene = strips_scene(ALL[name], S.SWATCHES)
    assert audit(scene) == []
    root = well_formed(scene)
    texts = [e.text for e in root.iter(NS + "text")]
    assert "3 1/2 in" in texts
    assert sum("strip 1" in (t or "") for t in texts) == len(ALL[name].parts)


def test_a_making_not_cut_from_strips_has_no_strip_drawing() -> None:
    with pytest.raises(ValueError, match="not cut from a strip unit"):
        strips_scene(S.geese(), S.SWATCHES)


def test_a_step_needs_a_seam() -> None:
    with pytest.raises(ValueError, match="at least one seam"):
        draw_step(S.geese(), [], S.SWATCHES)


@pytest.mark.parametrize("name", ["lantern", "centre with 2 borders", "on point", "roof", "chequer 9", "hearth"])
def test_the_painted_cloth_is_the_cloth_of_the_making(name: str) -> None:
    """Each fabric covers the same ground in the SVG, its uses followed, as in the geometry."""
    making = ALL[name]
    scene = making_scene(making, S.SWATCHES, measure="", legend=False, letters=False)
    painted = polygons(svg_text(scene, "k"))
    whole = unary_union([Polygon(p) for loops in painted.values() for p in loops])
    left, top, right, _ = whole.bounds
    scale = (right - left) / float(making.width)
    for fabric in {leaf.fabric for leaf in Leaves().of(making)}:
        wanted = unary_union(
            [
                Polygon([(x * scale + left, y * scale + top) for x, y in leaf.points])
                for leaf in Leaves().of(making)
                if leaf.fabric == fabric
            ]
        )
        drawn = unary_union([Polygon(p).buffer(0) for p in painted[S.SWATCHES[fabric].colour]])
        assert wanted.symmetric_difference(drawn).area < 0.004 * wanted.area


@pytest.mark.parametrize("name", ALL)
def test_pieces_pulled_apart_do_not_overlap(name: str) -> None:
    making = ALL[name]
    members, lines = taken_apart(making, 20.0, lambda m, _: m.role in ("row", "centre"))
    outlines = [m.outline for m in members]
    moves = shifts(outlines, lines, lambda _: 10.0)
    shapes = [Polygon([(x + dx, y + dy) for x, y in o]) for o, (dx, dy) in zip(outlines, moves, strict=False)]
    for line in lines:
        one = unary_union([shapes[i] for i in line.left])
        other = unary_union([shapes[i] for i in line.right])
        if len(line.way) == 2:
            assert one.distance(other) > 9.9
        assert one.intersection(other).area < 1e-6


def test_components_are_what_is_sewn_before() -> None:
    assert components(S.log_cabin(), [4]) == [(0, 1, 2, 3, 4), (5,)]
    assert components(S.quarter_square(), [2]) == [(0, 1), (2, 3)]
    assert components(S.quarter_square(), [0, 1]) == [(0,), (1,), (2,), (3,)]
    assert groups_of(S.quarter_square()) == [[0, 1], [2]]
    assert groups_of(S.geese()) == [[0], [1]]
    assert groups_of(S.square_in_square()) == [[0, 1], [2, 3]]


def test_pressing_arrows_point_where_the_seam_says() -> None:
    from patternkit.drawing.scene import Arrow, flat
    from patternkit.drawing.steps import StepGeometry

    def arrow(pressed: str) -> Arrow | None:
        row = S.line_up("two", [S.patch("night", 2, 2), S.patch("glow", 2, 2)], True, [pressed])  # type: ignore[list-item]
        found = [s for s, _, _ in flat(StepGeometry(row, [0], 20).before(S.SWATCHES)[0]) if isinstance(s, Arrow)]
        return found[0] if found else None

    # the seam runs down, so its left is the greater x: the second patch
    to_left, to_right, both = arrow("left"), arrow("right"), arrow("open")
    assert to_left and to_left.end[0] > to_left.start[0] and not to_left.both
    assert to_right and to_right.end[0] < to_right.start[0]
    assert both and both.both
    assert arrow("free") is None


def test_joints_are_marked_and_told() -> None:
    m = S.lantern()
    joints = [
        DrawnJoint(S.P(3, 3)),
        DrawnJoint(S.P(6, 3)),
        DrawnJoint(S.P(3, 6), "clash"),
        DrawnJoint(S.P(6, 6), "open"),
    ]
    scene = making_scene(m, S.SWATCHES, joints=joints)
    assert audit(scene) == []
    root = well_formed(scene)
    assert len(list(root.iter(NS + "circle"))) == 2 * 3 + 3 + len(_texture_circles(root))
    assert {"seams lock", "both allowances on one side", "seam pressed open"} <= {
        e.text for e in root.iter(NS + "text")
    }
    assert "2 joints where seam allowances lock are marked" in scene.description


def _texture_circles(root: ElementTree.Element) -> list[ElementTree.Element]:
    return [c for p in root.iter(NS + "pattern") for c in p.iter(NS + "circle")]


def test_every_series_of_pictures_has_a_sample() -> None:
    assert set(painters()) <= {m.recipe.method.drawn for m in ALL.values()}


def test_a_method_says_its_numbers() -> None:
    texts = [e.text for e in well_formed(method_scene(S.half_square(trim=True), S.SWATCHES)).iter(NS + "text")]
    whole = " ".join(t or "" for t in texts)
    assert "3 7/8 x 3 7/8 in" in whole and "makes 2" in whole and "trim to 3 1/2 x 3 1/2 in" in whole
    eight = method_scene(S.half_square(method=EIGHT), S.SWATCHES)
    assert "makes 8" in [e.text for e in well_formed(eight).iter(NS + "text")]


def test_assembly_numbers_the_borders_in_sewing_order() -> None:
    scene = assembly_scene(S.quilt(), S.SWATCHES)
    texts = [e.text for e in well_formed(scene).iter(NS + "text")]
    assert [t for t in texts if (t or "").isdigit()] == [str(n) for n in range(1, 9)]
    assert "sewing order" in scene.description and "rows" not in scene.description
    opened = assembly_scene(S.quilt(), S.SWATCHES, rows=True)
    assert audit(opened) == [] and "4 rows" in opened.description
    assert "diagonal rows" in assembly_scene(S.on_point(), S.SWATCHES).description


def test_letters_may_be_left_off_and_the_key_stands_in() -> None:
    with_ = draw_making(S.lantern(), S.SWATCHES)
    without = draw_making(S.lantern(), S.SWATCHES, letters=False)
    assert ">A<" in with_.svg and ">A<" not in without.svg
    assert "A  Midnight blue" in without.svg and "A  Midnight blue" not in with_.svg


def test_keys_are_unique_and_fit_for_files() -> None:
    keys = [draw_making(m, S.SWATCHES).key for m in ALL.values()]
    assert len(set(keys)) == len(keys)
    assert all(re.fullmatch(r"[a-z][a-z0-9-]{1,53}", k) for k in keys)
    assert slug("star(night, glow)") != slug("star night glow")


def test_a_large_quilt_is_drawn_fast_and_small() -> None:
    quilt = S.quilt(14, 18)
    assert len(Leaves().of(quilt)) > 2500
    start = process_time()
    drawing = draw_making(quilt, S.SWATCHES)
    seconds = process_time() - start
    assert seconds < 1.5  # 0.1 s on a quiet machine
    assert len(drawing.svg) < 90_000
    assert drawing.svg.count("<use") >= 126


def test_a_large_quilt_is_sound() -> None:
    assert audit(making_scene(S.quilt(10, 12), S.SWATCHES)) == []
    assert audit(assembly_scene(S.quilt(10, 12), S.SWATCHES)) == []


def test_seams_that_are_set_in_are_drawn_one_by_one() -> None:
    """Each waits for the one before, whose end is its inner corner."""
    text = """
unit twist
    slices gold
    finished 6
    slice from 4 x 0 through 4 x 2 to 0 x 2, red left, set in
    slice from 6 x 4 through 4 x 4 to 4 x 2, blue, set in
"""
    cloths = "fabric gold light\nfabric red dark\nfabric blue dark\n"
    project = Project("twist", cloths + text)
    (unit,) = (m for m in project.makings.values() if m.kind == "slices")
    assert groups_of(unit) == [[0], [1]]
