"""Paper piecing: pieces sewn over the fields of a printed foundation, sections joined along the edges of theirs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from patternkit.english import letters
from patternkit.piecing.batch import Action, Batch, Field, TearAway, Use
from patternkit.piecing.division import on_segment
from patternkit.piecing.making import Cloth, Making, Outline, PieceCut, Placed, Point
from patternkit.piecing.offset import clean, cross, minus
from patternkit.piecing.sewing.desk import Desk, Foundation, Part, Passages, plain
from patternkit.piecing.templates import is_rectangle


class OnePaper(NamedTuple):
    """Parts that are sewn on one foundation, in order, and the seams that these make."""

    parts: list[int]
    seams: list[int]


class PaperSection(NamedTuple):
    """A section as it is printed: its letter (none where a unit has one section only), its parts by their numbers in
    sewing order, the outline round them, their outlines, the points of that outline at which a seam between other
    sections ends, and the numbers of its seams."""

    letter: str
    parts: tuple[int, ...]
    outline: Outline
    fields: tuple[Outline, ...]
    marks: tuple[Point, ...]
    seams: tuple[int, ...] = ()

    def label(self, n: int) -> str:
        """What its nth field is called, from 0: ``1``, or ``B-1``."""
        return f"{self.letter}-{n + 1}" if self.letter else str(n + 1)


def on_paper(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """Every section on its foundation, trimmed; then the sections joined in sewing order."""
    parts = [_part(making, p, desk) for p in making.parts]
    found = paper_sections(making)
    passages: Passages = []
    for section in found:
        name = f"{making.key}, section {section.letter}" if section.letter else str(making.key)
        desk.papers[name] = Foundation(name, section.outline, section.fields)
        sewn: list[Action] = [Field(i, k, name) for k, i in enumerate(section.parts)]
        passages.append((making.recipe.method.phrase, [*sewn, TearAway(name)]))
    done = {s for section in found for s in section.seams}
    joined: list[Action] = [j for n, seam in enumerate(making.seams) if n not in done for j in desk.joins(seam, parts)]
    measured = [desk.measure(making)] if is_rectangle(making.outline) else []
    passages += [("join-sections", joined), ("measure", measured)]
    return [(desk.batch([p.use for p in parts], passages, [(desk.thing(making), 1)]), desk.times)]


def sections(making: Making) -> list[OnePaper]:
    """A section grows by one piece at a time. Two sections are joined by a seam; a further piece is one again."""
    found: list[OnePaper] = []
    of: dict[int, OnePaper | None] = {}  # by part: where what it is sewn to still grows; None once that was joined
    for n, seam in enumerate(making.seams):
        sides = [seam.left, seam.right]
        groups = [side for side in sides if len(side) > 1]
        own = of[groups[0][0]] if len(groups) == 1 else None
        if not groups:
            own = OnePaper(sorted((*seam.left, *seam.right)), [n])
            found.append(own)
        elif len(groups) == 1:
            ((new,),) = (side for side in sides if len(side) == 1)
            if own is None:
                found.append(OnePaper([new], []))
            else:
                own.parts.append(new)
                own.seams.append(n)
        of.update(dict.fromkeys((*seam.left, *seam.right), own))
    return found


def paper_sections(making: Making) -> list[PaperSection]:
    """The sections of a unit for paper piecing as they are printed, in the order in which they are sewn."""
    found = sections(making)
    rings = [
        tuple(making.parts[i].place.outline(making.parts[i].what.outline) for i in section.parts) for section in found
    ]
    outlines = [around(fields) for fields in rings]
    return [
        PaperSection(
            letters(n) if len(found) > 1 else "",
            tuple(section.parts),
            outlines[n],
            rings[n],
            _met_by(outlines[n], [other for k, other in enumerate(outlines) if k != n]),
            tuple(section.seams),
        )
        for n, section in enumerate(found)
    ]


def _met_by(outline: Outline, others: Sequence[Outline]) -> tuple[Point, ...]:
    """The corners of other sections that lie inside the edges of one."""
    edges = list(zip(outline, (*outline[1:], outline[0]), strict=True))
    points = dict.fromkeys(p for other in others for p in other if p not in outline)
    return tuple(p for p in points if any(on_segment(p, a, b) for a, b in edges))


def _part(making: Making, placed: Placed, desk: Desk) -> Part:
    """A part over its field: its edges are numbered as the field's."""
    outline = placed.place.outline(placed.what.outline)
    edges = tuple(range(len(outline)))
    if isinstance(placed.what, Making):
        return Part(Use(desk.thing(placed.what), placed.place.turned), plain(outline), edges)
    return Part(Use(desk.piece(paper_cut(making, placed.what, desk))), plain(outline), edges)


def paper_cut(making: Making, cloth: Cloth, desk: Desk) -> PieceCut:
    """What is cut for a piece of cloth that lies over a field."""
    own = [c for c in making.recipe.cuts if (c.fabric, c.name) == (cloth.fabric, cloth.name)]
    return own[0] if own else desk.cut_for(making, cloth)


def around(fields: Sequence[Outline]) -> Outline:
    """The outline of fields that lie side by side in a shape without inward corners, clockwise from its top."""
    points = sorted({p for field in fields for p in field}, key=lambda p: (p[0], p[1]))
    upper, lower = _chain(points), _chain(points[::-1])
    ring = clean((*upper[:-1], *lower[:-1]))
    first = min(range(len(ring)), key=lambda i: (ring[i][1], ring[i][0]))
    return (*ring[first:], *ring[:first])


def _chain(points: Sequence[Point]) -> list[Point]:
    """The points that lie outermost on the left, walking from the first to the last."""
    kept: list[Point] = []
    for p in points:
        while len(kept) > 1 and cross(minus(kept[-1], kept[-2]), minus(p, kept[-1])) <= 0:
            kept.pop()
        kept.append(p)
    return kept
