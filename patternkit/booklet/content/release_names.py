"""Which release is asked for, and what releases are called: by number, date or title."""

from __future__ import annotations

from patternkit.booklet.content.context import Context
from patternkit.booklet.phrases import Phrases
from patternkit.model.pattern import Pattern, Release
from patternkit.problems import PatternError, Problem

REST = "rest"
"""What is asked for to get what no release makes."""


def find_release(pattern: Pattern, asked: str) -> int:
    """The number, from 0, of the release with a title (however its letters are cased), a date or a number from 1; for
    `REST` the number after the last. Raises PatternError naming those there are, also where two would do."""
    wanted = asked.strip().casefold()
    parts = pattern.parts
    for called in ([p.title.strip().casefold() for p in parts], [p.date for p in parts]):
        found = [n for n, name in enumerate(called) if name and name == wanted]
        if len(found) == 1:
            return found[0]
        if found:
            raise _unknown(pattern, f"The pattern has {len(found)} parts called {asked}; ask for one by its number.")
    if wanted.isdecimal() and 1 <= int(wanted) <= len(parts):
        return int(wanted) - 1
    if parts and wanted == REST:
        return len(parts)
    raise _unknown(pattern, f"The pattern has no part called {asked}.")


def _unknown(pattern: Pattern, message: str) -> PatternError:
    there = "; ".join(_listed(n, part) for n, part in enumerate(pattern.parts, 1))
    cause = f"It has {there}." if there else "It has no parts."
    return PatternError([Problem("unknown-name", message, pattern.settings.span, causes=(cause,))])


def _listed(number: int, part: Release) -> str:
    return " ".join(word for word in (f"{number}:", part.title, f"({part.date})" if part.date else "") if word)


def release_title(number: int, ctx: Context) -> str:
    """The title of a release with its date; what no release makes has a title too."""
    if number >= len(ctx.pattern.parts):
        return ctx.say("parts.rest")
    part = ctx.pattern.parts[number]
    return ctx.say("parts.title", title=part.title, date=date_words(part.date, ctx.phrases))


def date_words(date: str, phrases: Phrases) -> str:
    """A date of year, month and day in the booklet's language: ``2 March 2026``, ``2. März 2026``."""
    if not date:
        return ""
    year, month, day = (int(number) for number in date.split("-"))
    return phrases.say("parts.date", day=day, month=phrases.list("parts.months")[month - 1], year=year)
