"""Values from the command line, in the spellings of the language."""

from __future__ import annotations

import re
from fractions import Fraction

from patternkit.lengths import Length
from patternkit.syntax.numbers import FRACTION_CHARACTERS


def read_value(text: str) -> Length | None:
    """``8``, ``8 1/2``, ``8-1/2``, ``8½`` or ``8.5`` as an exact value of 0 or more; None for anything else."""
    for sign, (above, below) in FRACTION_CHARACTERS.items():
        text = text.replace(sign, f" {above}/{below}")
    parts = re.sub(r"(?<=\d)-(?=\d)", " ", text).split()
    if not 1 <= len(parts) <= 2 or len(text) > 24 or (len(parts) == 2 and not parts[0].isdecimal()):
        return None
    try:
        value = sum((Fraction(p) for p in parts), Fraction(0))
    except (ValueError, ZeroDivisionError):
        return None
    return Length(value) if 0 <= value <= 100_000 else None
