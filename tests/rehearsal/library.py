"""Right batches for every way of sewing, written by hand: what they take, do and give, with the designs they make."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

import msgspec

from patternkit.piecing.batch import (
    Action,
    Batch,
    Corner,
    Cut,
    CutAcross,
    CutApart,
    CutOut,
    Discard,
    Field,
    Join,
    Lay,
    Line,
    Measure,
    Middle,
    Mitre,
    Open,
    Piece,
    Sew,
    TearAway,
    Thing,
    TrimBeyond,
    TrimTo,
    Use,
)
from patternkit.piecing.keys import Key
from patternkit.piecing.kinds.quarter_circle import raw_shapes
from patternkit.piecing.making import Cloth, Making, Placed, Recipe, Seam, rectangle
from patternkit.piecing.offset import raw_outline
from patternkit.piecing.reflect import mirror
from patternkit.rehearsal.bench import Workroom
from patternkit.rehearsal.drawn import Designs
from patternkit.rehearsal.table import Shape
from patternkit.work.model import Paper, Template
from tests.rehearsal.table import SEAM, batch, cut, designs_of, join, makings, num

C, M = Corner, Middle


class Case(NamedTuple):
    """A batch, the designs it needs, templates and papers."""

    batch: Batch
    designs: dict[Thing, Making]
    templates: Mapping[str, Template] = {}
    papers: Mapping[str, Paper] = {}

    @property
    def room(self) -> Workroom:
        """Where it is sewn; things that it takes are as drawn."""
        drawn = Designs(self.designs, SEAM)
        shapes: dict[object, Shape | None] = {
            u.item: drawn.shape(u.item) for u in self.batch.uses if isinstance(u.item, Thing)
        }
        return Workroom(SEAM, self.templates, self.papers, shapes)  # type: ignore[arg-type]


def one(text: str, name: str = "u") -> Making:
    """The making of one unit."""
    return makings(text)[name]


def thing(made: Making, version: int = 0) -> Thing:
    """Its thing."""
    return Thing(made.key, version)


# -- straight joins ---------------------------------------------------------------------------------------
def row() -> Case:
    """Three patches in a row."""
    made = one("unit u\n    row a 2 > b 3 < a 2\n    finished 7 x 2\n")
    joins: list[Action] = [
        join((0, 1), (1, 0), 1),
        join((1, 2), (2, 3), 1),
        Measure(num("7 1/2"), num("2 1/2"), (num("2 1/4"), num(3), num("2 1/4"))),
    ]
    uses = [cut("a", "2 1/2"), Use(cut("b", "2 1/2", "3 1/2"), 90), cut("a", "2 1/2")]
    return Case(batch(uses, joins, [(thing(made), 1)]), designs_of(made))


def rows() -> Case:
    """Two rows of two patches each, whose seams lock."""
    made = one("unit u\n    rows\n        a 2 > b 2\n        b 2 < a 2\n    finished 4\n")
    joins: list[Action] = [
        join((0, 1), (1, 3), 1),
        join((2, 1), (3, 3), 2),
        join([(0, 2), (1, 2)], [(2, 0), (3, 0)], 2, locks=1),
        Measure(num("4 1/2"), num("4 1/2")),
    ]
    uses = [cut(f, "2 1/2") for f in ("a", "b", "b", "a")]
    return Case(batch(uses, joins, [(thing(made), 1)]), designs_of(made))


LOGS = ("2 1/2", "3 1/2", "3 1/2", "4 1/2", "4 1/2", "5 1/2", "5 1/2", "6 1/2", "6 1/2", "7 1/2", "7 1/2", "8 1/2")


def logs(lengths: tuple[str, ...] = LOGS, wide: str = "1 1/2") -> Case:
    """A log cabin: each log along all that lies on its side."""
    made = one("unit u\n    log-cabin a\n    finished 8\n    log 1\n" + "    round b, c, d, e\n" * 3)
    uses, actions = [cut("a", "2 1/2")], []
    around = [[(0, 0)], [(0, 1)], [(0, 2)], [(0, 3)]]
    for k, length in enumerate(lengths, 1):
        uses.append(cut("bcde"[(k - 1) % 4], wide, length))
        side = (k - 1) % 4
        actions.append(join(around[side], (k, 3), k))
        around[side] = [(k, 1)]
        around[(side + 1) % 4] = [*around[(side + 1) % 4], (k, 2)]
        around[side - 1] = [*around[side - 1], (k, 0)]
    return Case(batch(uses, [*actions, Measure(num("8 1/2"), num("8 1/2"))], [(thing(made), 1)]), designs_of(made))


def strips(count: int = 16, width: str = "2 1/2") -> Case:
    """A strip unit cut across."""
    made = one("unit u\n    strips a 2 > b 1 < a 2\n    finished 5 x 2\n")
    uses = [cut("a", "42", "2 1/2", "strip"), cut("b", "42", "1 1/2", "strip"), cut("a", "42", "2 1/2", "strip")]
    actions: list[Action] = [join((0, 2), (1, 0), 1), join((1, 2), (2, 0), 1), CutAcross(0, num(width), count)]
    return Case(batch(uses, actions, [(thing(made), count)]), designs_of(made))


# -- half-squares -----------------------------------------------------------------------------------------
def half_square() -> Making:
    """A half-square that finishes 3."""
    return one("unit u\n    half-square a, b\n    finished 3\n")


def laid(upper: int, onto: int) -> Lay:
    """A square on another of the same size."""
    return Lay(((C(upper, 1), C(onto, 0)), (C(upper, 0), C(onto, 1))))


def pair(i: int, j: int) -> list[Action]:
    """Two squares sewn either side of a diagonal, from lower left to upper right of the first, cut and opened."""
    line = Line(C(i, 3), C(i, 1))
    return [laid(j, i), Sew(line, (1, -1)), Cut((line,)), Open(j, parts=(i, j))]


def trim(w: str, h: str | None = None, way: str = "diagonal", parts: tuple[int, ...] = ()) -> TrimTo:
    """Trimmed to a size."""
    return TrimTo(num(w), num(w if h is None else h), way, parts)  # type: ignore[arg-type]


def pairs(side: str = "4", trimmed: str = "3 1/2") -> Case:
    """Two at a time."""
    made = half_square()
    actions = [*pair(0, 1), trim(trimmed)]
    return Case(batch([cut("a", side), cut("b", side)], actions, [(thing(made), 2)]), designs_of(made))


def four(side: str = "5 3/4") -> Case:
    """Four at a time: sewn round the edge."""
    made = half_square()
    around = [Sew(Line(C(0, n), C(0, (n + 1) % 4), 1)) for n in range(4)]
    diagonals = Line(C(0, 3), C(0, 1)), Line(C(0, 0), C(0, 2))
    actions = [laid(1, 0), *around, Cut(diagonals), Open(1, picked=True), trim("3 1/2")]
    return Case(batch([cut("a", side), cut("b", side)], actions, [(thing(made), 4)]), designs_of(made))


def eight(side: str = "8") -> Case:
    """Eight at a time: both diagonals."""
    made = half_square()
    diagonals = Line(C(0, 3), C(0, 1)), Line(C(0, 0), C(0, 2))
    middles = Line(M(0, 0), M(0, 2)), Line(M(0, 1), M(0, 3))
    actions = [
        laid(1, 0),
        *(Sew(d, (1, -1)) for d in diagonals),
        Cut((*diagonals, *middles)),
        Open(1, picked=True),
        trim("3 1/2"),
    ]
    return Case(batch([cut("a", side), cut("b", side)], actions, [(thing(made), 8)]), designs_of(made))


def triangles(side: str = "3 7/8") -> Case:
    """From triangles."""
    made = half_square()
    uses = [cut("a", side, form="half"), cut("b", side, form="half")]
    return Case(batch(uses, [join((0, 1), (1, 1), 1)], [(thing(made), 1)]), designs_of(made))


# -- quarter-squares --------------------------------------------------------------------------------------
def crossed(x: int, y: int, upper: tuple[Corner, Corner], onto: tuple[Corner, Corner]) -> list[Action]:
    """A half-square on another with its corners exchanged, sewn either side of the other diagonal, cut and opened."""
    line = Line(*onto)
    return [Lay(((upper[0], onto[0]), (upper[1], onto[1]))), Sew(line, (1, -1)), Cut((line,)), Open(onto[0])]


def hourglass(versions: bool = True) -> Case:
    """Two fabrics: of two units one has its long seam on the other diagonal."""
    made = one("unit u\n    quarter-square a, b\n    finished 3\n")
    actions = [
        *pair(0, 1),
        *crossed(0, 1, (C(0, 2), C(1, 3)), (C(1, 1), C(0, 0))),
        trim("3 1/2", way="cross"),
    ]
    gives = [(thing(made), 1), (thing(made, 1), 1)] if versions else [(thing(made), 2)]
    return Case(batch([cut("a", "4 1/2"), cut("b", "4 1/2")], actions, gives), designs_of(made))


def four_cloths() -> Case:
    """Four fabrics: two units and two mirror images."""
    made = one("unit u\n    quarter-square a, b, c, d\n    finished 3\n")
    image, _ = mirror(made)
    actions = [
        *pair(0, 1),
        *pair(2, 3),
        *crossed(0, 2, (C(2, 0), C(3, 1)), (C(1, 1), C(0, 0))),
        *crossed(0, 2, (C(2, 2), C(3, 3)), (C(1, 3), C(0, 2))),
        trim("3 1/2", way="cross"),
    ]
    uses = [cut(f, "4 1/2") for f in "abcd"]
    return Case(batch(uses, actions, [(thing(made), 2), (thing(image), 2)]), designs_of(made, image))


def three_patch() -> Case:
    """A half-square of two quarters on a square."""
    made = one("unit u\n    three-patch a, b, c\n    finished 3\n")
    image, _ = mirror(made)
    actions: list[Action] = [*pair(0, 1), trim("3 7/8")]
    for square, (first, last) in ((2, (C(1, 1), C(0, 0))), (3, (C(1, 3), C(0, 2)))):
        line = Line(first, last)
        actions += [
            Lay(((C(square, 1), first), (C(square, 3), last))),
            Sew(line, (1, -1)),
            Cut((line,)),
            Open(square, parts=(square,)),
        ]
    uses = [cut("b", "4 1/4"), cut("c", "4 1/4"), cut("a", "3 7/8"), cut("a", "3 7/8")]
    return Case(batch(uses, actions, [(thing(made), 2), (thing(image), 2)]), designs_of(made, image))


# -- corners ----------------------------------------------------------------------------------------------
def flip(base: int, corner: int, square: int) -> list[Action]:
    """A square sewn on its diagonal over a corner of a base, what lies beyond cut off, opened."""
    line = Line(C(square, 0), C(square, 2))
    return [
        Lay(((C(square, 1), C(base, corner)), (C(square, 0), C(base, (corner + 1) % 4)))),
        Sew(line),
        Cut((Line(C(square, 0), C(square, 2), -1),)),
        Discard(C(square, 1)),
        Open(square, parts=(square,)),
    ]


def geese_flip() -> Case:
    """A goose by stitch and flip."""
    made = one("unit u\n    flying-geese a, b\n    finished 4 x 2\n")
    uses = [Use(cut("a", "2 1/2", "4 1/2"), 90), cut("b", "2 1/2"), cut("b", "2 1/2")]
    return Case(batch(uses, [*flip(0, 0, 1), *flip(0, 3, 2)], [(thing(made), 1)]), designs_of(made))


def geese_four(skies: str = "bbbb", small: str = "2 7/8") -> Case:
    """Geese four at a time; of two skies half are mirror images."""
    two = skies[0] != skies[2]
    made = one(f"unit u\n    flying-geese a, {'b, c' if two else 'b'}\n    finished 4 x 2\n")
    image, _ = mirror(made)
    line = Line(C(0, 0), C(0, 2))
    actions: list[Action] = [
        Lay(((C(1, 1), C(0, 0)), (C(1, 0), C(0, 1)))),
        Lay(((C(2, 1), C(0, 2)), (C(2, 0), C(0, 3)))),
        Sew(line, (1, -1)),
        Cut((line,)),
        Open(1),
    ]
    for square, corner in ((3, 1), (4, 3)):
        across = Line(C(square, 1), C(square, 3))
        actions += [
            Lay(((C(square, 1), C(0, corner)), (C(square, 0), M(0, corner)))),
            Sew(across, (1, -1)),
            Cut((across,)),
            Open(square, parts=(square,)),
        ]
    actions.append(trim("4 1/2", "2 1/2", "point"))
    gives = [(thing(made), 2), (thing(image), 2)] if two else [(thing(made), 4)]
    uses = [cut("a", "5 1/4"), *(cut(f, small) for f in skies)]
    return Case(batch(uses, actions, gives), designs_of(made, image))


def geese_triangles() -> Case:
    """A goose from a quarter and two halves."""
    made = one("unit u\n    flying-geese a, b\n    finished 4 x 2\n")
    uses = [cut("a", "5 1/4", form="quarter"), cut("b", "2 7/8", form="half"), cut("b", "2 7/8", form="half")]
    actions: list[Action] = [
        join((0, 2), (1, 1), 1, fit="end", ears=True),
        join((0, 1), (2, 1), 2, fit="start", ears=True),
        trim("4 1/2", "2 1/2", "point"),
    ]
    return Case(batch(uses, actions, [(thing(made), 1)]), designs_of(made))


def flipped_corners() -> Case:
    """Two flipped corners."""
    made = one("unit u\n    flipped-corners a, b\n    finished 4\n    corner 1\n    at top left, bottom right\n")
    uses = [cut("a", "4 1/2"), cut("b", "1 1/2"), cut("b", "1 1/2")]
    return Case(batch(uses, [*flip(0, 0, 1), *flip(0, 2, 2)], [(thing(made), 1)]), designs_of(made))


def square_flip() -> Case:
    """A square in a square by stitch and flip."""
    made = one("unit u\n    square-in-a-square a, b\n    finished 4\n")
    uses = [cut("a", "4 1/2"), *[cut("b", "2 1/2")] * 4]
    actions = [a for k, corner in ((1, 0), (2, 2), (3, 1), (4, 3)) for a in flip(0, corner, k)]
    return Case(batch(uses, actions, [(thing(made), 1)]), designs_of(made))


def square_triangles(trimmed: bool = True) -> Case:
    """Two rounds of triangles, the first trimmed beyond its points."""
    made = one("unit u\n    square-in-a-square a, b, c\n    finished 8\n")
    uses = [cut("a", "4 1/2"), *[cut("b", "3 3/4", form="half")] * 4, *[cut("c", "4 7/8", form="half")] * 4]
    tips = {"fit": "centred", "ears": True}
    actions: list[Action] = [join((0, n), (k, 1), k, **tips) for k, n in ((1, 0), (2, 2), (3, 1), (4, 3))]
    if trimmed:
        actions.append(TrimBeyond(num("1/4")))
    sides = [[(1, 0), (3, 2)], [(3, 0), (2, 2)], [(2, 0), (4, 2)], [(4, 0), (1, 2)]]
    actions += [join(sides[s], (k, 1), k, **tips) for k, s in ((5, 0), (6, 2), (7, 1), (8, 3))]
    actions.append(trim("8 1/2", way="points"))
    return Case(batch(uses, actions, [(thing(made), 1)]), designs_of(made))


def half_rectangle(hand: str = "right", slide: str = "5/8") -> Case:
    """Half-rectangles: the tips pass each other."""
    made = one("unit u\n    half-rectangle a, b\n    leaning right\n    finished 2 x 4\n")
    uses = [cut(f, "2 3/4", "5 3/8", "half", hand) for f in "ab"]
    edge = 1 if hand == "right" else 2
    actions: list[Action] = [join((0, edge), (1, edge), 1, fit="slid", slide=num(slide)), trim("2 1/2", "4 1/2")]
    return Case(batch(uses, actions, [(thing(made), 1)]), designs_of(made))


# -- templates, curves, set-in seams ----------------------------------------------------------------------
def by_template(made: Making, only: Mapping[int, str] | None = None) -> dict[str, Template]:
    """A template for each part."""
    found = {}
    for n, p in enumerate(made.parts):
        outline = p.place.outline(p.what.outline)
        found[f"t{n}"] = Template(f"t{n}", raw_outline(outline, num("1/4")), outline)
    return found


def shape(fabric: str, name: str) -> Piece:
    """A piece cut by template."""
    return Piece(fabric, "template", num(1), num(1), template=name)


def kite() -> Case:
    """A triangle in a square, from templates: the ends of the seam lines meet."""
    made = one("unit u\n    triangle-in-a-square a, b\n    finished 4\n")
    templates = by_template(made)
    uses = [shape(p.what.fabric, f"t{n}") for n, p in enumerate(made.parts) if isinstance(p.what, Cloth)]
    seams = []
    for s in made.seams:
        sides = []
        for group, reverse in ((s.left, False), (s.right, True)):
            edges = []
            for n in group:
                ring = made.parts[n].place.outline(made.parts[n].what.outline)
                edges += [(n, i) for i in range(len(ring)) if {ring[i], ring[(i + 1) % len(ring)]} <= {s.start, s.end}]
            sides.append(edges)
        toward = (s.left if s.pressed == "left" else s.right)[0]
        seams.append(join(sides[0], sides[1], toward, fit="points", ears=True))
    return Case(batch(uses, list(seams), [(thing(made), 1)]), designs_of(made), templates)


def quarter_circle(radius: str = "4") -> Case:
    """A curved seam: along the arcs and the short straight ends of the raw shapes."""
    made = one("unit u\n    quarter-circle a, b\n    finished 6\n    radius 4\n")
    disc, ground = raw_shapes(num(6), num(4), num("1/4"))
    if radius != "4":
        disc = raw_shapes(num(6), num(radius), num("1/4"))[0]
    templates = {"disc": Template("disc", disc), "ground": Template("ground", ground)}
    curve = join([(0, i) for i in range(1, 51)], [(1, i) for i in range(4, 54)], 0, curved=True)
    uses = [shape("a", "disc"), shape("b", "ground")]
    return Case(batch(uses, [curve], [(thing(made), 1)]), designs_of(made), templates)


def star(inner: str = "seam") -> Case:
    """An eight-point star with set-in seams."""
    made = one("unit u\n    eight-point-star a, b, c\n    side 3\n")
    uses = [shape(p.what.fabric, f"t{n}") for n, p in enumerate(made.parts) if isinstance(p.what, Cloth)]
    pairs = [((2 * i - 1) % 8, 2 * i) for i in range(4)]
    inside = {"start": "seam", "stop": "seam"}

    def set_in(first: int, second: int, piece: int) -> list[Join]:
        return [join((first, 1), (piece, 1), piece, **inside), join((second, 2), (piece, 2), piece, **inside)]

    joins = [join((a, 3), (b, 0), b, start=inner) for a, b in pairs]
    for i, (a, b) in enumerate(pairs):
        joins += set_in(b, a, 8 + i)
    for i in (0, 2):
        joins.append(join((2 * i, 3), (2 * i + 1, 0), 2 * i + 1, start="seam"))
        joins += set_in(2 * i + 1, 2 * i, 12 + i)
    joins.append(join([(2, 3), (7, 0)], [(3, 0), (6, 3)], 3, **inside))
    for i in (1, 3):
        joins += set_in(2 * i + 1, 2 * i, 12 + i)
    return Case(batch(uses, list(joins), [(thing(made), 1)]), designs_of(made), by_template(made))


def patch(fabric: str, x: int, y: int, w: int, h: int) -> Placed:
    """A rectangle of cloth in its place."""
    return Placed(Cloth(fabric, rectangle(num(w), num(h), num(x), num(y))))


def partial(closed: bool = True) -> Case:
    """Four rectangles round a square: the first seam is sewn half way and finished last."""
    p = lambda x, y: (num(x), num(y))  # noqa: E731
    seams = (
        Seam(p(4, 2), p(0, 2), (0, 4), (1,), "right"),
        Seam(p(4, 4), p(4, 0), (0, 1), (2,), "right"),
        Seam(p(2, 4), p(6, 4), (0, 2), (3,), "right"),
        Seam(p(2, 2), p(2, 6), (0, 3), (4,), "right"),
    )
    parts = (
        patch("a", 2, 2, 2, 2),
        patch("b", 0, 0, 4, 2),
        patch("c", 4, 0, 2, 4),
        patch("b", 2, 4, 4, 2),
        patch("c", 0, 2, 2, 4),
    )
    side = num(6)
    made = Making(Key("u"), "u", "unit", "rows", rectangle(side, side), side, side, parts, seams, Recipe("", ""))
    joins = [
        join((0, 0), (1, 3), 1, fit="end", partial="begun"),
        join([(1, 2), (0, 1)], (2, 3), 2),
        join([(2, 2), (0, 2)], (3, 3), 3),
        join([(3, 2), (0, 3)], (4, 3), 4),
    ]
    if closed:
        joins.append(join([(0, 0), (4, 2)], (1, 3), 1, partial="closed"))
    uses = [cut("a", "2 1/2"), *(cut(f, "2 1/2", "4 1/2") for f in "bcbc")]
    return Case(batch(uses, list(joins), [(thing(made), 1)]), designs_of(made))


def foundation(side: str = "4 1/8") -> Case:
    """A half-square on paper."""
    made = half_square()
    fields = tuple(p.place.outline(p.what.outline) for p in made.parts)
    papers = {"p": Paper("p", made.outline, fields)}
    actions: list[Action] = [Field(0, 0, "p"), Field(1, 1, "p"), TearAway("p")]
    uses = [cut("a", side, form="half"), cut("b", "4")]
    return Case(batch(uses, actions, [(thing(made), 1)]), designs_of(made), {}, papers)


def out_of_strips(down: str = "0") -> Case:
    """Wedges cut out of a strip unit by a template, every second one the other way up."""
    made = one("unit u\n    row a 2 | b 1\n    finished 3 x 2\n")
    outline = rectangle(num("2 1/2"), num("3 1/2"))
    actions: list[Action] = [join((0, 2), (1, 0), 1), CutOut(0, "w", 3, num(down), pitch=num("2 1/2"))]
    uses = [cut("a", "42", "2 1/2", "strip"), cut("b", "42", "1 1/2", "strip")]
    return Case(batch(uses, actions, [(thing(made), 3)]), designs_of(made), {"w": Template("w", outline)})


def cut_apart() -> Case:
    """Two rows of two patches, cut through their middle and 1 1/2 in from the top: each of the pieces has its place."""
    made = makings("""
