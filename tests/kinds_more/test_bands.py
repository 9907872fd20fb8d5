"""Bands of segments that step down, trimmed along the steps. Every number is derived here."""

from __future__ import annotations

from math import ceil, sqrt

import msgspec
import pytest

from patternkit import api
from patternkit.lengths import ONE, ZERO, Length
from patternkit.piecing.batch import Action, TrimBand
from patternkit.piecing.making import Making, made_from
from patternkit.piecing.offset import area
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of

TEXT = """pattern "T"
    usable width 40
fabric a dark
fabric b medium
fabric c light
unit rung
    strips a 1 1/2 | c 1 1/2 | b 1 1/2 | c 1 1/2 | a 1 1/2
    finished 1 1/2 high
block ladder
    band rung
    finished 24 x 4
quilt
    across 1, down 2
    tile
        ladder
"""


def problems(text: str) -> list[str]:
    """What is wrong with a pattern."""
    return [p.message for p in api.check(Project("t.pattern", text)) if not p.advice]


def ladder(text: str = TEXT) -> Making:
    """The band of a pattern."""
    return Project("t.pattern", text).makings["ladder"]


def test_segments_cover_the_band_and_no_fewer_are_taken_than_it_needs() -> None:
    made = ladder()
    shown = [area(part.outline) for part in made.parts]
    assert sum(shown, ZERO) == Length(96)
    assert all(piece > 0 for piece in shown)
    # the raw band, 24 1/2 x 4 1/2, reaches 29 / sqrt 2 across segments of 1 1/2, the outer ones with a seam more
    assert len(made_from(made)) == ceil((29 / sqrt(2) - 0.5) / 1.5) == 14


def test_seams_between_segments_stand_at_45_degrees() -> None:
    for seam in ladder().seams:
        (ax, ay), (bx, by) = seam.start, seam.end
        assert abs(bx - ax) == abs(by - ay)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("band rung", "band rung turned 270"),
        ("        ladder\n", "        ladder mirrored | ladder\n"),
        (
            "a 1 1/2 | c 1 1/2 | b 1 1/2 | c 1 1/2 | a 1 1/2\n    finished 1 1/2 high\nblock ladder\n    band rung",
            "a 2 | c 1 | b 2 | c 3\n    finished 1 1/2 high\nblock ladder\n    band rung\n    stagger 1 1/2",
        ),
    ],
)
def test_orders_hold(old: str, new: str) -> None:
    text = TEXT.replace(old, new)
    assert old in TEXT
    assert problems(text) == []
    order, designs = order_of(Project("t.pattern", text))
    assert rehearse(order, designs) == ()


def test_a_booklet_tells_it_and_a_rehearsal_notices_another_step() -> None:
    made = Project("t.pattern", TEXT)
    text = api.files(made, formats=("md",))["t.md"].decode()
    assert "each 1 1/2 in lower than the one before" in text
    assert "Trim the band to 24 1/2 x 4 1/2 in" in text
    order, designs = order_of(made)
    n, step = next((n, s) for n, s in enumerate(order.steps) if s.thing.key.of == "ladder")
    batch, times = step.batches[0]

    def otherwise(action: Action) -> Action:
        if isinstance(action, TrimBand):
            return msgspec.structs.replace(action, height=action.height - ONE / 4)
        return action

    passages = tuple(msgspec.structs.replace(p, actions=tuple(otherwise(a) for a in p.actions)) for p in batch.passages)
    changed = msgspec.structs.replace(step, batches=((msgspec.structs.replace(batch, passages=passages), times),))
    steps = (*order.steps[:n], changed, *order.steps[n + 1 :])
    assert rehearse(msgspec.structs.replace(order, steps=steps), designs)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("finished 24 x 4", "finished 24 x 5", "there is room for about 4 1/8 in"),
        ("finished 1 1/2 high", "finished 2 high", "does not run at 45 degrees"),
        ("b 1 1/2", "b 2", "not equally wide"),
        ("band rung", "band a", "no segment of strips"),
        ("    finished 1 1/2 high", "    slant 45\n    cut 2", "no segment of strips"),
        ("band rung", "band rung\n    stagger", "stagger"),
        ("band rung", "band rung\n    stagger 0", "more than nothing"),
        ("band rung", "band rung, a", "takes 1"),
    ],
)
def test_what_is_no_band(old: str, new: str, told: str) -> None:
    assert any(told in message for message in problems(TEXT.replace(old, new)))


def test_the_word_stays_free_as_a_name() -> None:
    assert problems(TEXT.replace("fabric a dark", "fabric band dark").replace("a 1 1/2", "band 1 1/2")) == []
