"""One wrong number or word planted in sound patterns: how often an offer of the check brings back a sound one.

    python -m patternkit.bench.offers [PATTERNS] [--first SEED]

Each number from SEED on gives one pattern with one slip, the same every time. A slip that does no harm is passed over.
Told are those that neither the first nor the second offer of any problem mends, and offers that lead to as many
problems as there were, or more.
"""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cache
from pathlib import Path
from random import Random

import msgspec

from patternkit.desk.files import open_project
from patternkit.desk.offers import tried
from patternkit.desk.session import Session
from patternkit.problems import Problem

ROOT = Path(__file__).parents[2]
_NUMBER = re.compile(r'(?<![\w#"/.])\d+(?: \d+/\d+|/\d+)?(?![\w"/.])')
_WORD = re.compile(r"(?<=[ |(])[a-z][a-z-]{3,}")
_STEPS = tuple(map(Fraction, ("1/2", "-1/2", "1/8", "1", "-1", "1/4")))
MOST_TRIED = 8
"""Offers of one slip that are taken here, each by itself."""


class PlantedSlip(msgspec.Struct, frozen=True):
    """One slip in a pattern: where it was planted, what it did, and how many offers mend it or make it no better."""

    path: Path
    line: int
    before: str
    after: str
    codes: tuple[str, ...]
    offers: tuple[str, ...]
    mended: bool
    in_vain: tuple[str, ...]


def patterns() -> list[Path]:
    """The patterns of the tests and the examples that are sound."""
    found = [*(ROOT / "tests" / "sayable").rglob("*.pattern"), *(ROOT / "examples").rglob("*.pattern")]
    return sorted(p for p in found if "wrong" not in p.name and p.parent.name != "shared")


@cache
def session(path: Path) -> Session:
    """One session for each pattern: only what a slip changes is worked out again."""
    return Session(str(path), open_project(path).reader)


def wrong(path: Path, text: str) -> list[Problem]:
    """The problems of a text that are no advice."""
    return [p for p in session(path).check(text) if not p.advice]


def slips(first: int, files: Sequence[Path]) -> Iterator[PlantedSlip]:
    """Slips that do harm, from a seed on, without end."""
    seed = first
    while True:
        rng, path = Random(seed), files[seed * 7919 % len(files)]
        seed += 1
        text = path.read_text(encoding="utf-8")
        planted = _planted(text, rng)
        if planted is None:
            continue
        at, before, after = planted
        changed = text[:at] + after + text[at + len(before) :]
        problems = wrong(path, changed)
        if problems:
            yield _answered(path, changed, problems, text.count("\n", 0, at) + 1, before, after)


def _planted(text: str, rng: Random) -> tuple[int, str, str] | None:
    """A place, what stands there, and what a slip makes of it."""
    lines = [m for m in re.finditer(r"[^\n]+", text) if m[0].lstrip()[0] != "#" and '"' not in m[0]]
    if not lines:
        return None
    line, number = rng.choice(lines), rng.random() < 2 / 3
    places = list((_NUMBER if number else _WORD).finditer(line[0].partition("#")[0]))
    if not places:
        return None
    found = rng.choice(places)
    after = _near(found[0], rng) if number else _misspelled(found[0], rng)
    return None if after in ("", found[0]) else (line.start() + found.start(), found[0], after)


def _near(number: str, rng: Random) -> str:
    value = sum(map(Fraction, number.split())) + rng.choice(_STEPS)
    whole, part = divmod(value, 1)
    return " ".join(filter(None, (f"{whole}" if whole else "", f"{part}" if part else ""))) if value > 0 else ""


def _misspelled(word: str, rng: Random) -> str:
    n = rng.randrange(len(word) - 1)
    way = rng.choice(("dropped", "twice", "swapped"))
    if way == "dropped":
        return word[:n] + word[n + 1 :]
    return word[: n + 1] + word[n:] if way == "twice" else word[:n] + word[n + 1] + word[n] + word[n + 2 :]


def _answered(path: Path, text: str, problems: list[Problem], line: int, before: str, after: str) -> PlantedSlip:
    project = session(path).project
    assert project is not None  # it was checked
    offers = [
        (place, repair)
        for problem in tried(project, problems)
        for place, repair in enumerate(problem.repairs)
        if repair.replacement is not None and repair.span is not None and repair.span.file == str(path)
    ]
    left = [(place, offer, len(wrong(path, offer.taken(text)))) for place, offer in offers[:MOST_TRIED]]
    return PlantedSlip(
        path,
        line,
        before,
        after,
        tuple(p.code for p in problems),
        tuple(offer.text for _, offer in offers),
        any(not n and place < 2 for place, _, n in left),
        tuple(offer.text for _, offer, n in left if n >= len(problems)),
    )


def main() -> None:
    """Plant slips, take offers, tell the shares."""
    asked = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    asked.add_argument("many", nargs="?", type=int, default=100, metavar="PATTERNS")
    asked.add_argument("--first", type=int, default=0, metavar="SEED")
    wish = asked.parse_args()
    done = [slip for slip, _ in zip(slips(wish.first, patterns()), range(wish.many), strict=False)]
    for slip in done:
        if not slip.mended or slip.in_vain:
            what = "not mended" if not slip.mended else "in vain"
            where = f"{slip.path.relative_to(ROOT)}:{slip.line}"
            print(f"{what}: {where}: {slip.before!r} to {slip.after!r}: {', '.join(slip.codes[:4])}")
            for text in slip.in_vain or slip.offers[:4]:
                print(f"    {text}")
    mended, vain = sum(s.mended for s in done), sum(bool(s.in_vain) for s in done)
    print(f"{mended} of {len(done)} slips are mended by a first or second offer; offers in vain after {vain}")


if __name__ == "__main__":
    main()
