"""The statements of a contradiction in an order that can be followed: each works out one more size.

The last one meets a size that the others have already given; there the two disagree.
"""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from patternkit.lengths import Length
from patternkit.sizes.affine import Affine
from patternkit.sizes.causes import Var
from patternkit.sizes.solution import Conflict, Part


class Walk(msgspec.Struct, frozen=True):
    """Parts in order, the size that each gave (None where it gave none), all sizes found, and the closing
    part.

    `given` by statements in order; sizes that cancel out of the contradiction stand in `values` as a
    parameter of their own, named by ``unknown[size]``.
    """

    parts: tuple[Part, ...]
    gives: tuple[Var | None, ...]
    values: Mapping[Var, Affine]
    closing: Part
    unknown: Mapping[Var, str]


def walk(conflict: Conflict, env: Mapping[str, Length], name: Mapping[Var, str]) -> Walk:
    """Put the parts of a conflict in order, with the parameters of `env` put in where they are known."""
    closing = _closing(conflict)
    todo = [p for p in conflict.parts if p is not closing]
    # What the writer typed comes in the order in which she typed it; structure follows as soon as it can.
    todo.sort(key=lambda p: (p.cause.claim, p.cause.span))
    values: dict[Var, Affine] = {}
    unknown: dict[Var, str] = {}
    parts: list[Part] = []
    gives: list[Var | None] = []
    while todo:
        part = _next(todo, values)
        if part is None:
            var = next(v for p in todo for v in p.terms if v not in values)
            unknown[var] = f"({name.get(var, var)})"
            values[var] = Affine.parameter(unknown[var])
            continue
        todo.remove(part)
        var = next((v for v in part.terms if v not in values), None)
        if var is not None:
            rest = part.right.at(env)
            for v, c in part.terms.items():
                if v != var:
                    rest = rest - values[v] * Affine(Length(c))
            values[var] = rest / Affine(Length(part.terms[var]))
        parts.append(part)
        gives.append(var)
    return Walk(tuple(parts), tuple(gives), values, closing, unknown)


def _next(todo: list[Part], values: Mapping[Var, Affine]) -> Part | None:
    """Structure that is ready before the next stated size, so that sums follow their pieces at once."""
    ready = [p for p in todo if sum(v not in values for v in p.terms) <= 1]
    return next((p for p in ready if not p.cause.stated), ready[0] if ready else None)


def _closing(conflict: Conflict) -> Part:
    """Where to let the two sides meet: a claim of the writer's if there is one, else a seam, else a sum."""
    def rank(p: Part) -> tuple[int, int]:
        cause = p.cause
        kind = 0 if cause.claim else 1 if cause.parts and cause.whole is None else 2 if cause.parts else 3
        return kind if not cause.stated or cause.claim else 4, -p.equation

    return min(conflict.parts, key=rank)
