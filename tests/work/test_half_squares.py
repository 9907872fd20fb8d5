"""Half-squares by every method, sewn from their batches."""

from __future__ import annotations

import pytest

from patternkit.piecing.batch import Piece
from tests.work.sewn import INCHES, METRIC, pattern, sewn, step

METHODS = {"pairs of squares": 2, "four at a time": 4, "eight at a time": 8, "from triangles": 1}
CASES = [
    *((seam, size) for seam in INCHES for size in ("3", "2 1/2", "3 1/3", "4 5/16")),
    *((METRIC, size) for size in ("8", "6.5", "7.25")),
]


@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize(("seam", "size"), CASES)
def test_by_every_method(method: str, seam: tuple[str, ...], size: str) -> None:
    order = sewn(pattern(f"half-square a, b\nfinished {size}\nmethod {method}", *seam))
    ((batch, times),) = step(order, "u").batches
    assert [n for _, n in batch.gives] == [METHODS[method]]
    assert times == 16 // METHODS[method]


@pytest.mark.parametrize("method", METHODS)
def test_more_than_are_needed_are_left(method: str) -> None:
    order = sewn(pattern(f"half-square a, b\nfinished 3\nmethod {method}", across=3, down=3))
    made = {"eight at a time": 16, "four at a time": 12}.get(method, 10)
    if method == "from triangles":
        assert [(item.form, n) for item, n in order.leaves if isinstance(item, Piece)] == [("half", 1), ("half", 1)]
    else:
        assert step(order, "u").leaves == ((step(order, "u").thing, made - 9),)


@pytest.mark.parametrize("method", METHODS)
def test_cut_larger_and_trimmed(method: str) -> None:
    sewn(pattern(f"half-square a, b\nfinished 3\nmethod {method}, oversize"))


@pytest.mark.parametrize(("side", "wide"), [("4", 4), ("4 1/4", 4.25), ("5", 5)])
def test_a_stated_cut(side: str, wide: float) -> None:
    order = sewn(pattern(f"half-square a, b\nfinished 3\ncut {side}"))
    uses = step(order, "u").batches[0][0].uses
    assert {float(u.item.width) for u in uses if isinstance(u.item, Piece)} == {wide}


def test_two_squares_of_one_fabric() -> None:
    sewn(pattern("half-square a, a\nfinished 3"))
