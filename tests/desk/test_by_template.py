"""Where a ruler cuts the pieces of a sliced unit, the plan says what templates would save."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest

from patternkit.desk.cutting import cuts_text
from patternkit.desk.cutting_data import cuts_json
from patternkit.project import Project
from tests.published.desk import pattern, sound

WEDGES = """
unit wedge
    slices glow
    slice from top left to bottom right, stone left{method}
    finished {w} x {h}

quilt
    across {across}, down {down}
    tile
        wedge
"""


def wedges(w: int, h: int, across: int, down: int, method: str = "") -> Project:
    return sound(pattern(WEDGES.format(w=w, h=h, across=across, down=down, method=method)))


@pytest.mark.parametrize(
    "size", [(4, 6, 10, 11), (3, 4, 12, 13), (5, 8, 7, 9), (3, 6, 4, 5), (2, 5, 9, 9), (3, 3, 12, 12)]
)
def test_what_templates_save_is_what_they_save(size: tuple[int, int, int, int]) -> None:
    """Held against the plans of both patterns as written out: told where templates take less of some cloth and more of
    none, with the difference of what is bought."""
    ruled = wedges(*size)
    by_template = wedges(*size, method="\n    method templates").plan()[0].fabrics
    less = {key: x.buy - by_template[key].buy for key, x in ruled.plan()[0].fabrics.items()}
    told = {x["fabric"]: Fraction(x["less"]) for x in json.loads(cuts_json(ruled, ruled.plan()[0]))["byTemplates"]}
    saves = all(x >= 0 for x in less.values())
    assert told == {key: x.fraction for key, x in less.items() if x > 0 and saves}


def test_it_is_told_in_words() -> None:
    """110 wedges 4 x 6 in: one step less of either cloth."""
    found = wedges(4, 6, 10, 11)
    text = cuts_text(found, found.plan()[0])
    assert text.endswith(
        "wedge: cut by the ruler; method templates would take 1/8 yd less of Lamp and 1/8 yd less of Quay"
    )
    by_template = wedges(4, 6, 10, 11, "\n    method templates")
    assert "method templates would take" not in cuts_text(by_template, by_template.plan()[0])
