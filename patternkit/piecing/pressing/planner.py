"""The pressing plan: which way every seam goes, so that as many joints nest as possible, and how sure that
is."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from patternkit.piecing.making import Making, Placed, Side
from patternkit.piecing.pressing import maxsat
from patternkit.piecing.pressing.conflicts import OTHER, Conflict, SeamKey, conflicts
from patternkit.piecing.pressing.joints import Joint
from patternkit.piecing.pressing.parity import shortest_loop
from patternkit.piecing.pressing.puzzle import Component, Edge, Levels, PressOptions, Puzzle
from patternkit.piecing.pressing.search import Answer, all_nest, by_hand
from patternkit.piecing.pressing.statements import belongs
from patternkit.source import Span

_SMALL = 12  # components of so many bits are settled by trying everything, when no solver is installed
REVERSED = ", pressed the other way"
USUAL = PressOptions()


class Loop(msgspec.Struct, frozen=True):
    """Joints that cannot all nest: each wants its two seams to lie against each other, and round the loop the
    wants contradict. `open_one` are seams of the loop that could be pressed open, `two_versions` units that
    could be pressed in two versions, both in order of preference."""

    joints: tuple[Joint, ...]
    open_one: tuple[SeamKey, ...]
    two_versions: tuple[str, ...]


class Versions(msgspec.Struct, frozen=True):
    """A unit that the plan presses in two versions: how many of each, and what to call them."""

    key: str
    counts: tuple[int, int]
    names: tuple[str, str]


class MarkEdit(msgspec.Struct, frozen=True):
    """A mark to write into the file: ``>`` toward the later part, ``<`` toward the one before, ``<>``
    open."""

    span: Span
    text: str


class PressPlan(msgspec.Struct, frozen=True):
    """A plan. `sides`: the side of every seam (of the first version); `reversed_places`: the places (key of
    the parent, part number) into which a unit is sewn with all of its seams the other way; `score` as in
    `Levels`, `bound` the least that any plan loses at joints; `proved` is True when no plan is better on any
    level, `proved_joints` when none loses less at joints. `nested` and `total` count joints in the quilt.
    `top` is the tree that was planned (loops speak of it), `planned` the one pressed (`left_over` speaks of
    it)."""

    sides: dict[SeamKey, Side]
    reversed_places: frozenset[tuple[str, int]]
    score: Levels
    bound: int
    proved: bool
    nested: int
    total: int
    versions: tuple[Versions, ...]
    left_over: tuple[Conflict, ...]
    loops: tuple[Loop, ...]
    marks: tuple[MarkEdit, ...]
    opened: tuple[SeamKey, ...]
    top: Making | None = None
    planned: Making | None = None

    @property
    def proved_joints(self) -> bool:
        """No other plan loses less at the joints."""
        return self.proved or self.score[0] <= self.bound

    @property
    def gap(self) -> float:
        """How much less another plan could lose at joints, at most, as a part of what this one loses; 0 when
        proved."""
        return 0.0 if self.proved_joints else 1 - self.bound / self.score[0]


def plan_pressing(
    top: Making, fabrics: Mapping[str, str], options: PressOptions = USUAL
) -> PressPlan:
    """The best pressing of a quilt. `fabrics` gives light, medium or dark for each fabric; what is pressed
    already is kept, only "free" seams are planned.

    Components in which all joints can nest are settled by parity alone. The others go to the exact solver
    when it is installed and finishes in time; otherwise the best plan found by search is given with a true
    bound.
    """
    puzzle = Puzzle(top, fabrics, options)
    bits: dict[int, int] = {}
    opened: set[int] = set()
    settled = [e for e in puzzle.settled() if puzzle.lost(e, {}, frozenset())]
    total = [sum(e.weight for e in settled), 0, sum(puzzle.rough(e, frozenset()) for e in settled), 0, 0, 0]
    bound, proved = total[0], True
    for component in puzzle.components():
        answer = _answer(puzzle, component, options)
        bits |= answer.bits
        opened |= answer.opened
        total = [a + b for a, b in zip(total, answer.score, strict=True)]
        bound += answer.bound
        proved = proved and answer.proved
    return _plan(
        puzzle, bits, opened, (total[0], total[1], total[2], total[3], total[4], total[5]), bound, proved
    )


def _answer(puzzle: Puzzle, component: Component, options: PressOptions) -> Answer:
    """The best answer for one component."""
    nested = all_nest(puzzle, component)
    if nested is not None and (nested.proved or not maxsat.available()):
        return nested
    if not maxsat.available() or options.seconds <= 0:
        return _everything(puzzle, component) if len(component.bits) <= _SMALL else by_hand(puzzle, component)
    solved = maxsat.solve(puzzle, component, options.seconds)
    if solved.bits is not None and solved.proved:
        score = puzzle.score(component, solved.bits, solved.opened)
        return Answer(solved.bits, solved.opened, score, score[0], True)
    found = nested or by_hand(puzzle, component, bound=solved.bound == 0)
    if solved.bits is not None:
        score = puzzle.score(component, solved.bits, solved.opened)
        if score < found.score:
            found = Answer(solved.bits, solved.opened, score, 0, False)
    return msgspec.structs.replace(found, bound=max(found.bound, solved.bound))


def _everything(puzzle: Puzzle, component: Component) -> Answer:
    """Try every assignment of a small component."""
    best: Answer | None = None
    can = [n for n in component.bits if n < len(puzzle.seams) and puzzle.can_open(n)]
    choices = [(0, 1, 2) if n in can else (0, 1) for n in component.bits]
    count = 1
    for c in choices:
        count *= len(c)
    if count > 20_000:
        return by_hand(puzzle, component)
    for code in range(count):
        bits, opened, rest = {}, set(), code
        for n, choice in zip(component.bits, choices, strict=True):
            rest, v = divmod(rest, len(choice))
            bits[n] = v & 1
            if v == 2:
                opened.add(n)
        score = puzzle.score(component, bits, opened)
        if best is None or score < best.score:
            best = Answer(bits, frozenset(opened), score, score[0], True)
    assert best is not None
    return msgspec.structs.replace(best, bound=best.score[0])


# -- from bits to a plan ---------------------------------------------------------------------------
def _plan(
    puzzle: Puzzle, bits: Mapping[int, int], opened: set[int], score: Levels, bound: int, proved: bool
) -> PressPlan:
    sides: dict[SeamKey, Side] = {}
    for n, (making, j) in enumerate(puzzle.seams):
        side: Side = making.seams[j].pressed
        if side == "free":
            first, flip = puzzle.same[n]
            side = "open" if first in opened else "left" if bits[first] ^ flip else "right"
        sides[(making.key, j)] = side
    first = len(puzzle.seams)
    turned = frozenset((s.parent.key, s.part) for k, s in enumerate(puzzle.slots) if bits.get(first + k))
    draft = PressPlan(sides, turned, score, bound, proved, 0, 0, (), (), (), (), ())
    planned = apply_plan(puzzle.tree.top, draft)
    left_over = conflicts(planned, all_verdicts=True)
    nested = sum(c.count for c in left_over if c.verdict == "nest")
    total = sum(c.count for c in left_over)
    return msgspec.structs.replace(
        draft, nested=nested, total=total, versions=_versions(puzzle, bits, sides),
        left_over=tuple(c for c in left_over if c.verdict != "nest"), loops=_loops(puzzle, bits, opened),
        marks=_marks(puzzle, sides), 
        opened=tuple(puzzle_key(puzzle, n) for n, s in enumerate(puzzle.same) if s[0] in opened),
        top=puzzle.tree.top, planned=planned)


def puzzle_key(puzzle: Puzzle, n: int) -> SeamKey:
    """The plan's name of seam number `n`."""
    making, j = puzzle.seams[n]
    return making.key, j


