"""Lines of cutting as pages word them, read forgivingly: what the language would write for them."""

from __future__ import annotations

import re

COUNTS = (
    *("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen"),
    *("fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"),
)
_NUMBER = r"(?:\d+[\s-]+\d+\s*[/⁄]\s*\d+|\d+\s*[/⁄]\s*\d+|\d+\.\d+|(?:\d+\s?)?[¼½¾⅛⅜⅝⅞]|\d+)"
_UNIT = r"(?:\s*(?:\"|”|″|''|in\b\.?|inch(?:es)?\b|cm\b|mm\b))?"
LENGTH = rf"{_NUMBER}{_UNIT}"
_WIDTH_OF_FABRIC = r"(?:wof|width[ -]of[ -]fabric|width of the fabric)"
_TOKEN = re.compile(
    rf"(?P<wof>{_WIDTH_OF_FABRIC}\b)|(?P<strips>strips?\b)|(?P<squares>squares?\b|sq\b\.?)"
    r"|(?P<pieces>pieces?\b|rectangles?\b|rect\b\.?|of\b)|(?P<segments>segments?\b|sections?\b)"
    r"|(?P<once>once\b|in half\b)|(?P<twice>twice\b|both ways\b|into quarters\b)"
    r"|(?P<filler>(?:cut|wide|at|by the|a|an|the|each|diagonally|on|diagonals?|corner to corner|from|these|them|to)\b)"
    rf"|(?P<cross>[x×]|by\b)|(?P<length>{LENGTH})|(?P<word>[^\W\d_][\w-]*)|(?P<mark>[-–—:().,])|(?P<space>\s+)",
    re.IGNORECASE,
)
_NEXT = re.compile(
    r"[,;.]?\s*(?:\b(?:and|then)\b\s*)*(?:sub-?\s?cut|cross-?\s?cut)\b(?:\s+(?:them|these|strips))?(?:\s+(?:in)?to\b)?"
    r"|,?\s*\binto\b",
    re.IGNORECASE,
)
_BEFORE = re.compile(r"\s*[•*–-]\s*|\s*\d+\.\s+(?=[cC]ut)|from\b[^,:;]*?,?\s+(?=cut\b)", re.IGNORECASE)
_PURPOSE = re.compile(r"[\s,]*\(?\b(?:for|to lie|in all|altogether)\b.*", re.IGNORECASE)
_START = re.compile(
    rf"(?:(?:sub-?\s?cut|cross-?\s?cut|cut)\b:?(?:\s+into\b)?|(?=[(\d]|(?:{'|'.join(COUNTS)})\b))\s*", re.IGNORECASE
)
_STRIP_SETS = re.compile(
    r"(?:make\s+)?\(?(\d+)\)?\s+strip[ -]?(?:sets?|units?)\b|strip[ -]sets?\s+(\d+)\s*$", re.IGNORECASE
)
_HALVED = re.compile(
    r"(?:sub-?)?cut\b(?:\s+(?:it|apart|them|each))*\s+in(?:to)?\s+(?:half|halves|two)\b\s*(?P<way>.*)", re.IGNORECASE
)
MOST = 200  # characters of a line that is read so


def offered_cut(text: str, named: bool) -> str | None:
    """The line of cutting that a line most likely means; None where it speaks of none. `named` where it stands under a
    unit: the fabric is said behind a size, and a sewn unit may be halved."""
    if len(text) > MOST:
        return None
    if named and (sets := _STRIP_SETS.match(text)):
        return f"strip units {sets[1] or sets[2]}"
    if named and (halved := _HALVED.fullmatch(text.strip())):
        level = re.search(r"horizontal|side to side|left to right|across", halved["way"], re.IGNORECASE)
        return f"cut at middle of {'left' if level else 'top'}"
    text = _PURPOSE.sub("", text[before.end() :] if (before := _BEFORE.match(text)) else text)
    start = _START.match(text)
    if start is None:
        return None
    cuts = []
    for part in _NEXT.split(text[start.end() :]):
        if part.strip(" ,.;"):
            cut = _one(part, named)
            if cut is None:
                return None
            cuts.append(cut)
    return f"cut {', '.join(cuts)}" if cuts else None


def _one(text: str, named: bool) -> str | None:
    """One counted cut: ``(4) 2-1/2" x WOF strips``, ``ten 8" squares``."""
    found: dict[str, bool] = {}
    lengths: list[str] = []
    names: list[str] = []
    count, at = "", 0
    while at < len(text):
        token = _TOKEN.match(text, at)
        if token is None:
            return None
        kind, word, at = token.lastgroup or "", token.group(), token.end()
        if kind == "length" and not count:
            count = word
        elif kind == "length":
            lengths.append(" ".join(word.split()))
        elif kind == "word" and not count and word.lower() in COUNTS:
            count = str(COUNTS.index(word.lower()) + 1)
        elif kind == "word":
            names.append(word)
        else:
            found[kind] = True
    if not count.isdecimal() or not 1 <= len(lengths) <= 2 or len(names) > named or "segments" in found:
        return None
    whole = "wof" in found or ("strips" in found and len(lengths) == 1)
    noun = "strips" if whole else "squares" if "squares" in found and len(lengths) == 1 else "of"
    noun = noun.removesuffix("s") if count == "1" else noun
    if not found.keys() & {"wof", "strips", "squares", "pieces"}:
        return None
    size = lengths[0] if whole or len(lengths) == 1 else f"{lengths[0]} x {lengths[1]}"
    way = ", once" if "once" in found else ", twice" if "twice" in found else ""
    return f"{count} {noun} {size}{''.join(f' {name.lower()}' for name in names)}{way}"
