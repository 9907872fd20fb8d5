"""Groups of prints: what is cut from each, and how many of each are bought.

Pieces of one print of a copy are cut from that print; pieces that any print will do for are shared out evenly, those
that are over to the prints of which least is cut. Prints of which the same is cut are planned once.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

import msgspec

from patternkit.lengths import Length
from patternkit.model.pattern import Fabric, Pattern, Stock
from patternkit.plan.buying import before_washing
from patternkit.plan.cutting import CuttingError
from patternkit.plan.cutting.stock_model import CutSheet, StockPlan
from patternkit.plan.model import CutLine, FabricPlan, PrintsAlike

LENGTHS = "lengths"
"""The form in which prints are bought that are sold by length: a length of each."""
MOST_STEPS = 400
"""In how many steps of its shop a length of one print is looked for."""

Planner = Callable[[Fabric, tuple[CutLine, ...]], FabricPlan]
"""Plans one fabric; raises `CuttingError`."""
Counted = tuple[tuple[str, int], ...]
"""Lines of one print by their ids, each with how many are cut."""


def prints_of(cloth: Fabric, lines: Sequence[CutLine]) -> int:
    """How many prints there are; of a bag as many as are dealt, none where any piece may be of any."""
    assert cloth.group is not None
    if cloth.group.count is not None:
        return cloth.group.count
    return max((number for line in lines for number, _ in line.shares), default=0)


def plan_prints(cloth: Fabric, lines: tuple[CutLine, ...], pattern: Pattern, plan: Planner) -> FabricPlan:
    """The plan of a group: each of its prints by itself, those alike once. Raises `CuttingError` where a piece can't be
    cut."""
    count = prints_of(cloth, lines)
    if not count:
        return plan(cloth, lines)
    cloth = msgspec.structs.replace(cloth, scraps=())  # nobody knows of which print they are
    alike: dict[Counted, list[int]] = {}
    for number, wanted in enumerate(_shared_out(cloth, count, lines, pattern), 1):
        alike.setdefault(wanted, []).append(number)
    kinds = sorted(((tuple(n), wanted) for wanted, n in alike.items() if wanted), key=lambda kind: kind[0])
    if cloth.stock is None or cloth.by_length:
        sold, plans = _by_length(cloth, [_of(lines, wanted) for _, wanted in kinds], pattern, plan)
    else:
        sold, plans = cloth, [plan(cloth, _of(lines, wanted)) for _, wanted in kinds]
    return _joined(sold, count, lines, kinds, plans)


def _of(lines: Sequence[CutLine], wanted: Counted) -> tuple[CutLine, ...]:
    """All lines with what is cut of them from one print."""
    counts = dict(wanted)
    return tuple(msgspec.structs.replace(line, count=counts.get(line.id, 0)) for line in lines)


def _shared_out(cloth: Fabric, count: int, lines: Sequence[CutLine], pattern: Pattern) -> list[Counted]:
    """What is cut from each print, by the prints' numbers."""
    wanted: list[dict[str, int]] = [{} for _ in range(count)]
    load = [Length(0)] * count

    def take(number: int, line: CutLine, n: int) -> None:
        if n:
            wanted[number][line.id] = wanted[number].get(line.id, 0) + n
            load[number] += line.cut.width * line.cut.height * n

    anything = []
    for line in lines:
        fabric = pattern.fabrics[line.fabric]
        if fabric.print is None:
            anything.append((fabric, line))
            continue
        group = pattern.fabrics[fabric.print.group].group
        before = group.before if group is not None else 0
        for number, n in line.shares or ((fabric.print.number, line.count),):
            take(before + number - 1, line, n)
    anything.sort(key=lambda one: -float(one[1].cut.width * one[1].cut.height))
    for fabric, line in anything:
        group = fabric.group
        first, many = (group.before, group.count or count) if group is not None else (0, count)
        own = range(first, min(first + many, count))
        each, more = divmod(line.count, len(own))
        least = sorted(own, key=lambda number: (float(load[number]), number))[:more]
        for number in own:
            take(number, line, each + (number in least))
    return [tuple(sorted(one.items(), key=lambda x: int(x[0]))) for one in wanted]


