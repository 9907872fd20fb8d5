"""Which numbers a writer may ask for in her texts: ``{lantern.measures}``, ``{night.buy}``, ``{quilt.finished}``.

Only names stand here, so that a check may read them without loading the booklet.
"""

from __future__ import annotations

import re

ASKED = re.compile(r"\{([\w-]+)\.([a-z]+(?: [a-z]+)*)\}", re.IGNORECASE)
"""A number asked for in a text: a name, a dot, and a fact."""

UNIT_FACTS = ("measures", "finished", "count", "width", "height", "step", "name")
FABRIC_FACTS = ("buy", "name", "letter", "used")
QUILT_FACTS = ("measures", "finished", "across", "down", "width", "height", "blocks")
PATTERN_FACTS = ("seam", "title", "usable width")


def facts_of(name: str, *, units: object, fabrics: object) -> tuple[str, ...]:
    """The facts that may be asked of a name; `units` and `fabrics` are the names that there are (any container).

    Empty for a name that is none of them.
    """
    if name == "quilt":
        return QUILT_FACTS
    if name == "pattern":
        return PATTERN_FACTS
    if name in fabrics:  # type: ignore[operator]
        return FABRIC_FACTS
    return UNIT_FACTS if name in units else ()  # type: ignore[operator]
