"""Tips of templates: raw edges that are sewn together are equally long and end level, measured by plain numbers of the
test's own."""

from __future__ import annotations

import random
from collections.abc import Sequence
from fractions import Fraction
from math import hypot

import pytest
from shapely import Polygon

from patternkit.checks import run
from patternkit.lengths import ONE, SQRT2, SQRT3, ZERO, Length
from patternkit.piecing.batch import Join, Piece
from patternkit.piecing.kinds.slices_strips import StripTemplate
from patternkit.piecing.making import Making, Outline, Point, Seam
from patternkit.piecing.offset import bounding_box, trimmed_outline
from patternkit.piecing.tips import dog_ears, meeting
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of

QUARTER = Length(Fraction(1, 4))
HEAD = "fabric foam light\nfabric kelp dark\nfabric gorse medium\n\n"


def floats(outline: Sequence[Point]) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in outline]


def trimmed(outlines: Sequence[Outline], seams: Sequence[Seam], seam: Length = QUARTER) -> list[Outline]:
    return [trimmed_outline(o, seam, t) for o, t in zip(outlines, dog_ears(outlines, seams, seam), strict=True)]


def making(unit: str) -> tuple[Making, Length]:
    """The unit of that text, and the seam."""
    project = Project("tips.pattern", HEAD + unit)
    assert [p.message for p in run(project, guarded=False) if not p.advice] == []
    return next(m for m in project.makings.values() if m.unit == "piece"), project.pattern.settings.seam


def as_cut(whole: Making, seam: Length) -> tuple[list[Outline], list[Outline]]:
    """The finished outlines of a unit's parts, and the raw ones of the templates of its recipe, each where it lies."""
    outlines, raws = [p.place.outline(p.what.outline) for p in whole.parts], []
    made = trimmed(outlines, whole.seams, seam)
    for n, part in enumerate(whole.parts):
        if isinstance(part.what, Making):
            assert isinstance(part.what.recipe.numbers, StripTemplate)
            raws.append(part.place.outline(part.what.recipe.numbers.raw))
        else:
            cuts = [c for c in whole.recipe.cuts if not c.then or c.then == "template"]
            areas = [Polygon(floats(c.shape)).area if c.then else float(c.width * c.height) for c in cuts]
            assert any(abs(Polygon(floats(made[n])).area - a) < 1e-9 for a in areas)
            raws.append(made[n])
    return outlines, raws


def ends(raws: Sequence[Outline], seam: Seam, parts: Sequence[int], beyond: float) -> tuple[float, float]:
    """How far the raw edges of some parts reach along a seam, `beyond` it to its right."""
    (x1, y1), (x2, y2) = floats((seam.start, seam.end))
    far = hypot(x2 - x1, y2 - y1)
    ux, uy = (x2 - x1) / far, (y2 - y1) / far
    along = []
    for part in parts:
        for x, y in floats(raws[part]):
            if abs((y - y1) * ux - (x - x1) * uy - beyond) < 1e-7:
                along.append((x - x1) * ux + (y - y1) * uy)
    return min(along), max(along)


def level(raws: Sequence[Outline], seams: Sequence[Seam], seam: Length) -> None:
    """Both raw edges of every seam begin and end at one point of it."""
    for s in seams:
        left, right = ends(raws, s, s.left, float(seam)), ends(raws, s, s.right, -float(seam))
        assert left == pytest.approx(right, abs=1 / 64), (s, left, right)


def nothing_lost(outlines: Sequence[Outline], raws: Sequence[Outline], seam: Length, seams: Sequence[Seam]) -> None:
    """Every template covers its piece and a full seam beyond each of its edges but at their very ends."""
    for outline, raw in zip(outlines, raws, strict=True):
        inner, outer = Polygon(floats(outline)), Polygon(floats(raw))
        assert outer.is_valid and outer.contains(inner)
        assert inner.distance(outer.exterior) > 0.6 * float(seam)
        for a, b in zip(floats(outline), floats((*outline[1:], outline[0])), strict=True):
            far = hypot(b[0] - a[0], b[1] - a[1])
            way = (b[0] - a[0]) / far, (b[1] - a[1]) / far
            out = way[1] * (float(seam) - 1e-9), -way[0] * (float(seam) - 1e-9)
            corners = [a, b, (b[0] + out[0], b[1] + out[1]), (a[0] + out[0], a[1] + out[1])]
            if not outer.buffer(1e-9).contains(Polygon(corners)):  # a tip may be cut a little into its end there
                assert outer.intersection(Polygon(corners)).area > 0.9 * Polygon(corners).area


