"""Joints in whole quilts: sashing and cornerstones, on-point rows, pieced and mitred borders, flat grids."""

from __future__ import annotations

from random import Random

import pytest

from patternkit.lengths import SQRT2, ZERO, Length
from patternkit.piecing.batch import Thing
from patternkit.piecing.keys import Key
from patternkit.piecing.making import Making, Place, Placed, Point, Seam, rectangle
from patternkit.pressing.conflicts import conflicts
from patternkit.pressing.joints import find_joints
from patternkit.pressing.words import SeamNames, conflict_words, place_words

from .builders import NO_RECIPE, column, half_square, inches, patch, point, quilt, row
from .random_quilts import unit
from .test_finder import counted, expected


def sashed(across: int, down: int, seed: int = 1) -> Making:
    """Blocks with sashing one inch wide, cornerstones where it crosses, and a border with corner squares."""
    rnd = Random(seed)
    kinds = [unit(rnd, i, True) for i in range(2)]
    bar, beam, post = patch("stone", 1, 4), patch("stone", 4, 1), patch("glow", 1, 1)
    lines: list[Making] = []
    for r in range(down):
        blocks = [(kinds[(r + c) % 2], 90 * rnd.randrange(4)) for c in range(across)]
        mixed = [x for b in blocks for x in (b, bar)][:-1]
        lines.append(row(f"blocks {r}", *mixed, pressed=("><" * across)[: len(mixed) - 1], role="row"))
        strip = [x for _ in blocks for x in (beam, post)][:-1]
        lines.append(row(f"sashing {r}", *strip, pressed=("<>" * across)[: len(strip) - 1], role="row"))
    centre = column("centre", *lines[:-1], pressed=">" * (len(lines) - 2), role="centre")
    w, h = centre.width, centre.height
    side, corner = patch("night", 2, h), patch("glow", 2, 2)
    middle = row("middle", side, centre, side, pressed="<>", role="row")
    top = row("top border", corner, patch("night", w, 2), corner, pressed="><", role="row")
    return column("quilt", top, middle, top, pressed="<>", role="quilt")


@pytest.mark.parametrize("seed", range(6))
def test_sashing_cornerstones_and_borders(seed: int) -> None:
    top = sashed(3, 2, seed)
    assert counted(top) == expected(top)


def test_cornerstones_nest_when_both_press_toward_the_sashing() -> None:
    """Rows toward their bars, sashing rows toward their beams: opposite ways at every cornerstone."""
    top = sashed(2, 2)
    bars = [
        c
        for c in conflicts(top, all_verdicts=True)
        if {str(c.joint.a.making.key)[:6], str(c.joint.b.making.key)[:6]} == {"blocks", "sashin"}
    ]
    assert sum(c.count for c in bars) == 4 and {c.verdict for c in bars} == {"nest"}
    corners = [c for c in conflicts(top, all_verdicts=True) if c.joint.making.key == Key("quilt")]
    assert sum(c.count for c in corners) == 4 and {c.verdict for c in corners} == {"nest"}


def on_point(rows: list[Making], key: str = "quilt") -> Making:
    """Rows of two-inch squares laid diagonally, each half a step on, without side triangles."""
    parts, seams = [], []
    step = SQRT2  # half the diagonal of a square
    for i, line in enumerate(rows):
        parts.append(Placed(line, Place(-step * i, step * i, 45)))
        if i:
            start: Point = (-step * i, step * i)
            width = min(line.width, rows[i - 1].width)
            end: Point = (start[0] + width * SQRT2 / 2, start[1] + width * SQRT2 / 2)
            seams.append(Seam(start, end, tuple(range(i)), (i,), "left"))
    size = inches(40)
    return Making(
        Key(key),
        key,
        "quilt",
        "on point",
        rectangle(size, size, -size / 2, ZERO),
        size,
        size,
        tuple(parts),
        tuple(seams),
        NO_RECIPE,
    )


@pytest.mark.parametrize("seed", range(8))
def test_on_point_rows_of_pieced_blocks(seed: int) -> None:
    rnd = Random(seed)
    kinds = [
        half_square("h", "night", "glow", 2, "left"),
        row("split", patch("night", 1, 2), patch("glow", 1, 2), pressed="<"),
        column("stack", patch("night", 2, 1), patch("glow", 2, 1), pressed=">"),
    ]
    rows = [
        row(
            f"row {i}",
            *((rnd.choice(kinds), 90 * rnd.randrange(4)) for _ in range(3)),
            pressed="<>",
            role="row",
        )
        for i in range(3)
    ]
    top = on_point(rows)
    assert counted(top) == expected(top)
    assert find_joints(top)


def test_on_point_rows_meet_exactly_where_corners_meet() -> None:
    rows = [row(f"row {i}", *[patch("night", 2, 2)] * 3, pressed=p, role="row") for i, p in enumerate(("<<", ">>"))]
    joints = find_joints(on_point(rows))
    assert [j.local for j in joints] == [(ZERO, SQRT2 * 2), (SQRT2, SQRT2 * 3)]
    assert {c.verdict for c in conflicts(on_point(rows), all_verdicts=True)} == {"nest"}


