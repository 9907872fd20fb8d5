"""What things are called in the booklet, in its language: the writer's own names as she gave them, and those that the
rooms make up (rows, borders, pieces of a unit) by the catalogue."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from patternkit.booklet.phrases import Phrases
from patternkit.piecing.apart import named_number
from patternkit.piecing.keys import AnyKey, Key, OwnKey
from patternkit.piecing.making import Cloth, Making, made_from
from patternkit.piecing.names import CENTRE, SASHES, SASHING_ROW, Name, Side, What, border_of, piece_number

_KEYS: dict[What, str] = {
    "quilt centre": "centre",
    "centre": "piece_centre",
    "side triangle of the star": "star_triangle",
    "hanging sleeve": "sleeve",
    "backing strip": "backing_strip",
    "backing panel": "backing_panel",
}
"""Under which key a name stands in the catalogue, where that is not the name itself."""
_SIDES: dict[Side, str] = {
    "": "border",
    "sides": "border_sides",
    "top and bottom": "border_top",
    "top and bottom strip": "border_top_bare",
    "cornerstone": "border_corner",
    "strip": "border_strip",
}

MANY_ROWS = 6  # up to so many the rows of a quilt are told by number


class Names:
    """Names in the language of some phrases.

    `borders` is how many borders the quilt has: a lone one has no number. `rows` is how many rows it has, and `several`
    whether its sizes stand side by side: then all odd rows, and all even ones, are called so, that one name holds for
    every size. `versions` gives, by the key of a unit that is pressed in two versions, what to call them; `unlike` what
    tells a unit from others of its title (see `variants`).
    """

    def __init__(
        self,
        phrases: Phrases,
        borders: int = 0,
        rows: int = 0,
        several: bool = False,
        versions: Mapping[AnyKey, tuple[str, ...]] = {},
        unlike: Mapping[AnyKey, str] = {},
    ) -> None:
        self.say, self.listed, self.alone = phrases.say, phrases.listed, borders == 1
        self.versions, self.unlike = versions, unlike
        self.every_other: dict[tuple[int, ...], str] = {}
        self._known: dict[Name, str] = {}
        for start, key in ((1, "odd_rows"), (2, "even_rows")):
            numbers = tuple(range(start, rows + 1, 2))
            if rows > (2 if several else MANY_ROWS) and len(numbers) > 1:
                self.every_other[numbers] = self.say(f"names.{key}")

    # -- makings ------------------------------------------------------------------------------------------
    def title(self, making: Making) -> str:
        """What a making is called, with its version where it has one."""
        base, version = self.base(making), self.version_of(making)
        return self.say("names.version", title=base, version=version) if version else base

    def base(self, making: Making) -> str:
        """The same without its version: the writer's own title with what tells it from others of that title, or the
        name of a part of the quilt."""
        key = making.key
        if making.role == "quilt":
            return self.say("names.top")
        if isinstance(key, OwnKey):
            return self.of(key.name)
        title = self.whole(making)
        if making.recipe.apart is not None:
            title = self.say("names.apart", n=self.number(making), title=title)
        if key.piece is not None:
            title = f"{title}, {self._part(making, key.piece)}"
        if making.recipe.apart is None and self.unlike.get(key.plain):
            title = self._variant(self.unlike[key.plain], title)
        if key.shifted:
            title = self.say("names.shifted", n=key.shifted, title=title)
        return self.say("names.mirrored", title=title) if key.mirrored else title

    def _part(self, making: Making, piece: Name) -> str:
        """A part of a unit: its centre and what lies inside a border are not those of the quilt."""
        if piece == CENTRE:
            sashed = any(p.what.key.part == SASHING_ROW for p in making.parts if isinstance(p.what, Making))
            sashed = sashed or any(p.what.name in SASHES for p in making.parts if isinstance(p.what, Cloth))
            return self.say("names." + ("on_point" if making.kind == "on-point" else "sashed" if sashed else "middle"))
        if piece.what in ("with border", "with ring"):
            return self.say("names.framed", border=self.of(border_of(piece)))
        return self.of(piece)

    def whole(self, making: Making) -> str:
        """What the writer calls a unit; of a piece of one that is cut apart what all its pieces are called."""
        title = making.title or making.unit
        which = self.unlike.get(making.key.plain) if making.recipe.apart is not None else None
        return self._variant(which, title) if which else title

    def number(self, making: Making) -> int:
        """Which piece of a unit that is cut apart a making is, from 1."""
        apart = making.recipe.apart
        return 0 if apart is None else named_number(apart, making.key.mirrored)

    def _variant(self, which: str, title: str) -> str:
        """A title with what tells it from others of that title: fabrics, or a length."""
        return self.say("names.variant", which=which, title=title, number=str(which)[:1].isdigit())

    def every_other_of(self, making: Making) -> tuple[int, ...]:
        """The numbers of rows that are told as all odd or all even ones; none of other makings."""
        name = making.key.name if isinstance(making.key, OwnKey) else None
        return name.numbers if name is not None and name.what == "row" and name.numbers in self.every_other else ()

    def version_of(self, making: Making) -> str:
        """Which version of its unit a making is, in words; nothing where there is one only."""
        words = self.versions.get(making.key)
        if words is not None:
            return self.version(words[making.version])
        return self.version("other") if making.version else ""

    def version(self, words: str) -> str:
        """The name of a version ("pressed out") in the booklet's language."""
        return self.say("versions." + words.replace(" ", "_"))

    # -- names --------------------------------------------------------------------------------------------
    def of(self, name: Name) -> str:
        """A name in the booklet's language."""
        if name not in self._known:
            self._known[name] = self._of(name)
        return self._known[name]

    def _of(self, name: Name) -> str:
        if name.what == "row":
            return self.rows(list(name.numbers))
        if name.what == "diagonal row":
            return self.diagonal(list(name.numbers))
        if name.what == "column":
            numbers = self.listed([str(n) for n in name.numbers])
            return self.say("names.column", numbers=numbers, many=len(name.numbers) > 1)
        if name.what == "diagonal sashing row":
            return self.diagonal(list(name.numbers), sashing=True)
        if name.what in ("with border", "with ring"):
            return self.say("names.with_border", border=self.of(border_of(name)))
        if name.what in ("border", "ring"):
            numbers = "" if self.alone else self.listed([str(n) for n in name.numbers])
            return self.say(f"names.{_SIDES[name.side]}", n=numbers, many=len(name.numbers) > 1)
        if name.title:
            return name.title
        if name.what in ("facing", "flange", "piping"):
            return self.say(f"names.{name.what}_{'sides' if name.side == 'sides' else 'top'}")
        key = _KEYS.get(name.what, name.what.replace(" ", "_"))
        spelt = self.say(f"names.{name.what}_n", n=piece_number(name)) if name.numbers else self.say(f"names.{key}")
        return self.say("names.leaning", name=spelt, leans=name.leans) if name.leans else spelt

    def rows(self, numbers: list[int], diagonal: bool = False) -> str:
        """Rows by number: ``row 4``, ``rows 1 and 3``, ``rows 1 to 8``; the same of diagonal rows."""
        if diagonal and len(numbers) > 1:
            return self.say("names.diagonal_rows", rows=self.rows(numbers))
        if len(numbers) > 2 and numbers == list(range(numbers[0], numbers[-1] + 1)):
            return self.say("names.rows_to", a=numbers[0], b=numbers[-1])
        if not diagonal and tuple(numbers) in self.every_other:
            return self.every_other[tuple(numbers)]
        listed = self.listed([str(n) for n in numbers])
        return self.say("names.row" if len(numbers) == 1 else "names.rows", numbers=listed)

    def diagonal(self, numbers: list[int], sashing: bool = False) -> str:
        """Diagonal rows by number: ``diagonal row 4``, ``diagonal rows 1 and 8``; those of sashing: ``sashing row
        2``."""
        if sashing:
            return self.say("names.sashing_rows", rows=self.rows(numbers), n=numbers[0], many=len(numbers) > 1)
        if len(numbers) == 1:
            return self.say("names.diagonal_row", n=numbers[0])
        return self.rows(numbers, diagonal=True)


def variants(roots: Iterable[Making], fabrics: Mapping[str, str]) -> dict[AnyKey, str]:
    """What tells apart units of one title that were asked for with different fabrics or sizes, by key: the printed
    names of the fabrics (`fabrics` by key), or the other values, that are not the same in all."""
    found: dict[tuple[str, Name | None], dict[AnyKey, tuple[str, ...]]] = {}
    waiting, seen = list(roots), set[int]()
    while waiting:
        making = waiting.pop()
        if id(making) in seen:
            continue
        seen.add(id(making))
        waiting += made_from(making)
        if isinstance(making.key, Key) and making.key.arguments:
            own = (making.title or making.unit, making.key.piece)
            asked = making.key.arguments[:-1] if making.recipe.apart is not None else making.key.arguments
            found.setdefault(own, {})[making.key.plain] = asked
    which: dict[AnyKey, str] = {}
    for asked_for in found.values():
        lists = list(asked_for.values())
        if len(lists) < 2 or len({len(values) for values in lists}) > 1:
            continue
        unlike = [i for i in range(len(lists[0])) if len({values[i] for values in lists}) > 1]
        for key, values in asked_for.items():
            which[key] = "/".join(fabrics.get(values[i], values[i]) for i in unlike)
    return which
