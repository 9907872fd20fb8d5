"""Does every statement of a pattern say something? Each is taken out in turn, or said otherwise where it states what
holds anyway, and what comes of it is held against what came before: problems, plan, pressing, booklet.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

import msgspec

from patternkit import api, render
from patternkit.desk.cutting_data import cuts_json
from patternkit.desk.session import Session
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.syntax.parse import parse
from patternkit.syntax.statements import Node, Trivia

OTHERWISE = (
    ("press toward", "press away from"),
    ("press away from", "press toward"),
    ("clockwise", "counterclockwise"),
    ("start top", "start left"),
    ("start left", "start top"),
    ("leaning right", "leaning left"),
    ("first up", "first down"),
    ("ends half", "ends fitted"),
    ("straight", "bias"),
    ("sides first", "top first"),
    ("inches", "cm"),
    ("cm", "mm"),
    ("mm", "cm"),
    ("yes", "no"),
    ("no", "yes"),
    ("angle 60", "angle 45"),
    ("seams vertical", "seams horizontal"),
    ("seams horizontal", "seams vertical"),
    ("setting straight", "setting on point"),
    ("stitch and flip", "from triangles"),
    ("pairs of squares", "from triangles"),
    ("pairs of rectangles", "oversize"),
    ("from strips", "from templates"),
    ("templates", "foundation"),
    ("logs cut to length", "foundation"),
    ("set-in", "straight seams"),
    ("oversize", ""),
)
"""Words that may state what is usual, and what could stand in their place."""


class Statement(msgspec.Struct, frozen=True):
    """A statement in a text: its lines, counted from 0, and what it starts with under what."""

    first: int
    last: int
    words: str
    under: str


def statements(name: str, text: str) -> Iterator[Statement]:
    """Every statement of a text, those that hold others with these."""
    waiting: list[tuple[Node | Trivia, str]] = [(n, "file") for n in parse(name, text).nodes]
    lines = text.splitlines()
    while waiting:
        node, under = waiting.pop(0)
        if isinstance(node, Node):
            start, end = _extent(node)
            first, last = text.count("\n", 0, start), text.count("\n", 0, max(start, end - 1))
            yield Statement(first, last, lines[first].strip(), under)
            waiting += [(child, lines[first].split()[0]) for child in node.children]


def _extent(node: Node) -> tuple[int, int]:
    span = node.statement.span
    ends = [_extent(child)[1] for child in node.children if isinstance(child, Node)]
    return span.start, max([span.end, *ends])


def ways(text: str, said: Statement) -> Iterator[str]:
    """The text without a statement; and, for one that may state what holds anyway, with another in its place."""
    lines = text.splitlines(keepends=True)
    before, own, after = lines[: said.first], lines[said.first], lines[said.last + 1 :]
    yield "".join([*before, *after])
    code = re.sub(r"( # .*)?\n?$", "", own)
    rest = ["\n", *lines[said.first + 1 :]]
    number = re.search(r"(?<![\w#'\"-])\d+(?![\w'-])", code)
    if number is not None:
        for more in (1, 7):  # one too many is often let pass
            changed = code[: number.start()] + str(int(number[0]) + more) + code[number.end() :]
            yield "".join([*before, changed, *rest])
    elif said.words.startswith(("finished ", "measures ", "cut ")):
        yield "".join([*before, f"{code} + 1", *rest])
    for usual, other in OTHERWISE:
        if re.search(rf"(?<![\w-]){usual}(?![\w-])", code):
            yield "".join([*before, re.sub(rf"(?<![\w-]){usual}(?![\w-])", other, code, count=1), *rest])
            break


class Outcome:
    """What comes of a text, worked out as far as it is asked for."""

    def __init__(self, session: Session, text: str) -> None:
        found = session.check(text)
        assert session.project is not None
        self.project: Project = session.project
        self.stages: tuple[Callable[[], object], ...] = (
            lambda: [_told(p) for p in found],
            lambda: self._plan(),
            lambda: self._pressing(),
            lambda: self._booklet(every_size=False),
            lambda: self._booklet(every_size=True),
            lambda: [self._booklet(part=p.title) for p in self.project.pattern.parts],
        )
        self._known: dict[int, object] = {}

    def stage(self, n: int) -> object:
        """The problems, the cuts, the pressing, the booklet of one size, of all, or those of the parts."""
        if n not in self._known:
            self._known[n] = self.stages[n]()
        return self._known[n]

    def _plan(self) -> object:
        plan, _ = self.project.quick_plan
        return cuts_json(self.project, plan), plan.batting

    def _pressing(self) -> object:
        plan = self.project.pressing
        return None if plan is None else (sorted((str(k), n, s) for (k, n), s in plan.sides.items()), plan.score)

    def _booklet(self, **wishes: Any) -> object:
        return render.markdown(api.make_booklet(self.project, **wishes))


def _told(p: Problem) -> tuple[str, str, str, tuple[str, ...]]:
    return p.code, p.message, p.size, p.causes


def silent(path: Path, text: str, choose: Callable[[Statement], bool] = lambda _: True) -> list[Statement]:
    """The statements of a file, of those chosen, that can be left out, and said otherwise, without anything coming
    of it."""
    session = Session(path.name, lambda _, other: (other, (path.parent / other).read_text()))
    whole = Outcome(session, text)
    found = []
    for said in statements(path.name, text):
        if choose(said) and not _heard(whole, [Outcome(session, other) for other in ways(text, said)]):
            found.append(said)
    return found


def _heard(whole: Outcome, others: Sequence[Outcome]) -> bool:
    """Whether any of them comes out otherwise, what is quick to tell being asked first."""
    return any(other.stage(n) != whole.stage(n) for n in range(len(whole.stages)) for other in others)
