"""The parts in which a quilt is made: units, blocks, the top, the borders; what is made in which."""

from __future__ import annotations

from patternkit.piecing.making import Making, made_from

SECTIONS = ("units", "blocks", "top", "borders")
_OF = {"unit": "units", "block": "blocks", "row": "top", "centre": "top"}


def section_of(making: Making) -> str:
    """The section in which a making is made: never before the one in which something that it is made of is."""
    if making.role == "quilt":
        return "borders" if making.recipe.method.around == "borders" else "top"
    own = _OF.get(making.role, "borders")
    if own != "units":
        return own
    inner = {id(part): part for part in made_from(making)}
    return max([own, *(section_of(part) for part in inner.values())], key=SECTIONS.index)
