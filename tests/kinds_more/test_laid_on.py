"""Shapes and strips laid on a ground: their outlines held against shapely, one worked pattern sewn, what is refused."""

from __future__ import annotations

from functools import cache
from math import pi

import msgspec
import pytest
from shapely import Polygon

import patternkit
from patternkit.lengths import SQRT2, Length
from patternkit.piecing.batch import Batch, LayOn, LayStrip, TrimTo
from patternkit.piecing.laid_on import _covers, _holds
from patternkit.piecing.making import Making
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of
from patternkit.work.model import Order
from tests.kinds_more.written import made

HEAD = """pattern "Bed"
    usable width 40
fabric cream light
fabric rose
fabric fern dark
"""
BED = (
    HEAD
    + """
unit dot
    circle rose 2
    method fused

unit leaf
    petal fern 1 1/2 x 4

unit love
    heart rose 3
    method needle-turn 1/4

unit four
    rows
        fern 1 | rose 1
        rose | fern

block bed
    patch cream
    method oversize 1
    applique fern 1/2 wide from 2 x 10 to 10 x 10 about 6 x 10
    applique fern 1/2 wide from 6 x 7 to 6 x 12, raw edge
    applique leaf mirrored at 4 x 7 turned 20
    applique four at 3 x 3 turned 45
    applique dot at 6 x 4
    applique love at 9 x 3
    finished 12

quilt
    layout
        bed | bed mirrored
"""
)


def polygon(ring: object) -> Polygon:
    return Polygon([(float(x), float(y)) for x, y in ring])  # type: ignore[attr-defined]


def shape(line: str, way: str = "") -> Making:
    line = line.replace("rose", "sky")
    return made(f"\nunit shape\n    {line}\n" + (f"    method {way}\n" if way else ""), "shape", "1/4")


@pytest.mark.parametrize("line", ["circle rose 2", "circle rose 3/4", "petal rose 1 1/2 x 4", "heart rose 3"])
@pytest.mark.parametrize("way, turned", [("", 3 / 16), ("needle-turn 1/8", 1 / 8), ("raw edge", 0), ("fused", 0)])
def test_the_raw_outline_lies_as_far_outside_as_is_turned_under(line: str, way: str, turned: float) -> None:
    cut = shape(line, way).recipe.cuts[0]
    raw, sewn = polygon(cut.shape), polygon(cut.sewn)
    assert raw.is_valid and sewn.is_valid
    assert raw.hausdorff_distance(sewn.buffer(turned, join_style="mitre", mitre_limit=9)) < 1 / 100


def test_shapes_measure_what_is_said_and_are_those_of_the_formulas() -> None:
    dot, leaf, heart = shape("circle rose 2"), shape("petal rose 1 1/2 x 4"), shape("heart rose 3")
    assert abs(polygon(dot.outline).area - pi) < 0.01
    radius = (4 * 4 + 1.5 * 1.5) / (4 * 1.5)
    middle = 1.5 - radius  # of the arc on the right
    right = [(float(x), float(y)) for x, y in leaf.outline if x >= Length(3) / 4]
    assert all(abs(((x - middle) ** 2 + (y - 2) ** 2) ** 0.5 - radius) < 1 / 500 for x, y in right)
    side = 3 / (1 + 2**0.5 / 2)
    assert abs(polygon(heart.outline).area - (side * side + pi * side * side / 4)) < 0.02
    assert heart.height == Length(3) * (SQRT2 * 3 / 4 + Length(1) / 2) / (SQRT2 / 2 + 1)


@cache
def bed() -> tuple[Project, Order, Batch]:
    project = Project("bed.pattern", BED)
    assert not [p for p in patternkit.check(project) if not p.advice]
    order, _ = order_of(project)
    return project, order, next(s for s in order.steps if str(s.thing) == "bed").batches[0][0]


def test_what_is_laid_on_comes_out_as_it_is_drawn() -> None:
    project, order, _ = bed()
    assert all(step.rehearsed for step in order.steps) and rehearse(order, order_of(project)[1]) == ()


def test_the_ground_is_cut_larger_and_points_are_measured_from_its_raw_edges() -> None:
    _, _, batch = bed()
    assert (batch.uses[0].item.width, batch.uses[0].item.height) == (Length(27) / 2, Length(27) / 2)  # type: ignore[union-attr]
    laid = [a for a in batch.actions if isinstance(a, LayOn)]
    assert [(a.part, a.across, a.down, a.turned) for a in laid] == [
        (3, Length(19) / 4, Length(31) / 4, Length(3) / 16),
        (4, Length(15) / 4, Length(15) / 4, Length(1) / 4),  # a sewn unit: its seam allowance
        (5, Length(27) / 4, Length(19) / 4, Length(0)),
        (6, Length(39) / 4, Length(15) / 4, Length(1) / 4),
    ]
    assert [(a.width, a.height) for a in batch.actions if isinstance(a, TrimTo)] == [(Length(25) / 2, Length(25) / 2)]


