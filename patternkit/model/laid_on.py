"""The lines `applique` under a unit: what is laid on it, and where."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from patternkit.model.on_ground import OnGround
from patternkit.model.pattern import Component
from patternkit.model.pieces import UnitScope, component, degrees_of
from patternkit.model.report import Notebook
from patternkit.model.values import Broken, Values
from patternkit.sizes.affine import Affine
from patternkit.source import Span
from patternkit.syntax.statements import Option, PieceUse, Ref, SizePair

APPLIQUE = "applique"
UNIT_WRITTEN = "applique leaf at 4 x 7 turned 20"
STRIP_WRITTEN = "applique stem 1/2 wide from 2 x 6 to 10 x 6, or about 6 x 6 behind it"
WAYS = ("needle-turn", "raw edge", "fused")
"""How a shape or a strip is laid on; the first is the usual one."""
_POINTS = ("at", "from", "to", "about")


def laid_on(s: Option, names: UnitScope, values: Values, notes: Notebook) -> Component:
    """What a line lays on its unit. Raises Broken after noting what can't be meant."""
    return _Line(s, names, values, notes).read()


class _Line:
    """One line, taken apart: the piece in front, then words with what stands behind each."""

    def __init__(self, s: Option, names: UnitScope, values: Values, notes: Notebook) -> None:
        self.s, self.names, self.values, self.notes = s, names, values, notes
        self.points: dict[str, tuple[Affine, Affine]] = {}
        self.places: dict[str, Span] = {}
        self.turned: PieceUse | None = None
        self.wide: Affine | None = None

    def read(self) -> Component:
        """The line as it is meant."""
        parts = list(self.s.clauses[0]) if self.s.clauses else []
        head = parts[0] if parts else None
        if not isinstance(head, (Ref, PieceUse)):
            raise self.unclear("Behind applique stands what is laid on: a unit, or the fabric of a strip.")
        use = head if isinstance(head, PieceUse) else PieceUse(head.name, head.span, head.span)
        self._words(parts[1:])
        way = self._way()
        if use.laid is not None or use.width is not None:
            raise self.unclear(f"A size does not stand beside {use.name}: a unit is laid on in its own size.")
        if self.names.fabrics.get(use.name) and use.name not in self.names.units:
            return self._strip(use, way)
        return self._unit(use, way)

    def _words(self, parts: Sequence[object]) -> None:
        """Take in what stands behind the piece."""
        waiting = list(parts)
        while waiting:
            word = waiting.pop(0)
            if isinstance(word, Ref) and word.name in _POINTS and waiting and isinstance(waiting[0], SizePair):
                pair = waiting.pop(0)
                assert isinstance(pair, SizePair)
                if word.name in self.points:
                    raise self.unclear(f"Only one point stands behind {word.name}.")
                env = self.names.values
                self.points[word.name] = self.values.length(pair.width, env), self.values.length(pair.height, env)
                self.places[word.name] = pair.span
            elif isinstance(word, Ref) and word.name == "turned" and waiting and self.turned is None:
                turn = waiting.pop(0)
                self.turned = PieceUse("", word.span, word.span, turn=turn)  # type: ignore[arg-type]
            elif isinstance(word, Ref) and word.name in ("degrees", "degree") and self.turned is not None:
                continue
            elif self.wide is None and waiting and isinstance(waiting[0], Ref) and waiting[0].name == "wide":
                waiting.pop(0)
                self.wide = self.values.length(word, self.names.values)  # type: ignore[arg-type]
                if self.wide.is_constant and self.wide.const <= 0:
                    raise self.unclear("A strip is wider than nothing.")
            else:
                raise self.unclear("Something on this line can't be understood.")

    def _way(self) -> str:
        """The way that stands behind a comma; empty where nothing does."""
        rest = self.s.clauses[1:]
        if not rest:
            return ""
        words = " ".join(w.name for w in rest[0] if isinstance(w, Ref))
        if len(rest) > 1 or words not in WAYS or any(not isinstance(w, Ref) for w in rest[0]):
            raise self.unclear(f"Behind the comma can stand {', '.join(WAYS[:-1])} or {WAYS[-1]}.")
        return words

    def _unit(self, use: PieceUse, way: str) -> Component:
        if "at" not in self.points or set(self.points) != {"at"} or self.wide is not None:
            raise self.unclear(f"A unit is laid with its middle at one point, measured from the left and from above: "
                               f"{UNIT_WRITTEN}.")  # fmt: skip
        if way:
            raise self.unclear(f"How {use.name} is laid on is said under it: method {way}.")
        turned, again = self._turn(use), self._turn(self.turned) if self.turned is not None else 0
        straight = msgspec.structs.replace(use, turned=0, turn=None)
        piece = component(straight, f"laid {self.s.span.start}", self.values, self.names, self.notes)
        turned = (turned + again + piece.turned) % 360
        on = OnGround(self.points["at"], self.s.span, turned, place=self.places["at"])
        return msgspec.structs.replace(piece, turned=0, span=self.s.span, on=on)

    def _turn(self, use: PieceUse) -> int:
        """By how many whole degrees something is turned."""
        if use.turn is None:
            return use.turned
        return degrees_of(use.turn, self.values, self.names, self.notes)

    def _strip(self, use: PieceUse, way: str) -> Component:
        needs = {"from", "to"}
        if not needs <= set(self.points) or "at" in self.points or self.wide is None or self.turned is not None:
            raise self.unclear(f"A strip of a fabric is laid along a line or an arc: {STRIP_WRITTEN}.")
        plain = msgspec.structs.replace(use, turned=0, turn=None)
        piece = component(plain, f"laid {self.s.span.start}", self.values, self.names, self.notes)
        on = OnGround(
            self.points["from"],
            self.s.span,
            wide=self.wide,
            to=self.points["to"],
            about=self.points.get("about"),
            way=way,
            place=self.places["from"],
        )
        return msgspec.structs.replace(piece, on=on)

    def unclear(self, why: str) -> Broken:
        """Note why a line can't be meant; to be raised."""
        self.notes.report(
            "applique-unclear",
            why,
            self.s.span,
            causes=[f"A unit is laid on by {UNIT_WRITTEN}; a strip of a fabric by {STRIP_WRITTEN}."],
        )
        return Broken()
