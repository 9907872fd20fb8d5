"""Tree to model: one pattern, for one row of its sizes table and one colourway, with every problem met on the way."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from patternkit.lengths import Length
from patternkit.memory import Memory
from patternkit.model.amounts import bought_for_size
from patternkit.model.groups import grouped, recoloured, takes_place
from patternkit.model.pattern import Colourway, Fabric, Pattern, Quilt, Release, Settings, SizeOption
from patternkit.model.quilts import quilt
from patternkit.model.report import Notebook
from patternkit.model.scope import Heads, collect, statements
from patternkit.model.settings import fabric, settings, units_of
from patternkit.model.units import UnitBuilder
from patternkit.model.values import Broken, Values, named, numbers, plain_number
from patternkit.problems import Problem
from patternkit.sizes.affine import Affine
from patternkit.source import Span
from patternkit.syntax.statements import (
    Bad,
    BuysClaim,
    ColourwayHead,
    Let,
    Makes,
    Node,
    PartHead,
    PressStatement,
    Prose,
    QuiltHead,
    Ref,
    Setting,
    SizeRow,
    SizesHead,
    Sold,
    Swap,
    Trivia,
)
from patternkit.units import Units


def build(
    nodes: Sequence[Node | Trivia],
    *,
    size: str = "",
    colourway: str = "",
    overrides: Mapping[str, Length] | None = None,
    as_written: bool = True,
    blind: bool = False,
    memory: Memory | None = None,
    tables: dict[Units, tuple[SizeOption, ...]] | None = None,
) -> tuple[Pattern, list[Problem]]:
    """Build the pattern that the nodes of a file (included files already in their places) describe.

    `size` names a row of the sizes table, `colourway` a colourway; `overrides` sets values by name (in the file's own
    units), last of all. Unknown names among these are problems too. `as_written` False marks a pattern that is tried at
    other values or with other borders, against which stated counts and sizes are not held. `blind` says that an
    included file is missing, so that a name nobody gave is no problem. `tables` keeps the sizes table of these nodes,
    where it was read without a problem, for their other sizes.
    """
    notes = Notebook()
    notes.blind = blind
    heads = collect(nodes, notes)
    units = units_of(heads.pattern)
    parameters: dict[str, Length] = {}
    values = Values(units, parameters, notes)
    options = _sizes(heads, values, notes, {} if tables is None else tables)
    chosen = _chosen(size, options, overrides or {}, heads, notes)
    env, spans = _lets(heads, values, parameters, chosen)
    typed = _typed(heads, options, size, [n for n in parameters if n not in (overrides or {})])
    whole = settings(heads.pattern, _loose(heads), values, notes)
    plain = {name: fabric(node, whole, env, values, notes) for name, node in heads.fabrics.items()}
    fabrics = grouped(heads.fabrics, plain, env, values, notes)
    _known_to_press(whole, heads, notes)
    bought_for_size([x for o in options if o.name == size for x in o.buys], fabrics, env, values, notes)
    swaps, ways = _colourways(heads, fabrics, colourway, notes)
    maker = UnitBuilder(heads.units, fabrics, env, values, notes, memory, whole.trimming)
    maker.build_all()
    first = options[0].values if options and not size else {}  # counts that only the table gives
    top, parts = _quilt_and_parts(heads, chosen, first, values, maker, notes)
    maker.build_unused()
    pattern = Pattern(
        whole,
        fabrics,
        dict(maker.built),
        top,
        parameters,
        options,
        ways,
        parts,
        size,
        colourway,
        spans,
        as_written and not size and not overrides,
        frozenset(notes.broken),
        maker.idle,
        maker.unread,
        {let.name: let.name_span for let in heads.lets},
        typed,
    )
    return _recoloured(pattern, swaps), notes.problems


def _loose(heads: Heads) -> list[Node]:
    """The lines of a file that stand under nothing and are said of the whole pattern."""
    return [n for n in heads.rest if isinstance(n.statement, (Setting, PressStatement, Prose, Sold))]


def _known_to_press(whole: Settings, heads: Heads, notes: Notebook) -> None:
    """The fabrics and units that the file's own lines on pressing name are there."""
    for press in whole.press:
        if press.name and press.name not in heads.fabrics and press.name not in heads.units:
            notes.unknown("fabric or unit", press.name, press.name_span or press.span, [*heads.fabrics, *heads.units])


