"""What hands do in a step, in words: a phrase for each passage of its batch, by name; where a passage has none, one for
each of its actions, so that a new kind of unit speaks without new words.

Which way a seam is pressed stands in none of them: that is said once, by `pressing`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.panels import Sentences
from patternkit.booklet.content.taking import template_name
from patternkit.booklet.phrases import Listing, Phrases, Sentence
from patternkit.lengths import ZERO, Length
from patternkit.piecing.batch import (
    Action,
    Batch,
    CloseTube,
    Cut,
    CutAcross,
    CutApart,
    CutMeasured,
    CutOut,
    Discard,
    Edge,
    Field,
    Join,
    Lay,
    LayOn,
    LayStrip,
    Line,
    Measure,
    Middle,
    Mitre,
    Open,
    OpenRing,
    Piece,
    Sew,
    Snip,
    TearAway,
    Thing,
    TrimBand,
    TrimBeyond,
    TrimTo,
)
from patternkit.piecing.laid_on import laid_part
from patternkit.piecing.making import Cloth, Making, Part
from patternkit.piecing.sewing.desk import trimming
from patternkit.plan.web import ROUND
from patternkit.rehearsal.measuring import size_beside

if TYPE_CHECKING:
    from patternkit.drawing.from_states import Performed
    from patternkit.rehearsal.table import State

NEAR = 1e-6
ELSEWHERE = ("trim", "measure", "strips_cut", "strips_tube")
"""Passages that have sentences of their own: trimming, the checkpoint, what comes of strip units and tubes."""

SAY_WHERE = ("plate", "eight-point-star", "partial-seam", "hexagons", "tumbling-block")
"""Kinds whose phrase says itself where seams begin and stop."""

LED = "applique-"
"""Passages whose phrase leads, and whose actions follow one by one: what is laid on, each in its place."""

JOINS = ("join-row", "join-column", "join-rows", "border-strips", "mitred-corners", "star-wedges")
"""Passages that the phrase of the whole method tells, where it has one."""


def sewing(batch: Batch, making: Making, values: Mapping[str, Any], ctx: Context) -> list[Sentences]:
    """How to sew one batch: `values` are what the phrases may ask for. The phrase of the whole method stands where the
    first of its passages does: what is cut to measure before is told before."""
    method = making.recipe.method.phrase
    whole = bool(method) and ctx.phrases.has(f"method.{method}")
    asked = {**values, "measured": _measured(batch, making, ctx), "pieces": _cut_measured(batch, making, ctx)}
    asked["level"] = _level(batch)
    asked["curved"] = any(isinstance(a, Join) and a.curved for a in batch.actions)
    cut = [use.item for use in batch.uses if isinstance(use.item, Piece)]
    asked["shaped"], asked["plain"] = (any((i.form == "template") == by for i in cut) for by in (True, False))
    asked["angle"] = max((ctx.angle(i.template) for i in cut if i.template), default=0)
    asked["templates"] = any(i.template and not ctx.angle(i.template) for i in cut)
    asked["snipped"] = any(isinstance(a, Snip) for a in batch.actions)
    its_own = [n for n, p in enumerate(batch.passages) if whole and (p.name == method or p.name in JOINS)]
    at = its_own[0] if its_own else 0
    lines: list[Sentences] = [(ctx.state(f"method.{method}", **asked),)] if whole and not batch.passages else []
    for n, passage in enumerate(batch.passages):
        if whole and n == at:
            lines.append((ctx.state(f"method.{method}", **asked),))
        if passage.name in ELSEWHERE or n in its_own:
            continue
        if passage.name.startswith(LED):
            values = led(passage.actions)
            again = any(
                p.name == passage.name and led(p.actions)["turned"] == values["turned"] for p in batch.passages[:n]
            )
            key = "applique-again" if again else passage.name
            lines += [(ctx.state(f"method.{key}", **asked, **values),)]
            lines += [(line,) for line in one_by_one(_laid(passage.actions), batch, making, ctx)]
        elif ctx.phrases.has(f"method.{passage.name}"):
            lines.append((ctx.state(f"method.{passage.name}", **asked),))
        else:
            lines.append(one_by_one(passage.actions, batch, making, ctx))
    stops = stopping(batch)
    if stops and not _says_where(making):
        lines.append((ctx.state("method.set_in"), *one_by_one(stops, batch, making, ctx)))
    return lines


def led(actions: Sequence[Action]) -> dict[str, Any]:
    """What the phrase of a passage asks for by which several things are laid on: how much is turned under; how many
    there are."""
    laid = [a for a in actions if isinstance(a, (LayOn, LayStrip))]
    return {"turned": laid[0].turned if laid else ZERO, "shapes": len(laid), "outside": ROUND}


def _laid(actions: Sequence[Action]) -> list[Action]:
    return [a for a in actions if isinstance(a, (LayOn, LayStrip))]


def _level(batch: Batch) -> bool:
    """Whether all edges that are sewn from end to end meet raw edge to raw edge."""
    joins = [a for a in batch.actions if isinstance(a, Join)]
    return all(a.fit == "level" or "seam" in (a.start, a.stop) for a in joins)


def unlike_ends(batch: Batch) -> bool:
    """Whether strips of unequal length are sewn side by side, which lie level at one end only."""
    return any(isinstance(a, Join) and a.fit == "end" and a.ears for a in batch.actions)


def _measured(batch: Batch, making: Making, ctx: Context) -> str:
    """The strips of a border that are cut to what is measured, those of one name once."""
    found: dict[str, None] = {}
    for action in batch.actions:
        if isinstance(action, Join) and action.fit == "measured":
            found |= {_strip(making.parts[e.part].what, ctx): None for e in action.right}
    return ctx.listed(list(found))


def _cut_measured(batch: Batch, making: Making, ctx: Context) -> Listing:
    """The pieces that are cut to what is measured, each with how long that should be."""
    say, found = Doing(batch, making, ctx), dict[Sentence, None]()
    for action in batch.actions:
        if isinstance(action, CutMeasured):
            around = making.recipe.method.around == "borders"  # the two of a pair are called alike
            part = _strip(making.parts[action.part].what, ctx) if around else say.part(action.part)
            found[ctx.state("action.measured_part", part=part, about=action.about)] = None
    return Listing(tuple(found))


def _strip(what: Part, ctx: Context) -> str:
    if isinstance(what, Cloth):
        return ctx.names.of(what.name) if what.name is not None else ctx.fabric(what.fabric)
    return ctx.title(what)


def stopping(batch: Batch) -> list[Action]:
    """The seams of a batch that do not run from edge to edge, and those beside them: all, if there is any such."""
    joins: list[Action] = [a for a in batch.actions if isinstance(a, Join)]
    if any(isinstance(a, Join) and ("seam" in (a.start, a.stop) or a.partial) for a in joins):
        return joins
    return []


def _says_where(making: Making) -> bool:
    """Whether the phrase of a method says itself where seams begin and stop."""
    return making.recipe.method.around == "borders" or making.kind in SAY_WHERE


def one_by_one(actions: Sequence[Action], batch: Batch, making: Making, ctx: Context) -> Sentences:
    """Actions one by one, a sentence each."""
    doing = Doing(batch, making, ctx)
    before: Sequence[Action | None] = (None, *actions)
    return tuple(doing.turned(a) if _turns(b, a) else doing.state(a) for b, a in zip(before, actions, strict=False))


def _turns(before: Action | None, action: Action) -> bool:
    """Whether a seam goes on round the inner corner at which the one before began, with the same piece on one side."""
    if not isinstance(before, Join) or not isinstance(action, Join) or (before.start, action.stop) != ("seam", "seam"):
        return False
    sides = ((before.left, action.left), (before.right, action.right))
    return any({e.part for e in one} == {e.part for e in other} for one, other in sides)


class Doing:
    """The sentences of one batch's actions. Parts are called by what they are called in the unit, or by number."""

    def __init__(self, batch: Batch, making: Making, ctx: Context) -> None:
        self.batch, self.making, self.ctx = batch, making, ctx
        self.phrases: Phrases = ctx.phrases
        self._values: dict[type, Callable[[Any], dict[str, Any]]] = {
            Lay: lambda a: {"upper": self.part(a.at[0][0].part), "onto": self.part(a.at[0][1].part)},
            Sew: lambda a: {"line": self.on(a.line), "beside": a.sides != (0,), "both": len(a.sides) > 1,
                            "seam": ctx.seam * max(abs(s) for s in a.sides),
                            "starts": a.start == "seam", "stops": a.stop == "seam"},
            Cut: lambda a: {"lines": ctx.listed(list(dict.fromkeys(self.on(x) for x in a.lines))), "seam": ctx.seam,
                            "beyond": any(x.beside for x in a.lines)},
            Snip: lambda a: {"parts": ctx.listed([self.part(n) for n in a.parts]), "line": self.on(a.line)},
            Discard: lambda a: {"part": self.part(a.corner.part)},
            Open: lambda a: {"picked": a.picked},
            Join: self._join,
            Mitre: lambda a: {"left": self.part(a.left), "right": self.part(a.right)},
            CutAcross: lambda a: {"width": a.width, "n": a.count, "angle": min(a.angle, 180 - a.angle)},
            CloseTube: lambda a: {"last": self.part(a.left.part), "first": self.part(a.right.part)},
            OpenRing: lambda a: {"last": self.part(a.left.part), "first": self.part(a.right.part)},
            CutApart: lambda a: {"part": self.part(a.part)},
            CutMeasured: lambda a: {"part": self.part(a.part), "about": a.about},
            CutOut: lambda a: {"n": a.count, "between": a.between.count if a.between is not None else 0},
            TrimTo: lambda a: {"w": a.width, "h": a.height},
            TrimBand: lambda a: {"w": a.width, "h": a.height},
            TrimBeyond: lambda a: {"beyond": a.beyond, "ends": a.ends},
            Measure: lambda a: {"w": a.width, "h": a.height},
            Field: lambda a: {"part": self.part(a.part), "n": a.field + 1},
            TearAway: lambda a: {},
            LayOn: self._lay_on,
            LayStrip: self._lay_strip,
        }  # fmt: skip

    def state(self, action: Action) -> Sentence:
        """One action as a sentence."""
        return self.ctx.state(f"action.{KEYS[type(action)]}", **self._values[type(action)](action))

    def turned(self, action: Action) -> Sentence:
        """A seam that goes on round an inner corner."""
        assert isinstance(action, Join)
        return self.ctx.state("action.join_turned", **self._join(action))

    def part(self, n: int) -> str:
        """``piece 2, Lamp yellow (B)``, ``the spark unit``: what a maker may call a part of the batch."""
        item = self.batch.uses[n].item
        if isinstance(item, Thing):
            what = self.ctx.designs.get(item)
            return self.ctx.say("action.part_sewn", n=n + 1, what=self.ctx.title(what) if what is not None else "")
        if item.form == "template":
            desk, own = self.ctx.worked.desk, self.making.recipe.cuts
            cut = next((c for c in own if c.then == "template" and desk.piece(c) == item), None)
            pieces = [use.item for use in self.batch.uses if isinstance(use.item, Piece)]
            if (
                cut is not None
                and not self.ctx.angle(item.template)
                and sum(i.template == item.template for i in pieces) == 1
            ):
                return self.ctx.say("action.part_cut", what=template_name(self.making, cut, self.ctx))
        return self.ctx.say("action.part", n=n + 1, what=self.ctx.fabric(item.fabric))

    def parts(self, edges: Sequence[Edge]) -> str:
        """The parts on one side of a seam."""
        return self.ctx.listed([self.part(n) for n in dict.fromkeys(e.part for e in edges)])

    def on(self, line: Line) -> str:
        """Where a line runs: from corner to corner of a part, or through its middle."""
        part = self.part(line.start.part)
        middle = isinstance(line.start, Middle) and isinstance(line.end, Middle)
        return self.ctx.say("action.through" if middle else "action.corners", part=part)

    def _lay_on(self, a: LayOn) -> dict[str, Any]:
        on = laid_part(self.making, a.part)
        return {"n": a.part, "what": on.called, "across": a.across, "down": a.down, "degrees": on.degrees}

    def _lay_strip(self, a: LayStrip) -> dict[str, Any]:
        on = laid_part(self.making, a.part)
        (x, y), (u, v), (p, q) = a.start, a.end, a.about or a.start
        return {"n": a.part, "what": self.ctx.fabric(on.called), "long": on.cut[0], "x": x, "y": y, "u": u, "v": v,
                "arc": on.clockwise, "p": p, "q": q, "caught": sum(a.caught), "wide": on.wide}  # fmt: skip

    def _join(self, a: Join) -> dict[str, Any]:
        return {
            "left": self.parts(a.left),
            "right": self.parts(a.right),
            "seam": self.ctx.seam,
            "ends": (a.start == "seam") + (a.stop == "seam"),
            "fit": a.fit,
            "slide": a.slide,
            "eased": a.eased,
            "curved": a.curved,
            "partial": a.partial,
            "open": "seam" in (a.start, a.stop) and a.fit in ("start", "end"),
        }


