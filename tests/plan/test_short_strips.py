"""Strip units from cloths of unequal width: of the wider cloth several strips are cut from one, each as long as the
segments of a strip unit take."""

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
    """Counted by hand: so many whole segments of 3 in from what squaring up leaves of the narrower cloth; a short strip
    has what these take and the half inch for squaring up, as no more of it is in any segment. So many of these from
    one strip across the cloth, half an inch of which is for squaring up too."""
    kept = Fraction(1, 2)
    project = pattern(BODY.format(short=short, down=down), f"usable width {usable}", "spare 0")
    plan = planned(project)
    (count,) = (c for c in plan.counts if str(c.making.key) == "seg")
    lines = [x for x in plan.lines if x.fabric == "glow"]
    cloth = min(short, usable)
    from_one = int((cloth - kept) // 3)
    taken = 3 * from_one + kept
    length = {None: usable, SHORT_STRIP: taken, HALF_STRIP: (cloth - kept) / 2}
    assert all(x.cut.width == taken for x in lines if x.cut.name == SHORT_STRIP)
    # every strip unit has its strip of each cloth, at least as long as its segments together
    assert sum(x.count for x in lines) == sum(x.count for x in plan.lines if x.fabric == "scrap") == count.batches
    room = sum(x.count * int((min(length[x.cut.name], short) - kept) // 3) for x in lines)
    assert room >= 4 * down
    if all(x.cut.name == SHORT_STRIP for x in lines):
        assert usable - kept >= 2 * taken
        assert count.batches == ceil(Fraction(4 * down, from_one))
        assert plan.fabrics["glow"].used == 3 * ceil(Fraction(count.batches, (usable - kept) // taken))
    assert all(x.cut.name is not None for x in lines) == (usable - kept >= 2 * taken) or count.batches == 1


def test_ten_short_strips_from_twelve_inches() -> None:
    """40 segments of 3 in, 4 from each 14 in strip, which take 12 in of it: 10 short strips of 12 1/2 in, as half an
    inch of each is for squaring up; 3 of these from each 42 1/2 in strip, so 4 strips of 3 in."""
    text = BODY.format(short=14, down=10)
    plan = planned(pattern(text, "usable width 42 1/2", "spare 0"))
    assert plan.fabrics["glow"].used == 12
    (line,) = (x for x in plan.lines if x.fabric == "glow")
    assert (line.count, line.cut.width, line.cut.height) == (10, Fraction(25, 2), 3)
    assert problems(pattern(text, "usable width 42 1/2", glow="buy 1/3 yd")) == []
    assert "12 in" in objection(pattern(text, "usable width 42 1/2", glow="buy 1/4 yd"), "buy-short")


def test_no_longer_than_their_segments_take() -> None:
    """The same from 42 in of usable width: two strips as long as the narrower cloth is wide (14 in) would come from
    each strip, 15 in for ten of them; three of 12 1/2 in do, as 3 x 12 1/2 in is no more than the 41 1/2 in that
    squaring up leaves. 4 strips of 3 in are 12 in, a third of a yard."""
    text = BODY.format(short=14, down=10)
    assert planned(pattern(text, "usable width 42", "spare 0")).fabrics["glow"].used == 12
    assert problems(pattern(text, "usable width 42", glow="buy 1/3 yd")) == []


def test_short_strips_are_named_in_the_booklet() -> None:
    project = sound(pattern(BODY.format(short=14, down=10), "usable width 42 1/2"))
    text = next(iter(patternkit.files(project, formats=("md",)).values())).decode()
    assert "| 4 strips, 3 in high | A1: 3 of 12 1/2 x 3 in (1 from the last) | 10 | short strips of seg |" in text
