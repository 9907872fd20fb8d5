"""Every joint of a quilt: where a seam from each side arrives at one point of a line to be sewn.

The rule, and why it is so, stands in `grammar/pressing.md`. In short: walk along the line to be sewn from its start.
Each seam that arrives has its allowance ahead of the crossing or behind it, whatever its slant; the two nest when one
lies ahead and the other behind. Work goes making by making: the seam ends that reach a making's outline are found once,
and all its copies only move, turn or mirror them.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from typing import Literal, NamedTuple

import msgspec

from patternkit.piecing.keys import Thing
from patternkit.piecing.making import Making, Outline, Place, Point, Seam, made_from
from patternkit.pressing.exact import Directions, LengthPacker, makings_of

JointKind = Literal["lock", "through", "point", "spin"]


class SeamEnd(msgspec.Struct, frozen=True):
    """One of the two seams of a joint: seam number `seam` of the making `making`.

    `path` leads to that making from the one in which the line is sewn, by part numbers (empty: its own seam). `ahead`
    is 1 when the allowance lies ahead of the crossing (as the line runs from start to end) if the seam is pressed
    "left", -1 when it lies ahead if pressed "right". `angle`: degrees between the line and the seam.
    """

    making: Making
    seam: int
    path: tuple[int, ...]
    ahead: int
    angle: float
    at_start: bool

    @property
    def key(self) -> tuple[Thing, int]:
        """The seam's name in a plan: the thing it is a seam of, and its number there."""
        return self.making.thing, self.seam

    @property
    def order(self) -> tuple[str, int]:
        """The same for an order that is always the same."""
        return self.making.spelled, self.seam

    @property
    def what(self) -> Seam:
        """The seam itself."""
        return self.making.seams[self.seam]


class Joint(msgspec.Struct, frozen=True):
    """A place where two seams meet on the seam `line` of `making`; it occurs `count` times in the quilt.

    `local` is the point in the making's coordinates and `place` puts one example of the making into the quilt. `trail`
    leads from the whole to that example by part numbers. `kind`: "lock" (the two lie on each other when the line is
    sewn, and lock along their length), "through" (a slanted seam that runs straight on), "point" (any other angle, the
    only one left on either side), "spin" (a spun seam with one that crosses it there). `crowd` is the most seams that
    arrive there from one side of the line.
    """

    making: Making
    line: int
    a: SeamEnd
    b: SeamEnd
    kind: JointKind
    local: Point
    count: int
    place: Place
    trail: tuple[int, ...]
    crowd: int = 1

    @property
    def point(self) -> Point:
        """Where the example lies in the quilt, exactly."""
        return self.place.point(self.local)

    @property
    def opposed(self) -> bool:
        """True when the two nest if both are pressed to the same named side ("left", "left")."""
        return self.a.ahead != self.b.ahead

    @property
    def base(self) -> int:
        """10 where the seams lock along their length, 3 where they meet in a lone point."""
        return 10 if self.kind in ("lock", "spin") else 3


_Line = tuple[int, int, int, int]
"""A straight stretch of a seam or an outline: x and y of its start and of its end, in packed coordinates."""


class _End(NamedTuple):
    """A seam that arrives at an outline: `ray` leads from there into the part; `turns` is 1 when pressing "left" puts
    the allowance to the left of the ray."""

    x: int
    y: int
    ray: int
    turns: int
    making: Making
    seam: int
    path: tuple[int, ...]
    at_start: bool


