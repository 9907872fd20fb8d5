"""Claims taken from the plan that a booklet prints are all accepted; each one changed by one is noticed, or it is
enough."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from fractions import Fraction

import pytest

from patternkit.checks import run
from patternkit.checks.claims.strip_needs import cloth_of, needs_of
from patternkit.lengths import Length
from patternkit.plan.model import FabricPlan
from patternkit.project import Project
from patternkit.units import Units, number
from tests.generate import pattern

CODES = ("pieces-differ", "pieces-more", "strips-differ", "strips-more", "every-thread", "strip-units-differ")
CODES = (*CODES, "strip-units-more")
Line = tuple[str, int]
"""A line with a place for its number, and the number."""


def pieces(found: FabricPlan, units: Units) -> Iterator[Line]:
    """The pieces of a fabric by their size."""
    sizes: dict[tuple[Length, Length], int] = {}
    for line in found.lines:
        short, long = sorted((line.cut.width, line.cut.height))
        flat = line.cut.then not in ("strip", "template", "bias") and not line.per_strip
        if flat and long != found.fabric.usable_width:
            sizes[short, long] = sizes.get((short, long), 0) + line.count
    for (short, long), n in sizes.items():
        yield f"cut {{}} of {number(short, units)} x {number(long, units)}", n


def strips(found: FabricPlan, units: Units) -> Iterator[Line]:
    """The strips of a fabric by their height."""
    heights: dict[Length, int] = {}
    for strip in found.plan.strips:
        if not strip.source and strip.kind != "along":
            height = Length(Fraction(strip.height) / found.scale)
            heights[height] = heights.get(height, 0) + strip.copies
    for height, n in heights.items():
        yield f"cut {{}} strips {number(height, units)}", n


def under(text: str, fabric: str, lines: list[str]) -> str:
    head = re.compile(rf"^fabric {re.escape(fabric)}\b.*$", re.M)
    return head.sub(lambda m: m.group() + "".join(f"\n    {line}" for line in lines), text, count=1)


def codes(text: str) -> set[str]:
    """What is said of counted cuts."""
    found = run(Project("p.pattern", text), sizes=False, guarded=False)
    assert [p for p in found if not p.advice and p.code not in CODES] == []
    return {p.code for p in found if p.code in CODES}


def enough(text: str, fabric: str) -> bool | None:
    """Whether a plan is found for the strips that are claimed; None where neither that nor a proof against it is."""
    project = Project("p.pattern", text)
    own = project.pattern.fabrics[fabric]
    cloth = cloth_of(own, project)
    cuts = [cut for line in own.cuts for cut in line.cuts]
    claimed = {cloth.whole(cut.width.value(project.pattern.parameters)): cut.count for cut in cuts}
    lines = [x for x in project.quick_plan[0].lines if x.fabric == fabric]
    return needs_of(lines, list(claimed), cloth, project).enough(claimed, cloth.kept)


@pytest.mark.parametrize("seed", [2, 4, 8, 9, 11, 16, 24])
def test_claims_of_made_patterns(seed: int) -> None:
    text = pattern(seed)
    base = Project("p.pattern", text)
    units, by_chance = base.pattern.settings.units, random.Random(seed)
    tried = 0
    for key, found in base.plan()[0].fabrics.items():
        whole = list(strips(found, units))
        if found.sheets is not None or any("about" in line for line, _ in whole):
            continue
        assert codes(under(text, key, [line.format(n) for line, n in whole])) == set(), (key, whole)
        own = [one for one in pieces(found, units) if "about" not in one[0]]
        for line, n in own[:2]:
            assert codes(under(text, key, [line.format(n)])) == set()
            assert codes(under(text, key, [line.format(n + 1)])) == {"pieces-more"}
            assert n == 1 or codes(under(text, key, [line.format(n - 1)])) == {"pieces-differ"}
            tried += 1
        if whole:
            at = by_chance.randrange(len(whole))
            more, fewer = (
                under(text, key, [line.format(n + (by if i == at else 0)) for i, (line, n) in enumerate(whole)])
                for by in (1, -1)
            )
            known = enough(under(text, key, [line.format(n) for line, n in whole]), key)
            assert "strips-more" in codes(more) or not known, (key, whole, at)
            if whole[at][1] > 1:
                assert codes(fewer) & {"strips-differ", "every-thread"} or enough(fewer, key) is not False, (
                    key,
                    whole,
                    at,
                )
            tried += 1
    assert tried > 1
