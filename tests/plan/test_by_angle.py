"""Triangles of 60 degrees and diamonds that a ruler cuts from strips, without templates: which, how they are told, and
that a false angle is noticed."""

from __future__ import annotations

from fractions import Fraction

import msgspec
import pytest

from patternkit.api import make_booklet
from patternkit.lengths import ONE, SQRT2, SQRT3, ZERO, Length
from patternkit.piecing.by_angle import ruler_angle
from patternkit.piecing.making import Outline
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of
from patternkit.work.model import CutByTemplate

EIGHTH = Fraction(1, 8)
HEAD = "fabric foam light\nfabric kelp dark\n\nunit piece\n    make 5\n    "


def triangle(high: Fraction) -> Outline:
    half = Length(high) / SQRT3
    return (half, ZERO), (half * 2, Length(high)), (ZERO, Length(high))


def rhombus(across: Length, up: Length) -> Outline:
    side = (across * across + up * up).sqrt()
    return (across, ZERO), (across + side, ZERO), (side, up), (ZERO, up)


@pytest.mark.parametrize(
    ("outline", "angle"),
    [
        (triangle(Fraction(15, 4)), 60),
        (triangle(Fraction(15, 4) + Fraction(1, 32)), 0),  # between the ruler's lines
        (rhombus(ONE * 2, ONE * 2), 45),
        (rhombus(ONE * 2 / SQRT3, ONE * 2), 60),
        (rhombus(SQRT2, SQRT2), 0),
        (rhombus(ONE, ONE * 2), 0),  # no angle of a ruler
        (((ZERO, ZERO), (ONE, ZERO), (ONE, ONE), (ZERO, ONE)), 0),
    ],
)
def test_which_shapes_a_ruler_cuts(outline: Outline, angle: int) -> None:
    assert ruler_angle(outline, EIGHTH) == angle


def made(lines: str) -> Project:
    return Project("angles.pattern", f'{HEAD}{lines}\n\npattern "P"\n')


@pytest.mark.parametrize(
    ("lines", "angle"),
    [
        ("triangle-strip foam, kelp\n    triangles 5\n    finished 3 high", 60),  # strips of 3 + 3/4 in
        ("diamond foam, kelp\n    finished 6 high", 60),  # between two sides half of that: strips of 3 1/2 in
        ("diamond foam, kelp\n    finished 3 wide", 0),  # 3 root 3 / 2 in between two sides
    ],
)
def test_what_a_ruler_cuts_has_no_template(lines: str, angle: int) -> None:
    project = made(lines)
    order, designs = order_of(project)
    assert not rehearsal(order, designs).gaps
    angles = {t.angle for t in order.templates.values()}
    assert max(angles) == angle
    printed = [t.title for t in make_booklet(project).templates]
    assert len(printed) == sum(not t.angle for t in order.templates.values())


def test_a_false_angle_is_noticed() -> None:
    order, designs = order_of(made("diamond foam, kelp\n    finished 6 high"))
    wrong = {name: msgspec.structs.replace(t, angle=45) for name, t in order.templates.items()}
    gaps = rehearsal(msgspec.structs.replace(order, templates=wrong), designs).gaps
    assert "patch" in {gap.kind for gap in gaps}


def test_triangles_lie_in_a_strip_just_as_high_as_they_are() -> None:
    order, _ = order_of(made("triangle-strip foam, kelp\n    triangles 5\n    finished 3 high"))
    runs = [c for c in order.cutting if isinstance(c, CutByTemplate) and order.templates[c.piece.template].angle]
    assert runs and all(c.lies is not None and c.lies[1] == Length(Fraction(15, 4)) for c in runs)
    assert all(not y for c in runs for _, y, _ in c.at)
