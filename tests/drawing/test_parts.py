"""The parts that drawings stand on: audit, swatches, widths, geometry, SVG."""

from __future__ import annotations

import itertools
from xml.etree import ElementTree

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from patternkit.drawing import (
    ENGLISH,
    ClothCut,
    DrawnCut,
    Look,
    StripCut,
    assign,
    audit,
    draw_cuts,
    draw_making,
)
from patternkit.drawing.cuts import cuts_scene
from patternkit.drawing.geometry import box_fits, clipped, grown, label_spot, merged
from patternkit.drawing.layout import picture, scene_of, spread
from patternkit.drawing.making import making_scene
from patternkit.drawing.methods import method_scene
from patternkit.drawing.scene import Arrow, Lettering, Path, Scene, Shape
from patternkit.drawing.svg import svg_text
from patternkit.drawing.swatches import Swatch, best_ink, contrast, plain_colour, value_of
from patternkit.drawing.templates import template_scene
from patternkit.drawing.textures import look_of
from patternkit.piecing.keys import Key
from patternkit.piecing.offset import raw_outline, trimmed_outline
from patternkit.text_widths import longest_word, shortened, text_width, wrapped

from . import samples as S
from .samples import L, P
from .svg_reader import NS, loops_of

COLOURS = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}")


def scene(*items: Shape, swatches: dict[str, Swatch] | None = None, **more: object) -> Scene:
    return msgspec.structs.replace(Scene(200, 100, items, "title", "told", swatches or {}), **more)


# -- the audit finds what is wrong --------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("bad", "word"),
    [
        (scene(Lettering(50, 50, "seam"), Lettering(55, 52, "press")), "overlap"),
        (scene(Lettering(195, 50, "seam allowance")), "leaves the drawing"),
        (scene(Lettering(50, 3, "seam")), "leaves the drawing"),
        (scene(Lettering(50, 50, "seam", 5.9)), "only 5.9 pt"),
        (scene(Lettering(50, 50, "seam", ink="#999999")), "contrast"),
        (scene(Lettering(50, 50, "A", ink="#000000", ground="#1b2a49")), "contrast"),
        (scene(Lettering(50, 50, "seam"), Arrow((20, 47), (90, 47))), "an arrow runs through"),
        (scene(Path((((-5, 5), (10, 5), (10, 10)),))), "shapes leave"),
        (scene(width=501), "too large"),
        (scene(height=700), "too large"),
        (scene(title=" "), "no title"),
        (scene(symbols={"m": (Lettering(5, 5, "A"),)}), "holds text"),
        (
            scene(
                Path((((5, 5), (9, 5), (9, 9)),), fabric="a"),
                Path((((5, 5), (9, 5), (9, 9)),), fabric="b"),
                swatches={
                    "a": Swatch("a", "A", "a", "#123456", "", 3),
                    "b": Swatch("b", "B", "b", "#fedcba", "", 3),
                },
            ),
            "same texture",
        ),
    ],
)
def test_the_audit_finds(bad: Scene, word: str) -> None:
    assert any(word in problem for problem in audit(bad)), audit(bad)


def test_the_audit_passes_what_is_sound() -> None:
    assert audit(scene(Lettering(50, 50, "seam"), Lettering(50, 62, "press"), Arrow((20, 80), (90, 80)))) == []
    assert audit(scene(width=900, true_size=True)) == []


# -- swatches -----------------------------------------------------------------------------------------------
def test_swatches_are_deterministic_and_told_apart() -> None:
    fabrics = [(f"f{i}", "", "", ("light", "medium", "dark")[i % 3]) for i in range(48)]
    one, two = assign(fabrics), assign(fabrics)
    assert one == two
    assert len({look_of(s.texture) for s in one.values()}) == 48
    assert all(value_of(s.colour) == s.value for s in one.values())


def test_contrast_by_the_published_formula() -> None:
    # https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio: black on white is 21 to 1; #767676 is the lightest
    # grey at 4.5
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") > 4.5 > contrast("#777777", "#ffffff")


@given(COLOURS)
@settings(max_examples=60, deadline=None)
def test_labels_and_textures_can_be_seen_on_any_colour(colour: str) -> None:
    swatch = Swatch("f", "A", "f", colour)
    assert contrast(best_ink(colour), colour) >= 4.5
    assert contrast(best_ink(swatch.back), swatch.back) >= 4.5
    assert contrast(swatch.mark, colour) >= 1.7


