"""The plan of a pattern: what to cut, from which cloth, and how much to buy."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, TypeAlias, Union

import msgspec

from patternkit.english import listed
from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Fabric, Packet, Scrap, Stock
from patternkit.piecing.keys import Thing
from patternkit.piecing.making import Making, PieceCut
from patternkit.piecing.names import Name, english
from patternkit.plan.counts import Count
from patternkit.source import Span

if TYPE_CHECKING:  # loaded by what plans, not by what only names a plan
    from patternkit.piecing.joined import JoinedStrip
    from patternkit.piecing.turns import ShapeRun
    from patternkit.plan.cutting.model import CutPlan
    from patternkit.plan.cutting.stock_model import StockPlan
    from patternkit.plan.motifs import Motifs


Use: TypeAlias = Union[Name, Making]
"""What something is cut for: a piece by its name, or the making it is for."""
Uses: TypeAlias = tuple[Use, ...]


def called(use: Use) -> str:
    """What something is cut for, in English."""
    return use.called if isinstance(use, Making) else english(use)


SCRAP = "scrap"
"""How the stock of a fabric's scraps is named in its plan, before their number among its lines ``have``."""


class CutLine(msgspec.Struct, frozen=True):
    """One line of a cutting table: `count` pieces of one size of a fabric, for one unit or finish.

    `use` says what it is for: pieces by their names, or the makings it is cut for; `cut` carries the exact and rounded
    sizes and what is done next; `gives` is how many pieces of the finished unit come from it; `id` joins it to the
    cutting plan. Shapes that are cut by a template side by side lie in runs, `per_strip` of them in each as `run` says;
    then the plan counts runs, not pieces. `also` are the other units whose segments are cut from the same strip units.
    `made_for` is the thing whose cut it is, None where several share the line. Pieces that each show a motif of their
    own are cut from the `motifs` of a length of cloth. With `down` a template lies face down. Of pieces that are of one
    print for each copy of a unit `shares` says how many are cut of which print of the group, by its number.
    """

    id: str
    fabric: str
    cut: PieceCut
    count: int
    use: Uses
    gives: int
    per_strip: int = 0
    also: tuple[Making, ...] = ()
    made_for: Thing | None = None
    run: ShapeRun | None = None
    motifs: Motifs | None = None
    shares: tuple[tuple[int, int], ...] = ()
    down: bool = False

    @property
    def called(self) -> str:
        """What the line is for, in English."""
        return " and ".join(dict.fromkeys(map(called, self.use)))

    @property
    def label(self) -> str:
        """The same, every unit of shared strip units named."""
        return listed(list(dict.fromkeys((self.called, *map(called, self.also)))))

    @property
    def runs(self) -> int:
        """Into how many runs the line's shapes are laid, where they are cut side by side; 0 otherwise."""
        return self.count // self.per_strip if self.per_strip else 0


class LongStrip(msgspec.Struct, frozen=True):
    """Pieces longer than the usable width: `strips` strips across the cloth joined end to end, then cut to length.

    `height` is the raw width of the strips; `lengths` the raw lengths wanted with how many of each; `join` is what one
    join takes up; `diagonal` says how they are joined, `joins` which pieces are cut from which joined strips. `along`
    says that it is one piece instead, cut along the length of the cloth.
    """

    fabric: str
    use: Uses
    height: Length
    lengths: tuple[tuple[Length, int, Use], ...]
    strips: int
    join: Length
    diagonal: bool
    joins: tuple[JoinedStrip, ...] = ()
    along: bool = False


class Binding(msgspec.Struct, frozen=True):
    """Binding: raw strip width, length wanted (perimeter and allowance), strips and how they are joined.

    `bias` binding has strips of raw width cut on the true bias: from a `square` of that side sewn into a tube of so
    many `rounds`, or as `strips` strips across a `length` of cloth, each `usable` long. `join` is what one join takes
    up; strips on the straight grain are joined on the slant, or `straight`. `gives` is how long all of it is once
    joined; `joins` of what, where ends of other strips are among it.
    """

    fabric: str
    width: Length
    perimeter: Length
    allowance: Length
    strips: int
    usable: Length
    bias: bool = False
    square: Length | None = None
    length: Length | None = None
    join: Length = ZERO
    gives: Length = ZERO
    straight: bool = False
    rounds: int = 0
    joins: tuple[JoinedStrip, ...] = ()

    @property
    def total(self) -> Length:
        """The length of strip that is wanted."""
        return self.perimeter + self.allowance


