"""The web page: valid, safe, in order, the same in every run."""

from __future__ import annotations

import re
import time
from itertools import pairwise
from xml.etree import ElementTree

import html5lib  # type: ignore[import-untyped]
import pytest
from syrupy.assertion import SnapshotAssertion

from patternkit import render
from patternkit.document import Booklet, Drawing, Figure, Section, Table
from patternkit.problems import PatternError
from patternkit.render.svgclean import inline_svg

XHTML = "{http://www.w3.org/1999/xhtml}"
SVG = "{http://www.w3.org/2000/svg}"


def parsed(page: str) -> ElementTree.Element:
    """The page by a strict HTML5 parser: the first mistake raises."""
    tree: ElementTree.Element = html5lib.HTMLParser(strict=True).parse(page)
    return tree


def test_snapshot(rich_booklet: Booklet, snapshot: SnapshotAssertion) -> None:
    page = render.html(rich_booklet)
    body = page.split("<body>")[1]
    assert re.sub(r"<svg.*?</svg>", "<svg/>", body, flags=re.DOTALL) == snapshot


def test_valid_and_the_same_twice(rich_booklet: Booklet) -> None:
    page = render.html(rich_booklet)
    parsed(page)
    assert page == render.html(rich_booklet)


def test_headings_go_down_one_level_at_a_time(rich_booklet: Booklet) -> None:
    levels = [int(n) for n in re.findall(r"<h([1-6])", render.html(rich_booklet))]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(b <= a + 1 for a, b in pairwise(levels))


def test_ids_are_unique_and_every_reference_has_its_target(rich_booklet: Booklet) -> None:
    tree = parsed(render.html(rich_booklet))
    ids = [e.get("id") for e in tree.iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    wanted = {e.get("href", "")[1:] for e in tree.iter(XHTML + "a") if e.get("href", "").startswith("#")}
    wanted |= {name for e in tree.iter() for name in (e.get("aria-labelledby") or "").split()}
    wanted |= set(re.findall(r"url\(#([\w-]+)\)", render.html(rich_booklet)))
    assert wanted <= set(ids) and len(wanted) > 20


def test_tables_have_captions_and_scoped_heads(rich_booklet: Booklet) -> None:
    tables = list(parsed(render.html(rich_booklet)).iter(XHTML + "table"))
    assert len(tables) == 4
    for table in tables:
        assert table.find(XHTML + "caption") is not None
        heads = table.findall(f"{XHTML}thead/{XHTML}tr/{XHTML}th")
        assert heads and all(h.get("scope") == "col" for h in heads)


def test_every_drawing_says_what_it_shows(rich_booklet: Booklet) -> None:
    drawings = list(parsed(render.html(rich_booklet)).iter(SVG + "svg"))
    named = [d for d in drawings if d.get("role") == "img"]
    assert len(named) > 10
    for drawing in named:
        title, description = drawing.findtext(SVG + "title"), drawing.findtext(SVG + "desc")
        assert title and description


def test_nothing_is_fetched_and_nothing_runs(rich_booklet: Booklet, hostile_booklet: Booklet) -> None:
    for booklet in (rich_booklet, hostile_booklet):
        page = render.html(booklet)
        tree = parsed(page)
        for element in tree.iter():
            tag = str(element.tag).rpartition("}")[2]
            assert tag not in {
                "script",
                "img",
                "image",
                "link",
                "iframe",
                "object",
                "embed",
                "form",
                "foreignObject",
            }
            for key, value in element.attrib.items():
                assert not key.lower().startswith("on"), (tag, key)
                if key.rpartition("}")[2] in ("href", "src"):
                    assert value.startswith(("#", "https://saltmarsh.example/")), (tag, value)
                assert "tracker.example" not in value
        assert "tracker.example" not in "".join(s.text or "" for s in tree.iter(SVG + "style"))
        assert "A" * 1000 not in page
        page.encode("utf-8")


def test_hostile_text_is_shown_as_it_was_typed(hostile_booklet: Booklet) -> None:
    words = "".join(parsed(render.html(hostile_booklet)).itertext())
    assert "<script>window.pwned=1</script>" in words
    assert '#read("/etc/passwd")' in words and "{{ 7*7 }}" in words


def test_a_broken_drawing_is_a_problem_in_words() -> None:
    for svg in ("<svg", "", '<!DOCTYPE svg [<!ENTITY a "aaaa">]><svg>&a;</svg>'):
        drawing = Drawing("d", svg, "Star block", "", 10, 10)
        with pytest.raises(PatternError) as caught:
            render.html(Booklet("T", "", "", None, (), (Section("a", "A", (Figure((drawing,)),)),)))
        assert caught.value.problems[0].code == "drawing-unreadable"
        assert "Star block" in str(caught.value)


def test_a_drawings_style_sheet_holds_for_that_drawing_only() -> None:
    svg = '<svg xmlns="http://www.w3.org/2000/svg"><style>.a, text { fill: red }</style><g class="a"/></svg>'
    assert "#n .a, #n text { fill: red }" in inline_svg(Drawing("d", svg, "t", "d", 1, 1), "n")


def test_uneven_rows_and_empty_heads_do_not_break_a_table() -> None:
    table = Table("Sizes", ("", "Small"), (("Width", "60 in"), ("", "72 in")), "lr")
    page = render.html(Booklet("T", "", "", None, (), (Section("a", "A", (table,)),)))
    parsed(page)
    assert "<td></td>" in page and '<th scope="row" class="short">Width</th>' in page


def test_quick(rich_booklet: Booklet) -> None:
    from patternkit.bench.booklet import sample

    booklet = sample()
    start = time.process_time()
    render.html(booklet)
    assert time.process_time() - start < 0.5
