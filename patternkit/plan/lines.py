"""From counts to cutting lines: what is cut of each fabric, for which unit, and how many."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Pattern
from patternkit.piecing.keys import Thing
from patternkit.piecing.making import Making, PieceCut
from patternkit.piecing.names import CORNERSTONE, EDGE_SASHING, EDGE_TRIANGLES, SASHING
from patternkit.piecing.strip_cuts import Widths, half_strip, to_length
from patternkit.plan.counts import Count
from patternkit.plan.finishing import long_strip, strips_joined
from patternkit.plan.gives import CORNERS, pieces_from, pieces_from_half
from patternkit.plan.model import CutLine, Edging, LongStrip, Use, Uses, called

if TYPE_CHECKING:
    from patternkit.plan.motifs import Motifs


def widths_of(pattern: Pattern) -> Widths:
    """How wide the fabrics of a pattern are, and what of that is kept for squaring up."""
    usable = {key: f.usable_width for key, f in pattern.fabrics.items()}
    squaring = {key: f.squaring for key, f in pattern.fabrics.items()}
    return Widths(usable, squaring, pattern.settings.ruler)


def cut_lines(
    counts: Sequence[Count], pattern: Pattern, boxed: frozenset[str] = frozenset(), edges: Sequence[Edging] = ()
) -> tuple[list[CutLine], list[LongStrip]]:
    """The cutting lines of all units, largest needs first within a unit, then of what is cut besides and sewn to the
    edges; pieces too long for the cloth become strips joined end to end."""
    lines: list[CutLine] = []
    too_long: dict[tuple[str, Length], list[tuple[Length, int, Use]]] = {}
    setting: dict[tuple[str, PieceCut], int] = {}
    shaped: list[tuple[PieceCut, int, Making]] = []
    widths = widths_of(pattern)
    for count in counts:
        for cut in count.making.recipe.cuts:
            n = count.cut(cut)
            if not n or cut.fabric not in pattern.fabrics:
                continue
            if cut.then in ("half", "quarter") and cut.name in EDGE_TRIANGLES:
                key = (cut.fabric, msgspec.structs.replace(cut, count=1))
                setting[key] = setting.get(key, 0) + n
                continue
            if cut.then == "template":
                shaped.append((cut, n, count.making))
                continue
            if _is_too_long(cut, pattern.fabrics[cut.fabric].usable_width):
                high, long = sorted((cut.width, cut.height))
                too_long.setdefault((cut.fabric, high), []).append((long, n, cut.name or count.making))
                continue
            whole = count.making.role in ("quilt", "centre", "row", "border", "border strip")
            use: Use = cut.name if whole and cut.name is not None else count.making
            gives = pieces_from(count, cut)
            own = count.making.thing
            if cut.then == "strip" and count.making.recipe.segment is not None:
                cut = to_length(cut, count.making.recipe.cuts, widths, count.taken)
            print_of = _motifs(cut, n, pattern) if cut.fussy else None
            lines.append(
                CutLine(f"{len(lines)}", cut.fabric, cut, n, (use,), gives, 0, _also(count), own, None, print_of)
            )
        lines += [
            _half_strips(len(lines) + i, cut, count, widths)
            for i, cut in enumerate(count.making.recipe.cuts)
            if count.half and cut.fabric in pattern.fabrics
        ]
    lines += _besides(counts, pattern, edges, too_long)
    if shaped:
        from patternkit.plan.side_by_side import runs_of

        lines += runs_of(shaped, pattern, widths, boxed)
    for (fabric, cut), pieces in setting.items():
        squares = -(-pieces // CORNERS[cut.then])
        assert cut.name is not None
        use = EDGE_TRIANGLES[cut.name]
        lines.append(CutLine(f"{len(lines)}", fabric, cut, squares, (use,), pieces))
    lines = _merge_sashing(lines, pattern)
    for (fabric, high), wanted in too_long.items():
        lines = _joined_too(fabric, high, wanted, lines, pattern)
    lines = _by_print([msgspec.structs.replace(line, id=f"{i}") for i, line in enumerate(lines)], counts)
    long_strips = [_long(fabric, high, wanted, pattern) for (fabric, high), wanted in too_long.items()]
    return lines, long_strips


def _by_print(lines: list[CutLine], counts: Sequence[Count]) -> list[CutLine]:
    """The lines, with how many are cut of which print where each copy of what they are for has one of its own."""
    own = {count.making.thing: count for count in counts if count.shares}
    for n, line in enumerate(lines) if own else ():
        if line.made_for in own and not line.shares:
            lines[n] = msgspec.structs.replace(line, shares=own[line.made_for].cut_by_print(line.cut))
    return lines


def _besides(
    counts: Sequence[Count],
    pattern: Pattern,
    edges: Sequence[Edging],
    too_long: dict[tuple[str, Length], list[tuple[Length, int, Use]]],
) -> list[CutLine]:
    """What is cut besides, and for the edges; what is longer than the cloth is wide is put to the pieces that are
    joined."""
    lines, found = [], list[tuple[PieceCut, int, Thing | None]]()
    if any(where.also for where in (*pattern.units.values(), pattern.quilt) if where is not None):
        from patternkit.plan.also import also_cuts

        found += also_cuts(counts, pattern)
    if edges:
        from patternkit.plan.edges import edge_cuts

        found += [(cut, n, None) for cut, n in edge_cuts(edges)]
    for cut, n, thing in found:
        assert cut.name is not None
        if _is_too_long(cut, pattern.fabrics[cut.fabric].usable_width):
            high, long = sorted((cut.width, cut.height))
            too_long.setdefault((cut.fabric, high), []).append((long, n, cut.name))
        else:
            own = next((c for c in counts if c.making.thing == thing and c.shares), None)
            each = n // own.needed if own is not None else 0
            shares = own.shares_of(cut.fabric, {s: s.needed * each for s in own.shares}) if own is not None else ()
            lines.append(CutLine("", cut.fabric, cut, n, (cut.name,), n, made_for=thing, shares=shares))
    return lines


def _motifs(cut: PieceCut, count: int, pattern: Pattern) -> Motifs | None:
    """How pieces lie round the motifs of their print."""
    from patternkit.plan.motifs import motifs

    return motifs(cut, count, pattern.fabrics[cut.fabric])


def _is_too_long(cut: PieceCut, usable: Length) -> bool:
    """Whether a piece is cut from strips joined end to end."""
    if cut.then == "strip" or cut.along:
        return False
    return min(cut.width, cut.height) <= usable < max(cut.width, cut.height)


def _also(count: Count) -> tuple[Making, ...]:
    """The other units for which the strip units of a count are cut."""
    makings = count.shared.makings if count.shared is not None else ()
    return tuple(m for m in makings if m is not count.making)


def _merge_sashing(lines: Sequence[CutLine], pattern: Pattern) -> list[CutLine]:
    """Sashing that runs across and sashing that runs down is one line where it is one size and the cloth has no
    direction."""
    kept: dict[object, CutLine] = {}
    for i, line in enumerate(lines):
        cut = line.cut
        key: tuple[object, ...] = (i,)
        if (
            cut.name in (SASHING, EDGE_SASHING, CORNERSTONE)
            and not cut.then
            and not pattern.fabrics[line.fabric].directional
        ):
            if cut.width > cut.height:
                cut = msgspec.structs.replace(
                    cut,
                    width=cut.height,
                    height=cut.width,
                    exact_width=cut.exact_height,
                    exact_height=cut.exact_width,
                )
            key = (line.fabric, cut.name, cut.width, cut.height)
            line = msgspec.structs.replace(line, cut=cut)
        first = kept.get(key)
        kept[key] = (
            line
            if first is None
            else msgspec.structs.replace(first, count=first.count + line.count, gives=first.gives + line.gives)
        )
    return list(kept.values())


def _joined_too(
    fabric: str, high: Length, wanted: list[tuple[Length, int, Use]], lines: list[CutLine], pattern: Pattern
) -> list[CutLine]:
    """Border pieces short enough for one strip are cut from the joined strips as well where that takes fewer strips.

    They are added to what is `wanted`; the lines that are still cut by themselves are given back.
    """
    usable, join = pattern.fabrics[fabric].usable_width, pattern.settings.seam * 2
    short = [
        x
        for x in lines
        if x.fabric == fabric
        and not x.cut.then
        and not x.cut.along
        and x.cut.name is not None
        and x.cut.name.what == "border"
        and min(x.cut.width, x.cut.height) == high
    ]
    more = [(max(x.cut.width, x.cut.height), x.count, use) for x in short for use in x.use]
    room = usable - pattern.fabrics[fabric].squaring
    alone = sum(-(-n // max(1, int((room / length).floor_to(Fraction(1))))) for length, n, _ in more)
    if not short or _strips([*wanted, *more], usable, join) >= _strips(wanted, usable, join) + alone:
        return lines
    wanted += more
    return [x for x in lines if x not in short]


def _strips(wanted: Sequence[tuple[Length, int, Use]], usable: Length, join: Length) -> int:
    return strips_joined(sum((length * n for length, n, _ in wanted), ZERO), usable, join)


def _half_strips(number: int, cut: PieceCut, count: Count, widths: Widths) -> CutLine:
    """The strips of a strip unit's last batch, half the usable width long: two of them come from one strip."""
    half = half_strip(cut, count.making.recipe.cuts, widths)
    own = count.making
    gives = pieces_from_half(count, cut)
    return CutLine(f"{number}", cut.fabric, half, cut.count, (own,), gives, also=_also(count), made_for=own.thing)


def _long(fabric: str, high: Length, wanted: list[tuple[Length, int, Use]], pattern: Pattern) -> LongStrip:
    """Long pieces of one fabric and width, cut from strips joined end to end by straight seams."""
    names = list(dict.fromkeys(name for _, _, name in wanted))
    merged: dict[tuple[Length, Use], int] = {}
    for length, n, name in wanted:
        merged[(length, name)] = merged.get((length, name), 0) + n
    lengths = tuple(
        (length, n, name)
        for (length, name), n in sorted(merged.items(), key=lambda i: (-float(i[0][0]), called(i[0][1])))
    )
    return long_strip(fabric, tuple(names), high, lengths, pattern.fabrics[fabric].usable_width, pattern)


def strip_line(
    number: int, fabric: str, height: Length, count: int, use: Uses, usable: Mapping[str, Length], gives: int = 1
) -> CutLine:
    """Whole strips across the usable width, joined and cut to so many pieces as they give."""
    cut = PieceCut(fabric, usable[fabric], height, usable[fabric], height, 1, "strip")
    return CutLine(f"{number}", fabric, cut, count, use, gives)