class JointTree:
    """What the joints of a tree are read from: packed coordinates, counts and an example of every making.

    Built once for a tree and shared by the finder, the plan and the words. `like` is the tree of another version of the
    same quilt, whose makings need not be read again.
    """

    def __init__(self, top: Making, like: JointTree | None = None) -> None:
        self.top = top
        self.makings = makings_of(top)
        fits = like is not None and like.grid.fits([m for m in self.makings if m not in like.ends])
        self.grid: LengthPacker = like.grid if like is not None and fits else LengthPacker(self.makings)
        self.directions: Directions = like.directions if like is not None and fits else Directions(self.grid)
        self.counts: dict[Making, int] = dict.fromkeys(self.makings, 0)
        self.counts[top] = 1
        self.trails: dict[Making, tuple[int, ...]] = {top: ()}
        self.places: dict[Making, Place] = {top: Place()}
        for making in reversed(self.makings):
            for i, part in enumerate(making.parts):
                if isinstance(part.what, Making):
                    self.counts[part.what] += self.counts[making]
                    if part.what not in self.trails:
                        self.trails[part.what] = (*self.trails[making], i)
                        self.places[part.what] = part.place.then(self.places[making])
            if making.recipe.apart is not None:  # what is cut apart lies nowhere in the quilt itself
                for inner in made_from(making):
                    self.trails.setdefault(inner, self.trails[making])
                    self.places.setdefault(inner, self.places[making])
        self.ends: dict[Making, list[_End]] = {}
        self.local: dict[
            Making, list[Joint]
        ] = {}  # the joints sewn in each making, counted in the tree they were found in
        self.arrivals: dict[tuple[Making, int], int] = {}  # seam ends that a line crosses or meets, both sides
        if like is not None and fits:
            for making in self.makings:
                if making in like.local:
                    self.ends[making], self.local[making] = like.ends[making], like.local[making]
                    self.arrivals.update(((making, j), like.arrivals[making, j]) for j in range(len(making.seams)))

    def pack(self, p: Point) -> tuple[int, int]:
        """A point of the tree as two whole numbers."""
        return self.grid.pack(p[0]), self.grid.pack(p[1])


class _Board:
    """The ends of one making while it is sewn, found again by the line they may lie on."""

    def __init__(self, grid: LengthPacker) -> None:
        self._grid = grid
        self.ends: list[_End] = []
        self.owner: list[int] = []  # part number, or -1 - seam number for an own seam
        self._x: dict[int, list[int]] = {}
        self._y: dict[int, list[int]] = {}
        self._down: dict[int, list[int]] | None = None
        self._up: dict[int, list[int]] | None = None

    def add(self, end: _End, owner: int) -> None:
        """Note an end."""
        i = len(self.ends)
        self.ends.append(end)
        self.owner.append(owner)
        self._x.setdefault(end.x, []).append(i)
        self._y.setdefault(end.y, []).append(i)
        if self._down is not None:
            self._down.setdefault(end.x - end.y, []).append(i)
        if self._up is not None:
            self._up.setdefault(end.x + end.y, []).append(i)

    def on(self, line: _Line) -> list[int]:
        """Numbers of the ends that lie on a line, its ends included."""
        ax, ay, bx, by = line
        grid, ends = self._grid, self.ends
        if ax == bx:
            return [i for i in self._x.get(ax, ()) if grid.between(ay, ends[i].y, by)]
        if ay == by:
            return [i for i in self._y.get(ay, ()) if grid.between(ax, ends[i].x, bx)]
        if bx - ax == by - ay:
            if self._down is None:
                self._down = _bucket(e.x - e.y for e in ends)
            return [i for i in self._down.get(ax - ay, ()) if grid.between(ax, ends[i].x, bx)]
        if bx - ax == ay - by:
            if self._up is None:
                self._up = _bucket(e.x + e.y for e in ends)
            return [i for i in self._up.get(ax + ay, ()) if grid.between(ax, ends[i].x, bx)]
        return [i for i, e in enumerate(ends) if grid.on_line(e.x, e.y, ax, ay, bx, by)]


def _bucket(keys: Iterable[int]) -> dict[int, list[int]]:
    out: dict[int, list[int]] = {}
    for i, key in enumerate(keys):
        out.setdefault(key, []).append(i)
    return out


def find_joints(top: Making, tree: JointTree | None = None) -> list[Joint]:
    """Every joint of the quilt, each making's own lines in sewing order, inner makings first.

    A joint stands once for each making in which it is sewn, with the number of copies. Exact: two seams meet only when
    they arrive at the same point.
    """
    tree = tree or JointTree(top)
    joints: list[Joint] = []
    for making in tree.makings:
        if making in tree.local:
            joints += [_counted(tree, joint) for joint in tree.local[making]]
            continue
        board, first = _Board(tree.grid), len(joints)
        for i, part in enumerate(making.parts):
            if isinstance(part.what, Making):
                for end in _placed(tree, tree.ends[part.what], i, part.place):
                    if not part.shown or _shows(tree, part.shown, end):
                        board.add(end, i)
        for j in range(len(making.seams)):
            _sew(tree, making, j, board, joints)
            for end in _own_ends(tree, making, j):
                board.add(end, -1 - j)
        # where strips end that are as wide as they come, nobody can match seams
        by_chance = making.recipe.method.plain_paper
        tree.ends[making] = [] if by_chance else _outer_ends(tree, making, board)
        tree.local[making] = joints[first:]
    return joints


