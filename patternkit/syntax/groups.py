"""Groups of prints: how a line names one, and what is bought of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import msgspec

from patternkit.source import Span
from patternkit.syntax import statements as st
from patternkit.syntax.lexer import trouble

EACH = "from each"
"""What the grammar gives for the words that say so much of each print."""


def fabrics(parts: Sequence[Any], fabric: Callable[[Sequence[Any]], st.FabricHead], whole: Span) -> st.FabricHead:
    """``fabrics shore "Shore prints" 12 medium``: the line of a `fabric`, and how many prints there are, of which
    group; raises Trouble where that is said twice."""
    counts = [part[1] for part in parts if type(part) is tuple and part[0] == "count"]
    if len(counts) > 1:
        raise trouble("said-twice", "This group is given twice how many prints it has.", whole)
    count, of = counts[0] if counts else (None, None)
    one = fabric([part for part in parts if type(part) is not tuple or part[0] != "count"])
    return msgspec.structs.replace(one, many=True, count=count, of=of)


def bought(parts: Sequence[Any], span: Span) -> st.BuyClaim:
    """An amount, the form in which it is sold if that is said, and whether it is of each print."""
    form = next((part for part in parts[1:] if part != EACH), "")
    return st.BuyClaim(parts[0], span, form, EACH in parts[1:])
