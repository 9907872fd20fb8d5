"""A backing that is cut from one length with the rest of its fabric: what is left beside its last panel serves."""

from __future__ import annotations

import json

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import patternkit
from patternkit.desk.cutting import cuts_text
from patternkit.desk.cutting_data import cuts_json
from patternkit.lengths import Length
from patternkit.plan.model import Plan
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of
from patternkit.work.model import Panels, Sleeve
from tests.published.desk import num

DRIFT = """pattern "Drift"
    usable width 42

fabric shell
fabric night

block four
    rows
        shell 6 | night 6
        night 6 | shell 6

quilt
    across {across}, down {down}
    tile
        four
    border 4 shell
    binding cut 2 1/2 shell
    backing shell, overage 3 3/4{how}
    sleeve 3 shell
"""


def drift(across: int = 3, down: int = 4, how: str = ", from one length") -> Project:
    return Project("drift.pattern", DRIFT.format(across=across, down=down, how=how))


def planned(project: Project) -> Plan:
    return project.plan(solver=False)[0]


def test_the_sleeve_and_squares_lie_beside_the_narrow_panel() -> None:
    """52 x 64 in from 42 in: a whole panel of 52 in, and 64 - 42 + 1 = 23 in of another; beside that 19 in are left,
    in which the sleeve lies in one piece, 7 x 44 in, and 12 in for squares."""
    project = drift()
    plan, apart = project.plan()[0], drift(how="").plan()[0]
    back, sleeve = plan.backing, plan.sleeve
    assert back is not None and sleeve is not None and apart.backing_buy is not None
    assert plan.one_length and plan.backing_buy == 0
    assert (back.width, back.height, back.panels, back.length, back.last) == (52, 64, 2, 52, 23)
    assert sleeve.along and (sleeve.height, sleeve.lengths[0][0]) == (7, 44)
    assert plan.fabrics["shell"].used == 161
    whole = apart.fabrics["shell"].buy + apart.backing_buy
    assert (plan.fabrics["shell"].buy, whole) == (Length(162), Length(189))  # 4 1/2 yd where 5 1/4 were
    kinds = [strip.kind for strip in plan.fabrics["shell"].plan.strips]
    assert "along" in kinds and "full" in kinds
    assert not rehearse(*order_of(project, plan))


def test_what_is_said_of_it() -> None:
    project = drift()
    plan = project.plan()[0]
    text = cuts_text(project, plan)
    assert "1 of 23 x 52 (backing panel); 1 of 7 x 44, trimmed to 44 in (hanging sleeve)" in text
    assert "2 panels 52 in long (the last 23 in wide), horizontal seams, cut with the rest; bought with shell" in text
    assert "Sleeve, shell: 1 piece 7 in wide, cut along the cloth; cut 1 of 44 in" in text
    data = json.loads(cuts_json(project, plan))
    own = next(f for f in data["fabrics"] if f["fabric"] == "shell")
    assert own["backing"]["oneLength"] and own["backing"]["last"] == "23" and own["backing"]["buy"] == "0"
    assert data["sleeve"]["along"] and own["buy"] == "162"
    english = booklet(project)
    assert "2 panels of shell (A), each 52 in long, one of them only 23 in wide" in english
    assert "take the piece of shell (A), 7 in wide and 44 in long; hem" in english
    assert "with shell (A), in the amount above" in english
    german = booklet(project, "de")
    assert "eine davon nur 23 in breit" in german and "7 in breit und 44 in lang, nehmen" in german


def booklet(project: Project, language: str = "en", part: str = "") -> str:
    found = patternkit.files(project, formats=("md",), language=language, units="inches", part=part)
    return next(iter(found.values())).decode()


@settings(max_examples=25, deadline=None)
@given(
    st.integers(2, 6),
    st.integers(2, 7),
    st.sampled_from(["", ", seams vertical", ", seams horizontal", ", seams horizontal"]),
)
def test_one_length_is_never_more_and_is_as_it_is_told(across: int, down: int, more: str) -> None:
    project, apart = drift(across, down, f", from one length{more}"), planned(drift(across, down, more))
    plan = planned(project)
    back, lining = plan.backing, apart.backing_buy
    assert back is not None and apart.backing is not None and lining is not None and plan.one_length
    assert plan.fabrics["shell"].buy <= apart.fabrics["shell"].buy + lining
    assert back.panels == apart.backing.panels
    side = back.width if back.seams != "horizontal" and back.length == back.height else back.height
    wide = back.usable * (back.panels - 1) + (back.last or back.usable) - back.seam * 2 * (back.panels - 1)
    assert wide >= side
    assert not rehearse(*order_of(project, plan))


