"""Flying geese, flipped corners and squares in squares, sewn from their batches."""

from __future__ import annotations

import pytest

from tests.work.sewn import INCHES, METRIC, pattern, sewn, step

GEESE = ("stitch and flip", "four at a time", "from triangles")
SIZES = [
    *((seam, size) for seam in INCHES for size in ("4 x 2", "5 x 2 1/2", "4 1/3 x 2 1/6")),
    (METRIC, "12 x 6"),
    (METRIC, "9.3 x 4.65"),
]
GEESE_TILE = "u | u turned 180\nu turned 180 | u"


@pytest.mark.parametrize("method", GEESE)
@pytest.mark.parametrize(("seam", "size"), SIZES)
def test_geese(method: str, seam: tuple[str, ...], size: str) -> None:
    order = sewn(pattern(f"flying-geese a, b\nfinished {size}\nmethod {method}", *seam, tile=GEESE_TILE))
    ((batch, times),) = step(order, "u").batches
    assert times * batch.gives[0][1] == 16


@pytest.mark.parametrize("method", GEESE)
def test_geese_cut_larger(method: str) -> None:
    sewn(pattern(f"flying-geese a, b\nfinished 4 x 2\nmethod {method}, oversize", tile=GEESE_TILE))


@pytest.mark.parametrize("method", GEESE)
def test_geese_of_two_skies(method: str) -> None:
    """Four at a time, half of them are mirror images; the quilt needs as many of those."""
    unit = f"flying-geese a, b, c\nfinished 4 x 2\nmethod {method}"
    sewn(pattern(unit, tile="u | u mirrored\nu mirrored | u turned 180"))


@pytest.mark.parametrize(("seam", "size"), SIZES)
@pytest.mark.parametrize(
    "at", ["top left", "top left, bottom right", "left", "all", "bottom right, top left, top right"]
)
def test_flipped_corners(seam: tuple[str, ...], size: str, at: str) -> None:
    corner = "2" if seam is METRIC else "3/4"
    unit = f"flipped-corners a, b\nfinished {size}\ncorner {corner}\nat {at}"
    order = sewn(pattern(unit, *seam, tile="u | u mirrored\nu turned 180 | u"))
    ((batch, _),) = step(order, "u").batches
    assert len(batch.uses) == 1 + {"all": 4, "left": 2, "bottom right, top left, top right": 3}.get(
        at, at.count(",") + 1
    )


def test_flipped_corners_of_several_sizes_and_fabrics() -> None:
    sewn(
        pattern(
            "flipped-corners a, b 1, b 1 1/2, c 3/4\nfinished 5 x 4\nat top left, top right, bottom left",
            tile="u | u mirrored",
        )
    )


def test_flipped_corners_that_meet() -> None:
    sewn(pattern("flipped-corners a, b\nfinished 4\ncorner 2\nat all"))


@pytest.mark.parametrize("seam", [*INCHES, METRIC])
@pytest.mark.parametrize("size", ["4", "5", "6 3/4"])
def test_square_in_a_square_flipped(seam: tuple[str, ...], size: str) -> None:
    size = {"5": "7.2", "6 3/4": "12"}.get(size, size) if seam is METRIC else size
    sewn(pattern(f"square-in-a-square a, b\nfinished {size}\nmethod stitch and flip", *seam))


RINGS = [
    *((seam, rounds, size) for seam in INCHES for rounds in ("b", "b, c", "b, c, d, b") for size in ("8", "6", "12")),
    *((METRIC, rounds, size) for rounds in ("b", "b, c", "b, c, d, b") for size in ("8", "20.5", "30")),
    *((seam, "b", "root(2)*5") for seam in (*INCHES, METRIC)),  # the ruler has the centre, and not the unit
]


@pytest.mark.parametrize(("seam", "rounds", "size"), RINGS)
def test_square_in_a_square_of_rings(seam: tuple[str, ...], rounds: str, size: str) -> None:
    sewn(pattern(f"square-in-a-square a, {rounds}\nfinished {size}\nmethod from triangles", *seam))
