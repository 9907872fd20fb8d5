"""Half-squares from the waste of flipped corners, against printed sizes and the rehearsal."""

from __future__ import annotations

from math import sqrt

import pytest

from patternkit.checks import run
from patternkit.plan.counts import counts
from patternkit.plan.lines import widths_of
from patternkit.project import Project
from patternkit.rehearsal.gaps import gap_text
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of

HEAD = 'pattern "Gulls"\n    units {units}\n    seam {seam}\nfabric gull dark\nfabric mist light\nfabric buoy\n'
GOOSE = "unit goose\n    flying-geese gull, mist\n    finished {w} x {h}\n{more}"
HALF = "unit goose\n    half-square gull, mist\n    finished {w}\n"
CHICK = "unit chick\n    bonus goose\n    finished {f}\n"
QUILT = "block flock\n    rows\n        goose\n        {row}\nquilt\n    across 2, down 2\n    tile\n        flock\n"


def project(f: str, row: str, w: str = "4", h: str = "2", more: str = "", units: str = "inches", seam: str = "1/4",
            goose: str = GOOSE) -> Project:  # fmt: skip
    text = HEAD.format(units=units, seam=seam) + goose.format(w=w, h=h, more=more) + CHICK.format(f=f)
    return Project("gulls", text + QUILT.format(row=row))


def problems(found: Project) -> list[str]:
    return [p.message for p in run(found) if not p.advice]


@pytest.mark.parametrize(("square", "measures"), [("2 1/2", 1.5), ("3 1/2", 2.5)])
def test_what_comes_of_printed_squares(square: str, measures: float) -> None:
    """Squares of 2 1/2 give 1 1/2 in, of 3 1/2 give 2 1/2 in as they lie on the table (https://devotedquilter.com,
    bonus half-squares of stitch-and-flip geese); exactly it is the square less 2 root 2 seams."""
    h = eval(square.replace(" ", "+")) - 0.5
    found = project(f"{measures - 0.5}", "mist | chick | mist", w=f"{h * 2}", h=f"{h}")
    assert problems(found) == []
    recipe = found.makings["chick"].recipe
    assert recipe.sewn is not None and recipe.trim_to is not None
    assert float(recipe.trim_to[0]) == measures
    assert float(recipe.sewn[0]) == pytest.approx(h + 0.5 - sqrt(2) / 2)
    assert recipe.cuts == ()  # it costs no cloth


@pytest.mark.parametrize(
    ("way", "each"),
    [
        (GOOSE, 2),
        ("unit goose\n    flying-geese gull, mist\n    finished {w} x {h}\n    method oversize\n{more}", 2),
        ("unit goose\n    flipped-corners gull, mist\n    corner 2\n    at top left\n    finished {w} x 3\n{more}", 1),
        ("unit goose\n    flipped-corners gull, mist\n    corner 2\n    finished {w} x 4\n{more}", 4),
        ("unit goose\n    square-in-a-square gull, mist\n    finished {w}\n    method stitch and flip\n{more}", 4),
    ],
)
@pytest.mark.parametrize(("units", "seam"), [("inches", "1/4"), ("inches", "3/16"), ("cm", "0.75")])
def test_it_is_sewn_in_the_batches_of_the_unit(way: str, each: int, units: str, seam: str) -> None:
    scale = 2 if units == "cm" else 1
    way = (
        way.replace("corner 2", f"corner {2 * scale}").replace("x 3", f"x {3 * scale}").replace("x 4", f"x {4 * scale}")
    )
    found = project("1", "mist | chick | mist", f"{4 * scale}", f"{2 * scale}", units=units, seam=seam, goose=way)
    assert problems(found) == []
    order, designs = order_of(found)
    assert [gap.kind for gap in rehearse(order, designs)] == []
    top = found.top
    assert top is not None
    chick = next(c for c in counts([(top, 1)], widths_of(found.pattern)) if c.making.key.of == "chick")
    assert (chick.needed, chick.batches, chick.given) == (4, 0, 4 * each)


@pytest.mark.parametrize(
    ("f", "row", "goose", "said"),
    [
        ("1", "chick | chick | chick | chick", GOOSE, "The quilt needs 16 of chick, and the waste of goose gives 8."),
        ("1 3/8", "mist | chick | mist", GOOSE, "more than the waste gives"),
        ("1", "mist | chick", HALF, "no corner is cut off of goose"),
        ("1", "mist | chick", GOOSE.replace("{more}", "    method four at a time\n"), "no corner is cut off of goose"),
        ("1", "mist | chick", GOOSE.replace("mist", "mist, buoy"), "are not alike"),
    ],
)  # fmt: skip
def test_what_can_not_be_meant(f: str, row: str, goose: str, said: str) -> None:
    found = [p for p in run(project(f, row, goose=goose)) if not p.advice]
    assert any(said in p.message for p in found), [p.message for p in found]
    assert all(p.repairs for p in found if said in p.message)


def test_the_waste_of_a_unit_is_taken_for_one_unit() -> None:
    """Without the check the order would lack the half-squares of the other."""
    chickling = CHICK.format(f="1").replace("chick", "chickling")
    found = project("1", "chick | chickling | mist", goose=GOOSE + chickling)
    (told,) = [p for p in run(found) if not p.advice]
    assert (told.code, told.message) == (
        "not-enough-waste",
        "The quilt needs 4 of chickling, and the waste of goose gives 0.",
    )
    assert told.causes == ("The waste of goose is taken for chick.",)
    order, designs = order_of(found)
    assert {gap_text(gap) for gap in rehearse(order, designs)} == {
        "Step 2: chickling is taken 4 times, and only 0 are cut or made by then."
    }


def test_a_fabric_has_no_corners_that_are_cut_off() -> None:
    text = HEAD.format(units="inches", seam="1/4") + "block chick\n    bonus gull\n    finished 1\n"
    assert any("no corner is cut off of gull" in p for p in problems(Project("gulls", text)))
