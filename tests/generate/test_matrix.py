"""Every kind takes every seam and ruler: each with one of them here, all with all by the command."""

from __future__ import annotations

import pytest

from .kinds import MAKERS
from .matrix import MEASURES, wrong

KINDS = [word for word in sorted(MAKERS) if word != "cut-apart"]


@pytest.mark.parametrize("word", KINDS)
def test_a_kind_in_another_seam_and_ruler(word: str) -> None:
    assert wrong(word, "", MEASURES[KINDS.index(word) % len(MEASURES)]) == []
