"""Markdown: a snapshot, text that stays text, links that lead only to safe places."""

from __future__ import annotations

import re
from pathlib import PurePosixPath
from xml.etree import ElementTree

from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from markdown_it.token import Token
from syrupy.assertion import SnapshotAssertion

from patternkit import render
from patternkit.document import Booklet, Bullets, Paragraph, Rich, Section
from patternkit.render.md_text import escaped
from patternkit.render.names import plain

READER = MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"])


def tokens(text: str) -> list[Token]:
    """All tokens, inline ones too, by a reader that lets raw HTML through."""
    found: list[Token] = []
    todo = list(READER.parse(text))
    while todo:
        token = todo.pop(0)
        found.append(token)
        todo[:0] = token.children or []
    return found


def booklet_of(*blocks: object) -> Booklet:
    return Booklet("T", "", "", None, (), (Section("a", "A", blocks),))  # type: ignore[arg-type]


def test_snapshot(rich_booklet: Booklet, snapshot: SnapshotAssertion) -> None:
    assert render.markdown(rich_booklet) == snapshot


def test_every_drawing_named_is_a_file_and_every_file_is_named(rich_booklet: Booklet) -> None:
    named = set(re.findall(r"\]\((drawings/[^)]+)\)", render.markdown(rich_booklet)))
    files = render.drawing_files(rich_booklet)
    assert named == set(files) and len(named) > 6
    for svg in files.values():
        root = ElementTree.fromstring(svg)
        assert root.find("{http://www.w3.org/2000/svg}title") is not None


@settings(max_examples=150, deadline=None)
@given(st.text(alphabet=st.sampled_from(list("ab1 .)*_-+#>`~[]()<>&!|\\=:;/\"'\té¼\n")), max_size=30))
def test_plain_text_stays_plain(text: str) -> None:
    shown = plain(text)
    read = tokens(escaped(text))
    assert "".join(t.content for t in read if t.type in ("text", "text_special")) == shown
    kinds = {t.type for t in read}
    assert kinds <= {"paragraph_open", "paragraph_close", "inline", "text", "text_special"}


@settings(max_examples=100, deadline=None)
@given(st.text(alphabet=st.sampled_from(list("ab1 .*_-#>`[]()<>&!|\\\n")), max_size=40))
def test_the_writers_text_never_becomes_html(text: str) -> None:
    read = tokens(render.markdown(booklet_of(Rich(text))))
    assert not {t.type for t in read} & {"html_block", "html_inline", "image"}


def test_the_writers_own_markup_survives() -> None:
    source = (
        "One **strong** and *leaning* `code`, [a link](https://saltmarsh.example/x).\n\n"
        "1. first\n2. second\n   - inner\n\n> said\n\n| a | b |\n| --- | --- |\n| 1 | 2 |"
    )
    wanted = [t.type for t in tokens(source) if t.type != "text"]
    written = render.markdown(booklet_of(Rich(source))).split("## A\n\n")[1]
    assert [t.type for t in tokens(written) if t.type != "text"] == wanted


def test_hostile_text_is_harmless(hostile_booklet: Booklet) -> None:
    text = render.markdown(hostile_booklet)
    read = tokens(text)
    assert not {t.type for t in read} & {"html_block", "html_inline"}
    links = {str(t.attrs["href"]) for t in read if t.type == "link_open"}
    assert all(link.startswith(("https://saltmarsh.example/", "#")) for link in links), links
    assert "https://saltmarsh.example/a?b=1&c=%3C2%3E" in links
    images = {str(t.attrs["src"]) for t in read if t.type == "image"}
    assert images and all(PurePosixPath(src).parts[0] == "drawings" and ".." not in src for src in images)
    assert all(".." not in path for path in render.drawing_files(hostile_booklet))
    assert "A" * 1000 not in text  # the enormous picture is gone
    text.encode("utf-8")  # no half of a surrogate pair is left


def test_a_list_item_can_start_with_anything() -> None:
    text = render.markdown(booklet_of(Bullets(("# a", "- b", "1. c", "")), Paragraph("+ d")))
    assert [t.type for t in tokens(text)].count("list_item_open") == 4
    assert "heading_open" not in [t.type for t in tokens(text.split("## A")[1])]
