"""A part of a booklet as a booklet: some sections, the templates, or both."""

from __future__ import annotations

from collections.abc import Collection

import msgspec

from patternkit.document import Block, Booklet, Section

TEMPLATES = "templates"


def only(booklet: Booklet, keys: Collection[str]) -> Booklet:
    """The booklet with only those sections whose `key` is asked for, wherever they stand; the cover stays.

    A section that is kept keeps all it holds; one that merely holds a kept one keeps its heading. The word `templates`
    asks for the templates. With keys that name nothing the booklet has no sections.
    """
    sections = tuple(kept for section in booklet.sections if (kept := _kept(section, keys)) is not None)
    templates = booklet.templates if TEMPLATES in keys else ()
    return msgspec.structs.replace(booklet, sections=sections, templates=templates)


def keys_of(booklet: Booklet) -> tuple[str, ...]:
    """Every key that `only` knows, in reading order."""
    found: list[str] = []

    def walk(blocks: tuple[Block, ...]) -> None:
        for block in blocks:
            if isinstance(block, Section):
                found.append(block.key)
                walk(block.blocks)

    walk(booklet.sections)
    return (*found, *((TEMPLATES,) if booklet.templates else ()))


def _kept(section: Section, keys: Collection[str]) -> Section | None:
    if section.key in keys:
        return section
    inside = (_kept(block, keys) for block in section.blocks if isinstance(block, Section))
    blocks = tuple(block for block in inside if block is not None)
    return msgspec.structs.replace(section, blocks=blocks) if blocks else None
