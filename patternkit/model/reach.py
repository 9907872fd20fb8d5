"""What a pattern's quilt and units are made of: their pieces, wherever they are named."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from patternkit.model.pattern import Component, Pattern
from patternkit.syntax.statements import MethodStatement


def unit_pieces(pattern: Pattern, key: str) -> Iterator[Component]:
    """Every piece that a unit's lines name, those in its options included; none for a key the pattern does not have."""
    unit = pattern.units.get(key)
    if unit is not None:
        yield from unit.components


def alone(pattern: Pattern, key: str, count: int, method: MethodStatement | None = None) -> Pattern:
    """The pattern of so many of one unit, by another method where one is given: what that is made of, and no quilt."""
    unit = structs.replace(pattern.units[key], make=count, make_mirrored=None, optional=None, other_methods=())
    units, waiting = {key: unit}, list(unit_pieces(pattern, key))
    while waiting:
        own = waiting.pop().unit
        if own in pattern.units and own not in units:
            units[own] = structs.replace(pattern.units[own], other_methods=())
            if units[own].shifted_from:
                units[units[own].shifted_from] = pattern.units[units[own].shifted_from]
            waiting += unit_pieces(pattern, own)
    if method is not None:  # with borders it is the middle that is sewn by it
        made = next((own for own, one in units.items() if one.middle_of == key), key)
        units[made] = structs.replace(units[made], method=method, method_value=None)
    ordered = {one: units[one] for one in pattern.units if one in units}
    return structs.replace(pattern, quilt=None, units=ordered, parts=())


def reached(pattern: Pattern) -> tuple[set[str], set[str]]:
    """Keys of the units and fabrics that the quilt is made of; without a quilt, of all the units there are."""
    units: set[str] = set()
    fabrics: set[str] = set()
    quilt = pattern.quilt
    if quilt is None:
        units.update(pattern.units)
        waiting = [p for key in units for p in unit_pieces(pattern, key)]
    else:
        waiting = list(quilt.pieces)
        fabrics |= {key for f in quilt.finishing for key in (f.fabric, f.strip) if key}
        fabrics |= {quilt.setting.fabric} if quilt.setting is not None else set()
    while waiting:
        piece = waiting.pop()
        fabrics.add(piece.fabric)
        if piece.unit in pattern.units and piece.unit not in units:
            units |= {piece.unit, pattern.units[piece.unit].shifted_from} - {""}
            waiting += unit_pieces(pattern, piece.unit)
    fabrics |= {fabric for key in units for fabric in pattern.units[key].cloths}
    fabrics |= {also.cut.fabric for also in quilt.also} if quilt is not None else set()
    for key in [key for key in fabrics if key in pattern.fabrics]:  # a print is of its group, and of that one's cloth
        one = pattern.fabrics[key]
        fabrics |= {one.cloth, one.print.group if one.print is not None else ""}
    return units, fabrics - {""}
