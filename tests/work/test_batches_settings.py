"""Settings and borders, sewn on the table: on point, mitred corners, borders beside what no ruler line measures."""

from __future__ import annotations

from itertools import product

import msgspec
import pytest

from patternkit.piecing.batch import Batch, CutMeasured, Join, Mitre, TrimBeyond
from patternkit.project import Project
from patternkit.rehearsal.gaps import Gap, gap_text
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of
from patternkit.work.model import Order

HEAD = 'pattern "Shingle"\n    seam {seam}\nfabric kelp\nfabric foam\nfabric rust\nblock reef\n    row kelp > foam\n'


def order(text: str) -> tuple[Order, tuple[Gap, ...], set[str]]:
    """The order of a pattern, what does not hold, and the kinds that were not rehearsed."""
    project = Project("shingle", text)
    made, designs = order_of(project)
    wrong = [*project.reading, *project.building, *project.shop.problems]
    assert not [p.message for p in wrong if not p.advice]
    result = rehearsal(made, designs)
    return made, result.gaps, {designs[made.steps[n].thing].kind for n in result.not_rehearsed}


def holds(text: str) -> Order:
    """The order of a pattern, every step of which is rehearsed without a gap."""
    made, gaps, untold = order(text)
    assert not untold
    assert not [gap_text(g) for g in gaps]
    return made


def batches(made: Order) -> list[Batch]:
    """All batches."""
    return [batch for step in made.steps for batch, _ in step.batches]


@pytest.mark.parametrize(
    ("across", "down", "side", "seam", "rest"),
    [
        (2, 2, "4", "1/4", ""),
        (3, 2, "6", "1/4", ", float 1/2"),
        (3, 2, "6", "1/4", ", float 1/2 x 3"),
        (2, 3, "6", "1/4", ", float 3 x 1/2"),
        (1, 3, "6", "1/8", ""),
        (2, 4, "8", "3/8", ", float 1"),
        (4, 3, "5 1/2", "1/4", ", sides cut 9, corners cut 5"),
    ],
)
def test_on_point(across: int, down: int, side: str, seam: str, rest: str) -> None:
    text = (
        HEAD.format(seam=seam)
        + f"    finished {side}\nquilt\n    across {across}, down {down}\n"
        + f"    setting on point, triangles rust{rest}\n    tile\n        reef\n        foam\n    border 2 kelp\n"
    )
    made = holds(text)
    actions = [a for step in made.steps for a in step.actions]
    assert sum(isinstance(a, TrimBeyond) for a in actions) == 1
    assert any(isinstance(a, Join) and a.fit == "seams" for a in actions) or across + down == 2
    # the centre's side is a multiple of root 2: its border is cut to what is measured
    assert sum(isinstance(a, Join) and a.fit == "measured" for a in actions) == 4


def test_a_side_triangle_with_its_right_angle_at_the_wrong_end_is_noticed() -> None:
    text = HEAD.format(seam="1/4") + (
        "    finished 6\nquilt\n    across 2, down 2\n    setting on point, triangles rust\n"
        "    tile\n        reef\n        foam\n"
    )
    project = Project("shingle", text)
    made, designs = order_of(project)
    n = next(i for i, s in enumerate(made.steps) if designs[s.thing].kind == "diagonal-row")
    step = made.steps[n]
    batch, times = step.batches[0]
    passage = batch.passages[0]
    join = passage.actions[0]
    assert isinstance(join, Join) and join.fit in ("start", "end")
    turned = msgspec.structs.replace(join, fit="end" if join.fit == "start" else "start")
    wrong = msgspec.structs.replace(passage, actions=(turned, *passage.actions[1:]))
    batch = msgspec.structs.replace(batch, passages=(wrong, *batch.passages[1:]))
    steps = list(made.steps)
    steps[n] = msgspec.structs.replace(step, batches=((batch, times), *step.batches[1:]))
    gaps = rehearsal(msgspec.structs.replace(made, steps=tuple(steps)), designs).gaps
    assert gaps and gaps[0].step == n


@pytest.mark.parametrize(("borders", "seam"), list(product((1, 2, 3), ("1/8", "1/4", "3/8"))))
def test_mitred_borders(borders: int, seam: str) -> None:
    cloths = ["rust", "kelp", "foam"]
    text = HEAD.format(seam=seam) + "    finished 8 x 4\nquilt\n    across 2, down 3\n    tile\n        reef\n"
    text += "".join(f"    border {1 + n / 2:g} {cloths[n]}, mitred\n" for n in range(borders))
    made = holds(text.replace("1.5 ", "1 1/2 "))
    actions = [a for step in made.steps for a in step.actions]
    assert sum(isinstance(a, Mitre) for a in actions) == 4
    assert sum(b.rough for b in batches(made)) == (2 if borders > 1 else 0)


