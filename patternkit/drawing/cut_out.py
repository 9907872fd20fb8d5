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
    *,
    begins: Sequence[float] = (),
    words: str = "cut_out",
) -> Scene:
    """The scene behind `draw_cut_out`."""
    begins = begins or [0.0] * len(strips)
    left, long = min(begins), max(begins) - min(begins) + length
    scale = min((ROOM - 2 * _CUT) / max(long, 1e-6), 24.0)  # the line of a cut is as wide as it is drawn
    shapes: list[Shape] = []
    edges = [0.0]
    for (fabric, high), begin in zip(strips, begins, strict=True):
        top, foot = edges[-1], edges[-1] + high * scale
        x0, x1 = (begin - left) * scale, (begin - left + length) * scale
        box = ((x0, top), (x1, top), (x1, foot), (x0, foot))
        edge = edge_of(swatch_for(swatches, fabric).colour)
        shapes.append(Path((box,), fabric=fabric, stroke=edge, width=0.5))
        edges.append(foot)
    for n, (y, _) in enumerate(pairwise(edges[1:])):
        two = begins[n : n + 2]
        shapes.append(line(((max(two) - left) * scale, y), ((min(two) - left + length) * scale, y), SOFT))
    loops = tuple(tuple(((x - left) * scale, y * scale) for x, y in ring) for ring in outlines)
    shapes.append(Path(loops, stroke=INK, width=_CUT))
    description = look.render(
        f"{words}.told",
        n=len(strips),
        fabrics=fabric_words([fabric for fabric, _ in strips], swatches, look),
        shapes=len(outlines),
    )
    return scene_of(picture(shapes), look.render(f"{words}.title", name=name), description, swatches)


def draw_cut_out(
    name: str,
    strips: Sequence[tuple[str, float]],
    length: float,
    outlines: Sequence[Sequence[Pt]],
    swatches: Mapping[str, Swatch],
    look: Look = LOOK,
    *,
    key: str = "",
    begins: Sequence[float] = (),
    words: str = "cut_out",
) -> Drawing:
    """A strip unit to scale: its strips from the top, each with how high it shows, how long it is, and the outlines of
    all shapes as they lie on it (inches, from its left upper corner). `begins` is where each strip begins, where they
    are staggered; `words` is the key of what is said of the drawing."""
    scene = cut_out_scene(name, strips, length, outlines, swatches, look, begins=begins, words=words)
    return finished(scene, look.key(key or f"cut-out-{name}"))
