"""The reference page is true: its examples can be read, and it leaves out no word."""

from __future__ import annotations

import re

import pytest

from patternkit.syntax import words
from patternkit.syntax.format import format_text
from patternkit.syntax.grammar import grammar_folder

from .helpers import meaning, read

TEXT = (grammar_folder() / "reference.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```pattern\n(.*?)```", TEXT, re.S)


@pytest.mark.parametrize("example", EXAMPLES)
def test_examples_are_read_without_a_problem(example: str) -> None:
    assert read(example).problems == ()
    assert meaning(read(format_text(example))) == meaning(read(example))


@pytest.mark.parametrize("kind", words.KINDS)
def test_each_kind_has_its_section(kind: str) -> None:
    heading = "row, column, rows" if kind in words.ROW_KINDS else kind
    assert f"\n### {heading}\n" in TEXT


@pytest.mark.parametrize("word", sorted({word for place in words.PLACES.values() for word in place}))
def test_each_word_is_explained(word: str) -> None:
    assert re.search(rf"`[^`\n]*\b{re.escape(word.replace('usable-width', 'usable width'))}\b", TEXT)


@pytest.mark.parametrize("phrase", sorted({phrase for table in words.PHRASES.values() for phrase in table}))
def test_each_finishing_phrase_is_explained(phrase: str) -> None:
    assert re.search(rf"`[^`\n]*\b{phrase}\b", TEXT)


def test_links_lead_somewhere() -> None:
    headings = {
        re.sub(r"[^\w -]", "", h.lower()).replace(" ", "-") for h in re.findall(r"^## (.*)$", TEXT, re.M)
    }
    assert set(re.findall(r"\]\(#([^)]*)\)", TEXT)) <= headings
