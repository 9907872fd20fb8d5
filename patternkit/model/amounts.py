"""What a fabric says is bought: a length, or of cloth that comes in sheets a number of them or of packs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from patternkit.model.pattern import Stock
from patternkit.model.values import Broken, Values
from patternkit.sizes.affine import Affine
from patternkit.syntax.statements import BuyClaim, Num

MOST = 10_000  # sheets or packs that anybody buys


def bought(
    claim: BuyClaim, stock: Stock | None, by_length: bool, env: Mapping[str, Affine], values: Values
) -> dict[str, Any]:
    """The fields of a fabric that a ``buy`` line fills.

    A bare number of cloth that comes in sheets is a number of packs where it comes in packs, otherwise of sheets; with
    ``strips``, ``squares`` or ``fat quarters`` behind it, it is a number of sheets. Raises Broken after noting what is
    wrong with it.
    """
    sheets = stock is not None and not by_length
    bare = isinstance(claim.value, Num) and claim.value.unit is None
    found: dict[str, Any] = {"buy_span": claim.span}
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
