"""A sewn unit that is cut apart by straight lines; each of its pieces is a unit, known by its number.

``cut-apart nine``, under it ``cut 2 1/8, 2 1/8 from left`` or ``cut at middle of top``. The lines are measured from raw
edges, and all cuts are made before anything moves.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import ClassVar

import msgspec

from patternkit.lengths import ONE, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.apart import all_pieces, cut_piece
from patternkit.piecing.asking import pieces, problems
from patternkit.piecing.batch import Batch, CutApart, Use
from patternkit.piecing.kinds.base import Equations, Kind, Shop, Unsettled
from patternkit.piecing.leaves import Leaf
from patternkit.piecing.making import Apart, Making, Placed, Recipe
from patternkit.piecing.method import Method
from patternkit.piecing.reflect import flattened
from patternkit.piecing.sewing.desk import Desk
from patternkit.piecing.shapes import called, making, opening
from patternkit.piecing.unknowns import Unknown
from patternkit.problems import Problem
from patternkit.sizes.affine import Affine
from patternkit.source import Span

CUT_APART = Method("cut apart", "cut_apart")
_HALF = Length(Fraction(1, 2))


class CutPlace(msgspec.Struct, frozen=True):
    """A line across the unit: so much of its raw size (`part`) and so much more (`more`) from its left or upper raw
    edge; and the number that says so, where one stands in the text."""

    part: Length
    more: Affine
    typed: Affine | None = None
    number: Span | None = None


def lines_of(unit: Unit, upright: bool) -> list[CutPlace]:
    """The lines that cut a unit from top to bottom (`upright`), or from side to side, in order: those told from its
    left or upper edge, the middle, those told from the other edge."""
    first, last = list[CutPlace](), list[CutPlace]()
    middle, near, far = False, Affine(0), Affine(0)
    for cuts in unit.lines:
        if cuts.upright != upright:
            continue
        middle = middle or not cuts.widths
        for width, number in zip(cuts.widths, cuts.numbers, strict=True):
            if cuts.side in ("left", "top"):
                near = near + width
                first.append(CutPlace(ZERO, near, width, number))
            else:
                far = far + width
                last.append(CutPlace(ONE, -far, width, number))
    return [*first, *([CutPlace(_HALF, Affine(0))] if middle else []), *reversed(last)]


class CutApartUnit(Kind):
    """``cut-apart nine``: one piece of a sewn unit that is cut apart."""

    words: ClassVar[tuple[str, ...]] = ("cut-apart",)
    written: ClassVar[str] = "cut-apart nine, with lines such as `cut at middle of top` under it"

    def equations(self, unit: Unit, out: Equations) -> None:
        """A piece is as large as the lines on its sides are apart, less the two seams that it is sewn by later."""
        for problem in problems(self, unit):
            out.problem(problem)
        listed = pieces(unit)
        if not listed:
            return
        for problem in (*_wrong(unit), *_in_vain(unit)):
            out.problem(problem)
        if not _is_cut(unit):
            return
        sizes = zip(out.size_of(unit, listed[0]), out.outer(unit), (True, False), strict=True)
        for whole, own, upright in sizes:
            self._side(unit, whole, own, upright, out)

    def _side(self, unit: Unit, whole: Unknown, own: Unknown, upright: bool, out: Equations) -> None:
        start, end = _bounds(unit, upright)
        raw, part = end.more - start.more, end.part - start.part
        if not part:
            stated = next(x for x in (start, end) if x.typed == raw)
            text = f"piece {unit.piece} of {unit.name} is cut {out.render(raw)} {out.way(own)} from {listed_name(unit)}"
            span = _where(unit, upright)
            out.stated(own, raw - out.seam * 2, text, span, raw, stated.number)
            return
        text = (
            f"piece {unit.piece} of {unit.name} is what the cuts leave of {listed_name(unit)}, and is sewn by "
            "a seam on every side"
        )
        out.total([(part, whole)], own, text, _where(unit, upright), raw + out.seam * 2 * part - out.seam * 2)

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """The sides that the writer says how wide to cut."""
        found = list[Leaf]()
        if not _is_cut(unit):
            return found
        for own, upright in zip(out.outer(unit), (True, False), strict=True):
            start, end = _bounds(unit, upright)
            if start.part == end.part:
                found.append(Leaf(own, fixed=True))
        return found

    def make(self, unit: Unit, shop: Shop) -> Making:
        """What shows between the lines."""
        if not _is_cut(unit):
            raise Unsettled(unit.key)
        what, place = shop.part(unit, pieces(unit)[0])
        assert isinstance(what, Making)
        if not any(m.seams or m.recipe.apart for m in _inside(what)):
            shop.problem(_one_piece(unit))
            raise Unsettled(unit.key)
        if any(shop.is_print(cloth.fabric) for cloth, _ in flattened(what)):
            shop.problem(_of_prints(unit))
            raise Unsettled(unit.key)
        width, height = shop.width(unit), shop.height(unit)
        wide, high = (side + shop.seam * 2 for side in shop.piece_size(unit, pieces(unit)[0]))
        columns, rows = (
            tuple(x.part * size + shop.value(x.more) for x in lines_of(unit, upright))
            for size, upright in ((wide, True), (high, False))
        )
        if any(b <= a for edges in ((ZERO, *columns, wide), (ZERO, *rows, high)) for a, b in pairwise(edges)):
            shop.problem(_over_each_other(unit))
            raise Unsettled(unit.key)
        middles = _only_middle(unit, True), _only_middle(unit, False)
        parts, seams, apart = cut_piece(Apart(Placed(what, place), columns, rows, unit.piece, shop.seam, middles))
        return making(unit, width, height, parts, seams, Recipe(CUT_APART, apart=apart))


def listed_name(unit: Unit) -> str:
    """The name of what is cut apart."""
    return pieces(unit)[0].name


def _only_middle(unit: Unit, upright: bool) -> bool:
    """Whether the unit is halved one way, which takes no measuring."""
    return [c.widths for c in unit.lines if c.upright == upright] == [()]


def _bounds(unit: Unit, upright: bool) -> tuple[CutPlace, CutPlace]:
    """The lines on both sides of a piece, the edges of the unit among them."""
    edges = [CutPlace(ZERO, Affine(0)), *lines_of(unit, upright), CutPlace(ONE, Affine(0))]
    down, right = divmod(unit.piece - 1, len(lines_of(unit, True)) + 1)
    n = right if upright else down
    return edges[n], edges[n + 1]


def _where(unit: Unit, upright: bool) -> Span:
    """The line that says where a unit is cut one way, or its kind's own where none does."""
    return next((c.span for c in unit.lines if c.upright == upright), unit.kind_span)


