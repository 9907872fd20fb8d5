"""Small patterns put together by hand for the tests of unit kinds: units in, makings and problems out."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from patternkit.lengths import Length
from patternkit.model.pattern import Claim, Component, Fabric, Pattern, Row, Settings, Unit
from patternkit.piecing.making import Making
from patternkit.piecing.sizing import Sizing
from patternkit.piecing.solving import solve
from patternkit.piecing.workshop import Workshop
from patternkit.pressing.statements import press_making
from patternkit.problems import Problem
from patternkit.sizes.affine import Affine
from patternkit.source import Span
from patternkit.syntax.statements import Mark, MethodStatement, Num, Option, Ref

QUARTER = Fraction(1, 4)
EIGHTH = Fraction(1, 8)


def num(text: str | int | Fraction | Length) -> Length:
    """A length from text as a writer types it: ``2 7/8``."""
    if isinstance(text, str):
        return Length(sum((Fraction(part) for part in text.split()), Fraction(0)))
    return Length(text)


class Desk:
    """Collects units by hand; `made` works everything out."""

    def __init__(self, seam: Fraction | Length = QUARTER, grid: Fraction = EIGHTH) -> None:
        self.units: dict[str, Unit] = {}
        self.fabrics: dict[str, Fabric] = {}
        self.settings = Settings(seam=Length(seam), ruler=grid)
        self._at = 0

    def span(self) -> Span:
        """A place of its own for every statement."""
        self._at += 1
        return Span("test", self._at * 10, self._at * 10 + 5)

    def piece(self, text: str, slot: str) -> Component:
        """``night``, ``corner turned 90``, ``sand cut 1 1/4``, ``glow 3 x 4``, ``goose mirrored``."""
        name, *rest = text.split()
        turned, mirrored, cut = 0, "mirrored" in rest, "cut" in rest
        if "turned" in rest:
            at = rest.index("turned")
            turned = int(rest[at + 1])
            rest = rest[:at]
        sizes = " ".join(r for r in rest if r not in ("mirrored", "cut"))
        sides = [Affine(num(side)) for side in sizes.split(" x ")] if sizes else []
        unit = name if name in self.units else ""
        if not unit:
            self.fabrics.setdefault(name, Fabric(name, name, "", "", False, Length(40), Fraction(9, 2), self.span()))
        return Component(
            slot,
            name,
            self.span(),
            unit,
            "" if unit else name,
            turned,
            mirrored,
            sides[0] if sides else None,
            sides[1] if len(sides) > 1 else None,
            cut,
        )

    def unit(
        self,
        name: str,
        kind: str,
        *lines: str,
        row_marks: str = "",
        finished: str = "",
        measures: str = "",
        cut: str = "",
        method: str = "",
        value: str = "",
        make: int | None = None,
        **options: str,
    ) -> Unit:
        """Add a unit; a line has its pieces separated by marks or commas; an option's clauses by commas."""
        rows = []
        for n, line in enumerate(lines, 1):
            words, marks = _split(line)
            rows.append(
                Row(
                    tuple(self.piece(w, f"{n}.{i + 1}") for i, w in enumerate(words)),
                    tuple(Mark(m, self.span()) for m in marks),
                    self.span(),
                )
            )
        claims = []
        for word, text in (("finished", finished), ("measures", measures), ("cut", cut)):
            if text:
                sides = [Affine(num(s)) for s in text.split(" x ")]
                claims.append(Claim(word, sides[0], sides[1] if len(sides) > 1 else None, self.span()))
        between: list[Mark | None] = [Mark(m, self.span()) if m != "." else None for m in row_marks.split()]
        if not between:
            between = [None] * (len(rows) - 1)
        found = Unit(
            name,
            name,
            name,
            "unit",
            kind,
            self.span(),
            self.span(),
            tuple(rows),
            tuple(between),
            tuple(claims),
            tuple(self.option(w.replace("_", "-"), t) for w, t in options.items()),
            MethodStatement(method, None, self.span()) if method else None,
            Affine(num(value)) if value else None,
            make=make,
        )
        self.units[name] = found
        return found

    def option(self, word: str, text: str) -> Option:
        """``2`` is a number, ``top left, bottom right`` are words."""
        clauses: list[tuple[Any, ...]] = []
        for clause in text.split(","):
            if clause.strip()[0].isdigit():
                clauses.append((Num(num(clause).fraction, None, self.span()),))
            else:
                clauses.append(tuple(Ref(w, self.span()) for w in clause.split()))
        return Option(word, self.span(), tuple(clauses), self.span())

    def work(self) -> tuple[dict[str, Making], list[Problem]]:
        """All makings, and every problem of the sizes, the equations and the makings."""
        pattern = Pattern(self.settings, self.fabrics, self.units, None, {})
        sizing = Sizing(pattern)
        solution = solve(sizing)
        shop = Workshop(pattern, sizing, solution, press_making)
        made = shop.make_all()
        wrong = [Problem("does-not-add-up", str(c)) for c in solution.contradictions]
        return made, [*sizing.problems, *shop.problems, *wrong]

    def made(self, name: str) -> Making:
        """One making; fails when there is a problem."""
        makings, problems = self.work()
        assert not problems, [p.message for p in problems]
        return makings[name]


def _split(line: str) -> tuple[list[str], list[str]]:
    words: list[str] = [""]
    marks: list[str] = []
    for token in re.sub(r"(<>|[|<>,])", r" \1 ", line).split():
        if token in ("|", ">", "<", "<>", ","):
            marks.append(token)
            words.append("")
        else:
            words[-1] = f"{words[-1]} {token}".strip()
    return words, marks


def one(kind: str, *lines: str, seam: Fraction | Length = QUARTER, grid: Fraction = EIGHTH, **said: Any) -> Making:
    """The making of a single unit."""
    desk = Desk(seam, grid)
    desk.unit("it", kind, *lines, **said)
    return desk.made("it")


def problems_of(
    kind: str, *lines: str, seam: Fraction | Length = QUARTER, grid: Fraction = EIGHTH, **said: Any
) -> list[Problem]:
    """The problems of a single unit."""
    desk = Desk(seam, grid)
    desk.unit("it", kind, *lines, **said)
    return desk.work()[1]
