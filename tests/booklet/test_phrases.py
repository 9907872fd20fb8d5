"""Catalogues: the same phrases with the same places in every language, and every one of them can be
filled in."""

from __future__ import annotations

from fractions import Fraction
from string import Formatter
from typing import Any

import pytest
from jinja2 import meta, nodes

from patternkit.booklet.phrases import LANGUAGES, Phrases, catalogue
from patternkit.drawing.words import ENGLISH
from patternkit.lengths import Length
from patternkit.render.labels import ENGLISH as FRAME
from patternkit.units import CENTIMETRES, IMPERIAL

LENGTHS = ("len", "by", "bare", "fine", "yardage")


def flat(table: Any, before: str = "") -> dict[str, Any]:
    """A catalogue by dotted keys."""
    found: dict[str, Any] = {}
    for key, value in table.items():
        found |= flat(value, f"{before}{key}.") if isinstance(value, dict) else {before + key: value}
    return found


def places(text: str) -> set[str]:
    """The places of a drawing's or the frame's word."""
    return {name for _, name, _, _ in Formatter().parse(text) if name}


@pytest.mark.parametrize("language", [x for x in LANGUAGES if x != "en"])
def test_every_language_has_every_phrase_and_no_other(language: str) -> None:
    english = set(flat(catalogue("en"))) | {f"drawing.{key}" for key in ENGLISH}
    assert set(flat(catalogue(language))) == english


@pytest.mark.parametrize("language", [x for x in LANGUAGES if x != "en"])
def test_every_phrase_asks_for_the_same_values(language: str) -> None:
    phrases = Phrases("en", IMPERIAL)
    own = flat(catalogue(language))
    for key, text in flat(catalogue("en")).items():
        if isinstance(text, list):
            assert isinstance(own[key], list) and len(own[key]) == len(text), key
        elif key.startswith("words."):
            assert places(own[key]) == places(text), key
        else:
            asked = meta.find_undeclared_variables(phrases.environment.parse(text))
            assert meta.find_undeclared_variables(phrases.environment.parse(own[key])) <= asked, key
    for key, text in ENGLISH.items():
        assert places(own[f"drawing.{key}"]) == places(text), key


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_frame_of_the_booklet_has_all_its_words(language: str) -> None:
    words = Phrases(language, IMPERIAL).table("words")
    for key, text in FRAME.items():
        assert words[key] and places(words[key]) == places(text), key


def values_for(text: str, phrases: Phrases, n: int) -> dict[str, Any]:
    """A value of the right sort for each place of a phrase: a length where a filter of lengths is used."""
    tree = phrases.environment.parse(text)
    lengths: set[str] = set()
    for node in tree.find_all(nodes.Filter):
        if node.name in LENGTHS:
            lengths |= {x.name for x in (node.node, *node.args) if isinstance(x, nodes.Name)}
    texts = {x.node.name for x in tree.find_all(nodes.Filter) if x.name == "cap" and isinstance(x.node, nodes.Name)}
    return {
        name: Length(Fraction(21, 8)) if name in lengths else "a text" if name in texts else n
        for name in meta.find_undeclared_variables(tree)
    }


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("units", [IMPERIAL, CENTIMETRES], ids=["inches", "cm"])
def test_every_phrase_renders(language: str, units: Any) -> None:
    phrases = Phrases(language, units)
    for key, text in flat(catalogue(language)).items():
        if isinstance(text, str) and not key.startswith(("drawing.", "words.")):
            for n in (0, 1, 2):
                said = phrases.say(key, **values_for(text, phrases, n))
                assert "{{" not in said and "{%" not in said and "None" not in said, key


def test_lengths_are_printed_in_the_language() -> None:
    inches, metric = Phrases("en", IMPERIAL), Phrases("de", CENTIMETRES)
    assert inches.length(Length(Fraction(21, 8))) == "2 5/8 in"
    assert metric.length(Length(Fraction(100, 254)) * Fraction(5, 4)) == "1,25 cm"
    assert metric.by(Length(Fraction(100, 254)), Length(Fraction(250, 254))) == "1 x 2,5 cm"
    assert metric.row([Length(Fraction(150, 254)), Length(Fraction(100, 254))]) == "1,5; 1 cm"
    assert inches.yardage(Fraction(45)) == "1 1/4 yd" and metric.yardage(Fraction(1000, 254) * 12) == "1,2 m"


def test_a_rounded_number_never_looks_exact_but_in_a_converted_booklet() -> None:
    third = Length(Fraction(1, 3))
    assert Phrases("en", IMPERIAL).length(third) == "about 5/16 in"
    assert Phrases("de", CENTIMETRES).length(third) == "etwa 0,85 cm"
    assert Phrases("de", CENTIMETRES, converted=True).length(third) == "0,85 cm"
