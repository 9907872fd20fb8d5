"""Groups of prints as they show in a quilt: each copy in its print, pieces of any print in prints by turns.

The picture is the same each time: copies get the prints that the cutting shares out to them.
"""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from patternkit.drawing.swatches import Swatch, blend
from patternkit.model.pattern import Fabric
from patternkit.piecing.making import Cloth, Making, Part, Placed
from patternkit.piecing.prints import PrintDealer, Roles, known, passed_on

SHADES = 12
"""In how many shades a bag of any number of prints is drawn."""
AS_IT_IS = 0
"""In place of a print's number: what the outermost making is given is drawn as what stands for it."""
_SPREAD: dict[str, tuple[float, float]] = {"light": (0.55, 0.22), "dark": (0.4, 0.4), "": (0.5, 0.36)}
"""How much white the lightest print has, and how much black the darkest, so that light ones stay light."""


def shade_key(group: str, number: int) -> str:
    """The swatch of one print of a group."""
    return f"{group} #{number}"


def shades(swatch: Swatch, count: int | None) -> dict[str, Swatch]:
    """A swatch for each print of a group: shades of its colour, in its texture, from light to dark."""
    many, found = count or SHADES, {}
    lighter, darker = _SPREAD.get(swatch.value, _SPREAD[""])
    for n in range(many):
        at = n / (many - 1) * 2 - 1 if many > 1 else 0.0
        mixed = blend(swatch.colour, *(("#ffffff", -at * lighter) if at < 0 else ("#000000", at * darker)))
        found[shade_key(swatch.key, n + 1)] = msgspec.structs.replace(swatch, colour=mixed, of=swatch.key)
    return found


def with_shades(swatches: Mapping[str, Swatch], fabrics: Mapping[str, Fabric]) -> dict[str, Swatch]:
    """The swatches with those of the prints of groups: each in its shade, and what stands for one of them."""
    found = dict(swatches)
    for key, fabric in fabrics.items():
        if fabric.group is not None and key in swatches:
            found |= shades(swatches[key], fabric.group.count)
    for key, fabric in fabrics.items():
        one = fabric.print
        if one is None or ((swatch := swatches.get(one.group)) is None and key not in swatches):
            continue
        if one.number and key in found:
            held = fabrics[one.group].group
            shade = shades(swatch or found[key], held.count if held is not None else None)
            found[key] = msgspec.structs.replace(
                found[key], colour=list(shade.values())[one.number - 1].colour, value=fabric.value
            )
        elif one.role and swatch is not None:
            many = list(shades(swatch, None).values())
            colour = swatch.colour if one.role == 1 else many[(5 * one.role) % SHADES].colour
            found[key] = msgspec.structs.replace(swatch, key=key, colour=colour, of=one.group)
    return found


def with_prints(making: Making, fabrics: Mapping[str, Fabric]) -> Making:
    """A making as it shows, every cloth of a group in the key of a print's swatch. The prints that the making itself is
    given stay as they are; one without groups is given back."""
    if not any(f.group is not None for f in fabrics.values()):
        return making
    return _Varied(fabrics).making(making, None)


class _Varied:
    def __init__(self, fabrics: Mapping[str, Fabric]) -> None:
        self.fabrics, self.roles = fabrics, Roles(fabrics)
        self.copies, self.pieces = PrintDealer(fabrics), PrintDealer(fabrics)
        self._has: dict[int, tuple[Making, bool]] = {}

    def making(self, making: Making, given: Mapping[str, int] | None) -> Making:
        """A making in its prints; nothing is given to the outermost one, whose own prints stay."""
        if not self._has_group(making):
            return making
        if given is None:
            given = dict.fromkeys(self.roles.of(making), AS_IT_IS)
        inner = passed_on(making, known(making, given, self.roles, self.copies))
        parts = tuple(Placed(self._part(p.what, inner), p.place, p.shown) for p in making.parts)
        return msgspec.structs.replace(making, parts=parts)

    def _part(self, what: Part, given: Mapping[str, int]) -> Part:
        if isinstance(what, Making):
            return self.making(what, given)
        fabric = self.fabrics.get(what.fabric)
        if fabric is None:
            return what
        if fabric.print is not None and given.get(what.fabric, AS_IT_IS) != AS_IT_IS:
            return msgspec.structs.replace(what, fabric=self._shade(fabric.print.group, given[what.fabric]))
        if fabric.group is not None:
            number = self.pieces.any_of(what.fabric)
            return msgspec.structs.replace(what, fabric=self._shade(what.fabric, number))
        return what

    def _shade(self, group: str, number: int) -> str:
        held = self.fabrics[group].group
        many = (held.count if held is not None else None) or SHADES
        return shade_key(group, 1 + (number - 1) % many)

    def _has_group(self, part: Part) -> bool:
        if isinstance(part, Cloth):
            fabric = self.fabrics.get(part.fabric)
            return fabric is not None and (fabric.group is not None or fabric.print is not None)
        if id(part) not in self._has:
            self._has[id(part)] = part, any(self._has_group(p.what) for p in part.parts)
        return self._has[id(part)][1]
