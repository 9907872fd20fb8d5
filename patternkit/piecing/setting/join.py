"""What all settings share: whose parts they make, and the recipe of plain cloth that is sewn in as it is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

import msgspec

from patternkit.piecing.keys import AnyKey, Key, OwnKey
from patternkit.piecing.making import Cloth, Making, Placed, Recipe
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name
from patternkit.piecing.shapes import cloth_cut, merged
from patternkit.piecing.workshop import Workshop


def key_of(name: Name, shop: Workshop, of: str = "") -> AnyKey:
    """The key of a part of the quilt's own, or of the unit with the key `of` that is set like one."""
    unit = shop.pattern.units.get(of)
    return OwnKey(name) if unit is None else Key(unit.name, unit.arguments, piece=name)


def owned(making: Making, shop: Workshop, of: str = "") -> Making:
    """A part of the quilt's own as it is; of a unit that is set like one as a part of that unit."""
    unit = shop.pattern.units.get(of)
    if unit is None:
        return making
    assert isinstance(making.key, OwnKey)
    key = key_of(making.key.name, shop, of)
    return msgspec.structs.replace(making, key=key, unit=unit.name, role=unit.role, title=unit.title)


def cloth_recipe(method: Method, parts: Iterable[Placed], shop: Workshop) -> Recipe:
    """A recipe that sews its parts together: the cuts are those of the plain rectangles among them."""
    cloths = Counter(p.what for p in parts if isinstance(p.what, Cloth))
    return Recipe(method, merged(msgspec.structs.replace(cloth_cut(c, shop), count=n) for c, n in cloths.items()))
