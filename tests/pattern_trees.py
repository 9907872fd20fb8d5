"""Random patterns with known sizes, written as text: rectangles cut again and again, and sewn together the
other way round.

Everything here works with plain fractions and knows nothing of the library: it is the other opinion that the
checker's answers are held against.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass, field
from fractions import Fraction

from hypothesis import strategies as st

EIGHTH = Fraction(1, 8)
SEAM = Fraction(1, 4)
FABRICS = ("night", "glow", "stone")
PRIME = (1 << 61) - 1


def typed(value: Fraction) -> str:
    """A number as a writer types it."""
    whole, rest = divmod(value, 1)
    return f"{whole} {rest}" if whole and rest else str(rest or whole)


@dataclass
class Number:
    """A number in the text: where it stands, what it is, and the sizes (with factors) that it states."""

    value: Fraction
    row: dict[str, int]
    start: int = -1

    @property
    def text(self) -> str:
        return typed(self.value)


@dataclass
class Written:
    """A pattern as text, its numbers, and the equations that joining its pieces gives."""

    text: str = ""
    numbers: list[Number] = field(default_factory=list)
    joins: list[dict[str, int]] = field(default_factory=list)
    units: int = 0

    def say(self, *parts: str | Number) -> None:
        """Add to the text, noting where numbers stand."""
        for part in parts:
            if isinstance(part, Number):
                part.start = len(self.text)
                self.numbers.append(part)
            self.text += part if isinstance(part, str) else part.text

    def with_number(self, number: Number, value: Fraction) -> str:
        """The text with another value in the place of a number."""
        end = number.start + len(number.text)
        return self.text[: number.start] + typed(value) + self.text[end:]

    @property
    def all_known(self) -> bool:
        """Whether every size follows from what is written."""
        rows = self.joins + [n.row for n in self.numbers]
        return rank(rows) == len({k for row in rows for k in row})

    def determined_twice(self) -> list[Number]:
        """The numbers that the rest of the file determines as well: leaving one out loses nothing.

        Ranks are taken modulo a large prime, which is exact for coefficients of 1 and -1 but for an accident.
        """
        rows = self.joins + [n.row for n in self.numbers]
        whole = rank(rows)
        first = len(self.joins)
        return [n for i, n in enumerate(self.numbers) if rank(rows[: first + i] + rows[first + i + 1 :]) == whole]


def rank(rows: list[dict[str, int]]) -> int:
    """How many independent equations there are."""
    done: dict[str, dict[str, int]] = {}
    for row in rows:
        left = {k: v % PRIME for k, v in row.items()}
        while left:
            lead = min(left)
            if lead not in done:
                inverse = pow(left[lead], -1, PRIME)
                done[lead] = {k: v * inverse % PRIME for k, v in left.items()}
                break
            factor = left[lead]
            for k, v in done[lead].items():
                total = (left.get(k, 0) - factor * v) % PRIME
                if total:
                    left[k] = total
                else:
                    left.pop(k, None)
    return len(done)


@st.composite
def patterns(draw: st.DrawFn, depth: int = 4, claims: bool = True) -> Written:
    """A pattern of one block, made of rows, columns, half-squares and patches to some depth; with `claims`
    the block's own size is stated."""
    w, h = (draw(st.integers(24, 160)) * EIGHTH for _ in range(2))
    written = Written()
    for name in FABRICS:
        written.text += f'fabric {name} "{name.title()} cloth"\n'
    heads: list[tuple[str, list[object]]] = []
    top = _unit(draw, written, w, h, depth, heads, claims, True)
    for name, lines in heads:
        written.say(f"\n{'block' if name == top else 'unit'} {name}\n")
        for line in lines:
            written.say("    ", *line, "\n")  # type: ignore[misc]
    for name in FABRICS:  # so that no fabric is left over
        written.text += f"\nunit last-{name}\n    patch {name}\n    finished 3\n"
    return written


