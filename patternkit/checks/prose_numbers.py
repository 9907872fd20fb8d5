"""Sizes and counts typed into a text that match nothing of their kind in the pattern: they were right once, or never.

What kind of number is meant is read from the words beside it: "finishes 9 in", "cut 2 1/2 in strips", "1/2 yd", "18
lanterns". A width and a height are a pair.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from fractions import Fraction

import msgspec

from patternkit.checks.prose_known import Kind, add_makings, known_counts, known_sizes
from patternkit.checks.prose_names import place, texts
from patternkit.english import listed
from patternkit.model.facts import BRACES
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.syntax.numbers import FRACTION_CHARACTERS
from patternkit.syntax.statements import Prose
from patternkit.units import INCHES_IN, Units

NEEDS_SIZES = True
CODES = ("number-in-prose",)

_SIGNS = {sign: f"{above}/{below}" for sign, (above, below) in FRACTION_CHARACTERS.items()}
_ANY = "".join(_SIGNS)
_NUMBER = rf"(?:\d+(?:[ \u00a0-]\d+/\d+|[.]\d+|\u00a0?[{_ANY}])?|\d+/\d+|[{_ANY}])"
_UNIT = r"(?:inch(?:es)?|in\.?|cm|mm|yards?|yds?|metres?|m)(?![\w])|[\"”″]"
_SIZE = rf"(?<![\w./,])({_NUMBER})(?:\s?(?:x|×|by)\s?({_NUMBER}))?(?:[\s\u00a0-]?({_UNIT}))?(?![\w/.]\d)"
_AFTER_IN = (
    r"[ \u00a0]+(?:the|a|an|all|each|every|this|that|these|those|any|one|two|total|place|order|turn|our|your"
    r"|its|their|which|between|from|to|[A-Z])\b"
)
_WHOLE_NUMBERS = {
    "inch": "in",
    "inches": "in",
    "in.": "in",
    "yard": "yd",
    "yards": "yd",
    "yds": "yd",
    "metre": "m",
    "metres": "m",
    "”": "in",
    "″": "in",
    '"': "in",
}
_KINDS: tuple[tuple[Kind, str], ...] = (
    ("measures", r"measur\w+|raw edge|unfinished|trim\w*|square\w* up"),
    ("finished", r"finish\w*"),
    ("cut", r"cut\w*"),
)
_VERBS: dict[Kind, str] = {"finished": "finishes", "measures": "measures", "cut": "is cut", "amount": "is bought"}


class Typed(msgspec.Struct, frozen=True):
    """A size that looks as if it had been typed: its words, where they stand in the text, what they come to, and which
    kind of size the words beside it speak of (None where they do not say)."""

    words: str
    start: int
    end: int
    inches: tuple[Fraction, ...]
    kind: Kind | None = None


def check(project: Project) -> Iterable[Problem]:
    """One piece of advice for each such size; none while the pattern is too broken to be measured."""
    pattern = project.pattern
    if not pattern.as_written or (project.top is None and pattern.quilt is not None):
        return
    written = [p for p in texts(pattern) if any(c.isdigit() or c in _ANY for c in p.text)]
    if not written:
        return
    yield from _counts(project, written)
    wanted = [(prose, typed) for prose in written for typed in sizes_in(prose, pattern.settings.units)]
    if not wanted:
        return
    known = known_sizes(project)
    left = [(p, t) for p, t in wanted if not known.has(t.inches, t.kind)]
    if left and pattern.sizes:
        for row in pattern.sizes:
            add_makings(known, project.in_size(row.name))
        left = [(p, t) for p, t in left if not known.has(t.inches, t.kind)]
    for prose, typed in left:
        other = typed.kind is not None and known.has(typed.inches, None)
        what = f"{_VERBS[typed.kind]} that" if other and typed.kind is not None else "has that size"
        more = ("The pattern has that size, and of another kind.",) if other else ()
        yield Problem(
            "number-in-prose",
            f"{typed.words} stands in the text, and nothing in the pattern {what}.",
            place(prose, typed.start, typed.end),
            causes=(*more, "A number typed into a text stays as it is when the pattern changes."),
            repairs=(
                Repair(
                    "let the text take the number from the pattern: {lantern.measures}, {night.buy} or "
                    "{quilt.finished}, with a name of this pattern"
                ),
            ),
            advice=True,
        )


def _counts(project: Project, written: list[Prose]) -> Iterator[Problem]:
    """Numbers of a unit by its name that are none of those that are made or used."""
    counts: dict[str, set[int]] | None = None
    names = {u.name.replace("-", " ").lower(): u.name for u in project.pattern.units.values()}
    if not names:
        return
    ways = "|".join(re.escape(n).replace(r"\ ", "[ -]") for n in sorted(names, key=len, reverse=True))
    pattern = re.compile(rf"(?<![\w./,-])(\d+)[ \u00a0]({ways})(?:s|es)?\b", re.IGNORECASE)
    for prose in written:
        for match in pattern.finditer(BRACES.sub(lambda m: "\x00" * len(m.group()), prose.text)):
            counts = counts if counts is not None else known_counts(project)
            name, number = names[match[2].lower().replace("-", " ")], int(match[1])
            if number > 1 and counts[name] and number not in counts[name]:
                made = listed([str(n) for n in sorted(counts[name] - {0})])
                yield Problem(
                    "number-in-prose",
                    f"{match[0]} stands in the text, and the pattern has no such number of {name}.",
                    place(prose, match.start(), match.end()),
                    causes=(
                        f"Its numbers there are {made}: in all, or in what it is sewn into.",
                        "A number typed into a text stays as it is when the pattern changes.",
                    ),
                    advice=True,
                )


def sizes_in(prose: Prose, units: Units) -> Iterator[Typed]:
    """The sizes typed into a text. A bare whole number is a count, not a size; ``3 in all`` is none either."""
    text = BRACES.sub(lambda m: "\x00" * len(m.group()), prose.text)
    if not any(c.isdigit() or c in _ANY for c in text):
        return
    for match in re.finditer(_SIZE, text):
        first, second, unit = match.groups()
        if unit == "in" and first.isdigit() and re.match(_AFTER_IN, text[match.end() :]):
            continue
        mixed = any(
            re.search(rf"\d[ \u00a0-]\d+/|[{_ANY}]", n) and not n.startswith(tuple(_SIGNS))
            for n in (first, second or "")
        )
        if not unit and not mixed:
            continue
        scale = INCHES_IN.get(_WHOLE_NUMBERS.get(unit, unit), Fraction(1)) if unit else units.inches
        values = [_value(n) for n in (first, second) if n]
        if all(v is not None for v in values):
            yield Typed(
                match.group().strip().rstrip("."),
                match.start(),
                match.end(),
                tuple(v * scale for v in values if v is not None),
                _kind(text, match.start(), match.end(), unit or ""),
            )


def _kind(text: str, start: int, end: int, unit: str) -> Kind | None:
    """Which kind of size is spoken of: amounts by their unit, others by the last such word before the number in its
    sentence, or by one that follows at once."""
    if unit.lower().rstrip("s") in ("yd", "yard", "m", "metre"):
        return "amount"
    before = re.split(r"[.;:!?]\s|\n\n|,", text[max(0, start - 60) : start])[-1]
    after = re.match(r"[ \u00a0](\w+(?: edge)?)", text[end : end + 24])
    found = [(m.end(), kind) for kind, words in _KINDS for m in re.finditer(rf"\b(?:{words})\b", before.lower())]
    if after is not None:
        found += [(len(before) + 1, kind) for kind, words in _KINDS if re.fullmatch(words, after[1].lower())]
    return max(found)[1] if found else None


def _value(text: str) -> Fraction | None:
    for sign, plain in _SIGNS.items():
        text = text.replace(sign, f" {plain}")
    try:
        return sum((Fraction(part) for part in re.split(r"[\s\u00a0-]+", text.strip())), Fraction(0))
    except (ValueError, ZeroDivisionError):
        return None
