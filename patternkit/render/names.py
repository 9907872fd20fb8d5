"""Plain text made safe, and names for files and anchors that are unique and can't lead anywhere."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

from patternkit.document import Block, Booklet, Drawing, Figure, NumberedStep, Section

_SPACE = re.compile(r"[ \t\r\n\f\v\x85\u2028\u2029]+")
# Control characters, marks that reverse the direction of what follows, halves of surrogate pairs and code
# points that are no characters: none can be shown, and some make a page or a file invalid.
_UNSHOWABLE = re.compile(
    "[\x00-\x08\x0e-\x1f\x7f-\x84\x86-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufdd0-\ufdef\ufeff\ufffe\uffff"
    + "".join(chr(plane * 0x10000 + end) for plane in range(1, 17) for end in (0xFFFE, 0xFFFF))
    + "]"
)


def showable(text: str) -> str:
    """`text` without characters that can't be shown; line ends stay."""
    return _UNSHOWABLE.sub("", text)


def plain(text: str) -> str:
    """One line of showable text: runs of white space become one space (a non-breaking space is kept)."""
    return _SPACE.sub(" ", showable(text)).strip()


def slug(text: str, otherwise: str = "part") -> str:
    """A name of a-z, 0-9 and single hyphens, at most 60 long, safe as a file name and an anchor."""
    folded = unicodedata.normalize("NFKD", text[:200]).encode("ascii", "ignore").decode("ascii").lower()
    return re.sub(r"[^a-z0-9]+", "-", folded).strip("-")[:60].strip("-") or otherwise


class Slugs:
    """Hands out slugs, each only once; a name taken already gets a number behind it."""

    def __init__(self) -> None:
        self._taken: set[str] = set()

    def fresh(self, text: str, otherwise: str = "part") -> str:
        """A slug of `text` that nobody has yet."""
        base = slug(text, otherwise)
        name, number = base, 1
        while name in self._taken:
            number += 1
            name = f"{base}-{number}"
        self._taken.add(name)
        return name


def blocks_within(blocks: tuple[Block, ...]) -> Iterator[Block]:
    """Every block in reading order, sections and steps before what they hold."""
    for block in blocks:
        yield block
        if isinstance(block, Section | NumberedStep):
            yield from blocks_within(block.blocks)


def drawings_of(booklet: Booklet) -> Iterator[Drawing]:
    """Every drawing in reading order: the cover's, the sections', the templates'."""
    if booklet.cover is not None:
        yield booklet.cover
    for block in blocks_within(booklet.sections):
        if isinstance(block, Figure):
            yield from block.drawings
    for template in booklet.templates:
        yield template.drawing


def drawing_names(booklet: Booklet) -> dict[Drawing, str]:
    """A unique, file-name-safe name for each different drawing."""
    names, found = Slugs(), dict[Drawing, str]()
    for drawing in drawings_of(booklet):
        if drawing not in found:
            found[drawing] = names.fresh(drawing.key, "drawing")
    return found


def section_names(booklet: Booklet) -> dict[int, str]:
    """A unique anchor for each section, by the identity of the section (two may be equal)."""
    names = Slugs()
    names.fresh("main"), names.fresh("contents"), names.fresh("templates")
    return {
        id(block): names.fresh(block.key, "section")
        for block in blocks_within(booklet.sections)
        if isinstance(block, Section)
    }