def _split(draw: st.DrawFn, size: Fraction) -> list[Fraction]:
    """A size in two to four parts of at least half an inch."""
    eighths = int(size / EIGHTH)
    count = draw(st.integers(2, max(2, min(4, eighths // 8))))
    cuts = sorted(draw(st.sets(st.integers(4, eighths - 4), min_size=count - 1, max_size=count - 1)))
    edges = [0, *cuts, eighths]
    return [(b - a) * EIGHTH for a, b in itertools.pairwise(edges) if b > a]


def _unit(
    draw: st.DrawFn,
    written: Written,
    w: Fraction,
    h: Fraction,
    depth: int,
    heads: list,
    claims: bool = False,
    top: bool = False,
) -> str:
    """Describe a unit of that finished size, after the units it is made from; gives its name."""
    written.units += 1
    name = f"u{written.units}"
    kinds = (
        ["patch"] + (["half-square"] if w == h else []) + (["row", "column"] * 4 if depth and min(w, h) >= 2 else [])
    )
    kind = "row" if top else draw(st.sampled_from(kinds))
    if kind in ("patch", "half-square"):
        lines: list[list[object]] = [
            ["patch ", draw(st.sampled_from(FABRICS))] if kind == "patch" else ["half-square night, glow"]
        ]
        lines.append(
            _claim(draw, name, w, h, ["finished"] if kind == "half-square" else ["finished", "measures", "cut"])
        )
        if kind == "half-square":
            written.joins.append({f"{name}.w": 1, f"{name}.h": -1})
    else:
        lines = [_join(draw, written, name, kind, w, h, depth, heads)]
        if claims or (not top and draw(st.booleans())):
            lines.append(_claim(draw, name, w, h, ["finished", "measures"]))
    heads.append((name, lines))
    return name


def _claim(draw: st.DrawFn, name: str, w: Fraction, h: Fraction, words: list[str]) -> list[object]:
    word = draw(st.sampled_from(words))
    more = 0 if word == "finished" else 2 * SEAM
    return [f"{word} ", Number(w + more, {f"{name}.w": 1}), " x ", Number(h + more, {f"{name}.h": 1})]


def _join(
    draw: st.DrawFn, written: Written, name: str, kind: str, w: Fraction, h: Fraction, depth: int, heads: list
) -> list[object]:
    along, across = ("w", "h") if kind == "row" else ("h", "w")
    total = {f"{name}.{along}": -1}
    line: list[object] = [f"{kind} "]
    for i, part in enumerate(_split(draw, w if kind == "row" else h)):
        size = (part, h) if kind == "row" else (w, part)
        if i:
            line.append(f" {draw(st.sampled_from('|><'))} ")
        if draw(st.integers(0, 4)) >= depth:
            pw, ph = f"{name}.{i}.w", f"{name}.{i}.h"
            cut = draw(st.booleans())
            more = 2 * SEAM if cut else 0
            line += [draw(st.sampled_from(FABRICS)), " cut " if cut else " "]
            if draw(st.integers(0, 2)):
                line += [Number(size[0] + more, {pw: 1}), " x ", Number(size[1] + more, {ph: 1})]
            else:  # one size lies along the joining; the other follows
                line.append(Number(part + more, {pw if along == "w" else ph: 1}))
        else:
            turned = draw(st.sampled_from((0, 0, 90, 180, 270)))
            inner = size if turned % 180 == 0 else size[::-1]
            child = _unit(draw, written, *inner, depth - 1, heads)
            pw, ph = (f"{child}.w", f"{child}.h") if turned % 180 == 0 else (f"{child}.h", f"{child}.w")
            line.append(f"{child} turned {turned}" if turned else child)
        total[pw if along == "w" else ph] = 1
        written.joins.append({ph if across == "h" else pw: 1, f"{name}.{across}": -1})
    written.joins.append(total)
    return line
