"""From layouts to the plan handed back: strips in order, cuts with their owners, labelled leftovers."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count, groupby

from patternkit.plan.cutting.model import CrossCut, CuttingSettings, Leftover, PieceDemand, Strip, one_row
from patternkit.plan.cutting.panels import LongPanel
from patternkit.plan.cutting.task import Layouts, Task, expand


def write_strips(
    pieces: Sequence[PieceDemand], settings: CuttingSettings, panels: Sequence[LongPanel], task: Task, layouts: Layouts
) -> tuple[tuple[Strip, ...], tuple[Leftover, ...]]:
    """Give the strips as they are cut, longest first, and what remains of each.

    Long pieces come first, each followed by what is cut from the cloth beside it; then strips by height, whole ones
    before cross-cut ones of the same height.
    """
    rows = expand(task, layouts)
    served = sorted({row.bed for row, _, _ in rows if row.bed})
    labels = {bed: str(index) for index, bed in enumerate(served, 1)}
    strips: list[Strip] = []
    rests: list[tuple[int, int, int, int, str]] = []  # strip, width, height, number, label
    bed = 0
    for panel in panels:
        bed += panel.across < settings.room
        cuts = one_row(panel.height, [_along(panel, piece) for piece in _counted(panel)])
        label = labels.get(bed, "") if panel.across < settings.room else ""
        rests.append((len(strips), settings.width - panel.across, panel.height, 1, label))
        strips.append(Strip(panel.height, 1, cuts, "along"))
        if label:
            inner = [Strip(row.height, n, cuts, "cut", label) for row, n, cuts in rows if row.bed == bed]
            cut_off = sum(strip.height * strip.copies for strip in inner)
            strips.extend(inner)
            rests.append((len(strips) - 1, settings.width - panel.across, panel.height - cut_off, 1, ""))
    whole = [
        Strip(p.height, p.count, one_row(p.height, [CrossCut(p.id, 1, settings.width, p.height)]), "full")
        for p in pieces
        if p.full and p.count
    ]
    main = [Strip(row.height, copies, cuts) for row, copies, cuts in rows if not row.bed]
    strips.extend(sorted(whole + main, key=lambda s: (-s.height, s.kind == "cut")))
    for index, strip in enumerate(strips):
        if strip.kind == "cut":
            over = _width(strip, settings, rests) - settings.squaring
            over -= sum(segment.width for segment in strip.segments)
            rests.append((index, over, strip.height, strip.copies, ""))
    return tuple(strips), _labelled(rests, len(served))


def _width(strip: Strip, settings: CuttingSettings, rests: Sequence[tuple[int, int, int, int, str]]) -> int:
    """Give the width of the cloth a strip is cut from."""
    return next((rest[1] for rest in rests if rest[4] and rest[4] == strip.source), settings.width)


def _labelled(rests: Sequence[tuple[int, int, int, int, str]], taken: int) -> tuple[Leftover, ...]:
    """Label what remains, those that serve first, then the largest; nothing is said of an empty rest."""
    real = sorted((r for r in rests if r[1] > 0 and r[2] > 0), key=lambda r: (not r[4], r[4], -r[1] * r[2], r[0]))
    free = map(str, count(taken + 1))
    return tuple(Leftover(r[4] or next(free), r[1], r[2], r[3], r[0], bool(r[4])) for r in real)


def _counted(panel: LongPanel) -> list[tuple[str, int, int, int]]:
    return [(*piece, len(list(same))) for piece, same in groupby(panel.pieces)]


def _along(panel: LongPanel, piece: tuple[str, int, int, int]) -> CrossCut:
    name, width, height, number = piece
    return CrossCut(name, number, width, height, trimmed_to=height if height < panel.height else None)
