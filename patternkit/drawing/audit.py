"""The geometry check of a drawing: nothing overlaps, nothing leaves the page, everything can be read."""

from __future__ import annotations

from patternkit.drawing.geometry import crosses_box, overlap
from patternkit.drawing.scene import (
    MOST_HIGH,
    MOST_WIDE,
    Arrow,
    Box,
    Lettering,
    Path,
    Scene,
    SymbolUse,
    bounds,
    flat,
    moved,
)
from patternkit.drawing.swatches import contrast, swatch_for

LEAST_SIZE = 6.0  # points on paper
LEAST_CONTRAST = 4.5  # https://www.w3.org/TR/WCAG22/#contrast-minimum
_SLACK = 0.15


def audit(scene: Scene) -> list[str]:
    """Everything wrong with a scene, in words; empty when it is sound.

    Text boxes are checked pairwise, against the drawing's edges and against arrows; sizes and contrast of texts; that
    symbols hold no text; that fabrics in one drawing differ in texture; that the drawing is not too large.
    """
    found = [
        f"symbol {name} holds text"
        for name, items in scene.symbols.items()
        if any(isinstance(s, Lettering) for s, _, _ in flat(items))
    ]
    texts = [(s, moved(s.box, dx, dy)) for s, dx, dy in flat(scene.items) if isinstance(s, Lettering)]
    arrows = [
        ((s.start[0] + dx, s.start[1] + dy), (s.end[0] + dx, s.end[1] + dy))
        for s, dx, dy in flat(scene.items)
        if isinstance(s, Arrow)
    ]
    page = (0.0, 0.0, scene.width, scene.height)
    for i, (text, box) in enumerate(texts):
        found += _reading(text)
        if not _within(box, page):
            found.append(f"{text.text!r} leaves the drawing: {_words(box)} in {_words(page)}")
        found += [
            f"{text.text!r} and {other.text!r} overlap" for other, room in texts[i + 1 :] if overlap(box, room, _SLACK)
        ]
        found += [
            f"an arrow runs through {text.text!r}"
            for a, b in arrows
            if crosses_box(a, b, (box[0] + 1, box[1] + 1, box[2] - 1, box[3] - 1))
        ]
    whole = bounds(scene.items, scene.symbols)
    if not _within(whole, page):
        found.append(f"shapes leave the drawing: {_words(whole)} in {_words(page)}")
    if not scene.true_size and (scene.width > MOST_WIDE + 0.5 or scene.height > MOST_HIGH + 0.5):
        found.append(f"the drawing is too large: {scene.width:g} x {scene.height:g}")
    if not scene.title.strip() or not scene.description.strip():
        found.append("the drawing has no title or no description")
    return found + _textures(scene)


def _reading(text: Lettering) -> list[str]:
    out = []
    if text.size < LEAST_SIZE:
        out.append(f"{text.text!r} is only {text.size:g} pt")
    ratio = contrast(text.ink, text.ground)
    if ratio < LEAST_CONTRAST:
        out.append(f"{text.text!r} has a contrast of {ratio:.1f} only")
    return out


def _textures(scene: Scene) -> list[str]:
    shapes = [s for items in (scene.items, *scene.symbols.values()) for s, _, _ in flat(items)]
    fabrics = sorted({s.fabric for s in shapes if isinstance(s, Path) and s.fabric})
    seen: dict[int, str] = {}
    out = []
    for fabric in fabrics:
        swatch = swatch_for(scene.swatches, fabric)
        shown = swatch.of or fabric  # prints of a group are shades of one texture
        if fabric in scene.swatches and seen.get(swatch.texture, shown) != shown:
            out.append(f"{fabric!r} and {seen[swatch.texture]!r} have the same texture")
        seen[swatch.texture] = shown
    missing = {s.name for s in shapes if isinstance(s, SymbolUse)} - set(scene.symbols)
    return out + [f"symbol {name} is not defined" for name in sorted(missing)]


def _within(box: Box, page: Box) -> bool:
    return (
        box[0] >= page[0] - _SLACK
        and box[1] >= page[1] - _SLACK
        and box[2] <= page[2] + _SLACK
        and box[3] <= page[3] + _SLACK
    )


def _words(box: Box) -> str:
    return "(" + ", ".join(f"{v:.1f}" for v in box) + ")"
