"""Cuts off the ruler's grid: by how much they are rounded up, and what that does."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.units import show

NEEDS_SIZES = True
CODES = ("off-ruler",)


def check(project: Project) -> Iterable[Problem]:
    """Plain rectangles and strips whose exact cut the ruler does not have; triangles are rounded by
    custom.
    """
    pattern = project.pattern
    units, grid = pattern.settings.units, pattern.settings.ruler
    for key, making in project.makings.items():
        unit = pattern.units[key]
        off = []
        for cut in making.recipe.cuts:
            if cut.then in ("", "strip") and cut.said is None and not cut.shape and cut.exact_width.is_fraction:
                sides = (
                    [(cut.exact_height, cut.height)]
                    if cut.then == "strip"
                    else [(cut.exact_width, cut.width), (cut.exact_height, cut.height)]
                )
                off += [(exact, up) for exact, up in sides if exact.is_fraction and not exact.on_grid(grid)]
        if off and making.recipe.method.adds_up:
            sizes = [f"{show(exact, units)} is cut {show(up, units)}" for exact, up in dict.fromkeys(off)]
            yield Problem(
                "off-ruler",
                f"Pieces of {unit.name} are not on the ruler: {'; '.join(sizes)}.",
                unit.kind_span,
                causes=(
                    "Cuts are rounded up to the next line of the ruler, "
                    "so the unit comes out a little large and is trimmed.",
                ),
                advice=True,
            )
