"""Values from the command line, in the spellings of the language."""

from __future__ import annotations

import re
from fractions import Fraction

from patternkit.lengths import Length

_CHARACTERS = {
    "¼": " 1/4",
    "½": " 1/2",
    "¾": " 3/4",
    "⅛": " 1/8",
    "⅜": " 3/8",
    "⅝": " 5/8",
    "⅞": " 7/8",
    "⅓": " 1/3",
    "⅔": " 2/3",
}


def read_value(text: str) -> Length | None:
    """``8``, ``8 1/2``, ``8-1/2``, ``8½`` or ``8.5`` as an exact value of 0 or more; None for anything else."""
    for sign, plain in _CHARACTERS.items():
        text = text.replace(sign, plain)
    parts = re.sub(r"(?<=\d)-(?=\d)", " ", text).split()
    if not 1 <= len(parts) <= 2 or len(text) > 24 or (len(parts) == 2 and not parts[0].isdecimal()):
        return None
    try:
        value = sum((Fraction(p) for p in parts), Fraction(0))
    except (ValueError, ZeroDivisionError):
        return None
    return Length(value) if 0 <= value <= 100_000 else None
