"""Each keyword finds its kind without loading the others."""

from __future__ import annotations

import pytest

from patternkit.piecing.kinds import kind_of, kinds


@pytest.mark.parametrize("word", sorted(kinds()))
def test_each_keyword_finds_the_kind_that_the_whole_registry_has(word: str) -> None:
    assert type(kind_of(word)) is type(kinds()[word])


@pytest.mark.parametrize("word", ["", "base", "os.path", "nothing-of-the-kind", "asking"])
def test_other_words_find_nothing(word: str) -> None:
    assert kind_of(word) is None
