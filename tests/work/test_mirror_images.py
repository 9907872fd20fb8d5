"""Quarter-squares, three-patches and geese of two skies: what comes out mirrored is used where the quilt needs it."""

from __future__ import annotations

import pytest

from tests.work.sewn import INCHES, METRIC, pattern, sewn, step

CASES = [
    *((seam, size) for seam in INCHES for size in ("4", "3 1/3", "2 7/8")),
    (METRIC, "10"),
    (METRIC, "7.3"),
]
MIRRORED = "u | u mirrored\nu mirrored | u turned 180"


@pytest.mark.parametrize(("seam", "size"), CASES)
@pytest.mark.parametrize("method", ["pairs of squares", "from triangles"])
@pytest.mark.parametrize("kind", ["quarter-square a, b, c, d", "three-patch a, b, c", "three-patch a, b, a"])
def test_units_and_their_mirror_images(kind: str, method: str, seam: tuple[str, ...], size: str) -> None:
    """As many of either: from squares one step makes both, from triangles each has its own."""
    order = sewn(pattern(f"{kind}\nfinished {size}\nmethod {method}", *seam, tile=MIRRORED))
    names = [str(s.thing) for s in order.steps]
    assert ("u, mirrored" in names) == (method == "from triangles")
    if method == "pairs of squares":
        assert {str(item): n for item, n in step(order, "u").gives.items()} == {"u": 8, "u, mirrored": 8}
        assert step(order, "u").leaves == ()


@pytest.mark.parametrize(("seam", "size"), CASES)
@pytest.mark.parametrize("kind", ["quarter-square a, b", "quarter-square a, b, c", "three-patch a, b, b"])
def test_units_that_look_like_their_mirror_images(kind: str, seam: tuple[str, ...], size: str) -> None:
    """Half of them have their seams the other way round, and half of the places take those."""
    order = sewn(pattern(f"{kind}\nfinished {size}", *seam))
    gives = {str(item): n for item, n in step(order, "u").gives.items()}
    assert gives == {"u": 8, "u, its seams the other way round": 8}
    assert step(order, "u").leaves == ()


@pytest.mark.parametrize("kind", ["quarter-square a, b", "quarter-square a, b, c", "three-patch a, b, b"])
def test_units_from_triangles_are_all_alike(kind: str) -> None:
    order = sewn(pattern(f"{kind}\nfinished 4\nmethod from triangles"))
    assert {str(item): n for item, n in step(order, "u").gives.items()} == {"u": 16}
