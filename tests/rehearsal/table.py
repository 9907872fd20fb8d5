"""A desk for tests of the rehearsal: designs from small patterns, pieces and batches in few words."""

from __future__ import annotations

from fractions import Fraction

from patternkit.lengths import Length
from patternkit.piecing.batch import (
    Action,
    Batch,
    Edge,
    Item,
    Join,
    Passage,
    Piece,
    Thing,
    Use,
    piece,
)
from patternkit.piecing.making import Making
from patternkit.project import Project
from patternkit.rehearsal.bench import Workroom
from patternkit.rehearsal.drawn import Designs
from patternkit.rehearsal.outcome import Outcome, outcome

SEAM = 0.25


def num(text: str | int | float) -> Length:
    """``2 7/8``."""
    return Length(sum((Fraction(part) for part in str(text).split()), Fraction(0)))


def cut(fabric: str, w: str | int, h: str | int | None = None, form: str = "rectangle", hand: str = "") -> Piece:
    """A piece; a square where one side is said."""
    return piece(fabric, form, num(w), num(w if h is None else h), hand=hand)  # type: ignore[arg-type]


def makings(text: str) -> dict[str, Making]:
    """The makings of a few units, by name, and the quilt's, by their keys as text."""
    project = Project("test", 'pattern "Shingle"\n' + "".join(f"fabric {c}\n" for c in "abcde") + text)
    found = {str(k): m for k, m in project.makings.items()}
    wrong = [*project.reading, *project.building]
    assert not wrong, [p.message for p in wrong]
    stack = [project.top] if project.top else []
    while stack:
        m = stack.pop()
        found.setdefault(str(m.key), m)
        stack += [p.what for p in m.parts if isinstance(p.what, Making)]
    return found


def designs_of(*made: Making) -> dict[Thing, Making]:
    """The designs of makings and all that they are made of."""
    found: dict[Thing, Making] = {}
    stack = list(made)
    while stack:
        m = stack.pop()
        found[Thing(m.key)] = m
        stack += [p.what for p in m.parts if isinstance(p.what, Making)]
    return found


def e(part: int, n: int) -> Edge:
    """An edge."""
    return Edge(part, n)


def join(left: tuple[int, int] | list[tuple[int, int]], right: tuple[int, int] | list[tuple[int, int]],
         toward: int = -1, **more: object) -> Join:  # fmt: skip
    """Edges as pairs of numbers."""
    sides = [tuple(Edge(*p) for p in (side if isinstance(side, list) else [side])) for side in (left, right)]
    return Join(sides[0], sides[1], toward, **more)  # type: ignore[arg-type]


def batch(uses: list[Item | Use], actions: list[Action], gives: list[tuple[Item, int]]) -> Batch:
    """One passage."""
    taken = tuple(u if isinstance(u, Use) else Use(u) for u in uses)
    return Batch(taken, (Passage("test", tuple(actions)),), tuple(gives))


def sewn(b: Batch, designs: dict[Thing, Making], room: Workroom | None = None) -> Outcome:
    """What comes of a batch."""
    room = room or Workroom(SEAM)
    return outcome(b, room, Designs(designs, room.seam))


def kinds(found: Outcome) -> list[str]:
    """The kinds of its gaps."""
    return [g.kind for g in found.gaps]
