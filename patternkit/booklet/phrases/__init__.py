"""The wording of the booklet: one catalogue a language, each phrase a Jinja2 template, run in a sandbox.

A house overrides phrases with a folder that holds a file of the same name (``en.toml``) with the keys it changes.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from fractions import Fraction
from importlib.resources import files
from typing import Any, Literal

import msgspec
from jinja2 import StrictUndefined, Template, TemplateError
from jinja2.meta import find_undeclared_variables
from jinja2.sandbox import ImmutableSandboxedEnvironment

from patternkit.booklet.phrases.guard import checked
from patternkit.drawing.words import ENGLISH
from patternkit.lengths import Length
from patternkit.problems import PatternError, Problem
from patternkit.units import Units, decimal, mixed, number

LANGUAGES = ("en", "de")
_BRACKETS = re.compile(r"\([^()]*\)")


class Sentence(msgspec.Struct, frozen=True, order=True):
    """What is said, before it is put in words: the key of a phrase, and the values that the phrase asks for, by name.

    A value may be a sentence too. Two sentences that say the same of the same are equal, whatever their words are.
    """

    key: str
    values: tuple[tuple[str, Any], ...] = ()


class Listing(msgspec.Struct, frozen=True):
    """Items that are read as a row of words: ``a, b and c``; each is a sentence, a name or a number. `join` is the key
    of what stands between them, where that is another word."""

    items: tuple[Any, ...]
    join: str = ""


class Printed(msgspec.Struct, frozen=True):
    """Lengths that are printed together: width ``by`` height, one after the other in a ``row``, or one ``length``."""

    way: Literal["by", "row", "length"]
    lengths: tuple[Length, ...]


class Phrases:
    """Phrases of one language with a house's own on top; `say` fills one in."""

    def __init__(
        self, language: str, units: Units, house: Mapping[str, Any] | None = None, *, converted: bool = False
    ) -> None:
        self.language = language if language in LANGUAGES else "en"
        self.units = units
        self.converted = converted  # another system than the file's: rounded to the hundredth, and said so once
        self._flat = {f"drawing.{key}": text for key, text in ENGLISH.items()} | dict(_flatten(catalogue("en")))
        if self.language != "en":
            self._flat |= dict(_flatten(catalogue(self.language)))
        self.environment = ImmutableSandboxedEnvironment(autoescape=False, undefined=StrictUndefined)
        self.environment.filters.update(
            len=self.length,
            by=self.by,
            bare=self.bare,
            about=self.about,
            fine=self.fine,
            of=counted,
            yardage=self.yardage,
            cap=capital,
        )
        if house:
            self._flat |= checked(dict(_flatten(house)), self._flat, self.environment)
        self._ready: dict[str, Template] = {}
        self._asked: dict[str, set[str]] = {}

    def state(self, key: str, **values: Any) -> Sentence:
        """A phrase with those of some values that it asks for, not yet put in words."""
        asked = self._asked.get(key)
        if asked is None:
            asked = self._asked[key] = find_undeclared_variables(self.environment.parse(str(self._flat[key])))
        return Sentence(key, tuple((name, value) for name, value in values.items() if name in asked))

    def render(self, value: Any) -> Any:
        """A sentence, a listing or printed lengths in words; any other value as it is."""
        if isinstance(value, Sentence):
            return self.say(value.key, **{name: self.render(inner) for name, inner in value.values})
        if isinstance(value, Listing):
            items = [str(self.render(item)) for item in value.items]
            return self.say(value.join).join(items) if value.join else self.listed(items)
        if isinstance(value, Printed):
            return self.row(value.lengths) if value.way == "row" else getattr(self, value.way)(*value.lengths)
        return value

    def listed(self, items: Sequence[str]) -> str:
        """Items in a row of words: ``a, b and c``; with semicolons where an item is a row of its own."""
        if len(items) < 2:
            return items[0] if items else ""
        word = f" {self.say('words.and')} "
        bare = [_BRACKETS.sub("", item) for item in items]
        if any(", " in item for item in bare):
            return "; ".join(items)
        if any(word in item for item in bare):
            return f"{', '.join(items[:-1])},{word}{items[-1]}"
        return f"{', '.join(items[:-1])}{word}{items[-1]}"

    def say(self, key: str, **values: Any) -> str:
        """A phrase filled in. Raises KeyError for a phrase there is not, PatternError when a house's can't be filled
        in."""
        template = self._ready.get(key)
        try:
            if template is None:
                template = self._ready[key] = self.environment.from_string(str(self._flat[key]))
            return template.render(values)
        except (TemplateError, TypeError, ValueError, AttributeError, ArithmeticError) as error:
            raise PatternError([Problem("bad-phrase", f"The phrase {key} can't be filled in: {error}.")]) from error

    def has(self, key: str) -> bool:
        """True when there is such a phrase."""
        return key in self._flat

    def list(self, key: str) -> tuple[str, ...]:
        """A phrase that is a list of words (the heads of a table)."""
        return tuple(str(x) for x in self._flat[key])

    def table(self, prefix: str) -> dict[str, str]:
        """All phrases under a heading, by the rest of their key."""
        start = prefix + "."
        return {k[len(start) :]: str(v) for k, v in self._flat.items() if k.startswith(start)}

    # -- filters ------------------------------------------------------------------------------------------
    def number(self, value: Length | int) -> tuple[str, bool]:
        """A length without its unit, with the language's own decimal mark, and whether it was rounded to print it."""
        text = number(Length(value), self.units)
        bare = text.removeprefix("about ")
        near = bare != text and not (self.converted and self.units.decimals)
        return self.mark(bare) if self.units.decimals else bare, near

    def mark(self, text: str) -> str:
        """A number with decimals, with the language's own decimal mark."""
        return text.replace(".", str(self._flat["words.decimal"]))

    def length(self, value: Length | int) -> str:
        """A length with its unit: ``1 1/4 in``, ``about 2 13/16 in``."""
        text, near = self.number(value)
        return f"{self._about(near)}{text} {self.units.sign}"

    def by(self, width: Length, height: Length) -> str:
        """Width by height with the unit once."""
        (w, near_w), (h, near_h) = self.number(width), self.number(height)
        return f"{self._about(near_w or near_h)}{w} x {h} {self.units.sign}"

    def about(self, value: Length | int) -> str:
        """A length with its unit, and ``about`` whether it is rounded to print it or not: nobody cuts by it."""
        return f"{self._about(True)}{self.number(value)[0]} {self.units.sign}"

    def bare(self, value: Length | int) -> str:
        """A length without its unit, for lists that name the unit once."""
        text, near = self.number(value)
        return f"{self._about(near)}{text}"

    def row(self, values: Sequence[Length]) -> str:
        """Several lengths one after the other, the unit once: ``3 1/4, 3, 3 1/4 in``; semicolons between decimal
        commas."""
        printed = [self.number(v) for v in values]
        join = "; " if self.units.decimals and self._flat["words.decimal"] == "," else ", "
        about = self._about(any(near for _, near in printed))
        return f"{about}{join.join(text for text, _ in printed)} {self.units.sign}"

    def _about(self, near: bool) -> str:
        return f"{self._flat['words.about']} " if near else ""

    def yardage(self, inches: Length | Fraction) -> str:
        """A length of cloth to buy: yards in eighths, or metres."""
        value = Length(inches)
        if not self.units.decimals:
            exact = value if _eighths(value) else Length(value.ceil_to(Fraction(9, 2)))
            return f"{mixed(exact.fraction / 36)} yd"
        metres = value.ceil_to(Fraction(100, 254)) * Fraction(254, 10000)
        return f"{self.mark(decimal(metres))} m"

    def fine(self, value: Length) -> str:
        """A very small length: exact where it can be written, else a decimal."""
        own = value / self.units.inches
        if not self.units.decimals and own.is_fraction and own.fraction.denominator in (1, 2, 4, 8, 16, 32, 64):
            return self.length(value)
        if not self.units.decimals:
            near = max(own.round_to(Fraction(1, 64)), Fraction(1, 64))
            return f"{self._about(True)}{mixed(near)} {self.units.sign}"
        return f"{self.mark(decimal(own.round_to(Fraction(1, 1000)), 3))} {self.units.sign}"


def _eighths(inches: Length) -> bool:
    """True when a length is whole sixteenths of a yard."""
    return inches.is_fraction and (inches.fraction * 16 / 36).denominator == 1


def counted(n: int, one: str, many: str) -> str:
    """A count with its noun: ``1 strip``, ``8 strips``."""
    return f"{n} {one if n == 1 else many}"


def capital(text: str) -> str:
    """With a capital letter at the start, the rest unchanged."""
    return text[:1].upper() + text[1:]


def catalogue(language: str) -> Mapping[str, Any]:
    """The phrases that ship with the booklet in one language."""
    return tomllib.loads(files(__package__).joinpath(f"{language}.toml").read_text(encoding="utf-8"))


def _flatten(table: Mapping[str, Any], before: str = "") -> list[tuple[str, Any]]:
    found: list[tuple[str, Any]] = []
    for key, value in table.items():
        if isinstance(value, Mapping):
            found += _flatten(value, f"{before}{key}.")
        else:
            found.append((before + key, value))
    return found
