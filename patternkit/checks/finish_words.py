"""Why a binding or a backing takes as much as it does, in words that several rules share."""

from __future__ import annotations

from patternkit.lengths import Length
from patternkit.plan.finishing import strips_joined
from patternkit.plan.model import Backing, Binding
from patternkit.project import Project
from patternkit.units import show, show_size


def binding_cause(project: Project, made: Binding, stated: int | None = None) -> str:
    """The length wanted, and what one strip fewer (or as many as were said) comes to when joined."""
    units = project.pattern.settings.units
    total = made.perimeter + made.allowance
    wanted = (
        f"{show(total, units)} of binding are wanted: {show(made.perimeter, units)} round the quilt and "
        f"an allowance of {show(made.allowance, units)} for corners and the last join"
    )
    if made.bias:
        return f"{wanted}."
    if made.joins and (stated is None or stated > made.strips):
        kept = "ends that are kept of strips cut into other pieces"
        return f"{wanted}. {_strips(made.strips)} give them with {kept}; joined they measure {show(made.gives, units)}."
    n = stated if stated is not None and 0 < stated < made.strips else made.strips - 1
    if n < 1:
        return f"{wanted}."
    length = made.usable * n - made.join * (n - 1)
    joined = "strip measures" if n == 1 else "strips joined measure"
    return f"{wanted}. {n} {joined} {show(length, units)}" + (
        f", {show(made.join, units)} being lost at each join." if n > 1 else "."
    )


def _strips(n: int) -> str:
    return "1 strip" if n == 1 else f"{n} strips"


def backing_causes(project: Project, made: Backing) -> tuple[str, ...]:
    """What the backing takes with its seams either way, and how far one panel fewer would reach."""
    units = project.pattern.settings.units
    size, over = show_size(made.width, made.height, units), show(made.overage, units)
    result = [f"The backing is {size}, with an overage of {over} on every side of the top as it measures."]
    if made.strip is not None:
        other = project.pattern.fabrics[made.strip.fabric].title
        panels = f"{made.panels} {'panel' if made.panels == 1 else 'panels'}"
        result.append(
            f"It lies in {panels} {show(made.length, units)} long and a strip of {other} cut "
            f"{show(made.strip.height, units)} wide."
        )
        return tuple(result)
    for seams, across, along in (
        ("vertical", made.width, made.height),
        ("horizontal", made.height, made.width),
    ):
        n = strips_joined(across, made.usable, made.seam * 2)
        if not n:
            continue
        fewer = made.usable * (n - 1) - made.seam * 2 * max(0, n - 2) if n > 1 else Length(0)
        why = "" if n == 1 else f" ({n - 1} {'measures' if n == 2 else 'joined measure'} {show(fewer, units)})"
        how = f"With {seams} seams" if n > 1 else f"With one width {'across' if seams == 'vertical' else 'down'}"
        result.append(f"{how} it takes {n} {'panel' if n == 1 else 'panels'} {show(along, units)} long{why}.")
    return tuple(result)
