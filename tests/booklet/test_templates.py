"""Templates and foundations: which, how many, and where the seam line and matching points lie."""

from __future__ import annotations

import re

import pytest
from shapely import Polygon

from patternkit.api import make_booklet
from patternkit.booklet.content.context import context
from patternkit.booklet.content.doing import one_by_one, stopping
from patternkit.booklet.content.panels import text
from patternkit.booklet.content.taking import template_name
from patternkit.booklet.content.template_points import met_points, seam_line
from patternkit.booklet.content.templates import templates
from patternkit.piecing.offset import raw_outline

from .conftest import EXAMPLES, MARSH, made, text_project, told
from .printed import texts


def test_each_piece_cut_by_template_has_one_with_its_count() -> None:
    found = {t.title: t.lines for t in made(MARSH).templates}
    assert set(found) == {"dune", "cabin"}
    # the two pieces of a dune are one shape, the one turned by half a turn
    assert found["dune"][:2] == (
        "Cut 12 of Quay stone (C), right side up.",
        "Cut 12 of Midnight blue (A), right side up.",
    )
    assert found["dune"][2].endswith("Corners are trimmed so that raw edges meet.")
    copies, sizes = found["cabin"]
    assert copies.startswith("Print 12 copies. It is a mirror image of what it makes: fabrics lie on the blank side")
    # the centre finishes 2 in: two seams and 1/4 in more all round
    assert sizes.startswith("Cut for one: 1 Midnight blue (A) 3 x 3 in, 2 Lamp yellow (B) 3 x 2 in,")
    assert all(t.drawing.true_size for t in made(MARSH).templates)


def test_the_seam_line_lies_one_seam_inside_the_cut_edge() -> None:
    ctx = told(MARSH)
    dune = next(c.making for c in ctx.plan.counts if str(c.making.key) == "dune")
    for cut in dune.recipe.cuts:
        sewn = seam_line(cut, ctx)
        inner = Polygon([(float(x), float(y)) for x, y in sewn])
        outer = Polygon([(float(x), float(y)) for x, y in cut.shape])
        assert inner.area == pytest.approx(9)  # half of 3 x 6
        assert outer.covers(inner)
        full = Polygon([(float(x), float(y)) for x, y in raw_outline(sewn, ctx.seam)])
        assert full.covers(outer.buffer(-1e-9))  # dog-ears trimmed, nothing added
        for a, b in zip(sewn, (*sewn[1:], sewn[0]), strict=True):
            middle = Polygon(
                [(float(a[0]), float(a[1])), (float(b[0]), float(b[1])), (float(b[0]), float(b[1]) + 1e-9)]
            )
            assert middle.centroid.distance(outer.exterior) <= float(ctx.seam) + 0.2


def test_templates_are_drawn_at_true_size() -> None:
    template = next(t for t in templates(told(MARSH)) if t.title == "dune")
    numbers = [float(n) for n in re.findall(r'd="M([\d.]+)', template.drawing.svg)]
    assert numbers and template.drawing.width >= 3.5 * 72 and template.drawing.height >= 6.5 * 72 * 0.9


def test_german_template_words() -> None:
    lines = [t.lines[0] for t in made(MARSH, "de").templates]
    assert "12 aus Quay stone (C) schneiden, rechte Seite oben." in lines


def test_units_with_a_piece_of_one_shape_share_its_template() -> None:
    path = next(p for p in EXAMPLES if p.stem == "moons")
    one, two = templates(told(path))
    assert one.title == "dark-quarter a and light-quarter a"
    # by hand: 40 quarters of each kind, one piece of each shape in each
    assert one.lines[:2] == (
        "For dark-quarter a cut 40 of Moor (A), right side up.",
        "For light-quarter a cut 40 of Fog (B), right side up.",
    )
    assert two.title == "dark-quarter b and light-quarter b"
    assert "light-quarter b" in two.drawing.svg  # its name goes with it when it is cut out


