"""Joints, seams, repairs and loops in the writer's words: where a joint lies, what meets there, what would help."""

from __future__ import annotations

import itertools

from patternkit.lengths import Length
from patternkit.piecing.making import Cloth, Making, Part, Placed, Seam, Side
from patternkit.piecing.names import english
from patternkit.piecing.prints import as_written
from patternkit.pressing.conflicts import PressingChange, PressingConflict, SeamKey
from patternkit.pressing.joints import Joint, SeamEnd
from patternkit.pressing.statements import belongs
from patternkit.pressing.touching import touches
from patternkit.units import IMPERIAL, Units, show

_FIRST = (
    "first",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
    "eleventh",
    "twelfth",
)


def ordinal(n: int) -> str:
    """``first`` for 1, up to ``twelfth``; then ``13th``, ``21st``."""
    if n <= len(_FIRST):
        return _FIRST[n - 1]
    end = "th" if n % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(n % 10, "th")
    return f"{n}{end}"


def part_words(part: Part) -> str:
    """What a part is called: its unit's printed name or name, a piece's own name, or its fabric."""
    if isinstance(part, Cloth):
        cloth = as_written(part.fabric)
        return f"{english(part.name)} ({cloth})" if part.name is not None else cloth
    return part.called


def place_words(joint: Joint, top: Making, units: Units = IMPERIAL) -> str:
    """Where a joint lies: ``third row, between the second and third unit, 3 in from the left``."""
    line = _between(joint.making, joint.line) or f"on its seam {joint.line + 1}"
    return ", ".join(w for w in (_inside(top, joint.trail), line, _along(joint, units)) if w)


class SeamNames:
    """What to call the makings of a tree: a named unit by its name, a row by its number and the unit it is written
    in."""

    def __init__(self, top: Making) -> None:
        self.of: dict[Making, str] = {top: "the quilt" if top.role == "quilt" else part_words(top)}
        todo = [top]
        for making in todo:
            for i, part in enumerate(making.parts):
                what = part.what
                if isinstance(what, Making) and what not in self.of:
                    self.of[what] = self._name(making, i, what)
                    todo.append(what)

    def _name(self, outer: Making, i: int, what: Making) -> str:
        if not belongs(outer, what):
            return part_words(what)
        for axis, word in ((1, "row"), (0, "column")):
            lined, number = _lined(outer, axis)
            if lined:
                named = f"the {ordinal(number[i])} {word}"
                return named if outer.role in ("quilt", "centre", "top") else f"{named} of {self.of[outer]}"
        return part_words(what)

    def seam(self, making: Making, seam: int) -> str:
        """Which seam it is: ``the seam between night and glow in lantern``."""
        what = making.seams[seam]
        pairs = [tuple(sorted(_side_name(making, s, side) for side in (s.left, s.right))) for s in making.seams]
        one, two = (_side_name(making, what, side) for side in (what.left, what.right))
        name = self.of.get(making) or part_words(making)
        if one != two and pairs.count(pairs[seam]) == 1:
            return f"the seam between {one} and {two} in {name}"
        between = _between(making, seam)
        return f"the seam {between} in {name}" if between else f"seam {seam + 1} of {name}"


def side_words(making: Making, seam: int, side: Side) -> str:
    """Where its allowance lies: ``pressed toward night``, ``pressed open``, ``pressing not stated``."""
    return "pressing not stated" if side == "free" else f"pressed {way_words(making, seam, side)}"


def way_words(making: Making, seam: int, side: Side) -> str:
    """Which way an allowance is pressed: ``toward night``, ``to the left`` (both sides alike), ``open``."""
    if side == "open":
        return "open"
    what = making.seams[seam]
    names = {s: _side_name(making, what, parts) for s, parts in (("left", what.left), ("right", what.right))}
    if names["left"] != names["right"]:
        return f"toward {names[side]}"
    return _drawn(what, side)


