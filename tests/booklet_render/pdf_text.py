"""The text of a PDF's pages, and the elements of its structure."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterator
from typing import Any

import pikepdf
import pytest


def words_of(pdf: bytes) -> list[str]:
    """The text of each page in the order it is drawn."""
    if not shutil.which("pdftotext"):
        pytest.skip("pdftotext is missing: install poppler-utils to run this test")
    run = subprocess.run(["pdftotext", "-raw", "-", "-"], input=pdf, capture_output=True, check=True)
    return [page.replace("\u00a0", " ") for page in run.stdout.decode("utf-8").split("\f")]


def structure(node: Any) -> Iterator[Any]:
    """Every element of the structure tree."""
    kids = node.get("/K", [])
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            yield kid
            yield from structure(kid)
