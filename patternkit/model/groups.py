"""Groups of prints: how many are in one, which group it is a part of, and what stands for one print.

A group's own name stands for any of its prints, piece by piece. What stands for one print is a fabric of its own in the
pattern, cut from the cloth of the group: the one that each copy of a unit gets (``one shore``; a second one that is
given to the same unit is ``another shore``), or one by its number (``shore(3)``).
"""

from __future__ import annotations

from collections.abc import Collection, Mapping

import msgspec

from patternkit.english import listed
from patternkit.model.pattern import Fabric, Group, Print
from patternkit.model.report import Notebook
from patternkit.model.values import Broken, Values
from patternkit.problems import Label, Repair
from patternkit.sizes.affine import Affine
from patternkit.source import Span
from patternkit.syntax.statements import FabricHead, Node, Num, PieceUse, Swap

MOST_PRINTS = 400
"""In one group: ten rolls of forty strips."""
WHICH = ("one", "another", "a third", "a fourth", "a fifth", "a sixth")
"""How prints are told apart that one unit is given from a group."""


def grouped(
    heads: Mapping[str, Node],
    fabrics: Mapping[str, Fabric],
    env: Mapping[str, Affine],
    values: Values,
    notes: Notebook,
) -> dict[str, Fabric]:
    """The fabrics with those that are groups as such; a part of a group is sold as that is."""
    found = dict(fabrics)
    lines = [node.statement for node in heads.values()]
    groups = {s.name: s for s in lines if isinstance(s, FabricHead) and s.many}
    for name, head in groups.items():
        count = _count(head, env, values)
        _in_vain(fabrics[name], head, count, notes)
        found[name] = msgspec.structs.replace(fabrics[name], group=Group(count))
    parts: dict[str, list[str]] = {}
    for name, head in groups.items():
        if head.of is None:
            continue
        whole = found.get(head.of.name)
        if whole is None or whole.group is None or groups[head.of.name].of is not None or head.of.name == name:
            wholes = [n for n, h in groups.items() if h.of is None and n != name]
            if whole is not None and whole.group is None:
                _no_group(head.of.name, head.of.span, notes)
            else:
                notes.unknown("group of fabrics", head.of.name, head.of.span, wholes)
            continue
        parts.setdefault(head.of.name, []).append(name)
    for key, names in parts.items():
        _parts(key, names, found, notes)
    return found


def _count(head: FabricHead, env: Mapping[str, Affine], values: Values) -> int | None:
    if head.count is None:
        return None
    try:
        return values.count(head.count, env, "The number of prints", MOST_PRINTS)
    except Broken:
        return None


def _in_vain(fabric: Fabric, head: FabricHead, count: int | None, notes: Notebook) -> None:
    """Note lines that say nothing of a group."""
    if fabric.repeat_span is not None:
        notes.report(
            "out-of-place",
            f"The prints of {head.name} are not alike, so repeat says nothing of them.",
            fabric.repeat_span,
            causes=["A print whose motifs are cut out is a fabric of its own."],
        )
    at_hand = [x.span for x in fabric.scraps] + ([fabric.stock.span] if fabric.stock and fabric.stock.have else [])
    if at_hand and count is not None:
        notes.report(
            "out-of-place",
            f"Nothing says which of the prints of {head.name} are at hand, so have says nothing.",
            at_hand[0],
            causes=["have counts what is at hand of one fabric, or of a group of any number of prints."],
        )


def _parts(key: str, names: list[str], found: dict[str, Fabric], notes: Notebook) -> None:
    """Give the parts of a group their prints, in the order in which they stand, and what is said of its cloth."""
    whole, before = found[key], 0
    assert whole.group is not None
    for name in names:
        part = found[name]
        assert part.group is not None
        count = part.group.count
        if count is not None and whole.group.count is not None and before + count > whole.group.count:
            has, wanted = whole.group.count, [f"{found[n].group.count} are {n}" for n in names]  # type: ignore[union-attr]
            notes.report(
                "too-few-prints",
                f"{key.capitalize()} has {has} prints, of which {listed(wanted)}: that is {before + count}.",
                part.span,
                labels=[Label(whole.span, f"{key} is named here")],
            )
        found[name] = msgspec.structs.replace(
            whole,
            key=name,
            title=part.title,
            value=part.value or whole.value,
            colour=part.colour or whole.colour,
            directional=part.directional or whole.directional,
            span=part.span,
            group=Group(count, key, before),
            cut_from=key,
            cuts=part.cuts,
            buy=None,
            buy_span=None,
            buy_packs=None,
            buy_sheets=None,
        )
        if part.buy_span is not None or part.stock is not None:
            notes.report(
                "out-of-place",
                f"{name.capitalize()} is a part of {key}: how it is sold and bought is said under {key}.",
                part.buy_span or part.span,
                labels=[Label(whole.span, f"{key} is named here")],
            )
        before += count or 0


def _no_group(name: str, span: Span, notes: Notebook) -> None:
    notes.report(
        "no-prints",
        f"{name.capitalize()} is one fabric and has no prints to choose from.",
        span,
        causes=[f"A group of prints is named by fabrics and how many there are: fabrics {name} 12."],
    )