def conflict_words(
    conflict: PressingConflict, top: Making, units: Units = IMPERIAL, names: SeamNames | None = None
) -> str:
    """One sentence about joints that do not nest, with their place and how often they occur."""
    joint, names = conflict.joint, names or SeamNames(top)
    a, b = (
        f"{names.seam(e.making, e.seam)} ({side_words(e.making, e.seam, s)})"
        for e, s in zip((joint.a, joint.b), conflict.sides, strict=True)
    )
    if joint.a.key == joint.b.key:
        what = f"{a} meets itself"
    else:
        what = f"{a} meets {b}"
    verdict = {
        "conflict": "both allowances lie the same way",
        "weak": "one is open and one lies to a side, so they do not lock",
        "pin": "both are open: they lie flat, but have to be pinned",
        "unstated": "it is not said which way to press",
        "nest": "the two allowances lock",
    }[conflict.verdict]
    if joint.kind == "spin":
        verdict = {"conflict": "they do not turn the same way round the spun centre"}.get(conflict.verdict, verdict)
    times = "" if conflict.count == 1 else f" ({conflict.count} times in the quilt)"
    return f"{place_words(joint, top, units)}: {what}; {verdict}{times}."


def repair_words(change: PressingChange, conflict: PressingConflict, names: SeamNames) -> str:
    """What would settle a conflict, as advice."""
    joint = conflict.joint
    ends: dict[SeamKey, SeamEnd] = {joint.a.key: joint.a, joint.b.key: joint.b}
    if change.how == "turn":
        name = part_words(joint.a.making)
        return (
            f"All copies of {name} are pressed alike, and here two of them meet: turn or mirror every other "
            "one, press half of them the other way, or "
            f"press {names.seam(joint.a.making, joint.a.seam)} open."
        )
    if change.how == "plan":
        return "No single change mends more than it breaks; let the planner choose for all seams together."
    seams = [names.seam(ends[k].making, ends[k].seam) for k in change.seams]
    if change.how == "both open":
        return f"Press {' and '.join(seams)} open."
    end = ends[change.seams[0]]
    return f"Press {seams[0]} {way_words(end.making, end.seam, change.to)}."


def loop_words(joints: tuple[Joint, ...], top: Making, units: Units = IMPERIAL, names: SeamNames | None = None) -> str:
    """Why the joints of a loop cannot all nest: each in turn, and that they come round to a contradiction."""
    names = names or SeamNames(top)
    if len(joints) == 1 and joints[0].a.key == joints[0].b.key:
        end = joints[0].a
        return (
            f"{names.seam(end.making, end.seam)} meets itself in two copies lying alike "
            f"({place_words(joints[0], top, units)}), and both are pressed the same way."
        )
    steps = [
        f"{names.seam(j.a.making, j.a.seam)} against {names.seam(j.b.making, j.b.seam)} ({place_words(j, top, units)})"
        for j in joints
    ]
    fixed = dict.fromkeys(
        f"{names.seam(e.making, e.seam)} is {side_words(e.making, e.seam, e.what.pressed)}"
        for j in joints
        for e in (j.a, j.b)
        if e.what.pressed != "free"
    )
    stated = f" ({'; '.join(fixed)})" if fixed else ""
    if len(joints) == 1:
        return f"{steps[0]} cannot nest: both are pressed the same way{stated}."
    why = "each settles the next and the last contradicts the first"
    if fixed:
        why = f"each settles the next, and what is settled already contradicts it{stated}"
    return f"These joints cannot all nest, because {why}: {'; '.join(steps)}."


def choice_words(names: SeamNames, making: Making, seam: int | None = None) -> str:
    """One way out of a loop: open this seam, or two versions of that unit."""
    if seam is not None:
        return f"press {names.seam(making, seam)} open"
    return f"press half of {part_words(making)} the other way"


