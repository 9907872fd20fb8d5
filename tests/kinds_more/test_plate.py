"""Plates and fans: wedges by their angle, the outermost corners exact; sewn and laid on; what can't be is refused."""

from __future__ import annotations

from math import cos, hypot, pi, sin, tan

import pytest

from patternkit.piecing.making import Making
from patternkit.piecing.offset import area, box_size
from patternkit.project import Project
from patternkit.rehearsal.gaps import gap_text
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of
from tests.kinds_more.written import HEAD, made, problems_of


def text(*lines: str, size: int = 14) -> str:
    return "\n".join(
        ["unit dish", "    plate sea, night", *(f"    {line}" for line in lines), f"    finished {size}", ""]
    )


def chord_of(making: Making) -> list[float]:
    """How wide each blade is where its outer end begins."""
    found = []
    for p in making.parts:
        ring = [(float(x), float(y)) for x, y in p.what.outline]
        found.append(hypot(ring[1][0] - ring[-2][0], ring[1][1] - ring[-2][1]))
    return found


@pytest.mark.parametrize("ends, half", [
    ("straight", 7 * tan(pi / 20)),
    # the tip, and the top of a half circle, lies half a chord beyond the chord
    ("pointed", 7 * sin(pi / 20) / (cos(pi / 20) + sin(pi / 20))),
    ("round", 7 * sin(pi / 20) / (cos(pi / 20) + sin(pi / 20))),
])  # fmt: skip
def test_twenty_blades_take_eighteen_degrees_each(ends: str, half: float) -> None:
    dish = made(text("hole 3", "blades 20", f"ends {ends}"), "dish")
    assert box_size(dish.outline) == (14, 14) and len(dish.parts) == 20 and len(dish.seams) == 20
    assert chord_of(dish) == pytest.approx([2 * half] * 20, abs=1e-8)
    areas = [float(area(p.what.outline)) for p in dish.parts]
    assert areas == pytest.approx([areas[0]] * 20, abs=1e-7)
    (one, other) = dish.recipe.cuts
    assert (one.count, other.count) == (10, 10) and one.shape == other.shape
    # its raw edges along the seams are a seam outside: half as wide more on either side, by the half angle
    low, high = (max(x for x, _ in ring) - min(x for x, _ in ring) for ring in (one.sewn, one.shape))
    assert float(high - low) == pytest.approx(0.5 / cos(pi / 20), abs=0.12)


def test_neighbours_have_their_corners_in_common() -> None:
    for more in ((), ("sweep 90", "blades 6")):
        dish = made(text("hole 3", *more), "dish")
        for seam in dish.seams:
            for part in (seam.left[-1], seam.right[-1]):
                assert {seam.start, seam.end} <= set(dish.parts[part].what.outline)


@pytest.mark.parametrize("seam", ["1/4", "1 cm"])
def test_blades_are_sewn_to_a_ring_and_laid_on(seam: str) -> None:
    """The last seam of a plate closes the ring; what shows of its ends is what the template says."""
    units, layout = [], []
    for n, lines in enumerate(
        (
            ("hole 5", "blades 12"),
            ("hole 5", "blades 8", "ends round"),
            ("hole 6", "blades 4", "sweep 90", "ends straight"),
            ("hole 6", "blades 3", "sweep 90", "ends round"),
        )
    ):
        units.append(text(*lines).replace("dish", f"dish-{n}"))
        units.append(f"block on-{n}\n    patch glow\n    applique dish-{n} at 8 x 8\n    finished 16\n")
        layout.append(f"on-{n}")
    rows = "\n".join(f"        {layout[n]} | {layout[n + 1]}" for n in (0, 2))
    quilt = f"quilt\n    across 2, down 2\n    layout\n{rows}\n"
    order, designs = order_of(Project("test.pattern", "\n".join((HEAD.format(seam=seam, ruler="1/8"), *units, quilt))))
    found = rehearsal(order, designs)
    assert ([gap_text(g) for g in found.gaps], found.not_rehearsed) == ([], ())


@pytest.mark.parametrize("lines, code, words", [
    ((), "not-understood", "how wide its hole is"),
    (("hole 13 1/2",), "cannot-sew", "leaves nothing"),
    (("hole 3", "blades 18"), "not-understood", "blades"),
    (("hole 3", "blades 12", "sweep 90"), "not-understood", "blades"),
    (("hole 3", "ends wavy"), "not-understood", "ends"),
    (("hole 3", "sweep 180"), "not-understood", "sweep"),
    (("hole 1/2", "blades 40"), "cannot-sew", "narrower than half a seam"),
    (("hole 3", "blade 20"), "unknown-word", "Did you mean blades"),
])  # fmt: skip
def test_what_is_refused(lines: tuple[str, ...], code: str, words: str) -> None:
    found = problems_of(text(*lines))
    assert code in [p.code for p in found], [p.message for p in found]
    assert any(words in p.message for p in found), [p.message for p in found]
