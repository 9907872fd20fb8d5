"""What is told of logs sewn round a centre, of papers, and of the marks at joints."""

from __future__ import annotations

import pytest

from patternkit import api
from patternkit.document import Callout

from .conftest import made, text_project
from .test_words import example, steps, words


def test_logs_tell_where_they_lie_and_what_each_round_measures() -> None:
    step = steps(made(example("log-cabin")))[0]
    text = words(step) + " ".join(b.text for b in step.blocks if isinstance(b, Callout))
    assert "sew log 1 to its top, log 2 to the right" in text
    # by hand: a centre of 2 in and logs of 1 in grow by 2 in a round; two seams of 1/4 in lie outside
    assert "4 1/2 x 4 1/2 in after log 4, 6 1/2 x 6 1/2 in after log 8 and 8 1/2 x 8 1/2 in after log 12" in text
    assert "Every log shows 1 in" in text
    assert "in pairs" not in text  # logs go on one by one


LOGS = """pattern "Round"
    units inches
    seam 1/4

fabric red "Red" medium #a84632
fabric glow "Glow" light #f5f2ea
fabric night "Night" dark #2b2b33

block steps "Steps"
    courthouse-steps red 2
    round glow, night
    rounds 2
    log 1
    {more}
    finished 6

quilt
    across 2, down 2
    all steps
"""


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ("start top", "logs 1 and 2 to its top and bottom, logs 3 and 4 to the left and right"),
        ("start left", "logs 1 and 2 to its left and right, logs 3 and 4 to the top and bottom"),
    ],
)
def test_steps_tell_where_the_pairs_lie(more: str, said: str) -> None:
    step = steps(api.make_booklet(text_project(LOGS.format(more=more))))[0]
    assert said in words(step)
    check = next(b.text for b in step.blocks if isinstance(b, Callout) and b.kind == "checkpoint")
    assert "4 1/2 x 4 1/2 in after log 4." in check


def test_papers_number_their_pieces_from_the_centre() -> None:
    step = steps(made(example("courthouse-steps")))[0]
    assert "(piece 1, the centre)" in words(step)
    assert not any(isinstance(b, Callout) and b.kind == "remedy" for b in step.blocks)
    assert "away from piece 1." in " ".join(words(s) for s in steps(made(example("leaves"))))


def test_every_mark_of_a_joint_is_explained() -> None:
    text = {name: str(made(example(name)).sections) for name in ("log-cabin", "courthouse-steps")}
    assert "A cross marks a joint" in text["log-cabin"]
    assert "A cross marks a joint" not in text["courthouse-steps"]  # all its joints lock


def test_rings_of_triangles_are_trimmed_beyond_their_points() -> None:
    """8 in finished over root 2 and two seams make 6.157 in, which no ruler says: the points do."""
    step = steps(made(example("economy")))[0]
    assert "Trim all round, 1/4 in beyond the points. Each further ring likewise." in words(step)
    assert "6 3/16" not in words(step)
    assert "(corner of ring 1)" in words(step)
