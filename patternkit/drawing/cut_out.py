"""A strip unit with the shapes that are cut out of it, as the template is laid on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from patternkit.document import Drawing
from patternkit.drawing.layout import ROOM, picture, scene_of
from patternkit.drawing.look import LOOK, Look
from patternkit.drawing.pieces import edge_of, fabric_words
from patternkit.drawing.scene import INK, SOFT, Path, Pt, Scene, Shape, line
from patternkit.drawing.svg import finished
from patternkit.drawing.swatches import Swatch, swatch_for

_CUT = 1.3
"""Width of the lines along which is cut."""


def cut_out_scene(
    name: str,
    strips: Sequence[tuple[str, float]],
    length: float,
    outlines: Sequence[Sequence[Pt]],
    swatches: Mapping[str, Swatch],
    look: Look = LOOK,
) -> Scene:
    """The scene behind `draw_cut_out`."""
    scale = min((ROOM - 2 * _CUT) / max(length, 1e-6), 24.0)  # the line of a cut is as wide as it is drawn
    shapes: list[Shape] = []
    edges = [0.0]
    for fabric, high in strips:
        top, foot = edges[-1], edges[-1] + high * scale
        box = ((0.0, top), (length * scale, top), (length * scale, foot), (0.0, foot))
        edge = edge_of(swatch_for(swatches, fabric).colour)
        shapes.append(Path((box,), fabric=fabric, stroke=edge, width=0.5))
        edges.append(foot)
    shapes += [line((0.0, y), (length * scale, y), SOFT) for y, _ in pairwise(edges[1:])]
    loops = tuple(tuple((x * scale, y * scale) for x, y in ring) for ring in outlines)
    shapes.append(Path(loops, stroke=INK, width=_CUT))
    words = look.render(
        "cut_out.told",
        n=len(strips),
        fabrics=fabric_words([fabric for fabric, _ in strips], swatches, look),
        shapes=len(outlines),
    )
    return scene_of(picture(shapes), look.render("cut_out.title", name=name), words, swatches)


def draw_cut_out(
    name: str,
    strips: Sequence[tuple[str, float]],
    length: float,
    outlines: Sequence[Sequence[Pt]],
    swatches: Mapping[str, Swatch],
    look: Look = LOOK,
    *,
    key: str = "",
) -> Drawing:
    """A strip unit to scale: its strips from the top, each with how high it shows, how long it is, and the outlines of
    all shapes as they lie on it (inches, from its left upper corner)."""
    return finished(cut_out_scene(name, strips, length, outlines, swatches, look), look.key(key or f"cut-out-{name}"))
