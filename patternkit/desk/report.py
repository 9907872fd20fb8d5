"""Problems as a person reads them, and as JSON."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import msgspec

from patternkit.problems import Problem
from patternkit.source import NOWHERE, Source, Span

_BOLD, _RED, _BLUE, _DIM, _END = "\x1b[1m", "\x1b[31m", "\x1b[34m", "\x1b[2m", "\x1b[0m"


MOST_REPAIRS = 6  # more are in the JSON


class Paint:
    """Colour on a terminal, none elsewhere."""

    def __init__(self, colour: bool) -> None:
        self.colour = colour

    def __call__(self, text: str, *styles: str) -> str:
        return f"{''.join(styles)}{text}{_END}" if self.colour else text


def text(problems: Sequence[Problem], sources: Mapping[str, Source], colour: bool = False) -> str:
    """All problems as text, each with its place, the line it stands on, causes and repairs."""
    paint = Paint(colour)
    return "\n".join(_one(p, sources, paint) for p in problems)


def _one(p: Problem, sources: Mapping[str, Source], paint: Paint) -> str:
    lines = []
    kind = paint("advice", _BLUE) if p.advice else paint("problem", _RED)
    place = _place(p.span, sources)
    head = f"{place}: " if place else ""
    size = f" (size {p.size})" if p.size else ""
    often = f" ({p.count} times)" if p.count > 1 and f"{p.count} times" not in p.message else ""
    lines.append(f"{paint(head, _BOLD)}{kind} [{p.code}]{size} {paint(p.message, _BOLD)}{often}")
    lines += _quoted(p.span, sources, paint)
    for label in p.labels:
        lines.append(f"    {paint(_place(label.span, sources) or 'also', _DIM)}: {label.text}")
    for number, cause in enumerate(p.causes, 1):
        lines.append(f"    {number}. {cause}" if len(p.causes) > 1 else f"    {cause}")
    if p.repairs:
        lines.append("    One of these would settle it:" if len(p.repairs) > 1 else "    This would settle it:")
        shown = p.repairs if len(p.repairs) <= MOST_REPAIRS + 1 else p.repairs[:MOST_REPAIRS]
        lines += [f"      - {r.text}" for r in shown]
        if len(shown) < len(p.repairs):
            lines.append(f"      - or one of {len(p.repairs) - len(shown)} other numbers in these statements")
    return "\n".join(lines) + "\n"


def _place(span: Span, sources: Mapping[str, Source]) -> str:
    source = sources.get(span.file)
    if source is None or span == NOWHERE:
        return span.file
    line, column = source.place(span.start)
    return f"{span.file}:{line}:{column}"


def _quoted(span: Span, sources: Mapping[str, Source], paint: Paint) -> list[str]:
    source = sources.get(span.file)
    if source is None or span.end <= span.start:
        return []
    line, column = source.place(span.start)
    shown = source.line(line)
    if len(shown) > 160:
        return []
    width = max(1, min(span.end - span.start, len(shown) - column + 1))
    before = "".join(c if c == "\t" else " " for c in shown[: column - 1])
    return [f"    {paint('|', _DIM)} {shown}", f"    {paint('|', _DIM)} {before}{paint('^' * width, _RED)}"]


def as_json(problems: Sequence[Problem], sources: Mapping[str, Source]) -> bytes:
    """All problems as JSON, in the same order, with lines and columns counted from 1."""
    return msgspec.json.format(msgspec.json.encode([_data(p, sources) for p in problems]), indent=2)


def _data(p: Problem, sources: Mapping[str, Source]) -> dict[str, Any]:
    return {
        "code": p.code,
        "kind": "advice" if p.advice else "problem",
        "message": p.message,
        "at": _at(p.span, sources),
        "size": p.size,
        "count": p.count,
        "causes": list(p.causes),
        "labels": [{"at": _at(x.span, sources), "text": x.text} for x in p.labels],
        "repairs": [
            {
                "text": r.text,
                "at": _at(r.span, sources) if r.span else None,
                "replacement": r.replacement,
                "safe": r.safe,
            }
            for r in p.repairs
        ],
    }


def _at(span: Span, sources: Mapping[str, Source]) -> dict[str, Any]:
    source = sources.get(span.file)
    line, column = source.place(span.start) if source else (0, 0)
    last, end = source.place(span.end) if source else (0, 0)
    return {
        "file": span.file,
        "line": line,
        "column": column,
        "endLine": last,
        "endColumn": end,
        "start": span.start,
        "end": span.end,
    }
