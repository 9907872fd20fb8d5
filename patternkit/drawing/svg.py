"""From a scene to SVG text: every id carries the drawing's key, text stays text, and nothing is left unescaped."""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterable
from html import escape
from math import hypot

from patternkit.document import Drawing
from patternkit.drawing.scene import (
    PAPER,
    Arrow,
    Circle,
    Lettering,
    Path,
    Pt,
    Scene,
    Shape,
    ShapeGroup,
    SymbolUse,
    flat,
)
from patternkit.drawing.swatches import swatch_for
from patternkit.drawing.textures import look_of, pattern

FONTS = "Helvetica, Arial, sans-serif"
# What XML 1.0 does not allow, and marks that turn the reading direction of what follows
_UNFIT = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]|[\u202a-\u202e\u2066-\u2069]")


def clean(text: str) -> str:
    """Text as it may stand in XML: escaped, and without characters that XML does not allow."""
    return escape(_UNFIT.sub("\ufffd", text), quote=True)


def slug(text: str) -> str:
    """A name for files and ids: small letters, figures and hyphens; a check sum is added when anything was lost."""
    plain = re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")[:48].strip("-")
    return plain if plain == text else f"{plain or 'x'}-{zlib.crc32(text.encode('utf-8', 'replace')) & 0xFFFF:04x}"