def test_the_middle_of_a_curve_is_marked_on_both_templates() -> None:
    """Curved edges are marked at their quarters and their middle, and pinned there. By hand: a quarter of radius 4 a
    seam inside both sides has its middle 1/4 + 4 / root 2 from them, as chords 1/64 in from the arc have it."""
    ctx = told(next(p for p in EXAMPLES if p.stem == "moons"))
    quarter = next(c.making for c in ctx.plan.counts if str(c.making.key) == "dark-quarter")
    points = [met_points(quarter, cut, ctx) for cut in quarter.recipe.cuts]
    assert len(points) == 2
    for _, (x, y), _ in points:  # at the quarters too, which lie on either side
        assert float(x) == pytest.approx(0.25 + 4 / 2**0.5, abs=1 / 64) == pytest.approx(float(y), abs=1 / 64)


def test_every_template_that_is_taken_is_printed() -> None:
    for path in EXAMPLES:
        ctx = told(path)
        titles = " and ".join(t.title for t in templates(ctx))
        for count in ctx.plan.counts if not ctx.sizes else ():
            for cut in count.making.recipe.cuts if count.batches else ():
                if cut.then == "template" and not ctx.angle(ctx.form(cut).shape.name):
                    assert template_name(count.making, cut, ctx) in titles