def _quilt_and_parts(
    heads: Heads,
    chosen: Mapping[str, Length],
    usual: Mapping[str, Length],
    values: Values,
    maker: UnitBuilder,
    notes: Notebook,
) -> tuple[Quilt | None, tuple[Release, ...]]:
    """The quilt, the parts of a sew-along; a problem for whatever else stands at the left margin."""
    top: Quilt | None = None
    parts: list[Release] = []
    for node in heads.rest:
        s = node.statement
        if isinstance(s, QuiltHead):
            if top is not None:
                notes.report("named-twice", "A file has one quilt; this is another.", s.span)
            else:
                top = quilt(node, chosen, values, maker.names, notes, usual)
        elif isinstance(s, PartHead):
            parts.append(_part(node, s, maker, values, notes))
        elif not isinstance(s, (SizesHead, ColourwayHead, Setting, PressStatement, Prose, Sold, Bad)):
            notes.report(
                "out-of-place",
                "This line does not belong at the left margin.",
                s.span,
                causes=[
                    "Only pattern, let, fabric, unit, block, quilt, sizes, colourway, part and include start there."
                ],
            )
    return top, tuple(parts)


def _lets(
    heads: Heads, values: Values, parameters: dict[str, Length], chosen: Mapping[str, Length]
) -> tuple[dict[str, Affine], dict[str, Span]]:
    """Names with values. A plain number becomes a parameter, a symbol that the proofs keep; so does anything set from
    outside."""
    env: dict[str, Affine] = {}
    spans: dict[str, Span] = {}
    for let in _in_order(heads.lets, chosen):
        try:
            if let.name in chosen:
                value = chosen[let.name]
            elif plain_number(let.value):
                value = values.value(let.value, {}).const
            else:
                env[let.name] = values.value(let.value, env)
                continue
        except Broken:
            values.notes.broken.add(let.name)
            continue
        parameters[let.name] = value
        spans[let.name] = let.span
        env[let.name] = Affine.parameter(let.name)
    return env, spans


def _typed(heads: Heads, options: Sequence[SizeOption], size: str, names: Sequence[str]) -> dict[str, Span]:
    """Where the numbers of parameters stand, those that a row of the sizes table sets in that row."""
    places = {let.name: numbers(let.value)[0] for let in heads.lets}
    for row in options:
        if row.name == size:
            places |= {name: row.numbers.get(name) for name in row.values}
    return {name: place for name in names if (place := places.get(name)) is not None}


def _in_order(lets: Sequence[Let], chosen: Mapping[str, Length]) -> Sequence[Let]:
    """Lengths with names, each behind those that it is worked out from; a ring of them stays as it is written."""
    needs: dict[str, frozenset[str]] = {}
    straight = True
    own = {let.name for let in lets}
    for let in lets:
        needs[let.name] = frozenset() if let.name in chosen else named(let.value) & own
        straight = straight and all(n in needs and n != let.name for n in needs[let.name])
    if straight:
        return lets
    from graphlib import CycleError, TopologicalSorter

    by_name = {let.name: let for let in lets}
    try:
        return [by_name[name] for name in TopologicalSorter(needs).static_order()]
    except CycleError:
        return lets


def _sizes(
    heads: Heads, values: Values, notes: Notebook, tables: dict[Units, tuple[SizeOption, ...]]
) -> tuple[SizeOption, ...]:
    if values.units in tables:
        return tables[values.units]
    before, found = len(notes.problems), _sizes_read(heads, values, notes)
    if len(notes.problems) == before:
        tables[values.units] = found
    return found


def _sizes_read(heads: Heads, values: Values, notes: Notebook) -> tuple[SizeOption, ...]:
    found: dict[str, SizeOption] = {}
    for node in heads.rest:
        if not isinstance(node.statement, SizesHead):
            continue
        for child in statements(node.children):
            s = child.statement
            if isinstance(s, SizeRow):
                settings: dict[str, Length] = {}
                places: dict[str, Span] = {}
                for name, e in s.values:
                    try:
                        settings[name.name] = values.value(e, {}).const
                    except Broken:
                        continue
                    place = numbers(e, None)[0]
                    if place is not None:
                        places[name.name] = place
                    _known_value(name.name, name.span, heads, notes)
                if s.name in found:
                    notes.report("named-twice", f"The size {s.name} is given twice.", s.name_span)
                else:
                    buys = tuple(x.statement for x in statements(child.children) if isinstance(x.statement, BuysClaim))
                    found[s.name] = SizeOption(s.name, s.title or s.name, settings, s.span, places, buys)
            elif not isinstance(s, Bad):
                notes.report("out-of-place", "This line does not belong under sizes.", s.span)
    return tuple(found.values())


def _known_value(name: str, span: Span, heads: Heads, notes: Notebook) -> bool:
    known = ["across", "down", *(x.name for x in heads.lets)]
    if name not in known:
        notes.unknown("value", name, span, known)
        return False
    return True


