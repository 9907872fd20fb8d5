"""Lists, letters and sentences as all rooms write them."""

from __future__ import annotations

from patternkit.english import letters, listed, sentence, times


def test_lists_end_in_a_word() -> None:
    assert [listed(list("abc")[:n]) for n in range(4)] == ["", "a", "a and b", "a, b and c"]
    assert listed(["a", "b"], last="oder") == "a oder b"


def test_a_long_list_is_cut_short_with_how_many_more_there_are() -> None:
    assert listed(list("abcd"), 4) == "a, b, c and d"
    assert listed(list("abcdef"), 4) == "a, b, c and 3 more"


def test_letters_run_on_after_z() -> None:
    numbers = (0, 1, 25, 26, 27, 51, 52, 701, 702)
    assert [letters(n) for n in numbers] == ["A", "B", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA"]
    assert len({letters(n) for n in range(2000)}) == 2000


def test_clauses_and_counts_in_words() -> None:
    assert [sentence(x) for x in ("it is wide", "Is it?")] == ["It is wide.", "Is it?"]
    assert [times(n) for n in range(4)] == ["nowhere", "once", "twice", "3 times"]
