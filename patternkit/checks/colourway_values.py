"""Colourways in which light and dark change places across a seam: the steps are told once, for the main fabrics."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import combinations

from patternkit.piecing.making import Making, made_from
from patternkit.problems import Problem, Repair
from patternkit.project import Project

NEEDS_SIZES = True
CODES = ("colourway-turns-values",)

_ORDER = {"light": 0, "medium": 1, "dark": 2}


def check(project: Project) -> Iterable[Problem]:
    """One piece of advice for each colourway whose darker fabrics lie on the other side of seams that meet."""
    pattern = project.pattern
    if pattern.colourway or pattern.size:
        return
    main = {key: fabric.value for key, fabric in pattern.fabrics.items()}
    for way in pattern.colourways:
        own = main | {key: main.get(other, "") for key, other in way.swaps.items()}
        if not any(_turned(main, own, a, b) for a, b in combinations(main, 2)):
            continue
        seams = _seams(project, main, own)
        if seams:
            yield Problem(
                "colourway-turns-values",
                f"In the colourway {way.title}, the darker fabric lies on the other side of {seams} "
                f"{'seam' if seams == 1 else 'seams'} than in the main fabrics.",
                way.span,
                causes=(
                    "The steps are told once, and every colourway is pressed as they say: an allowance that is pressed "
                    "toward the darker fabric lies behind the lighter one there.",
                ),
                repairs=(
                    Repair("press these seams open, where an allowance would show through"),
                    Repair("swap the fabrics of this colourway, so that dark stays dark"),
                ),
                advice=True,
            )


def _turned(main: Mapping[str, str], own: Mapping[str, str], a: str, b: str) -> bool:
    """Whether the lighter of two fabrics is the darker one in the colourway."""
    before, after = (_order(values, a, b) for values in (main, own))
    return before * after < 0


def _order(values: Mapping[str, str], a: str, b: str) -> int:
    """Below 0 where the first is lighter, above 0 where it is darker; 0 where they are alike or a value is missing."""
    one, two = _ORDER.get(values[a]), _ORDER.get(values[b])
    return 0 if one is None or two is None else one - two


def _seams(project: Project, main: Mapping[str, str], own: Mapping[str, str]) -> int:
    """Seams, each unit's once, whose darker side is the other one in the colourway. Open seams have none."""
    from patternkit.pressing.looks import Looks

    before, after = Looks(main), Looks(own)
    found, seen = 0, set[Making]()
    waiting = [root for root, _ in project.roots]
    while waiting:
        making = waiting.pop()
        if making in seen:
            continue
        seen.add(making)
        waiting += made_from(making)
        for j, seam in enumerate(making.seams):
            if seam.pressed != "open":
                sides = {before.darker(making, j), after.darker(making, j)}
                found += sides == {"left", "right"}
    return found
