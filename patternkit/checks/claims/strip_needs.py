"""What is wanted of strips of one fabric: whole ones and pieces, in whole numbers, and whether so many are enough."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

import msgspec

from patternkit.checks.claims.cut_words import called_size, sides
from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Fabric
from patternkit.piecing.names import BINDING
from patternkit.plan.finishing import strips_joined
from patternkit.plan.model import CutLine, Plan
from patternkit.plan.strip_room import Oblong, enough, fewest
from patternkit.project import Project
from patternkit.units import Units

Counts = Mapping[int, int]
"""How many strips of each height, in whole numbers of the cloth's grid."""


SHAPED = ("template", "bias")
"""Cuts whose pieces are no rectangles."""


class StripCloth(msgspec.Struct, frozen=True):
    """One fabric: lengths in whole numbers of its grid, and how far strips reach, all of the width (`across`) and what
    is `kept` of it when their ends are squared up. `join` is what joining two strips takes up."""

    fabric: Fabric
    scale: Fraction
    across: int
    kept: int
    join: Length

    def whole(self, length: Length) -> int:
        """A length on the grid, rounded up."""
        return int(Length(length * self.scale).ceil_to(Fraction(1)))

    def length(self, whole: int) -> Length:
        """The length of a number on the grid."""
        return Length(Fraction(whole) / self.scale)


def cloth_of(fabric: Fabric, project: Project) -> StripCloth:
    """The cloth of a fabric; strips of cloth that comes in sheets may be cut along either side of them."""
    settings = project.pattern.settings
    scale = 8 / settings.ruler  # claims may be finer than the ruler
    usable = fabric.usable_width
    if fabric.stock is not None and not fabric.by_length:
        usable = max(fabric.stock.width, fabric.stock.height)
    across, kept = (int(Length(x * scale).floor_to(Fraction(1))) for x in (usable, usable - fabric.squaring))
    return StripCloth(fabric, scale, across, kept, settings.seam * 2)


class Need(msgspec.Struct, frozen=True):
    """One way of seeing what is wanted: whole strips by height, and pieces."""

    whole: Counts
    pieces: tuple[Oblong, ...]

    def left(self, strips: Counts) -> Counts | None:
        """The strips beside the whole ones; None where these are too many."""
        rest = {h: n - self.whole.get(h, 0) for h, n in strips.items()}
        return rest if min(rest.values(), default=0) >= 0 else None


class Needs(msgspec.Struct, frozen=True):
    """All ways of seeing it: a border of pieces that are short enough may be cut from joined strips too. `causes` say
    by height what each is cut for."""

    ways: tuple[Need, ...]
    causes: Mapping[int, tuple[str, ...]] = {}

    def enough(self, strips: Counts, across: int) -> bool | None:
        """Whether so many strips are enough; False only where it is proved that they are not."""
        found: list[bool | None] = []
        for way in self.ways:
            left = way.left(strips)
            found.append(False if left is None else enough(left, way.pieces, across))
        return True if True in found else None if None in found else False

    def fewest(self, height: int, strips: Counts, across: int) -> int:
        """A number of strips of one height that is enough, beside the others; the fewest for which a plan is found."""
        return min(_fewest(way, height, strips, across) for way in self.ways)

    def fewest_alone(self, height: int, strips: Counts, across: int) -> int:
        """The same where nothing is joined that is short enough for one strip."""
        return _fewest(self.ways[0], height, strips, across)


def _fewest(way: Need, height: int, strips: Counts, across: int) -> int:
    others = {h: max(n - way.whole.get(h, 0), 0) for h, n in strips.items()}
    most = sum(p.number for p in way.pieces) + 1
    few = fewest(height, others, way.pieces, across, most)
    return (most if few is None else few) + way.whole.get(height, 0)


class _Gathered:
    """What is wanted of strips of some heights, line by line."""

    def __init__(
        self, heights: Sequence[int], strips: Mapping[int, list[int]], cloth: StripCloth, units: Units
    ) -> None:
        self.strips, self.cloth, self.units = strips, cloth, units
        self.whole: dict[int, int] = {}
        self.pieces: list[Oblong] = []
        self.others: list[Oblong] = []
        self.joined: dict[int, list[tuple[Length, int]]] = {}
        self.causes: dict[int, list[str]] = {h: [] for h in heights}

    def whole_strips(self, high: int, n: int, why: str) -> None:
        """Add whole strips of a height that is claimed."""
        if high in self.causes:
            self.whole[high] = self.whole.get(high, 0) + n
            self.causes[high].append(why)

    def piece(self, line: CutLine) -> None:
        """Add pieces, where strips of a claimed height hold them."""
        cloth, cut = self.cloth, line.cut
        turns = not cut.fixed_grain and not cloth.fabric.directional
        piece = Oblong(cloth.whole(cut.width), cloth.whole(cut.height), line.count, turns)
        ways = [(along, h) for along, high in piece.lies for h in self.strips.get(high, ()) if along <= cloth.across]
        if not ways:
            return
        if all(along > cloth.kept for along, _ in ways):  # alone in its strip: nothing is cut off
            self.whole_strips(ways[0][1], line.count, f"{line.count} {_for(line)}, one from each.")
            return
        self.pieces.append(piece)
        name, (short, long) = cut.name, sides(cut.width, cut.height)
        if name is not None and name.what == "border" and cloth.whole(short) in self.causes:
            self.joined.setdefault(cloth.whole(short), []).append((long, line.count))
        else:
            self.others.append(piece)
        for h in dict.fromkeys(h for _, h in ways):
            one = gives({h: 1}, piece, cloth)
            size = called_size((short, long), self.units)
            self.causes[h].append(f"One gives {one} of {size}; {line.count} {_for(line)}.")

    @property
    def needs(self) -> Needs:
        """All of it, a border of short pieces joined or not."""
        ways = [Need(self.whole, tuple(self.pieces))]
        if self.joined:
            ends = {h: _joined(lengths, self.cloth) for h, lengths in self.joined.items()}
            both = {h: self.whole.get(h, 0) + ends.get(h, 0) for h in {*self.whole, *ends}}
            ways.append(Need(both, tuple(self.others)))
        return Needs(tuple(ways), {h: tuple(texts) for h, texts in self.causes.items()})