SHAPES = [
    "diamond foam, kelp\n    finished 3 wide\n    method from templates",
    "diamond foam, kelp\n    angle 45\n    finished 3 wide\n    method from templates",
    "hexagon foam, kelp\n    finished 4 high\n    method from templates",
    "kite foam, kelp\n    finished 4 wide\n    method from templates",
    "kite foam, kelp\n    angle free\n    shoulder 2\n    finished 3 x 5\n    method from templates",
    "trapezoid foam, kelp\n    finished 4 high\n    method from templates",
    "trapezoid foam, kelp, gorse\n    angle 45\n    top 3\n    finished 7 x 2\n    method from templates",
    "triangle-strip foam, kelp\n    triangles 5\n    finished 3 high\n    method from templates",
    "triangle-strip foam, kelp\n    triangles 4\n    ends half, gorse\n    finished 3 high\n    method from templates",
    "flying-geese foam, kelp\n    finished 4 x 2\n    method from templates",
    "flying-geese foam, kelp\n    finished 5 x 2\n    method from templates",
    "flying-geese foam, kelp\n    finished 3 x 4\n    method from templates",
    "slices foam\n    slice from middle of top to bottom left, kelp\n"
    "    slice from middle of top to bottom right, gorse\n    finished 6\n    method templates",
    "slices foam\n    slice from top left to middle of bottom, kelp\n"
    "    slice from middle of top to bottom right, gorse\n    finished 6\n    method templates",
]


@pytest.mark.parametrize("seam", ["1/4", "3/8"])
@pytest.mark.parametrize("shape", SHAPES, ids=lambda s: s.split("\n")[0].split()[0])
def test_raw_edges_of_templates_meet(shape: str, seam: str) -> None:
    whole, allowance = making(f'unit piece\n    {shape}\n\npattern "P"\n    seam {seam}\n')
    outlines, raws = as_cut(whole, allowance)
    level(raws, whole.seams, allowance)
    nothing_lost(outlines, raws, allowance, whole.seams)
    assert meeting(outlines, list(raws), whole.seams, allowance) == frozenset(range(len(outlines)))


STRIPS = "unit rain\n    strips foam 1 | gorse 1 | foam 1 | gorse 1 | foam 1 | gorse 1\n    finished 6 x 6\n\n"


@pytest.mark.parametrize(
    "lines",
    [
        ("middle of top to bottom left", "middle of top to bottom right"),
        ("top left to middle of bottom", "middle of top to bottom right"),
        ("1/3 of top to 1/2 of bottom", "top right to 5/6 of bottom"),
    ],
)
@pytest.mark.parametrize("lies", ["", " turned 90"])
def test_pieces_of_strip_units_meet_what_lies_beside_them(lines: tuple[str, str], lies: str) -> None:
    slices = "".join(f"    slice from {line}, kelp\n" for line in lines)
    whole, seam = making(f"{STRIPS}unit piece\n    slices rain{lies}\n{slices}    finished 6\n    method templates\n")
    outlines, raws = as_cut(whole, seam)
    level(raws, whole.seams, seam)
    nothing_lost(outlines, raws, seam, whole.seams)


def drawn(rng: random.Random) -> str:
    """A unit of one to four slices."""
    corners = ["top left", "top right", "bottom left", "bottom right"]
    lines = []
    for n in range(rng.randint(1, 4)):
        one, two = rng.sample(["top", "bottom", "left", "right"], 2)
        parts = [f"{rng.choice(['1/2', '1/3', '1/4', '2/3', '2/5'])} of {side}" for side in (one, two)]
        start = rng.choice(corners) if rng.random() < 0.3 else parts[0]
        again = f"{rng.randint(1, n)} again " if n and rng.random() < 0.3 else ""
        lines.append(f"    slice {again}from {start} to {parts[1]}, {rng.choice(['foam', 'kelp', 'gorse'])}\n")
    size = rng.choice(["6", "5 x 7", "8 x 3"])
    return f"unit piece\n    slices foam\n{''.join(lines)}    finished {size}\n    method templates\n"


def test_raw_edges_of_any_slices_meet() -> None:
    rng, tried = random.Random(11), 0
    while tried < 60:
        text = drawn(rng)
        project = Project("tips.pattern", HEAD + text)
        if any(not p.advice for p in run(project, guarded=False)):
            continue  # lines that can't be sewn as they run
        tried += 1
        whole, seam = making(text)
        outlines, raws = as_cut(whole, seam)
        level(raws, whole.seams, seam)
        nothing_lost(outlines, raws, seam, whole.seams)


