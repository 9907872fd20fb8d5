"""A drawing made ready to stand inside a page: shapes and text, ids of its own, nothing that reaches outside.

Drawings come from our own hand, but what is written in them comes from the writer, so each one is read again by an XML
reader and written afresh from a list of what a drawing may hold. Pictures, scripts, links and foreign content are left
out.
"""

from __future__ import annotations

import re
from html import escape
from xml.etree import ElementTree

import msgspec

from patternkit.document import Drawing
from patternkit.problems import PatternError, Problem
from patternkit.render.names import plain

_SHAPES = {"g", "path", "rect", "line", "polyline", "polygon", "circle", "ellipse", "text", "tspan", "use"}
_DEFINITIONS = {
    "defs",
    "pattern",
    "clipPath",
    "mask",
    "marker",
    "symbol",
    "linearGradient",
    "radialGradient",
    "stop",
}
_ELEMENTS = _SHAPES | _DEFINITIONS | {"style"}
_OF_ROOT = frozenset({"width", "height", "viewBox", "x", "y", "role", "id", "class", "overflow"})
_LOCAL_URL = re.compile(r"url\(\s*['\"]?#([\w.:-]+)['\"]?\s*\)")
_ANY_URL = re.compile(r"url\s*\(|expression|@import|javascript:", re.IGNORECASE)
_SELECTOR = re.compile(r"([^{}]+)\{")


class Window(msgspec.Struct, frozen=True):
    """The part of a drawing that shows (x, y, width, height) and where its corner goes, all in points."""

    x: float
    y: float
    width: float
    height: float
    at_x: float = 0.0
    at_y: float = 0.0


def inline_svg(
    drawing: Drawing,
    name: str,
    *,
    font: str = "",
    described: bool = True,
    window: Window | None = None,
) -> str:
    """The drawing as one `<svg>` element, its ids starting with `name`.

    `described` puts the drawing's title and description inside, for readers who can't see it; `font` replaces every
    font family; a `window` shows only a part of the drawing, at its true size. Raises PatternError when the drawing
    isn't well-formed XML.
    """
    try:
        if "<!DOCTYPE" in drawing.svg or "<!ENTITY" in drawing.svg:
            raise ElementTree.ParseError("a document type")
        root = ElementTree.fromstring(drawing.svg)
    except ElementTree.ParseError as error:
        message = f'The drawing "{plain(drawing.title)}" could not be read as SVG: {error}.'
        raise PatternError([Problem(code="drawing-unreadable", message=message)]) from None
    cleaner = _Cleaner(name, font)
    inside = (escape(root.text) if root.text and root.text.strip() else "") + "".join(
        cleaner.element(child) for child in root
    )
    words = described_by(drawing, name) if described else ""
    labelled = f' role="img" aria-labelledby="{name}-t {name}-d"' if described else ""
    keep = cleaner.attributes(root, skip=_OF_ROOT, tag="svg")
    if font and "font-family=" not in keep:
        keep += f' font-family="{escape(font)}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" id="{name}"{labelled}'
        f"{_extent(root, drawing, window)}{keep}>{words}{inside}</svg>"
    )


def _extent(root: ElementTree.Element, drawing: Drawing, window: Window | None) -> str:
    """The attributes that say which part of the drawing shows, how large and where."""
    given = root.get("viewBox", "")
    if not re.fullmatch(r"[-+\d.eE,\s]+", given) or len(re.split(r"[,\s]+", given.strip())) != 4:
        given = f"0 0 {number(drawing.width)} {number(drawing.height)}"
    if window is None:
        return f' viewBox="{given}" width="{number(drawing.width)}pt" height="{number(drawing.height)}pt"'
    left, top, wide, high = (float(part) for part in re.split(r"[,\s]+", given.strip()))
    across, down = wide / drawing.width, high / drawing.height
    box = (left + window.x * across, top + window.y * down, window.width * across, window.height * down)
    place = zip(("x", "y", "width", "height"), (window.at_x, window.at_y, window.width, window.height), strict=True)
    shown = " ".join(number(value) for value in box)
    # A whole drawing may let the stroke of its outermost lines show; a part ends where it ends.
    whole = (window.width, window.height) == (drawing.width, drawing.height)
    return f' viewBox="{shown}" overflow="{"visible" if whole else "hidden"}"' + "".join(
        f' {key}="{number(value)}"' for key, value in place
    )


def described_by(drawing: Drawing, name: str) -> str:
    """The title and description elements, with ids that `aria-labelledby` can name."""
    title, description = plain(drawing.title), plain(drawing.description)
    return f'<title id="{name}-t">{escape(title)}</title><desc id="{name}-d">{escape(description)}</desc>'


def number(value: float) -> str:
    """A number for SVG, at most six decimals, no trailing noughts."""
    return f"{value:.6f}".rstrip("0").rstrip(".") if value != int(value) else str(int(value))


class _Cleaner:
    """Writes elements again, one by one, with ids and references made to start with `name`."""

    def __init__(self, name: str, font: str) -> None:
        self.name, self.font = name, font

    def element(self, node: ElementTree.Element) -> str:
        tail = escape(node.tail, quote=False) if node.tail and node.tail.strip() else ""
        tag = node.tag.rpartition("}")[2] if isinstance(node.tag, str) else ""
        if tag == "a":  # a link keeps what it holds
            return "".join(self.element(child) for child in node) + tail
        if tag not in _ELEMENTS:
            return tail
        if tag == "style":
            return self.style(node.text or "") + tail
        inside = escape(node.text, quote=False) if node.text and (tag in ("text", "tspan") or node.text.strip()) else ""
        inside += "".join(self.element(child) for child in node)
        if tag == "text" or tag == "tspan":
            tail = escape(node.tail, quote=False) if node.tail and tag == "tspan" else tail
        attributes = self.attributes(node, tag=tag)
        return f"<{tag}{attributes}>{inside}</{tag}>{tail}" if inside else f"<{tag}{attributes}/>{tail}"

    def attributes(self, node: ElementTree.Element, *, tag: str, skip: frozenset[str] = frozenset()) -> str:
        written = []
        for full, value in node.attrib.items():
            key = full.rpartition("}")[2]
            if key in skip or key.lower().startswith(("on", "aria-")) or key in ("role", "tabindex", "space", "lang"):
                continue
            if key == "href":
                if tag != "use" or not value.startswith("#"):
                    continue
                value = f"#{self.name}-{value[1:]}"
            elif key == "id":
                value = f"{self.name}-{value}"
            elif key == "font-family" and self.font:
                value = self.font
            elif key == "style":
                value = self.reference(self.own_font(value))
            elif "url" in value or ":" in value:
                value = self.reference(value)
            written.append(f' {key}="{escape(value)}"')
        return "".join(written)

    def reference(self, value: str) -> str:
        """`value` with references to the drawing's ids made local; what reaches outside is emptied."""
        if _ANY_URL.search(_LOCAL_URL.sub("", value)):
            return "none"
        return _LOCAL_URL.sub(lambda m: f"url(#{self.name}-{m[1]})", value)

    def own_font(self, css: str) -> str:
        return re.sub(r"font-family\s*:[^;}]*", f"font-family: {self.font}", css) if self.font else css

    def style(self, text: str) -> str:
        """A style sheet that holds for this drawing only."""
        if "<" in text or "@" in text:
            return ""
        text = self.own_font(text)

        def scoped(match: re.Match[str]) -> str:
            parts = (part.strip() for part in match[1].split(","))
            return ", ".join(f"#{self.name} {part}" for part in parts if part) + " {"

        return f"<style>{self.reference(_SELECTOR.sub(scoped, text))}</style>"