def _pieces(unit: Unit) -> int:
    """How many pieces a unit is cut into."""
    return (len(lines_of(unit, True)) + 1) * (len(lines_of(unit, False)) + 1)


def _is_cut(unit: Unit) -> bool:
    """Whether it is a piece that there is, of something sewn."""
    return bool(pieces(unit)) and not pieces(unit)[0].fabric and bool(unit.lines) and 0 < unit.piece <= _pieces(unit)


def _wrong(unit: Unit) -> list[Problem]:
    """What keeps a unit from being cut apart at all, in the first place."""
    whole, many = pieces(unit)[0], _pieces(unit)
    if whole.fabric:
        return [
            Problem(
                "not-cut-apart",
                f"In {called(unit)}, {whole.name} is a fabric, and what is cut apart is a sewn unit.",
                whole.span,
                causes=("Pieces of one fabric are cut from the cloth as they are needed: `patch night 3 x 4`.",),
            )
        ]
    if not unit.lines and not unit.unsized:
        return [
            Problem(
                "not-cut-apart",
                f"Nothing says where {whole.name} is cut apart.",
                unit.kind_span,
                causes=("Under it stands `cut 2 1/2 from left`, or `cut at middle of top`.",),
            )
        ]
    if unit.piece > many and not unit.unsized:
        return [
            Problem(
                "wrong-arguments",
                f"{opening(unit)} is cut into {many} pieces, and a piece {unit.piece} is asked for.",
                unit.kind_span,
                causes=("They are numbered as one reads: along the upper row from the left, then along the next.",),
            )
        ]
    return []


def _in_vain(unit: Unit) -> list[Problem]:
    """Lines that say nothing here."""
    found = []
    if unit.press:
        found.append(
            Problem(
                "out-of-place",
                f"{opening(unit)} has no seams of its own to press: they are those of {listed_name(unit)}.",
                unit.press[0].span,
                causes=(f"How they are pressed is said under {listed_name(unit)}.",),
            )
        )
    middles = [c for c in unit.lines if not c.widths]
    for n, cuts in enumerate(middles):
        if any(c.upright == cuts.upright for c in middles[:n]):
            found.append(Problem("said-twice", f"{opening(unit)} is cut through this middle already.", cuts.span))
    return found


def _over_each_other(unit: Unit) -> Problem:
    return Problem(
        "not-cut-apart",
        f"The lines by which {called(unit)} is cut apart lie outside it, or over each other.",
        unit.lines[-1].span,
        causes=(f"What is cut from both sides is together more than {listed_name(unit)} measures.",),
    )


def _inside(making: Making) -> Iterator[Making]:
    """A making and those in it, as long as they are one part each."""
    yield making
    while making.is_its_part and isinstance(inner := making.parts[0].what, Making):
        making = inner
        yield making


def _one_piece(unit: Unit) -> Problem:
    return Problem(
        "not-cut-apart",
        f"In {called(unit)}, {listed_name(unit)} is one piece of cloth, and what is cut apart is a sewn unit.",
        pieces(unit)[0].span,
        causes=("Pieces of one fabric are cut from the cloth as they are needed: `patch night 3 x 4`.",),
    )


def _of_prints(unit: Unit) -> Problem:
    return Problem(
        "not-cut-apart",
        f"Each copy of {listed_name(unit)} is sewn of a print of its own, and its pieces would be of all prints.",
        pieces(unit)[0].span,
        causes=("What is cut apart is given a fabric, or prints by their number: `mill(shore(3))`.",),
    )


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The unit is cut by all lines at once; each piece is one of what comes out."""
    apart = making.recipe.apart
    assert apart is not None and isinstance(apart.whole.what, Making)
    cut = CutApart(0, apart.columns, apart.rows, apart.middles)
    use = Use(desk.thing(apart.whole.what), apart.whole.place.turned)
    gives = [(desk.thing(piece), 1) for piece in all_pieces(making)]
    return [(desk.batch([use], [("cut_apart", [cut])], gives), desk.times)]