def _by_length(
    cloth: Fabric, wanted: Sequence[tuple[CutLine, ...]], pattern: Pattern, plan: Planner
) -> tuple[Fabric, list[FabricPlan]]:
    """Plans of prints that are bought by length, the same of each: the least that one piece of cloth gives all of."""
    ruler, lot = pattern.settings.ruler, cloth.lot
    area = max(float(sum((x.cut.width * x.cut.height * x.count for x in w), Length(0))) for w in wanted)
    for step in range(1, MOST_STEPS + 1):
        bought = lot * step
        usable = Length(bought / before_washing(Fraction(1), cloth.shrinkage)) - cloth.spare
        if usable.floor_to(ruler) <= 0:
            continue
        high = Length(usable.floor_to(ruler))
        if area > float(high) * float(cloth.usable_width):
            continue
        stock = Stock(LENGTHS, cloth.usable_width, high)
        sold = msgspec.structs.replace(cloth, stock=stock, by_length=False, buy=Length(bought))
        plans = []
        for lines in wanted:
            try:
                done = plan(msgspec.structs.replace(sold, buy=None), lines)
            except CuttingError:
                break
            if done.sheet_count > 1:
                break
            plans.append(done)
        if len(plans) == len(wanted):
            return msgspec.structs.replace(cloth, stock=stock, by_length=False), [
                msgspec.structs.replace(p, each=Length(bought)) for p in plans
            ]
    raise CuttingError("no length that is sold gives all pieces of one print", wanted[0][0].id)


def _joined(
    cloth: Fabric,
    count: int,
    lines: tuple[CutLine, ...],
    kinds: Sequence[tuple[tuple[int, ...], Counted]],
    plans: Sequence[FabricPlan],
) -> FabricPlan:
    """The plans of all prints as that of their group."""
    assert cloth.stock is not None
    sheets, alike, bound, proved = list[CutSheet](), list[PrintsAlike](), 0, True
    for (numbers, wanted), done in zip(kinds, plans, strict=True):
        assert done.sheets is not None
        own = [msgspec.structs.replace(s, copies=s.copies * len(numbers)) for s in done.sheets.sheets]
        alike.append(PrintsAlike(numbers, wanted, done.sheet_count, len(sheets), len(own)))
        sheets += own
        bound += done.sheets.bound * len(numbers)
        proved = proved and done.sheets.status == "proved"
    used = ((cloth.stock.form, sum(one.sheets * len(one.numbers) for one in alike)),)
    stock = StockPlan(tuple(sheets), used, bound, "proved" if proved else "bounded")
    first = plans[0]
    _check(lines, alike)
    return msgspec.structs.replace(
        first,
        fabric=cloth,
        lines=lines,
        sheets=stock,
        prints=tuple(alike),
        packs_least=_packs(cloth.stock, count, alike),
    )


def _check(lines: Sequence[CutLine], alike: Sequence[PrintsAlike]) -> None:
    """Raise `CuttingError` where the prints together do not give what is cut."""
    for line in lines:
        given = sum(n * len(one.numbers) for one in alike for key, n in one.lines if key == line.id)
        if given != line.count:
            raise CuttingError(f"{given} pieces are shared out among the prints, and {line.count} are cut", line.id)


def _packs(stock: Stock, count: int, alike: Sequence[PrintsAlike]) -> int:
    """How many packs there must be: of a group in each of which every print lies, as many as the print needs of which
    most is cut; otherwise so many packs hold each print once. Sheets that come alone are bought print by print."""
    most = max(one.sheets for one in alike)
    if stock.pack == 1:
        return sum(one.sheets * len(one.numbers) for one in alike)
    if stock.pack >= count:
        return -(-most // (stock.pack // count))
    return -(-count // stock.pack) * most
