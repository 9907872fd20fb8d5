"""Words of the cutting and finishing pages that depend on what is cut, and on what is done with the edges."""

from __future__ import annotations

import json

import pytest

import patternkit
from patternkit.desk.cutting import cuts_text
from patternkit.desk.cutting_data import cuts_json
from patternkit.drawing.cuts import explained
from patternkit.drawing.scene import Lettering, flat
from patternkit.project import Project
from patternkit.work.build import order_from
from patternkit.work.model import CutByTemplate
from tests.published.desk import pattern, plain, sound

SPIRES = """
unit spire
    slices night
    slice from middle of top to bottom left, stone
    slice from middle of top to bottom right, stone
    finished 6

unit upended
    slices glow
    slice from middle of top to bottom left, stone
    slice from middle of top to bottom right, stone
    finished 6

quilt
    across 2, down 4
    tile
        spire | upended turned 180
"""

SLATS = """unit slats
    row glow 3 | stone 2 | glow 4
    finished 3 high

quilt
    across 4, down 3
    tile
        slats
    border 4 glow
    binding cut 2 1/4 glow
"""


def booklet(project: Project) -> str:
    return next(iter(patternkit.files(sound(project), formats=("md",)).values())).decode()


@pytest.fixture(scope="module")
def spires() -> Project:
    return pattern(SPIRES, "usable width 42")


def test_a_template_that_several_units_share_is_for_all_of_them(spires: Project) -> None:
    text = booklet(spires)
    (row,) = (x for x in text.splitlines() if x.startswith("| Quay"))
    assert "| spire b and upended b |" in row


def test_the_plan_tells_which_templates_lie_face_down(spires: Project) -> None:
    """As the order has it, in words and as data."""
    plan = spires.plan()[0]
    order = order_from(spires.pattern, plan, spires.sewn_roots).order
    down = [x for x in order.cutting if isinstance(x, CutByTemplate) and x.face == "down"]
    assert sum(x.count for x in down) == sum(line.count for line in plan.lines if line.down) == 8
    assert "by the template lying face down" in cuts_text(spires, plan)
    pieces = [p for f in json.loads(cuts_json(spires, plan))["fabrics"] for p in f["pieces"]]
    faces = {face: sum(p["count"] for p in pieces if p["face"] == face) for face in ("up", "down")}
    assert faces["down"] == 8
    assert faces["up"] == sum(p["count"] for p in pieces if p["then"] == "template") - 8


def test_the_first_cut_of_a_piece_leaves_nothing_yet() -> None:
    """Three strips 7 in wide and 17 1/2 in long from a piece 18 x 21 in: they lie down its shorter side, and as one
    strip across they would leave nothing of 21 in for squaring up."""
    body = (
        "block long\n    patch glow\n    finished 6 1/2 x 17\n\nquilt\n    across 3, down 1\n    tile\n        long\n"
    )
    text = booklet(pattern(body, glow="sold as fat-quarters 18 x 21"))
    assert "wide, down the piece" in text and "down what is left" not in text


def test_a_sleeve_hangs_below_what_the_edge_has() -> None:
    bound = booklet(plain("30", "30", "binding cut 2 1/4 night", "sleeve 4 night"))
    faced = booklet(plain("30", "30", "facing cut 2 1/2 night", "sleeve 4 night"))
    assert "to the back below the binding." in bound
    assert "to the back below the top edge." in faced
    assert "Hanging sleeve: cut 1 strip of" in bound
    assert "Hanging sleeve: join 2 strips of" in booklet(plain("60", "30", "binding cut 2 1/4 night", "sleeve 4 night"))


def test_one_strip_of_binding_is_not_joined() -> None:
    """Round a mat 6 in square, 24 in and 12 in beyond, one strip of 40 in is enough."""
    text = booklet(plain("6", "6", "binding cut 2 1/4 night"))
    assert "Binding: take the strip of Midnight (A), 2 1/4 in wide. The quilt is 24 in round" in text
    assert "Binding: join the 2 strips of" in booklet(plain("12", "12", "binding cut 2 1/4 night"))


def test_a_tube_gives_one_strip() -> None:
    text = booklet(plain("40", "40", "binding cut 2 1/4 night, bias from a square"))
    assert "That gives one strip, at least " in text and " in in one " not in text


def test_an_end_that_is_joined_is_not_drawn_as_left_over() -> None:
    """Twelve patches of 3 1/2 in and twelve of 4 1/2 in; the border takes an end of one of their strips."""
    body = SLATS.replace("    binding", "    backing stone\n    binding")
    drawn = patternkit.files(sound(pattern(body, "usable width 40")), formats=("md",))
    cloth = next(data.decode() for name, data in drawn.items() if name.endswith("cut-glow.svg"))
    assert "to join<" in cloth


def test_a_long_name_in_the_key_keeps_its_numbers() -> None:
    keys = {("half strips of the unit with a name that goes on and on", "20 3/4 x 1 1/2 in"): "a"}
    texts = [shape.text for shape, *_ in flat(explained(keys, 400.0).items) if isinstance(shape, Lettering)]
    assert any(text.endswith(", 20 3/4 x 1 1/2 in") for text in texts)
