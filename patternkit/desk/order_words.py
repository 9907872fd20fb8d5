"""An order in plain words, one line for each action: for a person who wants to look behind a booklet.

Every action has a sentence of its own here, so that a new kind of unit speaks without new words.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.batch import (
    OPEN,
    Action,
    CloseTube,
    Corner,
    Cut,
    CutAcross,
    CutApart,
    CutMeasured,
    CutOut,
    Discard,
    Edge,
    Field,
    Item,
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
    Spot,
    TearAway,
    Thing,
    TrimBand,
    TrimBeyond,
    TrimTo,
)
from patternkit.piecing.keys import Key
from patternkit.piecing.making import Making
from patternkit.piecing.names import english
from patternkit.units import Units, number, show

HAIR = Length(Fraction(1, 64))
"""Inches that nobody lays a template by."""
FORMS = {
    "strip": "strip",
    "rectangle": "rectangle",
    "half": "half of a rectangle",
    "quarter": "quarter of a square",
    "template": "piece cut by template",
    "bias": "bias strip",
}
WAYS = {
    "even": "the same from opposite sides",
    "diagonal": "the seam running into two corners",
    "cross": "the crossing of the seams in the middle",
    "point": "the point half way along and a seam inside the edge",
    "points": "every point a seam inside its edge",
}
FITS = {
    "level": "",
    "centred": ", middle to middle",
    "between": ", its middle midway between the seams that end there",
    "start": ", level where the seam begins",
    "end": ", level where the seam ends",
    "points": ", the ends of the seam lines meeting",
    "seams": ", the seams meeting",
    "across": ", its seams in line with those beyond the strip",
    "crossed": ", the tips reaching out evenly at both ends",
    "measured": ", cut to the length that is measured",
}


class OrderWords(msgspec.Struct, frozen=True):
    """How an order's items and lengths are called: `codes` of cut pieces, `titles` of sewn things, `fabrics` by key."""

    units: Units
    codes: Mapping[Piece, str]
    designs: Mapping[Thing, Making]
    fabrics: Mapping[str, str]

    def length(self, value: Length) -> str:
        """``2 1/2 in``."""
        return show(value, self.units)

    def size(self, width: Length, height: Length) -> str:
        """``2 1/2 x 4 1/2 in``."""
        return f"{number(width, self.units)} x {show(height, self.units)}"

    def item(self, item: Item) -> str:
        """A piece by its code, a sewn thing by its title."""
        if isinstance(item, Piece):
            return self.codes.get(item, FORMS[item.form])
        design = self.designs.get(item)
        name = (design.title or str(item.key)) if design is not None else str(item.key)
        if design is not None and design.recipe.apart is not None:
            name = design.called
        elif isinstance(item.key, Key) and item.key.piece is not None:
            name = f"{name}, {english(item.key.piece)}"  # a piece of a unit has that one's title
        return f"{name}, version {item.version + 1}" if item.version else name

    def piece(self, item: Piece) -> str:
        """A piece spelt out: ``square of Foam, 2 7/8 x 2 7/8 in``."""
        form = "square" if item.form == "rectangle" and item.width == item.height else FORMS[item.form]
        cloth = self.fabrics.get(item.fabric, item.fabric)
        if item.form == "strip":
            return f"strip of {cloth}, {self.length(item.height)} high"
        lean = {"right": ", from lower left to upper right", "left": ", from upper left to lower right", "": ""}
        by = f" by {item.template}{' turned over' if item.reversed else ''}" if item.template else ""
        return f"{form} of {cloth}{by}, {self.size(item.width, item.height)}{lean[item.hand]}"


