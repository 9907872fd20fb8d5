"""The cutting plan in words: each fabric's cuts in order, what remains, what to buy, what is proved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby

import msgspec

from patternkit.desk.by_template import templates_save
from patternkit.desk.finishing_words import finishing_text
from patternkit.english import listed
from patternkit.lengths import Length
from patternkit.model.pattern import Fabric, Settings, Stock
from patternkit.piecing.by_angle import cut_angle
from patternkit.plan.buying import bolt_of, otherwise
from patternkit.plan.cutting.model import CrossCut, Strip, StripRow, StripSegment
from patternkit.plan.model import CutLine, FabricPlan, Plan
from patternkit.plan.motifs import Motifs
from patternkit.project import Project
from patternkit.units import Units, cloth_length, decimal, number, show, show_size

THEN = {
    "half": ", cut once corner to corner",
    "quarter": ", cut twice corner to corner",
    "template": ", by the template",
}
FORMS = {"fat-quarters": "fat quarters", "fat-eighths": "fat eighths"}
LEANS = {"left": " from upper left to lower right", "right": " from lower left to upper right"}


def cuts_text(project: Project, plan: Plan, makers: int = 0) -> str:
    """Every fabric's cuts as a person at the mat makes them."""
    units = project.pattern.settings.units
    parts = [_fabric(found, plan, makers, project) for found in plan.fabrics.values()]
    if plan.backing is not None and plan.backing_buy is not None:
        b = plan.backing
        cloth = project.pattern.fabrics[b.fabric] if b.fabric else project.pattern.settings
        name = project.pattern.fabrics[b.fabric].title if b.fabric else "backing"
        last = f" (the last {show(b.last, units)} wide)" if b.last is not None and b.panels > 1 else ""
        how = "one width" if b.parts == 1 else f"{b.panels} panels {show(b.length, units)} long{last}, {b.seams} seams"
        if b.strip is not None:
            how = how.replace("1 panels", "1 panel") + ("" if b.panels > 1 else ", cut in two along its middle")
            how += f", between them a strip of {project.pattern.fabrics[b.strip.fabric].title}"
        beside = ", cut with the rest" if plan.one_length else _beside(cloth, units)
        parts.append(
            f"Backing, {name}: {show(b.width, units)} x {show(b.height, units)}; {how}{beside}; "
            f"{_bought(plan.backing_buy, name, units)}"
        )
        if makers and plan.backing_buy:
            parts[-1] += f"\n  for {makers} makers: {cloth_length(plan.backing_buy.fraction * makers, units.decimals)}"
    return "\n\n".join([*parts, *finishing_text(project, plan), *_by_templates(project, plan)])


def _by_templates(project: Project, plan: Plan) -> Iterator[str]:
    """What templates would save of the units of which a ruler cuts the pieces."""
    decimals = project.pattern.settings.units.decimals
    for unit, saved in groupby(templates_save(project, plan), lambda x: x.unit):
        parts = []
        for one in saved:
            name, many = project.pattern.fabrics[one.fabric].title, one.sheets
            fewer = [f"{many} {'piece' if many == 1 else 'pieces'} fewer"] if many else []
            less = [f"{cloth_length(one.less.fraction, decimals)} less"] if one.less else []
            parts.append(f"{' and '.join([*fewer, *less])} of {name}")
        yield f"{unit}: cut by the ruler; method templates would take {listed(parts)}"


def _bought(length: Length, name: str, units: Units) -> str:
    """What is bought for a backing; nothing by itself where the amount of its fabric covers it."""
    return f"buy {cloth_length(length.fraction, units.decimals)}" if length else f"bought with {name}"


def _beside(cloth: Fabric | Settings, units: Units) -> str:
    """What is bought of a cloth beyond its cuts."""
    spare = f", with {show(cloth.spare, units)} spare" if cloth.spare > 0 else ""
    return spare + (f", {decimal(cloth.shrinkage)} % for shrinkage" if cloth.shrinkage else "")


