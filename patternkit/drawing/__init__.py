"""Drawings: SVG from the one geometry, readable in grey, with every label checked by geometry."""

from __future__ import annotations

from patternkit.drawing.assembly import draw_assembly
from patternkit.drawing.audit import audit
from patternkit.drawing.cuts import ClothCut, DrawnCut, StripCut, draw_cuts
from patternkit.drawing.look import Look
from patternkit.drawing.making import DrawnJoint, draw_making
from patternkit.drawing.methods import draw_method
from patternkit.drawing.steps import draw_step
from patternkit.drawing.strips import draw_strips
from patternkit.drawing.swatches import Swatch, assign
from patternkit.drawing.templates import draw_foundation, draw_template
from patternkit.drawing.words import ENGLISH

__all__ = [
    "ENGLISH",
    "ClothCut",
    "DrawnCut",
    "DrawnJoint",
    "Look",
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
