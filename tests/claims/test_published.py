"""Whole patterns with every claim of their cutting that a page would print, worked out by hand from published yields.

Yields: 8 squares of 5 in and 4 of 10 in from a strip
(https://anniescatalog.com/quilting/content.html?content_id=804&scat_id=623&type_id=S), 9 of 2 1/2 x 4 1/2 from 42 in
(http://www.modernquiltingbyb.com/2015/02/single-block-quilt-tutorial-series.html), the segments of a set less one for
its end (http://www.equilters.com/library/mystery_quilts/myst-9patch-part4.html), corners of snowballs
(https://www.katiemaequilts.com/blog/snowball-fight-week-two), border strips joined end to end
(http://marinandcolusa.blogspot.com/2007/07/when-i-sew-long-border-or-binding.html).
"""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.project import Project
from tests.published.test_whole_patterns import NINE_PATCH, SNOWBALLS

OWN = ("pieces-", "strips-", "strip-units-", "finish-", "every-thread", "not-understood", "unknown")


def said(text: str) -> list[tuple[str, bool]]:
    """What is said of the claims: the code, and whether it is advice."""
    found = run(Project("p.pattern", text), guarded=False)
    return [(p.code, p.advice) for p in found if p.code.startswith(OWN)]


def claimed(text: str, *claims: tuple[str, str]) -> str:
    """A pattern with lines behind others."""
    for line, claim in claims:
        assert text.count(line) == 1, line
        text = text.replace(line, f"{line}\n    {claim}")
    return text


SNOWBALL_CLAIMS = (
    ("    buy 3 yd", "cut 25 strips 2 1/2"),  # 2 x 5 1/2 and 3 for the sets, 168 corners from 11 strips of 16
    ("    buy 2 1/8 yd", "cut 7 strips 6 1/2, 42 squares 6 1/2"),
    ("    make 84", "strip units 6, 16 from each"),
    ("light cut 2 1/2\n    cut 2 1/2", "strip units 3, 16 from each"),
    ("    flipped-corners light cut 6 1/2, dark cut 2 1/2", "cut 1 of 6 1/2 light, 4 of 2 1/2 dark"),
)
NINE_CLAIMS = (
    ("    buy 1 3/8 yd", "cut 31 squares 5"),
    ("    make 64", "strip units 4, 20 from each"),
    ("    cut 2\n    make 32", "strip units 2"),
    ("    cut 5\n    make 31", "cut 1 of 5 glow"),
)


def test_snowballs() -> None:
    text = claimed(SNOWBALLS, *SNOWBALL_CLAIMS)
    text = text.replace("border 3 dark", "border 3 dark, strips 6, sides cut 72 1/2, top cut 48 1/2")
    assert said(text) == []


def test_nine_patches() -> None:
    text = claimed(NINE_PATCH, *NINE_CLAIMS).replace("batting overage 3", "batting overage 3, cut 51 1/2 x 60 1/2")
    text = text.replace("border 2 glow", "border 2 glow, strips 4, sides cut 41, top cut 36")
    text = text.replace("backing back, panels 2", "backing back, panels 2, measures 53 1/2 x 62 1/2")
    assert said(text) == []


@pytest.mark.parametrize(
    ("right", "wrong", "code"),
    [
        ("cut 25 strips 2 1/2", "cut 24 strips 2 1/2", ("strips-differ", False)),
        ("cut 25 strips 2 1/2", "cut 26 strips 2 1/2", ("strips-more", True)),  # six sets of whole strips
        ("cut 7 strips 6 1/2, 42", "cut 6 strips 6 1/2, 42", ("strips-differ", False)),
        ("42 squares 6 1/2", "41 squares 6 1/2", ("pieces-differ", False)),
        ("strip units 6, 16", "strip units 5, 16", ("strip-units-differ", False)),
        ("strip units 3, 16", "strip units 4, 16", ("strip-units-more", True)),
        ("4 of 2 1/2 dark", "3 of 2 1/2 dark", ("pieces-differ", False)),
        ("4 of 2 1/2 dark", "5 of 2 1/2 dark", ("pieces-more", True)),
    ],
)
def test_each_changed_by_one_is_noticed(right: str, wrong: str, code: tuple[str, bool]) -> None:
    text = claimed(SNOWBALLS, *SNOWBALL_CLAIMS)
    assert text.count(right) == 1
    assert code in said(text.replace(right, wrong))