def test_two_halves_of_a_square() -> None:
    """Each is cut along the raw edge of the other, square to its own leg."""
    sides = (
        ((ZERO, ZERO), (Length(3), ZERO), (ZERO, Length(3))),
        ((Length(3), ZERO), (Length(3), Length(3)), (ZERO, Length(3))),
    )
    seam = Seam((ZERO, Length(3)), (Length(3), ZERO), (0,), (1,))
    for raw in trimmed(sides, [seam]):
        assert bounding_box(raw) == ((-QUARTER, -QUARTER), (Length(3) + QUARTER, Length(3) + QUARTER))
    first = trimmed(sides, [seam])[0]
    length = max(ends([first], seam, (0,), float(QUARTER))) - min(ends([first], seam, (0,), float(QUARTER)))
    assert length == pytest.approx(float(SQRT2 * 3 + QUARTER * 2 * (SQRT2 - 1)))  # s tan 22.5 degrees at either end


@pytest.mark.parametrize("up", [SQRT3, SQRT3 / 3, ONE / 2])
def test_on_a_straight_edge_the_sharp_corner_is_cut_as_long_as_the_blunt_one(up: Length) -> None:
    sharp = ((ZERO, ZERO), (Length(-4), up * 4), (Length(-8), ZERO))
    blunt = ((ZERO, ZERO), (Length(6), ZERO), (Length(6), up * 4), (Length(-4), up * 4))
    seam = Seam((ZERO, ZERO), (Length(-4), up * 4), (1,), (0,))
    raws = trimmed([sharp, blunt], [seam])
    assert len(raws[1]) >= len(blunt)
    level(raws, [seam], QUARTER)


def test_what_keeps_its_points_is_told_from_the_rest() -> None:
    """Untrimmed templates, and those sewn to something else, are not said to meet."""
    whole, seam = making("unit piece\n    " + SHAPES[0] + "\n")
    outlines = [p.place.outline(p.what.outline) for p in whole.parts]
    natural = [trimmed_outline(o, seam, {}) for o in outlines]
    assert not meeting(outlines, list(natural), whole.seams, seam)
    some = list(trimmed(outlines, whole.seams, seam))
    assert meeting(outlines, [*some[:2], None, *some[3:]], whole.seams, seam) == {1, 3, 4}


@pytest.mark.parametrize("seam", ["1/4", "3/8", "1/2"])
@pytest.mark.parametrize(
    ("shape", "forms"),
    [
        ("flying-geese foam, kelp\n    finished 4 x 2\n    method from templates", 2),
        ("diamond foam, kelp\n    finished 3 wide\n    method from templates", 2),
        ("triangle-strip foam, kelp\n    triangles 6\n    ends slanted\n    finished 3 high\n"
         "    method from templates", 1),
        ("slices foam\n    slice from middle of top to bottom left, kelp\n"
         "    slice from middle of top to bottom right, gorse\n    finished 6\n    method templates", 2),
    ],
)  # fmt: skip
def test_pieces_of_one_shape_have_one_template(shape: str, forms: int, seam: str) -> None:
    """A goose and its two sides are two shapes, a diamond and its four corners too: turned over, the template is the
    same. Whether raw edges meet is sewn elsewhere."""
    project = Project("tips.pattern", f'{HEAD}unit piece\n    {shape}\n    make 2\n\npattern "P"\n    seam {seam}\n')
    order, designs = order_of(project)
    assert not rehearsal(order, designs).gaps
    items = [use.item for s in order.steps for b, _ in s.batches for use in b.uses]
    taken = {item.template for item in items if isinstance(item, Piece)}
    assert len(taken) == forms
    joins = [a for s in order.steps for b, _ in s.batches for a in b.actions if isinstance(a, Join)]
    assert joins and all(j.fit == "level" for j in joins)


def test_a_print_is_not_turned_on_its_head_for_one_template() -> None:
    """Four corners of one shape, two of each hand: where the print has a direction, those below have a template of
    their own, though that of those above would fit them turned about."""
    head = HEAD.replace("kelp dark", "kelp dark directional")
    unit = "hexagon foam, kelp\n    angle free\n    finished 8 x 8\n    method from templates\n    make 3"
    order, designs = order_of(Project("tips.pattern", f'{head}unit piece\n    {unit}\n\npattern "P"\n'))
    assert not rehearsal(order, designs).gaps
    ((batch, _),) = order.steps[0].batches
    corners = [use for use in batch.uses[1:] if isinstance(use.item, Piece)]
    assert sorted((use.item.template, use.item.reversed, use.turned) for use in corners) == [
        ("template 2", False, 0), ("template 2", True, 0), ("template 3", False, 0), ("template 3", True, 0),
    ]  # fmt: skip


def test_a_shape_has_two_templates_where_one_would_shorten_raw_edges() -> None:
    """A low kite: what is cut off its upper corners would shorten an edge of the lower ones once these are sewn on."""
    unit = "kite foam, foam\n    angle free\n    shoulder 1 7/8\n    finished 3 3/4 x 2 1/2\n    method from templates"
    order, designs = order_of(Project("tips.pattern", f'{HEAD}unit piece\n    {unit}\n\npattern "P"\n'))
    assert not rehearsal(order, designs).gaps
