"""Whole booklets of the examples, word for word."""

from __future__ import annotations

from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode

from patternkit import render

from .conftest import FEW, MARSH, made


class Text(SingleFileSnapshotExtension):
    """One file a snapshot, so that a booklet is read as a whole."""

    _write_mode = WriteMode.TEXT
    _file_extension = "txt"


@pytest.mark.parametrize("path", [*FEW, MARSH], ids=lambda p: p.stem)
def test_markdown_of_a_whole_booklet(path: Path, snapshot: SnapshotAssertion) -> None:
    assert render.markdown(made(path)) == snapshot(extension_class=Text)


def test_markdown_in_german(snapshot: SnapshotAssertion) -> None:
    path = next(p for p in FEW if p.stem == "groyne-runner")
    assert render.markdown(made(path, "de")) == snapshot(extension_class=Text)


def test_web_page_of_a_whole_booklet(snapshot: SnapshotAssertion) -> None:
    path = next(p for p in FEW if p.stem == "groyne-runner")
    assert render.html(made(path)) == snapshot(extension_class=Text)
