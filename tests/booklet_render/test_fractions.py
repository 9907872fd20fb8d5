"""Fractions in the drawings of the paper booklet: set as the page about them sets its own, and still plain text."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from patternkit.booklet.document import Drawing
from patternkit.booklet.render.svgclean import inline_svg

TSPAN = "{http://www.w3.org/2000/svg}tspan"


def label(text: str, fractions: bool = True) -> ElementTree.Element:
    """The one text of a drawing, as it is written for the page."""
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 99 99"><text font-size="8" x="1" y="9">{text}</text></svg>'
    root = ElementTree.fromstring(inline_svg(Drawing("a", svg, "A", "", 99, 99), "a", described=False, fractions=fractions))
    return root[0]


@pytest.mark.parametrize("text", ["trim to 4 1/2 x 2 1/2 in", "1/4", "goose: 6, 5 11/16 in &lt;", "31 1/4, 3 1/32 in"])
def test_a_fraction_has_small_figures_the_first_raised_and_the_line_goes_on_level(text: str) -> None:
    told = label(text)
    assert "".join(told.itertext()) == text.replace("&lt;", "<")
    spans = list(told.iter(TSPAN))
    assert len(spans) == 3 * text.count("/")
    for over, slash, under in zip(spans[::3], spans[1::3], spans[2::3], strict=True):
        assert slash.text == "/" and over.text and under.text
        assert over.get("font-size") == under.get("font-size") and 5 <= float(over.get("font-size", "0")) < 8
        assert float(over.get("dy", "0")) < 0
        assert float(over.get("dy", "0")) + float(slash.get("dy", "0")) == 0 and under.get("dy") is None


@pytest.mark.parametrize("text", ["2026/11/25", "and/or", "a1/2", "10", "7 / 8"])
def test_what_is_no_fraction_stays_as_it_is(text: str) -> None:
    told = label(text)
    assert told.text == text and not list(told)


def test_only_where_it_is_asked_for() -> None:
    told = label("1/2 in", fractions=False)
    assert told.text == "1/2 in" and not list(told)
