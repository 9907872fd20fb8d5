"""The booklet as a document: sections, paragraphs, tables, steps and drawings, before any renderer.

Markdown, HTML and PDF are all rendered from this one tree, so that no number can differ between them. Text is plain
text with a small set of inline pieces; renderers escape it. A writer's Markdown comes in as `Rich` and is parsed by
markdown-it-py with raw HTML switched off.
"""

from __future__ import annotations

from typing import Literal, Union

import msgspec


class Drawing(msgspec.Struct, frozen=True):
    """A finished drawing: SVG text, a short title, a description for those who can't see it, size in points.

    `key` is a file-name-safe name, unique in the booklet. `true_size` forbids scaling (templates).
    """

    key: str
    svg: str
    title: str
    description: str
    width: float
    height: float
    true_size: bool = False


class Paragraph(msgspec.Struct, frozen=True):
    """A paragraph of plain text; `strong` leading words may stand before it ("Press:")."""

    text: str
    lead: str = ""


class Rich(msgspec.Struct, frozen=True):
    """The writer's own Markdown, numbers already filled in."""

    markdown: str


class Callout(msgspec.Struct, frozen=True):
    """A note, tip, caution or checkpoint set apart; content is the writer's Markdown or plain text."""

    kind: Literal["note", "tip", "caution", "checkpoint", "remedy"]
    text: str
    rich: bool = False


class Bullets(msgspec.Struct, frozen=True):
    """A list of short plain texts; `numbered` for ordered ones."""

    items: tuple[str, ...]
    numbered: bool = False


class Table(msgspec.Struct, frozen=True):
    """A table: caption, column heads, rows of plain text. `align` has l, r or c for each column.

    The head repeats on paper.
    """

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    align: str = ""


class Figure(msgspec.Struct, frozen=True):
    """One or more drawings side by side, with a caption."""

    drawings: tuple[Drawing, ...]
    caption: str = ""


class NumberedStep(msgspec.Struct, frozen=True):
    """A numbered step: what it is, and its blocks kept together with its drawing."""

    number: int
    title: str
    blocks: tuple[Block, ...]


class Section(msgspec.Struct, frozen=True):
    """A part of the booklet with a heading; `key` is its anchor; `new_page` starts a fresh page on paper."""

    key: str
    title: str
    blocks: tuple[Block, ...]
    new_page: bool = False


Block = Union[Paragraph, Rich, Callout, Bullets, Table, Figure, NumberedStep, Section]


class PrintedTemplate(msgspec.Struct, frozen=True):
    """A true-size template or foundation: drawn in points (72 to the inch), larger than a page if need be."""

    drawing: Drawing
    title: str
    lines: tuple[str, ...] = ()


class Booklet(msgspec.Struct, frozen=True):
    """A whole booklet. `facts` are the cover's label/value pairs; `language` a BCP 47 tag."""

    title: str
    author: str
    subtitle: str
    cover: Drawing | None
    facts: tuple[tuple[str, str], ...]
    sections: tuple[Section, ...]
    templates: tuple[PrintedTemplate, ...] = ()
    language: str = "en"
    copyright: str = ""
    contact: str = ""
    labels: dict[str, str] = {}  # words of the frame in the booklet's language: contents, page, of, step, ...
