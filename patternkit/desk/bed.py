"""The size to reach with a quilt: as given, or from a mattress and how far the quilt hangs down."""

from __future__ import annotations

from patternkit.desk.values import read_value
from patternkit.lengths import Length


def bed_size(
    mattress: tuple[Length, Length], drop: Length, foot: Length | None = None, pillow: Length | None = None
) -> tuple[Length, Length]:
    """Width and length of a quilt for a bed: the mattress, a drop at both sides and one at the foot.

    `foot` is the drop at the foot where it differs; `pillow` is what covers and tucks the pillows.
    """
    width, length = mattress
    return width + drop * 2, length + (drop if foot is None else foot) + (pillow or Length(0))


def wanted_size(target: str, bed: str, drop: str, foot: str = "", pillow: str = "") -> tuple[Length, Length]:
    """The size that the words of the command line ask for, in the file's units. Raises ValueError saying what is
    amiss."""
    if bool(target) == bool(bed):
        raise ValueError("give the size to reach with --to 60x80, or a bed with --bed 60x80 --drop 13.")
    if target:
        if drop or foot or pillow:
            raise ValueError("--drop, --foot and --pillow belong to --bed.")
        return _two(target, "--to")
    if not drop:
        raise ValueError(
            "--bed needs --drop: how far the quilt hangs down at the sides and the foot, such as --drop 13."
        )
    hangs = [
        _one(text, word) if text else None for text, word in ((drop, "--drop"), (foot, "--foot"), (pillow, "--pillow"))
    ]
    return bed_size(_two(bed, "--bed"), hangs[0] or Length(0), hangs[1], hangs[2])


def _two(text: str, option: str) -> tuple[Length, Length]:
    sides = [read_value(side) for side in text.replace("×", "x").split("x")]
    if len(sides) != 2 or sides[0] is None or sides[1] is None:
        raise ValueError(f"{option} takes a width and a height, such as 60x80; {text!r} is not that.")
    if min(sides[0], sides[1]) <= Length(0):
        raise ValueError(f"{option} takes a width and a height of more than nothing; {text!r} is not that.")
    return sides[0], sides[1]


def _one(text: str, option: str) -> Length:
    value = read_value(text)
    if value is None:
        raise ValueError(f"{option} takes a length, such as 13; {text!r} is not one.")
    return value
