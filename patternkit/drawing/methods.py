"""How a unit is made by its method, as a row of small numbered pictures: cut, lay together, sew, cut apart, press."""

from __future__ import annotations

from collections.abc import Mapping

from patternkit.document import Drawing
from patternkit.drawing.from_states import Performed, can_draw, from_states
from patternkit.drawing.layout import scene_of
from patternkit.drawing.look import LOOK, Look
from patternkit.drawing.method_pictures import Painter, panel_rows
from patternkit.drawing.pieces import Leaves, fabric_words, fabrics_of
from patternkit.drawing.scene import MOST_HIGH, Scene
from patternkit.drawing.svg import finished
from patternkit.drawing.swatches import Swatch
from patternkit.piecing.making import Making
from patternkit.piecing.method import Series


def painters() -> Mapping[Series, Painter]:
    """The painter for each series of pictures that a method may ask for, where no rehearsal shows its states."""
    from patternkit.drawing import leaning, series

    return {
        "joins": series.by_groups,
        "row": series.by_groups,
        "pairs": series.by_groups,
        "crossed": series.by_groups,
        "geese": series.by_groups,
        "flips": series.by_groups,
        "rounds": series.rounds,
        "wedges": series.wedges,
        "set-in": series.set_in,
        "partial": series.partial,
        "leaning": leaning.half_rectangle,
        "long sides": series.long_sides,
    }


def method_scene(
    making: Making, swatches: Mapping[str, Swatch], look: Look = LOOK, worked: Performed | None = None
) -> Scene:
    """The scene behind `draw_method`."""
    if worked is not None and can_draw(worked.batch):
        panels = from_states(making, worked, swatches, look)
    else:
        panels = painters()[making.recipe.method.drawn or "joins"](making, swatches, look)
    pic = panel_rows(panels)
    while pic.height > MOST_HIGH - 20 and len(panels) > 2:  # far too many seams: the middle ones are left to the steps
        panels = [*panels[: len(panels) - 2], panels[-1]]
        pic = panel_rows(panels)
    method = look.method(making.recipe.method.name) or making.kind or making.role
    description = look.render(
        "method.told",
        method=method[:1].upper() + method[1:],
        name=look.called(making),
        n=len(panels),
        list="; ".join(f"{i}. {p.words}" for i, p in enumerate(panels, 1)),
    )
    description += " " + look.render(
        "step.fabrics", fabrics=fabric_words(fabrics_of(Leaves().of(making), swatches), swatches, look)
    )
    return scene_of(pic, look.render("method.title", name=look.called(making), method=method), description, swatches)


def draw_method(
    making: Making, swatches: Mapping[str, Swatch], look: Look = LOOK, *, key: str = "", worked: Performed | None = None
) -> Drawing:
    """The making's method in numbered pictures: as its rehearsal went (`worked`), or in the series that it asks for.

    What is laid face to face, cut apart or opened is drawn from the states of the table; logs round a centre and a few
    others have pictures of their own; any other is drawn from its seams, group by group in sewing order.
    """
    return finished(method_scene(making, swatches, look, worked), look.key(key or f"method-{making.spelled}"))
