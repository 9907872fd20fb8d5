"""The word that was probably meant."""

from __future__ import annotations

from collections.abc import Iterable


def distance(a: str, b: str, limit: int) -> int:
    """Slips between two words: a letter left out, put in, changed, or two neighbours swapped (the restricted
    Damerau-Levenshtein distance). Anything over `limit` is given as `limit` + 1."""
    if abs(len(a) - len(b)) > limit:
        return limit + 1
    before: list[int] = []
    last = list(range(len(b) + 1))
    for i, x in enumerate(a, 1):
        row = [i]
        for j, y in enumerate(b, 1):
            best = min(last[j] + 1, row[-1] + 1, last[j - 1] + (x != y))
            if i > 1 and j > 1 and x == b[j - 2] and a[i - 2] == y:
                best = min(best, before[j - 2] + 1)
            row.append(best)
        if min(row) > limit:
            return limit + 1
        before, last = last, row
    return last[-1]


def nearest(word: str, choices: Iterable[str]) -> str:
    """The choice with the fewest slips, at most a third of the word's letters and at least one; "" when none is near.

    Of several equally near, the one that starts with the same letter, then the first of the alphabet.
    """
    limit = max(1, len(word) // 3)
    best, found = (limit + 1, True, ""), ""
    if len(word) > 60 or len(word) < 2:
        return ""
    for choice in choices:
        slips = distance(word, choice, limit)
        if slips <= limit:
            key = (slips, choice[:1] != word[:1], choice)
            if key < best or not found:
                best, found = key, choice
    return found
