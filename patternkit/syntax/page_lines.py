"""Lines as pages word them, read forgivingly: what the language would write for them, by the place where they stand."""

from __future__ import annotations

import re

from patternkit.syntax.cut_offers import COUNTS, LENGTH
from patternkit.syntax.lexer import WORD

_CLOTH = rf"(?P<cloth>{WORD})"
_N, _M = rf"(?P<n>{LENGTH})", r"(?P<m>\d+)"
_SIZES = (
    (r"finish(?:ed|es)\s+(?:size|at)\s+(?P<rest>.+)", "finished {rest}"),
    (r"unfinished\s+(?:size|at)\s+(?P<rest>.+)", "measures {rest}"),
)
_WORDS: dict[str, tuple[tuple[str, str], ...]] = {
    "quilt": (
        *_SIZES,
        (r"mit(?:r|er)ed\s+borders?\b(?P<rest>.+)", "border{rest}, mitred"),
        (r"pieced\s+borders?\b(?P<rest>.+)", "border{rest}"),
        (r"columns?\s+(?P<n>\d+)", "across {n}"),
        (r"rows?\s+(?P<n>\d+)", "down {n}"),
        (rf"(?P<n>\d+)\s+rows?\s+of\s+{_M}(?:\s+blocks?)?", "across {m}, down {n}"),
        (rf"backing\s+{_CLOTH},?\s+{_N}\s+(?:extra|overage|over|beyond)\b.*", "backing {cloth}, overage {n}"),
        (rf"backing\s+{_CLOTH},?\s+(?:extra|over|plus)\s+{_N}", "backing {cloth}, overage {n}"),
        (rf"backing\s+{_CLOTH},?\s+{_N}\s+wide", "backing {cloth}, wide {n}"),
        (rf"backing\s+{_CLOTH},?\s+(?P<way>horizontal|vertical)(?:\s+seams?)?", "backing {cloth}, seams {way}"),
        (rf"border\s+{_N}\s+{_CLOTH},?\s+corner\s+squares?\s+(?P<rest>.+)", "border {n} {cloth}, cornerstones {rest}"),
    ),
    "fabric": (
        (r"sold\s+as\s+(?:fqs?|f\.\s?q\.)", "sold as fat-quarters"),
        (r"(?:sold\s+as\s+)?charms?(?:\s+(?:squares?|packs?))?", "sold as squares 5 x 5"),
        (rf"(?:sold\s+as\s+)?{_N}\s+squares?\b(?P<rest>.*)", "sold as squares {n} x {n}{rest}"),
        (r"fat[\s-]*(?P<n>quarters?|eighths?)(?P<rest>.*)", "sold as fat {n}{rest}"),
        (rf"buy\s+(?P<count>{'|'.join(COUNTS)})\s+(?P<rest>.+)", "buy {count} {rest}"),
    ),
    "unit": (
        *_SIZES,
        (r"press\s+(?:all\s+)?(?:the\s+)?seams?\s+open", "press open"),
        (r"press\s+(?:alternate|alternating)\s+rows\b.*", "press rows alternately"),
        (r"(?P<n>two|four|eight|[248])-at-a-time(?:\s+method)?", "method {n} at a time"),
        (r"magic[\s-]+(?:8|eight)(?:\s+method)?", "method eight at a time"),
        (r"no[\s-]waste(?:\s+method)?", "method no waste"),
        (r"(?:foundation|paper)[\s-]+(?:paper[\s-]+)?piec(?:ed|ing)", "method foundation"),
        (rf"finish(?:ed|es)\s+{_N}\s*(?:in\.?|inches|inch)?\s+square", "finished {n}"),
    ),
}
_LINES = {
    place: tuple((re.compile(words, re.IGNORECASE), line) for words, line in lines) for place, lines in _WORDS.items()
}
MOST = 200  # characters of a line that is read so


def offered_line(place: str, text: str) -> str | None:
    """The line that a line at a place most likely means; None where it is worded as no page words it."""
    if len(text) > MOST:
        return None
    for words, line in _LINES.get(place, ()):
        if (found := words.fullmatch(text.strip())) is not None:
            parts = found.groupdict()
            if (count := parts.get("count")) is not None:
                parts["count"] = str(COUNTS.index(count.lower()) + 1)
            return line.format(**parts)
    return None
