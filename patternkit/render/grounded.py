"""Textures on paper: their ground is painted under them, so that no light shows where the tiles meet.

A viewer smooths the edges of every tile of a texture by itself, and between two smoothed edges a hairline of what lies
below is seen. With the texture's own ground below, there is nothing to see.
"""

from __future__ import annotations

import re

_PATTERN = re.compile(r'<pattern id="([^"]+)"[^>]*><rect[^>]* fill="(#[0-9a-fA-F]{3,8})"')
_FILLED = re.compile(r'<path d="([^"]*)" fill="url\(#([^)"]+)\)"')


def grounded(svg: str) -> str:
    """A cleaned drawing in which every path filled with a texture stands on the same path in its ground colour.

    A texture whose first mark is no plain rectangle, and anything but a path, is left as it is.
    """
    grounds = dict(_PATTERN.findall(svg))

    def under(found: re.Match[str]) -> str:
        ground = grounds.get(found[2])
        return f'<path d="{found[1]}" fill="{ground}"/>{found[0]}' if ground else found[0]

    return _FILLED.sub(under, svg) if grounds else svg
