"""The reference page is true: its examples can be read, and it leaves out no word."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from patternkit.checks import run
from patternkit.project import Project
from patternkit.syntax import words
from patternkit.syntax.format import format_text
from patternkit.syntax.grammar import grammar_folder

from ..pictured import PICTURES, _read, asked, small, wanted, whole
from .helpers import meaning, read

TEXT = (grammar_folder() / "reference.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```pattern\n(.*?)```", TEXT, re.S)
SHOWN = {name for name, _, _ in asked(TEXT)}


@pytest.mark.parametrize("example", EXAMPLES)
def test_examples_are_read_without_a_problem(example: str) -> None:
    assert read(example).problems == ()
    assert meaning(read(format_text(example))) == meaning(read(example))


KNOWING = ("unknown-name", "cannot-include", "size-unknown", "wrong-arguments", "print-extra-missing")
"""What is said of a stretch of a file that leaves out what it speaks of."""


@pytest.mark.parametrize("example", EXAMPLES)
def test_examples_add_up(example: str) -> None:
    project = Project("t.pattern", whole(example), reader=_read)
    told = [p for p in run(project) if not p.advice]
    assert [p for p in told if p.code not in KNOWING] == []
    if "\n    by" in example or "finished" in example:  # a stretch that is whole as it stands
        assert [p for p in told if p.code == "size-unknown"] == []


@pytest.mark.parametrize("kind", words.KINDS)
def test_each_kind_has_its_section(kind: str) -> None:
    heading = "row, column, rows" if kind in words.ROW_KINDS else kind
    assert f"\n### {heading}\n" in TEXT


@pytest.mark.parametrize("kind", words.KINDS)
def test_each_kind_is_shown(kind: str) -> None:
    assert ("rows" if kind in words.ROW_KINDS else kind) in SHOWN


def test_each_picture_is_found_at_the_beginning() -> None:
    assert small(TEXT) == set(SHOWN)


def test_the_pictures_are_those_that_are_drawn_today() -> None:
    now = dict(wanted())
    old = [path.stem for path, svg in now.items() if not path.is_file() or path.read_text("utf-8") != svg]
    assert (old, set(PICTURES.rglob("*.svg")) - set(now)) == ([], set()), "python -m tests.pictured draws them"


@pytest.mark.parametrize("word", sorted({word for place in words.PLACES.values() for word in place}))
def test_each_word_is_explained(word: str) -> None:
    spelled = re.escape(word).replace(r"\-", "[ -]")  # some are written with a space
    assert re.search(rf"`[^`\n]*\b{spelled}\b", TEXT)


@pytest.mark.parametrize("phrase", sorted({phrase for table in words.PHRASES.values() for phrase in table}))
def test_each_finishing_phrase_is_explained(phrase: str) -> None:
    assert re.search(rf"`[^`\n]*\b{phrase}\b", TEXT)


def test_links_lead_somewhere() -> None:
    headings = {re.sub(r"[^\w -]", "", h.lower()).replace(" ", "-") for h in re.findall(r"^#{2,3} (.*)$", TEXT, re.M)}
    assert set(re.findall(r"\]\(#([^)]*)\)", TEXT)) <= headings
    for page in re.findall(r"\]\((units/[^)]*)\)", TEXT):
        assert (grammar_folder() / page).is_file(), page


@pytest.mark.parametrize("page", sorted((grammar_folder() / "units").glob("*.md")), ids=lambda p: p.stem)
def test_each_page_of_a_unit_is_linked(page: Path) -> None:
    assert f"(units/{page.name})" in TEXT