@pytest.mark.parametrize("odd", ["", "#12", "red", "#gggggg", "#", '"><script>'])
def test_an_unreadable_colour_becomes_grey(odd: str) -> None:
    assert plain_colour(odd) == "#969aa0"
    assert plain_colour("#abc") == "#aabbcc"


# -- texts --------------------------------------------------------------------------------------------------
@given(st.text(max_size=60), st.floats(6, 20), st.floats(5, 300))
@settings(max_examples=60, deadline=None)
def test_shortened_texts_fit(text: str, size: float, room: float) -> None:
    short = shortened(text, size, room)
    assert text_width(short, size) <= room + 1e-6 or short == ""
    if text_width(text, size) <= room:
        assert short == text


@given(st.text(max_size=120), st.floats(6, 12), st.floats(160, 400), st.integers(1, 5))
@settings(max_examples=60, deadline=None)
def test_wrapped_lines_fit(text: str, size: float, room: float, lines: int) -> None:
    rows = wrapped(text, size, room, lines)
    assert len(rows) <= lines
    assert all(text_width(row, size) <= room + 1e-6 for row in rows)


def test_a_size_is_never_broken() -> None:
    assert wrapped("measures 3 1/2 x 6 1/2 in", 8, 75) == ["measures", "3 1/2 x 6 1/2 in"]
    assert wrapped("trim to about 12 3/16 x 4 1/2 in, then press", 8, 90)[1] == "12 3/16 x 4 1/2 in,"
    assert longest_word("measures 3 1/2 x 6 1/2 in", 8) == text_width("3 1/2 x 6 1/2 in", 8)


@given(st.lists(st.floats(0, 300), min_size=1, max_size=20).map(sorted), st.floats(4, 20))
@settings(max_examples=60, deadline=None)
def test_spread_labels_keep_their_distance_and_order(wanted: list[float], step: float) -> None:
    places = spread(wanted, step)
    assert len(places) == len(wanted)
    assert all(b - a >= step - 1e-6 for a, b in itertools.pairwise(places))


# -- geometry against an independent library ----------------------------------------------------------------
@given(st.lists(st.tuples(st.integers(0, 7), st.integers(0, 7)), min_size=1, max_size=25, unique=True))
@settings(max_examples=60, deadline=None)
def test_merged_squares_cover_the_same_ground(cells: list[tuple[int, int]]) -> None:
    squares = [((x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)) for x, y in cells]
    signed = sum(Polygon(loop).area * (1 if Polygon(loop).exterior.is_ccw else -1) for loop in merged(squares))
    assert abs(signed) == pytest.approx(len(cells))


def test_merged_pieces_of_unequal_edges() -> None:
    loops = merged(
        [((0, 0), (4, 0), (4, 2), (0, 2)), ((0, 2), (1, 2), (1, 3), (0, 3)), ((1, 2), (4, 2), (4, 3), (1, 3))]
    )
    assert len(loops) == 1 and len(loops[0]) == 4
    assert Polygon(loops[0]).equals(box(0, 0, 4, 3))


def convex() -> st.SearchStrategy[tuple[tuple[float, float], ...]]:
    points = st.lists(st.tuples(st.integers(0, 100), st.integers(0, 100)), min_size=4, max_size=9, unique=True)

    def hull(found: list[tuple[int, int]]) -> tuple[tuple[float, float], ...]:
        shape = Polygon(unary_union([box(x, y, x + 1, y + 1) for x, y in found]).convex_hull.exterior)
        ring = list(shape.exterior.coords)[:-1]
        return tuple(ring if shape.exterior.is_ccw else ring[::-1])  # clockwise as seen with y down

    return points.map(hull)


@given(convex(), st.floats(0.5, 8))
@settings(max_examples=60, deadline=None)
def test_grown_outlines_agree(points: tuple[tuple[float, float], ...], by: float) -> None:
    wanted = Polygon(points).buffer(by, join_style="mitre", mitre_limit=1e6)
    assert Polygon(grown(points, by)).symmetric_difference(wanted).area < 1e-6 * wanted.area


@given(convex(), st.tuples(st.floats(0, 100), st.floats(0, 100)), st.tuples(st.floats(0, 100), st.floats(0, 100)))
@settings(max_examples=60, deadline=None)
def test_a_clipped_outline_and_its_rest_make_the_whole(
    points: tuple[tuple[float, float], ...], a: tuple[float, float], b: tuple[float, float]
) -> None:
    if abs(a[0] - b[0]) + abs(a[1] - b[1]) < 1:
        return
    halves = [clipped(points, a, b), clipped(points, b, a)]
    area = sum(Polygon(h).area for h in halves if len(h) > 2)
    assert area == pytest.approx(Polygon(points).area, rel=1e-6)


