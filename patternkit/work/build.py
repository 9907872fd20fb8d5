"""An order from a project: what is cut, the steps in sewing order with their batches, what is left."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from typing import Literal, Protocol

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Fabric, Pattern
from patternkit.piecing.apart import all_pieces
from patternkit.piecing.batch import Batch, Item, Piece, Thing, Use, piece
from patternkit.piecing.by_angle import bias_strip, ruler_angle
from patternkit.piecing.keys import AnyKey
from patternkit.piecing.making import Cloth, Making, Part, Place, Placed, Recipe
from patternkit.piecing.names import BIAS_BINDING, HALF_STRIP, SHORT_STRIP, Name
from patternkit.piecing.reflect import image_of
from patternkit.piecing.sewing import batches_of
from patternkit.piecing.sewing.desk import Desk, StripWay
from patternkit.piecing.sewing.templates import CutShape
from patternkit.piecing.turns import at_home
from patternkit.plan.counts import Count
from patternkit.plan.draft import draft_plan
from patternkit.plan.lines import widths_of
from patternkit.plan.lying import lies_turned, lying
from patternkit.plan.model import CutLine, Edging, Plan
from patternkit.plan.model import Use as PlannedUse
from patternkit.plan.one_length import with_panels
from patternkit.plan.rests import with_joins
from patternkit.plan.shared import Shared
from patternkit.work.codes import codes_of
from patternkit.work.layout import Laying
from patternkit.work.model import (
    Between,
    Bind,
    CutBias,
    CutByTemplate,
    CutDiagonally,
    CutPieces,
    CutStrips,
    Cutting,
    EdgeFinish,
    Extra,
    Finish,
    JoinEnds,
    Motif,
    Order,
    Panels,
    Paper,
    Purpose,
    RoundedCorners,
    Sleeve,
    Step,
    Template,
)
from patternkit.work.prints import print_batches, prints_named, strip_ways
from patternkit.work.remedies import with_remedies
from patternkit.work.runs import by_first_run, runs_of
from patternkit.work.sections import SECTIONS, section_of

Designs = Mapping[Thing, Making]


class Walked(Protocol):
    """A pattern in one size and colourway that has gone through the rooms before this one: a project."""

    size: str
    colourway: str

    @property
    def pattern(self) -> Pattern:
        """The model."""

    @property
    def top(self) -> Making | None:
        """The quilt top."""

    @property
    def pressed_top(self) -> Making | None:
        """The quilt top pressed as planned."""

    @property
    def roots(self) -> Sequence[tuple[Making, int]]:
        """What is made in the end, with how many."""


class Worked(msgspec.Struct, frozen=True, eq=False):
    """An order with the designs of all things in it, and the desk that says which item a cut is."""

    order: Order
    designs: Mapping[Thing, Making]
    desk: Desk


def order_of(project: Walked, plan: Plan | None = None) -> tuple[Order, dict[Thing, Making]]:
    """The making order of a project's size and colourway, and the designs of all things in it.

    `plan` is the cutting plan with what is bought, where there is one; without it the order has no cloth to buy. Seams
    are pressed as the project's pressing plan has it.
    """
    top = project.pressed_top or project.top
    roots = [(top, 1)] if top is not None else list(project.roots)
    boxed = plan.boxed if plan is not None else frozenset()
    draft, _ = draft_plan(project.pattern, top, roots, boxed=boxed)
    if plan is not None and plan.one_length and plan.backing is not None:
        draft = with_panels(draft, plan.backing, plan.sleeve is not None and plan.sleeve.along, project.pattern)
    if plan is not None and plan.rests:
        draft = with_joins(draft, plan.rests)
    bought = {} if plan is None else _bought(plan)
    worked = order_from(project.pattern, draft, roots, (project.size, project.colourway), bought)
    return worked.order, dict(worked.designs)


def order_from(
    pattern: Pattern,
    plan: Plan,
    roots: Sequence[tuple[Making, int]],
    way: tuple[str, str] = ("", ""),
    bought: Mapping[str, Length] | None = None,
) -> Worked:
    """The making order of a plan, with its counts and its cuts.

    `roots` is what is made in the end, with how many; `way` the size and the colourway; `bought` the cloth to buy, in
    inches, where it is not the plan's own.
    """
    directional, widths = frozenset(key for key, f in pattern.fabrics.items() if f.directional), widths_of(pattern)
    desk = Desk(pattern.settings.seam, directional, widths)
    plain = Plain(desk.recipes)
    steps, designs, done = list[Step](), dict[Thing, Making](), set[Making]()
    counts = sorted(plan.counts, key=lambda c: SECTIONS.index(section_of(c.making)))  # stable: sewing order within each
    desk.wastes = _wastes(counts, plain)
    for count in counts:
        making = plain.making(count.making)
        if making.is_its_part:
            continue
        designs[desk.thing(making)] = making
        if making.recipe.mirrored:
            image = image_of(making)
            designs.setdefault(image.thing, image)
        _with_pieces(making, designs, desk)
        if count.made_with is not None:
            continue
        maker = count if count.shared is None else _maker(count.shared, counts)
        if maker.making not in done:
            done.add(maker.making)
            steps.append(_step(plain.making(maker.making), maker, desk))
    ends = [(_item(plain, what, desk), n) for what, n in roots]
    made = ends[0][0] if plan.top is not None and ends else None
    cutting = _cutting(plan, desk, frozenset(item for step in steps for item in step.takes))
    lining = plan.backing.fabric if plan.backing is not None else ""
    cloths = {pattern.fabrics[line.fabric].called for line in plan.lines} | {lining}
    order = Order(
        *way,
        pattern.settings.seam,
        Length(pattern.settings.ruler),
        cutting,
        tuple(steps),
        made if isinstance(made, Thing) else None,
        _finish(plan, desk),
        templates={s.name: _template(s, desk) for s in desk.templates.named.values()},
        papers={p.name: Paper(p.name, p.outline, p.fields) for p in desk.papers.values()},
        usable=widths.usable,
        squaring=widths.squaring,
        wanted=tuple((x, n) for x, n in ends if x is not None and (plan.top is None or not isinstance(x, Thing))),
        bought=_bought(plan) if bought is None else bought,
        prints=prints_named(pattern.fabrics),
    )
    order = with_remedies(with_leaves(order), designs)
    order = by_first_run(msgspec.structs.replace(order, runs=runs_of(order, designs, pattern.parts)))
    layout = {key: Laying(f, plan.lines, cutting).cloth() for key, f in plan.fabrics.items()}
    called = lettered(pattern.fabrics, cloths)
    codes = codes_of(called, [(order.steps, cutting)])
    return Worked(msgspec.structs.replace(order, codes=codes, layout=layout), designs, desk)


def _wastes(counts: Sequence[Count], plain: Plain) -> dict[AnyKey, Making]:
    """What is sewn of the waste of units, by the keys of these."""
    sewn = [count.making for count in counts if count.given]
    return {m.recipe.waste.key: plain.making(m) for m in sewn if m.recipe.waste is not None}


def lettered(fabrics: Mapping[str, Fabric], used: Container[str]) -> dict[str, str]:
    """The fabrics that go by the letter of one that is `used`, with that one; in the order of the letters."""
    own = {key: key for key in fabrics if key in used}
    return own | {key: f.called for key, f in fabrics.items() if f.called in own}


def _with_pieces(making: Making, designs: dict[Thing, Making], desk: Desk) -> None:
    """Add all that comes out where a unit is cut apart, be it of use or not."""
    for one in all_pieces(making) if making.recipe.apart is not None else ():
        designs.setdefault(desk.thing(one), one)


def _bought(plan: Plan) -> dict[str, Length]:
    return {key: f.buy for key, f in plan.fabrics.items() if f.sheets is None}


class Plain:
    """Makings in which no part is a making of one part: that part stands there itself. Copies stay one object."""

    def __init__(self, recipes: dict[int, Recipe]) -> None:
        self.recipes = recipes  # filled: the recipe of the unit for which a cloth stands, by the cloth's id
        self._done: dict[int, tuple[Making, Making]] = {}

    def making(self, making: Making) -> Making:
        """The making with plain parts."""
        known = self._done.get(id(making))
        if known is not None:
            return known[1]
        parts = tuple(Placed(*self.part(p.what, p.place), p.shown) for p in making.parts)
        same = all(a.what is b.what and a.place == b.place for a, b in zip(parts, making.parts, strict=True))
        new = making if same else msgspec.structs.replace(making, parts=parts)
        self._done[id(making)] = making, new  # the first keeps its id from being given again
        return new

    def part(self, what: Part, place: Place) -> tuple[Part, Place]:
        """What stands for a part, and where: a making of one part is that part."""
        while isinstance(what, Making) and what.is_its_part:
            inner = what.parts[0]
            if isinstance(inner.what, Cloth):
                self.recipes.setdefault(id(inner.what), what.recipe)
            what, place = inner.what, inner.place.then(place)
        return (self.making(what) if isinstance(what, Making) else what), place


def _maker(shared: Shared, counts: Sequence[Count]) -> Count:
    """The count in whose step the strip units of several units are sewn: the one that comes first."""
    return next(c for c in counts if c.shared is shared)


def _ways(count: Count) -> tuple[StripWay, ...]:
    """In which ways strip units are cut across: no more segments than are needed."""
    if count.making.recipe.segment is None:
        return ()
    if count.shared is not None:
        makings = count.shared.makings
        return tuple(StripWay(w.times, tuple(zip(makings, w.numbers, strict=True)), w.half) for w in count.shared.ways)
    if count.shares:
        return strip_ways(count, count.making)
    last = count.needed - count.yields * (count.batches - 1)
    ways = [(count.batches - 1, count.yields, False), (1, last, bool(count.half))]
    if last == count.yields and not count.half:
        ways = [(count.batches, last, False)]
    return tuple(StripWay(times, ((count.making, n),), half) for times, n, half in ways if times)


def _item(plain: Plain, making: Making, desk: Desk) -> Item | None:
    """What a making comes to in the end: a sewn thing, or a piece just as it was cut; None where no cut is for it."""
    what, _ = plain.part(making, Place())
    if isinstance(what, Making):
        return desk.thing(what)
    recipe = plain.recipes.get(id(what))
    return next((desk.piece(c) for c in recipe.cuts), None) if recipe is not None else None


def _step(making: Making, count: Count, desk: Desk) -> Step:
    """One step: the batches that the kind of the making says, or what is taken and made without any action."""
    desk.times, desk.needed, desk.ways, desk.taken = count.batches, count.needed, _ways(count), count.taken
    batches = batches_of(making, desk)
    if batches is not None:
        return Step(desk.thing(making), tuple(batches), prints=print_batches(count, batches))
    return Step(desk.thing(making), _untold(making, count, desk), rehearsed=False)


def _untold(making: Making, count: Count, desk: Desk) -> tuple[tuple[Batch, int], ...]:
    """What a step takes whose kind says no actions: the cuts of its recipe by the batch, sewn things by the unit."""
    thing = desk.thing(making)
    inner: list[Use] = []
    for p in making.parts:
        if isinstance(p.what, Making):
            inner.append(Use(desk.thing(p.what), p.place.turned))
        elif id(p.what) in desk.recipes:
            inner += [Use(desk.piece(c), p.place.turned) for c in desk.recipes[id(p.what)].cuts]
    cuts = [Use(desk.piece(c)) for c in making.recipe.cuts for _ in range(c.count * _gives(c.then))]
    if not inner or not cuts:
        gives = count.yields if cuts else 1
        return ((Batch(tuple(inner or cuts), (), ((thing, gives),)), count.batches),)
    return ((Batch((*inner, *cuts), (), ((thing, 1),)), count.batches),)


def _gives(then: str) -> int:
    return {"half": 2, "quarter": 4}.get(then, 1)


# -- cutting ----------------------------------------------------------------------------------------------
def _cutting(draft: Plan, desk: Desk, taken: frozenset[Item]) -> tuple[Cutting, ...]:
    """The cutting lines as actions; strips that are joined end to end give their pieces. A print with a direction runs
    across such strips, also where a short one beside long ones is taken upright: `directional-turned` tells that."""
    found: list[Cutting] = []
    shaped = _shaped(draft, desk)
    for line in draft.lines:
        use = _purpose(line, draft, desk, shaped)
        found.append(_bias(line, draft, use) or _cut(line, desk, lies_turned(line, draft), use))
    for long in draft.long_strips:
        strip = next(
            desk.piece(line.cut)
            for line in draft.lines
            if line.cut.then == "strip" and line.fabric == long.fabric and line.cut.height == long.height
        )
        gives: dict[Piece, int] = {}
        for length, n, _ in long.lengths:
            directed = long.fabric in desk.directional and not desk.joined(long.fabric, length)
            one = piece(long.fabric, "rectangle", length, long.height, directional=directed)
            upright = msgspec.structs.replace(one, width=one.height, height=one.width)
            one = upright if upright in taken and one not in taken else one
            gives[one] = gives.get(one, 0) + n
        lengths = tuple((length, n, _used(use)) for length, n, use in long.lengths)
        found.append(JoinEnds(strip, long.strips, long.diagonal, tuple(gives.items()), lengths, long.joins))
    return tuple(found)


def _used(use: PlannedUse) -> Name | Thing:
    return use.thing if isinstance(use, Making) else use


def _shaped(draft: Plan, desk: Desk) -> dict[Item, dict[AnyKey, Thing]]:
    """The units that each shape cut by template is for, each unit once."""
    found: dict[Item, dict[AnyKey, Thing]] = {}
    for making in (count.making for count in draft.counts):
        for cut in making.recipe.cuts:
            if cut.then == "template":
                found.setdefault(desk.piece(cut), {}).setdefault(making.thing.key, making.thing)
    return found


def _purpose(line: CutLine, draft: Plan, desk: Desk, shaped: Mapping[Item, Mapping[AnyKey, Thing]]) -> Purpose:
    """What a line is for: of a template all units whose it is, each once, of strips to join the pieces that are cut
    from them."""
    if line.cut.then == "template":
        shape = desk.piece(line.cut)
        return Purpose(tuple(shaped.get(shape, {}).values()), template=shape.template)
    short = line.cut.name if line.cut.name in (HALF_STRIP, SHORT_STRIP) else None
    if line.cut.then == "strip" and not (short or line.also):
        for long in draft.long_strips:
            if long.fabric == line.fabric and long.use == line.use:
                return Purpose(tuple(sorted({_used(use) for _, _, use in long.lengths}, key=str)), joined=True)
    return Purpose(tuple(dict.fromkeys(map(_used, (*line.use, *line.also)))), short)


def _bias(line: CutLine, draft: Plan, use: Purpose) -> CutBias | None:
    """The line of a bias binding: a square that is sewn into a tube, or a length that is cut on the slant."""
    b = draft.binding
    if b is None or not b.bias or line.use != (BIAS_BINDING,):
        return None
    lies = (line.cut.width, line.cut.height)
    return CutBias(b.fabric, b.width, b.gives, b.square, b.length, b.rounds, b.strips, lies, use)


def _template(shape: CutShape, desk: Desk) -> Template:
    """A shape as it is cut: by the ruler where its lines are enough."""
    angle, strip = ruler_angle(shape.outline, desk.ruler), bias_strip(shape.outline, shape.sewn)
    return Template(shape.name, shape.outline, shape.sewn, angle, strip)


def _cut(line: CutLine, desk: Desk, turned: bool, use: Purpose) -> Cutting:
    """A line as an action; a rectangle to halve as the cutting layout has it, be it turned."""
    cut, lain = line.cut, lying(line.cut, turned)
    lies = (lain.width, lain.height)
    if cut.then == "strip":
        return CutStrips(cut.fabric, cut.height, line.count, use=use)
    if cut.then == "template":
        shape = desk.piece(cut)
        face: Literal["up", "down"] = "down" if shape.reversed else "up"
        if line.run is None:
            return CutByTemplate(shape, line.count, face, lies, use=use)
        found = desk.templates.find(cut, cut.fabric in desk.directional or cut.fixed_grain)
        quarter = 0 if line.run.outline == at_home(cut.shape) else 90
        first = round(found.turned) + quarter
        at = tuple((s.x, s.y, (first + s.turned) % 360) for s in line.run.spots)
        box = tuple(Length(x.ceil_to(desk.ruler)) for x in (line.run.width, line.run.height))
        return CutByTemplate(shape, line.count, face, box, line.per_strip, use, at)  # type: ignore[arg-type]
    if cut.then in ("half", "quarter"):
        whole = desk.piece(cut, then="")
        leans = "" if cut.then == "quarter" or cut.width == cut.height else lain.leans
        return CutDiagonally(whole, desk.piece(cut), line.count, 1 if cut.then == "half" else 2, leans, lies, use)
    m = line.motifs
    motif = Motif(m.repeat, m.step, m.across, m.rows, m.length) if m is not None else None
    return CutPieces(desk.piece(cut), line.count, lies, use, motif)


def _finish(draft: Plan, desk: Desk) -> tuple[Finish, ...]:
    """What is done with the top: backing and batting, the binding, a sleeve."""
    found: list[Finish] = []
    over = ZERO
    if draft.backing is not None:
        p = draft.backing
        size, over = (p.width, p.height), p.overage
        upright = p.length == p.height if p.seams == "none" else p.seams == "vertical"
        strip = p.strip
        between = Between(strip.fabric, strip.height, strip.lengths[0][0], strip.strips, strip.joins) if strip else None
        found.append(
            Panels(
                "backing",
                p.fabric,
                p.panels,
                p.usable,
                p.length,
                p.seam,
                upright,
                size,
                over,
                between,
                draft.one_length,
                p.last,
            )
        )
    if draft.batting is not None:
        w, h = draft.batting
        found.append(Panels("batting", "", 1, w, h, ZERO, True, (w, h), over))
    if draft.rounded:
        found.append(RoundedCorners(draft.rounded, draft.rounded + desk.seam))
    b = draft.binding
    if b is not None:
        long, count = b.perimeter + b.allowance, 0 if b.bias else b.strips
        found.append(Bind(b.fabric, b.width, long, b.perimeter, b.allowance, count, b.straight, b.joins))
    s = draft.sleeve
    if s is not None:
        found.append(Sleeve(s.fabric, s.height, s.lengths[0][0], s.lengths[0][0], s.strips, s.joins, s.along))
    return (*found, *(_edge(edge, desk) for edge in draft.edges), *_extras(draft, desk))


def _edge(edge: Edging, desk: Desk) -> EdgeFinish:
    """What is sewn to the edges; strips that are longer than the cloth is wide are cut from joined ones."""
    pieces = []
    for one in edge.pieces:
        directed = edge.fabric in desk.directional and not desk.joined(edge.fabric, max(one.width, one.height))
        pieces.append((piece(edge.fabric, "rectangle", one.width, one.height, directional=directed), one.count))
    return EdgeFinish(
        edge.what,
        edge.fabric,
        tuple(pieces),
        edge.raw,
        edge.shows,
        edge.turn,
        edge.after,
        edge.overlap,
        edge.along,
        edge.apart,
    )


def _extras(draft: Plan, desk: Desk) -> Iterator[Extra]:
    """What is cut besides; strips that are joined first are told by the pieces that are cut from them."""
    joined = {(long.fabric, long.height, long.use) for long in draft.long_strips}
    for line in draft.lines:
        own = line.cut.then != "strip" or (line.fabric, line.cut.height, line.use) not in joined
        for use in line.use if own else ():
            if isinstance(use, Name) and use.what == "also":
                yield Extra(use, desk.piece(line.cut), line.count, line.made_for)
    for long in draft.long_strips:
        for length, n, use in long.lengths:
            if isinstance(use, Name) and use.what == "also":
                directed = long.fabric in desk.directional and not desk.joined(long.fabric, length)
                yield Extra(use, piece(long.fabric, "rectangle", length, long.height, directional=directed), n)


# -- what is left -----------------------------------------------------------------------------------------
def with_leaves(order: Order) -> Order:
    """The order with everything told that no step takes: by the last step that makes it, or by the cutting where a
    square gives more triangles than are taken."""
    made: dict[Item, int] = {}
    taken: dict[Item, int] = {}
    for step in order.steps:
        for item, n in step.takes.items():
            taken[item] = taken.get(item, 0) + n
        for item, n in step.gives.items():
            made[item] = made.get(item, 0) + n
    ends = dict(order.wanted) if order.top is None else {**dict(order.wanted), order.top: 1}
    last = {item: n for n, step in enumerate(order.steps) for item in step.gives}
    steps = list(order.steps)
    for item, n in last.items():
        left = made[item] - taken.get(item, 0) - ends.get(item, 0)
        if left > 0:
            steps[n] = msgspec.structs.replace(steps[n], leaves=(*steps[n].leaves, (item, left)))
    cut: dict[Item, int] = {}
    beyond: dict[Item, int] = {}  # what squares that are cut for several units, or of several prints, may give too many
    for line in order.cutting:
        if isinstance(line, CutDiagonally):
            cut[line.gives] = cut.get(line.gives, 0) + line.count * 2 * line.ways
            prints = sum(
                len(s.prints) for s in order.steps if s.prints and line.gives in s.takes
            )  # each left of its own
            beyond[line.gives] = beyond.get(line.gives, 0) + (2 * line.ways - 1) * max(1, prints)
    spare = tuple(
        (item, n - taken.get(item, 0)) for item, n in cut.items() if 0 < n - taken.get(item, 0) <= beyond[item]
    )
    return msgspec.structs.replace(order, steps=tuple(steps), leaves=spare)
