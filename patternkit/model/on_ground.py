"""How something is laid on a unit: where, and in which way."""

from __future__ import annotations

import msgspec

from patternkit.sizes.affine import Affine
from patternkit.source import NOWHERE, Span


class OnGround(msgspec.Struct, frozen=True):
    """What a line `applique` says of what it lays on the unit it stands in, over what the lines before it lay there.

    A unit lies with its middle `at` a point, `turned` clockwise about that. A bias strip of a fabric, as `wide` as said
    (finished), lies with its middle line from the point `at` to the point `to`, straight or as an arc `about` a point.
    Points are measured from the unit's finished upper left corner. `way` is how a strip is laid on, where that is said;
    `span` is the line, `place` the first point.
    """

    at: tuple[Affine, Affine]
    span: Span
    turned: int = 0
    wide: Affine | None = None
    to: tuple[Affine, Affine] | None = None
    about: tuple[Affine, Affine] | None = None
    way: str = ""
    place: Span = NOWHERE