unit u
    rows
        a 2 > b 2
        >
        b 2 < a 2
    finished 4
unit p
    cut-apart u
    cut at middle of top
    cut 1 1/2 from top
block s
    rows
        p(1) | p(2)
        p(3) | p(4)
""")
    pieces = [made[f"p({n})"] for n in (1, 2, 3, 4)]
    cuts: list[Action] = [CutApart(0, (num("2 1/4"),), (num("1 1/2"),), (True, False))]
    gives = [(thing(p), 1) for p in pieces]
    return Case(batch([thing(made["u"])], cuts, gives), designs_of(made["u"], *pieces))


# -- borders, settings ------------------------------------------------------------------------------------
FRAMED = """
block u
    row a > b
    finished 4
quilt
    across 2, down 2
    tile
        u
    border 1 c
    border 2 d, mitred
    finished 14 x 14
"""


def border(fit: str = "level", long: tuple[str, str] = ("8 1/2", "10 1/2")) -> Case:
    """A straight border: sides first."""
    made = makings(FRAMED)["quilt with border 1"]
    inner = next(p.what for p in made.parts if isinstance(p.what, Making))
    sides, ends = [cut("c", "1 1/2", long[0])] * 2, [cut("c", "1 1/2", long[1])] * 2
    actions: list[Action] = [
        join((0, 3), (1, 1), 1, fit=fit),
        join((0, 1), (2, 3), 2, fit=fit),
        join([(0, 0), (1, 0), (2, 0)], (3, 1), 3, fit=fit),
        join([(0, 2), (1, 2), (2, 2)], (4, 3), 4, fit=fit),
        Measure(num("10 1/2"), num("10 1/2")),
    ]
    return Case(batch([thing(inner), *sides, *ends], actions, [(thing(made), 1)]), designs_of(made))


def mitred(long: str = "15 1/4") -> Case:
    """A border with mitred corners."""
    made = makings(FRAMED)["quilt with border 2"]
    inner = made.parts[0].what
    assert isinstance(inner, Making)
    actions: list[Action] = [
        join((0, n), (k, 1), k, fit="centred", start="seam", stop="seam", ears=True)
        for k, n in ((1, 2), (2, 3), (3, 0), (4, 1))
    ]
    actions += [Mitre(1, 2), Mitre(2, 3), Mitre(3, 4), Mitre(4, 1)]
    uses = [thing(inner), *[cut("d", "2 1/2", long)] * 4]
    return Case(batch(uses, actions, [(thing(made), 1)]), designs_of(made))


ON_POINT = """
block u
    row a > b
    finished 4
