"""Made patterns hold everything that the language has, are sound, and go through every room."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings

from patternkit import api
from patternkit.piecing.asking import method_words
from patternkit.piecing.kinds import kinds
from patternkit.project import Project
from patternkit.syntax.format import format_text
from patternkit.syntax.words import LAID_SHAPES

from . import FEATURES, patterns, problems, write
from .coverage import held, wanted
from .kinds import MAKERS
from .sound import tried

SEEDS = range(160)
WRITTEN = range(0, 160, 8)  # those of which a booklet is written, in all sizes and colourways


CLAIMS = {
    *(("phrase", "backing", "measures"), ("phrase", "batting", "cut"), ("phrase", "border", "strips")),
    *(("phrase", "border", "sides cut"), ("phrase", "border", "top cut"), ("phrase", "sashing", "strips")),
    *(("phrase", "sleeve", "strips"), ("statement", "fabric", "cut"), ("statement", "unit", "strip-units")),
}
"""Numbers that only a plan knows: tests/claims takes them from the plans of made patterns, right and wrong by one."""
ELSEWHERE: set[tuple[str, ...]] = {
    *(("phrase", "backing", "envelope"), ("phrase", "backing", "overlap"), ("phrase", "prairie-points", "across")),
    *(("phrase", "prairie-points", "down"), ("statement", "quilt", "prairie-points"), ("statement", "quilt", "also")),
    ("kind", "drawing"),  # needs a second file
    ("method", "patch", "oversize"),
    *(("method", "drawing", way) for way in ("needle-turn", "raw edge", "fused")),
    ("method", "strips", "paired with"),
    *(("statement", "quilt", "facing"), ("statement", "quilt", "flange"), ("statement", "unit", "also")),
    ("statement", "quilt", "piping"),
}
"""Forms that made patterns do not hold yet; each has tests of its own, and an example or a page that is checked."""


NEWER = {"patch": {"fussy cut", "oversize"}, "strips": {"strips cut across", "tube", "paired with"}}
"""Methods that are put into a pattern once it is written."""


def test_every_kind_has_something_that_writes_it() -> None:
    laid = {*LAID_SHAPES, "plate"}  # laid on blocks that are made already
    assert set(MAKERS) | laid == set(kinds())
    for word, kind in kinds().items():
        if word in laid:
            continue
        said = {m.removesuffix(" oversize") for m in MAKERS[word].methods} | set(MAKERS[word].methods)
        said |= {word}  # the plain way, which needs no line
        said |= NEWER.get(word, set())
        assert set(method_words(kind)) <= said, f"a method of {word} is never written"


def test_the_patterns_are_sound_and_hold_all_of_the_language() -> None:
    found: set[tuple[str, ...]] = set()
    again = 0
    for seed in SEEDS:
        text, attempts = tried(seed)
        again += attempts > 0
        found |= held(text)
    assert sorted(wanted() - found) == sorted(CLAIMS | ELSEWHERE)
    assert again <= len(SEEDS) // 20, "hardly ever should other numbers be needed"


def test_a_seed_makes_one_pattern() -> None:
    assert [write(s) for s in range(20)] == [write(s) for s in range(20)]
    assert len({write(s) for s in range(50)}) == 50
    assert write(11) != write(11, attempt=1)


def test_a_pattern_without_features_is_a_plain_quilt() -> None:
    text = write(3, features=frozenset())
    assert not problems(text)
    assert len(held(text)) < len(held(write(3, features=frozenset(FEATURES))))


@pytest.mark.parametrize("seed", range(0, 160, 3))
def test_the_formatter_comes_to_rest(seed: int) -> None:
    once = format_text(write(seed))
    assert format_text(once) == once
    assert held(once) >= held(write(seed))  # more where a line is put in the language's own order


@pytest.mark.parametrize("seed", WRITTEN)
def test_a_pattern_goes_through_every_room(seed: int) -> None:
    project = Project("made.pattern", tried(seed)[0])
    for size in ("", *(s.name for s in project.pattern.sizes)):
        for way in ("", *(c.name for c in project.pattern.colourways)):
            at = project.in_size(size, way)
            assert at.top is not None
            assert not [p for p in at.plan(solver=False)[1] if not p.advice]
    files = api.files(project, formats=("md",))
    assert len(files["made.md"]) > 1000


@given(patterns(frozenset(FEATURES) - {"heads", "sizes", "colourways"}))
@settings(max_examples=15, suppress_health_check=list(HealthCheck), deadline=None)
def test_patterns_drawn_by_features_are_sound(text: str) -> None:
    assert "quilt" in text and not problems(text)
