"""Single prints of groups in an order: which batches of a step are of which print."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from patternkit.model.pattern import Fabric
from patternkit.piecing.batch import Batch
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.desk import StripWay
from patternkit.plan.counts import Count
from patternkit.work.model import PrintBatches


def strip_ways(count: Count, making: Making) -> tuple[StripWay, ...]:
    """In which ways the strip units of single prints are cut across: each print's own, as many segments from one as
    from another, and no more than are needed of it."""
    numbers: Counter[int] = Counter()
    for share in count.shares:
        numbers.update(_cut(share.needed, count.yields))
    return tuple(StripWay(times, ((making, n),)) for n, times in sorted(numbers.items(), reverse=True))


def _cut(needed: int, yields: int) -> Counter[int]:
    units = -(-needed // yields)
    each, more = divmod(needed, units)
    return Counter({n: times for n, times in ((each + 1, more), (each, units - more)) if times})


def print_batches(count: Count, batches: Sequence[tuple[Batch, int]]) -> tuple[PrintBatches, ...]:
    """How often each batch of a step is done with which prints; nothing where the step has none, or where its batches
    can't be told apart by what is needed."""
    found = []
    for share in count.shares:
        if count.making.recipe.segment is not None:
            ways = sorted({n for s in count.shares for n in _cut(s.needed, count.yields)}, reverse=True)
            own = _cut(share.needed, count.yields)
            times = tuple((ways.index(n), t) for n, t in own.items())
        elif len(batches) == 1 and batches[0][1] == count.batches:
            times = ((0, count.batches_of(share)),)
        elif len(batches) == 1 and batches[0][1] == count.needed:
            times = ((0, share.needed),)
        else:
            return ()
        found.append(PrintBatches(share.prints, times))
    return tuple(found)


def prints_named(fabrics: Mapping[str, Fabric]) -> dict[str, tuple[str, int]]:
    """Of what stands for one print: the cloth that it is cut from, and how many prints of that come before the first of
    its group; of a print by its number, before that one."""
    found = {}
    for key, fabric in fabrics.items():
        if fabric.print is not None:
            group = fabrics[fabric.print.group].group
            before = group.before if group is not None else 0
            found[key] = fabric.cloth, before + max(0, fabric.print.number - 1)
    return found