def _counted(tree: JointTree, joint: Joint) -> Joint:
    """A joint of another tree with the numbers and places that its making has in this one."""
    making = joint.making
    return Joint(
        making,
        joint.line,
        joint.a,
        joint.b,
        joint.kind,
        joint.local,
        tree.counts[making],
        tree.places[making],
        tree.trails[making],
        joint.crowd,
    )


def _placed(tree: JointTree, ends: list[_End], part: int, place: Place) -> list[_End]:
    """A part's ends in the coordinates of the whole."""
    grid, placed = tree.grid, tree.directions.placed
    dx, dy, turned, mirrored = grid.pack(place.dx), grid.pack(place.dy), place.turned, place.mirrored
    out = []
    for e in ends:
        x, y = grid.turn(-e.x if mirrored else e.x, e.y, turned)
        out.append(
            _End(
                x + dx,
                y + dy,
                placed(e.ray, turned, mirrored),
                -e.turns if mirrored else e.turns,
                e.making,
                e.seam,
                (part, *e.path),
                e.at_start,
            )
        )
    return out


def _shows(tree: JointTree, shown: Outline, end: _End) -> bool:
    """Whether an end lies on the edge of what shows of a part, and not under what is flipped over its corners."""
    points = [tree.pack(p) for p in shown]
    return any(tree.grid.on_line(end.x, end.y, *a, *b) for a, b in zip(points, points[1:] + points[:1], strict=True))


def _own_ends(tree: JointTree, making: Making, j: int) -> list[_End]:
    """The two ends of a making's own seam."""
    seam = making.seams[j]
    path = [tree.pack(p) for p in (seam.path or (seam.start, seam.end))]
    ray = tree.directions.packed
    (ax, ay), (bx, by) = path[0], path[1]
    (cx, cy), (dx, dy) = path[-2], path[-1]
    return [
        _End(ax, ay, ray(bx - ax, by - ay), -1 if seam.spun else 1, making, j, (), True),
        _End(dx, dy, ray(cx - dx, cy - dy), -1, making, j, (), False),
    ]


def _outer_ends(tree: JointTree, making: Making, board: _Board) -> list[_End]:
    """The ends that reach a making's outline, in the order they were met."""
    points = [tree.pack(p) for p in making.outline]
    found: set[int] = set()
    for (ax, ay), (bx, by) in zip(points, points[1:] + points[:1], strict=False):
        found.update(board.on((ax, ay, bx, by)))
    return [board.ends[i] for i in sorted(found)]


def _sew(tree: JointTree, making: Making, j: int, board: _Board, joints: list[Joint]) -> None:
    """Find the joints of one own seam with what is already sewn."""
    seam = making.seams[j]
    left, right = frozenset(seam.left), frozenset(seam.right)
    path = [tree.pack(p) for p in (seam.path or (seam.start, seam.end))]
    seen = _stops(tree, making, path) if seam.set_in else set()
    seen |= _corners(making, j, path, board)
    arrived = 0
    for (ax, ay), (bx, by) in itertools.pairwise(path):
        line = tree.directions.packed(bx - ax, by - ay)
        here: dict[tuple[int, int], tuple[list[_End], list[_End]]] = {}
        for i in board.on((ax, ay, bx, by)):
            end = board.ends[i]
            if (end.x, end.y) in seen:
                continue
            side = _side(making, board.owner[i], left, right)
            lies = tree.directions.against(line, end.ray)[0] if side else 0
            if lies and (lies == side or len(path) > 2):
                here.setdefault((end.x, end.y), ([], []))[side > 0].append(end)
        for at, (a, b) in here.items():
            arrived += len(a) + len(b)
            if a and b:
                _meet(tree, making, j, line, at, a, b, joints)
        seen.update(here)
    tree.arrivals[(making, j)] = arrived


