"""The pressing plan: which way every seam goes, so that as many joints nest as possible, and how sure that is."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

import msgspec

from patternkit.piecing.apart import cut_again
from patternkit.piecing.keys import AnyKey, Thing
from patternkit.piecing.making import Making, Placed, Side, made_from
from patternkit.pressing import maxsat
from patternkit.pressing.bits import Cost, Levels, ParityConstraint, PuzzleComponent
from patternkit.pressing.conflicts import OTHER, PressingConflict, SeamKey, conflicts
from patternkit.pressing.exact import makings_of
from patternkit.pressing.joints import Joint, JointTree
from patternkit.pressing.keeping import WORTH, Kept, names
from patternkit.pressing.parity import shortest_loop
from patternkit.pressing.puzzle import PressOptions, Puzzle
from patternkit.pressing.search import Answer, all_nest, by_hand, least_lost
from patternkit.pressing.statements import belongs
from patternkit.source import Span

_SMALL = 12  # components of so many bits are settled by trying everything, when no solver is installed
USUAL = PressOptions()


class Loop(msgspec.Struct, frozen=True):
    """Joints that cannot all nest: each wants its two seams to lie against each other, and round the loop the wants
    contradict. `open_one` are seams of the loop that could be pressed open, `two_versions` units that could be pressed
    in two versions, both in order of preference."""

    joints: tuple[Joint, ...]
    open_one: tuple[SeamKey, ...]
    two_versions: tuple[AnyKey, ...]


class Versions(msgspec.Struct, frozen=True):
    """A unit that the plan presses in two versions: how many of each, and what to call them."""

    key: AnyKey
    counts: tuple[int, int]
    names: tuple[str, str]


class MarkEdit(msgspec.Struct, frozen=True):
    """A mark to write into the file: ``>`` toward the later part, ``<`` toward the one before, ``<>`` open."""

    span: Span
    text: str


class PressPlan(msgspec.Struct, frozen=True):
    """A plan. `sides`: the side of every seam (of the first version); `reversed_places`: the places (the parent, part
    number) into which a unit is sewn with all of its seams the other way; `score` as in `Levels`, `bound` the least
    that any plan loses at joints; `proved` is True when no plan is better on any level, `proved_joints` when none loses
    less at joints. `nested` and `total` count joints in the quilt. `top` is the tree that was planned (loops speak of
    it), `planned` the one pressed (`left_over` speaks of it). `apart` says how far it is from the plan that it was to
    keep to, 0 when it keeps to it in all, and `agreed` that it gave up a little at the joints for that."""

    sides: dict[SeamKey, Side]
    reversed_places: frozenset[tuple[Thing, int]]
    score: Levels
    bound: int
    proved: bool
    nested: int
    total: int
    versions: tuple[Versions, ...]
    left_over: tuple[PressingConflict, ...]
    loops: tuple[Loop, ...]
    marks: tuple[MarkEdit, ...]
    opened: tuple[SeamKey, ...]
    top: Making | None = None
    planned: Making | None = None
    apart: int = 0
    agreed: bool = False

    @property
    def proved_joints(self) -> bool:
        """No other plan loses less at the joints."""
        return self.proved or self.score[0] <= self.bound

    @property
    def gap(self) -> float:
        """How much less another plan could lose at joints, at most, as a part of what this one loses; 0 when proved."""
        return 0.0 if self.proved_joints else 1 - self.bound / self.score[0]


def plan_pressing(
    top: Making,
    fabrics: Mapping[str, str],
    options: PressOptions = USUAL,
    keep: Kept | None = None,
    tree: JointTree | None = None,
) -> PressPlan:
    """The best pressing of a quilt. `fabrics` gives light, medium or dark for each fabric; what is pressed already is
    kept, only "free" seams are planned. `keep` is a plan to prefer among those of equal cost, or strictly. `tree` are
    the quilt's joints where they have been read already.

    Components in which all joints can nest are settled by parity alone. The others go to the exact solver when it is
    installed and finishes in time; otherwise the best plan found by search is given with a true bound.
    """
    puzzle = Puzzle(top, fabrics, options, keep, tree=tree)
    found = _solved(puzzle, options, keep is not None and keep.strictly)
    if keep is None or not keep.loss or not any(w.own and found.differs(n, w) for n, w in puzzle.wanted.items()):
        return _plan(puzzle, found)
    other = _agreeing(puzzle, fabrics, keep, found)
    return msgspec.structs.replace(_plan(puzzle, other), agreed=other is not found)


def _solved(puzzle: Puzzle, options: PressOptions, strictly: bool = False) -> Answer:
    """The best answer for the whole puzzle, component by component."""
    bits: dict[int, int] = {}
    opened: set[int] = set()
    bound, proved = _fixed_cost(puzzle)[0], True
    for component in puzzle.components():
        answer = (_as_kept(puzzle, component) if strictly else None) or _answer(puzzle, component, options)
        bits |= answer.bits
        opened |= answer.opened
        bound += answer.bound
        proved = proved and answer.proved
    return Answer(bits, frozenset(opened), _score(puzzle, bits, opened), bound, proved)


def _fixed_cost(puzzle: Puzzle) -> Cost:
    """What is lost whatever is chosen, where nothing is left to choose."""
    lost = [e for e in puzzle.decided() if puzzle.lost(e, {}, frozenset())]
    return (sum(e.weight for e in lost), 0, sum(puzzle.rough(e, frozenset()) for e in lost), 0, 0, 0, 0)


def _score(puzzle: Puzzle, bits: Mapping[int, int], opened: frozenset[int] | set[int]) -> Cost:
    """All levels of a whole plan."""
    scores = [_fixed_cost(puzzle), *(puzzle.score(c, bits, opened) for c in puzzle.components())]
    a, b, c, d, e, f, g = (sum(level) for level in zip(*scores, strict=True))
    return a, b, c, d, e, f, g


def _agreeing(puzzle: Puzzle, fabrics: Mapping[str, str], keep: Kept, best: Answer) -> Answer:
    """The best plan whose units and blocks are pressed as they are in the plan to keep to, where that loses very little
    more than the best of all; else that one."""
    pins = {n: w.bit for n, w in puzzle.wanted.items() if w.own}
    other = _solved(Puzzle(puzzle.tree.top, fabrics, puzzle.options, keep, pins, puzzle.tree), puzzle.options)
    bits = best.bits | other.bits | {n: bit or 0 for n, bit in pins.items()}
    opened = other.opened | {n for n, bit in pins.items() if bit is None}
    score = _score(puzzle, bits, opened)
    more = keep.loss * sum(e.weight for e in puzzle.edges)
    if score[0] > best.score[0] + more or score[1] > best.score[1]:
        return best
    return Answer(bits, opened, score, best.bound, best.proved and score == best.score)


def tried(
    plan: PressPlan, fabrics: Mapping[str, str], options: PressOptions, opened: SeamKey | None = None
) -> PressPlan | None:
    """The best plan of the same quilt with other `options`, and with one seam pressed open; None without its tree."""
    if plan.top is None:
        return None
    puzzle = Puzzle(plan.top, fabrics, options)
    if opened is None:
        return _plan(puzzle, _solved(puzzle, options))
    number = {puzzle_key(puzzle, n): n for n in range(len(puzzle.seams))}
    pin = puzzle.same[number[opened]][0]
    puzzle = Puzzle(plan.top, fabrics, options, pins={pin: None}, tree=puzzle.tree)
    found = _solved(puzzle, options)
    return _plan(puzzle, msgspec.structs.replace(found, opened=found.opened | {pin}))


def kept_plan(plan: PressPlan, *, strictly: bool = False, loss: Fraction = WORTH) -> Kept | None:
    """A plan as one for other sizes or colourways to keep to (see `Kept`); None for one without its tree."""
    if plan.top is None:
        return None
    called = {name: making for making, name in names(makings_of(plan.top)).items()}
    return Kept(called, plan.sides, plan.reversed_places, strictly, loss)


def _as_kept(puzzle: Puzzle, component: PuzzleComponent) -> Answer | None:
    """The plan to keep to, for one component; None where it does not say all."""
    if any(n not in puzzle.wanted for n in component.bits if n < len(puzzle.seams) or n not in puzzle.pinned):
        return None
    kept = {n: puzzle.wanted[n].bit if n in puzzle.wanted else 0 for n in component.bits}
    bits = {n: bit or 0 for n, bit in kept.items()}
    opened = frozenset(n for n, bit in kept.items() if bit is None)
    score, least = puzzle.score(component, bits, opened), least_lost(puzzle, component)
    return Answer(bits, opened, score, least, score == (least, 0, 0, 0, 0, 0, 0))


def _answer(puzzle: Puzzle, component: PuzzleComponent, options: PressOptions) -> Answer:
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


def _everything(puzzle: Puzzle, component: PuzzleComponent) -> Answer:
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
def _plan(puzzle: Puzzle, answer: Answer) -> PressPlan:
    bits, opened = answer.bits, answer.opened
    sides: dict[SeamKey, Side] = {}
    for n, (making, j) in enumerate(puzzle.seams):
        side: Side = making.seams[j].pressed
        if side == "free":
            first, flip = puzzle.same[n]
            side = "open" if first in opened else "left" if bits[first] ^ flip else "right"
        sides[(making.thing, j)] = side
    first = len(puzzle.seams)
    turned = frozenset((s.parent.thing, s.part) for k, s in enumerate(puzzle.slots) if bits.get(first + k))
    a, b, c, d, e, f, apart = answer.score
    draft = PressPlan(
        sides, turned, (a, b, c, d, e, f), answer.bound, answer.proved, 0, 0, (), (), (), (), (), apart=apart
    )
    planned = apply_plan(puzzle.tree.top, draft)
    left_over = conflicts(planned, all_verdicts=True)
    nested = sum(c.count for c in left_over if c.verdict == "nest")
    total = sum(c.count for c in left_over)
    return msgspec.structs.replace(
        draft,
        nested=nested,
        total=total,
        versions=_versions(puzzle, bits, sides),
        left_over=tuple(c for c in left_over if c.verdict != "nest"),
        loops=_loops(puzzle, bits, opened),
        marks=_marks(puzzle, sides),
        opened=tuple(puzzle_key(puzzle, n) for n, s in enumerate(puzzle.same) if s[0] in opened),
        top=puzzle.tree.top,
        planned=planned,
    )


def puzzle_key(puzzle: Puzzle, n: int) -> SeamKey:
    """The plan's name of seam number `n`."""
    making, j = puzzle.seams[n]
    return making.thing, j