quilt
    across 2, down 2
    setting on point, triangles c
    tile
        u
        d
"""
TIPS = {"ears": True}


def on_point_row() -> Case:
    """A diagonal row with a side triangle at either end, cut larger than drawn."""
    made = makings(ON_POINT)
    tile = thing(made["u"])
    side = cut("c", "6 7/8", form="quarter")
    actions: list[Action] = [
        join((1, 3), (0, 1), 0, fit="start", **TIPS),
        join((1, 1), (2, 2), 2, fit="end", **TIPS),
    ]
    rough = batch([side, tile, side], actions, [(thing(made["diagonal row 1"]), 1)])
    return Case(msgspec.structs.replace(rough, rough=True), designs_of(*made.values()))


def on_point(beyond: str = "1/4") -> Case:
    """Diagonal rows joined, corner triangles, the centre trimmed beyond the points."""
    made = makings(ON_POINT)
    rows = [thing(made[f"diagonal row {n}"]) for n in (1, 2, 3)]
    corner = cut("c", "3 3/4", form="half")
    actions: list[Action] = [
        join((0, 3), (1, 2), 1, fit="centred", **TIPS),
        join((1, 5), (2, 1), 2, fit="centred", **TIPS),
        join((0, 1), (3, 1), 3, fit="centred", **TIPS),
        join((2, 3), (4, 1), 4, fit="centred", **TIPS),
        TrimBeyond(num(beyond)),
    ]
    uses = [Use(rows[0], 315), rows[1], rows[2], corner, corner]
    return Case(batch(uses, actions, [(thing(made["centre"]), 1)]), designs_of(*made.values()))


CASES: dict[str, Callable[[], Case]] = {
    f.__name__: f
    for f in (
        row, rows, logs, strips, pairs, four, eight, triangles, hourglass, four_cloths, three_patch, geese_flip,
        geese_four, geese_triangles, flipped_corners, square_flip, square_triangles, half_rectangle, kite,
        quarter_circle, star, partial, foundation, out_of_strips, cut_apart, border, mitred, on_point_row, on_point,
    )
}  # fmt: skip
CASES["geese_four_two_skies"] = lambda: geese_four("bbcc")
CASES["border_measured"] = lambda: border("measured", ("9", "11"))
