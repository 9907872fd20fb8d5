"""What all settings share: the recipe of plain cloth that is sewn in as it is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

import msgspec

from patternkit.piecing.making import Cloth, Placed, Recipe
from patternkit.piecing.method import Method
from patternkit.piecing.shapes import cloth_cut, merged
from patternkit.piecing.workshop import Workshop


def cloth_recipe(method: Method, parts: Iterable[Placed], shop: Workshop) -> Recipe:
    """A recipe that sews its parts together: the cuts are those of the plain rectangles among them."""
    cloths = Counter(p.what for p in parts if isinstance(p.what, Cloth))
    return Recipe(method, merged(msgspec.structs.replace(cloth_cut(c, shop), count=n) for c, n in cloths.items()))
