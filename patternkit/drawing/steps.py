"""One sewing step: the pieces before, a gap between them, the seam, the pressing, and beside it what comes of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from patternkit.document import Drawing
from patternkit.drawing.apart import numbered, piece_number
from patternkit.drawing.explode import PageSeam, gap_line, shifts, taken_apart
from patternkit.drawing.geometry import box_of, centre_of, merged
from patternkit.drawing.layout import (
    NORMAL,
    ROOM,
    Picture,
    below,
    beside,
    fabric_key,
    picture,
    scene_of,
    smaller,
    titled,
)
from patternkit.drawing.look import LOOK, Look
from patternkit.drawing.pieces import (
    DrawnPatch,
    Leaves,
    chips_on,
    fabric_words,
    fabrics_of,
    letters,
    paint,
    scaled,
)
from patternkit.drawing.scene import (
    INK,
    MOST_HIGH,
    SOFT,
    Arrow,
    Path,
    Pt,
    Scene,
    Shape,
    ShapeGroup,
    line,
    seam_line,
)
from patternkit.drawing.svg import finished
from patternkit.drawing.swatches import Swatch
from patternkit.lengths import Length
from patternkit.piecing.making import Cloth, Making, PieceCut, Point, Side

GAP = 21.0
SMALL_RESULT = 0.6  # how large a sewn row stands under its parts
_LETTERED = 48  # more patches than this are told apart by the key of fabrics


def pressing_mark(at: Pt, across: Pt, pressed: Side, reach: float = 8.0) -> list[Shape]:
    """The arrow over a seam toward the side its allowance is pressed to; two heads for open; nothing when not
    settled."""
    if pressed == "free":
        return []
    sign = -1.0 if pressed == "left" else 1.0
    dx, dy = across[0] * reach * sign, across[1] * reach * sign
    return [Arrow((at[0] - dx, at[1] - dy), (at[0] + dx, at[1] + dy), INK, 1.1, 5.0, both=pressed == "open")]


def becomes() -> Picture:
    """The grey arrow between before and after."""
    return picture([Arrow((0.0, 0.0), (24.0, 0.0), SOFT, 2.0, 8.0, light=False)])


def components(making: Making, group: Sequence[int]) -> list[tuple[int, ...]]:
    """The parts that the seams of a group bring together, as the sewn pieces they are before it."""
    wanted = sorted({i for s in group for i in (*making.seams[s].left, *making.seams[s].right)})
    home = {i: i for i in wanted}

    def find(i: int) -> int:
        while home[i] != i:
            i = home[i]
        return i

    for n, seam in enumerate(making.seams[: max(group)]):
        if n not in group:
            touched = [i for i in (*seam.left, *seam.right) if i in home]
            for other in touched[1:]:
                home[max(find(touched[0]), find(other))] = min(find(touched[0]), find(other))
    found: dict[int, list[int]] = {}
    for i in wanted:
        found.setdefault(find(i), []).append(i)
    return [tuple(parts) for parts in found.values()]


def _never(_making: Making, _level: int) -> bool:
    return False


class StepGeometry:
    """The geometry of a step at one scale: components with their outlines, the seams of the group between them."""

    def __init__(self, making: Making, group: Sequence[int], scale: float) -> None:
        """Find the pieces as they are before the group's seams are sewn."""
        self.making, self.scale = making, scale
        members, lines = taken_apart(making, scale, _never)
        self.pieces = components(making, group)
        leaves = Leaves()
        self.leaves = [
            [leaf for i in parts for leaf in leaves.placed(members[i].part, members[i].frame, i)]
            for parts in self.pieces
        ]
        numbers = [{piece_number(members[i].part) for i in parts} for parts in self.pieces]
        self.numbers = [found.pop() if len(found) == 1 else 0 for found in numbers]  # of pieces of what is cut apart
        self.loops = [merged([members[i].outline for i in parts]) for parts in self.pieces]
        self.outlines = [
            max(loops, key=len) if loops else members[parts[0]].outline
            for loops, parts in zip(self.loops, self.pieces, strict=False)
        ]
        of = {i: n for n, parts in enumerate(self.pieces) for i in parts}
        self.lines = [
            PageSeam(
                lines[s].way,
                frozenset(of[i] for i in lines[s].left if i in of),
                frozenset(of[i] for i in lines[s].right if i in of),
                lines[s].pressed,
                lines[s].in_row,
            )
            for s in sorted(group)
        ]

    def before(
        self, swatches: Mapping[str, Swatch], look: Look = LOOK, gap: float = GAP
    ) -> tuple[list[Shape], set[str]]:
        """The pieces apart with seams and pressing, those that were cut with their codes where `look` tells these; and
        the fabrics that bear neither code nor letter."""
        moves = shifts(self.outlines, self.lines, lambda _line: gap)
        shapes: list[Shape] = []
        bare: set[str] = set()
        lettered = sum(map(len, self.leaves)) <= _LETTERED
        for parts, leaves, loops, move, number in zip(
            self.pieces, self.leaves, self.loops, moves, self.numbers, strict=False
        ):
            inner: list[Shape] = [*paint(leaves, self.scale, swatches), Path(tuple(loops), width=1.1)]
            code = look.code(cut) if len(parts) == 1 and (cut := self.cut_of(parts[0])) is not None else ""
            if code and (chips := chips_on([scaled(leaf.points, self.scale) for leaf in leaves], code)):
                inner += chips
            elif number:
                inner += numbered(centre_of(max(loops, key=len)), number)
                bare |= {leaf.fabric for leaf in leaves}
            elif lettered:
                texts, missing = letters(leaves, self.scale, swatches)
                inner += texts
                bare |= missing
            else:
                bare |= {leaf.fabric for leaf in leaves}
            shapes.append(ShapeGroup(tuple(inner), *move))
        for seam in self.lines:
            way, across = gap_line(seam, self.outlines, moves)
            shapes += seam_line(_longer(way, 4.0))
            middle = way[len(way) // 2] if len(way) > 2 else ((way[0][0] + way[1][0]) / 2, (way[0][1] + way[1][1]) / 2)
            shapes += pressing_mark(middle, across, seam.pressed, gap * 0.36)
        return shapes, bare

    def cut_of(self, part: int) -> PieceCut | None:
        """The cut that a part is; None of sewn parts."""
        what, recipe = self.making.parts[part].what, self.making.recipe
        if isinstance(what, Making) and what.is_its_part and isinstance(inner := what.parts[0].what, Cloth):
            recipe, what = what.recipe, inner
        if isinstance(what, Making):
            return None
        cuts = [c for c in recipe.cuts if c.fabric == what.fabric and (c.name == what.name or len(recipe.cuts) == 1)]
        return cuts[0] if len(cuts) == 1 and cuts[0].then != "strip" else None

    def after(self, swatches: Mapping[str, Swatch], with_letters: bool = True) -> list[Shape]:
        """The pieces sewn together."""
        leaves = [leaf for found in self.leaves for leaf in found]
        whole = merged([loop for loops in self.loops for loop in loops])
        shapes: list[Shape] = [*paint(leaves, self.scale, swatches), Path(tuple(whole), width=1.3)]
        if with_letters and len(leaves) <= _LETTERED:
            shapes += letters(leaves, self.scale, swatches)[0]
        return shapes

    @property
    def all_leaves(self) -> list[DrawnPatch]:
        """Every patch of the step."""
        return [leaf for found in self.leaves for leaf in found]


def _longer(way: Sequence[Pt], by: float) -> list[Pt]:
    if len(way) != 2:
        return list(way)
    (x0, y0), (x1, y1) = way
    long = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 or 1.0
    ux, uy = (x1 - x0) / long * by, (y1 - y0) / long * by
    return [(x0 - ux, y0 - uy), (x1 + ux, y1 + uy)]


def sewn_size(making: Making, parts: Iterable[int]) -> tuple[Length, Length] | None:
    """The exact finished width and height of parts sewn together, where they make an upright rectangle; else None."""
    points: list[Point] = [p for i in parts for p in making.parts[i].outline]
    left, right = min(p[0] for p in points), max(p[0] for p in points)
    top, bottom = min(p[1] for p in points), max(p[1] for p in points)
    covered = sum(_area([(float(x), float(y)) for x, y in making.parts[i].outline]) for i in parts)
    wide, high = right - left, bottom - top
    return (wide, high) if abs(covered - float(wide) * float(high)) < 1e-6 * max(1.0, covered) else None


def _area(points: Sequence[Pt]) -> float:
    from patternkit.drawing.geometry import area

    return abs(area(points))


def step_scene(
    making: Making,
    group: Sequence[int],
    swatches: Mapping[str, Swatch],
    look: Look = LOOK,
    *,
    result: bool = True,
    scale: float | None = None,
) -> Scene:
    """The scene behind `draw_step`."""
    parts = sorted({i for s in group for i in (*making.seams[s].left, *making.seams[s].right)})
    size = sewn_size(making, parts)
    words = look.render("measures", size=look.raw(*size)) if size else ""
    lettered = making.role in ("unit", "block")  # the parts of a row are known: its picture may be small

    def make(at: float, under: bool) -> tuple[list[Picture], set[str]]:
        small = 1.0 if lettered or not under else SMALL_RESULT
        return _laid(making, group, swatches, at, words, result, small, look)

    whole, bare = fit(make, making, parts, scale)
    leaves = StepGeometry(making, group, 1.0).all_leaves
    if bare:
        whole = below([whole, fabric_key(fabrics_of(leaves, swatches), swatches, max(whole.width, 220.0))], 10.0)
    sides = [making.seams[s].pressed for s in group]
    arrows = sum(side in ("left", "right") for side in sides)
    press = (look.many("press", arrows) if arrows else "") + (look.render("press.open") if "open" in sides else "")
    measure = look.render("step.measure", size=look.raw(*size)) if size else ""
    description = look.render(
        "step.told",
        groups=look.many("groups", len(components(making, group))),
        name=look.called(making),
        seams=look.many("seams", len(group)),
        press=press,
        result=look.render("step.result", measure=measure) if result else "",
    ).strip()
    description += " " + look.render("step.fabrics", fabrics=fabric_words(fabrics_of(leaves, swatches), swatches, look))
    return scene_of(whole, look.render("step.title", name=look.called(making), n=len(group)), description, swatches)


def _laid(
    making: Making,
    group: Sequence[int],
    swatches: Mapping[str, Swatch],
    scale: float,
    words: str,
    result: bool,
    small: float,
    look: Look,
) -> tuple[list[Picture], set[str]]:
    step = StepGeometry(making, group, scale)
    shapes, bare = step.before(swatches, look)
    pictures = [picture(shapes)]
    if result:
        after = step if small == 1.0 else StepGeometry(making, group, scale * small)
        pictures.append(titled(picture(after.after(swatches, small == 1.0)), words, NORMAL, lines=2))
    return pictures, bare


def fit(
    make: Callable[[float, bool], tuple[list[Picture], set[str]]],
    making: Making,
    parts: Iterable[int],
    scale: float | None = None,
) -> tuple[Picture, set[str]]:
    """Before and after beside each other where that leaves them large enough, else under each other; `make(scale,
    under)` draws them."""
    pieces = list(parts)
    points = [p for i in pieces for p in making.parts[i].outline]
    left, top, right, bottom = box_of([(float(x), float(y)) for x, y in points])
    wide, high = max(right - left, 1e-6), max(bottom - top, 1e-6)
    full = scale or min(34.0, 340 / wide, (126 if len(pieces) < 12 else 160) / high)

    def level(pictures: list[Picture]) -> Picture:
        return beside([pictures[0], becomes(), *pictures[1:]], 16.0) if len(pictures) > 1 else pictures[0]

    def largest(arrange: Callable[[list[Picture]], Picture], step: float) -> tuple[float, Picture, set[str]]:
        at = full
        while True:
            pictures, bare = make(at, arrange is not level)
            whole = arrange(pictures)
            over = max(whole.width / ROOM, whole.height / (MOST_HIGH - 60))
            if over <= 1 or at < full * 0.02:
                return at, whole, bare
            at = smaller(at, over, step, full * 0.02)

    beside_at, whole, bare = largest(level, 0.93)
    if beside_at < full * 0.8:
        below_at, other, other_bare = largest(lambda pictures: below(pictures, 14.0), 0.93)
        if below_at > beside_at * 1.45:
            return other, other_bare
    return whole, bare


def draw_step(
    making: Making,
    seams: int | Sequence[int],
    swatches: Mapping[str, Swatch],
    look: Look = LOOK,
    *,
    key: str = "",
    result: bool = True,
    scale: float | None = None,
) -> Drawing:
    """The step that sews the seams with these indices: what they join apart, and joined.

    Everything sewn by earlier seams is drawn joined. Without `result` only the pieces before are drawn. Raises
    ValueError when no seam is named.
    """
    group = [seams] if isinstance(seams, int) else list(seams)
    if not group:
        raise ValueError("a step needs at least one seam")
    scene = step_scene(making, group, swatches, look, result=result, scale=scale)
    return finished(scene, look.key(key or f"step-{making.spelled}-{'-'.join(map(str, group))}"))


__all__ = [
    "GAP",
    "StepGeometry",
    "becomes",
    "components",
    "draw_step",
    "line",
    "pressing_mark",
    "scaled",
    "sewn_size",
    "step_scene",
]