class ActionWords:
    """The sentences of one batch's actions; parts are called by number and item."""

    def __init__(self, words: OrderWords, uses: tuple[Item, ...]) -> None:
        self.words, self.uses = words, uses
        self._render: dict[type, Callable[..., str]] = {
            Lay: self._lay,
            Sew: self._sew,
            Cut: self._cut,
            Snip: lambda a: (
                f"cut {', '.join(self.part(n) for n in a.parts)} alone {self.line(a.line)}, and keep the larger side"
            ),
            Discard: lambda a: f"put aside what holds {self.spot(a.corner)}",
            Open: self._open,
            Join: self._join,
            Mitre: self._mitre,
            CutAcross: self._cut_across,
            CloseTube: self._close_tube,
            OpenRing: self._open_ring,
            CutApart: self._cut_apart,
            CutMeasured: lambda a: (
                f"measure the middle of what it goes to, and cut {self.part(a.part)} to that, about "
                f"{words.length(a.about)}"
            ),
            CutOut: self._cut_out,
            LayOn: self._lay_on,
            LayStrip: self._lay_strip,
            TrimTo: lambda a: (
                f"trim to {words.size(a.width, a.height)}, {WAYS[a.way]}"
                + (f", the width along {self.edges((a.along,))}" if a.along is not None else "")
                + self._holding(a.holding)
            ),
            TrimBand: lambda a: (
                f"trim it to {self.words.size(a.width, a.height)}, along the line through the middles of "
                f"{self.part(a.first)} and {self.part(a.last)}"
            ),
            TrimBeyond: lambda a: (
                f"trim {words.length(a.beyond)} beyond {self._points(a.of)}"
                + (f", {words.length(a.ends)} at top and bottom" if a.ends is not None else "")
            ),
            Measure: self._measure,
            Field: lambda a: (
                f"lay {self.part(a.part)} over field {a.field + 1} of foundation {a.paper}, sew on the "
                "line, trim and fold over"
            ),
            TearAway: lambda a: f"trim foundation {a.paper} to its outer line",
        }

    def render(self, action: Action) -> str:
        """One action as a command."""
        return self._render[type(action)](action)

    def part(self, n: int) -> str:
        """``part 1 (A2)``."""
        return f"part {n + 1} ({self.words.item(self.uses[n])})" if 0 <= n < len(self.uses) else f"part {n + 1}"

    def spot(self, spot: Spot) -> str:
        """``corner 2 of part 1``."""
        what = "corner" if isinstance(spot, Corner) else "the middle of edge"
        return f"{what} {spot.n + 1} of part {spot.part + 1}"

    def edges(self, edges: tuple[Edge, ...]) -> str:
        """``edge 2 of part 1 and edge 1 of part 3``; the chords of an arc are ``edges 4 to 52 of part 1``."""
        runs: list[list[Edge]] = []
        for e in edges:
            if runs and runs[-1][-1] == msgspec.structs.replace(e, n=e.n - 1):
                runs[-1].append(e)
            else:
                runs.append([e])
        return " and ".join(text for run in runs for text in _edges(run))

    def line(self, line: Line) -> str:
        """``from corner 1 to corner 3 of part 1``."""
        a, b = line.start, line.end
        if isinstance(a, Middle) and isinstance(b, Middle):
            text = f"through the middles of edges {a.n + 1} and {b.n + 1} of part {a.part + 1}"
        else:
            text = f"from {self.spot(a)} to {self.spot(b)}"
        if line.beside:
            side = "right" if line.beside > 0 else "left"
            text += f", {_seams(abs(line.beside))} to the {side} of that line"
        return text

    def toward(self, toward: object, spun: bool = False) -> str:
        """How a seam is pressed."""
        if toward == OPEN:
            return "press it open"
        what = self.spot(toward) if isinstance(toward, (Corner, Middle)) else self.part(int(str(toward)))
        return f"press it toward {what}{', spun where the seams cross' if spun else ''}"

    def _lay(self, a: Lay) -> str:
        (first, on), (second, along) = a.at
        return (
            f"lay part {first.part + 1} face down on part {on.part + 1}: {self.spot(first)} on {self.spot(on)}, "
            f"{self.spot(second)} the way of {self.spot(along)}"
        )

    def _sew(self, a: Sew) -> str:
        sides = {(0,): "on the line", (1, -1): "a seam from the line on both sides"}.get(
            a.sides, "beside the line: " + ", ".join(f"{s:+d}" for s in a.sides)
        )
        return f"sew {sides} {self.line(a.line)}{_ends(a.start, a.stop)}"

    def _cut(self, a: Cut) -> str:
        return "cut " + ", and ".join(self.line(x) for x in a.lines)

    def _open(self, a: Open) -> str:
        picked = "; pick out the stitches across the tips" if a.picked else ""
        return f"open, and {self.toward(a.toward, a.spun)}{picked}"

    def _join(self, a: Join) -> str:
        fit = FITS.get(a.fit, f", the tips reaching {self.words.length(abs(a.slide))} past each other")
        more = {"": "", "begun": ", half way only", "closed": ", to close the seam that was begun"}[a.partial]
        eased = ", easing it in" if a.eased else ""
        locks = f"; {a.locks} joints lock" if a.locks else ""
        return (
            f"sew {self.edges(a.left)} to {self.edges(a.right)}{fit}{eased}{more}{_ends(a.start, a.stop)}; "
            f"{self.toward(a.toward, a.spun)}{locks}"
        )

    def _mitre(self, a: Mitre) -> str:
        return f"mitre the corner of {self.part(a.left)} and {self.part(a.right)}; {self.toward(a.toward)}"

    def _cut_across(self, a: CutAcross) -> str:
        if a.angle == 90:
            return f"square up one end and cut across: {a.count} of {self.words.length(a.width)}"
        way = "lower left to upper right" if a.angle < 90 else "upper left to lower right"
        angle = min(a.angle, 180 - a.angle)
        return f"cut across at {angle} degrees, from {way}: {a.count} of {self.words.length(a.width)}"

    def _close_tube(self, a: CloseTube) -> str:
        return f"sew {self.edges((a.left,))} to {self.edges((a.right,))}, so that the strip unit is a tube"

    def _open_ring(self, a: OpenRing) -> str:
        press = ", ".join("open" if n == OPEN else f"toward {self.part(n)}" for n in a.toward)
        between = f"{self.part(a.left.part)} and {self.part(a.right.part)}"
        return f"open the rings that are cut at the seam between {between}; press their seams {press}"

    def _cut_apart(self, a: CutApart) -> str:
        way = (("left edge", a.columns), ("upper edge", a.rows))
        found = []
        for (edge, lines), halved in zip(way, a.middles, strict=True):
            if lines:
                at = " and ".join(self.words.length(x) for x in lines)
                found.append("through its middle" if halved else f"{at} from its {edge}")
        return f"cut {self.part(a.part)} apart, {', '.join(found)}; move nothing before it is all cut"

    def _cut_out(self, a: CutOut) -> str:
        over = " turned over" if a.reversed else ""
        down = f", {self.words.length(a.down)} below its upper edge" if a.down > HAIR else ""
        between = "" if a.between is None else f", and {a.between.count} by {a.between.template} between them"
        return f"cut {a.count} by {a.template}{over} from the strip unit{down}{between}"

    def _lay_on(self, a: LayOn) -> str:
        turned = f"turn the edge of {self.part(a.part)} under by {self.words.length(a.turned)}, " if a.turned else ""
        at = self._at((a.across, a.down))
        return f"{turned}lay {self.part(a.part)} on {self.part(a.onto)}, its middle {at}, and stitch"

    def _lay_strip(self, a: LayStrip) -> str:
        turned = f"turn the edges of {self.part(a.part)} under by {self.words.length(a.turned)}, " if a.turned else ""
        about = f" about {self._at(a.about)}" if a.about is not None else ""
        return (
            f"{turned}lay {self.part(a.part)} on {self.part(a.onto)}, its middle line from {self._at(a.start)} to "
            f"{self._at(a.end)}{about}, and stitch"
        )

    def _at(self, p: tuple[Length, Length]) -> str:
        return f"{number(p[0], self.words.units)} from the left and {self.words.length(p[1])} from the upper raw edge"

    def _points(self, of: int | None) -> str:
        return "the points where seams meet" if of is None else f"the points of {self.part(of)}"

    def _measure(self, a: Measure) -> str:
        shows = ""
        if a.shows:
            way = "down" if a.down else "across"
            shows = f", showing {way} " + ", ".join(number(x, self.words.units) for x in a.shows)
        return f"it measures {self.words.size(a.width, a.height)}{shows}{self._holding(a.holding)}"

    def _holding(self, corner: Corner | None) -> str:
        return "" if corner is None else f" (what holds {self.spot(corner)})"


def _seams(n: int) -> str:
    return "one seam" if n == 1 else f"{n} seams"


def _ends(start: str, stop: str) -> str:
    stops = [w for w, end in (("starting", start), ("stopping", stop)) if end == "seam"]
    return f", {' and '.join(stops)} a seam before the edge" if stops else ""


def _edges(run: list[Edge]) -> list[str]:
    """Edges of one part that follow each other; two of them are told one by one."""
    if len(run) < 3:
        return [f"edge {e.n + 1} of part {e.part + 1}" for e in run]
    return [f"edges {run[0].n + 1} to {run[-1].n + 1} of part {run[0].part + 1}"]
