"""Why an equation between sizes holds: the writer's statement, or the way the pieces are joined."""

from __future__ import annotations

from collections.abc import Hashable

import msgspec

from patternkit.lengths import ONE, ZERO, Length
from patternkit.sizes.affine import Affine
from patternkit.source import Span

Var = Hashable


class Cause(msgspec.Struct, frozen=True):
    """Where an equation comes from, in the writer's terms.

    `text` is a whole sentence without its full stop ("block lantern finishes 9 1/2 in wide"). `stated` is True for a
    size the writer typed, False for structure ("the widths in row 2 add up to the block"). `claim` marks a stated size
    that is held against the rest (finished, measures) rather than the size of a patch: where both could be worked out,
    a claim is worked out last. `unit` is the unit the number was typed in; `typed` the value typed, in inches; `per`
    how much the typed number changes for each inch the equation's right side changes (1 for a plain size). `number` is
    the place of the number alone, without its unit, for a replacement; equations whose `key` (or else whose `number`)
    is the same change together.

    For structure: `place` ("row 1 of block lantern"); `parts` name the pieces in order with their sizes; `whole` is the
    pair for what they add up to, or None where all parts must be equal; `way` is then the word for the edge that they
    share, ``wide`` or ``high``, where there is one for both.

    `near` is how far a claim may be from a size that no fraction gives (a diagonal): it was rounded when it was typed.
    """

    span: Span
    text: str
    stated: bool = True
    fixable: bool = True
    claim: bool = False
    unit: str = "in"
    per: Length = ONE
    typed: Affine | None = None
    number: Span | None = None
    key: Hashable = None
    place: str = ""
    parts: tuple[tuple[str, Var], ...] = ()
    whole: tuple[str, Var] | None = None
    way: str = ""
    near: Length = ZERO
    raw: bool = False  # the number typed is one with its seams: a size cut, or measured
    about: str = ""  # whom a claim speaks of: the beginning of its text

    def rounded(self, gap: Affine) -> bool:
        """Whether a gap (without parameters) is no more than the rounding of a size that no fraction gives."""
        return bool(self.near) and gap.is_constant and not gap.const.is_fraction and abs(gap.const) < self.near


def stated(
    span: Span,
    text: str,
    typed: Affine,
    *,
    number: Span | None = None,
    unit: str = "in",
    per: Length = ONE,
    fixable: bool = True,
    key: Hashable = None,
    raw: bool = False,
) -> Cause:
    """A size the writer gave to a piece or a unit."""
    return Cause(span, text, True, fixable, False, unit, per, typed, number, key, raw=raw)


def claimed(
    span: Span,
    text: str,
    typed: Affine,
    *,
    number: Span | None = None,
    unit: str = "in",
    per: Length = ONE,
    fixable: bool = True,
    key: Hashable = None,
    near: Length = ZERO,
    about: str = "",
    raw: bool = False,
) -> Cause:
    """A size the writer stated of something that may also follow from the rest: finished, measures."""
    return Cause(span, text, True, fixable, True, unit, per, typed, number, key, near=near, about=about, raw=raw)


def adds_up(span: Span, place: str, parts: tuple[tuple[str, Var], ...], whole: tuple[str, Var]) -> Cause:
    """Pieces side by side: their sizes, in this order, add up to the whole."""
    return Cause(
        span, f"the pieces of {place} add up to {whole[0]}", False, False, place=place, parts=parts, whole=whole
    )


def same(span: Span, place: str, parts: tuple[tuple[str, Var], ...], way: str = "") -> Cause:
    """Pieces that are sewn together along an edge: that edge has one length (`way`: how wide or how high they are)."""
    names = " and ".join(dict.fromkeys(label for label, _ in parts))
    return Cause(span, f"{place}: {names} are sewn along one edge", False, False, place=place, parts=parts, way=way)


def structure(span: Span, text: str) -> Cause:
    """Any other relation that the way of making gives, as a whole sentence."""
    return Cause(span, text, False, False)
