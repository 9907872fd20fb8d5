"""Numbers read back from printed words, by code of the tests' own: what a maker reads, not what was filled
in."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import NamedTuple

from patternkit.document import Block, Bullets, Callout, Figure, NumberedStep, Paragraph, Section, Table

INCHES = {"in": Fraction(1), "cm": Fraction(100, 254), "mm": Fraction(10, 254)}
PRINT = {"cm": Fraction(1, 200), "mm": Fraction(1, 20)}
"""Half of the last place that is printed; inches are exact unless "about" stands before them, then sixteenths."""
ABOUT = r"(?:about|etwa) "
NUMBER = r"(?:\d+ \d+/\d+|\d+/\d+|\d+(?:[.,]\d+)?)"
ROW = re.compile(
    rf"(?<![\d/.,])(?P<about>{ABOUT})?(?P<row>{NUMBER}(?:(?: x |, |; | and | und )(?:{ABOUT})?{NUMBER})*)"
    r" (?P<sign>in|cm|mm)\b"
)
"""Lengths one after the other with their unit once, at the end."""
ONE = re.compile(NUMBER)
WHOLE = re.compile(r"(?<![\w/.,])\d+(?![\w/]|[.,]\d)")


class Printed(NamedTuple):
    """A length as it is printed: in inches, and how far the print may be off."""

    value: Fraction
    off: Fraction
    text: str

    def means(self, fact: float) -> bool:
        """Whether it may be the print of a fact in inches."""
        return abs(float(self.value) - fact) <= float(self.off) + 1e-9


def lengths(text: str) -> list[Printed]:
    """The lengths of a text."""
    return [_length(n[0], m["sign"], bool(m["about"])) for m in ROW.finditer(text) for n in ONE.finditer(m["row"])]


def counts(text: str) -> list[int]:
    """The whole numbers of a text that are no lengths."""
    return [int(m[0]) for m in WHOLE.finditer(ROW.sub(" ", text))]


def without(text: str, names: Iterable[str]) -> str:
    """A text without the names in it, which may have numbers: longer ones go first."""
    for name in sorted({*names, *(n[:1].upper() + n[1:] for n in names)} - {""}, key=len, reverse=True):
        text = re.sub(rf"(?<!\w){re.escape(name)}(?!\w| \d+/)", "...", text)
    return text


def _length(n: str, sign: str, about: bool) -> Printed:
    whole, _, part = n.replace(",", ".").rpartition(" ")
    value = Fraction(whole or 0) + Fraction(part)
    off = PRINT.get(sign, Fraction(1, 32) if about else Fraction(0))
    return Printed(value * INCHES[sign], off * INCHES[sign], f"{n} {sign}")


def texts(blocks: Iterable[Block]) -> Iterator[str]:
    """All that is printed of some blocks, drawings by their descriptions."""
    for block in blocks:
        match block:
            case Paragraph() | Callout():
                yield block.text
            case Bullets():
                yield from block.items
            case Table():
                yield from (cell for row in block.rows for cell in row)
            case Figure():
                yield block.caption
                yield from (d.description for d in block.drawings)
            case NumberedStep() | Section():
                yield block.title
                yield from texts(block.blocks)