def _chosen(
    size: str, options: tuple[SizeOption, ...], overrides: Mapping[str, Length], heads: Heads, notes: Notebook
) -> dict[str, Length]:
    chosen: dict[str, Length] = {}
    if size:
        row = next((o for o in options if o.name == size), None)
        if row is None:
            notes.unknown("size", size, Span("", 0, 0), [o.name for o in options])
        else:
            chosen |= row.values
    for name, value in overrides.items():
        if _known_value(name, Span("", 0, 0), heads, notes):
            chosen[name] = value
    return chosen


def _colourways(
    heads: Heads, fabrics: Mapping[str, Fabric], wanted: str, notes: Notebook
) -> tuple[dict[str, str], tuple[Colourway, ...]]:
    found: dict[str, Colourway] = {}
    for node in heads.rest:
        head = node.statement
        if not isinstance(head, ColourwayHead):
            continue
        swaps: dict[str, str] = {}
        prose: list[Prose] = []
        if head.name in found:
            notes.report("named-twice", f"The colourway {head.name} is given twice.", head.name_span)
        for child in statements(node.children):
            s = child.statement
            if isinstance(s, Swap):
                for ref in (s.name, s.other):
                    if ref.name not in fabrics:
                        notes.unknown("fabric", ref.name, ref.span, fabrics)
                        break
                else:
                    _swap(swaps, s, fabrics, notes)
            elif isinstance(s, Prose):
                prose.append(s)
            elif not isinstance(s, Bad):
                notes.report("out-of-place", "This line does not belong under colourway.", s.span)
        found.setdefault(head.name, Colourway(head.name, head.title or head.name, swaps, head.span, tuple(prose)))
    if wanted and wanted not in found:
        notes.unknown("colourway", wanted, Span("", 0, 0), found)
    return dict(found[wanted].swaps) if wanted in found else {}, tuple(found.values())


def _swap(swaps: dict[str, str], s: Swap, fabrics: Mapping[str, Fabric], notes: Notebook) -> None:
    own, other = fabrics[s.name.name], fabrics[s.other.name]
    if (own.group is not None or other.group is not None) and not takes_place(own, other, s, notes):
        return
    if s.name.name in swaps:
        notes.report("named-twice", f"This colourway says twice what {s.name.name} is.", s.span)
    elif s.name.name == s.other.name:
        notes.report(
            "out-of-place", f"In every colourway {s.name.name} stays {s.name.name} where nothing is said.", s.span
        )
    swaps.setdefault(s.name.name, s.other.name)


def _recoloured(pattern: Pattern, swaps: Mapping[str, str]) -> Pattern:
    """Dress a pattern in a colourway: every fabric key keeps its place and takes on the other fabric's particulars."""
    if not swaps:
        return pattern
    import msgspec

    fabrics = dict(pattern.fabrics)
    for key, other in swaps.items():
        own, dress = pattern.fabrics[key], pattern.fabrics[other]
        same = own.stock is None and dress.stock is None and own.usable_width == dress.usable_width
        if dress.buy_span is None and own.buy is not None and same:  # as much is bought of what takes its place
            dress = msgspec.structs.replace(dress, buy=own.buy, buy_span=own.buy_span, by_size=own.by_size)
        if own.group is not None:
            fabrics |= recoloured(pattern.fabrics, own, dress)
            continue
        fabrics[key] = msgspec.structs.replace(dress, key=key, cuts=())
    return msgspec.structs.replace(pattern, fabrics=fabrics)


def _one(ref: Ref, heads: Mapping[str, Node]) -> Ref:
    """A unit by its name where a part speaks of several: ``makes 12 stars`` makes the unit star."""
    for name in (ref.name, ref.name.removesuffix("s"), ref.name.removesuffix("es")):
        if name in heads:
            return Ref(name, ref.span)
    return ref


def _part(node: Node, head: PartHead, maker: UnitBuilder, values: Values, notes: Notebook) -> Release:
    makes: list[tuple[int | None, str, Span]] = []
    prose: list[Prose] = []
    for child in statements(node.children):
        s = child.statement
        if isinstance(s, Makes):
            for e, stated in s.names:
                ref = _one(stated, maker.heads)
                if ref.name not in maker.heads and ref.name not in ("top", "finishing"):
                    notes.unknown("unit", ref.name, ref.span, [*maker.heads, "top", "finishing"])
                    continue
                if e is not None and ref.name in ("top", "finishing"):
                    notes.report(
                        "out-of-place", f"There is one {ref.name} to make; a number says nothing.", stated.span
                    )
                try:
                    n = values.count(e, maker.names.values, "The number to make", 1_000_000) if e is not None else None
                except Broken:
                    continue
                makes.append((n, ref.name, ref.span))
        elif isinstance(s, Prose):
            prose.append(s)
        elif not isinstance(s, Bad):
            notes.report("out-of-place", "This line does not belong under part.", s.span)
    return Release(head.title, head.date, tuple(makes), tuple(prose), head.span)
