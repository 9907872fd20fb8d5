"""Words and files that nothing can be made of are refused in words, at once."""

from __future__ import annotations

import os
import threading
from pathlib import Path

import pytest

from patternkit.booklet.content.context import context
from patternkit.checks import run
from patternkit.desk.asked import LANGUAGES as ASKED
from patternkit.desk.files import read_text
from patternkit.model.settings import LANGUAGES
from patternkit.problems import PatternError
from patternkit.project import Project

BODY = "fabric tar\nunit u\n    patch tar 4\nquilt\n    layout\n        u\n"


@pytest.mark.parametrize(
    "language, sound", [("de", True), ("en-gb", True), ("De-AT", True), ("fr", False), ("enn", False)]
)
def test_a_language_without_booklets_is_refused(language: str, sound: bool) -> None:
    text = f'pattern "L"\n    language {language}\n{BODY}'
    problems = [p for p in run(Project("l.pattern", text), guarded=False) if not p.advice]
    assert (not problems) == sound
    if not sound:
        assert language in problems[0].message and problems[0].span.start == text.index("language")


def test_a_region_keeps_its_language() -> None:
    text = f'pattern "L"\n    language De-AT\n{BODY}'
    assert context(Project("l.pattern", text), solver=False).phrases.language == "de"


def test_the_languages_of_files_are_those_of_booklets() -> None:
    assert tuple(LANGUAGES) == ASKED


def test_a_number_belongs_to_the_pattern() -> None:
    text = BODY.replace("fabric tar\n", 'fabric tar\n    number "SM-31"\n')
    (problem,) = run(Project("n.pattern", text), guarded=False)
    assert problem.code == "wrong-place" and "`pattern`" in " ".join(problem.causes)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_is_no_file_to_wait_for(tmp_path: Path) -> None:
    path = tmp_path / "pipe.pattern"
    os.mkfifo(path)
    found: list[str] = []

    def read() -> None:
        try:
            read_text(path)
        except PatternError as error:
            found.extend(p.message for p in error.problems)

    reader = threading.Thread(target=read, daemon=True)
    reader.start()
    reader.join(10)
    assert found == [f"{path} can't be read: it is not a file."]
