"""The page in a real browser: no accessibility violation, no script, true size in print."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from patternkit import render
from patternkit.document import Booklet

from .pdf_paths import pages_of, squares


@pytest.mark.parametrize("which", ["rich_booklet", "hostile_booklet"])
@pytest.mark.parametrize("width", [1200, 360])
def test_axe_finds_nothing(
    browser: Any, which: str, width: int, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe-playwright-python is missing")
    path = tmp_path / "page.html"
    path.write_text(render.html(request.getfixturevalue(which)), encoding="utf-8")
    # The page's own policy forbids all scripts; only the test may set it aside, to bring axe in.
    context = browser.new_context(bypass_csp=True, viewport={"width": width, "height": 900})
    page = context.new_page()
    page.goto(path.as_uri())
    assert page.evaluate("window.pwned") is None
    results = axe.Axe().run(page)
    assert results.violations_count == 0, results.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth") <= width + 1
    context.close()


def test_nothing_is_asked_for_and_nothing_runs(browser: Any, hostile_booklet: Booklet, tmp_path: Path) -> None:
    path = tmp_path / "page.html"
    path.write_text(render.html(hostile_booklet), encoding="utf-8")
    context = browser.new_context()
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda r: asked.append(r.url))
    page.on("dialog", lambda d: asked.append("dialog"))
    page.goto(path.as_uri())
    page.wait_for_timeout(200)
    assert asked == [path.as_uri()]
    assert page.evaluate("window.pwned") is None
    context.close()


def test_the_square_is_an_inch_when_printed_from_the_browser(
    browser: Any, rich_booklet: Booklet, tmp_path: Path
) -> None:
    path = tmp_path / "page.html"
    path.write_text(render.html(rich_booklet), encoding="utf-8")
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(path.as_uri())
    printed = tmp_path / "page.pdf"
    page.pdf(path=str(printed), format="Letter", prefer_css_page_size=True)
    context.close()
    found = [side for shapes in pages_of(printed.read_bytes()) for side in squares(shapes)]
    assert sum(abs(side - 72) < 0.1 for side in found) == 5  # one on each of the five sheets
    assert sum(abs(side - 5 / 2.54 * 72) < 0.1 for side in found) == 5
