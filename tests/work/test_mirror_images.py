"""Quarter-squares, three-patches and geese of two skies: what comes out mirrored is used where the quilt needs it."""

from __future__ import annotations

import pytest

from patternkit.piecing.batch import Thing
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


@pytest.mark.parametrize("kind", ["quarter-square a, b", "quarter-square a, b, c", "quarter-square a, b, c, d"])
@pytest.mark.parametrize("press", ["press open", "press toward a"])
def test_pressed_as_the_writer_says(kind: str, press: str) -> None:
    sewn(pattern(f"{kind}\nfinished 4\n{press}", tile=MIRRORED))


@pytest.mark.parametrize("kind", ["quarter-square a, b, c, d", "three-patch a, b, c"])
def test_mirror_images_that_nobody_needs_are_left(kind: str) -> None:
    order = sewn(pattern(f"{kind}\nfinished 4", tile="u"))
    assert [(str(item), n) for item, n in step(order, "u").leaves] == [("u, mirrored", 16)]


def test_more_mirror_images_than_units() -> None:
    """Twelve of one and four of the other: six batches, and eight of the fewer are left."""
    order = sewn(pattern("quarter-square a, b, c, d\nfinished 4", tile="u mirrored | u mirrored | u mirrored | u"))
    (own,) = [s for s in order.steps if "u" in {i.key.of for i in s.gives if isinstance(i, Thing)}]
    assert [times for _, times in own.batches] == [6]
    assert [n for _, n in own.leaves] == [8]
