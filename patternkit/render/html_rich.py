"""Text and the writer's own pieces as HTML."""

from __future__ import annotations

import re
from html import escape

from patternkit.render.names import plain
from patternkit.render.rich import RichNode

# A mixed number must not be parted at a line's end: "1" here and "1/4 in" there reads as two sizes.
_MIXED = re.compile(r"\d+ \d+/\d+(?: (?:in|yd)\b)?")
_TAGS = {
    "p": "p",
    "ul": "ul",
    "li": "li",
    "quote": "blockquote",
    "b": "strong",
    "i": "em",
    "s": "s",
    "row": "tr",
}


def text(value: str) -> str:
    """Plain text for a place between tags."""
    return unbroken(escape(plain(value)))


def unbroken(escaped_text: str) -> str:
    """Escaped text with each mixed number wrapped so that no line breaks within it."""
    return _MIXED.sub(lambda m: f'<span class="n">{m[0]}</span>', escaped_text)


def rich(nodes: tuple[RichNode, ...], level: int) -> str:
    """The writer's blocks as HTML; headings stand at `level`."""
    return "\n".join(_node(node, level) for node in nodes)


def inline(nodes: tuple[RichNode, ...]) -> str:
    """Inline pieces as HTML."""
    return "".join(_node(node, 6) for node in nodes)


def _node(node: RichNode, level: int) -> str:
    match node.kind:
        case "t":
            return unbroken(escape(node.text))
        case "br":
            return "<br>"
        case "rule":
            return '<hr class="rule">'
        case "code":
            code = f"<code>{escape(node.text)}</code>"
            return f"<pre>{code}</pre>" if "\n" in node.text else code
        case "a":
            return f'<a href="{escape(node.href)}" rel="noopener noreferrer">{inline(node.items)}</a>'
        case "h":
            tag = f"h{min(level, 6)}"
            return f"<{tag}>{inline(node.items)}</{tag}>"
        case "ol":
            start = f' start="{node.number}"' if node.number != 1 else ""
            return f"<ol{start}>{rich(node.items, level)}</ol>"
        case "table":
            return f'<div class="table"><table>{_rows(node)}</table></div>'
        case "li" if len(node.items) == 1 and node.items[0].kind == "p":
            return f"<li>{inline(node.items[0].items)}</li>"
        case kind:
            tag = _TAGS[kind]
            inside = rich(node.items, level) if kind in ("ul", "li", "quote") else inline(node.items)
            return f"<{tag}>{inside}</{tag}>"


def _rows(table: RichNode) -> str:
    written = []
    for row in table.items:
        head = bool(row.number)
        cells = (inline(cell.items) for cell in row.items)
        made = "".join(f'<th scope="col">{c}</th>' if head and c else f"<td>{c}</td>" for c in cells)
        written.append(f"<thead><tr>{made}</tr></thead>" if head else f"<tr>{made}</tr>")
    return "\n".join(written)