def _fabric(found: FabricPlan, plan: Plan, makers: int, project: Project) -> str:
    units = project.pattern.settings.units
    lines_by_id = {line.id: line for line in found.lines}
    kept = f", {show(found.fabric.squaring, units)} of it for squaring up" if found.fabric.squaring > 0 else ""
    parts = [f"{found.fabric.title} ({show(found.fabric.usable_width, units)} usable width{kept})"]
    parts += ["  " + line for line in _with_the_last(_alike(found, lines_by_id, units), lines_by_id, found, units)]
    parts += _sheets(found, lines_by_id, units)
    for left in found.plan.leftovers:
        if left.serves:
            size = _size(left.width, left.height, found, units)
            parts.append(f"  left over, kept as leftover {left.label}: {left.number} of {size}")
    if found.sheets is None or found.used:
        more = _beside(found.fabric, units) if found.used else ""
        parts.append(
            f"  uses {show(found.used, units)}{more}; buy "
            f"{cloth_length(found.buy.fraction, units.decimals)}; {proof(found, units)}{_otherwise(found, units)}"
        )
    if makers:
        parts.append(f"  for {makers} makers: {_kits(found, plan, makers, project)}")
    return "\n".join(parts)


def _kits(found: FabricPlan, plan: Plan, makers: int, project: Project) -> str:
    """What so many makers need of a fabric: sheets (and packs of them), a length, or both."""
    parts, stock, units = [], found.fabric.stock, project.pattern.settings.units
    if found.sheets is not None and stock is not None and found.sheet_count:
        every = found.sheet_count * makers
        packs = -(-every // stock.pack)
        opened = f", {packs} {'pack' if packs == 1 else 'packs'}" if stock.pack > 1 else ""
        parts.append(f"{every} {FORMS.get(stock.form, stock.form)}{opened}")
    parts += [f"{n * makers} pieces at hand of {_size_of(x.width, x.height, units)}" for x, n in found.scraps_cut]
    if found.used or not parts:
        bolt = bolt_of(found, plan, project.pattern, makers)
        whole, least = (cloth_length(x.fraction, units.decimals) for x in (bolt.whole, bolt.least))
        parts.append(whole + (f" ({least} if only the sum is rounded)" if least != whole else ""))
    return " and ".join(parts)


def _sheets(found: FabricPlan, lines: dict[str, CutLine], units: Units) -> list[str]:
    """How the sheets of a fabric are cut, in order, and how many to buy."""
    if found.sheets is None:
        return []
    parts = []
    for at, sheet in enumerate(found.sheets.sheets):
        one, each = found.sheet_of(sheet.stock), ", each" if sheet.copies > 1 else ""
        form = FORMS.get(one.form, one.form) if isinstance(one, Stock) else "pieces at hand"
        of = _prints(found.prints_of(at))
        parts.append(f"  {sheet.copies} of the {form} ({_size_of(one.width, one.height, units)}){of}{each}:")
        for strip in sheet.strips:
            way = "across" if strip.across else "down"
            pieces = "; ".join(_from_sheet(cut, lines[cut.piece], found, units) for cut in strip.cuts)
            parts.append(
                f"    {strip.copies} {'strip' if strip.copies == 1 else 'strips'} "
                f"{show(Length(Fraction(strip.size, found.scale)), units)} {way}: {pieces}"
            )
    return [*parts, *_to_get(found)] if found.fabric.stock is not None else parts


def _prints(numbers: Sequence[int]) -> str:
    """Of which prints of a group sheets are: ``, of print 3``, ``, of prints 1 to 8``; nothing where there are none."""
    if not numbers:
        return ""
    runs: list[list[int]] = []
    for n in numbers:
        if runs and n == runs[-1][-1] + 1:
            runs[-1].append(n)
        else:
            runs.append([n])
    spans = [s for run in runs for s in ([f"{run[0]} to {run[-1]}"] if len(run) > 2 else map(str, run))]
    return f", of {'print' if len(numbers) == 1 else 'prints'} {listed(spans)}"


def _to_get(found: FabricPlan) -> list[str]:
    """How many sheets of the form in which a fabric is sold are cut, and how many to buy."""
    stock = found.fabric.stock
    assert stock is not None and found.sheets is not None
    if not found.sheet_count and found.scraps_cut:
        return []
    form = FORMS.get(stock.form, stock.form)
    sure = (
        "cannot be done with fewer" if found.sheets.status == "proved" else f"at least {found.sheets.bound} are needed"
    )
    if found.each is not None:
        amount = cloth_length(found.each.fraction, metric=found.fabric.lot.denominator > 8)
        return [f"  buy {amount} from each of {found.print_count} prints"]
    have = f", {stock.have} at hand" if stock.have else ""
    packs = f"; buy {found.packs} {'pack' if found.packs == 1 else 'packs'} of {stock.pack}" if stock.pack > 1 else ""
    form = form.removesuffix("s") if found.sheet_count == 1 else form
    sure = f"; {sure}" if found.sheets.rest is None and not found.prints else ""
    return [f"  {found.sheet_count} {form}{have}{packs}{sure}"]


def _from_sheet(cut: CrossCut, line: CutLine, found: FabricPlan, units: Units) -> str:
    """What one strip of a sheet gives of one piece, and what is done with it then."""
    if line.cut.then != "strip":
        return _many(cut, line, found, units)
    return f"{cut.number} of whole x {number(line.cut.height, units)}{_then(cut, line, found, units)}"


def _many(cut: CrossCut, line: CutLine, found: FabricPlan, units: Units) -> str:
    """How many pieces are cut in which size, and what is done with them then; shapes laid side by side by the run."""
    if line.run is None:
        size = f"{number(line.cut.width, units)} x {number(line.cut.height, units)}"
        return f"{cut.number} of {size}{_then(cut, line, found, units)}"
    turns = ", turned about by turns" if line.run.by_turns else ""
    how = _how(line)
    each = f"{cut.number} lengths of " if cut.number > 1 else ""
    size = _size(cut.width, cut.height, found, units)
    return f"{line.per_strip} side by side in {each}{size}{_then(cut, line, found, units)}".replace(
        how, f"{how}{turns}"
    )


def _then(cut: CrossCut, line: CutLine, found: FabricPlan, units: Units) -> str:
    """What is done with a cut once it is off the strip, and what it is for."""
    trim = f", trimmed to {show(Length(Fraction(cut.trimmed_to, found.scale)), units)}" if cut.trimmed_to else ""
    return f"{trim}{_how(line)}{LEANS.get(line.cut.leans, '')} ({line.label})"


def _how(line: CutLine) -> str:
    """How it is cut on: corner to corner, by the template, or by the ruler's lines at an angle."""
    angle = cut_angle(line.cut)
    down = " lying face down" if line.down else ""
    return f", at {angle} degrees by the ruler" if angle else THEN.get(line.cut.then, "") + down


def _size_of(width: Length, height: Length, units: Units) -> str:
    return f"{number(width, units)} x {show(height, units)}"


def _alike(found: FabricPlan, lines: dict[str, CutLine], units: Units) -> list[Strip]:
    """The strips of a fabric, those that read alike counted together, whichever lines their pieces are for."""
    alike: dict[object, Strip] = {}
    for at, strip in enumerate(found.plan.strips):
        one = msgspec.structs.replace(strip, copies=1)
        key: object = _strip(one, lines, found, units) if strip.kind == "cut" else at
        known = alike.get(key)
        copies = strip.copies + (known.copies if known is not None else 0)
        alike[key] = msgspec.structs.replace(known or strip, copies=copies)
    return list(alike.values())


def _with_the_last(
    strips: Sequence[Strip], lines: dict[str, CutLine], found: FabricPlan, units: Units
) -> Iterator[str]:
    """The strips in words; one that only gives fewer of the same pieces is told with those before it."""
    at = 0
    while at < len(strips):
        strip, fewer = strips[at], _fewer(strips[at : at + 2], lines, found, units)
        if fewer is not None:
            strip = msgspec.structs.replace(strip, copies=strip.copies + 1)
            at += 1
        yield _strip(strip, lines, found, units) + (f"; from the last {listed(fewer)}" if fewer is not None else "")
        at += 1


def _fewer(pair: Sequence[Strip], lines: dict[str, CutLine], found: FabricPlan, units: Units) -> list[str] | None:
    """How many pieces the second of two strips gives, if these are of the first one's, and fewer; None otherwise."""
    if len(pair) < 2 or pair[0].height != pair[1].height or pair[1].copies != 1:
        return None
    full, last = (_straight(strip, lines, found, units) for strip in pair)
    if not full or not last or any(n > full.get(key, 0) for key, n in last.items()):
        return None
    return [str(last.get(key, 0) or "none") for key in full]


def _straight(strip: Strip, lines: dict[str, CutLine], found: FabricPlan, units: Units) -> dict[str, int]:
    """How many of each piece come straight from a strip, by its words; empty where it is cut in another way."""
    rows = [segment.rows for segment in strip.segments]
    runs = any(lines[c.piece].run is not None for c in strip.cuts)
    if strip.kind != "cut" or strip.source or runs or any(len(row) != 1 for row in rows):
        return {}
    pieces: dict[str, int] = {}
    for cut in strip.cuts:
        key = _many(msgspec.structs.replace(cut, number=1), lines[cut.piece], found, units)
        pieces[key] = pieces.get(key, 0) + cut.number
    return pieces


def _strip(strip: Strip, lines: dict[str, CutLine], found: FabricPlan, units: Units) -> str:
    height = show(Length(Fraction(strip.height, found.scale)), units)
    head = f"{strip.copies} {'strip' if strip.copies == 1 else 'strips'} {height}"
    if strip.source:
        head = f"from leftover {strip.source}: {head}"
    first = lines[strip.cuts[0].piece] if strip.cuts else None
    if first is not None and first.motifs is not None:
        return _round_motifs(first, first.motifs, units)
    if strip.kind == "full" or not strip.cuts:
        parts = [lines[c.piece].label for c in strip.cuts]
        return f"{head} x the usable width: {', '.join(dict.fromkeys(parts)) or 'whole strips'}"
    along = " cut along the length first" if strip.kind == "along" else ""
    each = "from each " if strip.copies > 1 else ""
    return f"{head}{along}: {each}{'; '.join(_segment(segment, lines, found, units) for segment in strip.segments)}"


def _round_motifs(line: CutLine, motifs: Motifs, units: Units) -> str:
    """Pieces that each show a motif of their own, from a length of cloth."""
    size = show_size(line.cut.width, line.cut.height, units)
    every = [_every(step / each) for step, each in zip(motifs.step, motifs.repeat, strict=True)]
    which = every[0] if every[0] == every[1] else f"{every[0]} across and {every[1]} down"
    return (
        f"1 length {show(motifs.length, units)} x the usable width: {line.count} of {size} round {which}, "
        f"{motifs.across} across and {motifs.rows} down ({line.label})"
    )


def _every(times: Length) -> str:
    n = int(times.ceil_to(Fraction(1)))
    return {1: "every motif", 2: "every second motif", 3: "every third motif"}.get(n, f"every {n}th motif")


def _segment(segment: StripSegment, lines: dict[str, CutLine], found: FabricPlan, units: Units) -> str:
    """What is cut straight from a strip, or the rows that a segment is cut into and what each gives."""
    rows = [(row.height, "; ".join(_pieces(row, lines, found, units))) for row in segment.rows]
    if len(rows) == 1:
        return rows[0][1]
    words = []
    for (height, pieces), alike in groupby(rows):
        n, high = len(list(alike)), show(Length(Fraction(height, found.scale)), units)
        words.append(f"{n} {'row' if n == 1 else 'rows'} of {high} ({'each ' if n > 1 else ''}{pieces})")
    wide = show(Length(Fraction(segment.width, found.scale)), units)
    return f"a segment {wide} wide, cut into {' and '.join(words)}"


def _pieces(row: StripRow, lines: dict[str, CutLine], found: FabricPlan, units: Units) -> list[str]:
    """What a row gives of each piece, and what is done with it then."""
    alike: dict[str, CrossCut] = {}
    for cut in row.cuts:  # pieces that read alike are counted together
        key = _many(msgspec.structs.replace(cut, number=1), lines[cut.piece], found, units)
        total = cut.number + (alike[key].number if key in alike else 0)
        alike[key] = msgspec.structs.replace(cut, number=total)
    return [_many(cut, lines[cut.piece], found, units) for cut in alike.values()]


def _otherwise(found: FabricPlan, units: Units) -> str:
    """What the other way of filling strips would take, where that is another length."""
    other = otherwise(found)
    if other is None:
        return ""
    amount = cloth_length(other.fraction, units.decimals)
    return (
        f"; with the least cloth {amount}"
        if found.plan.method == "simple"
        else (f"; with each size in strips of its own {amount}")
    )


def _size(width: int, height: int, found: FabricPlan, units: Units) -> str:
    return (
        f"{number(Length(Fraction(width, found.scale)), units)} x {show(Length(Fraction(height, found.scale)), units)}"
    )


def proof(found: FabricPlan, units: Units) -> str:
    """How far from the possible best: in words a buyer understands."""
    if found.planned is not None:
        over = found.buy - found.planned
        return f"{cloth_length(over.fraction, units.decimals)} more than needed" if over > 0 else "as the pattern says"
    if found.plan.status == "proved":
        return "cannot be cut from less, however it is cut"
    strips = "in strips across the cloth" + (", with as many whole ones to join" if found.joins else "")
    if found.plan.status == "proved for strips":
        return f"cannot be cut from less {strips}"
    more = cloth_length((found.buy - found.least).fraction, units.decimals)
    if any(line.motifs is not None for line in found.lines):
        return f"enough wherever the motifs lie; at most {more} more than needed where they lie well"
    return f"at most {more} more than needed {strips}"
