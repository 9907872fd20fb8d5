"""The writer's own Markdown as a small tree that each renderer writes in its own way.

markdown-it-py does the reading, with raw HTML switched off. Only what a note needs survives: paragraphs, headings,
lists, quotations, code, tables, rules; strong, emphasis, struck, code, line breaks, and links to http, https and
mailto. A picture gives its alternative text, a link to anywhere else its words.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

import msgspec

from patternkit.render.names import showable

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.tree import SyntaxTreeNode

_SAFE_LINK = re.compile(r"(?:https?://|mailto:)[^\s<>\"\\]+\Z", re.IGNORECASE)


class RichNode(msgspec.Struct, frozen=True, omit_defaults=True):
    """A piece of the writer's text.

    `kind` is, for blocks, one of p h ul ol li quote code rule table row cell, for inline pieces one of t (text) b i s
    code a br. `text` is plain text of t and code; `items` what lies inside; `href` a safe address; `number` the level
    of a heading, the first number of a list, or 1 for a row of heads.
    """

    kind: str
    text: str = ""
    items: tuple[RichNode, ...] = ()
    href: str = ""
    number: int = 0


_BLOCKS = {
    "paragraph": "p",
    "heading": "h",
    "bullet_list": "ul",
    "ordered_list": "ol",
    "list_item": "li",
    "blockquote": "quote",
    "table": "table",
    "tr": "row",
    "th": "cell",
    "td": "cell",
}
_INLINE = {"strong": "b", "em": "i", "s": "s"}


def read(markdown: str) -> tuple[RichNode, ...]:
    """The blocks of the writer's text. Never fails: what isn't understood comes out as the text it is."""
    from markdown_it.tree import SyntaxTreeNode

    tree = SyntaxTreeNode(_reader().parse(showable(markdown)))
    return tuple(node for child in tree.children for node in _block(child))


def plainly(text: str) -> tuple[RichNode, ...]:
    """Plain text as one paragraph."""
    return (RichNode("p", items=(RichNode("t", text=text),)),)


@lru_cache(maxsize=1)
def _reader() -> MarkdownIt:
    from markdown_it import MarkdownIt

    return MarkdownIt("commonmark", {"html": False}).enable(["table", "strikethrough"])


def _block(node: SyntaxTreeNode) -> tuple[RichNode, ...]:
    if node.type in ("thead", "tbody"):
        return tuple(made for child in node.children for made in _block(child))
    if node.type == "hr":
        return (RichNode("rule"),)
    if node.type in ("fence", "code_block"):
        return (RichNode("code", text=node.content.rstrip("\n")),)
    if node.type == "inline":
        return tuple(made for child in node.children for made in _inline(child))
    inside = tuple(made for child in node.children for made in _block(child))
    kind = _BLOCKS.get(node.type)
    if kind is None:  # a kind of block nobody switched on: keep its text
        return inside
    return (RichNode(kind, items=inside, number=_number(node)),)


def _number(node: SyntaxTreeNode) -> int:
    if node.type == "heading":
        return int(node.tag[1:])
    if node.type == "ordered_list":
        return int(node.attrs.get("start", 1))
    if node.type == "tr":
        return int(any(child.type == "th" for child in node.children))
    return 0


def _inline(node: SyntaxTreeNode) -> tuple[RichNode, ...]:
    if node.type == "text":
        return (RichNode("t", text=node.content),) if node.content else ()
    if node.type == "softbreak":
        return (RichNode("t", text=" "),)
    if node.type == "hardbreak":
        return (RichNode("br"),)
    if node.type == "code_inline":
        return (RichNode("code", text=node.content),)
    inside = tuple(made for child in node.children for made in _inline(child))
    if node.type == "link" and inside:
        href = str(node.attrs.get("href", ""))
        return (RichNode("a", items=inside, href=href),) if _SAFE_LINK.match(href) else inside
    kind = _INLINE.get(node.type)
    return (
        (RichNode(kind, items=inside),)
        if kind
        else inside or ((RichNode("t", text=node.content),) if node.content else ())
    )


def words(nodes: tuple[RichNode, ...]) -> str:
    """The plain words of some nodes, blocks parted by a space."""
    parts = (node.text or words(node.items) + (" " if node.kind in ("p", "h", "cell", "li") else "") for node in nodes)
    return "".join(parts)
