"""Text written as Markdown: plain text that stays plain, and the writer's own pieces from their tree."""

from __future__ import annotations

import re

from patternkit.render.names import plain
from patternkit.render.rich import RichNode

# What could start markup anywhere in a line; an underscore within a word can't.
_ACTIVE = re.compile(r"[\\`*\[\]<>|~]|(?<![^\W_])_|_(?![^\W_])|&(?=[#A-Za-z])")
_AT_START = re.compile(r"(#{1,6}(?=\s|$)|[-+](?=\s|$)|[-=]+\s*$|\d{1,9}(?=[.)](?:\s|$))|>)")


def escaped(text: str) -> str:
    """Plain text that Markdown shows as it is."""
    line = _ACTIVE.sub(lambda m: "\\" + m[0], plain(text))
    start = _AT_START.match(line)
    if start is None:
        return line
    digits = re.match(r"\d+", line)  # 12. -> 12\.
    return f"{digits[0]}\\{line[len(digits[0]) :]}" if digits else "\\" + line


def rich(nodes: tuple[RichNode, ...], level: int = 3) -> str:
    """The writer's blocks as Markdown; headings stand at `level`."""
    return "\n\n".join(_block(node, level) for node in nodes)


def indented(text: str, first: str, rest: str) -> str:
    """`text` with `first` before its first line and `rest` before the others; no trailing spaces."""
    lines = text.split("\n")
    return "\n".join([first + lines[0], *((rest + line).rstrip() for line in lines[1:])])


def _block(node: RichNode, level: int) -> str:
    if node.kind == "p":
        return _line(node.items)
    if node.kind == "h":
        return f"{'#' * min(level, 6)} {_line(node.items)}"
    if node.kind in ("ul", "ol"):
        return _items(node, level)
    if node.kind == "quote":
        return indented(rich(node.items, level), "> ", "> ")
    if node.kind == "code":
        fence = "`" * max(3, _longest_run(node.text) + 1)
        return f"{fence}\n{node.text}\n{fence}"
    if node.kind == "table":
        return _table(node)
    return "* * *"


def _items(node: RichNode, level: int) -> str:
    lines = []
    for index, item in enumerate(node.items):
        mark = f"{node.number + index}. " if node.kind == "ol" else "- "
        lines.append(indented(rich(item.items, level), mark, " " * len(mark)))
    return "\n".join(lines)


def _table(node: RichNode) -> str:
    rows = [[_line(cell.items) for cell in row.items] for row in node.items]
    return table(rows[0], rows[1:], "") if rows else ""


def table(heads: list[str], rows: list[list[str]], align: str) -> str:
    """A pipe table of finished cells."""
    marks = {"r": "---:", "c": ":---:", "l": ":---"}
    rule = [marks.get(align[i : i + 1], "---") for i in range(len(heads))]
    return "\n".join("| " + " | ".join(cells) + " |" for cells in (heads, rule, *rows))


def _line(nodes: tuple[RichNode, ...]) -> str:
    text = "".join(_inline(node) for node in nodes).strip()
    return "\\" + text if _AT_START.match(text) and not text[0].isdigit() else _number_start(text)


def _number_start(text: str) -> str:
    return re.sub(r"^(\d{1,9})(?=[.)](?:\s|$))", r"\1\\", text)


def _inline(node: RichNode) -> str:
    if node.kind == "t":
        return _ACTIVE.sub(lambda m: "\\" + m[0], node.text)
    if node.kind == "br":
        return "\\\n"
    if node.kind == "code":
        ticks = "`" * (_longest_run(node.text) + 1)
        return f"{ticks} {node.text} {ticks}".replace("|", "\\|")
    inside = "".join(_inline(child) for child in node.items)
    if node.kind == "a":
        return f"[{inside}](<{node.href}>)"
    mark = {"b": "**", "i": "*", "s": "~~"}[node.kind]
    return f"{mark}{inside}{mark}"


def _longest_run(text: str) -> int:
    return max((len(run) for run in re.findall(r"`+", text)), default=0)