def _stops(tree: JointTree, making: Making, path: list[tuple[int, int]]) -> set[tuple[int, int]]:
    """Where the stitching of a set-in seam stops, so that nothing is crossed: its bends, and ends within the unit."""
    points = [tree.pack(p) for p in making.outline]
    edges = list(zip(points, points[1:] + points[:1], strict=True))
    inner = {p for p in (path[0], path[-1]) if not any(tree.grid.on_line(*p, *a, *b) for a, b in edges)}
    return {*path[1:-1], *inner}


def _corners(making: Making, j: int, path: list[tuple[int, int]], board: _Board) -> set[tuple[int, int]]:
    """The ends of a seam at which an earlier one already joins one of its parts to a third, or its two sides.

    Such is the mitre of two borders that are sewn to the quilt: the stitching has to stop there.
    """
    seam = making.seams[j]
    sides = {*seam.left, *seam.right}
    found = set()
    for at in (path[0], path[-1]):
        for i in board.on((*at, *at)):
            owner = board.owner[i]
            if owner < 0:
                parts = {*making.seams[-1 - owner].left, *making.seams[-1 - owner].right}
                across = parts & {*seam.left} and parts & {*seam.right}
                if parts & sides and (parts - sides or across):
                    found.add(at)
    return found


def _side(making: Making, owner: int, left: frozenset[int], right: frozenset[int]) -> int:
    """-1 when the end belongs to what lies left of the seam, 1 to its right, 0 to neither or to both."""
    parts = (owner,) if owner >= 0 else (*making.seams[-1 - owner].left, *making.seams[-1 - owner].right)
    return any(p in right for p in parts) - any(p in left for p in parts)


def _meet(
    tree: JointTree,
    making: Making,
    j: int,
    line: int,
    at: tuple[int, int],
    a: list[_End],
    b: list[_End],
    joints: list[Joint],
) -> None:
    """Pair the ends of both sides at one point: equal angles first, then straight on, then the only two left."""
    against, flipped = tree.directions.against, tree.directions.flipped
    angles_a = [against(line, e.ray)[1] for e in a]
    angles_b = [against(line, e.ray)[1] for e in b]
    free_a, free_b = set(range(len(a))), set(range(len(b)))
    pairs: list[tuple[int, int, JointKind]] = []
    for kind in ("lock", "through"):
        for m in sorted(free_a):
            want = angles_a[m] if kind == "lock" else flipped(angles_a[m])
            n = next((n for n in sorted(free_b) if angles_b[n] == want), None)
            if n is not None:
                pairs.append((m, n, "lock" if kind == "lock" else "through"))
                free_a.discard(m)
                free_b.discard(n)
    if len(free_a) == 1 and len(free_b) == 1:
        pairs.append((free_a.pop(), free_b.pop(), "point"))
    local: Point = (tree.grid.length(at[0]), tree.grid.length(at[1]))
    for m, n, met in pairs:
        joints.append(
            _joint(
                tree,
                making,
                j,
                local,
                met,
                _arrives(tree, a[m], -a[m].turns, angles_a[m]),
                _arrives(tree, b[n], b[n].turns, angles_b[n]),
                max(len(a), len(b)),
            )
        )
    seam = making.seams[j]
    if seam.spun is not None and tree.pack(seam.spun) == at:
        own = SeamEnd(making, j, (), -1, 0.0, False)
        for end, angle in [*zip(a, angles_a, strict=False), *zip(b, angles_b, strict=False)]:
            joints.append(
                _joint(tree, making, j, local, "spin", _arrives(tree, end, end.turns, angle), own, max(len(a), len(b)))
            )


def _arrives(tree: JointTree, end: _End, ahead: int, angle: int) -> SeamEnd:
    return SeamEnd(end.making, end.seam, end.path, ahead, tree.directions.degrees(angle), end.at_start)


def _joint(
    tree: JointTree, making: Making, j: int, local: Point, kind: JointKind, a: SeamEnd, b: SeamEnd, crowd: int
) -> Joint:
    return Joint(making, j, a, b, kind, local, tree.counts[making], tree.places[making], tree.trails[making], crowd)


__all__ = ["Joint", "JointKind", "JointTree", "SeamEnd", "find_joints"]
