"""``python -m tests.generate.matrix [PART OF]``: every kind and method in patterns of several seams and rulers, sewn.

In inches and in centimetres; tells which can't be made, or do not hold.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from fractions import Fraction
from random import Random

from patternkit.checks import run
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of

from .kinds import wishes
from .measures import Measures
from .whole import plain
from .writer import Writer

MEASURES = (
    Measures("inches", Fraction(3, 8), Fraction(1, 8), Fraction(40)),
    Measures("cm", Fraction(3, 4), Fraction(1, 4), Fraction(110)),
    Measures("inches", Fraction(1, 2), Fraction(1, 4), Fraction(40)),
    Measures("cm", Fraction(1), Fraction(1, 2), Fraction(110)),
    Measures("inches", Fraction(3, 16), Fraction(1, 16), Fraction(40)),
    Measures("cm", Fraction(1, 2), Fraction(1, 10), Fraction(110)),
)
TRIES = 8


def wrong(word: str, method: str, m: Measures) -> list[str]:
    """What is wrong with a kind by a method: the last problem where numbers do not come out, or gaps; nothing where all
    holds."""
    why = ["never written"]
    for attempt in range(TRIES):
        w = Writer(Random(f"{word} {method} {attempt}"), Random(f"numbers {attempt}"), frozenset({"kinds"}), m)
        w.wish, w.press = (word, method), ""
        text = plain(w)
        if not any(line.split()[:1] == [word] for line in text.splitlines()):
            continue
        project = Project("matrix", text)
        why = [p.message for p in run(project) if not p.advice]
        if not why:
            return [gap.kind for gap in rehearse(*order_of(project))]
    return why


def all_of_it() -> Iterator[tuple[str, str, Measures]]:
    """Every kind and method with all measures; pieces of units that are cut apart come where others do."""
    for word, method in dict.fromkeys(wishes()):
        if word != "cut-apart":
            yield from ((word, method, m) for m in MEASURES)


if __name__ == "__main__":
    part, of = map(int, sys.argv[1:3] or ("0", "1"))
    for case in list(all_of_it())[part::of]:
        if found := wrong(*case):
            print(*case, found)
