"""What things are called in the booklet: the names that the rooms make up (rows, borders, pieces of a
unit), in its language.

The writer's own names are kept as she gave them. Names made up in the workshop are English texts of a
few known forms; here they are recognised and said by the catalogue, so that drawings, tables and steps
agree in every language.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

import msgspec

from patternkit.booklet.phrases import Phrases
from patternkit.piecing.keys import AnyKey, Key, OwnKey
from patternkit.piecing.making import Cloth, Making, Part, Placed
from patternkit.piecing.names import border_of, english
from patternkit.piecing.reflect import MIRRORED

_FIXED = {
    "quilt centre": "centre",
    "sashing row": "sashing_row",
    "sashing": "sashing",
    "long sashing": "long_sashing",
    "cornerstone": "cornerstone",
    "side triangle": "side_triangle",
    "corner triangle": "corner_triangle",
    "side triangles": "side_triangles",
    "corner triangles": "corner_triangles",
    "binding": "binding",
    "bias binding": "bias_binding",
    "hanging sleeve": "sleeve",
    "goose": "goose",
    "sky": "sky",
    "centre": "piece_centre",
    "corner": "corner",
    "base": "base",
    "background": "background",
    "diamond": "diamond",
    "corner square": "corner_square",
    "quarter circle": "quarter_circle",
    "left side": "left_side",
    "right side": "right_side",
    "side triangle of the star": "star_triangle",
}
_ROWS = re.compile(r"rows? ([\d, and]+)")
_DIAGONAL = re.compile(r"diagonal row (\d+)")
_BORDER = re.compile(
    r"((?:border|ring) \d+(?: and border \d+)*)(?: (sides|top and bottom(?: strip)?|cornerstone|strip))?"
)
_BRACKETS = re.compile(r"\([^()]*\)")
_LOG = re.compile(r"(log|piece|corner) (\d+)")


MANY_ROWS = 6  # up to so many the rows of a quilt are told by number


class Names:
    """Names in the language of some phrases. `borders` is how many borders the quilt has: a lone one has
    no number. `rows` is how many rows it has, and `several` whether its sizes stand side by side: then all
    odd rows, and all even ones, are called so, that one name holds for every size."""

    def __init__(self, phrases: Phrases, borders: int = 0, rows: int = 0, several: bool = False) -> None:
        self.say, self.alone = phrases.say, borders == 1
        self.every_other: dict[tuple[int, ...], str] = {}
        for start, key in ((1, "odd_rows"), (2, "even_rows")):
            numbers = tuple(range(start, rows + 1, 2))
            if rows > (2 if several else MANY_ROWS) and len(numbers) > 1:
                self.every_other[numbers] = self.say(f"names.{key}")

    def text(self, text: str) -> str:
        """A made-up name in the booklet's language; any other text as it is."""
        if text in _FIXED:
            return self.say(f"names.{_FIXED[text]}")
        rows = _ROWS.fullmatch(text)
        if rows:
            return self.rows([int(n) for n in re.findall(r"\d+", rows[1])])
        diagonal = _DIAGONAL.fullmatch(text)
        if diagonal:
            return self.say("names.diagonal_row", n=diagonal[1])
        border = _BORDER.fullmatch(text)
        if border:
            return self._border(border[1], border[2] or "")
        numbered = _LOG.fullmatch(text)
        return self.say(f"names.{numbered[1]}_n", n=numbered[2]) if numbered else text

    def rows(self, numbers: list[int], diagonal: bool = False) -> str:
        """Rows by number: ``row 4``, ``rows 1 and 3``, ``rows 1 to 8``; the same of diagonal rows."""
        if diagonal and len(numbers) > 1:
            return self.say("names.diagonal_rows", rows=self.rows(numbers))
        if len(numbers) > 2 and numbers == list(range(numbers[0], numbers[-1] + 1)):
            return self.say("names.rows_to", a=numbers[0], b=numbers[-1])
        if not diagonal and tuple(numbers) in self.every_other:
            return self.every_other[tuple(numbers)]
        told = self.listed([str(n) for n in numbers])
        return self.say("names.row" if len(numbers) == 1 else "names.rows", numbers=told)

    def diagonal(self, numbers: list[int]) -> str:
        """Diagonal rows by number: ``diagonal row 4``, ``diagonal rows 1 and 8``."""
        if len(numbers) == 1:
            return self.say("names.diagonal_row", n=numbers[0])
        return self.rows(numbers, diagonal=True)

    def _border(self, which: str, what: str) -> str:
        numbers = re.findall(r"\d+", which)
        key = {
            "": "border",
            "sides": "border_sides",
            "top and bottom": "border_top",
            "top and bottom strip": "border_top_bare",
            "cornerstone": "border_corner",
            "strip": "border_strip",
        }[what]
        told = "" if self.alone else self.listed(numbers)
        return self.say(f"names.{key}", n=told, many=len(numbers) > 1)

    def listed(self, items: list[str]) -> str:
        """Items in a row of words: ``a, b and c``; with semicolons where an item is a row of its own."""
        if len(items) < 2:
            return items[0] if items else ""
        word = f" {self.say('words.and')} "
        bare = [_BRACKETS.sub("", item) for item in items]
        if any(", " in item for item in bare):
            return "; ".join(items)
        if any(word in item for item in bare):
            return f"{', '.join(items[:-1])},{word}{items[-1]}"
        return f"{', '.join(items[:-1])}{word}{items[-1]}"

    def version(self, words: str) -> str:
        """The name of a version ("pressed out") in the booklet's language."""
        return self.say("versions." + words.replace(" ", "_"))


