"""The word a line starts with: which statement it makes, and what is said when it makes none at its place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from itertools import islice

import msgspec

from patternkit.problems import Problem, Repair
from patternkit.source import Span
from patternkit.syntax.lexer import WORD, fold
from patternkit.syntax.meant import BLOCKS, EDGE_TRIANGLES, MEANT
from patternkit.syntax.suggest import nearest
from patternkit.syntax.words import (
    ALIASES,
    HEADS_TO_PLACE,
    KINDS,
    OPTION_WORDS,
    PLACE_ALIASES,
    PLACE_NAMES,
    PLACES,
    RESERVED,
)

_WORD = re.compile(WORD)
_SPACE = re.compile(r"\s+")
_MOST_WORDS = 5
_MARKS = re.compile(r"(?:<>|[|<>])$")
# read only where a line starts with no word, which is rare
_AT_A_TIME = r"(?i:(?:[1248]|one|two|four|eight)\s+at\s+a\s+time\b|stitch[\s-]+and[\s-]+flip\b)"
_COUNT_FIRST = r"(?i:[0-9]+\s+(?:blocks?\s+)?(?:across|down)\b)"
_LEFT_OUT = "What a pattern does not have is not said: leave the line out."
_NUMBERS_FIRST = {
    "unit": "A size is said by `finished 9 x 9`, how many are made by `make 9`.",
    "quilt": "Counts of blocks are said by `across 3, down 4`, the size of the whole by `finished 60 x 80`.",
    "part": "What a part makes is said by `makes 12 star`.",
}
_CLASSES = {
    "kind": "KIND",
    "size_claim": "CLAIM",
    "setting_text": "SETTING",
    "setting_texts": "SETTING",
    "setting_length": "SETTING",
    "setting_word": "SETTING",
    "batting_sold": "SETTING",
    "finish": "FINISH",
    "bare": "HEAD",
    "unit_head": "HEAD",
    "strip_units": "HEAD",
    "cut_claim": "CLAIM",
    "option": "OPTION",
}


class Lead(msgspec.Struct, frozen=True):
    """How a line is to be read: the grammar's start rule, the word it starts with, that word as a token (or None when
    the rule reads it itself), and the problem already found."""

    rule: str
    word: str = ""
    token: tuple[str, str, int] | None = None
    problem: Problem | None = None


def _spellings() -> dict[str, str]:
    """Leading words written with spaces for their hyphens."""
    found = dict(ALIASES)
    for place in PLACES.values():
        found.update({word: word for word in place if "-" in word})
    return found


_SPELLED = _spellings()
_FIRST_PARTS = frozenset(word.split("-")[0] for word in _SPELLED) | frozenset(_SPELLED)


def leading_word(text: str, place: str = "") -> tuple[str, int]:
    """The word or words a line starts with, in their one spelling, and where they end; ("", 0) when it starts
    otherwise. Where names start the lines, a word stays as it is."""
    found = list(islice(_words(text), 1))
    if not found:
        return "", 0
    first, end = found[0]
    if place in ("rows", "sizes", "colourway"):
        return first, end
    if (place, first) in PLACE_ALIASES:
        return PLACE_ALIASES[place, first], end
    several = list(islice(_words(text), _MOST_WORDS))
    if len(several) > 1 and (alias := PLACE_ALIASES.get((place, f"{first}-{several[1][0]}"))) is not None:
        return alias, several[1][1]
    if first.split("-")[0] in _FIRST_PARTS:
        for count in range(len(several), 0, -1):
            joined = "-".join(word for word, _ in several[:count])
            if joined in _SPELLED:
                return _SPELLED[joined], several[count - 1][1]
    return first, end


def _words(text: str) -> Iterator[tuple[str, int]]:
    """The words that a text starts with, each in its one spelling, and where it ends."""
    at = 0
    while (word := _WORD.match(text, at)) is not None:
        yield fold(word.group()), word.end()
        space = _SPACE.match(text, word.end())
        if space is None:
            return
        at = space.end()


def lead_of(place: str, text: str, span: Span) -> Lead:
    """How a line at a place is read; `span` covers its text. A wrong word gives a Lead with a problem."""
    if place == "rows":
        return _row_lead(text, span)
    word, end = leading_word(text, place)
    table = PLACES[place]
    rule = table.get(word)
    if rule is not None:
        return Lead(rule, word, _token(rule, word, end))
    if place == "unit" and re.match(_AT_A_TIME, text):
        return Lead("method", "method", ("METHOD", "method", 0))  # the word is understood
    if place in ("quilt", "unit") and re.match(_COUNT_FIRST, text):
        return Lead("counted", "across")
    if not word:
        if place in ("sizes", "colourway"):
            return Lead("size_row" if place == "sizes" else "swap")
        return Lead("", "", None, _no_word(place, text, span))
    if word in RESERVED and word not in OPTION_WORDS:
        return Lead("", word, None, _elsewhere(place, word, Span(span.file, span.start, span.start + end)))
    if place == "sizes":
        return Lead("size_row", word)
    if place == "colourway":
        return Lead("swap", word)
    if place not in ("unit", "kind") and MEANT.get(word) not in table and _stands_elsewhere(word):
        return Lead("", word, None, _elsewhere(place, word, Span(span.file, span.start, span.start + end)))
    if place == "quilt" and (end_of := _edge_triangles(text)):
        return Lead("", word, None, _on_point(text, Span(span.file, span.start, span.start + end_of)))
    if place == "quilt" and not (text.strip() == word and nearest(word, table)):  # a lone `tie` is a slip for `tile`
        from patternkit.syntax.other_lines import other_line  # only a line that begins with no word of its place

        if (problem := other_line(text, span)) is not None:
            return Lead("", word, None, problem)
    found = _named_otherwise(place, table, text)
    if isinstance(found, tuple) and found[0] in BLOCKS:
        return Lead("", word, None, _block(text, Span(span.file, span.start, span.start + found[1]), BLOCKS[found[0]]))
    guess, end = found or _slip(table, word, text, end)
    here = Span(span.file, span.start, span.start + end)
    if place in ("unit", "kind") and not found and (not guess or word in OPTION_WORDS):
        return Lead("option", word, ("OPTION", word, end))
    if guess:
        message = f"`{text[:end]}` starts no line here. Did you mean `{guess}`?"
        problem = Problem("unknown-word", message, here, repairs=(Repair(f"write `{guess}`", here, guess, True),))
        return Lead(table[guess], guess, _token(table[guess], guess, end), problem)
    if _stands_elsewhere(word):
        return Lead("", word, None, _elsewhere(place, word, here))
    return Lead("", word, None, _unknown(place, word, text, here))


def _stands_elsewhere(word: str) -> bool:
    """Whether a word starts lines at some place of the language."""
    return any(word in table for table in PLACES.values())


def _slip(table: dict[str, str], word: str, text: str, end: int) -> tuple[str, int]:
    """The word of a place that a line's first word or two are a slip or another word for, and where they end."""
    guess = MEANT[word] if MEANT.get(word) in table else nearest(word, table)
    several = [] if guess else list(islice(_words(text), 2))
    if len(several) == 2:
        pair = f"{several[0][0]}-{several[1][0]}"  # "usable widht", "flyng geese"
        guess = nearest(pair, [w for w in table if w.count("-") == 1]) if len(pair) > 8 else None
        end = several[1][1] if guess else end
    return guess or "", end


