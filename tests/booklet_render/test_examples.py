"""Booklets of real examples: pages that hold together on paper, and pages that every browser can read."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import html5lib  # type: ignore[import-untyped]
import pikepdf
import pytest

from patternkit import render
from patternkit.document import Booklet, Drawing, Figure, NumberedStep, Section
from tests.booklet.conftest import EXAMPLES, MARSH, made

from .pdf_text import filled, structure, words_of

WEB = tuple(
    p
    for p in (*EXAMPLES, MARSH)
    if p.stem in ("tide-star", "harbour-chain", "moons", "economy", "nine-patch-on-point", "groyne-runner", "marsh")
)
PAPER = (*EXAMPLES, MARSH)


@cache
def page(path: Path) -> str:
    return render.html(made(path))


@cache
def printed(path: Path) -> bytes:
    pytest.importorskip("typst", reason='the extra "print" is not installed')
    return render.pdf(made(path))


def sections(booklet: Booklet) -> Iterator[Section]:
    """All sections, those within others too."""
    waiting = list(booklet.sections)
    while waiting:
        section = waiting.pop(0)
        yield section
        waiting += [b for b in section.blocks if isinstance(b, Section)]


def steps(booklet: Booklet) -> list[NumberedStep]:
    return [b for s in sections(booklet) for b in s.blocks if isinstance(b, NumberedStep)]


@pytest.mark.parametrize("path", WEB, ids=lambda p: p.stem)
def test_html_parses_strictly(path: Path) -> None:
    tree = html5lib.HTMLParser(strict=True).parse(page(path))
    ids = [e.get("id") for e in tree.iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    wanted = {e.get("href")[1:] for e in tree.iter() if (e.get("href") or "").startswith("#")}
    assert wanted and wanted <= set(ids)


@pytest.mark.parametrize("path", WEB, ids=lambda p: p.stem)
def test_axe_finds_nothing_in_an_example(path: Path, browser: Any, tmp_path: Path) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe-playwright-python is missing")
    file = tmp_path / "page.html"
    file.write_text(page(path), encoding="utf-8")
    context = browser.new_context(bypass_csp=True, viewport={"width": 1200, "height": 900})
    tab = context.new_page()
    tab.goto(file.as_uri())
    for width in (1200, 380):
        tab.set_viewport_size({"width": width, "height": 900})
        assert tab.evaluate("document.documentElement.scrollWidth") <= width + 1
    results = axe.Axe().run(tab)  # at the narrow width, where more can go wrong
    assert results.violations_count == 0, results.generate_report()
    context.close()


@pytest.mark.parametrize("path", PAPER, ids=lambda p: p.stem)
def test_no_page_ends_with_a_heading(path: Path) -> None:
    booklet = made(path)
    headings = {s.title for s in sections(booklet)} | {s.title for s in steps(booklet)}
    frame = re.compile(r"Page \d+ of \d+")
    seen = 0
    for text in words_of(printed(path))[1:]:  # after the cover
        lines = [x.strip() for x in text.splitlines() if x.strip() and not frame.search(x)]
        lines = [x for x in lines if x != booklet.title]
        if lines:
            seen += 1
            last = re.sub(r"^Step \d+ ", "", lines[-1])
            assert last not in headings, f"page {seen + 1} ends with {last!r}"
    assert seen > 3


@pytest.mark.parametrize("path", PAPER, ids=lambda p: p.stem)
def test_every_step_stands_on_one_page_with_its_drawings(path: Path) -> None:
    booklet = made(path)
    every = {s.number: s for s in steps(booklet)}
    found: dict[int, set[int]] = {}
    with pikepdf.open(io.BytesIO(printed(path))) as document:
        pages = {p.obj.objgen: i for i, p in enumerate(document.pages, 1)}
        number, drawn = 0, set[str]()
        for element in structure(document.Root.StructTreeRoot):
            if re.fullmatch(r"/H\d", str(element.S)):
                step = re.match(r"Step (\d+)", str(element.get("/T", "")))
                number = int(step[1]) if step else 0
                drawn = {d.title for d in drawings(every[number])} if step else set()
            own = str(element.S) == "/Figure" and str(element.get("/Alt", "")).startswith(tuple(drawn))
            if number and (own or re.fullmatch(r"/H\d", str(element.S))):
                found.setdefault(number, set()).add(pages[element.Pg.objgen])
    assert len(found) == len(every)
    split = {n: on for n, on in found.items() if len(on) > 1 and not larger_than_a_page(every[n])}
    assert split == {}


def drawings(step: NumberedStep) -> list[Drawing]:
    return [d for b in step.blocks if isinstance(b, Figure) for d in b.drawings]


def larger_than_a_page(step: NumberedStep) -> bool:
    """The drawings alone, even if made as small as they may be, leave no room for the words."""
    figures = [b for b in step.blocks if isinstance(b, Figure)]
    rows = sum(
        max(d.height for d in f.drawings) * (1 if sum(d.width for d in f.drawings) < 500 else 2) for f in figures
    )
    return rows * 0.9 > 480


@pytest.mark.parametrize("path", [p for p in WEB if p.stem in ("economy", "tide-star")], ids=lambda p: p.stem)
def test_printed_from_a_browser_no_page_holds_a_few_lines_only(path: Path, browser: Any, tmp_path: Path) -> None:
    file = tmp_path / "page.html"
    file.write_text(page(path), encoding="utf-8")
    context = browser.new_context(java_script_enabled=False)
    tab = context.new_page()
    tab.goto(file.as_uri())
    pdf = tab.pdf(format="Letter")
    context.close()
    shares = filled(pdf)
    assert min(shares[:-1]) > 0.3, shares
    headings = {s.title for s in sections(made(path))} | {s.title for s in steps(made(path))}
    for text in words_of(pdf)[:-1]:
        lines = [x for x in text.splitlines() if x.strip() and not re.fullmatch(r"\d+ / \d+", x.strip())]
        assert not lines or re.sub(r"^Step \d+ ", "", lines[-1]) not in headings