@given(convex(), st.floats(1, 40), st.floats(1, 20))
@settings(max_examples=60, deadline=None)
def test_a_label_spot_lies_within(points: tuple[tuple[float, float], ...], wide: float, high: float) -> None:
    spot = label_spot(points, wide, high)
    if spot:
        room = box(spot[0] - wide / 2, spot[1] - high / 2, spot[0] + wide / 2, spot[1] + high / 2)
        assert Polygon(points).buffer(1e-6).contains(room)
    ring = ((0, 0), (10, 0), (10, 10), (6, 10), (6, 4), (4, 4), (4, 10), (0, 10))
    assert not box_fits(ring, (3, 3, 7, 7)) and label_spot(ring, 5, 5) is None and label_spot(ring, 3, 3)


# -- hostile text -------------------------------------------------------------------------------------------
HOSTILE = st.one_of(
    st.text(max_size=40),
    st.sampled_from(
        [
            "<script>alert(1)</script>",
            "]]>",
            "&amp;&#0;",
            '" onload="x',
            "{0} {name} {{",
            "\x00\x0b\ud800",
            "\u202egnp.exe",
            "a" * 5000,
            "'\"<>&",
            "\ufffe\uffff",
            "{% raw %}",
            "../../x",
        ]
    ),
)


@given(HOSTILE, HOSTILE, HOSTILE)
@settings(max_examples=60, deadline=None)
def test_any_text_comes_out_harmless(title: str, fabric: str, name: str) -> None:
    swatches = assign([("night", fabric, title, "dark"), ("glow", title, "", "")])
    making = msgspec.structs.replace(S.half_square(), key=Key(name), title=title, unit=fabric)
    look = Look(prefix=name)
    scenes = [
        making_scene(making, swatches, look, legend=True),
        method_scene(making, swatches, look),
        cuts_scene(ClothCut("night", L(40), (StripCut(L(3), 2, (DrawnCut(title, 3, L(3), L(3)),)),)), swatches, look),
        template_scene(name, P3, raw_outline(P3, L("1/4")), swatches, look, fabric="glow"),
    ]
    for made in scenes:
        assert [p for p in audit(made) if "no title" not in p] == []
        root = ElementTree.fromstring(svg_text(made, "k"))
        assert {e.tag.removeprefix(NS) for e in root.iter()} <= {
            "svg",
            "title",
            "desc",
            "defs",
            "pattern",
            "rect",
            "path",
            "circle",
            "g",
            "use",
            "text",
        }
    drawing = draw_making(making, swatches, look)
    assert drawing.key.replace("-", "").isalnum() and drawing.key.isascii()


P3 = (P(0, 0), P(3, 0), P(0, 4))


def test_words_of_another_language_stand_in_for_the_english() -> None:
    look = Look(words={"measures": "misst {size}"})
    drawing = draw_making(S.geese(), S.SWATCHES, look, measure="raw")
    assert "misst 4 1/2 x 2 1/2 in" in drawing.svg and look.render("and") == ENGLISH["and"]


def test_a_fabric_nobody_listed_is_still_drawn() -> None:
    drawing = draw_making(S.geese(), {})
    assert ">?<" in drawing.svg


# -- cutting ------------------------------------------------------------------------------------------------
def test_a_cutting_drawing_is_to_scale() -> None:
    cloth = ClothCut(
        "stone",
        L(40),
        (
            StripCut(L("9.5"), 1, (DrawnCut("block", 4, L("9.5"), L("9.5")),)),
            StripCut(L("2.5"), 5, (DrawnCut("sash", 4, L("9.5"), L("2.5")),)),
        ),
    )
    made = cuts_scene(cloth, S.SWATCHES)
    assert audit(made) == []
    root = ElementTree.fromstring(svg_text(made, "k"))
    fabric = [loops_of(e.get("d", "")) for e in root.iter(NS + "path") if e.get("fill", "").startswith("url")]
    widths = [max(x for x, _ in loop) - min(x for x, _ in loop) for loops in fabric for loop in loops]
    heights = [max(y for _, y in loop) - min(y for _, y in loop) for loops in fabric for loop in loops]
    assert len(widths) == 8 and max(widths) - min(widths) < 0.03
    assert heights[0] / widths[0] == pytest.approx(1, abs=0.001)
    assert heights[4] / widths[4] == pytest.approx(2.5 / 9.5, abs=0.001)
    texts = [e.text for e in root.iter(NS + "text")]
    assert "5 strips, 2 1/2 in" in texts and "block: 4, 9 1/2 x 9 1/2 in" in texts and "usable width 40 in" in texts


