"""Strip units: strips sewn as long strips, then cut across. The unit is one segment, its strips side by side."""

from __future__ import annotations

from collections.abc import Container, Sequence
from typing import TYPE_CHECKING, ClassVar

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import chosen, pieces, problems
from patternkit.piecing.kinds import slanted
from patternkit.piecing.kinds.base import Equations, Kind, Shop
from patternkit.piecing.kinds.slanted import STRAIGHT, Slant
from patternkit.piecing.leaves import Along, End, Ends, Leaf
from patternkit.piecing.making import Cloth, Making, PieceCut, Recipe, Seam, rectangle
from patternkit.piecing.method import Method
from patternkit.piecing.shapes import called, making, merged, opening, seam, sizes_in_place, up
from patternkit.piecing.unknowns import Unknown, of_piece, of_unit
from patternkit.problems import Problem, Repair
from patternkit.syntax.statements import Mark

if TYPE_CHECKING:
    from patternkit.piecing.forms import Form

ONE_SEAM, BY_PAIRS, OUTWARD = (
    Method("strips cut across", phrase, in_strips=True, adds_up=True)
    for phrase in ("strips_one", "strips_pairs", "strips_outward")
)
TUBE_OF_TWO, TUBE_BY_PAIRS, TUBE_OUTWARD = (
    Method("tube", phrase, in_strips=True, adds_up=True, tube=True)
    for phrase in ("strips_one", "strips_pairs", "strips_outward")
)
PAIR_OF_TWO, PAIRED_BY_PAIRS, PAIRED_OUTWARD = (
    Method("paired with", phrase, in_strips=True, adds_up=True, takes_unit=True)
    for phrase in ("strips_one", "strips_pairs", "strips_outward")
)


