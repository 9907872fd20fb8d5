"""A booklet as one web page that needs nothing beside it: no script, no fetched file, drawings inside.

Its style sheet is made for the screen and for printing from a browser.
"""

from __future__ import annotations

import re
from functools import lru_cache
from html import escape
from pathlib import Path

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
from patternkit.render import html_rich, rich
from patternkit.render.html_rich import text
from patternkit.render.labels import labels_of
from patternkit.render.names import Slugs, drawing_names, plain, section_names
from patternkit.render.sheet_svg import sheet_svg
from patternkit.render.sheets import sheets_of
from patternkit.render.svgclean import inline_svg

BESIDE = 236.0  # points: drawings no wider than this together stand beside the words of their step
PHONE = 330.0  # points: a wider drawing is scrolled on a narrow screen
_POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"


def html(booklet: Booklet) -> str:
    """The booklet as a whole HTML5 page. All text is escaped; the page's own policy lets it load nothing."""
    return _Page(booklet).whole()


@lru_cache(maxsize=1)
def _style() -> str:
    return (Path(__file__).parent / "assets" / "booklet.css").read_text(encoding="utf-8")


class _Page:
    def __init__(self, booklet: Booklet) -> None:
        self.booklet = booklet
        self.label = labels_of(booklet)
        self.drawing_name = drawing_names(booklet)
        self.anchor = section_names(booklet)
        self.ids = Slugs()

    def whole(self) -> str:
        b = self.booklet
        title = escape(plain(b.title))
        author = f'<meta name="author" content="{escape(plain(b.author))}">\n' if plain(b.author) else ""
        body = [
            f'<a class="skip" href="#main">{text(self.label("skip"))}</a>',
            self.cover(),
            self.contents(),
            '<main id="main" tabindex="-1">',
            *(self.section(section, 2) for section in b.sections),
            self.templates(),
            "</main>",
            self.imprint(),
        ]
        return (
            f'<!DOCTYPE html>\n<html lang="{escape(language(b.language))}">\n<head>\n<meta charset="utf-8">\n'
            f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">\n'
            f'<meta name="viewport" content="width=device-width, initial-scale=1">\n<title>{title}</title>\n'
            f"{author}<style>\n{_style()}</style>\n</head>\n<body>\n"
            + "\n".join(part for part in body if part)
            + "\n</body>\n</html>\n"
        )

    def cover(self) -> str:
        b = self.booklet
        parts = ['<header class="cover">']
        if plain(b.author):
            parts.append(f'<p class="by">{text(b.author)}</p>')
        parts.append(f"<h1>{text(b.title)}</h1>")
        if plain(b.subtitle):
            parts.append(f'<p class="subtitle">{text(b.subtitle)}</p>')
        if b.cover is not None:
            parts.append(f'<figure><div class="drawings">{self.drawing(b.cover)}</div></figure>')
        if b.facts:
            pairs = "\n".join(f"<div><dt>{text(k)}</dt><dd>{text(v)}</dd></div>" for k, v in b.facts)
            parts.append(f'<dl class="facts">\n{pairs}\n</dl>')
        return "\n".join([*parts, "</header>"])

    def contents(self) -> str:
        lines = [self.entry(section) for section in self.booklet.sections]
        if self.booklet.templates:
            lines.append(f'<li><a href="#templates">{text(self.label("templates"))}</a></li>')
        if len(lines) < 2:
            return ""
        heading = f'<h2 id="contents">{text(self.label("contents"))}</h2>'
        return f'<nav aria-labelledby="contents">\n{heading}\n<ol>\n' + "\n".join(lines) + "\n</ol>\n</nav>"

    def entry(self, section: Section, deep: bool = True) -> str:
        inner = [self.entry(b, deep=False) for b in section.blocks if deep and isinstance(b, Section)]
        below = f"<ol>{''.join(inner)}</ol>" if inner else ""
        return f'<li><a href="#{self.anchor[id(section)]}">{text(section.title)}</a>{below}</li>'

    def imprint(self) -> str:
        b = self.booklet
        lines = [f"<p>{text(b.copyright)}</p>"] if plain(b.copyright) else []
        if plain(b.contact):
            lines.append(f"<p>{text(self.label('contact'))}: {text(b.contact)}</p>")
        return f"<footer>{''.join(lines)}</footer>" if lines else ""

    def section(self, section: Section, level: int) -> str:
        tag = f"h{min(level, 6)}"
        fresh = ' class="new-page"' if section.new_page else ""
        heading = f'<{tag} id="{self.anchor[id(section)]}">{text(section.title)}</{tag}>'
        # The words before the first step stay with it in print, as the heading does.
        first = next((i for i, b in enumerate(section.blocks) if isinstance(b, NumberedStep)), 0)
        opening = "\n".join([heading, *(self.block(b, level) for b in section.blocks[:first])])
        if 0 < first < 4:
            opening = f'<div class="opening">\n{opening}\n</div>'
        inside = "\n".join(self.block(b, level) for b in section.blocks[first:])
        return f"<section{fresh}>\n{opening}\n{inside}\n</section>"

    def block(self, block: Block, level: int) -> str:
        match block:
            case Paragraph(text=words, lead=lead):
                start = f'<span class="lead">{text(lead)}</span> ' if plain(lead) else ""
                return f"<p>{start}{text(words)}</p>"
            case Rich(markdown=source):
                return html_rich.rich(rich.read(source), level + 1)
            case Callout():
                return self.callout(block, level)
            case Bullets(items=items, numbered=numbered):
                tag = "ol" if numbered else "ul"
                return f"<{tag}>\n" + "\n".join(f"<li>{text(item)}</li>" for item in items) + f"\n</{tag}>"
            case Table():
                return self.table(block)
            case Figure():
                return self.figure(block)
            case NumberedStep():
                return self.step(block, level + 1)
            case Section():
                return self.section(block, level + 1)

    def callout(self, block: Callout, level: int) -> str:
        kind = f'<span class="kind">{text(self.label(block.kind))}.</span>'
        nodes = rich.read(block.text) if block.rich else rich.plainly(plain(block.text))
        if nodes and nodes[0].kind == "p":
            inside = f"<p>{kind} {html_rich.inline(nodes[0].items)}</p>{html_rich.rich(nodes[1:], level + 1)}"
        else:
            inside = f"<p>{kind}</p>{html_rich.rich(nodes, level + 1)}"
        return f'<div class="callout {block.kind}" role="note">{inside}</div>'

    def table(self, table: Table) -> str:
        def cell(value: str, column: int, head: bool) -> str:
            align = table.align[column : column + 1]
            shown = text(value)
            kinds = [align] if align in ("r", "c") and align else []
            # A short cell stays in one line, whatever long ones beside it want.
            kinds += ["short"] if 0 < len(value) <= 12 else []
            css = f' class="{" ".join(kinds)}"' if kinds else ""
            if shown and head:
                return f'<th scope="col"{css}>{shown}</th>'
            if shown and column == 0 and align not in ("r", "c"):
                return f'<th scope="row"{css}>{shown}</th>'
            return f"<td{css}>{shown}</td>"

        def row(values: tuple[str, ...], head: bool = False) -> str:
            return "<tr>" + "".join(cell(v, i, head) for i, v in enumerate(values)) + "</tr>"

        name = self.ids.fresh("table-" + table.caption[:40])
        caption = f'<caption id="{name}">{text(table.caption)}</caption>' if plain(table.caption) else ""
        group = f' role="group" aria-labelledby="{name}" tabindex="0"' if caption else ' tabindex="0"'
        rows = "\n".join(row(r) for r in table.rows)
        head = f"<thead>{row(table.heads, head=True)}</thead>" if any(map(plain, table.heads)) else ""
        return f'<div class="table"{group}>\n<table>{caption}\n{head}\n<tbody>\n{rows}\n</tbody></table>\n</div>'

    def figure(self, figure: Figure) -> str:
        shown = "\n".join(self.drawing(d) for d in figure.drawings)
        caption = f"<figcaption>{text(figure.caption)}</figcaption>" if plain(figure.caption) else ""
        wide = max((d for d in figure.drawings), key=lambda d: d.width, default=None)
        if wide is None or wide.width <= PHONE:
            return f'<figure><div class="drawings">{shown}</div>{caption}</figure>'
        # On a narrow screen it is scrolled, for made narrower its words could not be read.
        name = escape(plain(wide.title)) or self.drawing_name[wide]
        group = f'<div class="drawings wide" tabindex="0" role="group" aria-label="{name}">'
        return f"<figure>{group}{shown}</div>{caption}</figure>"

    def drawing(self, drawing: Drawing) -> str:
        # The same drawing may stand in several places, and an id only in one.
        return inline_svg(drawing, self.ids.fresh("d-" + self.drawing_name[drawing]))

    def step(self, step: NumberedStep, level: int) -> str:
        tag = f"h{min(level, 6)}"
        name = self.ids.fresh(f"step-{step.number}")
        badge = f'<span class="num">{text(self.label("step"))} {step.number}</span>'
        heading = f'<{tag} id="{name}">{badge} {text(step.title)}</{tag}>'
        figures = [b for b in step.blocks if isinstance(b, Figure)]
        tables = any(isinstance(b, Table) for b in step.blocks)  # too narrow beside a drawing
        beside = len(figures) == 1 and _width(figures[0]) <= BESIDE and len(step.blocks) > 1 and not tables
        inside = "\n".join(self.block(b, level) for b in step.blocks)
        opened = '<div class="beside">' if beside else "<div>"
        return f'<section class="step">\n{heading}\n{opened}\n{inside}\n</div>\n</section>'

    def templates(self) -> str:
        sheets = sheets_of(self.booklet.templates, self.label)
        if not sheets:
            return ""
        heading = f'<h2 id="templates">{text(self.label("templates"))}</h2>'
        parts = [f'<section class="new-page">\n{heading}\n<p>{text(self.label("print_true"))}</p>']
        for index, sheet in enumerate(sheets):
            drawing = sheet_svg(sheet, self.ids.fresh(sheet.key), self.label)
            notes = "".join(f"<p>{text(note)}</p>" for note in sheet.notes)
            words = f'<div class="words"><h3>{text(sheet.title)}</h3>{notes}</div>'
            kind, title = "sheet" if index else "sheet first", escape(plain(sheet.title))
            group = f'<div class="{kind}" tabindex="0" role="group" aria-label="{title}">'
            parts.append(f'{group}\n<div class="paper">\n{words}\n{drawing}\n</div></div>')
        return "\n".join([*parts, "</section>"])


def _width(figure: Figure) -> float:
    return sum(d.width for d in figure.drawings) + 16 * (len(figure.drawings) - 1)


def language(tag: str) -> str:
    """A BCP 47 tag that is well formed, or English."""
    return tag if re.fullmatch(r"[A-Za-z]{2,8}(?:-[A-Za-z0-9]{1,8})*", tag) else "en"
