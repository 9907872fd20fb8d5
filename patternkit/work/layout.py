"""The cuts of a fabric as they lie in its strips and sheets: those that a cutter cannot tell apart are one."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from patternkit.lengths import Length
from patternkit.model.pattern import Stock
from patternkit.plan.cutting.model import CrossCut, Strip, StripRow, StripSegment
from patternkit.plan.cutting.stock_model import CutSheet, SheetStrip
from patternkit.plan.lying import lying
from patternkit.plan.model import CutLine, FabricPlan
from patternkit.plan.motifs import Motifs
from patternkit.work.model import (
    CutByTemplate,
    Cutting,
    JoinEnds,
    KeptRest,
    LaidCloth,
    LaidPiece,
    LaidRow,
    LaidSegment,
    LaidSheet,
    LaidStrip,
)


class Laying:
    """One fabric's plan, laid out; `cutting` are the order's cuttings, those of the plan's lines first, in their
    order."""

    def __init__(self, plan: FabricPlan, lines: Sequence[CutLine], cutting: Sequence[Cutting]) -> None:
        self.plan = plan
        self.lines = {line.id: line for line in plan.lines}
        self.at: dict[str, int] = {}  # the cutting that stands for a line: the first of those that are alike
        first: dict[Cutting, int] = {}
        for n, (line, done) in enumerate(zip(lines, cutting, strict=False)):
            if line.id in self.lines and not isinstance(done, JoinEnds):
                # shapes cut side by side are counted by the strip, so that each keeps its own line
                one = msgspec.structs.replace(done, count=0)
                # rectangles alike, be the template turned over on them or not; of a print it is told what is cut
                if isinstance(one, CutByTemplate) and not self.plan.prints:
                    one = msgspec.structs.replace(
                        one, face="up", piece=msgspec.structs.replace(one.piece, reversed=False)
                    )
                self.at[line.id] = n if line.per_strip or line.motifs else first.setdefault(one, n)

    def cloth(self) -> LaidCloth:
        """All of its strips, those with the same cuts of one height together, and all of its sheets."""
        found: dict[object, LaidStrip] = {}
        for number, strip in enumerate(self.plan.plan.strips):
            laid = msgspec.structs.replace(self._strip(strip), keeps=self._kept(number))
            key = number if strip.kind == "full" else msgspec.structs.replace(laid, count=0)
            known = found.get(key)
            found[key] = laid if known is None else msgspec.structs.replace(laid, count=known.count + laid.count)
        sheets = self.plan.sheets.sheets if self.plan.sheets is not None else ()
        return LaidCloth(tuple(found.values()), tuple(map(self._sheet, sheets, range(len(sheets)))))

    def _kept(self, number: int) -> KeptRest | None:
        """What is kept to be cut up of the cloth beside the plan's strip of this number."""
        rests = (rest for rest in self.plan.plan.leftovers if rest.serves and rest.strip == number)
        return next((KeptRest(r.label, self._inches(r.width), self._inches(r.height)) for r in rests), None)

    def _sheet(self, cut: CutSheet, number: int) -> LaidSheet:
        one = self.plan.sheet_of(cut.stock)
        form = one.form if isinstance(one, Stock) else ""
        strips = tuple(map(self._sheet_strip, cut.strips))
        return LaidSheet(cut.copies, form, one.width, one.height, strips, self.plan.prints_of(number))

    def _sheet_strip(self, strip: SheetStrip) -> LaidStrip:
        cuts = tuple(self._piece(cut, sheet=True) for cut in strip.cuts)
        size = self._inches(strip.size)
        taken = sum(((p.lies[0] if strip.across else p.lies[1]) * p.number for p in cuts), start=Length(0))
        segments = (LaidSegment(taken, (LaidRow(size, cuts),)),)
        return LaidStrip(size, strip.copies, "across" if strip.across else "down", segments)

    def _strip(self, strip: Strip) -> LaidStrip:
        line = self.lines[strip.cuts[0].piece] if strip.kind == "full" and strip.cuts else None
        if line is not None and line.motifs is not None:
            return LaidStrip(self._inches(strip.height), strip.copies, "motifs", self._motifs(line, line.motifs))
        segments = tuple(self._segment(segment, strip.kind == "full") for segment in strip.segments)
        height = self._inches(strip.height)
        return LaidStrip(height, strip.copies, strip.kind, segments, strip.source)  # type: ignore[arg-type]

    def _segment(self, segment: StripSegment, whole: bool) -> LaidSegment:
        """A segment with its rows, those alike that follow each other as one."""
        rows: list[LaidRow] = []
        for row in segment.rows:
            laid = LaidRow(self._inches(row.height), self._pieces(row, whole))
            if rows and msgspec.structs.replace(rows[-1], count=1) == laid:
                laid = msgspec.structs.replace(laid, count=rows.pop().count + 1)
            rows.append(laid)
        return LaidSegment(self._inches(segment.width), tuple(rows))

    def _motifs(self, line: CutLine, motifs: Motifs) -> tuple[LaidSegment, ...]:
        """The pieces round motifs, column by column: each at the upper left of what it takes."""
        cut, found = line.cut, []
        for column in range(motifs.across):
            rows = sum(motifs.in_row(row, line.count) > column for row in range(motifs.rows))
            piece = LaidPiece(self.at[line.id], 1, (cut.width, cut.height), (cut.width, cut.height))
            wide = motifs.step[0] if column < motifs.across - 1 else cut.width
            if rows:
                found.append(LaidSegment(wide, (LaidRow(motifs.step[1], (piece,), rows),)))
        return tuple(found)

    def _pieces(self, row: StripRow, whole: bool) -> tuple[LaidPiece, ...]:
        """The pieces of a row, those that a cutter cannot tell apart as one; whole strips are put together by those who
        tell them."""
        cuts = [self._piece(cut) for cut in row.cuts]
        if whole:
            return tuple(cuts)
        gathered: dict[LaidPiece, int] = {}
        for cut in cuts:
            one = msgspec.structs.replace(cut, number=0)
            gathered[one] = gathered.get(one, 0) + cut.number
        cuts = [msgspec.structs.replace(one, number=n) for one, n in gathered.items()]
        return tuple(sorted(cuts, key=lambda c: (c.trimmed is not None, -c.lies[1], -c.lies[0])))

    def _piece(self, cut: CrossCut, sheet: bool = False) -> LaidPiece:
        """Pieces as they lie; on a sheet, which can be turned, as they are called, and not trimmed yet."""
        lain = lying(self.lines[cut.piece].cut, cut.turned and not sheet)
        trimmed = None if cut.trimmed_to is None else self._inches(cut.trimmed_to)
        high = self._inches(cut.height) if trimmed is None or sheet else trimmed
        size, lies = (lain.width, lain.height), (self._inches(cut.width), high)
        if self.lines[cut.piece].run is not None:
            size = (self._inches(cut.width), self._inches(cut.height))
        return LaidPiece(self.at[cut.piece], cut.number, size, lies, lain.leans, trimmed)

    def _inches(self, value: int) -> Length:
        return Length(value) / self.plan.scale
