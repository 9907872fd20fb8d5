"""Random patterns with known sizes: the checker finds them sound, and one wrong number in them with its
repair.

``PATTERNKIT_TREES=1000`` in the environment tries that many of each (60 without it).
"""

from __future__ import annotations

import os
from fractions import Fraction

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from patternkit.checks import run
from patternkit.problems import Problem
from patternkit.project import Project

from .pattern_trees import EIGHTH, Written, patterns, rank

MANY = settings(
    max_examples=int(os.environ.get("PATTERNKIT_TREES", "60")),
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
)
SIZES = {"seams-differ", "claim-differs", "finished-or-measures"}


def problems(text: str) -> list[Problem]:
    return [p for p in run(Project("tree.pattern", text), guarded=False) if not p.advice]


@given(patterns())
@MANY
def test_a_pattern_with_true_sizes_is_sound(written: Written) -> None:
    assume(written.all_known)
    assert problems(written.text) == []


@given(patterns(), st.data())
@MANY
def test_one_wrong_number_is_found_and_can_be_mended(written: Written, data: st.DataObject) -> None:
    twice = written.determined_twice()
    assume(twice and written.all_known)
    number = data.draw(st.sampled_from(twice))
    off = data.draw(st.integers(-40, 40).filter(bool)) * EIGHTH
    assume(number.value + off > Fraction(1, 2))
    wrong = written.with_number(number, number.value + off)
    told = problems(wrong)
    assert len(told) == 1 and told[0].code in SIZES, [p.message for p in told]
    # named among the causes: what is typed there is part of the explanation, and so is its repair
    named = [
        r for r in told[0].repairs if r.replacement is not None and r.span is not None and r.span.start == number.start
    ]
    assert named, (told[0].message, told[0].repairs)
    ends = [r.taken(wrong) for r in named if r.span is not None]
    assert written.text in ends
    assert problems(written.text) == []


@given(patterns(claims=False), st.data())
@MANY
def test_a_number_that_nothing_else_determines_is_believed(written: Written, data: st.DataObject) -> None:
    twice = {id(n) for n in written.determined_twice()}
    once = [n for n in written.numbers if id(n) not in twice]
    assume(once and written.all_known)
    number = data.draw(st.sampled_from(once))
    more = data.draw(st.integers(1, 40)) * EIGHTH
    told = problems(written.with_number(number, number.value + more))
    assert not [p for p in told if p.code in SIZES]


def test_the_second_opinion_counts_equations() -> None:
    assert rank([{"a": 1, "b": -1}, {"b": 1, "c": -1}, {"a": 1, "c": -1}]) == 2
    assert rank([{"a": 1}, {"b": 1}, {"a": 1, "b": 1, "c": -1}]) == 3