# -- pieces of a place -----------------------------------------------------------------------------
def _inside(top: Making, trail: tuple[int, ...]) -> str:
    """Where the making of a joint is: a row by its number, a named unit by its name."""
    words: list[str] = []
    making = top
    for i in trail:
        part = making.parts[i].what
        assert isinstance(part, Making)
        rows, row = _lined(making, 1)
        if belongs(making, part) and rows and part.role in ("row", ""):
            words.append(f"{ordinal(row[i])} row")
        elif part.role in ("row", "column", "top", "centre", "quilt"):
            words.append("" if part.role != "column" else f"{ordinal(_lined(making, 0)[1].get(i, i + 1))} column")
        else:
            words = [part_words(part)]  # a named unit: where this copy of it lies does not matter
        making = part
    return ", ".join(w for w in words if w)


def _lined(making: Making, axis: int) -> tuple[bool, dict[int, int]]:
    """Whether the parts stand one after the other along an axis (0 across, 1 down), and the number of each."""
    spans = [_span(p, axis) for p in making.parts]
    order = sorted(range(len(spans)), key=lambda i: (spans[i], i))
    lined = len(order) > 1 and all(spans[a][1] <= spans[b][0] for a, b in itertools.pairwise(order))
    return lined, {i: n + 1 for n, i in enumerate(order)}


def _span(part: Placed, axis: int) -> tuple[Length, Length]:
    values = [p[axis] for p in part.place.outline(part.what.outline)]
    return min(values), max(values)


def _between(making: Making, line: int) -> str:
    """The two parts that a line joins: by number in a row or a column, otherwise by name; nothing where both are called
    alike."""
    seam = making.seams[line]
    for axis, word in ((0, "unit"), (1, "row")):
        lined, number = _lined(making, axis)
        if lined:
            one, two = max(number[i] for i in seam.left), min(number[i] for i in seam.right)
            if one > two:
                one, two = max(number[i] for i in seam.right), min(number[i] for i in seam.left)
            if axis == 0 and all(isinstance(p.what, Cloth) for p in making.parts):
                word = "patch"
            return f"between the {ordinal(one)} and {ordinal(two)} {word}"
    left, right = (_side_name(making, seam, side) for side in (seam.left, seam.right))
    return f"between {left} and {right}" if left != right else ""


def _along(joint: Joint, units: Units) -> str:
    """How far along the line, from its left end or, for an upright line, from its top."""
    seam = joint.making.seams[joint.line]
    (ax, ay), (bx, by) = seam.start, seam.end
    if joint.local in (seam.start, seam.end):
        other = seam.end if joint.local == seam.start else seam.start
        if ax == bx:
            return "at its top end" if joint.local[1] < other[1] else "at its lower end"
        return "at its left end" if joint.local[0] < other[0] else "at its right end"
    if ax == bx:
        return f"{show(joint.local[1] - min(ay, by), units)} from the top"
    x0, y0 = (ax, ay) if ax < bx else (bx, by)
    dx, dy = joint.local[0] - x0, joint.local[1] - y0
    try:
        far = abs(dx) if not dy else (dx * dx + dy * dy).sqrt()
    except ValueError:
        return f"{show(dx, units)} across from its left end"
    return f"{show(far, units)} from the left"


def _side_name(making: Making, seam: Seam, side: tuple[int, ...]) -> str:
    """The parts that touch a seam on one side."""
    near = [i for i in side if touches(making.parts[i], seam.start, seam.end, {})] if len(side) > 1 else []
    names = list(dict.fromkeys(part_words(making.parts[i].what) for i in near or side))
    return "the pieced side" if len(names) > 2 else " with ".join(names)


def _drawn(seam: Seam, side: str) -> str:
    """A side by its direction as drawn."""
    flip = 1 if side == "left" else -1
    nx = (seam.end[1] - seam.start[1]).sign() * flip
    ny = -(seam.end[0] - seam.start[0]).sign() * flip
    across = {-1: "to the left", 1: "to the right", 0: ""}[nx]
    return across or ("up" if ny < 0 else "down")
