"""Batting in the sizes that are sold: the table in print, the writer's own, and the smallest that does."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import patternkit
from patternkit.desk.cutting import cuts_text
from patternkit.desk.cutting_data import cuts_json
from patternkit.lengths import Length
from patternkit.plan.model import Plan
from tests.published.desk import measuring, objection, planned

TABLE = "http://www.honeybegood.com/blogs/resources/12653533-common-quilt-and-batting-sizes"
SOLD = {"crib": (45, 60), "twin": (72, 90), "full": (81, 96), "queen": (90, 108), "king": (120, 120)}


def batting(width: str, height: str, *settings: str, line: str = "batting") -> Plan:
    return planned(measuring(width, height, line, settings=settings))


@pytest.mark.parametrize(
    ("quilt", "name"),
    [
        (("39", "54"), "crib"),  # the same page's quilts for each bed, with 3 in on every side
        (("65", "84"), "twin"),
        (("65", "88"), "full"),  # 94 in are longer than 90
        (("80", "88"), "queen"),
        (("86", "93"), "king"),  # 92 in are wider than 90
        (("84", "102"), "queen"),  # 90 x 108 just does
        (("102", "84"), "queen"),  # turned
        (("84 1/8", "102"), "king"),
        (("115", "60"), ""),  # 121 in
    ],
)
def test_the_smallest_that_does_is_named(quilt: tuple[str, str], name: str) -> None:
    found = batting(*quilt).packet
    assert (found.name if found is not None else "") == name, TABLE
    assert found is None or (found.width, found.height) == SOLD[name]


@settings(max_examples=60, deadline=None)
@given(st.integers(10, 130), st.integers(10, 130))
def test_no_smaller_one_holds_the_batting(wide: int, high: int) -> None:
    """Tried one by one, both ways up."""
    plan = batting(str(wide), str(high))
    assert plan.batting is not None
    short, long = sorted(plan.batting)
    fit = [
        w * h for w, h in SOLD.values() if any(short <= Length(a) and long <= Length(b) for a, b in ((w, h), (h, w)))
    ]
    assert (plan.packet.width * plan.packet.height if plan.packet else None) == min(fit, default=None)


def test_a_writer_may_say_what_is_sold() -> None:
    own = batting("40", "50", "batting sold as 60 x 40, 70, 100 x 110")
    assert own.packet is not None and (own.packet.width, own.packet.height, own.packet.name) == (70, 70, "")
    metric = batting("100", "120", "units cm")
    assert metric.packet is None  # none is known
    said = batting("100", "120", "units cm", "wadding sold as 150 x 150, 120 x 160")
    assert said.packet is not None and said.packet.width == Length(120) / Length("2.54")
    twice = measuring("40", "50", "batting", settings=("batting sold as 60 x 40", "batting sold as 70"))
    assert "The pattern says batting a second time" in objection(twice, "named-twice")
    small = measuring("40", "50", "batting", settings=("batting sold as 60 x 1/2",))
    assert "too small" in objection(small, "too-small")


def test_it_is_told_in_words_data_and_booklets() -> None:
    project = measuring("40", "50", "batting")
    plan = planned(project)
    assert "Batting: 46 x 56 in; sold as 45 x 60 in (crib size)" not in cuts_text(project, plan)  # 46 is more than 45
    assert "Batting: 46 x 56 in; sold as 72 x 90 in (twin size)" in cuts_text(project, plan)
    assert json.loads(cuts_json(project, plan))["batting"]["sold"] == {"name": "twin", "width": "72", "height": "90"}
    text = next(iter(patternkit.files(project, formats=("md",)).values())).decode()
    assert "| Batting | – | 46 x 56 in | 72 x 90 in (twin size) |" in text
    told = next(iter(patternkit.files(project, formats=("md",), language="de", units="inches").values())).decode()
    assert "72 x 90 in (Größe Einzelbett)" in told
    large = measuring("118", "50", "batting")
    assert "larger than any packet" in cuts_text(large, planned(large))
    text = next(iter(patternkit.files(large, formats=("md",)).values())).decode()
    assert "| Batting | – | 124 x 56 in | by length: no packet is as large |" in text


def test_it_is_written_as_it_is_read() -> None:
    from patternkit.syntax.format import format_text

    tidy = 'pattern "One"\n    batting sold as 45 x 60, 72 x 90\n'
    assert format_text('pattern "One"\n  batting  sold as 45x60, 72x90\n') == tidy == format_text(tidy)
