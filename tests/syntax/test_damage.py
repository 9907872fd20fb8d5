"""Whatever is done to a file, reading it ends soon, loses nothing and raises nothing."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from patternkit.source import Source
from patternkit.syntax import parse
from patternkit.syntax import statements as st
from patternkit.syntax.format import format_text
from patternkit.syntax.layout import rows_of
from patternkit.syntax.shift import shift

from .files import files
from .helpers import meaning, read

SAMPLE = (Path(__file__).parent / "lantern.pattern").read_text(encoding="utf-8")
SNIPPETS = some.sampled_from(
    [
        "(",
        ")",
        '"',
        "“",
        "|",
        "<>",
        ",",
        "#",
        "# ",
        " ",
        "\t",
        "\n",
        "\r",
        "    ",
        "1/0",
        "9" * 14,
        "x",
        "turned",
        "½",
        "\u200b",
        "\ufeff",
        "\x00",
        "\U0001f9f5",
        "-",
        "=",
        "note\n",
        "rows\n",
        "((((",
        "é",
        "'",
        "%",
        "1e9",
    ]
)


@some.composite
def damaged(draw: some.DrawFn, text: str = SAMPLE) -> str:
    """A file after a few cuts, doublings and insertions."""
    for _ in range(draw(some.integers(1, 6))):
        at = draw(some.integers(0, len(text)))
        to = min(len(text), at + draw(some.integers(0, 40)))
        text = text[:at] + draw(some.sampled_from(["", text[at:to] * 2])) + draw(SNIPPETS) + text[to:]
    return text


def check(text: str) -> st.File:
    """Read a text and see that its rows are the whole text, its places lie inside, and each line has one
    problem."""
    started = time.process_time()
    file = parse("t", text)
    assert time.process_time() - started < 1
    assert "".join(text[r.start : r.stop] for r in rows_of(text)) == text
    source = Source("t", text)
    reported = []
    for problem in file.problems:
        assert problem.message and problem.code
        assert 0 <= problem.span.start <= problem.span.end <= len(text)
        reported.append(source.place(problem.span.start)[0])
    assert len(reported) == len(set(reported)), file.problems
    covered(file, text)
    return file


def covered(file: st.File, text: str) -> None:
    """What lies between the statements and comments of a file is white space, or the lines of refused
    ones."""
    ends = [0]

    def walk(nodes: tuple[st.Node | st.Trivia, ...]) -> None:
        for node in nodes:
            span = node.span if isinstance(node, st.Trivia) else node.statement.span
            gap = text[ends[0] : span.start]
            assert span.start >= ends[0]
            assert not gap.strip(" \t\r\n\u00a0\u200b\ufeff\x0b\x0c\x1c\x1d\x1e\x1f\x85\u2028\u2029"), gap
            ends[0] = span.end
            if isinstance(node, st.Node):
                if node.comment and not isinstance(
                    node.statement, st.Prose
                ):  # there it stands on the first line, inside
                    ends[0] = text.index(node.comment, span.end) + len(node.comment)
                walk(node.children)

    if not any(p.code == "too-much" for p in file.problems):
        walk(file.nodes)


@settings(max_examples=300, deadline=None)
@given(damaged())
def test_damaged_files(text: str) -> None:
    check(text)


@settings(max_examples=100, deadline=None)
@given(some.text(max_size=300))
def test_any_text(text: str) -> None:
    check(text)


@settings(max_examples=100, deadline=None)
@given(files().flatmap(damaged))
def test_damaged_files_of_every_form_can_be_formatted(text: str) -> None:
    file = check(text)
    done = format_text(text)
    assert format_text(done) == done
    again = read(done)
    if not file.problems:
        assert meaning(again) == meaning(file)
    assert len(again.problems) == len(file.problems)


@settings(max_examples=60, deadline=None)
@given(files(), some.integers(0, 50))
def test_a_line_known_already_is_the_same_elsewhere(text: str, blank: int) -> None:
    first = parse("one", text)
    moved = parse("two", "\n" * blank + text)
    assert moved.nodes[blank:] == shift(first.nodes, "two", blank)
    assert moved.problems == shift(first.problems, "two", blank)


@pytest.mark.parametrize(
    "text",
    [
        "unit u\n" + "    row a\n" * 15_000,
        "note\n" + "    words " * 90_000,
        "let a = " + "9" * 3_000,
        "\t" * 900_000,
        "(" * 4_000,
        "unit u\n    row " + "(" * 40 + "a" + ")" * 40,
        '"' * 3_999,
        "# " * 400_000,
        "-" * 4_000,
        "x " * 1_999,
        "1 " * 1_999,
        "fabric a " + "dark " * 700,
        "1/" * 1_999,
        "a-" * 1_999,
        "let a = " + "1 - " * 90 + "1",
        "\r" * 19_999,
    ],
)
def test_much_of_anything(text: str) -> None:
    started = time.process_time()
    parse("t", text)
    assert time.process_time() - started < 3
