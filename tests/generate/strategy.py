"""Made patterns as a hypothesis strategy: fewer features are simpler, and so are lower seeds."""

from __future__ import annotations

from hypothesis import strategies as st

from .sound import tried
from .whole import FEATURES

SEEDS = 10_000


def patterns(features: frozenset[str] = frozenset(FEATURES)) -> st.SearchStrategy[str]:
    """The texts of sound patterns with some of these features; a failing one shrinks to few features first."""
    chosen = st.sets(st.sampled_from([f for f in FEATURES if f in features])).map(frozenset)
    return st.tuples(chosen, st.integers(0, SEEDS)).map(_text).filter(bool)


def _text(drawn: tuple[frozenset[str], int]) -> str:
    try:
        return tried(drawn[1], drawn[0])[0]
    except LookupError:
        return ""
