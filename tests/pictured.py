"""The pictures of the reference, each drawn from the example above it: none is ever older than the language.

    python -m tests.pictured

draws those that `grammar/reference.md` asks for by a line `![...](pictures/NAME.svg)`, and small ones of those by which
its first section is searched (`<img src="pictures/small/NAME.svg" ...>`); others are taken away.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from msgspec import structs

from patternkit.drawing.layout import ROOM, Picture, below, caption, fabric_key, scene_of, wrap
from patternkit.drawing.making import making_picture
from patternkit.drawing.pieces import Leaves
from patternkit.drawing.scene import PAPER
from patternkit.drawing.scene import Path as Outline
from patternkit.drawing.svg import finished
from patternkit.drawing.swatches import Swatch, assign
from patternkit.drawing.varied import with_shades
from patternkit.piecing.making import Making
from patternkit.plan.finishing import corner_radius
from patternkit.project import Project

GRAMMAR = Path(__file__).parents[1] / "grammar"
REFERENCE = GRAMMAR / "reference.md"
PICTURES = GRAMMAR / "pictures"

SIDE = 92.0
"""How high and wide a unit is drawn, in points; a quilt half as much again."""

COLOURS = {
    "night": "#2f4468",
    "glow": "#f3cf6e",
    "stone": "#a9b3bd",
    "sand": "#e8dcc2",
    "sea": "#5b98a4",
    "sky": "#bcd9e8",
    "red": "#b5473c",
    "plum": "#76466b",
    "rose": "#d98c99",
    "plain": "#f6f1e6",
}
"""What the fabrics of the examples look like where an example does not say."""

UNITS = {
    "lantern": "block lantern(lit, side)\n    patch lit\n    finished side",
    "post": "unit post\n    patch night\n    finished 1 x 3",
    "lamp": "unit lamp\n    patch glow\n    finished 1 x 3",
    "wall": "unit wall\n    patch night\n    finished 3",
}
"""What the examples speak of and leave out."""


def whole(example: str) -> str:
    """An example with fabrics and units for the names that it does not give itself."""
    given = set(re.findall(r"^(?:fabrics?|unit|block|let) ([\w'-]+)", example, re.M))
    before = [f"fabric {name} {colour}" for name, colour in COLOURS.items() if name not in given]
    for name, text in UNITS.items():
        if name not in given:
            before.append(
                text
                if f"{name}(" in example
                else text.replace("(lit, side)", "").replace("lit", "red").replace(" side", " 9")
            )
    return "\n".join([*before, "", example])


def asked(text: str) -> Iterator[tuple[str, str, str]]:
    """Name, alternative text and example of each picture that a page asks for: the last example above the line."""
    example = ""
    for found in re.finditer(r"```pattern\n(.*?)```|^!\[([^\]]*)\]\(pictures/([\w-]+)\.svg\)$", text, re.S | re.M):
        if found[3]:
            yield found[3], found[2], example
        else:
            example = found[1]


def small(text: str) -> set[str]:
    """The names of the pictures that a page shows small, to be found by."""
    return set(re.findall(r'<img src="pictures/small/([\w-]+)\.svg"', text))


def drawn(name: str, alt: str, example: str) -> str:
    """The picture of an example as SVG: its quilt, or its units and blocks side by side with their names."""
    shown, used, swatches, rounded = _of(example)
    side = SIDE * (1 if shown[0][0] else 1.5)
    body = wrap([_named(called, making, swatches, side, rounded) for called, making in shown], ROOM, 18.0, 10.0, 1.0)
    key = fabric_key(used, swatches, max(body.width, 220.0))
    return _page(below([body, key], 8.0), name, alt, swatches)


def drawn_small(name: str, alt: str, example: str) -> str:
    """The last unit of an example, or its quilt, without any lettering."""
    shown, _, swatches, rounded = _of(example)
    making = shown[-1][1]
    scale = SIDE / max(float(making.width), float(making.height))
    return _page(
        making_picture(making, swatches, scale, with_letters=False, rounded=rounded)[0], f"{name}-small", alt, swatches
    )


def _read(_: str, path: str) -> tuple[str, str]:
    """What an example includes: nothing, or the drawing that it speaks of."""
    drawing = GRAMMAR.parent / "examples" / "traditional" / "drawings" / path
    return path, drawing.read_text("utf-8") if drawing.suffix == ".svg" else ""


def _of(example: str) -> tuple[list[tuple[str, Making]], list[str], dict[str, Swatch], float]:
    """What an example shows, by name (a quilt has none), the fabrics in it, their swatches, and the radius of its
    corners."""
    project = Project("reference.pattern", whole(example), reader=_read)
    top = project.top if re.search(r"^quilt\b", example, re.M) else None
    shown = [("", project.pressed_top or top)] if top else list(_units(project.makings, example))
    fabrics = project.pattern.fabrics
    cloth = {leaf.fabric.partition("(")[0] for _, making in shown for leaf in Leaves().of(making)}
    used = [f for f in fabrics.values() if f.key in cloth or f.called in cloth]
    swatches = with_shades(assign((f.key, f.title, f.colour, f.value) for f in used), fabrics)
    rounded = float(corner_radius(project.pattern)) if top else 0.0
    return shown, [f.key for f in used], swatches, rounded


def _page(body: Picture, name: str, alt: str, swatches: dict[str, Swatch]) -> str:
    """A picture on white, as SVG."""
    scene = scene_of(body, name.replace("-", " "), alt, swatches, {}, texture_scale=0.6)
    corners = ((0.0, 0.0), (scene.width, 0.0), (scene.width, scene.height), (0.0, scene.height))
    ground = Outline((corners,), fill=PAPER, stroke="none", width=0.0)
    return finished(structs.replace(scene, items=(ground, *scene.items)), f"reference-{name}").svg


def _units(makings: Mapping[str, Making], example: str) -> Iterator[tuple[str, Making]]:
    for named in re.findall(r"^(?:unit|block) ([\w'-]+)", example, re.M):
        for called, making in makings.items():
            if re.fullmatch(rf"{re.escape(named)}(?:[( ].*)?", called):
                yield called, making


def _named(called: str, making: Making, swatches: Mapping[str, Swatch], side: float, rounded: float) -> Picture:
    scale = side / max(float(making.width), float(making.height))
    pic = making_picture(making, swatches, scale, rounded=rounded)[0]
    return below([pic, caption(called, 160.0)], 4.0) if called else pic


def wanted() -> Iterator[tuple[Path, str]]:
    """Each picture that the reference asks for, by its file."""
    text = REFERENCE.read_text("utf-8")
    to_be_found = small(text)
    for name, alt, example in asked(text):
        yield PICTURES / f"{name}.svg", drawn(name, alt, example)
        if name in to_be_found:
            yield PICTURES / "small" / f"{name}.svg", drawn_small(name, alt, example)


def main() -> None:
    """Draw what is asked for; take away what is not."""
    (PICTURES / "small").mkdir(parents=True, exist_ok=True)
    drawings = dict(wanted())
    for path, svg in drawings.items():
        path.write_text(svg, "utf-8")
    for old in set(PICTURES.rglob("*.svg")) - set(drawings):
        old.unlink()


if __name__ == "__main__":
    main()
