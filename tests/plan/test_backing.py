"""Backing and batting: the cloth they are bought as, and how far they reach beyond the quilt."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

import patternkit
from patternkit import api
from patternkit.plan.model import Backing, Plan
from tests.published.desk import measuring, pattern, planned, problems

RUNNER = """pattern "Runner"
    units cm
    usable width 106

fabric shell
    sold as fat-quarters 45 x 53
    have 9

block plain
    patch shell 32

quilt
    across 4
    tile
        plain
    backing shell, overage 5
"""


def plan(tmp_path: Path, text: str) -> Plan:
    path = tmp_path / "runner.pattern"
    path.write_text(text, encoding="utf-8")
    return api.load(path).plan(solver=False)[0]


def test_backing_of_a_fabric_in_sheets_is_bought_by_length(tmp_path: Path) -> None:
    """139.5 x 43.5 cm from cloth 106 cm wide: two panels of 43.5 cm, 2 x 106 - 2 cm of joins being enough."""
    back = plan(tmp_path, RUNNER).backing
    assert back is not None
    assert back.panels == 2
    assert back.seams == "vertical"


def test_a_usable_width_that_was_said_of_the_fabric_holds(tmp_path: Path) -> None:
    back = plan(tmp_path, RUNNER.replace("    have 9\n", "    have 9\n    usable width 150\n")).backing
    assert back is not None
    assert back.panels == 1


def test_batting_reaches_no_further_than_the_backing_behind_it(tmp_path: Path) -> None:
    cm = 127 / 50
    found = plan(tmp_path, RUNNER).batting
    assert found is not None
    assert [round(float(side.fraction) * cm, 6) for side in found] == [
        139.5,
        43.5,
    ]  # 128 x 32 cm, seams of 7.5 mm and 5 cm
    more = plan(tmp_path, RUNNER + "    batting overage 6\n").batting
    assert more is not None
    assert [round(float(side.fraction) * cm, 6) for side in more] == [141.5, 45.5]


STITCHED = "https://www.quiltingboard.com/main-f1/printfriendly-mathematically-challenged-t290638.html"


def back(width: str, height: str, line: str, *settings: str, **fabrics: str) -> Backing:
    """The backing of a whole-cloth quilt of this size, by its line."""
    found = planned(measuring(width, height, line, settings=settings, **fabrics)).backing
    assert found is not None
    return found


def test_panels_that_reach_only_without_their_seam_do_not_do() -> None:
    """Published: 80 x 56 in from 40 in of width, "112 in"; but two panels of 40 in seam to 79. Turned, two widths of
    40 in reach over 56 in, and 2 x 80 in are the least of 3 x 56 in and that."""
    found = back("72", "48", "backing night", "usable width 40")
    assert (found.width, found.height) == (80, 56), STITCHED
    assert (found.panels, found.length, found.seams) == (2, 80, "horizontal")
    wider = back("72", "48", "backing night", "usable width 41")
    assert (wider.panels, wider.length, wider.seams) == (2, 56, "vertical")  # 2 x 41 - 1 = 81 in: 112 in, as published


def test_a_print_with_an_up_and_a_down_is_not_turned() -> None:
    """60 x 80 in and 4 in on every side, published as 68 x 88 (https://sewberrychic.com/backing): 2 x 88 in upright. A
    print keeps to that where 3 panels would be less turned."""
    upright = back("60", "80", "backing night", "usable width 40")
    assert (upright.width, upright.height) == (68, 88)
    assert (upright.panels * upright.length, upright.seams) == (176, "vertical")
    plain_cloth = back("72", "48", "backing night", "usable width 40")
    assert (plain_cloth.panels, plain_cloth.seams) == (2, "horizontal")
    text = "fabric moss directional\n"
    for words, seams, told in (("", "vertical", 0), (", seams horizontal", "horizontal", 1)):
        body = (
            f"{text}block wall\n    patch stone\n    finished 72 x 24\nquilt\n    down 2\n    tile\n        wall\n"
            f"    backing moss{words}\n"
        )
        project = pattern(body, "usable width 80")
        made = project.plan(solver=False)[0].backing
        assert made is not None and made.seams in (seams, "none")
        advice = [p for p in patternkit.check(project) if p.code == "directional-turned"]
        assert len(advice) == told
        assert all("so that moss lies on its side" in p.message for p in advice)


def test_a_strip_of_another_cloth_takes_the_place_of_a_panel() -> None:
    """60 x 72 in from 42 in: one panel of 72 in in two halves, and between them what is missing with its two seams of
    two allowances of half an inch: 60 - 42 + 2 = 20 in, from two strips 42 in long less one join."""
    found = back("52", "64", "backing night, strip glow", "usable width 42")
    assert found.strip is not None
    assert (found.panels, found.length, found.parts, found.strip.height, found.strip.strips) == (1, 72, 3, 20, 2)
    three = back("82", "92", "backing night, strip glow, seams vertical", "usable width 42")
    assert three.strip is not None  # 90 x 100 in: two panels, one seam on each side of the strip
    assert (three.panels, three.parts, three.strip.height, three.strip.strips) == (2, 3, 90 - 84 + 2, 3)


def test_the_strip_is_planned_with_its_own_cloth_and_told() -> None:
    project = measuring("52", "64", "backing night, strip glow", settings=("usable width 42", "spare 0"))
    plan = planned(project)
    assert plan.backing_buy == 72 and plan.fabrics["glow"].used == 40 and "night" not in plan.fabrics
    text = next(iter(patternkit.files(project, formats=("md",)).values())).decode()
    assert "cut the panel of Midnight (A), 72 in long, in two along its middle" in text
    assert "Join 2 strips of Lamp (B), 20 in wide, end to end, and cut them to 72 in. Sew it between the halves" in text
    told = next(iter(patternkit.files(project, formats=("md",), language="de", units="inches").values())).decode()
    assert "der Länge nach in der Mitte durchschneiden" in told and "2 Streifen aus Lamp (B), 20 in breit" in told
    assert patternkit.rehearse(project) == []


def test_a_strip_that_nothing_is_missing_for_is_told() -> None:
    project = measuring("30", "40", "backing night, strip glow", settings=("usable width 42",))
    (advice,) = [p for p in patternkit.check(project) if p.code == "finish-differs"]
    assert "One width of the cloth is enough" in advice.message
    (wrong,) = problems(measuring("30", "40", "backing night, strip glwo"))
    assert wrong.code == "unknown-name"


@settings(max_examples=80, deadline=None)
@given(st.integers(20, 200), st.integers(20, 200), st.integers(30, 60), st.sampled_from(["", ", strip glow"]))
def test_panels_and_strip_reach_over_the_quilt(wide: int, high: int, usable: int, strip: str) -> None:
    """Sewn side by side on paper, whatever their number, and never more cloth than with the seams the other way."""
    found = back(str(wide), str(high), f"backing night{strip}", f"usable width {usable}")
    parts = [usable] * found.panels if found.strip is None or found.panels > 1 else [Fraction(usable, 2)] * 2
    parts += [found.strip.height.fraction] if found.strip is not None else []
    assert len(parts) == found.parts
    across = found.width if found.length == found.height and found.seams != "horizontal" else found.height
    assert sum(parts) - (len(parts) - 1) >= across  # two allowances of half an inch to a seam
    if found.strip is None:
        ways = [ceil(Fraction(a - 1, usable - 1)) * b for a, b in ((wide + 8, high + 8), (high + 8, wide + 8))]
        assert found.panels * found.length == min(ways) if not strip else found.panels == 1
    else:
        lengths = usable * found.strip.strips - Fraction(found.strip.strips - 1, 2)
        assert lengths >= found.length
        assert sum(parts) - (len(parts) - 1) <= across + 2  # no wider than is missing, or an inch shows