def _marks(puzzle: Puzzle, sides: Mapping[SeamKey, Side]) -> tuple[MarkEdit, ...]:
    """What to write for every planned seam that has a mark, by the order in which the parts are written. A mark that
    several rows of the quilt repeat is written only when they agree."""
    found: dict[Span, set[str]] = {}
    for making, j in puzzle.seams:
        seam = making.seams[j]
        if seam.pressed == "free" and seam.mark is not None:
            side, before = sides[(making.thing, j)], "left" if min(seam.left) < min(seam.right) else "right"
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
    """What to call the two versions: by out and in, or by the direction of their seams, where all seams agree."""
    ways: set[str] = set()
    drawn: set[str] = set()
    for j, seam in enumerate(making.seams):
        side = sides[(making.thing, j)]
        if side not in ("left", "right"):
            continue
        flip = 1 if side == "left" else -1
        dx, dy = seam.end[0] - seam.start[0], seam.end[1] - seam.start[1]
        x = (seam.start[0] + seam.end[0]) / 2 - making.width / 2
        y = (seam.start[1] + seam.end[1]) / 2 - making.height / 2
        out = (x * dy - y * dx).sign() * flip
        ways.add({1: "out", -1: "in", 0: ""}[out])
        nx, ny = dy.sign() * flip, -dx.sign() * flip
        drawn.add({(-1, 0): "to the left", (1, 0): "to the right", (0, -1): "up", (0, 1): "down"}.get((nx, ny), ""))
    if len(ways) == 1 and ways != {""}:
        return ("pressed out", "pressed in") if ways == {"out"} else ("pressed in", "pressed out")
    if len(drawn) == 1 and drawn != {""}:
        other = {"to the left": "to the right", "to the right": "to the left", "up": "down", "down": "up"}
        one = drawn.pop()
        return f"pressed {one}", f"pressed {other[one]}"
    return "version A", "version B"


