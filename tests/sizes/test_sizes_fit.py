"""Fitting a quilt to a size, against trying every choice."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.lengths import Length
from patternkit.sizes.fit import FitChoice, Size, fit, steps

NOW = {"across": Length(5), "down": Length(7), "side": Length(9), "border": Length(4)}


def quilt(c: Mapping[str, Length]) -> Size | None:
    """Blocks with a border all round; a border wider than a block can't be made here."""
    if c["border"] > c["side"]:
        return None
    return c["across"] * c["side"] + 2 * c["border"], c["down"] * c["side"] + 2 * c["border"]


@given(st.integers(20, 110), st.integers(20, 110))
@settings(max_examples=12, deadline=None)
def test_the_best_of_all_choices_is_found(width: int, height: int) -> None:
    options = [
        FitChoice("across", steps(1, 9), "width"),
        FitChoice("down", steps(1, 9), "height"),
        FitChoice("side", (*steps(6, 12, 2), NOW["side"])),
        FitChoice("border", steps(2, 8, 2)),
    ]
    found = fit((Length(width), Length(height)), NOW, options, quilt)
    assert found.complete and found.ranked
    best = None
    for values in product(*(o.values for o in options)):
        size = quilt(dict(zip(NOW, values, strict=True)))
        if size is not None:
            miss = abs(size[0] - width) + abs(size[1] - height)
            best = miss if best is None or miss < best else best
    assert found.ranked[0].miss == best
    misses = [f.miss for f in found.ranked]
    assert misses == sorted(misses)
    for f in found.ranked:
        assert quilt(f.choices) == (f.width, f.height)
        assert f.miss == abs(f.width - width) + abs(f.height - height)
        assert f.over == (f.width - width, f.height - height)
        assert set(f.changed) == {n for n in NOW if f.choices[n] != NOW[n]}


def test_among_equals_the_least_change_comes_first() -> None:
    options = [
        FitChoice("across", steps(1, 20), "width"),
        FitChoice("down", steps(1, 20), "height"),
        FitChoice("side", steps(4, 16, Fraction(1, 2)), weight=2),
        FitChoice("border", steps(1, 8, Fraction(1, 4))),
    ]
    found = fit((Length(60), Length(80)), NOW, options, quilt)
    first = found.ranked[0]
    assert first.width == 60 and first.height == 80 and first.changed == ("side", "border")
    assert not found.complete and found.tried <= 6000
    # what changes one thing only is offered too, with what it misses by
    assert any(len(f.changed) == 1 for f in found.ranked)


def test_nothing_to_do_is_said_first() -> None:
    now = quilt(NOW)
    assert now is not None
    options = [FitChoice("across", steps(1, 9), "width"), FitChoice("down", steps(1, 9), "height")]
    found = fit(now, NOW, options, quilt)
    assert found.ranked[0].changed == () and found.ranked[0].miss == 0 and len(found.ranked) == 1


def test_the_budget_bounds_how_often_the_size_is_asked_for() -> None:
    asked = 0

    def counting(c: Mapping[str, Length]) -> Size | None:
        nonlocal asked
        asked += 1
        return quilt(c)

    found = fit(
        (Length(61), Length(83)),
        NOW,
        [
            FitChoice("side", steps(1, 30)),
            FitChoice("border", steps(1, 30)),
            FitChoice("across", steps(1, 30)),
            FitChoice("down", steps(1, 30)),
        ],
        counting,
        budget=100,
    )
    assert asked <= 100 and not found.complete and found.ranked


def test_what_cannot_be_made_is_not_offered() -> None:
    found = fit((Length(60), Length(80)), NOW, [FitChoice("border", steps(8, 20))], quilt)
    assert all(f.choices["border"] <= 9 for f in found.ranked)