class Strips(Kind):
    """``strips a | b | a``: widths stated beside the fabrics or worked out; a segment is as high as the unit."""

    words: ClassVar[tuple[str, ...]] = ("strips",)
    cloth_only: ClassVar[str] = "Units are joined side by side by a row; strips are sewn before they are cut across."
    written: ClassVar[str] = "strips night | stone | night"
    methods: ClassVar[tuple[Method, ...]] = (ONE_SEAM, TUBE_OF_TWO, PAIR_OF_TWO)
    pieces: ClassVar[tuple[int, int]] = (2, 400)
    options: ClassVar[dict[str, str]] = {"slant": "slant 45"}

    def equations(self, unit: Unit, out: Equations) -> None:
        """The strips' widths add up to the unit's width, and each shows the unit's height."""
        for problem in problems(self, unit, sizes=("finished", "cut"), own_cut=True):
            out.problem(problem)
        listed = pieces(unit)
        if not listed:
            return
        width, height = out.outer(unit)
        sizes = [out.size_of(unit, piece) for piece in listed]
        span = unit.rows[0].span
        if len(sizes) == 1:
            out.same(sizes[0][0], width, called(unit), span)
        else:
            out.total([(1, w) for w, _ in sizes], width, f"the strips of {called(unit)}", span)
        angle = slanted.slant_of(unit)
        if isinstance(angle, Problem):
            out.problem(angle)
        elif angle != STRAIGHT and chosen(self, unit).method is not ONE_SEAM:
            out.problem(_not_on_the_slant(unit))
        segment = self._across(unit, out, sizes, STRAIGHT if isinstance(angle, Problem) else angle)
        for piece in listed:
            sizes_in_place(unit, piece, out)
        self._segment(unit, out, segment)
        if unit.shifted_from:
            self._as_described(unit, out)

    def _across(self, unit: Unit, out: Equations, sizes: Sequence[tuple[Unknown, Unknown]], angle: int) -> Unknown:
        """How high the unit and each of its strips are, by how it is cut across. Gives how wide a segment finishes."""
        width, height = out.outer(unit)
        own = [(w, h, piece.span) for (w, h), piece in zip(sizes, pieces(unit), strict=True)]
        if angle == STRAIGHT:
            for _, h, span in own:
                out.total([(1, h)], height, f"{called(unit)} is cut across its strips", span)
            return height
        segment, (per_segment, per_width) = slanted.segment_of(unit), slanted.height_terms(angle)
        out.shown(segment, f"a segment of {called(unit)}, square to its cuts,")
        for w, h, span in ((width, height, unit.kind_span), *own):
            text = f"{called(unit)} is cut across its strips at {angle} degrees"
            out.total([(per_segment, segment), (per_width, w)], h, text, span)
        return segment

    def _as_described(self, unit: Unit, out: Equations) -> None:
        """With its strips moved on a unit is as large as it is described, and so is each of its strips."""
        text = f"{called(unit)} has the strips of {unit.shifted_from}"
        ties = [(own, of_unit(unit.shifted_from, side)) for own, side in zip(out.outer(unit), "wh", strict=True)]
        ties += [(out.size_of(unit, p)[0], of_piece(unit.shifted_from, p.slot, "w")) for p in pieces(unit) if p.fabric]
        for own, described in ties:
            out.total([(1, described)], own, text, unit.kind_span)

    def _segment(self, unit: Unit, out: Equations, segment: Unknown) -> None:
        """A `cut` line says how wide the segments are cut: one side of the unit with its two seams."""
        for claim in unit.claims:
            if claim.word == "cut":
                value = claim.width if claim.height is None else claim.height
                text = f"the segments of {called(unit)} are cut {out.render(value)}"
                number = claim.numbers[0 if claim.height is None else 1]
                out.stated(segment, value - out.seam * 2, text, claim.span, value, number)
                if claim.height is not None:
                    text = (
                        f"the strip unit of {called(unit)} is said to be {out.render(claim.width)} "
                        "from raw edge to raw edge"
                    )
                    out.stated(
                        out.outer(unit)[0],
                        claim.width - out.seam * 2,
                        text,
                        claim.span,
                        claim.width,
                        claim.numbers[0],
                    )

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """The width of every strip, and that of the segments."""
        across = slanted.angle_of(unit) == STRAIGHT
        wide = out.outer(unit)[1] if across else slanted.segment_of(unit)
        segment = Leaf(wide, fixed=any(claim.word == "cut" for claim in unit.claims))
        return (*(Leaf(out.size_of(unit, p)[0], fixed=p.cut) for p in pieces(unit)), segment)

    def ends(self, unit: Unit, side: Along, out: Equations) -> Ends | None:
        """The first and the last strip."""
        listed = pieces(unit)
        if side == "h" or slanted.angle_of(unit) != STRAIGHT or len(listed) < 2 or listed[0].cut or listed[-1].cut:
            return None
        first, last = (out.size_of(unit, p) for p in (listed[0], listed[-1]))
        between = tuple(out.size_of(unit, p) for p in listed[1:-1])
        return Ends(End(first[0], first[0], first[1]), End(last[0], last[0], last[1]), between)

    def may_trim(self, unit: Unit, side: Along) -> bool:
        """All its strips are plain, and reach the edges level unless it is cut on the slant."""
        return slanted.angle_of(unit) == STRAIGHT

    def form(self, unit: Unit, out: Equations) -> Form | None:
        """A parallelogram where it is cut on the slant."""
        return None if slanted.angle_of(unit) == STRAIGHT else slanted.form(unit, out.outer(unit)[0])

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The strips are joined in pairs and the pairs joined, or outward from the middle when odd."""
        listed, angle = pieces(unit), slanted.angle_of(unit)
        width, height = shop.width(unit), shop.height(unit)
        edge = height if angle == STRAIGHT else height - width * slanted.lean(angle)
        cloths, edges, cuts = [], [ZERO], []
        lines = shop.stated_cuts(unit)
        for piece in listed:
            fabric, x = shop.fabric(unit, piece), edges[-1]
            w = shop.piece_size(unit, piece)[0]
            shape = rectangle(w, height, x) if angle == STRAIGHT else slanted.outline(angle, x, x + w, edge)
            cloths.append(Cloth(fabric, shape))
            raw = w + shop.seam * 2
            usable = shop.usable_width(fabric)
            cuts.append(
                PieceCut(
                    fabric,
                    usable,
                    raw if piece.cut or raw in lines else up(raw, shop.grid),
                    usable,
                    raw,
                    1,
                    "strip",
                    stated=piece.span if piece.cut else None,
                )
            )
            edges.append(x + w)
        marks = unit.rows[0].marks
        if angle != STRAIGHT:
            seams = _seams(marks, edges, edge, slanted.lean(angle))
            made = making(unit, width, height, cloths, seams, _on_the_slant(unit, shop, angle, edge, cuts))
            return msgspec.structs.replace(made, outline=slanted.outline(angle, ZERO, width, edge))
        recipe = self._recipe(unit, shop, width, height, cuts, lines)
        return making(unit, width, height, cloths, _seams(marks, edges, height), recipe)

    def _recipe(
        self, unit: Unit, shop: Shop, width: Length, height: Length, cuts: list[PieceCut], lines: Container[Length]
    ) -> Recipe:
        n, allowance = len(cuts), shop.seam * 2
        raw, high = width + allowance, height + allowance
        segment = high if high in lines else up(high, shop.grid)
        sewn = -allowance * (n - 1)
        for c in cuts:
            sewn = sewn + c.height
        larger = sewn != raw or segment != height + allowance
        return Recipe(
            method_for(n, chosen(self, unit).method),
            merged(cuts),
            segment=segment,
            strip_unit=sewn,
            sewn=(sewn, segment) if larger else None,
            trim_to=(raw, height + allowance) if larger else None,
        )


def _on_the_slant(unit: Unit, shop: Shop, angle: int, edge: Length, cuts: Sequence[PieceCut]) -> Recipe:
    """The recipe of a unit that is cut across on the slant."""
    allowance = shop.seam * 2
    exact = shop.solved(slanted.segment_of(unit)) + allowance
    segment = exact if exact in shop.stated_cuts(unit) else up(exact, shop.grid)
    steps, lost = slanted.staggered([c.height for c in cuts], shop.seam, angle, shop.grid)
    numbers = Slant(angle, segment, edge, steps, lost)
    sewn = -allowance * (len(cuts) - 1)
    for c in cuts:
        sewn = sewn + c.height
    takes = numbers.takes
    return Recipe(
        method_for(len(cuts)), merged(cuts), segment=takes + lost, strip_unit=sewn, pitch=takes, numbers=numbers
    )


def method_for(strips: int, stated: Method = ONE_SEAM) -> Method:
    """How so many strips are joined, by the method that is stated."""
    two, pairs, outward = {
        TUBE_OF_TWO: (TUBE_OF_TWO, TUBE_BY_PAIRS, TUBE_OUTWARD),
        PAIR_OF_TWO: (PAIR_OF_TWO, PAIRED_BY_PAIRS, PAIRED_OUTWARD),
    }.get(stated, (ONE_SEAM, BY_PAIRS, OUTWARD))
    return two if strips == 2 else outward if strips % 2 else pairs


def _not_on_the_slant(unit: Unit) -> Problem:
    assert unit.method is not None
    return Problem(
        "out-of-place",
        f"{opening(unit)} is cut on the slant; rings of a tube, and pairs, are cut straight across.",
        unit.method.span,
        repairs=(Repair("leave out the method, or the line slant"),),
    )


def strip_cuts(strips: Making, shown: Sequence[tuple[str, Length]], allowance: Length) -> list[PieceCut]:
    """The cut of each strip of a unit, from left to right; `shown` are their fabrics and what they show, as solved or
    once the outer ones are trimmed."""
    recipe, found = strips.recipe, list[PieceCut]()
    over = ((recipe.strip_unit or ZERO) - strips.width - allowance * 2) / 2
    for n, (fabric, width) in enumerate(shown):
        raw, own = width + allowance * 2, [c for c in recipe.cuts if c.fabric == fabric]
        sewn = raw + over if n in (0, len(shown) - 1) else raw
        alike = [c for c in own if c.exact_height == raw] or [c for c in own if c.height == sewn]
        found.append((alike or sorted(own, key=lambda c: abs(c.height - sewn)))[0])
    return found


def order(n: int) -> list[int]:
    """The seams of `n` strips in the order in which they are sewn; seam i lies between strips i and i + 1.

    Pairs first, the pairs then joined, when the number is even; outward from the middle strip, once on either side by
    turns, when it is odd: no strip is sewn along a long unit from one end to the other, so that it does not bow.
    """
    if n % 2:
        middle = n // 2
        return [i for step in range(middle) for i in (middle - 1 - step, middle + step)]
    seams, groups = [], [(i, i) for i in range(n)]
    while len(groups) > 1:
        paired = []
        for a, b in zip(groups[::2], groups[1::2], strict=False):
            seams.append(a[1])
            paired.append((a[0], b[1]))
        groups = paired + ([groups[-1]] if len(groups) % 2 else [])
    return seams


def _seams(marks: tuple[Mark, ...], edges: list[Length], height: Length, lean: Length = ZERO) -> list[Seam]:
    """The seams in sewing order, each between everything already sewn on its two sides; `height` is how long they are,
    `lean` how far each lies lower for an inch further right."""
    n = len(edges) - 1
    sewn: set[int] = set()
    seams = []
    for i in order(n):
        low, high = i, i + 1
        while low - 1 in sewn:
            low -= 1
        while high in sewn:
            high += 1
        x = edges[i + 1]
        seams.append(
            seam(
                (x, x * lean + height),
                (x, x * lean),
                range(low, i + 1),
                range(i + 1, high + 1),
                marks[i] if i < len(marks) else None,
            )
        )
        sewn.add(i)
    return seams
