"""Finishes of the edge that leave gaps, or of which nothing is left beyond the seam."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.lengths import ZERO
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.units import show

NEEDS_SIZES = True
CODES = ("edge-gaps",)
_EDGES = ("facing", "flange", "piping", "prairie-points")


def check(project: Project) -> Iterable[Problem]:
    """Prairie points between which the edge shows; strips and squares of which nothing lies beyond the seam."""
    units = project.pattern.settings.units
    seam = project.pattern.settings.seam
    quilt = project.pattern.quilt
    if quilt is None or not any(f.word in _EDGES or "envelope" in f.words for f in quilt.finishing):
        return
    for edge in project.draft[0].edges:
        if edge.stated is None:
            continue
        if edge.what != "cushion back" and edge.shows <= ZERO:
            yield Problem(
                "edge-gaps",
                f"Cut {show(edge.raw, units)}, nothing of the {edge.what} is left beyond the seam.",
                edge.stated,
                causes=(f"It is folded, and a seam of {show(seam, units)} is taken off.",),
            )
            continue
        wide = edge.raw - seam * 2
        for n, apart, side in zip(edge.along, edge.apart, ("across", "down"), strict=True):
            if edge.what == "prairie points" and apart > wide:
                yield Problem(
                    "edge-gaps",
                    f"{n} points {side} stand {show(apart, units)} apart, and each is {show(wide, units)} wide at the "
                    "seam: the edge shows between them.",
                    edge.stated,
                    causes=(
                        f"A square of {show(edge.raw, units)} folded twice is as wide, less a seam on both sides.",
                    ),
                    advice=True,
                )