@given(
    st.lists(
        st.builds(
            StripCut,
            st.integers(1, 700).map(lambda n: L(n) / 8),
            st.integers(1, 40),
            st.lists(
                st.builds(
                    DrawnCut,
                    st.text("abc xyz", max_size=30),
                    st.integers(1, 60),
                    st.integers(1, 100).map(lambda n: L(n) / 8),
                    st.integers(1, 80).map(lambda n: L(n) / 8),
                    st.integers(1, 3),
                ),
                max_size=6,
            ).map(tuple),
            st.booleans(),
        ),
        max_size=45,
    ).map(tuple),
    st.integers(8, 110),
)
@settings(max_examples=40, deadline=None)
def test_any_cutting_is_drawn_soundly(strips: tuple[StripCut, ...], width: int) -> None:
    made = cuts_scene(ClothCut("night", L(width), strips), S.SWATCHES)
    assert audit(made) == []
    ElementTree.fromstring(draw_cuts(ClothCut("night", L(width), strips), S.SWATCHES).svg)


# -- true size ----------------------------------------------------------------------------------------------
def test_a_template_is_true_to_size() -> None:
    raw = trimmed_outline(P3, L("1/4"))
    made = template_scene("Gable", P3, raw, S.SWATCHES, fabric="glow", count=3, mirrored=3, points=(P(0, 2),))
    assert made.true_size and audit(made) == []
    paths = [e for e in ElementTree.fromstring(svg_text(made, "k")).iter(NS + "path")]
    (solid,), (dashed,) = (loops_of(e.get("d", "")) for e in paths[:2])
    assert paths[0].get("stroke-dasharray") is None and paths[1].get("stroke-dasharray")
    for drawn, outline in ((solid, raw), (dashed, P3)):
        for (x, y), (u, v) in zip(drawn, outline, strict=True):
            assert x == pytest.approx(float(u) * 72, abs=0.011) and y == pytest.approx(float(v) * 72, abs=0.011)


@given(st.integers(2, 60), st.integers(2, 60), st.integers(-20, 60), st.sampled_from([P(1, 0), P(1, 1), P(0, 0)]))
@settings(max_examples=30, deadline=None)
def test_templates_of_any_size_are_sound(wide: int, high: int, lean: int, grain: tuple[object, object]) -> None:
    shape = (P(0, 0), (L(wide) / 8, L(0)), (L(lean) / 8, L(high) / 8))
    made = template_scene(
        "A long name for a piece of the harbour wall",
        shape,
        raw_outline(shape, L("1/4")),
        S.SWATCHES,
        fabric="rust",
        count=12,
        grain=grain,
    )  # type: ignore[arg-type]
    assert audit(made) == []


def test_a_foundation_is_mirrored_and_numbered_in_sewing_order() -> None:
    from patternkit.drawing.templates import foundation_scene, sewing_order

    assert sewing_order(S.slices()) == [0, 1, 2, 3, 4]
    assert sewing_order(S.log_cabin()) == list(range(13))
    made = foundation_scene(S.slices(), S.SWATCHES)
    assert "6" not in {e.text for e in ElementTree.fromstring(svg_text(made, "k")).iter(NS + "text")}
    numbers = {s.text: s for s in picture_texts(made)}
    assert {"1 (B)", "2 (F)", "3 (E)", "4 (A)", "5 (D)"} <= set(numbers)
    # the night piece lies at the left of the block, so at the right of its foundation
    assert numbers["4 (A)"].x > numbers["2 (F)"].x


def picture_texts(made: Scene) -> list[Lettering]:
    from patternkit.drawing.scene import flat

    return [s for s, _, _ in flat(made.items) if isinstance(s, Lettering)]


def test_a_picture_begins_at_nothing() -> None:
    made = scene_of(picture([Lettering(-40, -20, "seam"), Path((((-90, 3), (5, 3), (5, 60)),))]), "t", "d", {})
    assert audit(made) == [] and made.width > 95
