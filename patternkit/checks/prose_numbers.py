"""Sizes typed into a text that match nothing in the pattern: they were right once, or never."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from fractions import Fraction

import msgspec

from patternkit.checks.prose_names import place, texts
from patternkit.lengths import Length
from patternkit.model.facts import BRACES
from patternkit.piecing.making import Making, Recipe
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.syntax.numbers import FRACTION_CHARACTERS
from patternkit.syntax.statements import Node, Num, Prose, Trivia
from patternkit.units import INCHES_IN, Units

NEEDS_SIZES = True
CODES = ("number-in-prose",)

NEAR = Fraction(1, 50)  # inches: a size in the other system is rounded when it is typed
_SIGNS = {sign: f"{above}/{below}" for sign, (above, below) in FRACTION_CHARACTERS.items()}
_ANY = "".join(_SIGNS)
_NUMBER = rf"(?:\d+(?:[ \u00a0-]\d+/\d+|[.]\d+|\u00a0?[{_ANY}])?|\d+/\d+|[{_ANY}])"
_UNIT = r"(?:inch(?:es)?|in\.?|cm|mm|yards?|yds?|metres?|m)(?![\w])|[\"”″]"
_SIZE = rf"(?<![\w./,])({_NUMBER})(?:\s?(?:x|×|by)\s?({_NUMBER}))?(?:[\s\u00a0-]?({_UNIT}))?(?![\w/.]\d)"
_AFTER_IN = (
    r"[ \u00a0]+(?:the|a|an|all|each|every|this|that|these|those|any|one|two|total|place|order|turn|our|your"
    r"|its|their|which|between|from|to|[A-Z])\b"
)
_WHOLE_NUMBERS = {
    "inch": "in",
    "inches": "in",
    "in.": "in",
    "yard": "yd",
    "yards": "yd",
    "yds": "yd",
    "metre": "m",
    "metres": "m",
    "”": "in",
    "″": "in",
    '"': "in",
}


class Typed(msgspec.Struct, frozen=True):
    """A size that looks as if it had been typed: its words, where they stand in the text, and what they come to."""

    words: str
    start: int
    end: int
    inches: tuple[Fraction, ...]


def check(project: Project) -> Iterable[Problem]:
    """One piece of advice for each such size; none while the pattern is too broken to be measured."""
    pattern = project.pattern
    if not pattern.as_written or (project.top is None and pattern.quilt is not None):
        return
    wanted = [(prose, typed) for prose in texts(pattern) for typed in sizes_in(prose, pattern.settings.units)]
    if not wanted:
        return
    known = _known(project)
    left = [(p, t) for p, t in wanted if not all(_meets(x, known) for x in t.inches)]
    if left and pattern.sizes:
        for row in pattern.sizes:
            known |= _of_makings(project.in_size(row.name))
        left = [(p, t) for p, t in left if not all(_meets(x, known) for x in t.inches)]
    for prose, typed in left:
        yield Problem(
            "number-in-prose",
            f"{typed.words} stands in the text, and nothing in the pattern has that size.",
            place(prose, typed.start, typed.end),
            causes=("A number typed into a text stays as it is when the pattern changes.",),
            repairs=(
                Repair(
                    "let the text take the number from the pattern: {lantern.measures}, {night.buy} or "
                    "{quilt.finished}, with a name of this pattern"
                ),
            ),
            advice=True,
        )


def sizes_in(prose: Prose, units: Units) -> Iterator[Typed]:
    """The sizes typed into a text. A bare whole number is a count, not a size; ``3 in all`` is none either."""
    text = BRACES.sub(lambda m: "\x00" * len(m.group()), prose.text)
    if not any(c.isdigit() or c in _ANY for c in text):
        return
    for match in re.finditer(_SIZE, text):
        first, second, unit = match.groups()
        if unit == "in" and first.isdigit() and re.match(_AFTER_IN, text[match.end() :]):
            continue
        mixed = any(
            re.search(rf"\d[ \u00a0-]\d+/|[{_ANY}]", n) and not n.startswith(tuple(_SIGNS))
            for n in (first, second or "")
        )
        if not unit and not mixed:
            continue
        scale = INCHES_IN.get(_WHOLE_NUMBERS.get(unit, unit), Fraction(1)) if unit else units.inches
        values = [_value(n) for n in (first, second) if n]
        if all(v is not None for v in values):
            yield Typed(
                match.group().strip(),
                match.start(),
                match.end(),
                tuple(v * scale for v in values if v is not None),
            )


def _value(text: str) -> Fraction | None:
    for sign, plain in _SIGNS.items():
        text = text.replace(sign, f" {plain}")
    try:
        return sum((Fraction(part) for part in re.split(r"[\s\u00a0-]+", text.strip())), Fraction(0))
    except (ValueError, ZeroDivisionError):
        return None


# -- what the pattern measures ----------------------------------------------------------------------------
def _meets(inches: Fraction, known: set[Fraction]) -> bool:
    return inches in known or any(abs(inches - k) <= NEAR for k in known)


def _known(project: Project) -> set[Fraction]:
    """Every length of the pattern in inches: typed, worked out, cut, bought."""
    pattern, plan = project.pattern, project.quick_plan[0]
    seam = pattern.settings.seam
    lengths: list[Length] = [seam, seam * 2, pattern.settings.usable_width, *pattern.parameters.values()]
    lengths += [f.usable_width for f in pattern.fabrics.values()]
    lengths += [x for f in plan.fabrics.values() for x in (f.used, f.buy)] + (
        [plan.backing_buy] if plan.backing_buy else []
    )
    lengths += [
        x for line in plan.lines for x in (line.cut.width, line.cut.height, line.cut.exact_width, line.cut.exact_height)
    ]
    for strip in plan.long_strips:
        lengths += [strip.height, *(x for x, _, _ in strip.lengths)]
    if plan.binding is not None:
        lengths += [plan.binding.width, plan.binding.perimeter, plan.binding.allowance]
    if plan.backing is not None:
        lengths += [plan.backing.width, plan.backing.height, plan.backing.length, plan.backing.overage]
    lengths += list(plan.batting or ())
    found = {_inches(x) for x in lengths} | _of_makings(project)
    found |= set(_typed(project.nodes, pattern.settings.units))
    return found


def _of_makings(project: Project) -> set[Fraction]:
    seam = project.pattern.settings.seam
    makings: list[Making] = [*project.makings.values(), *(root for root, _ in project.roots)]
    counted = [c.making for c in project.draft[0].counts]
    found: set[Fraction] = set()
    for making in [*makings, *counted]:
        for size in (making.width, making.height):
            found |= {_inches(size), _inches(size + seam * 2)}
        for cut in making.recipe.cuts:
            found |= {_inches(x) for x in (cut.width, cut.height, cut.exact_width, cut.exact_height)}
        found |= {_inches(x) for x in _on_the_way(making.recipe)}
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


def _typed(nodes: Iterable[Node | Trivia], units: Units) -> Iterator[Fraction]:
    """Every number in the statements of the file, in inches."""
    for node in nodes:
        if isinstance(node, Node):
            yield from _numbers(node.statement, units)
            yield from _typed(node.children, units)


def _numbers(value: object, units: Units) -> Iterator[Fraction]:
    if isinstance(value, Num):
        yield value.value * (INCHES_IN.get(value.unit, units.inches) if value.unit else units.inches)
    elif isinstance(value, tuple):
        for inner in value:
            yield from _numbers(inner, units)
    elif isinstance(value, msgspec.Struct):
        for field in value.__struct_fields__:
            yield from _numbers(getattr(value, field), units)
