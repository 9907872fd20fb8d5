"""What made patterns tell a maker comes out when it is sewn."""

from __future__ import annotations

import pytest

from patternkit.rehearsal.gaps import gap_text

from .rehearsed import gaps
from .sound import pattern

KNOWN = {59, 108}
"""Seeds whose orders do not hold yet: each is a fault to be mended, and then taken from here."""


@pytest.mark.parametrize(
    "seed", [pytest.param(n, marks=pytest.mark.xfail(strict=True)) if n in KNOWN else n for n in range(160)]
)
def test_a_made_pattern_holds(seed: int) -> None:
    assert [gap_text(gap) for gap, _ in gaps(pattern(seed))] == []
