"""Drawings: SVG from the one geometry, readable in grey, with every label checked by geometry."""

from __future__ import annotations

from patternkit.booklet.drawing.audit import audit
from patternkit.booklet.drawing.look import Look
from patternkit.booklet.drawing.making import Joint, draw_making
from patternkit.booklet.drawing.swatches import Swatch, assign
from patternkit.booklet.drawing.words import ENGLISH

__all__ = ["ENGLISH", "Joint", "Look", "Swatch", "assign", "audit", "draw_making"]