def number(value: float) -> str:
    """A coordinate with at most two decimals."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _way(loops: Iterable[tuple[Pt, ...]], closed: bool) -> str:
    """Path data with steps relative to the point before, in hundredths, so that rounding never adds up."""
    out: list[str] = []
    for loop in loops:
        px, py = round(loop[0][0] * 100), round(loop[0][1] * 100)
        out.append(f"M{px / 100:g} {py / 100:g}")
        for x, y in loop[1:]:
            nx, ny = round(x * 100), round(y * 100)
            dx, dy = nx - px, ny - py
            if not dy:
                out.append(f"h{dx / 100:g}")
            elif not dx:
                out.append(f"v{dy / 100:g}")
            else:
                out.append(f"l{dx / 100:g} {dy / 100:g}")
            px, py = nx, ny
        if closed:
            out.append("z")
    return "".join(out)


class _Writer:
    def __init__(self, scene: Scene, key: str) -> None:
        self.scene, self.key = scene, key
        self.fabrics: dict[str, str] = {}  # fabric -> id of its pattern, in order of use

    def fill(self, path: Path) -> str:
        if not path.fabric:
            return path.fill
        swatch = swatch_for(self.scene.swatches, path.fabric)
        if path.wrong:
            return swatch.back
        if look_of(swatch.texture)[0] == "plain":
            return swatch.colour
        ident = self.fabrics.setdefault(path.fabric, f"{self.key}-f{len(self.fabrics)}")
        return f"url(#{ident})"

    def path(self, path: Path) -> str:
        stroke = (
            ' stroke="none"'
            if path.stroke == "none"
            else (f' stroke="{path.stroke}" stroke-width="{number(path.width)}"')
        )
        dash = f' stroke-dasharray="{" ".join(number(d) for d in path.dash)}"' if path.dash else ""
        return f'<path d="{_way(path.loops, path.closed)}" fill="{self.fill(path)}"{stroke}{dash}/>'

    def arrow(self, arrow: Arrow) -> str:
        (x0, y0), (x1, y1) = arrow.start, arrow.end
        long = hypot(x1 - x0, y1 - y0) or 1.0
        ux, uy, h = (x1 - x0) / long, (y1 - y0) / long, min(arrow.head, long)
        heads = [_head(x1, y1, ux, uy, h)] + ([_head(x0, y0, -ux, -uy, h)] if arrow.both else [])
        a = (x0 + ux * h * 0.8, y0 + uy * h * 0.8) if arrow.both else (x0, y0)
        shaft = _way([(a, (x1 - ux * h * 0.8, y1 - uy * h * 0.8))], False)
        tips = _way(heads, True)
        under = (
            f'<path d="{shaft}{tips}" fill="{PAPER}" stroke="{PAPER}" '
            f'stroke-width="{number(arrow.width + 2.2)}" '
            f'stroke-linejoin="round"/>'
            if arrow.light
            else ""
        )
        return (
            f'{under}<path d="{shaft}" fill="none" stroke="{arrow.ink}" '
            f'stroke-width="{number(arrow.width)}"/>'
            f'<path d="{tips}" fill="{arrow.ink}"/>'
        )

    def text(self, text: Lettering) -> str:
        turn = f' transform="rotate(-90 {number(text.x)} {number(text.y)})"' if text.turned else ""
        anchor = f' text-anchor="{text.anchor}"' if text.anchor != "start" else ""
        bold = ' font-weight="bold"' if text.bold else ""
        halo = (
            f' stroke="{text.ground}" stroke-width="{number(text.halo)}" stroke-linejoin="round" paint-order="stroke"'
            if text.halo
            else ""
        )
        return (
            f'<text x="{number(text.x)}" y="{number(text.y)}" font-size="{number(text.size)}"{anchor}{bold}'
            f' fill="{text.ink}"{halo}{turn}>{clean(text.text)}</text>'
        )

    def shape(self, shape: Shape) -> str:
        if isinstance(shape, Path):
            return self.path(shape) if any(shape.loops) else ""
        if isinstance(shape, Lettering):
            return self.text(shape)
        if isinstance(shape, Arrow):
            return self.arrow(shape)
        if isinstance(shape, Circle):
            return (
                f'<circle cx="{number(shape.x)}" cy="{number(shape.y)}" r="{number(shape.r)}" '
                f'fill="{shape.fill}" '
                f'stroke="{shape.stroke}" stroke-width="{number(shape.width)}"/>'
            )
        if isinstance(shape, SymbolUse):
            at = f' x="{number(shape.dx)}" y="{number(shape.dy)}"' if shape.dx or shape.dy else ""
            return f'<use href="#{self.key}-{shape.name}"{at}/>'
        inner = "".join(map(self.shape, shape.items))
        if not shape.dx and not shape.dy:
            return inner
        return f'<g transform="translate({number(shape.dx)} {number(shape.dy)})">{inner}</g>'


def _head(x: float, y: float, ux: float, uy: float, h: float) -> tuple[Pt, ...]:
    w = h * 0.4
    return (x, y), (x - ux * h - uy * w, y - uy * h + ux * w), (x - ux * h + uy * w, y - uy * h - ux * w)


def svg_text(scene: Scene, key: str) -> str:
    """The scene as one SVG element with a title and a description; `key` must be fit for an id."""
    writer = _Writer(scene, key)
    symbols = "".join(
        f'<g id="{key}-{name}">{"".join(map(writer.shape, items))}</g>' for name, items in scene.symbols.items()
    )
    body = "\n".join(filter(None, map(writer.shape, scene.items)))
    patterns = "".join(
        pattern(ident, s.texture, s.colour, s.mark, scene.texture_scale)
        for fabric, ident in writer.fabrics.items()
        for s in (swatch_for(scene.swatches, fabric),)
    )
    defs = f"<defs>{patterns}{symbols}</defs>\n" if patterns or symbols else ""
    w, h = number(scene.width), number(scene.height)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}pt" height="{h}pt" viewBox="0 0 {w} {h}" '
        f'role="img" '
        f'aria-labelledby="{key}-t {key}-d" font-family="{FONTS}" stroke-linejoin="round">\n'
        f'<title id="{key}-t">{clean(scene.title)}</title>\n<desc '
        f'id="{key}-d">{clean(scene.description)}</desc>\n'
        f"{defs}{body}\n</svg>\n"
    )


def finished(scene: Scene, key: str) -> Drawing:
    """The scene as a drawing of the document tree; `key` may be any text, and is made fit for file names and ids."""
    name = slug(key)
    return Drawing(
        name,
        svg_text(scene, name),
        scene.title,
        scene.description,
        scene.width,
        scene.height,
        scene.true_size,
    )


__all__ = ["FONTS", "ShapeGroup", "clean", "finished", "flat", "number", "slug", "svg_text"]
