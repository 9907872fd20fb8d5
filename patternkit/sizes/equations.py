"""The equations of a system of sizes, and the rows in which they are kept while they are solved."""

from __future__ import annotations

import msgspec

from patternkit.sizes.affine import Affine
from patternkit.sizes.causes import Cause, Var
from patternkit.sizes.numbers import Exact


class Symbol:
    """A parameter inside the solver; the plain length has the empty name."""

    __slots__ = ("name",)

    def __init__(self, name: str) -> None:
        self.name = name


Terms = dict[Var, Exact]
Known = dict[Symbol, Exact]
Node = tuple[tuple[int, Exact], ...]  # (node, multiplier); ~number stands for an equation as it was given


class SolvedRow(msgspec.Struct, gc=False):
    """A settled size: the sum of `terms` (sizes still open) and `known` (parameters, plain length)."""

    terms: Terms
    known: Known
    node: int


class Equation(msgspec.Struct, frozen=True, gc=False):
    """The sum of `terms` is `right`, because of `cause`."""

    terms: Terms
    right: Affine
    cause: Cause
