"""A seam allowance that no quilt is pieced with: most often the right number in another unit."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from patternkit.lengths import Length
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.units import CENTIMETRES, IMPERIAL, show

CODES = ("seam-unusual",)

NARROWEST, WIDEST = Length(Fraction(1, 8)), Length(Fraction(5, 8))
"""Miniatures are pieced with seams of 1/8 in, quilts with 1/4 in or 0.75 cm, clothes with 5/8 in or 1.5 cm (common
practice, no source)."""
USUAL = {False: Length(Fraction(1, 4)), True: Length(Fraction(3, 4) / Fraction(254, 100))}


def check(project: Project) -> Iterable[Problem]:
    """Once, where the seam allowance is stated."""
    settings = project.pattern.settings
    seam, units, span = settings.seam, settings.units, settings.seam_span
    if NARROWEST <= seam <= WIDEST or not span.file:
        return
    words = project.read.words(span)
    bare = not any(c.isalpha() for c in words)  # no unit behind it, and no name
    others = [other for other in (IMPERIAL, CENTIMETRES) if other.sign != units.sign]
    meant = [o for o in others if bare and NARROWEST <= seam / units.inches * o.inches <= WIDEST]
    repairs = [Repair(f"write seam {words} {o.sign}", span, f"{words} {o.sign}") for o in meant]
    usual = show(USUAL[units.decimals], units)
    yield Problem(
        "seam-unusual",
        f"A seam allowance of {show(seam, units)} is {'narrower' if seam < NARROWEST else 'wider'} than any that "
        "quilts are pieced with.",
        span,
        causes=(f"The usual one is {usual}, and every size that is cut rests on it.",),
        repairs=(*repairs, Repair(f"write seam {usual}", span, usual)),
        advice=True,
    )