def takes_place(own: Fabric, other: Fabric, s: Swap, notes: Notebook) -> bool:
    """Whether a colourway can put one in the place of the other: a group of as many prints, or more, for a group."""
    if own.group is None or other.group is None:
        group, plain = (s.name.name, s.other.name) if own.group is not None else (s.other.name, s.name.name)
        notes.report(
            "needs-one-fabric" if own.group is None else "no-prints",
            f"{group.capitalize()} is a group of prints and {plain} is one fabric: neither can take the other's place.",
            s.span,
            causes=["In a colourway a group takes the place of a group, and a fabric that of a fabric."],
        )
        return False
    wanted, has = own.group.count, other.group.count
    if has is not None and (wanted is None or has < wanted):
        notes.report(
            "too-few-prints",
            f"{s.other.name.capitalize()} has {has} prints, and {s.name.name} has "
            f"{'any number of them' if wanted is None else wanted}.",
            s.span,
            labels=[
                Label(other.span, f"{s.other.name} is named here"),
                Label(own.span, f"{s.name.name} is named here"),
            ],
            causes=["Each print gets another in its place, so that there have to be as many or more."],
        )
        return False
    return True


def recoloured(fabrics: Mapping[str, Fabric], own: Fabric, dress: Fabric) -> dict[str, Fabric]:
    """A group, and what stands for one of its prints, in the particulars of another group; as many prints as before."""
    key = own.key
    assert own.group is not None and dress.group is not None
    group = Group(own.group.count, dress.group.of, dress.group.before)
    whole = msgspec.structs.replace(dress, key=key, cuts=(), group=group)
    found = {key: whole}
    for name, fabric in fabrics.items():
        one = fabric.print
        if one is not None and one.group == key:
            found[name] = of_group(whole, name, one, f"{whole.title} {one.number}" if one.number else whole.title)
    return found


class Prints:
    """What stands for one print: made when it is met, and added to the fabrics of the pattern."""

    def __init__(self, fabrics: dict[str, Fabric], notes: Notebook) -> None:
        self.fabrics, self.notes = fabrics, notes

    def is_group(self, key: str) -> bool:
        """Whether a fabric's key is that of a group."""
        return self.fabrics[key].group is not None

    def given(self, key: str, taken: Collection[str], span: Span) -> str:
        """The one of a group's prints that a copy of a unit gets: none of those that are `taken` already. Raises Broken
        where the group has too few."""
        fabric = self.fabrics[key]
        assert fabric.group is not None
        own = [n for n, word in enumerate(WHICH, 1) if f"{word} {key}" not in taken]
        if not own or (fabric.group.count is not None and own[0] > fabric.group.count):
            has = len(WHICH) if not own else fabric.group.count
            self.notes.report(
                "too-few-prints",
                f"Different prints of {key} are wanted here, and {key} has {has}."
                if own
                else f"A unit can be given {has} different prints of one group at most.",
                span,
                labels=[Label(fabric.span, f"{key} is named here")],
                causes=["A group that is given more than once gives a different print each time."],
            )
            raise Broken
        return self._add(f"{WHICH[own[0] - 1]} {key}", fabric, Print(key, role=own[0]), fabric.title)

    def numbered(self, use: PieceUse, key: str, env: Mapping[str, Affine], values: Values) -> str:
        """The print that ``shore(3)`` names; raises Broken after noting what is wrong with it."""
        fabric = self.fabrics[key]
        if fabric.print is not None:
            self.notes.report(
                "no-prints", f"{use.name.capitalize()} stands for one print here, so no number can follow it.", use.span
            )
            raise Broken
        if fabric.group is None:
            _no_group(use.name, use.span, self.notes)
            raise Broken
        if fabric.group.count is None:
            self.notes.report(
                "no-prints",
                f"{use.name.capitalize()} is a bag of any number of prints, and they have no numbers.",
                use.span,
                labels=[Label(fabric.span, f"{key} is named here")],
                causes=[f"With a number behind its name they have: fabrics {key} 12."],
            )
            raise Broken
        if len(use.args) != 1 or isinstance(use.args[0], PieceUse):
            self.notes.report(
                "wrong-arguments",
                f"In the brackets behind {use.name} stands the number of one of its prints.",
                use.span,
            )
            raise Broken
        n = values.count(use.args[0], env, "The number of a print", 10 * MOST_PRINTS)
        if n > fabric.group.count:
            last = use.args[0]
            repairs = (
                [Repair(f"write {fabric.group.count}", last.span, str(fabric.group.count))]
                if isinstance(last, Num)
                else []
            )
            self.notes.report(
                "too-few-prints",
                f"{key.capitalize()} has {fabric.group.count} prints, so none of them is number {n}.",
                use.span,
                labels=[Label(fabric.span, f"{key} is named here")],
                repairs=repairs,
            )
            raise Broken
        return self._add(f"{key}({n})", fabric, Print(key, number=n), f"{fabric.title} {n}")

    def _add(self, name: str, fabric: Fabric, which: Print, title: str) -> str:
        self.fabrics.setdefault(name, of_group(fabric, name, which, title))
        return name


def of_group(fabric: Fabric, key: str, which: Print, title: str) -> Fabric:
    """One print of a group as a fabric: cut from the same cloth, and nothing said of it alone."""
    return msgspec.structs.replace(
        fabric,
        key=key,
        title=title,
        group=None,
        print=which,
        cut_from=fabric.cloth,
        cuts=(),
        buy=None,
        buy_span=None,
        buy_packs=None,
        buy_sheets=None,
        scraps=(),
    )