def needs_of(lines: Sequence[CutLine], heights: Sequence[int], cloth: StripCloth, project: Project) -> Needs:
    """What strips of these heights are cut into: whole strips of a height, and pieces that have a side of one. A strip
    of a height that nothing has is cut into rows which together are as high."""
    flat = [x for x in lines if x.cut.then not in ("strip", *SHAPED) and x.run is None and not x.cut.along]
    found = _Gathered(heights, _rows(lines, flat, heights, cloth), cloth, project.pattern.settings.units)
    for line in lines:
        if line.cut.then == "strip":
            n = _least(line, project.quick_plan[0])
            why = f"{n} whole {'one is' if n == 1 else 'ones are'} cut for {line.label}."
            found.whole_strips(cloth.whole(line.cut.height), n, why)
        elif line in flat:
            found.piece(line)
    return found.needs


def _rows(
    lines: Sequence[CutLine], flat: Sequence[CutLine], heights: Sequence[int], cloth: StripCloth
) -> dict[int, list[int]]:
    """By the height of a piece as it lies, the strips that hold it."""
    lying = {cloth.whole(side) for x in flat for side in (x.cut.width, x.cut.height)}
    known = lying | {cloth.whole(x.cut.height) for x in lines}
    held: dict[int, list[int]] = {h: [h] for h in heights if h in lying}
    tall = [h for h in heights if h not in known]
    if tall:
        sums = {0}
        for n in range(1, max(tall) + 1):
            if any(n - h in sums for h in lying):
                sums.add(n)
        for h in tall:
            for one in lying:
                if h - one in sums:
                    held.setdefault(one, []).append(h)
    return held


def shaped(lines: Sequence[CutLine], cloth: StripCloth) -> set[int]:
    """Heights of strips in which shapes lie that are no rectangles: how many strips these take is not judged."""
    own = [x for x in lines if x.cut.then in SHAPED or x.run is not None]
    runs = {cloth.whole(x.run.height) for x in own if x.run is not None}
    return runs | {cloth.whole(side) for x in own for side in (x.cut.width, x.cut.height)}


def _for(line: CutLine) -> str:
    return f"{'is' if line.count == 1 else 'are'} cut for {line.label}"


def _joined(lengths: Sequence[tuple[Length, int]], cloth: StripCloth) -> int:
    total = sum((length * n for length, n in lengths), ZERO)
    return strips_joined(total, cloth.length(cloth.across), cloth.join)


def _least(line: CutLine, plan: Plan) -> int:
    """Whole strips that a line takes: of a binding, as many as go round the quilt."""
    made = plan.binding
    if made is None or made.square is not None or made.length is not None or BINDING not in line.use:
        return line.count
    n = line.count
    while n > 1 and made.usable * (n - 1) - made.join * (n - 2) >= made.perimeter + made.join:
        n -= 1
    return n


def gives(strips: Counts, piece: Oblong, cloth: StripCloth) -> int:
    """How many of one size alone strips give."""
    low, high = 0, 1
    while enough(strips, [piece._replace(number=high)], cloth.kept):
        low, high = high, high * 2
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if enough(strips, [piece._replace(number=middle)], cloth.kept) else (low, middle)
    return low


def planned(cloth: StripCloth, plan: Plan, heights: Iterable[int]) -> dict[int, int]:
    """How many strips of each height a plan cuts of a fabric; nothing where a piece with a side of one of these
    `heights` comes from strips of another."""
    done = plan.fabrics.get(cloth.fabric.key)
    found: dict[int, int] = {}
    if done is None or done.sheets is not None:
        return found
    wanted = frozenset(heights)
    for strip in done.plan.strips:
        if strip.source:
            continue
        height = cloth.whole(Length(Fraction(strip.height) / done.scale))
        found[height] = found.get(height, 0) + strip.copies
        if height not in wanted and strip.kind != "along":
            own = {cloth.whole(Length(Fraction(side) / done.scale)) for c in strip.cuts for side in (c.width, c.height)}
            if own & wanted:
                return {}
    return found


def unsquared_plan(project: Project) -> Plan:
    """The draft of what is cut with nothing kept of the usable width for squaring up."""
    from patternkit.plan.build import unsquared
    from patternkit.plan.draft import draft_plan

    top = project.planned_top
    return draft_plan(unsquared(project.pattern), top, project.roots if top is None else [(top, 1)])[0]
