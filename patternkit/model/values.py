"""Arithmetic of the pattern file: expressions to exact values, linear in the pattern's parameters.

A value is in the file's own unit (so that ``across 5`` and ``side 9`` are both plain numbers); `length` gives it in
inches. Where a value is not linear in the parameters (``side * side``) one factor is taken at its present value, and
the pattern is then checked for that value only.
"""

from __future__ import annotations

from collections.abc import Mapping

from patternkit.lengths import ONE, Length
from patternkit.model.report import Notebook
from patternkit.sizes.affine import Affine, NotLinear
from patternkit.sizes.numbers import bits, lower
from patternkit.source import Span
from patternkit.syntax.statements import Binary, Call, Expr, Num, Ref
from patternkit.units import Units, inches_in

MOST_BITS = 400  # of a fraction's two numbers together
LARGEST = 100_000  # in the file's units: no quilt, border or count is larger; keeps arithmetic bounded


class Broken(Exception):
    """An expression has no value; the reason has been noted."""


class Values:
    """Evaluates expressions for one pattern: units, present parameter values, and where to note problems."""

    def __init__(self, units: Units, parameters: Mapping[str, Length], notes: Notebook) -> None:
        self.units, self.parameters, self.notes = units, parameters, notes
        self.frozen: dict[str, Span] = {}  # parameters that had to be taken at their present value, and where

    def value(self, e: Expr, env: Mapping[str, Affine]) -> Affine:
        """The value of an expression in the file's unit; raises Broken after noting why there is none."""
        if isinstance(e, Num):
            return Affine(self._number(e))
        if isinstance(e, Ref):
            if e.name not in env:
                self.notes.unknown("length or number", e.name, e.span, env)
                raise Broken
            return env[e.name]
        return self._bounded(self._call(e, env) if isinstance(e, Call) else self._binary(e, env), e.span)

    def _bounded(self, value: Affine, span: Span) -> Affine:
        """A value whose numbers are of a size that can still be worked with and printed; raises Broken otherwise."""
        numbers = (value.const, *value.coefs.values())
        if any(bits(lower(x)) > MOST_BITS or abs(x) > LARGEST * LARGEST for x in numbers):
            self.notes.report("too-large", "This comes to a number that nothing in a quilt needs.", span)
            raise Broken
        return value

    def _number(self, e: Num) -> Length:
        if abs(e.value) > LARGEST:
            self.notes.report("too-large", f"{e.value} is larger than anything in a quilt.", e.span)
            raise Broken
        if e.unit is None:
            return Length(e.value)
        inches = inches_in(e.unit)
        if inches is None:
            self.notes.report("unknown-word", f"{e.unit} is not a unit of length.", e.span)
            raise Broken
        return Length(e.value * inches / self.units.inches)

    def _call(self, e: Call, env: Mapping[str, Affine]) -> Affine:
        args = [self.value(a, env) for a in e.args]
        if e.name == "-" and len(args) == 1:
            return -args[0]
        if e.name == "root" and len(args) == 1:
            try:
                return Affine(self.now(args[0], e.span).sqrt())
            except ValueError:
                self.notes.report(
                    "no-value",
                    "This number has no exact square root that can be worked with.",
                    e.span,
                    causes=["root(...) takes a number that is not negative, such as root(2)."],
                )
                raise Broken from None
        self.notes.unknown("function", e.name, e.span, ["root"])
        raise Broken

    def _binary(self, e: Binary, env: Mapping[str, Affine]) -> Affine:
        left, right = self.value(e.left, env), self.value(e.right, env)
        if e.op == "+":
            return left + right
        if e.op == "-":
            return left - right
        if e.op == "/":
            below = self.now(right, e.right.span)
            if not below:
                self.notes.report(
                    "no-value", "This divides by nothing.", e.span, causes=["What stands behind the / comes to 0."]
                )
                raise Broken
            return left * (ONE / below)
        try:
            return left * right
        except NotLinear:
            return left * self.now(right, e.right.span)

    def now(self, value: Affine, span: Span) -> Length:
        """The value at the parameters' present values, remembering that it does not follow them."""
        for name in value.coefs:
            self.frozen.setdefault(name, span)
        return value.value(self.parameters)

    def length(self, e: Expr, env: Mapping[str, Affine]) -> Affine:
        """An expression as a length in inches."""
        return self.value(e, env) * self.units.inches

    def count(self, e: Expr, env: Mapping[str, Affine], what: str, most: int, least: int = 1) -> int:
        """An expression as a whole number from `least` to `most`; raises Broken after noting what is wrong with it."""
        if isinstance(e, Num) and e.unit is not None:
            self.notes.report("not-a-count", f"{what} is counted, and has no unit of measure behind it.", e.span)
            raise Broken
        n = self.value(e, env).value(self.parameters)
        if not n.is_fraction or n.fraction.denominator != 1:
            self.notes.report("not-a-count", f"{what} must be a whole number.", e.span)
            raise Broken
        if not least <= n.fraction <= most:
            limit = f"at least {least}" if n.fraction < least else f"at most {most}"
            self.notes.report("too-large" if n.fraction > most else "not-a-count", f"{what} must be {limit}.", e.span)
            raise Broken
        return int(n.fraction)


def plain_number(e: Expr) -> bool:
    """True for a ``let`` that is given as a number and not worked out from other names: a parameter."""
    if isinstance(e, Num):
        return True
    if isinstance(e, Ref):
        return False
    parts = e.args if isinstance(e, Call) else (e.left, e.right)
    return all(plain_number(p) for p in parts)


def named(e: Expr) -> frozenset[str]:
    """The names that an expression speaks of."""
    if isinstance(e, Ref):
        return frozenset((e.name,))
    parts = () if isinstance(e, Num) else e.args if isinstance(e, Call) else (e.left, e.right)
    return frozenset().union(*(named(p) for p in parts))


def numbers(*sides: Expr | None) -> tuple[Span | None, Span | None]:
    """The places of a width and a height where they stand as plain numbers, for repairs."""
    found = [e.span if isinstance(e, Num) else None for e in sides]
    return (found[0], found[1] if len(found) > 1 else None)
