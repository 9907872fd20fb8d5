"""What a fabric says is bought: a length, or of cloth that comes in sheets a number of them or of packs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import msgspec

from patternkit.model.pattern import Fabric, Stock
from patternkit.model.report import Notebook
from patternkit.model.values import Broken, Values
from patternkit.sizes.affine import Affine
from patternkit.source import Span
from patternkit.syntax.statements import BuyClaim, BuysClaim, Num

MOST = 10_000  # sheets or packs that anybody buys


def bought(
    claim: BuyClaim,
    stock: Stock | None,
    by_length: bool,
    env: Mapping[str, Affine],
    values: Values,
    group: bool = False,
) -> dict[str, Any]:
    """The fields of a fabric that a ``buy`` line fills.

    A bare number of cloth that comes in sheets is a number of packs where it comes in packs, otherwise of sheets; with
    ``strips``, ``squares`` or ``fat quarters`` behind it, it is a number of sheets. Raises Broken after noting what is
    wrong with it.
    """
    sheets = stock is not None and not by_length
    bare = isinstance(claim.value, Num) and claim.value.unit is None
    found: dict[str, Any] = {"buy_span": claim.span, "buy_each": claim.each}
    if claim.each and not group:
        values.notes.report(
            "out-of-place",
            "This is one fabric, so from each says nothing.",
            claim.span,
            causes=["From each is said of a group of prints, which is named by fabrics."],
        )
        raise Broken
    if not claim.form and not (sheets and bare):
        return {**found, "buy": values.length(claim.value, env)}
    if not sheets or claim.form not in ("", "packs", stock.form if stock is not None else ""):
        how = "by length" if stock is None or by_length else f"as {stock.form.replace('-', ' ')}"
        what = claim.form.replace("-", " ")
        values.notes.report("out-of-place", f"This fabric is sold {how}, and not in {what}.", claim.span)
        raise Broken
    n = values.count(claim.value, env, "The number to buy", MOST, 0)
    if claim.form in ("", "packs"):
        return {**found, "buy_packs": n, "buy_bare": not claim.form}
    return {**found, "buy_sheets": n}


def bought_for_size(
    lines: Sequence[BuysClaim], fabrics: dict[str, Fabric], env: Mapping[str, Affine], values: Values, notes: Notebook
) -> None:
    """Put what the lines under a row of sizes say is bought in the place of what the fabrics say."""
    met: dict[str, Span] = {}
    for name, claim in (one for line in lines for one in line.bought):
        fabric = fabrics.get(name.name)
        if fabric is None:
            notes.unknown("fabric", name.name, name.span, fabrics)
        elif name.name in met:
            notes.report("named-twice", f"This size says twice what is bought of {name.name}.", name.span)
        else:
            met[name.name] = name.span
            try:
                found = bought(claim, fabric.stock, fabric.by_length, env, values, fabric.group is not None)
            except Broken:
                continue
            bare: dict[str, Any] = {"buy": None, "buy_packs": None, "buy_sheets": None, "buy_bare": False}
            fabrics[name.name] = msgspec.structs.replace(fabric, **{**bare, **found}, by_size=True)