def _named_otherwise(place: str, table: dict[str, str], text: str) -> tuple[str, int] | None:
    """A kind of unit by another name, of several words or in the plural, or a block that is no kind: what it is called
    here, or the name of the block, and where that ends."""
    if place == "quilt":
        from patternkit.syntax.other_lines import BORDER  # the same

        ordered = BORDER.match(text)
        return None if ordered is None else ("border", ordered.end())
    if place != "unit":
        return None
    several = list(islice(_words(text), 4))
    for count in range(len(several), 0, -1):
        joined, end = "-".join(word for word, _ in several[:count]), several[count - 1][1]
        for name in (joined, joined.removesuffix("s"), joined.removesuffix("es")):
            if name in BLOCKS:
                return name, end
            meant = MEANT.get(name, name if name != joined else "")
            if meant in table and (count > 1 or meant in KINDS) and several[0][0] not in table:
                return meant, end
    return None


def _edge_triangles(text: str) -> int:
    """Where the words end by which the triangles round blocks on point are known elsewhere; 0 for other words."""
    several = list(islice(_words(text), 3))
    for count in range(len(several), 0, -1):
        if "-".join(word for word, _ in several[:count]) in EDGE_TRIANGLES:
            return several[count - 1][1]
    return 0


def _on_point(text: str, here: Span) -> Problem:
    """The problem of triangles round blocks on point that have a line of their own."""
    return Problem(
        "unknown-word",
        f"`{text[: here.end - here.start]}` starts no line here: triangles of a setting on point stand behind that.",
        here,
        causes=(
            "`setting on point stone` names a fabric for all of them; `setting on point, sides stone, corners stone` "
            "one for the sides and one for the corners, or a unit of that shape.",
        ),
    )


