"""Batches of small patterns, sewn on the simulated table and held against the design and the plan."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.piecing.batch import Item, Piece
from patternkit.plan.counts import Count
from patternkit.plan.draft import draft_plan
from patternkit.project import Project
from patternkit.rehearsal.gaps import gap_text
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of
from patternkit.work.model import CutDiagonally, CutPieces, CutStrips, Order, Step

HEAD = """pattern "Slack tide"
    {settings}
    usable width {width}
fabric a "Ash" dark
fabric b "Bone" light
fabric c "Clay" medium
fabric d "Dusk" dark
"""
INCHES = (("seam 1/4",), ("seam 1/8",), ("seam 3/8",))
METRIC = ("units centimetres", "seam 0.7")
SEAMS = (*INCHES, METRIC)
TURNS = "u | u turned 90\nu turned 180 | u"


def pattern(
    unit: str, *settings: str, tile: str = TURNS, across: int = 4, down: int = 4, width: str = "40 in"
) -> Project:
    """A quilt of a unit `u` (its lines without the head, or with heads where there are several), laid as `tile`
    says.
    """
    body = unit if unit.lstrip().startswith(("unit", "block")) else f"unit u\n{unit}"
    lines = [line if line.startswith(("unit", "block")) else f"    {line}" for line in body.strip().splitlines()]
    head = HEAD.format(settings="\n    ".join(settings or ("seam 1/4",)), width=width)
    laid = tile.replace("\n", "\n        ")
    quilt = f"\nquilt\n    across {across}, down {down}\n    tile\n        {laid}\n"
    project = Project("trial", head + "\n".join(lines) + quilt)
    wrong = [*project.reading, *project.building, *project.sizing.problems, *project.disagreements]
    assert project.top is not None, [getattr(p, "message", p) for p in [*wrong, *project.shop.problems]]
    wrong += [p for p in project.shop.problems if not p.advice]
    assert project.sewn.trouble is None, project.sewn.trouble
    assert not wrong, [getattr(p, "message", p) for p in wrong]
    return project


def sewn(project: Project) -> Order:
    """The order of a pattern, which must have no gap, have actions for everything, and count as the plan does."""
    order, designs = order_of(project)
    found = rehearsal(order, designs)
    wrong = [gap_text(g) for g in found.gaps]
    assert not wrong, wrong
    assert found.not_rehearsed == ()
    plan, given = planned(project), total(s.gives for s in order.steps)
    for count in plan:
        making = count.making
        if making.seams:
            one_by_one = making.recipe.segment is not None or any(c.then for c in making.recipe.cuts)
            assert given[making.thing] == (count.needed if one_by_one else count.made)
    return order


def planned(project: Project) -> tuple[Count, ...]:
    """What the plan counts of a quilt that is pressed."""
    top = project.pressed_top
    assert top is not None
    return draft_plan(project.pattern, top, [(top, 1)])[0].counts


def total(counts: Iterable[dict[Item, int]]) -> dict[Item, int]:
    """Counts added up."""
    found: dict[Item, int] = {}
    for one in counts:
        for item, n in one.items():
            found[item] = found.get(item, 0) + n
    return found


def step(order: Order, name: str) -> Step:
    """The step that makes a unit."""
    return next(s for s in order.steps if str(s.thing) == name)


def pieces_cut(order: Order) -> dict[Piece, int]:
    """The pieces that the cutting gives, triangles counted one by one."""
    found: dict[Piece, int] = {}
    for told in order.cutting:
        if isinstance(told, CutDiagonally):
            found[told.gives] = found.get(told.gives, 0) + told.count * 2 * told.ways
        elif isinstance(told, CutPieces):
            found[told.piece] = found.get(told.piece, 0) + told.count
        elif isinstance(told, CutStrips):
            pass
    return found
