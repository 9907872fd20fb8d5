"""Places of a quilt given to both versions of units that come out in two by halves."""

from __future__ import annotations

import pytest

from patternkit.piecing.making import Making
from patternkit.project import Project
from patternkit.rehearsal.gaps import gap_text
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of
from tests.work.sewn import HEAD, pattern, planned, sewn

GLASS = "unit u\nquarter-square a, b\nfinished 3\n"
BLOCKS = {
    "of four": (GLASS + "block w\nrows\n    u | u turned 90\n    u turned 90 | u\n", 4, 4),
    "of one, even": (GLASS + "block w\nrow c 3 | u | d 3\n", 4, 4),
    "of one, odd": (GLASS + "block w\nrow c 3 | u | d 3\n", 3, 3),
    "of three": (GLASS + "block w\nrow u | u turned 90 | u\n", 3, 4),
    "two kinds": (GLASS + "unit v\nquarter-square b, c\nfinished 3\nblock w\nrow u | v | u\n", 3, 3),
}


@pytest.mark.parametrize("which", BLOCKS)
def test_as_many_of_one_as_of_the_other(which: str) -> None:
    """With an odd number in all there is one of a kind more; never does a unit take more batches than it has to."""
    units, across, down = BLOCKS[which]
    project = pattern(units, tile="w", across=across, down=down)
    sewn(project)
    for unit in ("u", "v"):
        counts = [c for c in planned(project) if c.making.unit == unit]
        needed = [c.needed for c in counts]
        assert not needed or (len(needed) == 2 and abs(needed[0] - needed[1]) <= 1)
        assert sum(c.batches for c in counts) == -(-sum(needed) // 2)


def titles(project: Project) -> list[str]:
    """What the rows of a quilt are called, from the top."""
    top = project.top
    assert top is not None
    return [str(p.what.key) for p in top.parts if isinstance(p.what, Making)]


def test_rows_that_differ_go_by_their_own_numbers() -> None:
    """Rows of one hourglass and plain squares were one row, three times over; one of them takes the other version."""
    project = pattern(GLASS, tile="c 3 | u | c 3\nd 3 | c 3 | d 3", across=3, down=6)
    assert titles(project) == ["rows 1 and 5", "rows 2, 4 and 6", "row 3", "rows 2, 4 and 6", "rows 1 and 5",
                               "rows 2, 4 and 6"]  # fmt: skip


def test_rows_stay_one_where_others_take_the_other_version() -> None:
    """Rows of three: those with odd numbers have one more as drawn, the others one more the other way round."""
    project = pattern(GLASS, tile="u", across=3, down=5)
    assert titles(project) == ["rows 1, 3 and 5", "rows 2 and 4"] * 2 + ["rows 1, 3 and 5"]


def test_a_quilt_without_such_units_is_left_alone() -> None:
    project = pattern("half-square a, b\nfinished 3")
    top = project.top
    assert top is not None
    assert not any(c.making.version for c in planned(project))


def test_units_in_no_quilt_come_by_halves() -> None:
    project = Project("trial", HEAD.format(settings="seam 1/4", width="40 in") + "\n" + "\n    ".join(
        ["unit u", "quarter-square a, b", "finished 3", "make 13"]))  # fmt: skip
    assert [(str(m.thing), n) for m, n in project.roots] == [("u", 7), ("u, its seams the other way round", 6)]
    order, designs = order_of(project)
    assert rehearse(order, designs) == ()
    assert [times for step in order.steps for _, times in step.batches] == [7]


def test_strips_of_a_border_of_hourglasses_that_differ_go_by_their_versions() -> None:
    """Nine hourglasses of three cloths in each strip, of which five are the other way round in half of the strips."""
    order, designs = order_of(
        Project(
            "test",
            'pattern "Net"\nfabric a\nfabric b\nfabric c\nunit glass\n    quarter-square a, b, c\n    finished 3\n'
            "    method pairs of squares\nquilt\n    across 1, down 1\n    tile\n        c 27 x 27\n"
            "    ring\n        glass\n        a\n",
        )
    )
    assert [gap_text(g) for g in rehearse(order, designs)] == []
    strips = [s.thing for s in order.steps if "strip" in str(s.thing.key)]
    assert len(strips) == len(set(strips)) == 2
