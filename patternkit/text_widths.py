"""How wide a text is: a width table for a sans-serif face, so that labels can be placed without a font engine.

For every character the table holds the widest of three faces: the two that stand in most often for "sans-serif" on free
systems (DejaVu Sans and Liberation Sans, the latter as wide as the usual office faces) and Open Sans, which the paper
booklet carries. They are the fonts' own advance widths in thousandths of the size, so a box worked out from them is
wide enough for each of the three.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache


def _table(text: str) -> tuple[int, ...]:
    return tuple(int(number) for number in text.split())


_PLAIN = _table(  # the characters 32 to 126
    """
    318 401 460 838 636 950 780 275 390 390 552 838 318 361 318 367 636 636 636 636 636 636 636 636 636
    636 337 337 838 838 838 556 1015 684 686 722 770 667 611 778 752 295 500 667 557 903 754 787 667 787
    722 667 611 732 684 989 685 667 685 390 367 390 838 556 577 613 635 550 635 615 352 635 634 278 278
    579 278 974 634 612 635 635 411 521 392 634 592 818 592 592 525 636 551 636 838
    """
)
_BOLD = _table(
    """
    348 456 521 838 696 1002 872 306 457 457 545 838 380 415 380 413 696 696 696 696 696 696 696 696 696
    696 400 400 838 838 838 611 1000 774 762 734 830 683 683 821 837 372 556 775 637 995 837 850 733 850
    770 720 682 812 774 1103 771 724 725 457 413 457 838 556 607 675 716 593 716 678 435 716 712 343 343
    665 343 1042 712 687 716 716 493 595 478 712 652 924 645 652 582 712 551 712 838
    """
)
_LATIN = _table(  # the characters 160 to 383
    """
    318 401 636 636 636 636 551 556 577 1000 471 612 838 361 1000 552 500 838 401 401 577 636 655 318
    500 401 471 612 969 969 969 611 684 684 684 684 684 684 1000 722 667 667 667 667 295 295 295 295 775
    754 787 787 787 787 787 838 787 732 732 732 732 667 667 630 613 613 613 613 613 613 982 550 615 615
    615 615 278 278 278 278 612 634 612 612 612 612 612 838 612 634 634 634 634 592 635 592 684 613 684
    613 684 613 722 550 722 550 722 550 722 550 770 635 775 635 667 615 667 615 667 615 667 615 667 615
    778 635 778 635 778 635 778 635 752 634 916 695 295 278 295 278 295 278 295 278 295 278 735 556 500
    278 667 579 579 557 278 557 278 557 375 557 342 562 284 754 634 754 634 754 634 813 754 634 787 612
    787 612 787 612 1070 1023 722 411 722 411 722 411 667 521 667 521 667 521 667 521 611 392 611 392
    611 392 732 634 732 634 732 634 732 634 732 634 732 634 989 818 667 592 667 685 525 685 525 685 525
    352
    """
)
_OTHER = {
    "–": 556,
    "—": 1000,
    "‘": 318,
    "’": 318,
    "“": 518,
    "”": 518,
    "…": 1000,
    "•": 590,
    "→": 1000,
    "−": 838,
    "′": 227,
    "″": 374,
    "√": 637,
}
_BOLDER = 1.27  # the widest any plain character of the table grows when bold, for those without a bold width
_UNKNOWN = 1060  # other scripts: a full square and a little

ASCENT, DESCENT, CAP = (
    0.80,
    0.22,
    0.73,
)  # of the size: top of a capital with its air, bottom of a tail, a capital


def _wide(char: str, bold: bool) -> float:
    code = ord(char)
    if 32 <= code <= 126:
        return (_BOLD if bold else _PLAIN)[code - 32]
    if unicodedata.combining(char):
        return 0
    known = _LATIN[code - 160] if 160 <= code <= 383 else _OTHER.get(char, _UNKNOWN)
    return known * _BOLDER if bold else known


# A size ("3 1/2 x 6 1/2 in") stays on one line; anything else breaks at spaces
_NUMBER = r"\d[\d.,]*(?:/\d+)?(?: \d+/\d+)?"
_UNBROKEN = re.compile(rf"{_NUMBER}(?: x (?:\w+ )?{_NUMBER})?(?: (?:in|cm|mm|yd|m)\b)?[^\s\w]*|\S+")


@lru_cache(maxsize=4096)
def text_width(text: str, size: float, bold: bool = False) -> float:
    """The room a text needs from left to right at `size`, in the unit of `size` (never less than it is drawn)."""
    return sum(_wide(char, bold) for char in text) * size / 1000


def shortened(text: str, size: float, room: float, bold: bool = False) -> str:
    """The text, or as much of its beginning as fits into `room` with an ellipsis after it; empty when nothing fits."""
    if text_width(text, size, bold) <= room:
        return text
    low, high = 0, min(len(text), int(room / size * 6) + 1)  # no letter is narrower than a sixth of its size
    while low < high:
        middle = (low + high + 1) // 2
        if text_width(text[:middle].rstrip() + "…", size, bold) <= room:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip() + "…" if low else ""


def wrapped(text: str, size: float, room: float, lines: int = 99, bold: bool = False) -> list[str]:
    """The text in lines no wider than `room`, broken between words; the last of `lines` is shortened if it must be."""
    out: list[str] = []
    words = _UNBROKEN.findall(text)
    while words and len(out) < lines:
        line = words.pop(0)
        if len(out) == lines - 1:
            out.append(shortened(" ".join([line, *words]), size, room, bold))
            return out
        while words and text_width(line + " " + words[0], size, bold) <= room:
            line += " " + words.pop(0)
        out.append(shortened(line, size, room, bold))
    return out


def longest_word(text: str, size: float, bold: bool = False, most: float = 150.0) -> float:
    """The room of the longest word or size of a text, but not above `most`: less would cut it short."""
    return min(most, max((text_width(w, size, bold) for w in _UNBROKEN.findall(text)), default=0.0))
