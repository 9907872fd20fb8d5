"""Statements of pressing put to work: which side each seam's allowance goes to, and which statements do nothing or
clash."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.piecing.keys import NO_KEY
from patternkit.piecing.making import Making, Outline, Place, Placed, Point, Recipe, Seam, Side
from patternkit.pressing.joints import JointTree, find_joints
from patternkit.pressing.looks import Looks
from patternkit.pressing.touching import Memo, Touch, beside
from patternkit.problems import Label, Problem, Repair
from patternkit.syntax.statements import PressStatement

WORDS = {
    "rows-alternately": "rows alternately",
    "plain": "toward the plain patch",
    "darker": "toward the darker",
}


class PressedMaking(msgspec.Struct, frozen=True):
    """A making whose own seams, and those of the rows it is written in, follow the statements."""

    making: Making
    problems: tuple[Problem, ...] = ()


class _Work(msgspec.Struct):
    """One making's seams under the statements. `frame` leads to the unit that the statements stand in."""

    parts: Sequence[Placed]
    seams: tuple[Seam, ...]
    values: Mapping[str, str]
    frame: Place
    centre: Point
    row: int | None
    outline: Outline
    looks: Looks
    memo: Memo


def statement_words(statement: PressStatement) -> str:
    """A statement as the writer would say it: ``press toward night``."""
    how = WORDS.get(statement.how, statement.how)
    if statement.how in ("toward", "away"):
        how = f"toward {statement.name}" if statement.how == "toward" else f"away from {statement.name}"
    return f"press {how}"


def press_making(
    making: Making,
    statements: Sequence[PressStatement],
    values: Mapping[str, str],
    general: Sequence[PressStatement] = (),
) -> PressedMaking:
    """A making with its own seams and those of its inner rows pressed as told.

    `statements` are the unit's own in the order written, `general` the file's; later and nearer ones win, a mark in the
    writer's text wins over all. `values` has light, medium or dark for each fabric. A statement of the unit that
    matches no seam is a problem, and so is one that others leave nothing of.

    Rows that are the same object are told apart by ``rows alternately`` only where they have to differ.
    """
    hits: list[set[tuple[int, ...]]] = [set() for _ in statements]
    stands: dict[tuple[int, ...], tuple[int, Side]] = {}  # seam -> number of the statement that settled it, its side
    clash: dict[int, int | Seam] = {}
    new = _pressed(
        making,
        Place(),
        _middle(making.outline),
        None,
        (),
        tuple(general),
        tuple(statements),
        values,
        hits,
        stands,
        clash,
        {},
    )
    return PressedMaking(new, tuple(_problems(making, statements, hits, stands, clash)))


def belongs(outer: Making, inner: Making) -> bool:
    """Whether `inner` is a row or column that `outer` is written in, not a unit with a name of its own."""
    return inner.role in ("row", "column") or inner.unit in ("", outer.unit)


def _pressed(
    making: Making,
    frame: Place,
    centre: Point,
    row: int | None,
    trail: tuple[int, ...],
    general: tuple[PressStatement, ...],
    own: tuple[PressStatement, ...],
    values: Mapping[str, str],
    hits: list[set[tuple[int, ...]]],
    stands: dict[tuple[int, ...], tuple[int, Side]],
    clash: dict[int, int | Seam],
    versions: dict[int, list[Making]],
) -> Making:
    """A making and the rows it is written in, pressed. `versions` keeps what became of each of them, so that one that
    stands at several depths (a pieced border, with corners and without) stays one where it is pressed the same."""
    parts: list[Placed] = []
    made: dict[tuple[Making, int, bool, int | None], Making] = {}
    rows = _rows(making)
    for i, part in enumerate(making.parts):
        what = part.what
        if isinstance(what, Making) and belongs(making, what) and (own or general):
            number = rows.get(i)
            place = part.place.then(frame)
            mark = (what, place.turned, place.mirrored, None if number is None else number % 2)
            same = made.get(mark)
            if same is None or any(s.how in ("in", "out") for s in (*general, *own)):
                new = _pressed(
                    what, place, centre, number, (*trail, i), general, own, values, hits, stands, clash, versions
                )
                made[mark] = same = _one_of(versions.setdefault(id(what), []), new, i)
            parts.append(msgspec.structs.replace(part, what=same))
        else:
            parts.append(part)
    work = _Work(tuple(parts), making.seams, values, frame, centre, row, making.outline, Looks(values), {})
    seams = list(making.seams)
    for j, seam in enumerate(making.seams):
        for number, statement in [(-1, s) for s in general] + list(enumerate(own)):
            work.seams = tuple(seams)
            found = _answer(work, j, statement)
            if found is None or (_folded(making, seam) and found.pressed != seam.pressed):
                continue
            if number >= 0:
                hits[number].add((*trail, -1 - j))
            if seam.mark is not None and seam.pressed != "free":
                if number >= 0 and found.pressed != seam.pressed:
                    clash.setdefault(number, seam)
                continue
            old = stands.get((*trail, -1 - j))
            if number >= 0 and old is not None and old[0] >= 0 and old[1] != found.pressed:
                clash.setdefault(old[0], number)
            stands[(*trail, -1 - j)] = (number, found.pressed)
            seams[j] = msgspec.structs.replace(found, stated=statement.span)
    same_parts = all(a is b for a, b in zip(parts, making.parts, strict=False))
    if same_parts and all(a is b for a, b in zip(seams, making.seams, strict=False)):
        return making
    return msgspec.structs.replace(making, parts=tuple(parts), seams=tuple(seams))