def test_wrong_panels_and_sleeves_are_noticed() -> None:
    """Panels a little short, a panel that is cut nowhere, a sleeve that lies in no cut: each is a gap."""
    project = drift()
    order, designs = order_of(project, planned(project))
    assert not rehearse(order, designs)
    panels = next(x for x in order.finish if isinstance(x, Panels) and x.cut)
    sleeve = next(x for x in order.finish if isinstance(x, Sleeve))
    assert panels.last is not None
    for old, new in (
        (panels, msgspec.structs.replace(panels, last=panels.last - 1)),
        (panels, msgspec.structs.replace(panels, last=panels.last + 1)),
        (panels, msgspec.structs.replace(panels, last=None)),
        (panels, msgspec.structs.replace(panels, cut=False)),
        (sleeve, msgspec.structs.replace(sleeve, length=sleeve.length * 2)),
        (sleeve, msgspec.structs.replace(sleeve, along=False)),
    ):
        wrong = msgspec.structs.replace(order, finish=tuple(new if x is old else x for x in order.finish))
        assert rehearse(wrong, designs)


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (("backing shell,", "backing kelp,"), "Nothing else is cut from kelp."),
        (("fabric shell\n", "fabric shell\n    sold as fat quarters\n"), "shell comes in pieces, not by length."),
    ],
)
def test_what_cannot_be_cut_so_is_bought_for_itself_and_told(change: tuple[str, str], why: str) -> None:
    text = DRIFT.format(across=3, down=4, how=", from one length").replace("fabric night", "fabric kelp\nfabric night")
    project = Project("drift.pattern", text.replace(*change))
    (advice,) = [p for p in patternkit.check(project) if p.code == "finish-differs"]
    assert advice.advice and advice.causes == (why,)
    assert planned(project).backing_buy


@pytest.mark.parametrize("beside", ["wide 108", "envelope"])
def test_wide_cloth_is_another_length_and_the_back_of_a_cushion_no_backing(beside: str) -> None:
    found = patternkit.check(drift(how=f", {beside}, from one length"))
    assert f"Beside {beside.split()[0]}, from one length says nothing." in [p.message for p in found]


def test_a_stated_amount_covers_all_of_the_length() -> None:
    text = DRIFT.format(across=3, down=4, how=", from one length")
    enough = Project("drift.pattern", text.replace("fabric shell\n", "fabric shell\n    buy 4 1/2 yd\n"))
    assert not [p for p in patternkit.check(enough) if not p.advice]
    assert enough.plan()[0].fabrics["shell"].buy == 162
    short = Project("drift.pattern", text.replace("fabric shell\n", "fabric shell\n    buy 3 1/2 yd\n"))
    assert [p.code for p in patternkit.check(short) if not p.advice] == ["buy-short"]


def test_a_release_lists_the_panels_with_what_is_cut_for_its_finish() -> None:
    text = DRIFT.format(across=3, down=4, how=", from one length")
    parts = 'part "First" 2026-03-02\n    makes four\npart "Last" 2026-03-09\n    makes top, finishing\n'
    project = Project("drift.pattern", f"{text}\n{parts}")
    assert not [p for p in patternkit.check(project) if not p.advice]
    last = booklet(project, part="Last")
    assert "23 x 52 in | backing panel | 1" in last and "strip 52 in | backing panel | 1" in last
    assert "backing panel | 1" not in booklet(project, part="First")


STRIPPED = """pattern "Stripped"
    usable width 42

fabric shell
fabric night
fabric kelp

block four
    rows
        shell 9 | night 9
        night 9 | shell 9

quilt
    across 3, down 7
    tile
        four
    border 1 kelp
    backing kelp, overage 3/4, strip shell
"""


def test_a_strip_in_the_backing_takes_the_end_of_another_strip() -> None:
    """42 squares of 9 1/2 in leave 22 1/2 in of the last strip: joined to one strip instead of a second one."""
    project = Project("stripped.pattern", STRIPPED)
    plan = project.plan()[0]
    assert plan.backing is not None and plan.backing.strip is not None
    strip = plan.backing.strip
    assert strip.strips == 1
    assert [(one.of, one.left) for one in strip.joins if one.of is not None] == [(num("9 1/2"), num("22 1/2"))]
    order, designs = order_of(project, plan)
    assert not rehearse(order, designs)
    panels = next(x for x in order.finish if isinstance(x, Panels) and x.between is not None)
    assert panels.between is not None
    wrong = msgspec.structs.replace(panels, between=msgspec.structs.replace(panels.between, joins=()))
    assert rehearse(msgspec.structs.replace(order, finish=(wrong,)), designs)
    told = booklet(project)
    kept = "keep the end of one of the strips 9 1/2 in high, 22 1/2 in long, cut to 7 in"
    assert f"For the strip in the backing, {kept}." in told
    assert "Join it and 1 strip of shell (A), 7 in wide, end to end, and cut them to" in told
