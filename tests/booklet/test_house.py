"""A house's own phrases: taken phrase by phrase, and nothing they hold can do harm."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from patternkit.booklet.phrases import Phrases, catalogue
from patternkit.desk.house import house_phrases
from patternkit.drawing.look import Look
from patternkit.lengths import Length
from patternkit.problems import PatternError
from patternkit.units import IMPERIAL

HOSTILE = [
    "{{ ''.__class__.__mro__ }}",
    "{{ seams.__class__ }}",
    "{{ seams['__class__'] }}",
    "{% for i in range(1000000000) %}x{% endfor %}",
    "{{ range(100000)|list }}",
    "{{ 'x' * 1000000000 }}",
    "{{ seams ~ 'x' * 999999999 }}",
    "{{ 9 ** 9 ** 9 }}",
    "{{ 'x'|center(1000000000) }}",
    "{{ '%1000000000d' % 1 }}",
    "{{ how|attr('__class__') }}",
    "{{ how|map('upper')|list }}",
    "{% include '/etc/passwd' %}",
    "{% import 'os' as os %}",
    "{% extends 'base' %}",
    "{% macro m() %}{{ m() }}{% endmacro %}{{ m() }}",
    "{% set x = 1 %}{{ x }}",
    "{{ cycler('a').next() }}",
    "{{ lipsum(1000) }}",
    "{{ self.__init__.__globals__ }}",
    "{{ config }}",
    "{{ unclosed",
    "{% if how %}",
    "x" * 100_000,
    "{{ 'x' * 10**10 }}",
    "{{ 1e400|len }}",
    "{{ 1.5|len }}",
    "{{ 99999999999999999999|len }}",
    "{{ " + "1+" * 1500 + "1 }}",
    "{{ " + "not " * 900 + "1 }}",
    "{{ " + "(" * 1500 + "1" + ")" * 1500 + " }}",
]


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_phrases_are_refused_at_once_with_a_reason(text: str) -> None:
    start = time.process_time()
    for group, key in (("press", "all"), ("words", "as_written"), ("words", "and")):
        with pytest.raises(PatternError) as caught:
            Phrases("en", IMPERIAL, {group: {key: text}})
        problem = caught.value.problems[0]
        assert problem.code == "bad-phrase" and f"{group}.{key}" in problem.message
    assert time.process_time() - start < 1


@pytest.mark.parametrize("language", ["en", "de"])
def test_all_own_phrases_would_be_taken_from_a_house(language: str) -> None:
    """The guard refuses nothing that the booklet itself says."""
    house = catalogue(language)
    assert Phrases(language, IMPERIAL, house).has("press.all")


@pytest.mark.parametrize(
    "text", ["{name.__class__}", "{name!r}", "{name:>999999999}", "{other}", "{", "{0}", "{name[0]}"]
)
def test_hostile_words_of_drawings_are_refused(text: str) -> None:
    with pytest.raises(PatternError) as caught:
        Phrases("en", IMPERIAL, {"drawing": {"making.title": text}})
    assert "drawing.making.title" in caught.value.problems[0].message


def test_a_house_changes_one_phrase_and_keeps_the_rest() -> None:
    mine = Phrases("en", IMPERIAL, {"press": {"all": "Iron the {{ seams }} {{ how|upper }}!"}})
    plain = Phrases("en", IMPERIAL)
    assert mine.say("press.all", seams="seams", how="open") == "Iron the seams OPEN!"
    assert mine.say("press.border") == plain.say("press.border")


def test_a_house_may_choose_with_if_and_print_lengths() -> None:
    mine = Phrases("en", IMPERIAL, {"cutting": {"strip": "{% if n > 1 %}{{ n }} x{% endif %} {{ h|len }}"}})
    assert mine.say("cutting.strip", n=2, h=Length(3)) == "2 x 3 in"


def test_words_of_drawings_can_be_changed() -> None:
    mine = Phrases("en", IMPERIAL, {"drawing": {"segment": "piece of {size}"}})
    assert Look(words=mine.table("drawing")).render("segment", size="2 in") == "piece of 2 in"


def test_every_mistake_is_told_in_one_go_with_what_was_meant() -> None:
    house = {
        "pres": {"all": "x"},
        "press": {"all": "{{ colour }}"},
        "buy": {"heads": ["one"]},
        "check": {"intro": 7},
    }
    with pytest.raises(PatternError) as caught:
        Phrases("en", IMPERIAL, house)
    told = [p.message for p in caught.value.problems]
    assert len(told) == 4
    assert "Did you mean press.all?" in told[0]
    assert "asks for colour, and is given how, seams" in told[1]
    assert "a list of 4 texts" in told[2] and "must be a text" in told[3]


def test_a_folder_without_the_language_says_what_it_has(tmp_path: Path) -> None:
    (tmp_path / "en.toml").write_text('[press]\nall = "Iron it."\n', encoding="utf-8")
    assert house_phrases(tmp_path, "en") == {"press": {"all": "Iron it."}}
    assert house_phrases(None, "en") is None
    with pytest.raises(PatternError) as caught:
        house_phrases(tmp_path, "de")
    assert "no de.toml" in caught.value.problems[0].message and "en.toml" in caught.value.problems[0].causes[0]
    with pytest.raises(PatternError):
        house_phrases(tmp_path / "missing", "en")


@pytest.mark.parametrize("data", [b"not = [toml", b"\xff\xfe\x00", b"a" * 300_000, b"[" * 5000], ids=range(4))
def test_a_broken_file_of_phrases_is_a_problem_and_no_traceback(tmp_path: Path, data: bytes) -> None:
    (tmp_path / "en.toml").write_bytes(data)
    with pytest.raises(PatternError) as caught:
        house_phrases(tmp_path, "en")
    assert str(tmp_path / "en.toml") in caught.value.problems[0].message
