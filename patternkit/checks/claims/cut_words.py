"""What several rules about counted cuts share: the cuts that are wanted of a fabric, and how they are called."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import msgspec

from patternkit.lengths import Length
from patternkit.model.cut_lines import ClaimedCut, ClaimedCuts
from patternkit.model.pattern import Pattern
from patternkit.plan.model import CutLine
from patternkit.problems import Label, Repair
from patternkit.project import Project
from patternkit.source import Span
from patternkit.units import Units, number, show, show_size

Sides = tuple[Length, Length]
"""The shorter side and the longer one."""
CORNERS = {"once": "half", "twice": "quarter"}
"""What a claim says of corner to corner cuts, and what a cut is called."""


class Summed(msgspec.Struct, frozen=True):
    """All claims of one thing: how many are stated in all, and where; `number` is the place of a count that is the only
    one."""

    count: int
    spans: tuple[Span, ...]
    number: Span | None

    @property
    def labels(self) -> tuple[Label, ...]:
        """The other places of several."""
        return tuple(Label(span, "and here") for span in self.spans[1:])

    def instead(self, needed: int) -> tuple[Repair, ...]:
        """The number that would settle it, put in where one number stands."""
        if self.number is None:
            return ()
        return (Repair(f"write {needed}", self.number, f"{needed}"),)


def summed(cuts: Sequence[ClaimedCut], sheets: int = 1) -> Summed:
    """Claims of the same thing added up, each from so many `sheets`."""
    one = cuts[0].number if len(cuts) == 1 and sheets == 1 else None
    return Summed(sum(c.count for c in cuts) * sheets, tuple(c.span for c in cuts), one)


def sides(width: Length, height: Length) -> Sides:
    """The sides of a piece, however it lies."""
    return (width, height) if width <= height else (height, width)


def claimed_sides(cut: ClaimedCut, pattern: Pattern) -> Sides:
    """The sides of pieces that are claimed; those of strips are their height and how far the cloth reaches."""
    width = cut.width.value(pattern.parameters)
    if cut.height is None:
        return width, pattern.fabrics[cut.fabric].usable_width
    return sides(width, cut.height.value(pattern.parameters))


def is_strips(cut: ClaimedCut, pattern: Pattern) -> bool:
    """Whether a claim speaks of whole strips: pieces as long as the cloth is wide are strips too, but for squares,
    which are whole sheets."""
    short, long = claimed_sides(cut, pattern)
    return cut.noun == "strips" or (not cut.corners and short < long == pattern.fabrics[cut.fabric].usable_width)


def flat(claims: Iterable[ClaimedCuts]) -> Iterator[ClaimedCut]:
    """The cuts of several lines, one after the other."""
    return (cut for line in claims for cut in line.cuts)


def called_size(size: Sides, units: Units) -> str:
    """A piece by its size; one length for a square."""
    return show(size[0], units) if size[0] == size[1] else show_size(*size, units)


def written_size(size: Sides, units: Units) -> str:
    """The same as a file writes it."""
    return number(size[0], units) if size[0] == size[1] else f"{number(size[0], units)} x {number(size[1], units)}"


def uses(lines: Iterable[CutLine], most: int = 4) -> list[str]:
    """What so many are cut for, a sentence each."""
    found: dict[str, int] = {}
    for line in lines:
        found[line.label] = found.get(line.label, 0) + line.count
    many = sorted(found.items(), key=lambda x: -x[1])
    causes = [f"{n} {'is' if n == 1 else 'are'} cut for {what}." for what, n in many[:most]]
    return causes + ([f"The others are cut for {len(many) - most} more units."] if len(many) > most else [])


def from_each_print(lines: Sequence[CutLine], key: str, project: Project) -> tuple[CutLine, ...]:
    """The lines of a group as if as much were cut of every print as of that of which most is: so says a claim of
    each."""
    plan = project.quick_plan[0].fabrics.get(project.pattern.fabrics[key].cloth)
    if plan is None or not plan.prints:
        return tuple(lines)
    most = {line.id: max((n for one in plan.prints for x, n in one.lines if x == line.id), default=0) for line in lines}
    return tuple(msgspec.structs.replace(line, count=most[line.id] * plan.sheet_count) for line in lines)


def sheets_of(project: Project, key: str) -> int:
    """From how many sheets of a cloth its pieces are cut: as many as are said to be bought or are at hand, otherwise as
    many as are planned."""
    fabric, plan = project.pattern.fabrics[key], project.quick_plan[0].fabrics.get(key)
    bought = fabric.buy_sheets
    if fabric.buy_packs is not None and fabric.stock is not None:
        bought = fabric.buy_packs * fabric.stock.pack
    if bought is None:
        return max(1, plan.sheet_count) if plan is not None else 1
    return max(1, bought + (fabric.stock.have if fabric.stock is not None else 0))
