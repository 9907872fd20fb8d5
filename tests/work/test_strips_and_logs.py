"""Half-rectangles, strip units, log cabins and courthouse steps, sewn from their batches."""

from __future__ import annotations

import pytest

from patternkit.piecing.batch import CutAcross
from tests.work.sewn import INCHES, METRIC, pattern, sewn, step

ACROSS = "u | u turned 180\nu | u"


RECTANGLES = [
    *((seam, s) for seam in INCHES for s in ("2 x 4", "3 x 4", "5 x 2", "3 x 3 1/4", "1 1/2 x 6", "2 1/3 x 5")),
    *((METRIC, s) for s in ("5 x 10", "6.1 x 11.3", "9 x 12")),
]


@pytest.mark.parametrize(("seam", "size"), RECTANGLES)
@pytest.mark.parametrize("way", ["left", "right"])
def test_half_rectangles(seam: tuple[str, ...], size: str, way: str) -> None:
    unit = f"half-rectangle a, b\nfinished {size}\nleaning {way}"
    sewn(pattern(unit, *seam, tile="u | u mirrored\nu turned 180 | u"))


def test_half_rectangles_cut_larger() -> None:
    sewn(pattern("half-rectangle a, b\nfinished 2 x 4\nmethod pairs of rectangles, oversize", tile=ACROSS))


STRIPS = ("a | b", "a 2 > b 1 < a 2", "a | b | c | d", "a | b | a | b | c", "a | b | c | d | a | b")


@pytest.mark.parametrize("seam", [*INCHES, METRIC])
@pytest.mark.parametrize("strips", STRIPS)
@pytest.mark.parametrize("size", ["5 x 2", "6 x 2 1/3", "4 3/8 x 1"])
def test_strip_units(seam: tuple[str, ...], strips: str, size: str) -> None:
    if "2 >" in strips:
        size = size.replace("6", "5").replace("4 3/8", "5")
    size = {"6 x 2 1/3": "17.3 x 6.1"}.get(size, size) if seam is METRIC and "2 >" not in strips else size
    order = sewn(pattern(f"strips {strips}\nfinished {size}", *seam, tile=ACROSS))
    assert sum(sum(n for _, n in batch.gives) * times for batch, times in step(order, "u").batches) == 16


def test_the_last_strip_unit_is_cut_into_what_is_needed() -> None:
    """15 segments of 2 1/2 come from 40 in; of 25 the last strip unit gives 10."""
    order = sewn(pattern("strips a | b\nfinished 4 x 2", tile="u", across=5, down=5))
    (whole, n), (last, m) = step(order, "u").batches
    assert (n, m) == (1, 1)
    assert [[a.count for a in b.passages[1].actions if isinstance(a, CutAcross)] for b in (whole, last)] == [[15], [10]]


def test_half_strips_are_a_second_batch() -> None:
    order = sewn(pattern("strips a | b\nfinished 4 x 2", tile="u", across=6, down=3))
    (whole, n), (last, m) = step(order, "u").batches
    assert (n, m) == (1, 1)
    assert {float(u.item.width) for u in whole.uses} == {40.0}  # type: ignore[union-attr]
    assert {float(u.item.width) for u in last.uses} == {19.75}  # type: ignore[union-attr]
    assert last.gives[0][1] == 3


SHARED = """unit u
strips a 2 > b 2
finished 4 x 2
unit v
strips a 2 > b 2
finished 4 x 3
block w
column u | u turned 180 | v
"""


def test_strip_units_that_two_units_share() -> None:
    """Three segments and five from one strip unit, where each unit by itself would take one."""
    order = sewn(pattern(SHARED, tile="w", across=2, down=2))
    names = [str(s.thing) for s in order.steps]
    assert ("u" in names) != ("v" in names)
    ((batch, times),) = step(order, "u" if "u" in names else "v").batches
    assert times == 1
    assert sorted(n for _, n in batch.gives) == [4, 8]


LOGS = "log 1\nround b, c, d, b\nrounds 2"


@pytest.mark.parametrize("seam", [*INCHES, METRIC])
@pytest.mark.parametrize("kind", ["log-cabin", "courthouse-steps"])
@pytest.mark.parametrize("size", ["", "finished 7", "finished 8 1/3"])
def test_logs(seam: tuple[str, ...], kind: str, size: str) -> None:
    size = {"finished 7": "finished 17", "finished 8 1/3": "finished 21.2"}.get(size, size) if seam is METRIC else size
    lines = f"{kind} a\n{LOGS}\n{size}" if size else f"{kind} a 2\n{LOGS}"
    ((batch, times),) = step(sewn(pattern(lines, *seam)), "u").batches
    assert (len(batch.uses), times) == (9, 16)


@pytest.mark.parametrize("size", ["12", "10 1/4"])
def test_logs_off_the_ruler(size: str) -> None:
    """The widths of the logs are worked out, and are on no line of the ruler."""
    sewn(pattern(f"log-cabin a 2\nround b, c, d, b\nrounds 3\nfinished {size}"))


@pytest.mark.parametrize("more", ["start right", "counterclockwise", "start bottom, counterclockwise"])
def test_log_cabins_the_other_way_round(more: str) -> None:
    sewn(pattern(f"log-cabin a 2\nlog 1\nround b, c, d, b\nrounds 2\n{more}", tile="u | u mirrored\nu turned 90 | u"))


def test_a_log_cabin_round_a_unit() -> None:
    unit = "unit h\nhalf-square a, b\nfinished 2\nunit u\nlog-cabin h turned 90\nlogs b 1, c 1 1/2, d, a 1/2\nlog 1"
    sewn(pattern(unit))
