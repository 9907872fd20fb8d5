"""The numbers that a text may ask for: ``{lantern.measures}``, ``{night.buy}``, ``{quilt.finished}``.

One list for the check that looks for slips and for the booklet that fills them in.
"""

from __future__ import annotations

import re

from patternkit.model.pattern import Pattern

ASKED = r"(?i:\{([a-z0-9-]+)\.([a-z ]+)\})"
"""A number asked for: a name, a dot, a fact; as a regular expression, which is read only where a text asks."""

BRACES = re.compile(r"\{[^{}\n]*\}?")
"""Whatever stands in braces, whether or not it is a number asked for."""

UNIT_FACTS = ("measures", "finished", "count", "width", "height")
FABRIC_FACTS = ("buy", "name", "letter")
QUILT_FACTS = ("measures", "finished", "across", "down")


def facts_of(pattern: Pattern, name: str) -> tuple[str, ...]:
    """What may be asked of a name; nothing where the pattern has no such name."""
    if name == "quilt":
        return QUILT_FACTS if pattern.quilt is not None else ()
    if name in pattern.fabrics:
        return FABRIC_FACTS
    return UNIT_FACTS if name in pattern.units else ()


def names_of(pattern: Pattern) -> list[str]:
    """Every name of which something may be asked."""
    return sorted([*(["quilt"] if pattern.quilt is not None else []), *pattern.fabrics, *pattern.units])
