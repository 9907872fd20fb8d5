"""The benchmark measures the same work on both sides."""

from __future__ import annotations

import pytest

from patternkit.bench.sizes import main, patternkit_way, plain_way, quilt


@pytest.mark.parametrize("planted", [True, False])
def test_both_ways_find_what_was_planted(planted: bool) -> None:
    given = quilt(3, 3, planted)
    # a wrong claim that is put in first contradicts several others; held against the pieces it does so once
    assert patternkit_way(given) == int(planted)
    assert (plain_way(given) > 0) == planted
    assert len(quilt(162, 3)) >= 5000


def test_it_prints_a_line_for_each_system(capsys: pytest.CaptureFixture[str]) -> None:
    main()
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == 3 and all("ratio" in line for line in lines)
