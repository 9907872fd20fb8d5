"""The statements of a contradiction in an order that can be followed: each works out one more size.

The last one meets a size that the others have already given; there the two disagree.
"""

from __future__ import annotations

from bisect import insort
from collections.abc import Mapping

import msgspec

from patternkit.lengths import Length
from patternkit.sizes.affine import Affine
from patternkit.sizes.causes import Var
from patternkit.sizes.solution import Contradiction, ContradictionTerm


class Walk(msgspec.Struct, frozen=True):
    """Parts in order, the size that each gave (None where it gave none), all sizes found, and the closing part.

    A size that no statement gives by itself stands in as a parameter of its own, named by ``unknown[size]``, until a
    statement settles it; `shown` has for each part its sizes as they are known there. What is never settled cancels out
    of the contradiction and is left `open`.
    """

    parts: tuple[ContradictionTerm, ...]
    gives: tuple[Var | None, ...]
    values: Mapping[Var, Affine]
    closing: ContradictionTerm
    unknown: Mapping[Var, str]
    shown: tuple[Mapping[Var, Affine], ...] = ()
    open: Mapping[Var, str] = {}


def walk(conflict: Contradiction, env: Mapping[str, Length], name: Mapping[Var, str]) -> Walk:
    """Put the parts of a conflict in order, with the parameters of `env` put in where they are known."""
    closing = _closing(conflict)
    todo = [p for p in conflict.parts if p is not closing]
    # What the writer typed comes in the order in which she typed it; structure follows as soon as it can.
    todo.sort(key=lambda p: (p.cause.claim, p.cause.span, p.equation))
    line = _Line(todo)
    values: dict[Var, Affine] = {}
    unknown: dict[Var, str] = {}
    parts: list[ContradictionTerm] = []
    gives: list[Var | None] = []
    shown: list[Mapping[Var, Affine]] = []
    open_: dict[str, Var] = {}
    while len(parts) < len(todo):
        part = line.next()
        if part is None:
            var = next(v for p in todo for v in p.terms if v not in values)
            unknown[var] = f"({name.get(var, var)} {len(unknown) + 1})"
            open_[unknown[var]] = var
            values[var] = Affine.parameter(unknown[var])
            line.known(var)
            continue
        var = next((v for v in part.terms if v not in values), None)
        if var is not None:
            rest = part.right.at(env)
            for v, c in part.terms.items():
                if v != var:
                    rest = rest - values[v] * Affine(Length(c))
            values[var] = rest / Affine(Length(part.terms[var]))
            line.known(var)
        else:
            var = _substituted(part, env, values, open_)
        parts.append(part)
        gives.append(var)
        shown.append({v: values[v] for v in part.terms} | ({var: values[var]} if var is not None else {}))
    left = {var: text for text, var in open_.items()}
    return Walk(tuple(parts), tuple(gives), values, closing, unknown, tuple(shown), left)


def _substituted(
    part: ContradictionTerm, env: Mapping[str, Length], values: dict[Var, Affine], open_: dict[str, Var]
) -> Var | None:
    """The size left open that a statement about known sizes settles; it is put into all that rest on it."""
    left = part.right.at(env)
    for v, c in part.terms.items():
        left = left - values[v] * Affine(Length(c))
    text = next((name for name in left.coefs if name in open_), None)
    if text is None:
        return None
    more = Affine.parameter(text) * Affine(left.coefs[text])
    found = (more - left) / Affine(left.coefs[text])
    for v, value in values.items():
        if text in value.coefs:
            values[v] = value + (found - Affine.parameter(text)) * Affine(value.coefs[text])
    return open_.pop(text)


class _Line:
    """Parts waiting until all their sizes but one are known; structure goes before stated sizes, so that sums follow
    their pieces at once."""

    def __init__(self, parts: list[ContradictionTerm]) -> None:
        self.parts = parts
        self.open = [len(p.terms) for p in parts]
        self.uses: dict[Var, list[int]] = {}
        self.ready: list[tuple[bool, int]] = []
        for i, part in enumerate(parts):
            for var in part.terms:
                self.uses.setdefault(var, []).append(i)
            if self.open[i] <= 1:
                insort(self.ready, (part.cause.stated, i))

    def known(self, var: Var) -> None:
        """A size has been found."""
        for i in self.uses[var]:
            self.open[i] -= 1
            if self.open[i] == 1:
                insort(self.ready, (self.parts[i].cause.stated, i))

    def next(self) -> ContradictionTerm | None:
        """The next part that is ready, or None when all that is left has two open sizes or more."""
        return self.parts[self.ready.pop(0)[1]] if self.ready else None


def _closing(conflict: Contradiction) -> ContradictionTerm:
    """Where to let the two sides meet: a claim of the writer's if there is one, else a seam, else a sum."""

    def rank(p: ContradictionTerm) -> tuple[int, int]:
        cause = p.cause
        kind = 0 if cause.claim else 1 if cause.parts and cause.whole is None else 2 if cause.parts else 3
        return kind if not cause.stated or cause.claim else 4, -p.equation

    return min(conflict.parts, key=rank)