class Backing(msgspec.Struct, frozen=True):
    """Backing: the size wanted, panels of the usable width side by side, the seam between, and how they run.

    `seams` is "none", "vertical" or "horizontal"; `length` is the length of one panel; `panels` how many. A `strip` of
    another cloth lies between the first two panels; where there is but one, that is cut in two along its middle. The
    `last` panel is cut only so wide where what is left beside it serves for other cuts.
    """

    fabric: str
    width: Length
    height: Length
    overage: Length
    panels: int
    length: Length
    seams: str
    usable: Length
    seam: Length
    strip: LongStrip | None = None
    last: Length | None = None

    @property
    def parts(self) -> int:
        """How many parts lie side by side: panels, halves of a panel, and the strip."""
        if self.strip is None:
            return self.panels
        return max(self.panels, 2) + 1


class EdgeCut(msgspec.Struct, frozen=True):
    """`count` pieces of a raw size that are sewn to the edges: strips as long as they are `width`."""

    width: Length
    height: Length
    count: int
    name: Name


class Edging(msgspec.Struct, frozen=True):
    """What is sewn to the edges of the quilt, with its pieces.

    Strips of a facing or a flange have the raw width `raw` and are folded in half along their length: `shows` is what
    lies beyond the seam, `turn` what is turned in at the ends of a facing's top and bottom strips. A flange lies round
    the quilt with so many borders on as it comes `after`; so does a piping, a cord as thick as `shows` with a strip
    round it. Prairie points are squares of the side `raw`, so many `along` the top and a side, their middles so far
    `apart`. The two halves of a cushion's back lie over each other by `overlap`, each with a hem that takes `turn`.
    `stated` is the writer's line.
    """

    what: Literal["facing", "flange", "piping", "prairie points", "cushion back"]
    fabric: str
    pieces: tuple[EdgeCut, ...]
    raw: Length
    shows: Length = ZERO
    turn: Length = ZERO
    stated: Span | None = None
    after: int = 0
    overlap: Length = ZERO
    along: tuple[int, int] = (0, 0)
    apart: tuple[Length, Length] = (ZERO, ZERO)


class PrintsAlike(msgspec.Struct, frozen=True):
    """Prints of a group, by their `numbers`, of which the same is cut: of each line (by its id) so many pieces, from so
    many `sheets` of each print. Of the plan's ways of cutting sheets so `many`, from the `first`, are theirs."""

    numbers: tuple[int, ...]
    lines: tuple[tuple[str, int], ...]
    sheets: int
    first: int
    many: int


