"""Lines of a quilt as other pages write them, and the line that is meant."""

from __future__ import annotations

import re

import msgspec

from patternkit.problems import Problem, Repair
from patternkit.source import Span
from patternkit.syntax.lexer import WORD

_REST = r"(?P<rest>\s.+)"
_ORDER = "first|second|third|fourth|fifth|last|final|inner|outer|middle|main|narrow|wide"
BORDER = re.compile(rf"(?:(?:{_ORDER})[\s-]+)+borders?\b", re.IGNORECASE)
"""A border with a word for its place: ``inner border``."""

_BINDING = r"(?:straight[\s-]+grain|double[\s-]+fold|french[\s-]+fold)[\s-]+binding\b"
_LENGTH = r"[\d¼-¾⅐-⅞][\d¼-¾⅐-⅞./ -]*(?:in|cm|mm|\")?"
_BESIDES = (
    "label|hanging[ -]corners?|corner[ -]pockets?|hanging[ -]triangles?|pocket|handles?|straps?|ties?|"
    "lining|loops?|tabs?|placket|gusset"
)
_CUT_BESIDES = re.compile(
    rf"(?P<what>{_BESIDES})\s+(?:cut\s+)?(?P<size>{_LENGTH}(?:\s*[x×]\s*{_LENGTH})?)\s+(?P<cloth>{WORD})\s*$",
    re.IGNORECASE,
)


class _Meant(msgspec.Struct, frozen=True):
    """Lines that begin so, the line that is meant (None where it depends on what they are to say), and why."""

    begins: re.Pattern[str]
    line: str | None
    why: str


def _lines(*found: tuple[str, str | None, str]) -> tuple[_Meant, ...]:
    return tuple(_Meant(re.compile(begins, re.IGNORECASE), line, why) for begins, line, why in found)


_LINES = _lines(
    (
        rf"(?:continuous[\s-]+)?bias[\s-]+binding{_REST}",
        "binding{rest}, bias",
        "The grain stands behind a comma: `binding cut 2 1/4 night, bias`.",
    ),
    (rf"{_BINDING}{_REST}", "binding{rest}", "Binding is folded double and cut straight where nothing else is said."),
    (rf"rod[\s-]+pocket{_REST}", "sleeve{rest}", "What a rod is put through is a `sleeve`."),
    (
        r"on[\s-]+point\b(?P<rest>.*)",
        "setting on point{rest}",
        "How blocks stand is said by `setting`.",
    ),
    (
        r"(?:cornerstones?|posts?|corner[\s-]+squares?)\s",
        None,
        "They stand behind the sashing or border that they belong to: `sashing 1 stone, cornerstones glow`.",
    ),
    (
        r"(?:scallop|rounded)",
        None,
        "A curved edge is drawn when the top is quilted: say how under `finishing`, in your own words, and bind it by "
        "`binding cut 2 1/4 night, bias`.",
    ),
    (
        r"(?:hand|machine|long-?arm)?\s*quilt(?:ing|ed)\b",
        None,
        "How the top is quilted is said under `finishing`, in your own words.",
    ),
    (
        rf"(?:{_BESIDES})\b",
        None,
        'Anything else that is cut has a line `also`: `also 1 of 4 x 6 night "label"`.',
    ),
)


def other_line(text: str, span: Span) -> Problem | None:
    """The problem of a line of a quilt that begins with words of other pages, with the line rewritten where it can be;
    None for other lines."""
    found = next(((m, hit) for m in _LINES if (hit := m.begins.match(text)) is not None), None)
    if found is None:
        return None
    meant, hit = found
    rest = hit.groupdict().get("rest")
    end = hit.start("rest") if rest is not None else hit.end()
    line = _besides(text) if meant.line is None else meant.line.format(rest=rest)
    return Problem(
        "unknown-word",
        f"`{text[:end].strip()}` starts no line here.",
        Span(span.file, span.start, span.start + len(text[:end].rstrip())),
        causes=(meant.why,),
        repairs=(Repair(f"write `{line}`", span, line),) if line else (),
    )


def _besides(text: str) -> str:
    """The line `also` for what is cut besides, from ``label 4 x 6 night``; "" where it says too little."""
    found = _CUT_BESIDES.match(text)
    if found is None:
        return ""
    what, size = found["what"].lower().replace("-", " "), found["size"].strip()
    square = re.search(r"[x×]", size) is None
    count = 2 if what.endswith("s") else 1
    noun = (" squares" if count > 1 else " square") if square else " of"
    return f'also {count}{noun} {size} {found["cloth"]} "{what}"'
