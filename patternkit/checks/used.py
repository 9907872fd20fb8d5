"""Units made and not used, fabrics declared and not used or used under two names."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator

from patternkit.model.reach import alone, reached
from patternkit.problems import Label, Problem
from patternkit.project import Project

CODES = ("not-used", "fabric-not-used", "fabric-twice")

_UNSAID = r'(?m:#(?: .*|$)|["“”„‟][^"“”„‟\r\n]*["“”„‟])'  # comments and quoted texts
_LETTER = r"[\w'’‐‑-]"


def check(project: Project) -> Iterable[Problem]:
    """Anything named that the quilt never uses, and fabrics that look like one fabric named twice.

    What is used is a matter of the pattern as written; a row of the sizes table may well leave a block out.
    """
    if not project.pattern.as_written:
        return
    units, fabrics = reached(project.pattern)
    for unit in project.pattern.units.values():
        if unit.optional is not None:  # made besides
            own = reached(alone(project.pattern, unit.key, 1))
            units, fabrics = units | own[0], fabrics | own[1]
    mentioned = _mentions(project) if _broken(project) else {}
    for problem in project.building:  # a name that was most likely meant is no second mistake
        mentioned |= {r.replacement: 2 for r in problem.repairs if problem.code == "unknown-name" and r.replacement}
    yield from _units(project, units, mentioned)
    yield from _names(project)
    yield from _fabrics(project, fabrics, mentioned)


def _units(project: Project, used: set[str], mentioned: dict[str, int]) -> Iterator[Problem]:
    pattern = project.pattern
    if pattern.quilt is not None and pattern.quilt.rows:
        for unit in pattern.units.values():
            if unit.key not in used and mentioned.get(unit.name, 0) < 2:
                yield Problem(
                    "not-used",
                    f"{unit.role.capitalize()} {unit.name} is made and never used in the quilt.",
                    unit.span,
                    advice=True,
                )
    for name, span in pattern.idle.items():
        if mentioned.get(name, 0) < 2:
            yield Problem(
                "not-used",
                f"{name.capitalize()} takes something in brackets and is never used, so nothing of it can be checked.",
                span,
                advice=True,
            )


def _names(project: Project) -> Iterator[Problem]:
    """Names with a value, and names in brackets, that no line of the file uses."""
    pattern = project.pattern
    for span, (unit, name) in pattern.unread.items():
        yield Problem(
            "not-used",
            f"{unit.capitalize()} takes {name} in brackets, and no line of it uses {name}.",
            span,
            advice=True,
            causes=("What is given for it where the unit is used makes no difference.",),
        )
    if not pattern.lets or pattern.quilt is None or _broken(project):
        return
    texts = [text.lower() for text in _texts(project)]
    for name, span in pattern.lets.items():
        rows = sum(name in row.values for row in pattern.sizes)
        if sum(_times(name, text) for text in texts) - rows < 2 and project.read.real(span).file == project.name:
            yield Problem(
                "not-used",
                f"The value of {name} is given, and no line uses it.",
                span,
                advice=True,
                causes=("The rows of sizes that set it make no difference.",) if rows else (),
            )


def _fabrics(project: Project, used: set[str], mentioned: dict[str, int]) -> Iterator[Problem]:
    pattern = project.pattern
    swapped = {other for way in pattern.colourways for other in way.swaps.values()}
    titles: dict[str, str] = {}
    for key, fabric in pattern.fabrics.items():
        if fabric.print is not None:  # it is there because it is used
            continue
        if key not in used and key not in swapped and mentioned.get(key, 0) < 2:
            yield Problem(
                "fabric-not-used",
                f"Fabric {key} ({fabric.title}) is named and never used.",
                fabric.span,
                advice=True,
            )
        title = fabric.title.casefold().strip()
        if title in titles and not pattern.colourway:
            first = pattern.fabrics[titles[title]]
            yield Problem(
                "fabric-twice",
                f"{fabric.title} is one printed name for two fabrics, {titles[title]} and {key}.",
                fabric.span,
                (Label(first.span, "the other is here"),),
                advice=True,
                causes=("A reader takes them for one and the same cloth, bought once.",),
            )
        titles.setdefault(title, key)


def _broken(project: Project) -> bool:
    """Whether something could not be read, so that what is used is not known for certain."""
    pattern = project.pattern
    return (
        bool(project.reading)
        or any(u.broken for u in pattern.units.values())
        or (pattern.quilt is not None and pattern.quilt.broken)
        or any(not p.advice for p in project.building)
    )


def _mentions(project: Project) -> dict[str, int]:
    """How often each word stands in the files, comments and texts left out: the line that names a thing counts once."""
    return dict(Counter(word.lower() for text in _texts(project) for word in re.findall(f"{_LETTER}+", text)))


def _times(name: str, text: str) -> int:
    """The same for one word, which takes no reading of all the others."""
    return len(re.findall(rf"{re.escape(name)}(?!{_LETTER})(?<!{_LETTER}{re.escape(name)})", text))


def _texts(project: Project) -> list[str]:
    """The files without comments and quoted texts."""
    return [re.sub(_UNSAID, " ", source.text) for source in project.sources.values()]
