"""Log cabins whose logs are sewn already: each is as long as what it is sewn to."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of
from tests.setting.build import covers, seams_meet

TEXT = """fabric night dark
fabric glow light
fabric stone medium

unit rail
    strips night 1 | glow 1 | night 1
    finished 3 x 1

unit long
    strips glow 1 | night 2 | glow 1
    finished 4 x 1

block fence
    log-cabin stone 2
    logs glow, rail turned 90, rail, stone{more}

quilt
    tile
        fence | fence mirrored
"""


@pytest.mark.parametrize("more", ["\n    log 1", " 1, long", "\n    log 1\n    counterclockwise"])
def test_units_are_logs_as_they_lie(more: str) -> None:
    """The middle of 2 in, a log of 1 in and two rails of 3 in by 1 in make 4 in each way; one more log makes it 5 in
    high. Where logs go round the other way, the first rail lies at the left."""
    text = (
        TEXT.format(more=more) if "long" not in more else TEXT.format(more=more).replace("logs glow,", "logs glow 1,")
    )
    read = Project("t.pattern", text)
    assert [p.message for p in run(read) if not p.advice] == []
    order, designs = order_of(read)
    found = rehearsal(order, designs)
    assert ([*found.gaps], [*found.not_rehearsed]) == ([], [])
    fence = next(m for m in designs.values() if m.unit == "fence" and not m.key.mirrored)
    assert (fence.width, fence.height) == (4, 5 if "long" in more else 4)
    assert read.top is not None
    covers(read.top)
    seams_meet(read.top)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("rail turned 90, rail", "rail, rail turned 90", "is as long as what it is sewn to"),
        ("logs glow, rail turned 90, rail, stone", "round glow, rail, rail, stone", "stands for one log"),
        ("rail turned 90, rail,", "rail turned 90, rail 1,", "has a size of its own"),
        ("rail turned 90, rail,", "rail turned 90, rail laid,", "by laid"),
        ("log 1", "log 1\n    method foundation", "sewn from plain cloth"),
    ],
)
def test_what_is_no_log_is_told(old: str, new: str, words: str) -> None:
    text = TEXT.format(more="\n    log 1")
    assert old in text
    problems = [p for p in run(Project("t.pattern", text.replace(old, new))) if not p.advice]
    assert problems and any(words in " ".join((p.message, *p.causes)) for p in problems)
