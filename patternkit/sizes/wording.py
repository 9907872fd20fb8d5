"""How sizes are printed in a message: in the writer's units, with the names of pieces, parameters and all."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.sizes.affine import Affine
from patternkit.sizes.causes import Var
from patternkit.source import Span
from patternkit.units import IMPERIAL, INCHES_IN, Units, decimal, mixed, number, show


class Wording(msgspec.Struct, frozen=True):
    """How to print: units, the names of sizes, and the values the parameters have in the pattern, with the places of
    their numbers and the unit these are typed in. `open` has, by what a walk calls them, the sizes that cancel out of
    what is told: they are nowhere given."""

    units: Units = IMPERIAL
    name: Callable[[Var], str] | None = None
    env: Mapping[str, Length] = {}
    places: Mapping[str, Span] = {}
    unit: str = "in"
    open: Mapping[str, str] = {}
    asked: Callable[[Var], str] | None = None  # the question that a size answers ("how wide wall is"), or nothing

    def of(self, var: Var) -> str:
        """What to call a size."""
        if self.name is not None:
            return self.name(var)
        return " ".join(map(str, var)) if isinstance(var, tuple) else str(var)

    def length(self, value: Affine) -> str:
        """A size with its unit, parameters and all."""
        if value.is_constant:
            return show(value.const, self.units)
        if self.is_open(value):
            return self._beside(value)
        return self._formula(value)

    def _formula(self, value: Affine) -> str:
        """A size that rests on names: these stand for plain numbers in the file's own unit, as in ``side + 2``."""
        inches = self.units.inches
        return (value / inches).text(lambda x: number(x * inches, self.units))

    def is_open(self, value: Affine) -> bool:
        """Whether a size rests on one that is nowhere given."""
        return any(name in self.open for name in value.coefs)

    def _beside(self, value: Affine) -> str:
        """A size beside the one that it rests on: ``6 in larger than wall``."""
        (name, times), *more = value.coefs.items()
        if more or times != 1:
            text = self._formula(value)
            for name, plain in self.open.items():
                text = text.replace(name, plain)
            return text
        if not value.const:
            return f"as large as {self.open[name]}"
        way = "larger" if value.const > ZERO else "smaller"
        return f"{show(abs(value.const), self.units)} {way} than {self.open[name]}"

    def piece(self, label: str, value: Affine) -> str:
        """A piece with its size: ``night 6 in``; its name alone where that is all that is known of it."""
        if not self.is_open(value):
            return f"{label} {self.length(value)}"
        bare = list(value.coefs.values()) == [1] and not value.const and self.open.get(next(iter(value.coefs))) == label
        return label if bare else f"{label} ({self.length(value)})"

    def equals(self, value: Affine) -> str:
        """What a sum comes to: ``= 9 in``, or ``is 6 in larger than wall``."""
        return f"{'is' if self.is_open(value) else '='} {self.length(value)}"


def number_text(value: Affine, unit: str) -> str | None:
    """A number as it would be typed in a unit, without the unit; None when it can't be written exactly."""
    inches = INCHES_IN.get(unit)
    if inches is None or not value.is_constant or not value.const.is_fraction:
        return None
    own = value.const.q / inches
    if unit in ("mm", "cm", "m"):
        thousandths = own * 1000
        return decimal(own, 3) if thousandths.denominator == 1 else None
    return mixed(own) if 64 % own.denominator == 0 else None
