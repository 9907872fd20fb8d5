"""A booklet as one Markdown text, with its drawings as files beside it."""

from __future__ import annotations

from urllib.parse import quote

from patternkit.document import (
    Block,
    Booklet,
    Bullets,
    Callout,
    Drawing,
    Figure,
    NumberedStep,
    Paragraph,
    PrintedTemplate,
    Rich,
    Section,
    Table,
)
from patternkit.render import md_text, rich
from patternkit.render.labels import labels_of
from patternkit.render.md_text import escaped
from patternkit.render.names import drawing_names, plain, slug
from patternkit.render.svgclean import inline_svg


def markdown(booklet: Booklet, folder: str = "drawings") -> str:
    """The booklet as CommonMark with pipe tables; drawings are the files that `drawing_files` gives for the same
    folder."""
    return _Writer(booklet, folder).whole()


def drawing_files(booklet: Booklet, folder: str = "drawings") -> dict[str, str]:
    """The files that `markdown` refers to: path beside the booklet (`FOLDER/KEY.svg`), and SVG."""
    return {
        f"{folder}/{name}.svg": inline_svg(drawing, name) + "\n" for drawing, name in drawing_names(booklet).items()
    }


class _Writer:
    def __init__(self, booklet: Booklet, folder: str) -> None:
        self.booklet = booklet
        self.folder = quote(folder)  # a space or a bracket would end the link
        self.label = labels_of(booklet)
        self.names = drawing_names(booklet)

    def whole(self) -> str:
        b = self.booklet
        parts = [f"# {escaped(b.title)}"]
        if b.subtitle:
            parts.append(f"*{escaped(b.subtitle)}*")
        if b.author:
            parts.append(f"{escaped(self.label('by'))} {escaped(b.author)}")
        if b.cover is not None:
            parts.append(self.drawing(b.cover))
        if b.facts:
            parts.append("\n".join(f"- **{escaped(name)}:** {escaped(value)}" for name, value in b.facts))
        parts += [self.contents(), *(self.section(s, 2) for s in b.sections)]
        if b.templates:
            heads = [f"## {escaped(self.label('templates'))}", escaped(self.label("print_true"))]
            parts += [*heads, *(self.template(t) for t in b.templates)]
        parts.append(self.imprint())
        return "\n\n".join(part for part in parts if part) + "\n"

    def contents(self) -> str:
        titles = [s.title for s in self.booklet.sections]
        if self.booklet.templates:
            titles.append(self.label("templates"))
        if len(titles) < 2:
            return ""
        lines = [f"- [{escaped(title)}](#{_heading_anchor(title)})" for title in titles]
        return f"## {escaped(self.label('contents'))}\n\n" + "\n".join(lines)

    def imprint(self) -> str:
        b = self.booklet
        lines = [escaped(b.copyright)] if b.copyright else []
        if b.contact:
            lines.append(f"{escaped(self.label('contact'))}: {escaped(b.contact)}")
        return "* * *\n\n" + "\n\n".join(lines) if lines else ""

    def section(self, section: Section, level: int) -> str:
        return self.under(f"{'#' * min(level, 6)} {escaped(section.title)}", section.blocks, level)

    def under(self, heading: str, blocks: tuple[Block, ...], level: int) -> str:
        return "\n\n".join(part for part in (heading, *(self.block(b, level) for b in blocks)) if part)

    def block(self, block: Block, level: int) -> str:
        match block:
            case Paragraph(text=text, lead=lead):
                return f"**{escaped(lead)}** {escaped(text)}" if lead else escaped(text)
            case Rich(markdown=source):
                return md_text.rich(rich.read(source), level + 1)
            case Callout():
                return self.callout(block, level)
            case Bullets(items=items, numbered=numbered):
                marks = (f"{n}. " if numbered else "- " for n in range(1, len(items) + 1))
                return "\n".join(mark + escaped(item) for mark, item in zip(marks, items, strict=True))
            case Table():
                return self.table(block)
            case Figure(drawings=drawings, caption=caption):
                shown = "\n".join(self.drawing(d) for d in drawings)
                return f"{shown}\n\n*{escaped(caption)}*" if caption else shown
            case NumberedStep(number=number, title=title, blocks=blocks):
                name = f"{'#' * min(level + 1, 6)} {escaped(self.label('step'))} {number}"
                return self.under(f"{name}: {escaped(title)}" if title else name, blocks, level + 1)
            case Section():
                return self.section(block, level + 1)

    def callout(self, block: Callout, level: int) -> str:
        name = f"**{escaped(self.label(block.kind))}.**"
        if not block.rich:
            return f"> {name} {escaped(block.text)}"
        nodes = rich.read(block.text)
        body = md_text.rich(nodes, level + 1)
        joined = f"{name} {body}" if nodes and nodes[0].kind == "p" else f"{name}\n\n{body}"
        return md_text.indented(joined, "> ", "> ")

    def table(self, block: Table) -> str:
        rows = [[escaped(cell) for cell in row] for row in block.rows]
        body = md_text.table([escaped(head) for head in block.heads], rows, block.align)
        return f"**{escaped(block.caption)}**\n\n{body}" if block.caption else body

    def drawing(self, drawing: Drawing) -> str:
        words = ". ".join(w for w in (plain(drawing.title).rstrip("."), plain(drawing.description)) if w)
        return f"![{escaped(words)}]({self.folder}/{self.names[drawing]}.svg)"

    def template(self, template: PrintedTemplate) -> str:
        lines = [escaped(line) for line in template.lines]
        return "\n\n".join([f"### {escaped(template.title)}", *lines, self.drawing(template.drawing)])


def _heading_anchor(title: str) -> str:
    """The anchor most Markdown viewers give a heading: lower case, spaces as hyphens, punctuation dropped."""
    kept = "".join(c for c in plain(title).lower() if c.isalnum() or c in " -_")
    return kept.replace(" ", "-") if kept.replace(" ", "-").strip("-") else slug(title)
