"""The cutting plan as data, of made patterns with scraps at hand and backings pieced from two cloths."""

from __future__ import annotations

import json
import random
import re

import jsonschema
import pytest

import patternkit
from patternkit.desk.cutting import cuts_text
from patternkit.desk.cutting_data import cuts_json
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of
from tests.desk.test_cutting_data import accounted, schema
from tests.generate import pattern

SCALE = {"cm": 5 / 2, "mm": 25}


def with_more(seed: int) -> str:
    """A made pattern whose fabrics have scraps by turns, whose backing has a strip, whose mitred strips are longer."""
    text, rng = pattern(seed), random.Random(seed)
    units = re.search(r"^    units (\w+)", text, re.M)
    scale = SCALE.get(units[1], 1) if units else 1
    fabrics = re.findall(r"^fabric (\S+)", text, re.M)

    def long(least: int, most: int) -> int:
        return int(rng.randint(least, most) * scale)

    def scraps(found: re.Match[str]) -> str:
        more = [f"    have {rng.randint(1, 4)} of {long(6, 20)} x {long(6, 30)}\n" for _ in range(rng.randint(0, 2))]
        return found[0] + "".join(more)

    text = re.sub(r"^fabric [^\n]*\n", scraps, text, flags=re.M)
    text = re.sub(
        r"^    backing (?![^\n]*(?:panels|measures|strip|from one length))[^\n]*",
        rf"\g<0>, strip {rng.choice(fabrics)}",
        text,
        flags=re.M,
    )
    return re.sub(r"^    border (?![^\n]*extra)[^\n]*mitred[^\n]*", rf"\g<0>, extra {long(2, 8)}", text, flags=re.M)


@pytest.mark.parametrize("seed", range(8))
def test_every_piece_is_cut_and_the_order_holds(seed: int) -> None:
    project = Project(f"made-{seed}.pattern", with_more(seed))
    if [p for p in patternkit.check(project) if not p.advice]:
        pytest.skip("a piece of it is too long for its cloth")
    plan, problems = project.plan(solver=False)
    assert problems == []
    found = json.loads(cuts_json(project, plan, 3))
    jsonschema.Draft202012Validator(schema()).validate(found)
    for fabric in found["fabrics"]:
        accounted(fabric)
    text = cuts_text(project, plan, 3)
    assert all(f"{f['title']} (" in text or ("backing" in f and f["title"] in text) for f in found["fabrics"])
    assert rehearse(*order_of(project)) == ()