def _marks(puzzle: Puzzle, sides: Mapping[SeamKey, Side]) -> tuple[MarkEdit, ...]:
    """What to write for every planned seam that has a mark, by the order in which the parts are written. A
    mark that several rows of the quilt repeat is written only when they agree."""
    found: dict[Span, set[str]] = {}
    for making, j in puzzle.seams:
        seam = making.seams[j]
        if seam.pressed == "free" and seam.mark is not None:
            side, before = sides[(making.key, j)], "left" if min(seam.left) < min(seam.right) else "right"
            found.setdefault(seam.mark, set()).add("<>" if side == "open" else "<" if side == before else ">")
    return tuple(MarkEdit(span, texts.pop()) for span, texts in sorted(found.items()) if len(texts) == 1)


def _versions(puzzle: Puzzle, bits: Mapping[int, int], sides: Mapping[SeamKey, Side]) -> tuple[Versions, ...]:
    """The units that come in two versions, counted."""
    found = []
    for what, slots in puzzle.slots_of.items():
        counts = [0, 0]
        for b in slots:
            slot = puzzle.slots[b - len(puzzle.seams)]
            counts[bits.get(b, 0)] += puzzle.tree.counts[slot.parent]
        if counts[1]:
            found.append(Versions(what.key, (counts[0], counts[1]), _names(what, sides)))
    return tuple(found)