def flat(across: int, down: int, marks: list[str]) -> Making:
    """A grid as one making: first the seams within rows, then those between them."""
    parts, seams = [], []
    sides = {"<": "left", ">": "right"}
    for r in range(down):
        for c in range(across):
            parts.append(Placed(patch("night"), Place(inches(c), inches(r))))
            if c:
                first = r * across
                seams.append(
                    Seam(
                        point(c, r + 1),
                        point(c, r),
                        tuple(range(first, first + c)),
                        (first + c,),
                        sides[marks[r][c - 1]],
                    )
                )  # type: ignore[arg-type]
    for r in range(1, down):
        seams.append(
            Seam(
                point(0, r),
                point(across, r),
                tuple(range(r * across)),
                tuple(range(r * across, (r + 1) * across)),
                "right",
            )
        )
    w, h = Length(across), Length(down)
    return Making(Key("flat"), "flat", "block", "rows", rectangle(w, h), w, h, tuple(parts), tuple(seams), NO_RECIPE)


def test_a_flat_grid_and_nested_rows_agree() -> None:
    marks = ["<>", "><", "<<"]
    nested = column("rows", *(row(f"r{i}", *[patch("night")] * 3, pressed=m) for i, m in enumerate(marks)))
    grid = flat(3, 3, marks)
    assert counted(grid) == expected(grid)
    tally = [{c.verdict: c.count for c in conflicts(top, all_verdicts=True)} for top in (nested, grid)]
    assert sum(tally[0].values()) == sum(tally[1].values())
    assert [c.count for c in conflicts(grid) if c.verdict == "conflict"] == [
        c.count for c in conflicts(nested) if c.verdict == "conflict"
    ]


def test_adjacent_parts_alone_may_be_listed() -> None:
    """A seam may name only the parts that touch it."""
    import msgspec

    grid = flat(3, 2, ["<>", "<>"])
    seams = [msgspec.structs.replace(s, left=s.left[-1:]) if len(s.right) == 1 else s for s in grid.seams]
    assert len(find_joints(msgspec.structs.replace(grid, seams=tuple(seams)))) == len(find_joints(grid)) == 2


@pytest.mark.parametrize("bent", [True, False])
@pytest.mark.parametrize("right", [(0,), (0, 1)])
def test_a_set_in_mitre_stops_where_the_border_seams_end(bent: bool, right: tuple[int, ...]) -> None:
    """At the inner corner three seams end and nothing crosses; the stitching stops there."""
    four, one = inches(4), inches(1)
    centre = patch("night", 4, 4)
    top = Placed(_cloth(((-one, -one), (four + 1, -one), (four, ZERO), (ZERO, ZERO))))
    left = Placed(_cloth(((-one, -one), (ZERO, ZERO), (ZERO, four), (-one, four + 1))))
    seams = (
        Seam(point(0, 0), point(4, 0), (1,), (0,), "left"),
        Seam(point(0, 4), point(0, 0), (2,), right, "left"),
    )
    mitre = Seam(
        (ZERO, ZERO),
        (-one, -one),
        (2,),
        (1,),
        "open",
        set_in=True,
        path=((ZERO, ZERO), (-one / 2, -one / 2), (-one, -one)) if bent else (),
    )
    making = Making(
        Key("mitred"),
        "mitred",
        "quilt",
        "",
        rectangle(inches(6), inches(6), -one, -one),
        inches(6),
        inches(6),
        (Placed(centre), top, left),
        (*seams, mitre),
        NO_RECIPE,
    )
    assert find_joints(making) == []
    import msgspec

    plain = msgspec.structs.replace(mitre, set_in=False, path=())
    assert find_joints(msgspec.structs.replace(making, seams=(*seams, plain))) == []


def _cloth(outline: tuple[Point, ...]) -> object:
    from patternkit.piecing.making import Cloth

    return Cloth("stone", outline)


def test_places_in_words() -> None:
    pieces = [column("pair", patch("night", 6, 3), patch("glow", 6, 3), pressed="<"), patch("stone", 6, 6)]
    grid = [[patch("stone", 6, 6)] * 3, [patch("stone", 6, 6)] * 3, [pieces[1], pieces[0], pieces[0]]]
    top = quilt(grid, pressed=">", between=">")
    found = conflicts(top)
    (own,) = [c for c in found if c.joint.a.making.key == Key("pair")]
    assert place_words(own.joint, top) == "third row, between the second and third unit, 3 in from the top"
    words = conflict_words(own, top, names=SeamNames(top))
    assert "meets itself" in words and "both allowances lie the same way" in words
    between = [c for c in found if c.joint.making is top]
    assert place_words(between[0].joint, top) == "between the first and second row, 6 in from the left"
    assert sum(c.count for c in between) == 4


def test_equal_conflicts_are_counted_once() -> None:
    block = column("block", patch("night", 2, 1), patch("glow", 2, 1), pressed="<")
    top = quilt([[block] * 4] * 3, pressed="<", between=">")
    (own,) = [c for c in conflicts(top) if c.joint.a.key == (Thing(Key("block")), 0)]
    assert own.count == 9 and len(own.joints) == 9 and own.repair is not None and own.repair.how == "turn"


def test_the_cheapest_repair_saves_the_most() -> None:
    from patternkit.pressing.conflicts import loss

    rows = [row(f"r{i}", patch("n"), patch("n"), pressed=p, role="row") for i, p in enumerate((">", ">", "<"))]
    top = column("quilt", *rows)
    (only,) = conflicts(top)
    assert only.repair is not None and only.repair.how == "turn over" and only.repair.seams == ((Thing(Key("r0")), 0),)
    joints = find_joints(top)
    before = loss(joints)
    after = loss(joints, {(Thing(Key("r0")), 0): only.repair.to})
    assert before - after == only.repair.saves == before
