"""Bias edges on the outside of a block: they stretch until the next seam holds them."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.piecing.making import Making
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.syntax.words import LAID_SHAPES
from patternkit.units import show

NEEDS_SIZES = True
CODES = ("bias-outside",)


def check(project: Project) -> Iterable[Problem]:
    """One piece of advice for each block of the quilt (or unit that nothing else uses) with a bias edge outside."""
    from patternkit.piecing.grain import bias_outside

    pattern = project.pattern
    quilt = pattern.quilt
    keys = (
        {p.unit for row in quilt.rows for p in row.pieces}
        if quilt is not None
        else {making.key.of for making, _ in project.roots}
    )
    known: dict[Making, bool] = project.kept("bias")
    for key in pattern.units:
        making = project.makings.get(key)
        if key not in keys or making is None or known.get(making) is False or pattern.units[key].kind in LAID_SHAPES:
            continue  # what is laid on a ground is held by that
        edges = bias_outside(making, known)
        known[making] = bool(edges)
        if not edges:
            continue
        unit = pattern.units[key]
        longest = max(
            (e.end[0] - e.start[0]) * (e.end[0] - e.start[0]) + (e.end[1] - e.start[1]) * (e.end[1] - e.start[1])
            for e in edges
        )
        fabrics = sorted({e.cloth.fabric for e in edges})
        try:
            long = f", the longest {show(longest.sqrt(), pattern.settings.units)}"
        except ValueError:
            long = ""
        yield Problem(
            "bias-outside",
            f"{unit.role.capitalize()} {unit.name} has bias edges of {' and '.join(fabrics)} on its outside{long}.",
            unit.kind_span,
            causes=(
                "A bias edge stretches until a seam holds it; triangles cut the other way, "
                "or a stay-stitched edge, "
                "keep the block true.",
            ),
            advice=True,
        )
