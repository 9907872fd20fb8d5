"""Strip units from cloths of unequal width: the long strip is cut to the short one's length, several from one."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from hypothesis import given, settings
from hypothesis import strategies as st

import patternkit
from patternkit.piecing.names import HALF_STRIP, SHORT_STRIP
from tests.published.desk import objection, pattern, planned, problems, sound

BODY = (
    "fabric scrap\n    sold as strips 3 x {short}\n\nunit seg\n    strips glow cut 3 | scrap cut 3\n    cut 3\n\n"
    "quilt\n    across 4, down {down}\n    tile\n        seg\n"
)


@settings(deadline=None, max_examples=25)
@given(st.integers(7, 42), st.integers(30, 45), st.integers(1, 20))
def test_as_many_short_strips_as_a_long_one_gives(short: int, usable: int, down: int) -> None:
    """Counted by hand: segments from a short strip, short strips wanted, so many from one strip across the cloth; half
    an inch of each strip unit, and of each strip that is cut into short ones, goes in squaring up."""
    kept = Fraction(1, 2)
    project = pattern(BODY.format(short=short, down=down), f"usable width {usable}", "spare 0")
    plan = planned(project)
    (count,) = (c for c in plan.counts if str(c.making.key) == "seg")
    lines = [x for x in plan.lines if x.fabric == "glow"]
    length = {None: usable, SHORT_STRIP: min(short, usable), HALF_STRIP: (min(short, usable) - kept) / 2}
    # every strip unit has its strip of each cloth, at least as long as its segments together
    assert sum(x.count for x in lines) == sum(x.count for x in plan.lines if x.fabric == "scrap") == count.batches
    room = sum(x.count * int((min(length[x.cut.name], short) - kept) // 3) for x in lines)
    assert room >= 4 * down
    if all(x.cut.name == SHORT_STRIP for x in lines):
        assert usable - kept >= 2 * short
        assert plan.fabrics["glow"].used == 3 * ceil(Fraction(count.batches, (usable - kept) // short))
    assert all(x.cut.name is not None for x in lines) == (usable - kept >= 2 * short) or count.batches == 1


def test_ten_short_strips_from_twelve_inches() -> None:
    """40 segments of 3 in, 4 from each 14 in strip: 10 short strips, 3 from each 42 1/2 in strip, so 4 strips of 3 in:
    half an inch is for squaring up."""
    text = BODY.format(short=14, down=10)
    plan = planned(pattern(text, "usable width 42 1/2", "spare 0"))
    assert plan.fabrics["glow"].used == 12
    (line,) = (x for x in plan.lines if x.fabric == "glow")
    assert (line.count, line.cut.width, line.cut.height) == (10, 14, 3)
    assert problems(pattern(text, "usable width 42 1/2", glow="buy 1/3 yd")) == []
    assert "12 in" in objection(pattern(text, "usable width 42 1/2", glow="buy 1/4 yd"), "buy-short")


def test_short_strips_are_named_in_the_booklet() -> None:
    project = sound(pattern(BODY.format(short=14, down=10), "usable width 42 1/2"))
    text = next(iter(patternkit.files(project, formats=("md",)).values())).decode()
    assert "3 of 14 x 3 in" in text and "10 of 14 x 3 in for short strips of seg" in text
