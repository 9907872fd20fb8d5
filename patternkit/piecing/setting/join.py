"""What all settings share: the recipe of plain cloth that is sewn in as it is."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.piecing.making import Cloth, Placed, Recipe
from patternkit.piecing.method import Method
from patternkit.piecing.shapes import cloth_cut, merged
from patternkit.piecing.workshop import Workshop


def cloth_recipe(method: Method, parts: Iterable[Placed], shop: Workshop) -> Recipe:
    """A recipe that sews its parts together: the cuts are those of the plain rectangles among them."""
    return Recipe(method, merged(cloth_cut(p.what, shop) for p in parts if isinstance(p.what, Cloth)))
