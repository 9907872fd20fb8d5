"""Counted cuts that a fabric or a unit claims, with their numbers worked out."""

from __future__ import annotations

from collections.abc import Mapping

from patternkit.model.cut_lines import AlsoCut, ClaimedCut, ClaimedCuts, ClaimedStripUnits
from patternkit.model.groups import Prints
from patternkit.model.report import Notebook
from patternkit.model.values import Broken, Values, numbers
from patternkit.sizes.affine import Affine
from patternkit.syntax.statements import Also, CountedCut, CutsClaim, StripUnitsClaim

MOST_CUT = 1_000_000


def claimed_cuts(
    s: CutsClaim,
    fabrics: Mapping[str, str],
    own: str,
    env: Mapping[str, Affine],
    values: Values,
    notes: Notebook,
    prints: Prints | None = None,
) -> ClaimedCuts:
    """A line of counted cuts of the fabric `own`, or under a unit (then it is "") of those named behind them.

    Raises Broken after noting what is wrong with it.
    """
    keys = [_fabric(cut, fabrics, own, notes, prints, env, values) for cut in s.cuts]
    for n in range(len(keys) - 2, -1, -1):  # the fabric stands behind the last of several
        keys[n] = keys[n] or keys[n + 1]
    if not all(keys):
        bare = next(cut for cut, key in zip(s.cuts, keys, strict=True) if not key)
        some = next(iter(fabrics), "night")
        notes.report(
            "not-understood",
            "Nothing says which fabric is cut.",
            bare.span,
            causes=[f"Under a unit the fabric stands behind the size: cut 2 of 3 7/8 {some}."],
        )
        raise Broken
    if s.each and not own:
        notes.report(
            "out-of-place",
            "Under a unit the cuts are those for one of it, so from each says nothing.",
            s.span,
            causes=["How many come from each sheet of a cloth is said under its fabric."],
        )
        raise Broken
    return ClaimedCuts(
        tuple(_cut(cut, key, env, values) for cut, key in zip(s.cuts, keys, strict=True)), s.span, s.each
    )


def also_cut(
    s: Also, fabrics: Mapping[str, str], env: Mapping[str, Affine], values: Values, notes: Notebook, prints: Prints
) -> AlsoCut:
    """What is cut besides; raises Broken after noting what is wrong with it."""
    cut = _cut(s.cut, _fabric(s.cut, fabrics, "", notes, prints, env, values), env, values)
    return AlsoCut(cut, s.title, (s.text,) if s.text is not None else (), s.span, numbers(s.cut.width, s.cut.height))


def _fabric(
    cut: CountedCut,
    fabrics: Mapping[str, str],
    own: str,
    notes: Notebook,
    prints: Prints | None,
    env: Mapping[str, Affine],
    values: Values,
) -> str:
    if cut.fabric is None:
        return own
    name, span = cut.fabric.name, cut.fabric.span
    if own and name != own:
        notes.report(
            "out-of-place",
            f"Under fabric {own} stands what is cut of {own}, and not of {name}.",
            span,
            causes=[f"What is cut of another fabric is said under that fabric, or under a unit: cut 2 of 3 7/8 {own}."],
        )
        raise Broken
    if name not in fabrics:
        notes.unknown("fabric", name, span, fabrics)
        raise Broken
    if not cut.fabric.args:
        return fabrics[name]
    if prints is None:
        notes.report(
            "out-of-place",
            f"What is cut of one print of {name} is not said under the group.",
            span,
            causes=[f"Under the group: cut 2 of 3 7/8 from each; under a unit: cut 2 of 3 7/8 {name}(1)."],
        )
        raise Broken
    return prints.numbered(cut.fabric, fabrics[name], env, values)


def _cut(cut: CountedCut, key: str, env: Mapping[str, Affine], values: Values) -> ClaimedCut:
    count = values.count(cut.count, env, f"The number of {cut.noun}", MOST_CUT)
    width = values.length(cut.width, env)
    height = values.length(cut.height, env) if cut.height is not None else None
    if cut.noun != "strips" and height is None:
        height = width
    for side in (width, height):
        if side is not None and values.now(side, cut.span) <= 0:
            values.notes.report("too-small", "What is cut has to be more than nothing.", cut.span)
            raise Broken
    named = cut.fabric.name if cut.fabric is not None else ""
    return ClaimedCut(key, count, cut.noun, width, height, cut.corners, cut.span, numbers(cut.count)[0], named)


def claimed_strip_units(s: StripUnitsClaim, env: Mapping[str, Affine], values: Values) -> ClaimedStripUnits:
    """``strip units 3, 16 from each``; raises Broken after noting what is wrong with it."""
    count = values.count(s.count, env, "The number of strip units", MOST_CUT)
    each = values.count(s.each, env, "The number of segments", MOST_CUT) if s.each is not None else 0
    return ClaimedStripUnits(count, each, s.span, numbers(s.count)[0], numbers(s.each)[0])
