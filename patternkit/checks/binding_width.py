"""A binding whose stated finished width can only be the width that its strips are cut."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from patternkit.lengths import Length
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.source import Span
from patternkit.units import show

CODES = ("binding-wide",)

WIDEST = Length(Fraction(1))
"""Bindings in print finish 1/4 to 1/2 in wide; one that shows more than an inch on the front is not sewn as a binding
(common practice, no source)."""


def check(project: Project) -> Iterable[Problem]:
    """A bare size is finished; writers mean the cut strip, because that is what patterns print for a binding."""
    quilt, settings = project.pattern.quilt, project.pattern.settings
    for finish in quilt.finishing if quilt is not None else ():
        if finish.word != "binding" or finish.cut or finish.width is None:
            continue
        wide = finish.width.value(project.pattern.parameters)
        if wide > WIDEST:
            stated, strip = show(wide, settings.units), show(wide * 4 + settings.seam * 2, settings.units)
            after = finish.span.start + len(finish.word)
            yield Problem(
                "binding-wide",
                f"This binding would finish {stated} wide, from strips cut {strip}.",
                finish.span,
                causes=("A bare size is a finished size; the width that the strips are cut stands behind cut.",),
                repairs=(
                    Repair(
                        f"write binding cut {stated}, if the strips are cut that wide",
                        Span(finish.span.file, after, after),
                        " cut",
                    ),
                ),
            )
