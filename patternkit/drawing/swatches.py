"""Swatches: every fabric a letter, a colour and a texture, so that a drawing reads in grey and without colour sight.

Contrast is worked out by the relative luminance and contrast ratio of the Web Content Accessibility Guidelines 2.2
(https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio); 4.5 to 1 is its least for text.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal

import msgspec

from patternkit.english import letters

Value = Literal["light", "medium", "dark", ""]

# Chosen for this project: sea, sand and harbour, told apart by value first and by hue second.
_DEFAULTS: dict[str, tuple[str, ...]] = {
    "light": ("#f3e3bf", "#d5e7e4", "#f2d5c9", "#e2e6c3", "#dcdcec", "#f6f0e4"),
    "medium": ("#5f9ea8", "#d59a4a", "#a3a85b", "#c27d86", "#8f8fbb", "#98a2a9"),
    "dark": ("#1f3f5b", "#7a2f3d", "#2f5d4e", "#4d3a66", "#6b4423", "#30363d"),
}
DARK_INK, LIGHT_INK = "#000000", "#ffffff"  # a softer black falls below 4.5 to 1 on some greens


class Swatch(msgspec.Struct, frozen=True):
    """One fabric as drawings show it: the name in the file, its letter, printed title, colour and number of texture.
    One print of a group is a shade `of` that, by its key."""

    key: str
    letter: str
    title: str
    colour: str
    value: Value = ""
    texture: int = 0
    of: str = ""

    @property
    def ink(self) -> str:
        """Black or white, whichever can be read better on the colour."""
        return best_ink(self.colour)

    @property
    def mark(self) -> str:
        """The colour of the texture's marks: the ground made darker, or lighter on a dark ground, just enough to
        see."""
        return _apart(self.colour, 1.75)

    @property
    def back(self) -> str:
        """The colour of the wrong side: the ground with a good deal of white."""
        return blend(self.colour, "#ffffff", 0.68)


def channels(colour: str) -> tuple[int, int, int]:
    """Red, green and blue, 0 to 255, of a colour written ``#rgb`` or ``#rrggbb``; middle grey for anything else."""
    digits = colour[1:] if colour[:1] == "#" else ""
    if len(digits) == 3:
        digits = "".join(d + d for d in digits)
    try:
        if len(digits) == 6:
            return int(digits[0:2], 16), int(digits[2:4], 16), int(digits[4:6], 16)
    except ValueError:
        pass
    return 150, 154, 160


def plain_colour(colour: str) -> str:
    """The colour as ``#rrggbb``, whatever was written."""
    return "#{:02x}{:02x}{:02x}".format(*channels(colour))


def luminance(colour: str) -> float:
    """Relative luminance, 0 for black to 1 for white."""
    linear = [v / 255 / 12.92 if v / 255 <= 0.04045 else ((v / 255 + 0.055) / 1.055) ** 2.4 for v in channels(colour)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours, 1 to 21."""
    a, b = sorted((luminance(one), luminance(other)))
    return (b + 0.05) / (a + 0.05)


def best_ink(ground: str) -> str:
    """Black or white, whichever stands out more on a ground (never below 4.5 to 1)."""
    return max((DARK_INK, LIGHT_INK), key=lambda ink: contrast(ink, ground))


def blend(colour: str, other: str, share: float) -> str:
    """A colour with a share (0 to 1) of another mixed in."""
    mixed = (round(a + (b - a) * share) for a, b in zip(channels(colour), channels(other), strict=False))
    return "#{:02x}{:02x}{:02x}".format(*mixed)


def _apart(colour: str, ratio: float) -> str:
    other = "#000000" if luminance(colour) > 0.18 else "#ffffff"
    for step in range(1, 21):
        made = blend(colour, other, step / 20)
        if contrast(made, colour) >= ratio:
            return made
    return other


def value_of(colour: str) -> Value:
    """Light, medium or dark, by the colour's luminance (thirds of its square root, near what the eye sees)."""
    seen = luminance(colour) ** 0.5
    return "light" if seen > 0.72 else "medium" if seen > 0.38 else "dark"


def assign(fabrics: Iterable[tuple[str, str, str, str]]) -> dict[str, Swatch]:
    """Swatches by name for fabrics given in order as (name, printed title, colour or "", value or "").

    Letters and textures go by that order; a fabric without a colour gets the next default of its value (medium when it
    has none). The same list always gives the same swatches.
    """
    used = {"light": 0, "medium": 0, "dark": 0}
    found: dict[str, Swatch] = {}
    for index, (key, title, colour, stated) in enumerate(fabrics):
        value: Value = stated if stated in ("light", "medium", "dark") else ""  # type: ignore[assignment]
        if not colour:
            shelf = value or "medium"
            colour = _DEFAULTS[shelf][used[shelf] % len(_DEFAULTS[shelf])]
            used[shelf] += 1
        colour = plain_colour(colour)
        found[key] = Swatch(key, letters(index), title or key, colour, value or value_of(colour), index)
    return found


def swatch_for(swatches: Mapping[str, Swatch], fabric: str) -> Swatch:
    """The fabric's swatch; a grey one marked "?" for a fabric nobody listed (so that a faulty file still draws)."""
    return swatches.get(fabric) or Swatch(fabric, "?", fabric, "#c9ccd1", "", 0)
