"""One real browser for all tests that open pages: two at a time do not get on in one process."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import settings

settings.register_profile("patternkit", deadline=None)  # a busy machine is no fault of what is tested
settings.load_profile("patternkit")

BROWSER = next((path for name in ("chromium", "chromium-browser", "google-chrome") if (path := shutil.which(name))), "")
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    if not BROWSER or os.environ.get("PATTERNKIT_NO_BROWSER"):
        pytest.skip("no Chromium found: install the package chromium to run this test")
    with playwright.sync_playwright() as started:
        chromium = started.chromium.launch(executable_path=BROWSER, headless=True, args=FLAGS)
        yield chromium
        chromium.close()