def test_strips_are_as_long_as_their_middle_line_and_what_becomes_of_their_ends() -> None:
    _, order, batch = bed()
    cut = [order.templates[use.item.template].bias_strip for use in batch.uses[1:3]]  # type: ignore[union-attr]
    arc = -(-(4 * pi + 2 * 3 / 16) * 8 // 1) / 8  # half a circle of radius 4, up to the ruler's next line
    assert cut == [(Length(7) / 8, Length(13)), (Length(1) / 2, Length(47) / 8)] and arc == 13
    # 5 in, and to the raw edge of the ground, which lies 3/4 in outside until it is trimmed: 5 3/4, up to 5 3/4
    assert [a.caught for a in batch.actions if isinstance(a, LayStrip)] == [(False, False), (False, True)]


def test_web_is_counted_for_fused_shapes() -> None:
    project, _, _ = bed()
    web = project.plan()[0].web
    assert web is not None and (web.shapes, web.width, web.length) == (2, Length(17), Length(5) / 2)


def _otherwise(batch: Batch, old: object, new: object) -> Batch:
    passages = tuple(
        msgspec.structs.replace(p, actions=tuple(new if a is old else a for a in p.actions)) for p in batch.passages
    )
    return msgspec.structs.replace(batch, passages=passages)


@pytest.mark.parametrize("change", ["across", "turned", "start", "about"])
def test_what_is_laid_elsewhere_is_noticed(change: str) -> None:
    project, order, batch = bed()
    kind = LayOn if change in ("across", "turned") else LayStrip
    old = next(a for a in batch.actions if isinstance(a, kind))
    before = getattr(old, change)
    other = (
        {"start": (Length(3), Length(10)), "about": None}.get(change) if kind is LayStrip else before + Length(1) / 8
    )
    wrong = _otherwise(batch, old, msgspec.structs.replace(old, **{change: other}))
    steps = tuple(
        msgspec.structs.replace(s, batches=tuple((wrong if b is batch else b, n) for b, n in s.batches))
        for s in order.steps
    )
    assert rehearse(msgspec.structs.replace(order, steps=steps), order_of(project)[1])


REFUSED = [
    ("applique dot", "applique-unclear"),
    ("applique dot at 3", "applique-unclear"),
    ("applique dot at 3 x 3, raw edge", "applique-unclear"),
    ("applique dot from 1 x 1 to 3 x 3", "applique-unclear"),
    ("applique dot at 3 x 3 turned 22 1/2", "odd-turn"),
    ("applique", "applique-unclear"),
    ("applique rose at 3 x 3", "applique-unclear"),
    ("applique rose 0 wide from 1 x 1 to 3 x 3", "applique-unclear"),
    ("applique rose 1/2 wide from 1 x 1 to 3 x 3, glued", "applique-unclear"),
    ("applique daisy at 3 x 3", "unknown-name"),
    ("applique dot at 3 x 5 1/2", "off-the-ground"),
    ("applique dot at 3 x 9", "off-the-ground"),
    ("applique large at 3 x 3", "off-the-ground"),
    ("applique rose 1/2 wide from 1 x 1 to 1 x 1", "off-the-ground"),
    ("applique rose 1/2 wide from 1 x 3 to 7 x 3", "off-the-ground"),
    ("applique rose 1/2 wide from 1 x 3 to 5 x 3 about 2 x 3", "off-the-ground"),
    ("applique rose 2 wide from 2 x 3 to 4 x 3 about 3 x 3", "off-the-ground"),
    ("applique small at 3 x 3\n    applique dot at 3 x 3", "off-the-ground"),
    ("applique dot at 3 x 3 turned 20\n    applique dot at 3 x 3", "off-the-ground"),
    ("applique rose 2 wide from 2 x 3 to 3 x 3", "off-the-ground"),
]


@pytest.mark.parametrize("line, code", REFUSED)
def test_what_can_not_be_laid_on_is_a_problem(line: str, code: str) -> None:
    text = HEAD + (
        "unit dot\n    circle rose 2\nunit large\n    circle rose 7\n"
        "unit small\n    circle cream 1\n"
        f"block bed\n    patch cream\n    {line}\n    finished 6\nquilt\n    tile\n        bed\n"
    )
    found = [p for p in patternkit.check(Project("bed.pattern", text)) if not p.advice and p.code != "not-used"]
    assert [p.code for p in found][:1] == [code]
    assert text[found[0].span.start : found[0].span.end].strip() in line


def test_what_shows_through_a_notch_does_not_lie_wholly_under() -> None:
    heart = [(-2.0, 0.0), (-1.0, -1.0), (0.0, 0.0), (1.0, -1.0), (2.0, 0.0), (0.0, 2.0)]
    across = [(-1.2, -0.7), (1.2, -0.7), (0.0, 1.5)]
    assert all(_holds(heart, p) for p in across)
    assert not _covers(heart, across)
    assert _covers(heart, heart)


@pytest.mark.parametrize(
    "lines, code",
    [
        ("circle rose", "size-unknown"),
        ("petal rose 2", "not-understood"),
        ("petal rose 2 x 2", "cannot-sew"),
        ("circle rose 3/8", "cannot-sew"),
        ("heart rose 3\n    method glued", "unknown-word"),
        ("heart rose 3\n    method raw edge 1/4", "out-of-place"),
    ],
)
def test_a_shape_that_can_not_be_made_is_a_problem(lines: str, code: str) -> None:
    text = HEAD + f"unit shape\n    {lines}\nblock bed\n    patch cream\n    applique shape at 6 x 6\n    finished 12\n"
    assert code in {p.code for p in patternkit.check(Project("bed.pattern", text)) if not p.advice}


def test_oversize_says_nothing_where_nothing_is_laid_on() -> None:
    text = HEAD + "block bed\n    patch cream\n    method oversize 1\n    finished 12\n"
    assert "out-of-place" in {p.code for p in patternkit.check(Project("bed.pattern", text))}
