"""Plain pieces of a layout that fill what their row leaves."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.piecing.making import Cloth
from tests.setting.build import covers, project


@pytest.mark.parametrize(
    ("rows", "widths"),
    [
        (["nine | nine | nine | nine", "a | nine | a | nine | a"], {"a": 4}),
        (["nine | nine | nine | nine", "c | nine"], {"c": 18}),
        (["nine | nine | nine | nine", "a | nine | a 4", "c | plain | c"], {"c": 9}),
        (["nine | a 3 | nine | a 3 | nine", "c 24 x 2"], {"c": 24}),
        (["nine | a 2 | nine", "c | nine | c"], {"c": 4}),  # as many in each row, and yet no columns
    ],
)
def test_fillers_share_what_their_row_leaves(rows: list[str], widths: dict[str, int]) -> None:
    p = project("quilt\n    layout\n" + "".join(f"        {row}\n" for row in rows))
    assert [x.message for x in run(p) if not x.advice] == []
    covers(p.top)
    last = p.top.parts[-1].what
    parts = [last] if isinstance(last, Cloth) else [q.what for q in last.parts]
    found = {(q.fabric, max(x for x, _ in q.outline)) for q in parts if isinstance(q, Cloth)}
    assert {(fabric, wide) for fabric, wide in widths.items()} <= found


@pytest.mark.parametrize("row", ["nine | a | nine", "nine | a | nine | nine"])
def test_a_row_that_leaves_nothing_is_told(row: str) -> None:
    p = project(f"quilt\n    layout\n        nine | nine\n        {row}\n")
    (problem,) = [x for x in run(p) if not x.advice]
    assert problem.code == "too-small" and "there is nothing left of it" in problem.message
