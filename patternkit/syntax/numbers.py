"""Numbers as the trade writes them: mixed numbers, fraction characters, decimals, and the unit behind them.

The text is never normalised (that would turn ``1¼`` into ``11/4``); fraction characters are read by a table.
"""

from __future__ import annotations

import re
from fractions import Fraction

from patternkit.syntax.words import UNIT_SPELLINGS

FRACTION_CHARACTERS = {
    "½": (1, 2),
    "⅓": (1, 3),
    "⅔": (2, 3),
    "¼": (1, 4),
    "¾": (3, 4),
    "⅕": (1, 5),
    "⅖": (2, 5),
    "⅗": (3, 5),
    "⅘": (4, 5),
    "⅙": (1, 6),
    "⅚": (5, 6),
    "⅐": (1, 7),
    "⅛": (1, 8),
    "⅜": (3, 8),
    "⅝": (5, 8),
    "⅞": (7, 8),
    "⅑": (1, 9),
    "⅒": (1, 10),
}
"""Each fraction character with what stands above and below its line."""

MOST_DIGITS = 12
"""The most digits a number may have on either side of its line or point."""

SPACE = r"[^\S\r\n]"
INCH_MARKS = '"”“″'
_LOW = "₀₁₂₃₄₅₆₇₈₉"
_HIGH = "⁰¹²³⁴⁵⁶⁷⁸⁹"
NO_LETTERS = "".join(FRACTION_CHARACTERS) + _HIGH + _LOW
"""Characters of numbers that a regular expression would take for letters."""

_PLAIN = str.maketrans(_LOW + _HIGH + "⁄∕", "0123456789" * 2 + "//")
_CHARS = "".join(FRACTION_CHARACTERS)
_UNITS = "|".join(sorted(UNIT_SPELLINGS, key=len, reverse=True))
_OVER = rf"(?:[0-9]+[/⁄∕][0-9]+|[{_HIGH}]+[/⁄∕][{_LOW}]+|[{_CHARS}])"
_UNIT = rf"(?:{SPACE}*(?:{_UNITS})(?:(?![\w'’‐‑-])\.?|(?=[xX][0-9]))|[{INCH_MARKS}]|''|%|°)"

_WHOLE = rf"[0-9]+(?:{SPACE}*[-‐‑–]?(?=[{_CHARS}{_HIGH}])|(?:{SPACE}+|[-‐‑–])(?=[0-9]))"
NUMBER = rf"(?:{_WHOLE}{_OVER}|(?<![/⁄∕])[0-9]+[/⁄∕][0-9]+|(?![0-9]){_OVER}|[0-9]+(?:\.[0-9]+)?|\.[0-9]+){_UNIT}?"
"""A number in a line, as a regular expression. A fraction is not taken right behind a division: ``side/3/4``."""

_LONG = rf"[0-9{_HIGH}{_LOW}]{{{MOST_DIGITS + 1}}}"
_TAIL = re.compile(rf"{_UNIT}$", re.IGNORECASE)


class NumberTrouble(Exception):
    """A number that cannot be meant: ``code`` names the problem and the text says it."""

    def __init__(self, code: str, message: str) -> None:
        super().__init__(message)
        self.code = code


def read_number(text: str) -> tuple[Fraction, str | None]:
    """The value and unit of a number cut out by `NUMBER`; the unit is None when none is written.

    Raises NumberTrouble for more than twelve digits in a row (``number-too-long``) and for nothing below the line
    (``nothing-below``).
    """
    body, tail = split_unit(text)
    unit = unit_of(tail) if tail else None
    if len(body) > MOST_DIGITS and re.search(_LONG, body):
        raise NumberTrouble(
            "number-too-long",
            f"A number of more than {MOST_DIGITS} digits can't be a length or a count of anything sewn.",
        )
    return value_of(body), unit


def split_unit(text: str) -> tuple[str, str]:
    """A number's own text and the text of its unit, "" when none is written."""
    tail = _TAIL.search(text) if not text[-1].isdigit() else None
    return (text[: tail.start()], tail.group()) if tail else (text, "")


def unit_of(text: str) -> str:
    """The unit that a written one means: ``yards`` is ``yd``, a glued inch mark is ``in``."""
    word = text.strip().rstrip(".").lower()
    if word in ("%", "°"):
        return word
    return UNIT_SPELLINGS.get(word, "in")


def split_number(body: str) -> tuple[int, int, int]:
    """Whole, above and below the line: ``1¼`` is 1, 1, 4; a whole number has 0 above and 1 below."""
    whole, rest = 0, body
    if body[-1] in FRACTION_CHARACTERS:
        digits = body[:-1].rstrip("-‐‑– \t\u00a0\u202f\u2009\u2007")
        above, below = FRACTION_CHARACTERS[body[-1]]
        return (int(digits) if digits.strip() else 0), above, below
    plain = rest.translate(_PLAIN)
    if "/" not in plain:
        return int(plain), 0, 1
    if rest[0].isascii() and (start := re.match(rf"([0-9]+)(?:{SPACE}+|[-‐‑–]|(?=[{_HIGH}]))", rest)):
        whole, plain = int(start.group(1)), plain[start.end() :]
    above_text, below_text = plain.split("/")
    return whole, int(above_text), int(below_text)


def value_of(body: str) -> Fraction:
    """The value of a number without its unit."""
    if body.isascii() and body.isdigit():
        return Fraction(int(body))
    if "." in body:
        return Fraction(body)
    whole, above, below = split_number(body)
    if below == 0:
        raise NumberTrouble("nothing-below", "A fraction can't have 0 below its line.")
    return whole + Fraction(above, below)


def real_date(text: str) -> bool:
    """Whether ``2026-03-02`` is a day that exists."""
    year, month, day = (int(part) for part in text.split("-"))
    if not (1 <= month <= 12 and year >= 1):
        return False
    days = (
        29
        if month == 2 and ((year % 4 == 0 and year % 100) or year % 400 == 0)
        else (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)[month - 1]
    )
    return 1 <= day <= days
