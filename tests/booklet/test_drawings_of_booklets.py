"""Every drawing of every booklet passes the drawing room's audit: no label overlaps, leaves its drawing
or is too small."""

from __future__ import annotations

import importlib
import pkgutil
from pathlib import Path
from typing import Any

import pytest

import patternkit.drawing as room
from patternkit import api
from patternkit.drawing.audit import audit

from .conftest import EXAMPLES, MARSH


@pytest.mark.parametrize("path", [*EXAMPLES, MARSH], ids=lambda p: p.stem)
@pytest.mark.parametrize("language", ["en", "de"])
def test_audit_of_every_drawing(path: Path, language: str, monkeypatch: pytest.MonkeyPatch) -> None:
    found: list[str] = []
    count = 0
    for info in pkgutil.iter_modules(room.__path__):
        module: Any = importlib.import_module(f"{room.__name__}.{info.name}")
        if hasattr(module, "finished") and info.name != "svg":
            plain = module.finished

            def watched(scene: Any, key: str, plain: Any = plain) -> Any:
                nonlocal count
                count += 1
                found.extend(f"{key}: {wrong}" for wrong in audit(scene))
                return plain(scene, key)

            monkeypatch.setattr(module, "finished", watched)
    api.make_booklet(api.load(path), language=language, every_size=language == "en")
    assert count > 3 and found == []
