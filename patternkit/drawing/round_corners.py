"""The corners of a quilt that are rounded, as they look: the cloth beyond the arcs is gone."""

from __future__ import annotations

from math import cos, pi, sin

from patternkit.drawing.scene import LINE, PAPER, Path, Pt, Shape
from patternkit.piecing.making import Making

STEPS = 24
"""Chords of a drawn quarter circle."""


def rounded_edge(making: Making, radius: float, scale: float) -> list[Shape]:
    """What covers the corners of a making, and its edge, at a scale (points to the inch); the radius is in inches."""
    wide, high, r = float(making.width) * scale, float(making.height) * scale, radius * scale
    corners = ((0.0, 0.0, r, r), (wide, 0.0, wide - r, r), (wide, high, wide - r, high - r), (0.0, high, r, high - r))
    edge: list[Pt] = []
    shapes: list[Shape] = []
    for n, (x, y, mid_x, mid_y) in enumerate(corners):
        turns = [pi + pi / 2 * (n + i / STEPS) for i in range(STEPS + 1)]
        arc = [(mid_x + r * cos(t), mid_y + r * sin(t)) for t in turns]
        shapes.append(Path((((x, y), *arc),), fill=PAPER, stroke=PAPER, width=2 * LINE))
        edge += arc
    return [*shapes, Path((tuple(edge),))]
