"""The width table against a real browser: no text is drawn wider than the room its box gives it."""

from __future__ import annotations

from typing import Any

import pytest

from patternkit.drawing.making import making_scene
from patternkit.drawing.methods import method_scene
from patternkit.drawing.scene import Lettering, Scene, flat
from patternkit.drawing.strips import strips_scene
from patternkit.drawing.svg import svg_text
from patternkit.drawing.swatches import assign
from patternkit.text_widths import text_width

from . import samples as S

MEASURE = """() => [...document.querySelectorAll('svg text')].map(t => {
    const box = t.getBBox(); return [t.textContent, t.getComputedTextLength(), box.height]; })"""
ODD = assign(
    [
        ("night", "Große Wäsche – Éclair “Œuvre” mmmWWW 1½ × 3¼", "#1b2a49", ""),
        ("glow", "iiiiiiilll", "", "light"),
    ]
)


@pytest.mark.parametrize("fonts", ["Helvetica, Arial, sans-serif", "sans-serif", "DejaVu Sans"])
def test_no_text_is_wider_than_its_box(fonts: str, browser: Any) -> None:
    scenes: list[Scene] = [
        making_scene(S.quilt(), S.SWATCHES),
        strips_scene(S.strip_wall(), S.SWATCHES),
        strips_scene(S.strip_wall(), ODD),
        making_scene(S.half_square(), ODD, legend=True),
        *(method_scene(m, S.SWATCHES) for m in S.everything().values()),
    ]
    texts = [s for scene in scenes for s, _, _ in flat(scene.items) if isinstance(s, Lettering)]
    page_text = "".join(
        svg_text(scene, f"k{i}").replace("Helvetica, Arial, sans-serif", fonts) for i, scene in enumerate(scenes)
    )
    page = browser.new_page()
    page.set_content(f"<!doctype html><meta charset=utf-8><body>{page_text}")
    measured = page.evaluate(MEASURE)
    page.close()
    assert len(measured) == len(texts) > 100
    for (content, wide, _), text in zip(measured, texts, strict=True):
        assert wide <= text_width(text.text, text.size, text.bold) * 1.001 + 0.05, content
