"""Strip units that are cut in pairs and sewn as they lie. Every number is derived here."""

from __future__ import annotations

import pytest

from patternkit import api
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of

TEXT = """pattern "T"
    usable width 40
fabric a dark
fabric b medium
fabric c light
unit dark-row
    strips a 2 | c 2 | b 2
    finished 2 high
    method paired with light-row
unit light-row
    strips c 2 | a 2 | c 2
    finished 2 high
unit both
    column dark-row | light-row
quilt
    across 4, down 4
    tile
        both | both turned 180
"""


def problems(text: str) -> list[str]:
    """What is wrong with a pattern."""
    return [p.message for p in api.check(Project("t.pattern", text)) if not p.advice]


def test_pairs_are_cut_at_once_and_sewn_as_they_lie() -> None:
    made = Project("t.pattern", TEXT)
    assert problems(TEXT) == []
    order, designs = order_of(made)
    assert rehearse(order, designs) == ()
    text = api.files(made, formats=("md",))["t.md"].decode()
    assert "Do not cut it yet: in step 2 it is laid on that of light-row" in text
    assert "cut both layers across, 2 1/2 in wide" in text
    assert "sew each pair as it was cut" in text
    german = api.files(made, formats=("md",), language="de")["t.md"].decode()
    assert "beide Lagen zugleich quer schneiden" in german


def test_pairs_that_are_sewn_alike_keep_strip_units_of_their_own() -> None:
    """Turned end for end one is the other; made together they would lie on no other strip unit."""
    text = TEXT.replace("a 2 | c 2 | b 2", "a 2 | c 2").replace("c 2 | a 2 | c 2", "c 2 | a 2")
    assert problems(text) == []
    made = Project("t.pattern", text)
    counts = {c.making.unit: c for c in made.plan()[0].counts}
    assert counts["dark-row"].shared is None
    assert counts["dark-row"].batches == counts["light-row"].batches == 2  # 16 of each, 15 from a strip unit


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("with light-row", "with dark-row", "paired with itself"),
        ("with light-row", "with both", "no unit of strips"),
        ("with light-row", "with heavy-row", "no unit of strips"),
        ("c 2 | a 2 | c 2", "c 3 | a 3", "as many strips"),
        ("c 2 | a 2 | c 2", "c 3 | a 2 | c 1", "do not meet"),
        ("    finished 2 high\nunit both", "    finished 3 high\nunit both", "segments of one width"),
        ("dark-row | light-row", "dark-row | dark-row | light-row", "not all are pairs"),
        ("dark-row | light-row", "dark-row | c 6 x 1 | light-row", "joined to each other in no unit"),
        ("a 2 | c 2 | b 2", "a 2 > c 2 > b 2", ""),
        ("c 2 | a 2 | c 2", "c 2 <> a 2 <> c 2", "do not nest"),
    ],
)
def test_what_does_not_lie_in_pairs(old: str, new: str, told: str) -> None:
    found = problems(TEXT.replace(old, new))
    assert any(told in message for message in found) if told else found == []
