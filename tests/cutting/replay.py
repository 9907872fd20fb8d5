"""An independent cutter: it owns the cloth as rectangles, cuts them one by one and keeps what falls off.

It shares no code with the planner's own check. A cut takes a rectangle of cloth that exists and is whole;
each rectangle is cut at most once; no two pieces may share a point of cloth.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from patternkit.plan.cutting import CrossCut, CutPlan, CuttingSettings, PieceDemand, Strip

Box = tuple[int, int, int, int]  # x, y, width, height


class Table:
    """Cloth on the table: whole rectangles that may still be cut."""

    def __init__(self, *boxes: Box) -> None:
        self.whole: set[Box] = set(boxes)
        self.out: list[Box] = []

    def cut_down(self, box: Box, height: int) -> tuple[Box, Box]:
        """Cut a whole rectangle across, `height` from its top; give the top and the rest."""
        x, y, w, h = self._take(box)
        assert 0 < height <= h, f"cannot cut {height} from {box}"
        return self._keep((x, y, w, height)), self._keep((x, y + height, w, h - height))

    def cut_across(self, box: Box, width: int) -> tuple[Box, Box]:
        """Cut a whole rectangle lengthwise, `width` from its left side; give that side and the rest."""
        x, y, w, h = self._take(box)
        assert 0 < width <= w, f"cannot cut {width} from {box}"
        return self._keep((x, y, width, h)), self._keep((x + width, y, w - width, h))

    def put_aside(self, box: Box) -> None:
        """Take a finished piece off the table."""
        self.out.append(self._take(box))

    def _take(self, box: Box) -> Box:
        assert box in self.whole, f"{box} is not a whole piece of cloth on the table"
        self.whole.remove(box)
        return box

    def _keep(self, box: Box) -> Box:
        if box[2] and box[3]:
            self.whole.add(box)
        return box


def replay(pieces: list[PieceDemand], settings: CuttingSettings, plan: CutPlan) -> None:
    """Cut the plan from a cloth of exactly the length it says and count what comes out."""
    got: Counter[str] = Counter()
    by_id = {piece.id: piece for piece in pieces}
    for strip, cut, box in cut_one_by_one(plan, settings.width):
        assert cut.trimmed_to is None or strip.kind == "along" or settings.trim
        is_the_piece(by_id[cut.piece], box, settings)
        got[cut.piece] += 1
    assert got == Counter({p.id: p.count for p in pieces if p.count})


def cut_one_by_one(plan: CutPlan, width: int) -> Iterator[tuple[Strip, CrossCut, Box]]:
    """Every piece of a plan as it is cut, with its strip and its cut; in the end the cloth must be used up, and no two
    pieces may share any of it."""
    table = Table((0, 0, width, plan.length))
    cloth: dict[str, Box] = {"": (0, 0, width, plan.length)}
    beside = {left.strip: left.label for left in plan.leftovers if left.serves}
    for index, strip in enumerate(plan.strips):
        for _ in range(strip.copies):
            band, cloth[strip.source] = table.cut_down(cloth[strip.source], strip.height)
            for segment in strip.segments:
                length, band = table.cut_across(band, segment.width)
                for row in segment.rows:
                    inner, length = table.cut_down(length, row.height)
                    for cut in row.cuts:
                        for _ in range(cut.number):
                            box, inner = table.cut_across(inner, cut.width)
                            if cut.trimmed_to is not None:
                                box, _ = table.cut_down(box, cut.trimmed_to)
                            table.put_aside(box)
                            yield strip, cut, box
            if index in beside:
                cloth[beside[index]] = band
    assert cloth[""] == (0, plan.length, width, 0), "the cloth is not used up"
    apart(table.out)


def is_the_piece(piece: PieceDemand, box: Box, settings: CuttingSettings) -> None:
    """Check that what was cut has the size of the piece, turned only if it may be."""
    size = (box[2], box[3])
    if piece.full:
        assert size == (settings.width, piece.height)
    elif piece.may_turn and not piece.along:
        assert sorted(size) == sorted((piece.width, piece.height))
    else:
        assert size == (piece.width, piece.height)


def apart(boxes: list[Box]) -> None:
    """Check that no two rectangles share cloth, by sweeping along the length."""
    events = sorted((box[1], 1, box) for box in boxes) + sorted((box[1] + box[3], 0, box) for box in boxes)
    here: list[Box] = []
    for _, begins, box in sorted(events):
        if not begins:
            here.remove(box)
            continue
        for other in here:
            assert box[0] >= other[0] + other[2] or other[0] >= box[0] + box[2], f"{box} overlaps {other}"
        here.append(box)
