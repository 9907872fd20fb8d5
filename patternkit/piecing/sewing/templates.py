"""Templates under one name each: what is cut by them, turned by quarters or turned over, is one shape."""

from __future__ import annotations

from typing import NamedTuple

from patternkit.lengths import Length
from patternkit.piecing.batch import Piece
from patternkit.piecing.making import Outline, PieceCut, Place, Point, reversed_ring
from patternkit.piecing.offset import bounding_box
from patternkit.piecing.turned_over import own_image

Form = tuple[frozenset[Point], frozenset[Point]]
QUARTERS = (0, 90, 180, 270)


class CutShape(NamedTuple):
    """A template: its name, raw outline, the seam line inside it, and the size of its box on the ruler's grid.

    Where its mirror image is the same shape, `turn` is by how many degrees that has to be turned clockwise to lie like
    the template.
    """

    name: str
    outline: Outline
    sewn: Outline
    width: Length
    height: Length
    turn: float | None = None


class Found(NamedTuple):
    """A shape as one cut has it: turned over left to right where it is `reversed`, then turned by so many degrees."""

    shape: CutShape
    reversed: bool
    turned: float


class Templates:
    """All templates that were asked for, in the order in which they were met."""

    def __init__(self) -> None:
        self.named: dict[str, CutShape] = {}
        self._forms: dict[Form, CutShape] = {}
        self._found: dict[tuple[Outline, Outline, bool], Found] = {}

    def piece(self, cut: PieceCut, directed: bool) -> Piece:
        """The piece that is cut by a template."""
        shape, over, _ = self.find(cut, directed)
        return Piece(cut.fabric, "template", shape.width, shape.height, template=shape.name, reversed=over)

    def find(self, cut: PieceCut, directed: bool) -> Found:
        """The template of a cut: a new one where none is alike.

        Either straight grain may run along the cloth, so a quarter turn makes no other template, unless the cloth is
        `directed`: then it lies as it is drawn. A shape that is its own mirror image (a diamond) is not turned over for
        that: then the straight grain runs along another of its edges, as it should in a mirror image.
        """
        key = cut.shape, cut.sewn, directed
        if key not in self._found:
            self._found[key] = self._alike(cut, directed) or Found(self._new(cut), False, 0)
        return self._found[key]

    def _alike(self, cut: PieceCut, directed: bool) -> Found | None:
        for over in (False, True):
            for turn in QUARTERS[: 1 if directed else 4]:
                shape = self._forms.get(_form(cut, turn, over))
                if shape is not None and over and shape.turn is not None and not directed:
                    return Found(shape, False, (turn - shape.turn) % 360)
                if shape is not None:
                    return Found(shape, over, turn)
        return None

    def _new(self, cut: PieceCut) -> CutShape:
        name, turn = f"template {len(self.named) + 1}", own_image(cut.shape)
        made = CutShape(name, cut.shape, cut.sewn, cut.width, cut.height, turn)
        self.named[made.name] = self._forms[_form(cut, 0, False)] = made
        return made


def _form(cut: PieceCut, turned: int, over: bool) -> Form:
    """The corners of the shape that, turned over and turned so, is the cut's."""
    back = Place(turned=-turned % 360)
    rings = [back.outline(ring) for ring in (cut.shape, cut.sewn)]
    if over:
        rings = [reversed_ring(ring) for ring in rings]
    (x, y), _ = bounding_box(rings[0])
    outline, sewn = (frozenset((p - x, q - y) for p, q in ring) for ring in rings)
    return outline, sewn
