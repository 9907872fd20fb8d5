"""What a pattern has of each kind of number that a text may state: sizes finished, measured, cut; amounts; counts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import Literal

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.making import Making, Recipe, made_from
from patternkit.project import Project
from patternkit.syntax.statements import Node, Num, Trivia
from patternkit.units import INCHES_IN, Units

Kind = Literal["finished", "measures", "cut", "amount", "other"]
KINDS: tuple[Kind, ...] = ("finished", "measures", "cut", "amount", "other")
NEAR = Fraction(1, 50)  # inches: a size in the other system is rounded when it is typed
Pair = tuple[Fraction, Fraction]


class KnownSizes(msgspec.Struct, frozen=True):
    """The lengths of a pattern in inches by kind, and those of its widths and heights that belong together."""

    lengths: dict[Kind, set[Fraction]]
    pairs: dict[Kind, set[Pair]]

    def has(self, inches: tuple[Fraction, ...], kind: Kind | None) -> bool:
        """Whether something of that kind (of any, without one) is so long, or so wide and high, either way round."""
        for one in KINDS if kind is None else (kind,):
            if len(inches) == 1 and any(abs(inches[0] - k) <= NEAR for k in self.lengths[one]):
                return True
            both = (inches, inches[::-1]) if len(inches) == 2 else ()
            if any(abs(a - x) <= NEAR and abs(b - y) <= NEAR for a, b in both for x, y in self.pairs[one]):
                return True
        return False

    def add(self, kind: Kind, *sizes: Length | None) -> None:
        """Lengths of a kind."""
        self.lengths[kind] |= {_inches(x) for x in sizes if x is not None}

    def add_pair(self, kind: Kind, width: Length, height: Length) -> None:
        """A width and a height that belong together."""
        self.add(kind, width, height)
        self.pairs[kind].add((_inches(width), _inches(height)))


def known_sizes(project: Project) -> KnownSizes:
    """Every length of the pattern as written: worked out, cut, bought, typed."""
    known = KnownSizes({k: set() for k in KINDS}, {k: set() for k in KINDS})
    pattern, plan = project.pattern, project.quick_plan[0]
    seam = pattern.settings.seam
    known.add("other", seam, seam * 2, pattern.settings.usable_width, *pattern.parameters.values())
    known.add("finished", *(v * pattern.settings.units.inches for v in pattern.parameters.values()))
    known.add("other", *(f.usable_width for f in pattern.fabrics.values()))
    known.add("other", *(f.squaring for f in pattern.fabrics.values()))
    known.add("amount", *(x for f in plan.fabrics.values() for x in (f.used, f.buy)), plan.backing_buy or None)
    for line in plan.lines:
        cut = line.cut
        for width, height in ((cut.width, cut.height), (cut.exact_width, cut.exact_height)):
            known.add_pair("cut", width, height)
            known.add_pair("measures", width, height)
            known.add_pair("finished", width - seam * 2, height - seam * 2)
    for strip in plan.long_strips:
        known.add("finished", strip.height - seam * 2)
        for length, _, _ in strip.lengths:
            known.add_pair("cut", strip.height, length)
            known.add_pair("finished", strip.height - seam * 2, length - seam * 2)
    if plan.binding is not None:
        known.add("cut", plan.binding.width)
        known.add("other", plan.binding.width, plan.binding.perimeter, plan.binding.allowance)
    if plan.backing is not None:
        for kind in ("cut", "measures"):
            known.add_pair(kind, plan.backing.width, plan.backing.height)
        known.add("cut", plan.backing.length)
        known.add("amount", plan.backing.length)
        known.add("other", plan.backing.overage)
    if plan.batting:
        known.add_pair("cut", *plan.batting)
        known.add_pair("measures", *plan.batting)
    known.lengths["other"] |= set(_typed(project.nodes, pattern.settings.units))
    known.lengths["finished"] |= set(_typed(project.nodes, pattern.settings.units, bare=True))
    add_makings(known, project)
    return known


def add_makings(known: KnownSizes, project: Project) -> None:
    """What the units of a pattern, or of one of its sizes, finish and measure, and what they are cut from."""
    seam = project.pattern.settings.seam
    counted = [c.making for c in project.draft[0].counts]
    for making in [*project.makings.values(), *(root for root, _ in project.roots), *counted]:
        known.add_pair("finished", making.width, making.height)
        known.add_pair("measures", making.width + seam * 2, making.height + seam * 2)
        for cut in making.recipe.cuts:
            known.add_pair("cut", cut.width, cut.height)
            known.add_pair("cut", cut.exact_width, cut.exact_height)
        found = list(_on_the_way(making.recipe))
        known.add("cut", *found)
        known.add("measures", *found)
        for sewn in (making.recipe.sewn, making.recipe.trim_to):
            if sewn is not None:
                known.add_pair("measures", *sewn)
                known.add_pair("cut", *sewn)


def known_counts(project: Project) -> dict[str, set[int]]:
    """How often each unit is made or used, by its name: in all, in each unit and row, in each part, in each size."""
    found: dict[str, set[int]] = {u.name: set() for u in project.pattern.units.values()}
    sizes = [project, *(project.in_size(row.name) for row in project.pattern.sizes)]
    for one in sizes:
        totals: dict[str, list[int]] = {}
        for count in one.draft[0].counts:
            name = count.making.key.of.partition("(")[0]
            if name in found:
                totals.setdefault(name, []).append(count.needed)
                found[name] |= {count.needed, count.made}
            for inner, n in _uses(count.making).items():
                if inner in found:
                    found[inner].add(n)
        for name, needed in totals.items():
            found[name].add(sum(needed))
    for part in project.pattern.parts:
        for number, name, _ in part.makes:
            if name in found and number is not None:
                found[name].add(number)
    return found


def _uses(making: Making) -> dict[str, int]:
    found: dict[str, int] = {}
    for inner in made_from(making):
        name = inner.key.of.partition("(")[0]
        found[name] = found.get(name, 0) + 1
    return found


def _on_the_way(recipe: Recipe) -> Iterator[Length]:
    """What a maker measures while a unit is made: before it is trimmed, across a strip unit, between two rounds."""
    for sewn, trimmed in zip(recipe.sewn or (), recipe.trim_to or (), strict=True):
        yield from (sewn, trimmed, sewn - trimmed)
    yield from (x for x in (recipe.segment, recipe.strip_unit) if x is not None)
    yield from _lengths(msgspec.structs.astuple(recipe.numbers))


def _lengths(values: Iterable[object]) -> Iterator[Length]:
    for value in values:
        if isinstance(value, Length):
            yield value
        elif isinstance(value, tuple):
            yield from _lengths(value)


def _inches(length: Length) -> Fraction:
    return length.fraction if length.is_fraction else length.round_to(Fraction(1, 1000))


def _typed(nodes: Iterable[Node | Trivia], units: Units, bare: bool = False) -> Iterator[Fraction]:
    """Every number in the statements of the file, in inches; `bare` without those of lines that say what is cut, what
    is measured and how cloth is bought, whose numbers are not finished sizes."""
    for node in nodes:
        if isinstance(node, Node):
            raw = getattr(node.statement, "word", "") in ("cut", "measures", "buy", "sold", "usable-width")
            if not (bare and raw):
                yield from _numbers(node.statement, units, bare)
            yield from _typed(node.children, units, bare)


def _numbers(value: object, units: Units, bare: bool) -> Iterator[Fraction]:
    if isinstance(value, Num):
        yield value.value * (INCHES_IN.get(value.unit, units.inches) if value.unit else units.inches)
    elif isinstance(value, tuple):
        for inner in value:
            yield from _numbers(inner, units, bare)
    elif isinstance(value, msgspec.Struct):
        if bare and getattr(value, "cut", False) is True:
            return
        for field in value.__struct_fields__:
            yield from _numbers(getattr(value, field), units, bare)