def _folded(making: Making, seam: Seam) -> bool:
    """Whether a piece is folded over a seam on paper: it lies on the allowance, whatever anyone says."""
    return making.recipe.method.on_paper and seam.pressed != "free"


def _one_of(versions: list[Making], new: Making, i: int) -> Making:
    """The version met before that is pressed like `new`; else `new`, under a key of its own where it is not the
    first."""
    ways = [s.pressed for s in _all_seams(new)]
    for known in versions:
        if [s.pressed for s in _all_seams(known)] == ways:
            return known
    if versions:
        new = msgspec.structs.replace(new, key=msgspec.structs.replace(new.key, place=(len(versions), i + 1)))
    versions.append(new)
    return new


def _all_seams(making: Making) -> list[Seam]:
    out = list(making.seams)
    for p in making.parts:
        if isinstance(p.what, Making) and belongs(making, p.what):
            out += _all_seams(p.what)
    return out


def _rows(making: Making) -> dict[int, int]:
    """The number of the row that each part forms by itself, when the parts stand below each other; {} otherwise."""
    if len(making.parts) < 2:
        return {}
    tops = []
    for part in making.parts:
        ys = sorted(p[1] for p in part.place.outline(part.what.outline))
        tops.append((ys[0], ys[-1]))
    order = sorted(range(len(tops)), key=lambda i: (tops[i][0], i))
    if any(tops[a][1] > tops[b][0] for a, b in itertools.pairwise(order)):
        return {}
    return {i: n for n, i in enumerate(order)}


# -- what a statement says of one seam -------------------------------------------------------------
def _answer(work: _Work, j: int, statement: PressStatement) -> Seam | None:
    """The seam as the statement presses it; None when the statement does not speak of it."""
    seam = work.seams[j]
    side = _ANSWERS[statement.how](work, j, statement) if statement.how in _ANSWERS else None
    if isinstance(side, Seam):
        return side
    return None if not side else msgspec.structs.replace(seam, pressed=side, spun=None)


def _toward(work: _Work, j: int, statement: PressStatement) -> Side | None:
    seam = work.seams[j]
    sides = beside(work.parts, seam, work.memo)
    left, right = (_share(side, statement.name) for side in sides)
    if left == right:
        return None
    more, less = sides if left > right else reversed(sides)
    if max(left, right) == 1 and len(more) > len(less):
        return None  # the fabric stands here and there along the side that is pieced of more: not what is said
    near: Side = "left" if left > right else "right"
    return near if statement.how == "toward" else ("right" if near == "left" else "left")


def _share(side: Sequence[Touch], name: str) -> int:
    """2 when everything on a side has the name, 1 when something has, 0 when nothing has."""
    named = [name in t.names for t in side]
    return 0 if not any(named) else 2 if all(named) else 1


def _normal(work: _Work, seam: Seam) -> tuple[Point, Point]:
    """The middle of a seam, and a vector from it to the seam's left, as the unit of the statement is drawn."""
    a, b = work.frame.point(seam.start), work.frame.point(seam.end)
    dx, dy = b[0] - a[0], b[1] - a[1]
    flip = -1 if work.frame.mirrored else 1
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), (dy * flip, -dx * flip)


def _drawn(work: _Work, j: int, statement: PressStatement) -> Side | None:
    _, (nx, ny) = _normal(work, work.seams[j])
    want = {"left": -nx, "right": nx, "up": -ny, "down": ny}[statement.how].sign()
    return None if not want else "left" if want > 0 else "right"


def _outward(work: _Work, j: int, statement: PressStatement) -> Side | None:
    (x, y), (nx, ny) = _normal(work, work.seams[j])
    out = ((x - work.centre[0]) * nx + (y - work.centre[1]) * ny).sign()
    if not out:
        return None  # the seam runs through the centre: neither side is out
    return "left" if (out > 0) == (statement.how == "out") else "right"


def _alternately(work: _Work, j: int, statement: PressStatement) -> Side | None:
    """Seams within rows: the first row to the right, the next to the left, and so on."""
    seam = work.seams[j]
    (_, _y), (nx, ny) = _normal(work, seam)
    if ny or not nx:
        return None
    row = work.row
    if row is None:
        tops = sorted({(s.start[1] + s.end[1]) / 2 for s in work.seams if s.start[0] == s.end[0]})
        if len(tops) < 2:
            return None
        row = tops.index((seam.start[1] + seam.end[1]) / 2)
    return "right" if (nx.sign() > 0) == (row % 2 == 1) else "left"


