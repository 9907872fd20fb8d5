"""What must be cut, before anyone asks how: counts, cutting lines, long strips, finishing.

A draft is a `Plan` without its fabrics' cutting plans. It is all that most checks need, and it loads no planner.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from patternkit.lengths import Length
from patternkit.model.pattern import Finishing, Pattern
from patternkit.piecing.making import Making, PieceCut
from patternkit.piecing.names import BIAS_BINDING, BINDING
from patternkit.piecing.prints import shared_out
from patternkit.plan import finishing
from patternkit.plan.buying import backing_to_buy
from patternkit.plan.counts import Count, counts
from patternkit.plan.lines import cut_lines, strip_line, widths_of
from patternkit.plan.model import Backing, CutLine, Edging, LongStrip, Plan
from patternkit.plan.strip_units import Known, merge_alike, parts_of
from patternkit.problems import Problem
from patternkit.units import Units, show, show_size

EDGES = ("facing", "flange", "piping", "prairie-points")
"""Finishing lines for what is sewn to the edges and is no binding."""


def draft_plan(
    pattern: Pattern,
    top: Making | None,
    roots: Sequence[tuple[Making, int]],
    known: Known | None = None,
    boxed: frozenset[str] = frozenset(),
) -> tuple[Plan, list[Problem]]:
    """Draft the plan of a quilt top (or of loose units: `roots` with how many of each), and say what no cloth can give.
    In `known` is kept what strip units are like. Shapes of the fabrics `boxed` are not laid side by side."""
    problems: list[Problem] = []
    widths = widths_of(pattern)
    usable = widths.usable
    dealt = shared_out(roots, pattern.fabrics)
    counted = merge_alike(counts(roots, widths, dealt.shares), pattern, widths, known)
    if any(count.making.recipe.numbers.from_strip_unit for count in counted):
        from patternkit.plan.upended import with_upended

        counted = with_upended(counted, pattern, widths, parts_of(counted, pattern))
    for count in counted:
        if not count.yields:
            problems.append(_no_segment(count.making, pattern))
    edges = _edges(pattern, top, counted)
    groups = frozenset(k for k, f in pattern.fabrics.items() if f.group is not None or f.print is not None)
    lines, long_strips = cut_lines(counted, pattern, boxed | groups, edges)
    for long in long_strips:
        gives = sum(n for _, n, _ in long.lengths)
        lines.append(strip_line(len(lines), long.fabric, long.height, long.strips, long.use, usable, gives))
    single = {key for key, f in pattern.fabrics.items() if f.print is not None and f.print.role}
    found: dict[str, object] = {}
    if top is not None and pattern.quilt is not None:
        found = {"edges": edges} | _finish(pattern, top, lines, usable)
    problems += [_no_print_so_long(x, pattern) for x in long_strips if x.fabric in single]
    problems += [_too_wide(line, pattern) for line in lines if _is_too_wide(line, pattern)]
    if any(count.making.is_layered for count in counted):
        from patternkit.plan.web import web_for  # only shapes laid on a ground may need it

        found["web"] = web_for(counted)
    made = Plan(tuple(counted), tuple(lines), tuple(long_strips), {}, top, boxed=boxed, **found)  # type: ignore[arg-type]
    return made, problems


def _edges(pattern: Pattern, top: Making | None, counted: Sequence[Count]) -> tuple[Edging, ...]:
    """What is sewn to the edges besides a binding; loaded only where a quilt has some."""
    finishing = pattern.quilt.finishing if pattern.quilt is not None and top is not None else ()
    if top is None or not any(f.word in EDGES or "envelope" in f.words for f in finishing):
        return ()
    from patternkit.plan.edges import edgings

    return tuple(edgings(pattern, top, counted))


def _is_too_wide(line: CutLine, pattern: Pattern) -> bool:
    """Whether no way of laying a piece on the cloth has room for it."""
    cut, fabric = line.cut, pattern.fabrics[line.fabric]
    if cut.then == "strip" or fabric.stock is not None:
        return False
    across = cut.width if cut.along else min(cut.width, cut.height)
    return across > fabric.usable_width or (
        bool(cut.then) and not cut.along and _lies(line, pattern) > fabric.usable_width
    )


def _no_print_so_long(long: LongStrip, pattern: Pattern) -> Problem:
    """A piece that one print has to give for each copy of a unit, and that none is long enough for."""
    fabric, units = pattern.fabrics[long.fabric], pattern.settings.units
    return Problem(
        "too-long",
        f"A piece of one print of {fabric.title} is {show(long.lengths[0][0], units)} long, and the cloth is "
        f"{show(fabric.usable_width, units)} wide.",
        fabric.span,
        causes=(
            "Longer pieces are joined of several strips; those of one print would be joined for each copy by itself.",
            f"Named where it lies, {fabric.called} is joined of any of its prints.",
        ),
    )


def _lies(line: CutLine, pattern: Pattern) -> Length:
    """The side that must lie across the cloth."""
    return line.cut.width if pattern.fabrics[line.fabric].directional else min(line.cut.width, line.cut.height)


def _too_wide(line: CutLine, pattern: Pattern) -> Problem:
    fabric, units = pattern.fabrics[line.fabric], pattern.settings.units
    size = show_size(line.cut.width, line.cut.height, units)
    return Problem(
        "too-long",
        f"A piece of {fabric.title} for {line.called}, {size}, cannot be cut: the cloth has "
        f"{show(fabric.usable_width, units)} of usable width.",
        line.cut.stated or fabric.span,
        causes=(
            f"Wider cloth is stated under the fabric, with usable width; otherwise {fabric.title} has to lie in "
            "smaller pieces.",
        ),
    )


def _finish(pattern: Pattern, top: Making, lines: list[CutLine], usable: Mapping[str, Length]) -> dict[str, object]:
    found: dict[str, object] = {}
    by_word: dict[str, Finishing] = {f.word: f for f in pattern.quilt.finishing} if pattern.quilt else {}
    w, h = top.width, top.height
    found["rounded"] = finishing.corner_radius(pattern)
    if "binding" in by_word and by_word["binding"].fabric:
        made = finishing.binding(by_word["binding"], w, h, pattern)
        if made is not None:
            found["binding"] = made
            if made.square is not None:
                side = made.square
                cut = PieceCut(made.fabric, side, side, side, side, 1, name=BIAS_BINDING, fixed_grain=True)
                lines.append(CutLine(f"{len(lines)}", made.fabric, cut, 1, (BIAS_BINDING,), 1))
            elif made.length is not None:
                lines.append(strip_line(len(lines), made.fabric, made.length, 1, (BIAS_BINDING,), usable))
            else:
                lines.append(strip_line(len(lines), made.fabric, made.width, made.strips, (BINDING,), usable))
    back: Backing | None = None
    measure = finishing.measure(top, pattern)
    cushion = "backing" in by_word and "envelope" in by_word["backing"].words
    if "backing" in by_word and not cushion:
        back = finishing.backing(by_word["backing"], *measure, pattern)
        found["backing"] = back
        found["backing_buy"] = backing_to_buy(back, pattern)
        if back.strip is not None:
            beside = back.strip
            lines.append(strip_line(len(lines), beside.fabric, beside.height, beside.strips, beside.use, usable))
    if "batting" in by_word or ("backing" in by_word and not cushion):
        size = finishing.batting(by_word.get("batting"), *measure, pattern, back)
        found |= {"batting": size, "packet": finishing.packet(size, pattern)}
    if "sleeve" in by_word and by_word["sleeve"].fabric:
        long: LongStrip = finishing.sleeve(by_word["sleeve"], w, pattern)
        found["sleeve"] = long
        lines.append(strip_line(len(lines), long.fabric, long.height, long.strips, long.use, usable))
    return found


def _squared(taken: Length, units: Units) -> str:
    return f", of which squaring up takes {show(taken, units)}" if taken > 0 else ""


def _no_segment(making: Making, pattern: Pattern) -> Problem:
    unit = pattern.units.get(making.key.of)
    span = unit.span if unit is not None else pattern.settings.span
    units, segment = pattern.settings.units, making.recipe.segment
    widths = widths_of(pattern)
    usable, room = widths.whole(making.recipe.cuts), widths.room(making.recipe.cuts)
    message = f"A segment of {making.key} is longer than the usable width of its cloth."
    if segment is not None:
        message = (
            f"A segment of {making.key} is cut {show(segment, units)} long, and its strips are "
            f"{show(usable, units)} long{_squared(usable - room, units)}."
        )
    return Problem(
        "too-long",
        message,
        span,
        causes=(
            "Strips lie across the cloth; they are sewn together and cut across into segments, "
            "each as long as the unit is high.",
            "The unit may be joined from several shorter ones in a column, or be a row of patches, one for each strip.",
        ),
    )
