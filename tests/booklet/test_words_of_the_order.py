"""What the booklet tells is what the making order holds: its numbers and pieces, and how seams are pressed, once."""

from __future__ import annotations

import re

import pytest

from patternkit.booklet.phrases import LANGUAGES, Phrases
from patternkit.units import IMPERIAL

DIRECTIONS = {
    "en": re.compile(r"press\w*\b[^.;:]*\b(out|outward|inward|open|toward|away|to one side|up|down)\b"),
    "de": re.compile(r"\b(außen|innen|auseinander|auseinanderbügeln|umbügeln|hin|weg|oben|unten)\b[^.;:]*bügeln"),
}


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_phrase_of_a_method_says_a_direction_of_pressing(language: str) -> None:
    """The pressing plan alone says it, so that no step says it twice and differently."""
    told = Phrases(language, IMPERIAL).table("method")
    wrong = {key: text for key, text in told.items() if DIRECTIONS[language].search(text)}
    assert not wrong
    assert DIRECTIONS["en"].search("trim and press the corner out") and DIRECTIONS["de"].search("nach außen bügeln")
