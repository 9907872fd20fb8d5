"""A method drawn from what the table shows: the states of its rehearsal, one picture for each turn of work.

Nothing is worked out here of how a unit is sewn. A picture shows the hands that lie on the table: their layers from the
lowest up, right or wrong side, the lines that are drawn, stitched or cut. The whole series is turned so that it ends as
the unit is drawn.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from patternkit.drawing.geometry import Frame, apply, area, box_of, centre_of, clipped
from patternkit.drawing.layout import Picture, beside, picture
from patternkit.drawing.look import Look
from patternkit.drawing.method_pictures import MethodPicture
from patternkit.drawing.pieces import Leaves
from patternkit.drawing.scene import Pt, Shape, ShapeGroup
from patternkit.drawing.sheets import SIDE, ClothLayer, Segment, cutting, drawn, lying, pieces_picture, stitched
from patternkit.drawing.swatches import Swatch, luminance, swatch_for
from patternkit.drawing.unit_panel import unit_panel
from patternkit.piecing.batch import Action, Batch, Cut, Discard, Lay, Open, Piece, Sew, Thing
from patternkit.piecing.making import Making
from patternkit.rehearsal.plane import CUT
from patternkit.rehearsal.table import OnTable, Sheet, State

PEEK = 5.0  # points by which a lower sheet shows beyond one that would hide it
APART = 7.0  # points by which parts that are cut apart are moved from their middle
ALIKE = 0.8  # an upper sheet of so much of the lower one's area would hide it


class Performed(msgspec.Struct, frozen=True):
    """What a batch went through: its states, the designs of the sewn things that it takes."""

    batch: Batch
    states: tuple[State, ...]
    designs: Mapping[Thing, Making]


class Turn(msgspec.Struct, frozen=True):
    """One turn of work, told in one picture: its actions with the state after each, and the state before them."""

    before: State
    done: tuple[tuple[Action, State], ...]

    @property
    def after(self) -> State:
        """The table when it is done."""
        return self.done[-1][1]

    def of(self, kind: type) -> list[Action]:
        """Its actions of one kind."""
        return [a for a, _ in self.done if isinstance(a, kind)]


def can_draw(batch: Batch) -> bool:
    """Whether a method hides its middle (laid face to face, cut apart, opened) and so wants its states shown."""
    return any(isinstance(a, (Lay, Open)) for a in batch.actions)


def turns_of(worked: Performed) -> list[Turn]:
    """The states in turns of work: what is laid and sewn, what is cut, what is opened; trimming is told at the end."""
    by_place = {(s.passage, s.action): s for s in worked.states}
    found: list[Turn] = []
    last, kind = worked.states[0], 0
    for p, passage in enumerate(worked.batch.passages):
        for a, action in enumerate(passage.actions):
            state = by_place.get((p, a))
            if state is None:
                return found
            now = 1 if isinstance(action, (Lay, Sew)) else 2 if isinstance(action, (Cut, Discard)) else 3
            if isinstance(action, (Lay, Sew, Cut, Discard, Open)):
                sewn_before = found and found[-1].of(Sew) and isinstance(action, Lay)
                if found and now == kind and not sewn_before:
                    found[-1] = msgspec.structs.replace(found[-1], done=(*found[-1].done, (action, state)))
                else:
                    found.append(Turn(last, ((action, state),)))
                kind = now
            last = state
    return found


def from_states(making: Making, worked: Performed, swatches: Mapping[str, Swatch], look: Look) -> list[MethodPicture]:
    """The pieces, each turn of work, the unit. What is done again in the same way is drawn once more at most."""
    painter = _Painter(making, worked, swatches, look)
    turns = turns_of(worked)
    panels = [MethodPicture(pieces_picture(making.recipe.cuts, swatches, look), look.render("panel.pieces"))]
    flips = sum(bool(t.of(Discard)) for t in turns)
    seen: dict[object, int] = {}
    ends = painter.sort(turns[-1]) if turns else None
    for n, turn in enumerate(turns):
        sort = painter.sort(turn)
        if turn.of(Open) and sort == ends:
            continue  # the unit itself is the last picture
        seen[sort] = seen.get(sort, 0) + 1
        if flips > 1:  # corner after corner: the second shows that it goes on so
            if n > 3 or (n == 3 and not turn.of(Lay)):
                continue
        elif seen[sort] > 1:
            continue
        words = look.render("panel.again") if flips > 1 and n > 2 else _words(turn, worked, look)
        panels.append(MethodPicture(painter.turn(turn), words))
    key = "panel.flip" if flips else "panel.open"
    return [*panels, unit_panel(making, swatches, look, painter.scale, key)]


def _words(turn: Turn, worked: Performed, look: Look) -> str:
    """What is done in a turn of work, in the words of the drawings."""
    seam = look.length(look.seam)
    if turn.of(Lay):
        return ". ".join(dict.fromkeys([*_laid_words(turn, worked, look), *_sewn_words(turn, look, seam)]))
    if turn.of(Discard):
        return look.render("panel.trim", seam=seam)
    if turn.of(Cut):
        if any(line.beside for a in turn.of(Cut) if isinstance(a, Cut) for line in a.lines):
            return look.render("panel.cut.between")  # what comes off is used: a second seam runs beyond the cut
        lines = sum(len(a.lines) for a in turn.of(Cut) if isinstance(a, Cut))
        return look.render({1: "panel.cut.line", 2: "panel.cut.both"}.get(lines, "panel.cut.all"))
    return look.render("panel.open")


def _laid_words(turn: Turn, worked: Performed, look: Look) -> list[str]:
    laid = [a.at[0][0].part for a in turn.of(Lay) if isinstance(a, Lay)]
    sewn = [a for a in turn.of(Sew) if isinstance(a, Sew)]
    if any(len(hand.sheets) > 1 and not _hides(hand) for hand in turn.after.hands):
        few = len(laid) == 1
        if any(len(s.sides) == 2 for s in sewn):
            return [look.render("panel.small.one" if few or (turn.before.passage >= 0 and len(laid) < 3 and
                             len(turn.before.hands) < len(worked.batch.uses) - 1) else "panel.small.two")]  # fmt: skip
        return [look.render("panel.laid.one") if few else look.render("panel.laid", n=len(laid))]
    if len(laid) > 1 or any(isinstance(worked.batch.uses[p].item, Thing) for p in laid):
        return [look.render("panel.pair")]
    lines = {a.line for a in sewn if a.sides != (0,) or not a.line.beside}
    if not lines or all(a.line.beside for a in sewn):
        return [look.render("panel.face.edge")]
    return [look.render("panel.face.two" if len(lines) > 1 else "panel.face")]


def _sewn_words(turn: Turn, look: Look, seam: str) -> list[str]:
    found = []
    for action in turn.of(Sew):
        assert isinstance(action, Sew)
        if len(action.sides) == 2:
            found.append(look.render("panel.sew.both", seam=seam))
        elif action.sides != (0,):
            found.append(look.render("panel.sew.second", off=look.length(look.seam * abs(action.sides[0]))))
        elif action.line.beside:
            found.append(look.render("panel.sew.edge", seam=seam))
        else:
            found.append(look.render("panel.sew.line"))
    return found


def _hides(hand: OnTable) -> bool:
    """Whether an upper sheet covers most of the lowest one."""
    sizes = [sum(abs(area(f.ring)) for f in sheet.facets) for sheet in hand.sheets]
    return len(sizes) > 1 and max(sizes[1:]) > ALIKE * sizes[0]


class _Painter:
    """Draws states of one batch to one scale and one way up."""

    def __init__(self, making: Making, worked: Performed, swatches: Mapping[str, Swatch], look: Look) -> None:
        self.making, self.worked, self.swatches, self.look = making, worked, swatches, look
        self.leaves = Leaves()
        sides = [
            max(abs(b - a) for a, b in ((x0, x1), (y0, y1)))
            for hand in worked.states[0].hands
            for x0, y0, x1, y1 in (box_of([p for f in hand.facets for p in f.ring]),)
        ]
        self.scale = SIDE / max([*sides, 1e-6])
        self.frame = self._turned()

    def _turned(self) -> Frame:
        """The quarter turn after which the last state shows the unit as it is drawn."""
        k = self.scale
        frames: list[Frame] = [(k, 0, 0, k, 0, 0), (0, k, -k, 0, 0, 0), (-k, 0, 0, -k, 0, 0), (0, -k, k, 0, 0, 0)]
        want = [(leaf.fabric, centre_of(leaf.points)) for leaf in self.leaves.of(self.making)]
        middle = float(self.making.width) / 2, float(self.making.height) / 2
        best, least = frames[0], float("inf")
        for hand in self.worked.states[-1].hands:
            if hand.waste or len(hand.sheets) != 1:
                continue
            found = [(self._fabric(f.part), centre_of(f.ring)) for f in hand.facets]
            x0, y0, x1, y1 = box_of([p for f in hand.facets for p in f.ring])
            own = (x0 + x1) / 2, (y0 + y1) / 2
            for frame in frames:
                off = 0.0
                for fabric, (x, y) in found:
                    dx, dy = x - own[0], y - own[1]
                    px, py = (frame[0] * dx + frame[2] * dy) / k, (frame[1] * dx + frame[3] * dy) / k
                    near = [abs(px - qx + middle[0]) + abs(py - qy + middle[1]) for f, (qx, qy) in want if f == fabric]
                    off += min(near, default=100.0)
                if off < least - 1e-6:
                    best, least = frame, off
        return best

    def _fabric(self, part: int) -> str:
        item = self.worked.batch.uses[part].item
        if isinstance(item, Piece):
            return item.fabric
        design = self.worked.designs.get(item)
        return self.leaves.of(design)[0].fabric if design is not None else ""

    def sort(self, turn: Turn) -> object:
        """What a turn of work looks like: alike for what is done once more in the same way."""
        kinds = tuple(type(a).__name__ for a, _ in turn.done)
        return kinds, frozenset(self._look(h) for h in self._touched(turn))

    def _look(self, hand: OnTable) -> object:
        facets = sorted((self._fabric(f.part), f.up, round(abs(area(f.ring)), 2)) for f in hand.facets)
        return len(hand.sheets), tuple(facets)

    # -- pictures -----------------------------------------------------------------------------------------
    def turn(self, turn: Turn) -> Picture:
        """One turn of work: what lies there when it is done, cut apart where it was cut."""
        touched = self._touched(turn)
        if turn.of(Cut):
            if turn.of(Discard):  # the cut is shown before what is cut off goes
                return self._row([self._hand(h, cuts=self._lines(turn, n)) for n, h in self._changed_before(turn)])
            return self._spread(touched)
        shown = self._distinct(touched)
        pencil = self._pencil(turn)
        return self._row([self._hand(hand, pencil=pencil.get(id(hand), [])) for hand in shown])

    def _touched(self, turn: Turn) -> list[OnTable]:
        """The hands that were not there before."""
        old = {id(h) for h in turn.before.hands}
        return [h for h in turn.after.hands if id(h) not in old and not h.waste] or list(turn.after.hands[:1])

    def _changed_before(self, turn: Turn) -> list[tuple[int, OnTable]]:
        """The hands that are cut, with their numbers, as they lay before."""
        kept = {id(h) for h in turn.after.hands}
        found = [(n, h) for n, h in enumerate(turn.before.hands) if id(h) not in kept and len(h.sheets) > 1]
        return found[:1] or [(0, turn.before.hands[0])]

    def _lines(self, turn: Turn, number: int) -> list[Segment]:
        """Where one hand is cut."""
        return [(a, b) for action, state in turn.done if isinstance(action, Cut) for n, a, b in state.lines
                if n == number]  # fmt: skip

    def _pencil(self, turn: Turn) -> dict[int, list[Segment]]:
        """The lines drawn on each hand: those that are sewn beside on both sides."""
        found: dict[int, list[Segment]] = {}
        for action, state in turn.done:
            if isinstance(action, Sew) and len(action.sides) == 2 and len(state.lines) >= 2:
                for (n, a, b), (_, c, d) in zip(state.lines[::2], state.lines[1::2], strict=False):
                    if n < len(turn.after.hands):
                        middle = ((a[0] + c[0]) / 2, (a[1] + c[1]) / 2), ((b[0] + d[0]) / 2, (b[1] + d[1]) / 2)
                        found.setdefault(id(turn.after.hands[n]), []).append(middle)
        return found

    def _distinct(self, hands: Sequence[OnTable]) -> list[OnTable]:
        """Hands that do not look alike, three at most."""
        seen: dict[object, OnTable] = {}
        for hand in hands:
            seen.setdefault(self._look(hand), hand)
        return list(seen.values())[:3]

    def _row(self, groups: Sequence[Sequence[Shape]]) -> Picture:
        return beside([picture(g) for g in groups if g], 8.0) if groups else picture([])

    def _spread(self, hands: Sequence[OnTable]) -> Picture:
        """Parts that were cut from each other, a little apart."""
        middles = [self._middle(h) for h in hands]
        cx, cy = sum(x for x, _ in middles) / len(middles), sum(y for _, y in middles) / len(middles)
        out: list[Shape] = []
        for hand, middle in zip(hands, middles, strict=True):
            x, y = middle[0] - cx, middle[1] - cy
            long = (x * x + y * y) ** 0.5 or 1.0
            out.append(ShapeGroup(tuple(self._hand(hand, peek=0.0)), x / long * APART, y / long * APART))
        return picture(out)

    def _middle(self, hand: OnTable) -> Pt:
        """The middle of all its cloth."""
        found = [(abs(area(f.ring)), centre_of(apply(self.frame, f.ring))) for f in hand.facets]
        whole = sum(size for size, _ in found) or 1.0
        return sum(k * p[0] for k, p in found) / whole, sum(k * p[1] for k, p in found) / whole

    def _hand(
        self, hand: OnTable, pencil: Sequence[Segment] = (), cuts: Sequence[Segment] = (), peek: float = PEEK
    ) -> list[Shape]:
        """Its layers from the lowest up, a hidden one showing a little, the drawn lines, the stitches."""
        sheets = self._order(hand)
        peek = peek if _hides(hand) and not cuts else 0.0
        shapes: list[Shape] = []
        for depth, sheet in enumerate(sheets):
            by = peek * (len(sheets) - 1 - depth)
            lines = [*self._segments(hand.stitches), *self._segments(pencil)]
            above = [_clockwise(apply(self.frame, f.ring)) for s in sheets[depth + 1 :] for f in s.facets]
            shown = depth == len(sheets) - 1 or not _hides(hand)
            inner = lying(self._layers(sheet, shown, lines, above), self.swatches)
            shapes.append(ShapeGroup(tuple(inner), by, -by))
        shapes += drawn(self._segments(pencil))
        shapes += stitched(self._segments(hand.stitches))
        return [*shapes, *cutting(self._segments(cuts))]

    def _order(self, hand: OnTable) -> list[Sheet]:
        """Face to face, the lighter square lies above, for its back is the one to draw on."""
        sheets = list(hand.sheets)
        if len(sheets) == 2 and _hides(hand):
            light = [luminance(swatch_for(self.swatches, self._fabric(s.facets[0].part)).colour) for s in sheets]
            if light[0] > light[1] and all(len(s.facets) == 1 for s in sheets):
                upper, lower = sheets
                return [_turned_over(lower), _turned_over(upper)]
        return sheets

    def _segments(self, segments: Sequence[Segment]) -> list[Segment]:
        found = []
        for a, b in segments:
            p, q = apply(self.frame, (a, b))
            found.append((p, q))
        return found

    def _layers(
        self, sheet: Sheet, letters: bool, lines: Sequence[Segment], above: Sequence[tuple[Pt, ...]]
    ) -> list[ClothLayer]:
        """The cloths of one sheet, their letters clear of the lines and of what lies above; a sewn thing shows its
        patches."""
        out = []
        for facet in sheet.facets:
            ring = _clockwise(apply(self.frame, facet.ring))
            item = self.worked.batch.uses[facet.part].item
            design = self.worked.designs.get(item) if isinstance(item, Thing) else None
            if design is None:
                uncut = isinstance(item, Piece) and len(sheet.facets) == 1 and CUT not in facet.labels
                code = self.look.piece_code(item) if uncut and isinstance(item, Piece) else ""
                spot = _clear(ring, lines, above)
                out.append(ClothLayer(ring, self._fabric(facet.part), not facet.up, letters, spot, code))
                continue
            m = facet.place
            frame: Frame = (m[0], m[2], m[1], m[3], m[4], m[5])
            for leaf in self.leaves.of(design):
                points = _clockwise(apply(self.frame, apply(frame, leaf.points)))
                for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
                    points = clipped(points, a, b) if len(points) > 2 else ()
                if len(points) > 2:
                    out.append(ClothLayer(points, leaf.fabric, not facet.up, letters and facet.up))
        return out


def _clear(ring: tuple[Pt, ...], lines: Sequence[Segment], above: Sequence[tuple[Pt, ...]]) -> tuple[Pt, ...]:
    """The larger part of a cloth on one side of each line that crosses it, beside all that lies above."""
    for other in above:
        parts = [clipped(ring, b, a) for a, b in zip(other, [*other[1:], other[0]], strict=True)]
        ring = max((p for p in parts if len(p) > 2), key=lambda p: abs(area(p)), default=ring)
    for a, b in lines:
        sides = [p for p in (clipped(ring, a, b), clipped(ring, b, a)) if len(p) > 2]
        if len(sides) == 2:
            ring = max(sides, key=lambda p: abs(area(p)))
    return ring


def _turned_over(sheet: Sheet) -> Sheet:
    """A sheet with its other side up, lying where it lay: how two squares look that are turned over as a pair."""
    facets = tuple(
        msgspec.structs.replace(f, place=(-f.place[0], f.place[1], -f.place[2], f.place[3], f.place[4], f.place[5]))
        for f in sheet.facets
    )
    return msgspec.structs.replace(sheet, facets=facets)


def _clockwise(points: Sequence[Pt]) -> tuple[Pt, ...]:
    return tuple(points) if area(points) > 0 else tuple(points)[::-1]