def variants(roots: Iterable[Making], fabrics: Mapping[str, str], names: Names) -> dict[AnyKey, str]:
    """What tells apart units of one title that were asked for with different fabrics or sizes, by key: the
    printed names of the fabrics (`fabrics` by key), or the other values, that are not the same in all."""
    found: dict[str, dict[AnyKey, tuple[str, ...]]] = {}
    waiting, seen = list(roots), set[int]()
    while waiting:
        making = waiting.pop()
        if id(making) in seen:
            continue
        seen.add(id(making))
        waiting += [p.what for p in making.parts if isinstance(p.what, Making)]
        if isinstance(making.key, Key) and making.key.arguments:
            found.setdefault(making.title or making.unit, {})[making.key.plain] = making.key.arguments
    told: dict[AnyKey, str] = {}
    for asked_for in found.values():
        lists = list(asked_for.values())
        if len(lists) < 2 or len({len(values) for values in lists}) > 1:
            continue
        unlike = [i for i in range(len(lists[0])) if len({values[i] for values in lists}) > 1]
        for key, values in asked_for.items():
            told[key] = "/".join(fabrics.get(values[i], values[i]) for i in unlike)
    return told


def renamed(
    top: Making,
    names: Names,
    versions: Mapping[AnyKey, tuple[str, str]],
    outermost: bool = True,
    made: dict[int, Making] | None = None,
    unlike: Mapping[AnyKey, str] = {},
) -> Making:
    """The tree with its titles and piece names as the booklet says them; what was one object stays one.

    `versions` gives, for the key of a unit pressed in two versions, what to call them. With `outermost`
    the whole is called the quilt top.
    `made` is shared by trees that share units; `unlike` as in `title_of`.
    """
    made = {} if made is None else made

    def of(part: Part) -> Part:
        if isinstance(part, Cloth):
            return msgspec.structs.replace(part, name=names.text(part.name)) if part.name else part
        if id(part) not in made:
            parts = tuple(Placed(of(p.what), p.place) for p in part.parts)
            title = title_of(part, names, versions, unlike)
            if part is top and outermost and part.role in ("centre", "border", "quilt"):
                title = names.say("names.top")
            made[id(part)] = msgspec.structs.replace(part, parts=parts, title=title)
        return made[id(part)]

    whole = of(top)
    assert isinstance(whole, Making)
    return whole


def title_of(
    making: Making,
    names: Names,
    versions: Mapping[AnyKey, tuple[str, str]],
    unlike: Mapping[AnyKey, str] = {},
) -> str:
    """What a making is called: its own title or unit, said by the catalogue, with what tells it from others
    of its title (`unlike`, by key) and its version where it has one."""
    base = (making.title or making.unit).removesuffix(MIRRORED)
    key = making.key
    if unlike.get(key.plain):
        base = names.say("names.variant", which=unlike[key.plain], title=base)
    if isinstance(key, OwnKey) and border_of(key.name) != key.name:
        base = names.say("names.with_border", border=names.text(english(border_of(key.name))))
    elif making.unit == "quilt":
        base = names.text(base)
    if key.mirrored:
        base = names.say("names.mirrored", title=base)
    if key in versions:
        return names.say("names.version", title=base, version=names.version(versions[key][making.version]))
    return names.say("names.version", title=base, version=names.version("other")) if making.version else base
