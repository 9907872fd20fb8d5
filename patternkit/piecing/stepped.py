"""What a maker needs to know of a band whose segments step down."""

from __future__ import annotations

from patternkit.lengths import Length
from patternkit.piecing.making import Numbers


class Steps(Numbers, frozen=True):
    """How much `lower` each segment is than the one before, and the raw size that the band is trimmed to."""

    lower: Length
    width: Length
    height: Length
