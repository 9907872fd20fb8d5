"""The text of a PDF's pages, and the elements of its structure."""

from __future__ import annotations

import re
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


def filled(pdf: bytes) -> list[float]:
    """How far down each page its lowest words stand, the running foot left out: 0 at the top, 1 at the foot."""
    if not shutil.which("pdftotext"):
        pytest.skip("pdftotext is missing: install poppler-utils to run this test")
    run = subprocess.run(["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True)
    shares = []
    for page in re.split(r"<page ", run.stdout.decode("utf-8"))[1:]:
        high = float(re.search(r'height="([\d.]+)"', page)[1])  # type: ignore[index]
        top, foot = 54.0, high - 62.0
        ends = [float(y) for y in re.findall(r'yMax="([\d.]+)"', page)]
        shares.append(max((y - top for y in ends if y <= foot + 2), default=0.0) / (foot - top))
    return shares