def _spun(work: _Work, j: int, statement: PressStatement) -> Seam | None:
    """The last seam that is crossed from both sides is split there; which way round follows from what crosses it."""
    making = _bare(work)
    tree = JointTree(making)
    mine = [x for x in find_joints(making, tree) if x.making is making and x.line == j and x.kind == "lock"]
    lines = [x.line for x in find_joints(making, tree) if x.making is making and x.kind == "lock"]
    seam = work.seams[j]
    inner = [x for x in mine if x.local not in (seam.start, seam.end)]
    if not inner or j != max(lines):
        return None
    middle = ((seam.start[0] + seam.end[0]) / 2, (seam.start[1] + seam.end[1]) / 2)
    best = min(inner, key=lambda x: (_far(x.local, middle), abs(x.a.angle - 90)))
    pressed = best.a.what.pressed
    if pressed not in ("left", "right"):
        return msgspec.structs.replace(seam, spun=best.local)
    turns = -best.a.ahead * (1 if pressed == "left" else -1)
    return msgspec.structs.replace(seam, spun=best.local, pressed="left" if turns > 0 else "right")


def _bare(work: _Work) -> Making:
    """The seams and parts at hand as a making, for questions asked of makings."""
    return Making(NO_KEY, "", "", "", work.outline, ZERO, ZERO, tuple(work.parts), work.seams, Recipe())


def _far(a: Point, b: Point) -> Length:
    return (a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1])


_ANSWERS: dict[str, Callable[[_Work, int, PressStatement], Side | Seam | str | None]] = {
    "toward": _toward,
    "away": _toward,
    "open": lambda w, j, s: "open",
    "out": _outward,
    "in": _outward,
    "left": _drawn,
    "right": _drawn,
    "up": _drawn,
    "down": _drawn,
    "plain": lambda w, j, s: w.looks.plainer(_bare(w), j),
    "darker": lambda w, j, s: w.looks.darker(_bare(w), j),
    "rows-alternately": _alternately,
    "spun": _spun,
}


# -- what is wrong with the statements -------------------------------------------------------------
def _problems(
    making: Making,
    statements: Sequence[PressStatement],
    hits: list[set[tuple[int, ...]]],
    stands: dict[tuple[int, ...], tuple[int, Side]],
    clash: dict[int, int | Seam],
) -> list[Problem]:
    found = []
    for number, statement in enumerate(statements):
        if statement.how == "versions":
            continue
        if not hits[number]:
            found.append(_matches_nothing(making, statement))
        elif number in clash and not any(n == number for n, _ in stands.values()):
            found.append(_overruled(statement, statements, clash[number]))
    return found


def _matches_nothing(making: Making, statement: PressStatement) -> Problem:
    name, words = making.unit or "this unit", statement_words(statement)
    why = {
        "toward": f"No seam of {name} has {statement.name} on one side and something else on the other.",
        "away": f"No seam of {name} has {statement.name} on one side and something else on the other.",
        "darker": f"No seam of {name} has fabrics of different value on its two sides, or one has no value.",
        "plain": f"Every seam of {name} has as many seams running into it from one side as from the other.",
        "spun": f"No seam of {name} is crossed by seams from both sides, so there is no centre to spin.",
        "rows-alternately": f"{name} has no two rows with seams in them.",
        "out": f"Every seam of {name} runs through its centre.",
        "in": f"Every seam of {name} runs through its centre.",
    }.get(statement.how, f"No seam of {name} runs so that its allowance could lie that way.")
    if not making.seams and not any(isinstance(p.what, Making) for p in making.parts):
        why = f"{name} is a single piece and has no seam."
    elif any(_folded(making, seam) for seam in making.seams):
        why = "On paper each piece is folded over its seam, which is thereby pressed toward that piece."
    return Problem(
        "press-no-seam",
        f"`{words}` presses nothing in {name}.",
        statement.span,
        causes=(why,),
        repairs=(Repair(f"Take the line out, or name a fabric or unit that lies beside a seam of {name}."),),
    )


def _overruled(statement: PressStatement, statements: Sequence[PressStatement], by: int | Seam) -> Problem:
    words = statement_words(statement)
    if isinstance(by, Seam):
        label = (Label(by.mark, "the mark says otherwise"),) if by.mark is not None else ()
        cause = "Every seam it speaks of has a mark of its own, or a later line that presses it another way."
    else:
        label = (Label(statements[by].span, f"`{statement_words(statements[by])}` presses the same seams another way"),)
        cause = "Later lines win, and they leave it no seam."
    return Problem(
        "press-contradiction",
        f"`{words}` is contradicted wherever it applies.",
        statement.span,
        labels=label,
        causes=(cause,),
        repairs=(Repair("Keep the one you mean and take the other out."),),
    )


def _middle(outline: Outline) -> Point:
    xs, ys = [p[0] for p in outline], [p[1] for p in outline]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


__all__ = ["PressedMaking", "belongs", "press_making", "statement_words"]
