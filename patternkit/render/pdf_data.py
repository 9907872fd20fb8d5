"""The booklet as plain data for the typesetter: strings, numbers and lists, never markup."""

from __future__ import annotations

import re
from typing import Any

import msgspec

from patternkit.document import (
    Block,
    Booklet,
    Bullets,
    Callout,
    Drawing,
    Figure,
    NumberedStep,
    Paragraph,
    Rich,
    Section,
    Table,
)
from patternkit.render import rich
from patternkit.render.grounded import grounded
from patternkit.render.labels import ENGLISH, labels_of
from patternkit.render.names import drawing_names, plain, section_names
from patternkit.render.sheet_svg import NOTES_LEFT, sheet_svg, spoken
from patternkit.render.sheets import FIVE_CM, Area, sheets_of
from patternkit.render.svgclean import inline_svg

PAPERS = {"letter": (612.0, 792.0), "a4": (210 / 25.4 * 72, 297 / 25.4 * 72)}
FONT = "Open Sans"  # in drawings
_SHEET_MARGIN = {"x": 36.0, "top": 36.0, "bottom": 46.0}
_BESIDE = 236.0  # points, as in the typesetter's source
_LEAST = 6.0  # points: no letter on paper is smaller
_HALF_LINE = 58  # letters that fit on half a line
_TIE = re.compile(r"(?<=\d) (?=\d+/\d)|(?<=\d) (?=(?:in|cm|mm|yd|m|pt)\b)")
_FONT_SIZE = re.compile(r'font-size="([\d.]+)"')

Data = dict[str, Any]


def data_of(booklet: Booklet, paper: str, include: str) -> Data:
    """Everything the typesetter needs; `include` is all, text or templates."""
    return _Data(booklet).whole(PAPERS[paper], include)


def tied(text: str) -> str:
    """Plain text with a size's number, fraction and unit tied by non-breaking spaces."""
    return _TIE.sub("\u00a0", plain(text))


class _Data:
    def __init__(self, booklet: Booklet) -> None:
        self.booklet = booklet
        self.label = labels_of(booklet)
        self.names = drawing_names(booklet)
        self.anchor = section_names(booklet)
        self.drawings: dict[str, Data] = {}

    def whole(self, paper: tuple[float, float], include: str) -> Data:
        b = self.booklet
        lang, region = _language(b.language)
        text = include != "templates"
        sections = [self.section(s) for s in b.sections] if text else []
        return {
            "paper": {"width": paper[0], "height": paper[1]},
            "title": tied(b.title) or "-",
            "short": tied(b.title) if len(b.title) <= 80 else tied(b.title[:79]) + "\u2026",
            "author": tied(b.author),
            "subtitle": tied(b.subtitle),
            "copyright": tied(b.copyright),
            "contact": tied(b.contact),
            "lang": lang,
            "region": region,
            "labels": {key: tied(self.label(key)) for key in ENGLISH},
            "facts": [[tied(name), tied(value)] for name, value in b.facts],
            "cover": self.drawing(b.cover) if b.cover is not None and text else None,
            "front": text,
            "contents": text and len(sections) + bool(b.templates) > 1,
            "sections": sections,
            "sheets": self.sheets(paper) if include != "text" else [],
            "drawings": self.drawings,
        }

    def drawing(self, drawing: Drawing) -> str:
        name = self.names[drawing]
        if name not in self.drawings:
            words = (plain(drawing.title).rstrip("."), plain(drawing.description))
            self.drawings[name] = {
                "svg": grounded(inline_svg(drawing, name, font=FONT, described=False)),
                "alt": ". ".join(w for w in words if w) or name,
                "width": drawing.width,
                "height": drawing.height,
                "true_size": drawing.true_size,
                "least": _least(drawing),
            }
        return name

    def sheets(self, paper: tuple[float, float]) -> list[Data]:
        width = paper[0] - 2 * _SHEET_MARGIN["x"]
        height = paper[1] - _SHEET_MARGIN["top"] - _SHEET_MARGIN["bottom"]
        area = Area(width, height)
        words = {"x": NOTES_LEFT, "y": height - FIVE_CM - 1, "width": width - NOTES_LEFT, "height": FIVE_CM}
        return [
            {
                "svg": sheet_svg(sheet, sheet.key, self.label, font=FONT),
                "alt": spoken(sheet, self.label),
                "title": tied(sheet.title),
                "notes": [tied(note) for note in sheet.notes],
                "width": width,
                "height": height,
                "words": words,
                "margin": _SHEET_MARGIN,
            }
            for sheet in sheets_of(self.booklet.templates, self.label, area)
        ]

    def section(self, section: Section) -> Data:
        return {
            "is": "section",
            "key": self.anchor[id(section)],
            "title": tied(section.title),
            "new_page": section.new_page,
            "blocks": [self.block(b) for b in section.blocks],
        }

    def block(self, block: Block) -> Data:
        match block:
            case Paragraph(text=text, lead=lead):
                return {"is": "paragraph", "text": tied(text), "lead": tied(lead)}
            case Rich(markdown=source):
                return {"is": "rich", "nodes": _nodes(rich.read(source))}
            case Callout(kind=kind, text=text):
                nodes = rich.read(text) if block.rich else rich.plainly(plain(text))
                return {"is": "callout", "kind": kind, "nodes": _nodes(nodes), "long": len(text) > 1200}
            case Bullets(items=items, numbered=numbered):
                items_of = [tied(item) for item in items]
                narrow = not numbered and len(items_of) > 1 and max(map(len, items_of)) <= _HALF_LINE
                return {"is": "bullets", "items": items_of, "numbered": numbered, "narrow": narrow}
            case Table():
                return _table(block)
            case Figure(drawings=drawings, caption=caption):
                shown = [self.drawing(d) for d in drawings]
                return {"is": "figure", "drawings": shown, "caption": tied(caption)}
            case NumberedStep():
                return self.step(block)
            case Section():
                return self.section(block)

    def step(self, step: NumberedStep) -> Data:
        return {
            "is": "step",
            "number": step.number,
            "title": tied(step.title),
            "blocks": [self.block(b) for b in step.blocks],
            "aside": self.aside(step),
        }

    def aside(self, step: NumberedStep) -> str:
        """When the drawings of a step stand beside its words: always, where a page is short of room, never."""
        figures = [b for b in step.blocks if isinstance(b, Figure)]
        tables = any(isinstance(b, Table) for b in step.blocks)  # too narrow beside a drawing
        if len(figures) != 1 or len(step.blocks) < 2 or tables:
            return "never"
        if _width(figures[0]) <= _BESIDE:
            return "always"
        (first, *others) = figures[0].drawings
        scale = _BESIDE / first.width
        if others or first.true_size or _least(first) * scale < _LEAST or first.height < 0.6 * first.width:
            return "never"
        return "short"


