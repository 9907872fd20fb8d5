"""A table to sew on: cuts as told, joined seam by seam, measured with a ruler. It knows nothing of how sizes are worked
out: it takes the cuts, the seams in their order, and what a unit is trimmed to.
"""

from __future__ import annotations

from fractions import Fraction

from patternkit.lengths import ZERO, Length
from patternkit.piecing.making import Cloth, Making, PieceCut, Placed
from patternkit.project import Project

LEVEL = Length(Fraction(1, 64))  # raw edges that meet
TOLD = Length(Fraction(1, 32))  # what is told, and what comes out
Size = tuple[Length, Length]


def project_of(text: str) -> Project:
    """A pattern in inches with a seam of 1/4 in and the fabrics a, b and c."""
    head = 'pattern "Sewn"\n    units inches\n    seam 1/4\n\nfabric a dark\nfabric b light\nfabric c medium\n\n'
    return Project("sewn.pattern", head + text)


class Table:
    """Everything of a quilt sewn once; `faults` are the differences that a maker would meet."""

    def __init__(self, project: Project) -> None:
        self.seam: Length = project.pattern.settings.seam
        self.grid: Fraction = project.pattern.settings.ruler
        self.faults: list[str] = []
        self._done: dict[Making, Size] = {}

    def sew(self, making: Making) -> Size:
        """Sew a making from what is told to be cut, and give what it measures from raw edge to raw edge."""
        if making not in self._done:
            self._done[making] = self._sewn(making)
        return self._done[making]

    def _sewn(self, making: Making) -> Size:
        left = [c for cut in making.recipe.cuts for c in [cut] * cut.count]
        for cut in making.recipe.cuts:
            self._on_ruler(making, cut)
        groups: dict[int, tuple[frozenset[int], Size]] = {}
        for i, part in enumerate(making.parts):
            groups[i] = (frozenset({i}), self._raw(making, part, left))
        for seam in making.seams:
            upright = seam.start[0] == seam.end[0]
            (one, a), (two, b) = groups[seam.left[0]], groups[seam.right[0]]
            assert one == frozenset(seam.left) and two == frozenset(seam.right)
            across, along = (0, 1) if upright else (1, 0)
            if abs(a[along] - b[along]) > LEVEL:
                self.faults.append(
                    f"{making.title}: edges of {float(a[along])} and {float(b[along])} are sewn together"
                )
            total = a[across] + b[across] - self.seam * 2
            size = (total, a[along]) if upright else (a[along], total)
            for i in one | two:
                groups[i] = (one | two, size)
        size = groups[0][1]
        if making.recipe.trim_to is not None:
            if any(s < t for s, t in zip(size, making.recipe.trim_to, strict=True)):
                self.faults.append(f"{making.title}: no cloth to trim")
            if making.recipe.sewn is not None:
                self._compare(making, "before trimming", size, making.recipe.sewn)
            size = making.recipe.trim_to
        self._compare(making, "in all", size, (making.width + self.seam * 2, making.height + self.seam * 2))
        return size

    def _raw(self, making: Making, part: Placed, left: list[PieceCut]) -> Size:
        if isinstance(part.what, Making):
            size = self.sew(part.what)
            return size[::-1] if part.place.turned % 180 else size
        xs, ys = zip(*part.place.outline(part.what.outline), strict=True)
        drawn = (max(xs) - min(xs) + self.seam * 2, max(ys) - min(ys) + self.seam * 2)
        found = self._cut_for(part.what, drawn, left, making)
        assert found is not None, f"{making.title}: nothing is cut for {part.what.fabric} {[float(x) for x in drawn]}"
        return found

    def _cut_for(self, cloth: Cloth, drawn: Size, left: list[PieceCut], making: Making) -> Size | None:
        """The cut that is meant: of that cloth, the nearest that is not smaller, either way up."""
        best: tuple[Length, int, Size] | None = None
        for i, cut in enumerate(left):
            if cut.fabric != cloth.fabric:
                continue
            if making.recipe.segment is not None:
                ways: tuple[Size, ...] = ((cut.height, making.recipe.segment),)
            else:
                ways = ((cut.width, cut.height), (cut.height, cut.width))
            for size in ways:
                if size[0] >= drawn[0] and size[1] >= drawn[1]:
                    over = size[0] + size[1] - drawn[0] - drawn[1]
                    if best is None or over < best[0]:
                        best = (over, i, size)
        if best is None:
            return None
        if making.recipe.segment is None:
            del left[best[1]]
        return best[2]

    def _on_ruler(self, making: Making, cut: PieceCut) -> None:
        sides = (cut.height,) if cut.then == "strip" else (cut.width, cut.height)
        if any(not side.on_grid(self.grid) for side in sides):
            self.faults.append(f"{making.title}: a cut of {[float(s) for s in sides]} is on no line")

    def _compare(self, making: Making, when: str, size: Size, told: Size) -> None:
        for s, t in zip(size, told, strict=True):
            if abs(s - t) > TOLD:
                self.faults.append(f"{making.title} {when}: {float(t)} is told, {float(s)} comes out")


def sewn(project: Project) -> Table:
    """The whole quilt on the table, or every unit where there is none."""
    table = Table(project)
    for top in [project.top] if project.top is not None else project.makings.values():
        table.sew(top)
    return table


def likeness(project: Project) -> list[str]:
    """What is another thing than in the design: pieces, neighbours, or a patch of less than two thirds of its width."""
    wrong = []
    for key, drawn in project.designed.items():
        made = project.makings[key]
        if len(made.parts) != len(drawn.parts) or [s.left for s in made.seams] != [s.left for s in drawn.seams]:
            wrong.append(f"{key} is put together otherwise")
            continue
        for a, b in zip(made.parts, drawn.parts, strict=True):
            if isinstance(a.what, Cloth) and isinstance(b.what, Cloth):
                if a.what.fabric != b.what.fabric or len(a.what.outline) != len(b.what.outline):
                    wrong.append(f"{key}: another piece")
                if any(x * 3 < y * 2 for x, y in zip(extent(a), extent(b), strict=True)):
                    wrong.append(f"{key}: a piece is too narrow")
    return wrong


def extent(part: Placed) -> Size:
    """Finished width and height of a piece as it lies."""
    assert isinstance(part.what, Cloth)
    xs, ys = zip(*part.place.outline(part.what.outline), strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def inches(value: str) -> Length:
    """``9 1/2`` as a length."""
    return sum((Length(Fraction(word)) for word in value.split()), ZERO)