KEYS: Mapping[type, str] = {
    Lay: "lay",
    Sew: "sew",
    Cut: "cut",
    Snip: "snip",
    Discard: "discard",
    Open: "open",
    Join: "join",
    Mitre: "mitre",
    CutAcross: "cut_across",
    CloseTube: "close_tube",
    OpenRing: "open_ring",
    CutApart: "cut_apart",
    CutMeasured: "cut_measured",
    CutOut: "cut_out",
    TrimTo: "trim_to",
    TrimBand: "trim_band",
    TrimBeyond: "trim_beyond",
    Measure: "measure",
    Field: "field",
    TearAway: "tear_away",
    LayOn: "lay_on",
    LayStrip: "lay_strip",
}
"""The key of the phrase of each action."""


# -- trimming ----------------------------------------------------------------------------------------------
def last_trim(making: Making, ctx: Context) -> TrimTo | None:
    """The trimming of what comes out of a step to its size; None where there is none."""
    step = ctx.makers[making.thing]
    if not step.rehearsed:
        return next(iter(trimming(making, making.recipe.method.ruler)), None)
    for action in reversed(step.batches[0][0].actions):
        if isinstance(action, TrimTo):
            if action.holding is not None and (action.width, action.height) != making.recipe.trim_to:
                continue  # a half-square of the waste
            return action
        if isinstance(action, (Join, Sew, Cut, CutAcross, CutOut)):
            return None
    return None


