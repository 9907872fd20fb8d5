"""Random trees of joins with known sizes, as equations: what the tests of sizes are made from."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from hypothesis import strategies as st

from patternkit.lengths import Length
from patternkit.sizes import Affine, Cause, System, Var, adds_up, claimed, same, stated
from patternkit.source import Span

Equations = list[tuple[list[tuple[Var, int | Length]], Affine, Cause]]
EIGHTH = Fraction(1, 8)


class Unit:
    """A patch (no parts), or parts side by side (``row``) or one below the other."""

    def __init__(
        self, name: str, width: Fraction, height: Fraction, row: bool = True, parts: tuple[Unit, ...] = ()
    ) -> None:
        self.name, self.width, self.height, self.row, self.parts = name, width, height, row, parts

    def all(self) -> Iterator[Unit]:
        yield self
        for part in self.parts:
            yield from part.all()

    def size(self, way: str) -> Fraction:
        return self.width if way == "width" else self.height


@st.composite
def trees(
    draw: st.DrawFn, name: str = "u", depth: int = 3, width: int | None = None, height: int | None = None
) -> Unit:
    """A unit with sizes in eighths, divided at random."""
    width = draw(st.integers(40, 120)) if width is None else width
    height = draw(st.integers(40, 120)) if height is None else height
    kind = draw(st.sampled_from(["patch", "row", "column", "row", "column"])) if depth else "patch"
    whole = width if kind == "row" else height
    count = draw(st.integers(2, 3))
    parts: tuple[Unit, ...] = ()
    if kind != "patch" and whole >= 8 * count:
        cuts = sorted(draw(st.sets(st.integers(1, whole // 4 - 1), min_size=count - 1, max_size=count - 1)))
        edges = [0, *(4 * c for c in cuts), whole]
        sizes = [b - a for a, b in pairwise(edges)]
        parts = tuple(
            draw(trees(f"{name}{i}", depth - 1, *((s, height) if kind == "row" else (width, s))))
            for i, s in enumerate(sizes)
        )
    return Unit(name, width * EIGHTH, height * EIGHTH, kind == "row", parts)


def equations(tree: Unit, claims: bool = True, scale: Affine | int = 1, at: int = 0) -> Equations:
    """Joins of the tree, sizes of its patches, and (if asked for) claims for every joined unit.

    All sizes are multiplied by `scale`, which may be a parameter; spans start at `at`.
    """
    made: Equations = []

    def span() -> Span:
        return Span("tree", at + 10 * len(made), at + 10 * len(made) + 5)

    for unit in tree.all():
        for way in ("width", "height"):
            value = Affine(unit.size(way)) * scale
            text = f"{unit.name} is {value.text()} in {way}"
            if not unit.parts:
                made.append(([((unit.name, way), 1)], value, stated(span(), text, value, number=span())))
                continue
            labels = tuple((p.name, (p.name, way)) for p in unit.parts)
            whole = (unit.name, (unit.name, way))
            if unit.row == (way == "width"):
                made.append(
                    (
                        [*((v, 1) for _, v in labels), (whole[1], -1)],
                        Affine(),
                        adds_up(span(), f"unit {unit.name}", labels, whole),
                    )
                )
            else:
                for one, two in zip((whole, *labels), labels, strict=False):
                    made.append(([(one[1], 1), (two[1], -1)], Affine(), same(span(), f"unit {unit.name}", (one, two))))
            if claims:
                made.append(([((unit.name, way), 1)], value, claimed(span(), text, value, number=span())))
    return made


def system(given: Equations) -> System:
    """The equations as a system."""
    made = System()
    for terms, right, cause in given:
        made.add(terms, right, cause)
    return made


def with_value(given: Equations, number: int, value: Affine) -> Equations:
    """The same with another number typed in one statement."""
    import msgspec

    terms, right, cause = given[number]
    assert cause.typed is not None
    changed = msgspec.structs.replace(cause, typed=value)
    return [*given[:number], (terms, right + (value - cause.typed), changed), *given[number + 1 :]]
