"""Small patterns of one unit, made into orders and rehearsed."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import msgspec

from patternkit.checks import run
from patternkit.piecing.batch import Action, Batch, Passage, Thing
from patternkit.piecing.making import Making
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.rehearsal.gaps import gap_text
from patternkit.rehearsal.rehearse import Rehearsal, rehearsal
from patternkit.work.build import order_of
from patternkit.work.model import Order

SEAMS = ("1/8 in", "1/4 in", "3/8 in", "7 mm")
TURNS = ("", "turned 180", "mirrored")


class Rehearsed(NamedTuple):
    """An order, its designs, what came of it."""

    order: Order
    designs: dict[Thing, Making]
    found: Rehearsal

    @property
    def gaps(self) -> list[str]:
        """Everything that does not hold, and every kind that has no actions."""
        kinds = [self.designs[self.order.steps[n].thing].kind for n in self.found.not_rehearsed]
        return [gap_text(g) for g in self.found.gaps] + [f"{kind} is not rehearsed" for kind in kinds]


def lines(*text: str) -> str:
    """The lines of a unit called u."""
    return "".join(f"    {line}\n" for line in text)


def pattern(unit: str, seam: str = "1/4 in", more: str = "", turns: tuple[str, ...] = TURNS) -> str:
    """A quilt of two rows in which a unit lies as it is, turned and mirrored; without turns the unit alone, four times.

    `more` stands before it.
    """
    head = f'pattern "Groyne"\n    seam {seam}\n' + "".join(f"fabric {c}\n" for c in "abcdefghi")
    if not turns:
        return f"{head}{more}unit u\n{unit}    make 4\n"
    row = " | ".join(f"u {t}".strip() for t in turns)
    return f"{head}{more}unit u\n{unit}block v\n    row {row}\nquilt\n    across 1, down 2\n    tile\n        v\n"


def rehearse(text: str) -> Rehearsed:
    """What comes of a pattern, which has no problem."""
    project = Project("test", text)
    wrong = [p.message for p in (*project.reading, *project.building)]
    assert not wrong
    order, designs = order_of(project)
    return Rehearsed(order, designs, rehearsal(order, designs))


def problems_of(text: str) -> list[Problem]:
    """What is wrong with a pattern."""
    return [p for p in run(Project("test", text)) if not p.advice]


def changed(done: Rehearsed, change: Callable[[Action], Action | None], step: int = 0) -> list[str]:
    """The kinds of gaps once actions of a step are changed (None: left out)."""
    batches = []
    for batch, times in done.order.steps[step].batches:
        passages = tuple(Passage(p.name, tuple(b for a in p.actions if (b := change(a)))) for p in batch.passages)
        batches.append((msgspec.structs.replace(batch, passages=passages), times))
    return gaps_with(done, tuple(batches), step)


def gaps_with(done: Rehearsed, batches: tuple[tuple[Batch, int], ...], step: int = 0) -> list[str]:
    """The kinds of gaps with other batches in a step."""
    steps = list(done.order.steps)
    steps[step] = msgspec.structs.replace(steps[step], batches=batches)
    return [g.kind for g in rehearsal(msgspec.structs.replace(done.order, steps=tuple(steps)), done.designs).gaps]