def _loops(puzzle: Puzzle, bits: Mapping[int, int], opened: frozenset[int]) -> tuple[Loop, ...]:
    """For the joints that do not nest, the shortest loops that say why; the shortest first, each loop once."""
    plain = [e for e in puzzle.edges if "open" not in (puzzle.fixed[e.a], puzzle.fixed[e.b])]
    lost = [e for e in plain if puzzle.lost(e, bits, opened)]
    found: dict[frozenset[ParityConstraint], list[ParityConstraint]] = {}
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


def _loop(puzzle: Puzzle, loop: list[ParityConstraint]) -> Loop:
    joints = tuple(puzzle.joints_of[e[:4]][0] for e in loop)
    seams = dict.fromkeys(n for e in loop for n in (e.a, e.b))
    lonely = sorted(seams, key=lambda n: sum(n in (e.a, e.b) for e in puzzle.edges))
    units: dict[AnyKey, None] = {}
    for joint in joints:
        for end in (joint.a, joint.b):
            home = puzzle.home.get(end.making, end.making)
            if puzzle.tree.counts[home] > 1 and home not in puzzle.owner:
                units[home.key] = None
    return Loop(joints, tuple(puzzle_key(puzzle, n) for n in lonely if puzzle.can_open(n)), tuple(units))


