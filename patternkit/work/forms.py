"""The form of a step: its data with every length replaced by its place. Steps of one form are told side by side, with
their numbers; how seams are pressed is kept apart, as pressing that differs is another form."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.batch import OPEN, Join, Thing
from patternkit.piecing.keys import OwnKey
from patternkit.work.model import Step

PRESSED = frozenset({"toward", "spun", "locks"})
"""The fields of actions that say how seams are pressed."""
MANY = frozenset({"count", "gives"})
"""Those that say how often, which differs from size to size and changes nothing of what is done."""
PLACE = "#"

Makers = Mapping[Thing, Step]


class Turns(msgspec.Struct, frozen=True):
    """What lies in a row, and how its seams are pressed, up to where both begin again; `again` whether they do."""

    parts: tuple[object, ...]
    ways: tuple[str, ...]
    again: bool


class Forms:
    """The forms of the steps of one order, each worked out once."""

    def __init__(self, makers: Makers) -> None:
        self.makers = makers
        self._known: dict[Thing, object] = {}

    def of(self, thing: Thing) -> object:
        """The form of what makes a thing, down to the cut pieces: of its first batch, as the others take and do the
        same."""
        if thing not in self._known:
            batch = self.makers[thing].batches[0][0]
            self._known[thing] = spelled(thing), self._form((batch.uses, batch.passages))
        return self._known[thing]

    def turns(self, thing: Thing) -> Turns | None:
        """What lies in a row, whatever its size; None where its seams are no simple run."""
        batch = self.makers[thing].batches[0][0]
        joins = [a for a in batch.actions if isinstance(a, Join)]
        run = [([e.part for e in a.left], [e.part for e in a.right]) for a in joins]
        if run != [([n], [n + 1]) for n in range(len(batch.uses) - 1)] or any(a.spun for a in joins):
            return None
        parts = [(self._form(use.item), use.turned) for use in batch.uses]
        ways = ["open" if a.toward == OPEN else "right" if a.toward > n else "left" for n, a in enumerate(joins)]
        return turns_of(parts, ways)

    def _form(self, value: object) -> object:
        return replaced(value, self._place, PRESSED | MANY)

    def _place(self, value: object) -> object:
        if isinstance(value, Thing):
            return self.of(value) if value in self.makers else spelled(value)
        return PLACE if isinstance(value, Length) else None


def replaced(value: object, by: Callable[[object], object], without: frozenset[str] = frozenset()) -> object:
    """Data to compare, with some values in it replaced: by what `by` gives for each, if anything; fields whose names
    are in `without` are left out."""
    new = by(value)
    if new is not None:
        return new
    if isinstance(value, tuple):
        return tuple(replaced(x, by, without) for x in value)
    if isinstance(value, msgspec.Struct):
        names = [name for name in value.__struct_fields__ if name not in without]
        return type(value).__name__, *(replaced(getattr(value, name), by, without) for name in names)
    return value


def spelled(thing: Thing) -> object:
    """What a thing is in every size: her unit, of whatever arguments, or the part of the quilt."""
    key = thing.key
    return (key.name if isinstance(key, OwnKey) else (key.unit, key.piece, key.mirrored)), thing.version


def turns_of(parts: Sequence[object], ways: Sequence[str]) -> Turns:
    """A row up to where it begins again: the shortest run after which parts and ways are as they were."""
    for n in range(1, len(parts)):
        if _repeats(parts, n) and _repeats(ways, n):
            return Turns(tuple(parts[:n]), tuple(ways[:n]), True)
    return Turns(tuple(parts), tuple(ways), False)


def _repeats(items: Sequence[object], n: int) -> bool:
    return all(items[i] == items[i - n] for i in range(n, len(items)))