def test_cornerstones_beside_a_centre_on_point() -> None:
    text = HEAD.format(seam="1/4") + (
        "    finished 6\nquilt\n    across 2, down 2\n    setting on point, triangles rust\n    tile\n        reef\n"
        "        foam\n    border 2 kelp, cornerstones rust\n    border 3 foam\n"
    )
    made = holds(text)
    actions = [a for b in batches(made) for p in b.passages for a in p.actions]
    assert sum(isinstance(a, CutMeasured) for a in actions) == 1  # the strip between two cornerstones
    assert sum(isinstance(a, Join) and a.fit == "measured" for a in actions) == 6  # two sides, then four


def test_corner_triangles_are_centred_on_their_block() -> None:
    """Of a row of one block the triangles at its two ends are not cut larger by as much: its raw edge's middle is not
    that of the block."""
    made = holds(
        """pattern "Slack tide"
    units cm
    seam 0.7
    ruler 0.5
fabric ash
fabric bone
fabric clay
fabric dusk
unit u
    quarter-square ash, bone, clay, dusk
    method pairs of squares
    finished 17
quilt
    across 1, down 2
    tile
        u
    setting on point dusk
"""
    )
    fits = [a.fit for step in made.steps for a in step.actions if isinstance(a, Join)]
    assert fits.count("between") == 2


@pytest.mark.parametrize(("across", "down", "side"), [(1, 2, "6"), (2, 2, "5 1/2"), (3, 4, "6"), (4, 3, "4")])
@pytest.mark.parametrize("seam", ["1/8", "1/4"])
@pytest.mark.parametrize("tile", ["reef", "reef | foam", "reef turned 90\n        foam"])
def test_zigzag(across: int, down: int, side: str, seam: str, tile: str) -> None:
    text = (
        HEAD.format(seam=seam)
        + f"    finished {side}\nquilt\n    across {across}, down {down}\n    setting zigzag rust\n"
        + f"    tile\n        {tile}\n    border 2 kelp\n"
    )
    made = holds(text)
    trims = [a for step in made.steps for a in step.actions if isinstance(a, TrimBeyond)]
    assert any(a.ends is not None for a in trims) == (across > 1)


PIECED = """unit rim
    slices rust
    outline top left, top right, bottom left
    slice from 1/3 of top to 1/3 of edge 3, foam
    finished 6
unit level
    slices rust
    outline middle of top, bottom right, bottom left
    finished root(2)*6 x root(2)*3
    slice from 1/2 of edge 1 to 1/2 of edge 3, foam
    method foundation
unit spike
    slices rust
    outline middle of top, bottom right, bottom left
    finished 6 x 3
    slice from middle of bottom to middle of top, foam left
"""


@pytest.mark.parametrize(("across", "down"), [(1, 1), (3, 2)])
@pytest.mark.parametrize(
    "triangles", ["sides rim, corners spike", "sides level, corners foam", "sides rust, corners spike"]
)
@pytest.mark.parametrize("sashing", ["", "sashing 1 foam, cornerstones rust"])
def test_pieced_triangles_on_point(across: int, down: int, triangles: str, sashing: str) -> None:
    text = (
        HEAD.format(seam="1/4")
        + f"    finished 6\n{PIECED}quilt\n    across {across}, down {down}\n    setting on point, {triangles}\n"
        + f"    tile\n        reef\n    {sashing}\n    border 2 kelp\n"
    )
    holds(text)


@pytest.mark.parametrize(
    ("across", "down", "side", "seam", "sashing"),
    [
        (across, down, side, seam, f"{strip} foam{rest}")
        for (across, down), (side, strip), seam, rest in product(
            ((1, 1), (3, 2), (2, 3)),
            (("6", "1/2"), ("5 1/2", "1 3/4")),
            ("1/8", "1/4"),
            ("", ", cornerstones rust", ", inner", ", cornerstones rust, inner"),
        )
    ],
)
def test_sashing_on_point(across: int, down: int, side: str, seam: str, sashing: str) -> None:
    text = (
        HEAD.format(seam=seam)
        + f"    finished {side}\nquilt\n    across {across}, down {down}\n    setting on point kelp\n"
        + f"    tile\n        reef\n        foam\n    sashing {sashing}\n    border 2 kelp\n"
    )
    made = holds(text)
    assert sum(isinstance(a, TrimBeyond) for step in made.steps for a in step.actions) == 1