# -- the plan put into the tree --------------------------------------------------------------------
def apply_plan(top: Making, plan: PressPlan) -> Making:
    """The tree with every seam pressed as planned. What was one object stays one, except that a unit in two versions
    becomes two, the second with ``version`` 1."""
    made: dict[tuple[Making, bool], Making] = {}

    def pressed(making: Making, over: bool) -> Making:
        known = made.get((making, over))
        if known is not None:
            return known
        if making.recipe.apart is not None:
            (whole,) = made_from(making)
            made[making, over] = cut_again(making, pressed(whole, False))
            return made[making, over]
        parts: list[Placed] = []
        for i, part in enumerate(making.parts):
            if isinstance(part.what, Making):
                turned = ((making.thing, i) in plan.reversed_places) != (over and inherits(making, part.what))
                part = msgspec.structs.replace(part, what=pressed(part.what, turned))
            parts.append(part)
        seams = []
        for j, seam in enumerate(making.seams):
            side = plan.sides[(making.thing, j)]
            side = OTHER[side] if over else side
            seams.append(seam if side == seam.pressed else msgspec.structs.replace(seam, pressed=side))
        version = making.version ^ 1 if over else making.version
        new = msgspec.structs.replace(making, version=version, parts=tuple(parts), seams=tuple(seams))
        made[(making, over)] = new
        return new

    def inherits(outer: Making, inner: Making) -> bool:
        return belongs(outer, inner)

    return pressed(top, False)


__all__ = ["Loop", "MarkEdit", "PressOptions", "PressPlan", "Versions", "apply_plan", "kept_plan", "plan_pressing"]