def _width(figure: Figure) -> float:
    return sum(d.width for d in figure.drawings) + 16 * (len(figure.drawings) - 1)


def _least(drawing: Drawing) -> float:
    """The smallest size of letters in a drawing, in points; 0 where there are none."""
    return min(map(float, _FONT_SIZE.findall(drawing.svg)), default=0.0)


def _table(table: Table) -> Data:
    count = max([len(table.heads), *(len(row) for row in table.rows), 1])

    def full(row: tuple[str, ...]) -> list[str]:
        return [tied(cell) for cell in row] + [""] * (count - len(row))

    rows = [full(row) for row in table.rows]
    longest = [max([len(row[i]) for row in [full(table.heads), *rows]]) for i in range(count)]
    align = (table.align + "l" * count)[:count]
    return {
        "is": "table",
        "caption": tied(table.caption),
        "heads": full(table.heads),
        "rows": rows,
        "align": [a if a in ("l", "r", "c") else "l" for a in align],
        "columns": _shares(longest),
        "long": max(longest) > 600,
    }


def _shares(longest: list[int]) -> list[int]:
    """How columns share the width, by their longest cells; 0 is "as wide as it needs"."""
    # About 5.4 points a letter and 12 of inset: when all fits in one line, share by length.
    if sum(5.4 * n + 12 for n in longest) < 480:
        return [max(n, 4) + 3 for n in longest]
    # What stands first is short, and reads badly in two lines. Long columns share what short ones leave, the longest
    # less than its letters ask, so that the others need not be a word wide.
    wide = [n > (22 if i else 34) or n == max(longest) for i, n in enumerate(longest)]
    return [round(min(n, 200) ** 0.6 * 10) if share else 0 for n, share in zip(longest, wide, strict=True)]


def _nodes(nodes: tuple[rich.RichNode, ...]) -> Any:
    return msgspec.to_builtins(tuple(_tied(node) for node in nodes))


def _tied(node: rich.RichNode) -> rich.RichNode:
    text = _TIE.sub("\u00a0", node.text) if node.kind == "t" else node.text
    return msgspec.structs.replace(node, text=text, items=tuple(_tied(child) for child in node.items))


def _language(tag: str) -> tuple[str, str | None]:
    parts = tag.split("-")
    lang = parts[0].lower() if re.fullmatch(r"[A-Za-z]{2,3}", parts[0]) else "en"
    return lang, next((p.upper() for p in parts[1:] if re.fullmatch(r"[A-Za-z]{2}", p)), None)
