"""What a line says of the shape of a quilt's edge."""

from __future__ import annotations

from patternkit.model.report import Notebook
from patternkit.syntax.statements import Finish

_HOW = "The corners of a quilt are rounded by a radius: `edge rounded 3`."


def shaped(s: Finish, notes: Notebook) -> None:
    """Note a line `edge` that says no shape, or names a fabric."""
    if "rounded" not in s.words:
        notes.report("not-understood", "The edge line says no shape.", s.span, causes=[_HOW])
    if s.use is not None:
        notes.report(
            "out-of-place",
            f"The edge of a quilt is only cut to its shape, so {s.use.name} says nothing.",
            s.use.span,
            causes=[_HOW],
        )
