"""Drawings: SVG from the one geometry, readable in grey, with every label checked by geometry."""

from __future__ import annotations

from patternkit.booklet.drawing.assembly import draw_assembly
from patternkit.booklet.drawing.audit import audit
from patternkit.booklet.drawing.cuts import ClothCut, PieceCut, StripCut, draw_cuts
from patternkit.booklet.drawing.look import Look
from patternkit.booklet.drawing.making import Joint, draw_making
from patternkit.booklet.drawing.methods import draw_method
from patternkit.booklet.drawing.steps import draw_step
from patternkit.booklet.drawing.strips import draw_strips
from patternkit.booklet.drawing.swatches import Swatch, assign
from patternkit.booklet.drawing.templates import draw_foundation, draw_template
from patternkit.booklet.drawing.words import ENGLISH

__all__ = [
    "ENGLISH",
    "ClothCut",
    "Joint",
    "Look",
    "PieceCut",
    "StripCut",
    "Swatch",
    "assign",
    "audit",
    "draw_assembly",
    "draw_cuts",
    "draw_foundation",
    "draw_making",
    "draw_method",
    "draw_step",
    "draw_strips",
    "draw_template",
]
