"""Methods drawn from the states of the table: what lies there, what is stitched and cut, which way up it ends."""

from __future__ import annotations

import pytest

from patternkit.drawing.from_states import Performed, can_draw, from_states, turns_of
from patternkit.drawing.layout import ROOM
from patternkit.drawing.look import LOOK
from patternkit.drawing.method_pictures import MethodPicture, panel_rows
from patternkit.drawing.scene import DASHED, Path, flat
from patternkit.drawing.swatches import assign
from patternkit.piecing.making import Making
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of

HEAD = 'pattern "Shingle"\nfabric night dark\nfabric glow light\n'
SWATCHES = assign((("night", "Night", "#1b2a49", "dark"), ("glow", "Glow", "#f4c95d", "light")))


def performed(unit: str) -> tuple[Making, Performed]:
    """A unit with what the table shows while it is sewn."""
    project = Project("shingle", HEAD + f"block u\n    {unit}\n    make 4\n")
    order, designs = order_of(project)
    done = rehearsal(order, designs)
    assert not done.gaps and not done.not_rehearsed
    states = tuple(done.outcomes[0, 0].performance.states)
    return designs[order.steps[0].thing], Performed(order.steps[0].batches[0][0], states, designs)


def pictures(unit: str) -> list[MethodPicture]:
    """Its pictures."""
    making, worked = performed(unit)
    assert can_draw(worked.batch)
    return from_states(making, worked, SWATCHES, LOOK)


def paths(picture: MethodPicture) -> list[Path]:
    """The lines and cloths of a picture."""
    return [s for s, _, _ in flat(picture.picture.items) if isinstance(s, Path)]


def stitches(picture: MethodPicture) -> int:
    """How many lines of stitching it shows."""
    return sum(p.dash == DASHED for p in paths(picture))


EIGHT, FOUR = "\n    method eight at a time", "\n    method four at a time"
PAIRS = "half-square night, glow\n    finished 3"
GEESE = "flying-geese night, glow\n    finished 4 x 2\n    method four at a time"


@pytest.mark.parametrize(
    ("unit", "words"),
    [
        (PAIRS, ["Cut the pieces", "Right sides together, draw the diagonal", "Cut on the drawn", "Open"]),
        (
            PAIRS + EIGHT,
            ["Cut the", "Right sides together, draw both", "Cut on the l", "Open"],
        ),
        (
            PAIRS + FOUR,
            ["Cut the", "Right sides together. Sew all round", "Cut on both", "Open"],
        ),
        (
            GEESE,
            ["Cut the", "Two small squares", "Cut on", "Open", "One more small", "Cut on the", "Open"],
        ),
        (
            "flipped-corners night, glow\n    finished 6\n    corner 2",
            ["Cut the", "A square on the corner", "Trim 1/4 in", "Open", "Sew, trim and flip", "Flip and press"],
        ),
    ],
)
def test_each_turn_of_work_has_a_picture_and_its_words(unit: str, words: list[str]) -> None:
    found = pictures(unit)
    assert [p.words[: len(w)] for p, w in zip(found, words, strict=True)] == words
    assert panel_rows(found).width <= ROOM


def test_stitches_are_those_of_the_table() -> None:
    assert [stitches(p) for p in pictures(PAIRS)] == [0, 2, 2, 0]  # one beside each half once it is cut apart
    assert stitches(pictures(PAIRS + EIGHT)[1]) == 4
    assert stitches(pictures(PAIRS + FOUR)[1]) == 4


def test_what_lies_face_down_shows_its_back() -> None:
    laid = paths(pictures(PAIRS)[1])
    cloths = [p for p in laid if p.fabric]
    assert [(p.fabric, p.wrong) for p in cloths] == [("night", False), ("glow", True)]


def test_a_series_ends_as_the_unit_is_drawn() -> None:
    """The goose points up in the drawing, so the half that is opened last has its point above."""
    making, worked = performed(GEESE)
    turns = turns_of(worked)
    assert len(turns) > 6
    last = from_states(making, worked, SWATCHES, LOOK)[-1]
    goose = next(p for p in paths(last) if p.fabric == "night" and len(p.loops[0]) == 3)
    ys = sorted(y for _, y in goose.loops[0])
    assert ys[1] == pytest.approx(ys[2], abs=2.0) and ys[0] < ys[1] - 10
