"""Plain blocks that nobody sized are as large as the blocks beside them."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.piecing.unknowns import of_whole
from patternkit.project import Project

HEAD = """\
fabric night dark
fabric stone light

block wall
    rows
        night | stone
    finished 9 x 6

block lamp
    rows
        stone | night
    finished 4 x 6

"""


def size(quilt: str) -> tuple[object, object] | list[str]:
    """Finished size of a quilt, or the codes of its problems."""
    project = Project("t.pattern", HEAD + "quilt\n" + "".join(f"    {line}\n" for line in quilt.split("\n")))
    codes = [p.code for p in run(project) if not p.advice]
    if codes:
        return codes
    w, h = (project.solution.value(of_whole(s)) for s in "wh")
    assert w is not None and h is not None
    return w.value({}), h.value({})


@pytest.mark.parametrize(
    "quilt, wide, high",
    [
        ("across 5, down 3\ntile\n    wall  | stone\n    stone | wall", 45, 18),
        ("across 4, down 2\ntile\n    wall | stone", 36, 12),
        ("across 5, down 2\ntile\n    wall  | stone\n    stone | lamp", 3 * 9 + 2 * 4, 12),  # each column has its width
        ("across 3, down 2\ntile\n    wall\n    stone", 27, 12),
        ("across 2, down 2\ntile\n    wall  | stone 5\n    stone 5 | wall", 14, 12),
        ("across 2, down 2\ntile\n    wall  | stone cut 5 1/2\n    stone | wall", 14, 12),
        ("layout\n    wall | stone | wall\n    stone | wall | stone", 27, 12),
        ("across 5, down 3\ntile\n    wall  | stone\n    stone | wall\nfinished 45 x 18", 45, 18),
        ("across 4, down 2\ntile\n    wall | stone\nfinished 30 x 12", 30, 12),  # what is said comes first: 6 in wide
    ],
)
def test_plain_blocks(quilt: str, wide: int, high: int) -> None:
    assert size(quilt) == (wide, high)


@pytest.mark.parametrize(
    "quilt, code",
    [
        ("layout\n    wall    | stone 5\n    stone 6 | wall", "seams-differ"),
        ("layout\n    wall 8 x 6 | stone 5", "claim-differs"),
        ("tile\n    wall\nring\n    lamp 5 x 6", "claim-differs"),
        ("setting on point stone\nacross 2, down 2\ntile\n    night 8 | night 7", "seams-differ"),
    ],
)
def test_sizes_beside_blocks_are_held_to(quilt: str, code: str) -> None:
    assert size(quilt) == [code]


def test_where_blocks_differ_and_nothing_lies_above_a_width_is_asked_for() -> None:
    assert size("across 3, down 2\ntile\n    wall | lamp | stone") == ["size-unknown"]