def _names(making: Making, sides: Mapping[SeamKey, Side]) -> tuple[str, str]:
    """What to call the two versions: by out and in, or by the direction of their seams, where all seams
    agree."""
    ways: set[str] = set()
    drawn: set[str] = set()
    for j, seam in enumerate(making.seams):
        side = sides[(making.key, j)]
        if side not in ("left", "right"):
            continue
        flip = 1 if side == "left" else -1
        dx, dy = seam.end[0] - seam.start[0], seam.end[1] - seam.start[1]
        x = (seam.start[0] + seam.end[0]) / 2 - making.width / 2
        y = (seam.start[1] + seam.end[1]) / 2 - making.height / 2
        out = (x * dy - y * dx).sign() * flip
        ways.add({1: "out", -1: "in", 0: ""}[out])
        nx, ny = dy.sign() * flip, -dx.sign() * flip
        drawn.add(
            {(-1, 0): "to the left", (1, 0): "to the right", (0, -1): "up", (0, 1): "down"}.get((nx, ny), "")
        )
    if len(ways) == 1 and ways != {""}:
        return ("pressed out", "pressed in") if ways == {"out"} else ("pressed in", "pressed out")
    if len(drawn) == 1 and drawn != {""}:
        other = {"to the left": "to the right", "to the right": "to the left", "up": "down", "down": "up"}
        one = drawn.pop()
        return f"pressed {one}", f"pressed {other[one]}"
    return "version A", "version B"


def _loops(puzzle: Puzzle, bits: Mapping[int, int], opened: set[int]) -> tuple[Loop, ...]:
    """For the joints that do not nest, the shortest loops that say why; the shortest first, each loop
    once."""
    plain = [e for e in puzzle.edges if "open" not in (puzzle.fixed[e.a], puzzle.fixed[e.b])]
    lost = [e for e in plain if puzzle.lost(e, bits, opened)]
    found: dict[frozenset[Edge], list[Edge]] = {}
    if lost:
        loop = shortest_loop(plain)
        found[frozenset(loop)] = loop
    covered = {e for loop in found.values() for e in loop}
    for edge in lost:
        if edge not in covered:
            loop = shortest_loop(plain, edge)
            if loop:
                found.setdefault(frozenset(loop), loop)
                covered.update(loop)
    return tuple(_loop(puzzle, loop) for loop in sorted(found.values(), key=len) if loop)


def _loop(puzzle: Puzzle, loop: list[Edge]) -> Loop:
    joints = tuple(puzzle.joints_of[e[:4]][0] for e in loop)
    seams = dict.fromkeys(n for e in loop for n in (e.a, e.b))
    lonely = sorted(seams, key=lambda n: sum(n in (e.a, e.b) for e in puzzle.edges))
    units: dict[str, None] = {}
    for joint in joints:
        for end in (joint.a, joint.b):
            home = puzzle.home.get(end.making, end.making)
            if puzzle.tree.counts[home] > 1 and home not in puzzle.owner:
                units[home.key] = None
    return Loop(joints, tuple(puzzle_key(puzzle, n) for n in lonely if puzzle.can_open(n)), tuple(units))


# -- the plan put into the tree --------------------------------------------------------------------
def apply_plan(top: Making, plan: PressPlan) -> Making:
    """The tree with every seam pressed as planned. What was one object stays one, except that a unit in two
    versions becomes two, the second with its key followed by ``, pressed the other way``."""
    made: dict[tuple[Making, bool], Making] = {}

    def pressed(making: Making, over: bool) -> Making:
        known = made.get((making, over))
        if known is not None:
            return known
        parts: list[Placed] = []
        for i, part in enumerate(making.parts):
            if isinstance(part.what, Making):
                turned = ((making.key, i) in plan.reversed_places) != (over and inherits(making, part.what))
                part = msgspec.structs.replace(part, what=pressed(part.what, turned))
            parts.append(part)
        seams = []
        for j, seam in enumerate(making.seams):
            side = plan.sides[(making.key, j)]
            side = OTHER[side] if over else side
            seams.append(seam if side == seam.pressed else msgspec.structs.replace(seam, pressed=side))
        key = making.key + REVERSED if over else making.key
        new = msgspec.structs.replace(making, key=key, parts=tuple(parts), seams=tuple(seams))
        made[(making, over)] = new
        return new

    def inherits(outer: Making, inner: Making) -> bool:
        return belongs(outer, inner)

    return pressed(top, False)


__all__ = ["Loop", "MarkEdit", "PressOptions", "PressPlan", "Versions", "apply_plan", "plan_pressing"]
