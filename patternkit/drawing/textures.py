"""Textures: the marks that tell fabrics apart in grey.

Every texture is of another family (a line, a dot, a ring ...), never another's quarter turn, so that blocks may be
turned on the page and their fabrics keep looking like themselves. Sixteen families in three sizes give 48.
"""

from __future__ import annotations

from collections.abc import Callable

FAMILIES = (
    "plain",
    "dots",
    "slant",
    "pluses",
    "bars",
    "rings",
    "lattice",
    "dashes",
    "grid",
    "zigzag",
    "triangles",
    "crosses",
    "bricks",
    "squares",
    "waves",
    "beams",
)
_SIZES = (1.0, 1.7, 0.62)


def _line(d: str, width: float = 0.7) -> Callable[[str], str]:
    return lambda ink: f'<path d="{d}" fill="none" stroke="{ink}" stroke-width="{width}"/>'


def _shape(d: str) -> Callable[[str], str]:
    return lambda ink: f'<path d="{d}" fill="{ink}"/>'


def _rounds(r: float, filled: bool) -> Callable[[str], str]:
    def marks(ink: str) -> str:
        paint = f'fill="{ink}"' if filled else f'fill="none" stroke="{ink}" stroke-width="0.7"'
        return "".join(f'<circle cx="{c}" cy="{c}" r="{r}" {paint}/>' for c in (2, 6))

    return marks


_MARKS: dict[str, Callable[[str], str]] = {  # on a tile of 8 by 8
    "plain": lambda ink: "",
    "dots": _rounds(0.95, True),
    "slant": _line("M-1 1L1 -1M-1 5L5 -1M-1 9L9 -1M3 9L9 3M7 9L9 7"),
    "pluses": _line("M2 .5V3.5M.5 2H3.5M6 4.5V7.5M4.5 6H7.5", 0.8),
    "bars": _line("M0 2H8M0 6H8"),
    "rings": _rounds(1.4, False),
    "lattice": _line("M0 0L8 8M8 0L0 8"),
    "dashes": _line("M.6 2H3.6M4.6 6H7.6", 1.1),
    "grid": _line("M0 4H8M4 0V8"),
    "zigzag": _line("M-1 4L2 1L6 5L9 2M-1 8L2 5L6 9L9 6"),
    "triangles": _shape("M2 .6L3.7 3.4H.3ZM6 4.6L7.7 7.4H4.3Z"),
    "crosses": _line("M.8 .8L3.2 3.2M3.2 .8L.8 3.2M4.8 4.8L7.2 7.2M7.2 4.8L4.8 7.2", 0.8),
    "bricks": _line("M0 0H8M0 4H8M2 0V4M6 4V8", 0.8),
    "squares": _shape("M.8 .8H3.2V3.2H.8ZM4.8 4.8H7.2V7.2H4.8Z"),
    "waves": _line("M0 2Q2 -.5 4 2T8 2M0 6Q2 3.5 4 6T8 6", 0.8),
    "beams": _line("M-1 1L1 -1M-1 9L9 -1M7 9L9 7", 2.2),
}


def look_of(texture: int) -> tuple[str, float]:
    """The family and the size of a texture by its number; numbers beyond 48 begin again."""
    number = texture % (len(FAMILIES) * len(_SIZES))
    return FAMILIES[number % len(FAMILIES)], _SIZES[number // len(FAMILIES)]


def pattern(ident: str, texture: int, ground: str, ink: str, scale: float = 1.0) -> str:
    """An SVG pattern element that fills with the texture's marks on the ground colour; colours are trusted text."""
    family, size = look_of(texture)
    side = f"{8 * size * scale:g}"
    return (
        f'<pattern id="{ident}" patternUnits="userSpaceOnUse" width="{side}" height="{side}" viewBox="0 '
        f'0 8 8">'
        f'<rect width="8" height="8" fill="{ground}"/>{_MARKS[family](ink)}</pattern>'
    )
