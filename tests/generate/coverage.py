"""What of the language a made pattern holds, read from its text; and all that there is, from the language's own tables.

A kind, a method, an option, a phrase or a statement that is new to the language is wanted here by itself, and
misses until something writes it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache

from patternkit.piecing.asking import method_words
from patternkit.piecing.kinds import kinds
from patternkit.syntax.words import HEADS_TO_PLACE, PHRASES, PLACES, PROSE

from .pressing import WAYS

Item = tuple[str, ...]

ELSEWHERE = {
    ("statement", "file", "include"),  # needs a second file
    ("prose under", "fabric"),  # is told to be printed nowhere
    ("statement", "fabric", "number"),  # is told to be out of place
}
"""What is no part of made patterns."""
PLACES_TURNED = ("turned 90", "turned 180", "turned 270", "mirrored")
MARKS = (" | ", " > ", " < ", " <> ")


@cache
def wanted() -> frozenset[Item]:
    """Everything that patterns are made of."""
    found: set[Item] = {("prose", word) for word in PROSE}
    for word, kind in kinds().items():
        found.add(("kind", word))
        found |= {("method", word, m) for m in method_words(kind)}
        found |= {("option", word, o) for o in kind.options}
    found |= {("phrase", word, p) for word, phrases in PHRASES.items() for p in phrases}
    for place in ("file", "pattern", "fabric", "unit", "quilt", "colourway", "part"):
        found |= {("statement", place, word) for word in PLACES[place] if word not in kinds() and word not in PROSE}
        if set(PROSE) <= set(PLACES[place]):
            found.add(("prose under", place))
    found |= {("press", how) for how in WAYS} | {("mark", m.strip()) for m in MARKS}
    found |= {("use", how) for how in PLACES_TURNED} | {("use", "brackets"), ("use", "times")}
    found |= {("sold", form) for form in ("fat-quarters", "squares", "strips")}
    found |= {("units", u) for u in ("inches", "cm", "mm")}
    return frozenset(found - ELSEWHERE)


def held(text: str) -> frozenset[Item]:
    """What one pattern has of all that."""
    found: set[Item] = set()
    for place, kind, line in _lines(text):
        words = line.replace("usable width", "usable-width").split()
        first, rest = words[0], " ".join(words[1:])
        found.add(("prose", first) if first in PROSE else ("statement", place, first))
        if first in PROSE:
            found.add(("prose under", place))
        if place == "unit":
            found.update(_of_unit(kind, first, rest))
        if first in PHRASES and place == "quilt":
            found.update(_phrases(first, rest))
        if first == "press":
            found.add(("press", words[1]))
        if first == "units":
            found.add(("units", rest))
        if first == "sold" and words[1] == "as":
            found.add(("sold", re.sub("^fat quarters?", "fat-quarters", " ".join(words[2:])).split()[0]))
        if not _is_prose(line):
            found.update(_pieces(line))
    return found & wanted()


def _of_unit(kind: str, first: str, rest: str) -> Iterable[Item]:
    """What a line of a unit holds; its kind's line tells the kind."""
    known = kinds().get(kind)
    if known is None:  # a unit that is set like a quilt
        return
    if first == kind:
        yield "kind", kind
        yield from (("method", kind, m) for m in method_words(known)[:1])
    elif first == "method":
        words = re.sub(r" [\d.½¼¾/\" -]+(in|mm)?$", "", rest)
        yield "method", kind, words.removesuffix(" oversize") or words
        if words.endswith("oversize"):
            yield "method", kind, "oversize"
    elif first in known.options:
        yield "option", kind, first


def _phrases(first: str, rest: str) -> Iterable[Item]:
    for phrase in PHRASES[first]:
        clauses = [c.strip() for c in rest.split(",")]
        if any(c == phrase or c.startswith(f"{phrase} ") for c in clauses):
            yield "phrase", first, phrase


def _pieces(line: str) -> Iterable[Item]:
    yield from (("mark", m.strip()) for m in MARKS if m in f" {line} ")
    yield from (("use", how) for how in PLACES_TURNED if how in line)
    if re.search(r"[a-z0-9]\(", line):
        yield "use", "brackets"
    if " times" in line:
        yield "use", "times"


def _is_prose(line: str) -> bool:
    return '"' in line or line.split()[0] in PROSE


def _lines(text: str) -> Iterator[tuple[str, str, str]]:
    """Each line that says something, with the place where it stands and the kind of the unit it belongs to."""
    place, kind, free = "file", "", 0
    block: list[tuple[str, str]] = []
    for raw in [*text.splitlines(), "end"]:
        line, indent = raw.strip(), len(raw) - len(raw.lstrip())
        if not line or (free and indent > free):
            continue
        free = 0
        if indent == 0:
            kind = next((x.split()[0] for p, x in block if p == "unit" and x.split()[0] in kinds()), "")
            yield from ((p, kind, x) for p, x in block)
            block = [("file", line)] if line != "end" else []
            place = HEADS_TO_PLACE.get(line.split()[0], "file")
        elif indent == 4:
            block.append((place, line))
            if line in PROSE:
                free = indent
        else:
            block.append(("rows", line))