def before_trim(trim: TrimTo, making: Making, ctx: Context) -> tuple[Length, Length] | None:
    """What a thing measures before its last trimming, as it comes off the machine when its order is rehearsed; exact
    where that is what the recipe works out, which it is too where its kind says no actions."""
    done, exact = ctx.performed(making), making.recipe.sewn or (trim.width, trim.height)
    hands = _table_before(trim, done).hands if done is not None else ()
    found = size_beside(hands, float(trim.width), float(trim.height))
    if found is None:
        return making.recipe.sewn
    own = [Length(Fraction(x)) if abs(x - float(e)) > NEAR else e for x, e in zip(found, exact, strict=True)]
    return own[0], own[1]


def _table_before(trim: TrimTo, done: Performed) -> State:
    """What lies on the table before the last time that something is trimmed so."""
    passages = done.batch.passages
    acted = ((before, passages[s.passage].actions[s.action]) for before, s in pairwise(done.states))
    return [before for before, action in acted if action == trim][-1]


def ruler(trim: TrimTo, batch: Batch, ctx: Context, beyond: Length) -> Sentence:
    """How to lay the ruler for a trimming, by what has to lie where on it.

    A half-square's seam runs into two corners, so the 45 degree line lies on it; that of a rectangle passes a seam
    inside two corners, not through them. An hourglass's seams cross in the middle, half the size from two sides. The
    point of a goose, or of a triangle in a square, lies a seam below the middle of the upper edge; only the goose's
    seams, at 45 degrees, run into the lower corners. The points of a square in a square lie a seam inside the middles
    of the sides, or as far `beyond` as they float.
    """
    way: str = trim.way
    if trim.way == "point":
        goose = trim.width - ctx.seam * 2 == (trim.height - ctx.seam * 2) * 2
        way = "geese" if goose else "peak"
    if trim.way == "diagonal" and trim.width != trim.height:
        way = "leaning"
    if trim.way == "even":
        flips = any(isinstance(a, Discard) for a in batch.actions)
        way = "corners" if flips else "plain"
    w, h = trim.width, trim.height
    return ctx.state(f"ruler.{way}", w=w, h=h, half_w=w / 2, half_h=h / 2, seam=ctx.seam, beyond=beyond)
