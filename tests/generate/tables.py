"""Sizes, colourways, parts of a sew-along, and the writer's own words."""

from __future__ import annotations

from collections import Counter

from .heads import SPARE
from .quilts import Laid
from .writer import Writer, Written


def sizes(w: Writer, laid: Laid) -> list[str]:
    """Rows that change the counts, the side of a block, or both."""
    if not w.has("sizes"):
        return []
    rows = []
    for name, title in (("cot", ""), ("throw", ' "A throw"'), ("queen", ' "Queen of the marsh"'))[: w.pick(2, 3)]:
        says = []
        if laid.counted is not None and w.chance(0.7):
            across, down = laid.counted
            more = w.pick(1, 2, 3)
            says.append(f"across {across + more}, down {down + more}")
        if w.scope.strict and w.chance(0.7):
            times = w.pick(1, 2, 2, 3)
            base = w.scopes[0].basis[1] if w.scopes[0].basis else laid.block
            while times > 1 and laid.block * times > w.m.usable / 3:
                times -= 1
            says.append(f"side {w.num(base * times, size=False)}")
        rows.append(f"    {name}{title if says else ''} {', '.join(says)}".rstrip())
    return ["sizes", *rows]


def colourways(w: Writer) -> list[str]:
    """One or two colourways, each with fabrics in the place of others."""
    if not w.has("colourways"):
        return []
    lines = []
    for name, title in (("dusk", ' "At dusk"'), ("dawn", ""))[: w.pick(1, 2)]:
        swaps = list(zip(w.cloth, w.shape.sample(list(SPARE), w.pick(1, 2)), strict=False))
        lines += [f"colourway {name}{title}", *(f"    {a} = {b}" for a, b in swaps)]
        lines += said(w, "Lower light.")
    return lines


def parts(w: Writer, used: Counter[str]) -> list[str]:
    """Units in the order in which they are needed, a release for some of them each; the top comes last."""
    if not w.has("parts"):
        return []
    order = [u.name for u in w.units if used[u.name] or u.name in _inner(w.units)]
    weeks = w.pick(1, 2, 3)
    lines: list[str] = []
    for week in range(weeks):
        mine = order[week * len(order) // weeks : (week + 1) * len(order) // weeks]
        if mine:
            date = f" 2026-03-{7 * week + 2:02}" if w.chance(0.5) else ""
            lines += [f'part "Week {week + 1}"{date}', f"    makes {', '.join(mine)}"]
            lines += said(w, "Press as you go.")
    return [*lines, 'part "The last week"', "    makes top, finishing"]


def said(w: Writer, text: str) -> list[str]:
    """Words of the writer's own, under anything."""
    word = w.pick("note", "tip", "caution", "before", "after", "intro", "finishing")
    return [f'    {word} "{text}"'] if w.chance(0.3, "prose") else []


def makes(w: Writer, laid: Laid, before: Counter[str], top: Counter[str]) -> Counter[str]:
    """How many are made of each unit that is in the blocks alone; nothing where the blocks are laid over and over.

    `before` holds what the quilt used when its blocks were laid, `top` what it uses with its borders.
    """
    if not laid.once or w.has("sizes"):
        return Counter()
    total = Counter(before)
    for unit in reversed(w.units):  # a unit is written after those that it uses
        for name, n in unit.uses.items():
            total[name] += n * total[unit.name]
    around = {name for name in top if top[name] != before[name]}
    for unit in reversed(w.units):
        if unit.name in around:
            around |= set(unit.uses)
    return Counter({u.name: total[u.name] for u in w.units if not u.asks and u.name not in around and total[u.name]})


def _inner(units: list[Written]) -> set[str]:
    return {name for u in units for name in u.uses}


def notes(w: Writer, unit: Written) -> list[str]:
    """Words of the writer's own under a unit."""
    if not w.chance(0.25, "prose") or unit.kind == "patch":
        return []  # a patch has no step of its own
    word = w.pick("note", "tip", "caution", "before", "after", "intro")
    text = w.pick(
        "Press before you go on.",
        f"The unit measures {{{unit.name}.measures}} and finishes {{{unit.name}.finished}}.",
        f"You need {{{unit.name}.count}} of them, {{{unit.name}.width}} wide.",
        "Lay them out # and look.",
    )
    if unit.asks:
        text = "Press before you go on."
    return [f'{word} "{text}"'] if w.chance(0.6) and "#" not in text else [word, f"    {text}"]