def _block(text: str, here: Span, how: str) -> Problem:
    """The problem of a block that is no kind of unit, with how it is written."""
    shown = text[: here.end - here.start]
    return Problem("unknown-word", f"`{shown}` is no kind of unit; it is written with others.", here, causes=(how,))


def _unknown(place: str, word: str, text: str, here: Span) -> Problem:
    """The problem of a word that starts no line anywhere."""
    if place == "file" and text[here.end - here.start :].lstrip().startswith("="):
        start = Span(here.file, here.start, here.start)
        message = f"A length gets its name by `let`: `let {text[:60]}`."
        return Problem("unknown-word", message, here, repairs=(Repair("put `let` before it", start, "let "),))
    causes = (_LEFT_OUT,) if word in ("no", "without") else (starters(place),)
    return Problem("unknown-word", f"`{word}` starts no line here.", here, causes=causes)


def _token(rule: str, word: str, end: int) -> tuple[str, str, int]:
    return _CLASSES.get(rule, word.upper().replace("-", "_")), word, end


def _row_lead(text: str, span: Span) -> Lead:
    """A row of pieces, or a seam mark on a line of its own."""
    if _MARKS.match(text):
        return Lead("seam_line")
    word, end = leading_word(text, "rows")
    starts = any(word in table for table in PLACES.values())
    if word in RESERVED and starts and not text[end:].lstrip().startswith(("|", ">", "<")):
        return Lead("", word, None, _elsewhere("rows", word, Span(span.file, span.start, span.start + end)))
    return Lead("line")


def _no_word(place: str, text: str, span: Span) -> Problem:
    if text[:1] in "|<>":
        return Problem(
            "no-rows",
            "A seam mark can only stand in a row of pieces, or alone between two rows.",
            span,
            causes=("Rows stand under `rows`, `column`, `tile` or `layout`, indented.",),
        )
    if text[:1] in "{};":
        mark = Span(span.file, span.start, span.start + 1)
        return Problem(
            "odd-character",
            f"`{text[:1]}` is not needed.",
            mark,
            causes=("What belongs to a line is indented under it, one statement a line.",),
            repairs=(Repair("take it out", mark, "", True),),
        )
    return Problem(
        "not-understood",
        f"A line starts with a word, not with `{text[:1]}`.",
        Span(span.file, span.start, span.start + 1),
        causes=(_NUMBERS_FIRST[place],)
        if place in _NUMBERS_FIRST and text[:1].isdigit()
        else (starters(place),)
        if PLACES[place]
        else (),
    )


def _elsewhere(place: str, word: str, span: Span) -> Problem:
    """The problem of a word that starts lines at other places only."""
    others = [PLACE_NAMES[p] for p, table in PLACES.items() if word in table and p != "kind"]
    causes = (
        (f"`{word}` belongs in {' or '.join(others)}" + _indented(place, word, others) + ".",)
        if others
        else (f"`{word}` is a word of the language, and starts no line.",)
    )
    here = PLACE_NAMES[place]
    message = (
        f"`{word}` can't stand indented in {here}."
        if place != "file"
        else f"`{word}` can't stand at the edge of the file."
    )
    return Problem("wrong-place", message, span, causes=causes)


def _indented(place: str, word: str, others: list[str]) -> str:
    """How a line gets to where it belongs; nothing for a line that stands at the edge of the file."""
    if others == [PLACE_NAMES["file"]]:
        return ": start it at the left edge"
    if place == "file":
        return ": indent it under the line it belongs to"
    return ": put it there, indented" if others else ""


@lru_cache(maxsize=16)
def starters(place: str) -> str:
    """A sentence that lists the words a line may start with."""
    where = "At the edge of the file" if place == "file" else f"In {PLACE_NAMES[place]}"
    return (
        f"{where} a line may start with: "
        + ", ".join(f"`{'usable width' if word == 'usable-width' else word}`" for word in PLACES[place])
        + "."
    )


def place_under(word: str) -> str:
    """The place that a heading word opens; "" for a word that takes nothing under it."""
    return HEADS_TO_PLACE.get(word, "")