def fan(name: str, cuts: int) -> str:
    """A block sliced into so many pieces and one more, each of another shape."""
    places = [n * (n + 19) // 2 for n in range(1, cuts + 1)]
    whole = places[-1] + 40
    lines = [
        f"    slice from {at}/{whole} of top to {at}/{whole} of bottom, {'sky' if n % 2 else 'night'} left"
        for n, at in enumerate(places)
    ]
    return "\n".join([f"block {name}", "    slices night", *lines, "    method templates", "    finished 48 x 6", ""])


def names_of(*blocks: str) -> list[str]:
    """The templates of some blocks, by name; each must have a drawing of its own."""
    names = [block.split()[1] for block in blocks]
    rows = [f"        {name}" for name in names]
    quilt = ["quilt", f"    across 1, down {len(rows)}", "    tile", *rows, ""]
    head = 'pattern "Sea fan"\nfabric night dark\nfabric sky light\n'
    found = templates(context(text_project("\n".join([head, *blocks, *quilt])), solver=False))
    assert len({t.drawing.key for t in found}) == len({t.title for t in found}) == len(found)
    return [t.title for t in found]


def test_after_z_the_letters_go_on() -> None:
    found = names_of(fan("fan", 28))
    assert len(found) == 29
    assert found[:2] + found[24:] == ["fan a", "fan b", "fan y", "fan z", "fan aa", "fan ab", "fan ac"]


def test_units_of_one_title_share_no_name_but_for_one_shape() -> None:
    assert names_of(fan('ray "fan"', 2), fan("fan", 3)) == [
        "fan a",
        "fan b",
        "fan c",
        "fan d",
        "fan e",
        "fan f",
        "fan g",
    ]


HEAD = 'pattern "Shapes"\nfabric night "Midnight" dark\nfabric sky "Sky" light\n\n'


def lines_of(unit: str) -> dict[str, tuple[str, ...]]:
    """The templates of one block, laid in a quilt by itself, by name."""
    quilt = "\nquilt\n    across 2, down 2\n    tile\n        piece\n"
    found = templates(context(text_project(HEAD + unit + quilt), solver=False))
    return {t.title: t.lines for t in found}


def test_shapes_that_are_turned_or_turned_over_are_one_template() -> None:
    """A wedge between two sides that are mirror images; a diamond with four corners, two of each hand."""
    wedge = lines_of(
        "block piece\n    slices night\n    slice from middle of top to bottom left, sky\n"
        "    slice from middle of top to bottom right, sky\n    finished 6\n    method templates\n"
    )
    gem = lines_of("block piece\n    diamond night, sky\n    finished 3 wide\n    method from templates\n")
    for found in (wedge, gem):
        shapes = [line for lines in found.values() for line in lines if line.startswith("Cut")]
        assert sum("reversed, the template face down" in line for line in shapes) >= 1
        assert len(found) < len(shapes)


def test_reversed_pieces_are_taken_so() -> None:
    from patternkit import api

    unit = "block piece\n    diamond night, sky\n    finished 3 wide\n    method from templates\n"
    quilt = "\nquilt\n    across 2, down 2\n    tile\n        piece\n"
    text = api.files(text_project(HEAD + unit + quilt), formats=("md",))
    (page,) = (page.decode() for name, page in text.items() if name.endswith(".md"))
    assert re.search(r"- B\d+: \d of Sky \(B\) by template piece [a-z], reversed\n", page)


def test_only_templates_whose_raw_edges_meet_are_said_to() -> None:
    meets = "Corners are trimmed so that raw edges meet."
    sliced = (
        "    slices {}\n    slice from top left to middle of bottom, sky\n    slice from middle of top to right, sky\n"
    )
    sliced = sliced.replace("to right", "to bottom right")
    rain = "unit rain\n    strips night 1 | sky 1 | night 1 | sky 1 | night 1 | sky 1\n    finished 6 x 6\n\n"
    units = {
        "block piece\n" + sliced.format("night") + "    finished 6\n    method templates\n": True,
        rain + "block piece\n" + sliced.format("rain turned 90") + "    finished 6\n": True,
        "block piece\n" + sliced.format("night") + "    finished 6\n    dog-ears kept\n": False,
        "block piece\n    triangle-in-a-square night, sky\n    finished 6\n": False,
        "block piece\n    diamond night, sky\n    finished 3 wide\n": False,
        "block piece\n    diamond night, sky\n    finished 3 wide\n    method from templates\n": True,
    }
    for unit, level in units.items():
        found = lines_of(unit)
        assert found and {any(meets in line for line in lines) for lines in found.values()} == {level}, unit


def test_a_print_with_a_direction_keeps_its_templates_apart() -> None:
    unit = "block piece\n    slices night\n    slice from top left to bottom right, night left\n    finished 6 x 4\n"
    unit += "    method templates\n"
    assert len(lines_of(unit)) == 1
    quilt = "\nquilt\n    across 2, down 2\n    tile\n        piece\n"
    directed = HEAD.replace("dark", "dark directional")
    assert len(templates(context(text_project(directed + unit + quilt), solver=False))) == 2


def test_partial_seams_are_told_one_by_one() -> None:
    """Where each begins and stops, and what of a longer edge waits; pieces that share a template are told by cloth."""
    unit = (
        "unit piece\n    slices night\n    finished 6\n"
        "    slice from 4 x 0 through 4 x 2 to 0 x 2, sky left, set in\n"
        "    slice from 6 x 4 through 4 x 4 to 4 x 2, dune, set in\n"
        "    slice from 4 x 4 through 2 x 4 to 2 x 6, sky, set in\n"
        "    slice from 2 x 2 to 2 x 4, dune left\n"
    )
    cloths = "fabric night dark\nfabric sky light\nfabric dune medium\n\n"
    ctx = context(
        text_project(cloths + unit + "\nquilt\n    across 2, down 2\n    tile\n        piece\n"), solver=False
    )
    (step,) = (s for s in ctx.order.steps if ctx.designs[s.thing].kind == "slices")
    told = text(one_by_one(stopping(step.batches[0][0]), step.batches[0][0], ctx.designs[step.thing], ctx), ctx)
    assert "begin 1/4 in before the corner of the shorter edge" in told
    assert told.count("Turn the pieces at that corner") == 3
    assert told.count("the rest of the longer edge is sewn later") == 3
    assert "piece 5 of" in told and "piece b to piece b" not in told


SPIRES = """
pattern "Spires"

let side = 6

fabric a
fabric b
    usable width 38
fabric c

unit wall
    strips a 1 | b 2 | a 3
    finished 6 x 6

block spire
    slices c
    slice from middle of top to bottom left, wall left
    finished side

quilt
    across 3, down 3
    tile
        spire

sizes
    small
    large {large}, across 4
"""


@pytest.mark.parametrize(
    ("large", "names", "number"),
    [
        ("side 6", ["spire, piece 2", "spire"], "9 / 12"),
        ("side 5 1/2", ["spire, piece 2, small", "spire, small", "spire, piece 2, large", "spire, large"], "9"),
    ],
)
def test_every_size_has_its_templates_and_its_numbers(large: str, names: list[str], number: str) -> None:
    """One sheet for sizes that share a shape, with the number of each; else a sheet for each, by its name."""
    found = make_booklet(text_project(SPIRES.format(large=large))).templates
    assert [t.title for t in found] == names
    assert found[0].lines[0] == f"Cut {number} from the strip unit, the marks on the seams of the strips."
    assert len({t.drawing.key for t in found}) == len(found)


@pytest.mark.parametrize(("inner", "level"), [("a", True), ("net", False)])
def test_edges_are_said_to_meet_only_where_they_do(inner: str, level: bool) -> None:
    """A diamond that is a unit by itself keeps its points, and what is sewn to it is matched by the dots."""
    text = (
        'pattern "Net"\nfabric a\nfabric b\nunit net\n    diamond a\n    angle free\n    finished 3 x 5\n'
        f"block tide\n    slices {inner}\n    slice from middle of top to middle of left, b left\n"
        "    slice from middle of top to middle of right, b right\n"
        "    slice from middle of bottom to middle of left, b left\n"
        "    slice from middle of bottom to middle of right, b right\n    finished 3 x 5\n"
        "quilt\n    across 2, down 2\n    tile\n        tide\n"
    )
    booklet = make_booklet(text_project(text))
    steps = repr(booklet.sections)
    assert ("the dots at the ends of the seam lines lying on each other" in steps) is not level
    sheets = {t.title: any("so that raw edges meet" in line for line in t.lines) for t in booklet.templates}
    assert all(sheets.values()) is level


HUT = """slices a
    slice from 0 x 3 to 6 x 3, b bottom
    slice 1 again from 2 x 3 to 2 x 6, a left
    slice 1 again from 4 x 3 to 4 x 6, a right
    slice from 3 x 0 to 0 x 3, c left
    slice from 3 x 0 to 5 x 3, c right
    finished 6
    method foundation"""


def test_each_section_has_a_foundation_of_its_own_as_drawn_and_mirrored() -> None:
    """Lines 1 to 5 are sewn in reverse: the roof grows first (section A), then the wall (B), which is sewn to it."""
    head = 'pattern "Hut"\n    units inches\nfabric a\nfabric b\nfabric c\n'
    quilt = "\nquilt\n    across 3, down 1\n    tile\n        hut | hut mirrored | hut\n"
    ctx = context(text_project(f"{head}block hut\n    {HUT}{quilt}"))
    found = {t.title: t for t in templates(ctx)}
    assert list(found) == [f"hut{way}, section {x}" for way in ("", " mirrored") for x in "AB"]
    assert [t.lines[0].split(".")[0] for t in found.values()] == [
        "Print 2 copies",
        "Print 2 copies",
        "Print 1 copy, for the units that are mirrored",
        "Print 1 copy, for the units that are mirrored",
    ]
    roof, wall = found["hut, section A"], found["hut, section B"]
    # the roof's field is 5 x 3 in: a seam on every side and 1/4 in all round make its rectangle, in the slant's box
    assert re.findall(r"\b([AB]-\d) ", roof.lines[1]) == ["A-1", "A-2", "A-3"]
    assert "B-1 b (B) 3 x 4 in" in wall.lines[1]  # the door of 2 x 3 in
    for sheet, size in ((roof, (6.5, 3.5)), (wall, (6.5, 3.5))):  # at true size, a seam all round
        assert sheet.drawing.width / 72 >= size[0] and sheet.drawing.height / 72 >= size[1]
    steps = [
        x for s in make_booklet(text_project(f"{head}block hut\n    {HUT}{quilt}")).sections for x in texts(s.blocks)
    ]
    assert any(x.endswith("dot there: A to B.") or x.endswith("lines meeting: A to B.") for x in steps), steps
