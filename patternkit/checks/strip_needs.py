"""What is wanted of strips of one fabric: whole ones and pieces, in whole numbers, and whether so many are enough."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

import msgspec

from patternkit.checks.cut_words import called_size, sides
from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Fabric
from patternkit.piecing.names import BINDING
from patternkit.plan.finishing import strips_joined
from patternkit.plan.model import CutLine, Plan
from patternkit.plan.strip_room import Oblong, enough, fewest
from patternkit.project import Project

Counts = Mapping[int, int]
"""How many strips of each height, in whole numbers of the cloth's grid."""


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


def needs_of(lines: Sequence[CutLine], heights: Sequence[int], cloth: StripCloth, project: Project) -> Needs:
    """What strips of these heights are cut into: whole strips of a height, and pieces that have a side of one."""
    units = project.pattern.settings.units
    whole: dict[int, int] = {}
    pieces: list[Oblong] = []
    joined: dict[int, list[tuple[Length, int]]] = {}
    others: list[Oblong] = []
    causes: dict[int, list[str]] = {h: [] for h in heights}
    for line in lines:
        high = cloth.whole(line.cut.height)
        if line.cut.then == "strip":
            if high in causes:
                n = _least(line, project.quick_plan[0])
                whole[high] = whole.get(high, 0) + n
                causes[high].append(f"{n} whole {'one is' if n == 1 else 'ones are'} cut for {line.label}.")
            continue
        if line.run is not None:
            run = Oblong(cloth.whole(line.run.width), cloth.whole(line.run.height), line.runs, False)
            pieces.append(run)
            others.append(run)
            continue
        if line.cut.then in ("template", "bias") or line.cut.along:
            continue
        turns = not line.cut.fixed_grain and not cloth.fabric.directional
        piece = Oblong(cloth.whole(line.cut.width), high, line.count, turns)
        lies = [h for along, h in piece.lies if h in causes and along <= cloth.across]
        if not lies:
            continue
        if all(along > cloth.kept for along, h in piece.lies if h in causes):  # alone in its strip: nothing is cut off
            whole[lies[0]] = whole.get(lies[0], 0) + line.count
            causes[lies[0]].append(f"{line.count} {_for(line)}, one from each.")
            continue
        pieces.append(piece)
        name, (short, long) = line.cut.name, sides(line.cut.width, line.cut.height)
        if name is not None and name.what == "border" and cloth.whole(short) in causes:
            joined.setdefault(cloth.whole(short), []).append((long, line.count))
        else:
            others.append(piece)
        for h in lies:
            one = gives({h: 1}, piece, cloth)
            causes[h].append(f"One gives {one} of {called_size((short, long), units)}; {line.count} {_for(line)}.")
    ways = [Need(whole, tuple(pieces))]
    if joined:
        ends = {h: _joined(lengths, cloth) for h, lengths in joined.items()}
        ways.append(Need({h: whole.get(h, 0) + ends.get(h, 0) for h in {*whole, *ends}}, tuple(others)))
    return Needs(tuple(ways), {h: tuple(texts) for h, texts in causes.items()})


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