class FabricPlan(msgspec.Struct, frozen=True):
    """All that is cut from one fabric: its lines, the cutting plan, and lengths in inches.

    `used` is what the cuts take, `buy` what to buy (`planned` what would do, where the writer says an amount), `least`
    the proved least to buy with these cuts; `scale` turns the plan's whole numbers into inches (divide by it). Of cloth
    that comes in sheets (fat quarters, squares, strips) `sheets` says how each is cut and how many there must be, and
    `packs_stated` how many packs the writer says; then `plan` is only what is bought by length besides. With `joins`
    there are whole strips in it that are joined, whose number is a part of what is proved.

    Of a group `prints` says what is cut of each print, and `packs_least` how many packs hold enough of each; sold by
    length, its sheets are the lengths of `each` that are bought.
    """

    fabric: Fabric
    lines: tuple[CutLine, ...]
    plan: CutPlan
    scale: Fraction
    used: Length
    buy: Length
    least: Length
    sheets: StockPlan | None = None
    planned: Length | None = None
    packs_stated: int = 0
    joins: bool = False
    prints: tuple[PrintsAlike, ...] = ()
    packs_least: int | None = None
    each: Length | None = None

    @property
    def sheet_count(self) -> int:
        """How many sheets of the form in which the fabric is sold are cut."""
        return sum(n for name, n in self.sheets.used if not _is_scrap(name)) if self.sheets is not None else 0

    @property
    def scraps_cut(self) -> tuple[tuple[Scrap, int], ...]:
        """The scraps that are cut up, with how many of each."""
        used = self.sheets.used if self.sheets is not None else ()
        return tuple((self.sheet_of(name), n) for name, n in used if _is_scrap(name) and n)  # type: ignore[misc]

    @property
    def print_count(self) -> int:
        """Of how many prints of a group something is cut."""
        return sum(len(one.numbers) for one in self.prints)

    def prints_of(self, sheet: int) -> tuple[int, ...]:
        """The numbers of the prints of which the sheets at this index of the plan are; none where they are of one."""
        return next((x.numbers for x in self.prints if 0 <= sheet - x.first < x.many), ())

    def sheet_of(self, stock: str) -> Stock | Scrap:
        """What a sheet of a stock of the plan is."""
        if _is_scrap(stock):
            return self.fabric.scraps[int(stock.removeprefix(SCRAP)) - 1]
        assert self.fabric.stock is not None
        return self.fabric.stock

    @property
    def packs(self) -> int:
        """How many packs to buy, after what is at hand: as many as are stated, where these are enough."""
        return max(self.packs_stated, self.packs_planned)

    @property
    def packs_planned(self) -> int:
        """How many packs are enough, after what is at hand."""
        stock = self.fabric.stock
        if self.packs_least is not None:
            return self.packs_least
        return max(0, -(-(self.sheet_count - stock.have) // stock.pack)) if stock is not None else 0


def fabric_plan(
    fabric: Fabric, lines: tuple[CutLine, ...], done: CutPlan, scale: Fraction, sheets: StockPlan | None = None
) -> FabricPlan:
    """The cutting planner's answer for a fabric, its whole numbers of `scale` to the inch told as lengths."""
    used, buy, least = (Length(Fraction(x) / scale) for x in (done.length, done.buy, done.bound_buy))
    return FabricPlan(fabric, lines, done, scale, used, buy, least, sheets)


def _is_scrap(stock: str) -> bool:
    return stock.startswith(SCRAP)


class Web(msgspec.Struct, frozen=True):
    """Paper-backed web for so many fused shapes: how wide it is sold, and the length that they take."""

    width: Length
    length: Length
    shapes: int


class Plan(msgspec.Struct, frozen=True):
    """Everything the booklet needs besides the geometry.

    `backing` is bought by its own length, `backing_buy`, which is 0 where the amount that the writer says of its fabric
    covers it, and where it is cut with the rest of its fabric from `one_length`; `batting` is a size, `packet` the
    smallest in which it is sold that does. `rests` says which strips are joined with what is left of others, by their
    fabric, their height and what they are for. Of the `boxed` fabrics each shape cut by template has a rectangle of its
    own, as they take fewer steps of cloth so than side by side. `web` is what fused shapes take. The corners of the
    quilt are `rounded` by that radius, finished.
    """

    counts: tuple[Count, ...]
    lines: tuple[CutLine, ...]
    long_strips: tuple[LongStrip, ...]
    fabrics: Mapping[str, FabricPlan]
    top: Making | None
    binding: Binding | None = None
    backing: Backing | None = None
    batting: tuple[Length, Length] | None = None
    packet: Packet | None = None
    sleeve: LongStrip | None = None
    edges: tuple[Edging, ...] = ()
    backing_buy: Length | None = None
    rounded: Length = ZERO
    rests: Mapping[tuple[str, Length, str], tuple[JoinedStrip, ...]] = {}
    boxed: frozenset[str] = frozenset()
    one_length: bool = False
    web: Web | None = None

    def lining(self, fabric: str) -> Length:
        """The length of a fabric that the backing takes beside its cuts; 0 where its panels are among them."""
        back = self.backing
        if back is None or back.fabric != fabric or self.one_length:
            return ZERO
        return back.length * back.panels

    def count_of(self, making: Making) -> Count | None:
        """The count of a making."""
        return next((c for c in self.counts if c.making is making), None)
