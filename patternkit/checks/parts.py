"""Parts of a sew-along: every unit made before it is needed, and all of it made in the end."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from patternkit.english import sentence
from patternkit.model.pattern import Pattern, Release
from patternkit.model.reach import unit_pieces
from patternkit.problems import Label, Problem, Repair
from patternkit.project import Project
from patternkit.source import Span

CODES = ("used-before-made", "part-count", "not-in-a-part")

WHOLE = ("top", "finishing")  # what a part may make besides units


def check(project: Project) -> Iterable[Problem]:
    """Only where the file has parts."""
    pattern = project.pattern
    if not pattern.parts:
        return
    first: dict[str, tuple[int, Span]] = {}
    for number, part in enumerate(pattern.parts):
        for _, name, span in part.makes:
            first.setdefault(name, (number, span))
    yield from _order(pattern, first)
    yield from _counts(project)
    yield from _left_out(pattern, first)


def _order(pattern: Pattern, first: dict[str, tuple[int, Span]]) -> Iterator[Problem]:
    """A unit that is used by a part's unit, and made only in a later part."""
    for number, part in enumerate(pattern.parts):
        for _, name, span in part.makes:
            for used in sorted(_used_by(pattern, name)):
                if used in first and first[used][0] > number:
                    later = pattern.parts[first[used][0]]
                    yield Problem(
                        "used-before-made",
                        sentence(
                            f"{name} is made in {_title(part)} and uses {used}, which is made only in {_title(later)}"
                        ),
                        span,
                        (Label(first[used][1], f"{used} is made here"),),
                        repairs=(Repair(f"make {used} in {_title(part)} or in a part before it"),),
                    )


def _used_by(pattern: Pattern, name: str) -> set[str]:
    """Names of the units that a unit (or the top) is made from, directly or not."""
    found: set[str] = set()
    if name == "finishing":
        return {"top"}
    waiting = [k for k, u in pattern.units.items() if u.name == name]
    if name == "top" and pattern.quilt is not None:
        waiting = [p.unit for p in pattern.quilt.pieces]
        found |= {pattern.units[k].name for k in waiting if k in pattern.units}
    seen: set[str] = set()
    while waiting:
        key = waiting.pop()
        if key in seen or key not in pattern.units:
            continue
        seen.add(key)
        for piece in unit_pieces(pattern, key):
            if piece.unit in pattern.units:
                found.add(pattern.units[piece.unit].name)
                waiting.append(piece.unit)
    return found - {name}


def _counts(project: Project) -> Iterator[Problem]:
    """The numbers in all parts together against what the quilt needs; a part without a number makes the rest."""
    pattern = project.pattern
    stated: dict[str, list[tuple[int | None, Span]]] = {}
    for part in pattern.parts:
        for count, name, span in part.makes:
            stated.setdefault(name, []).append((count, span))
    for name, makes in stated.items():
        whole = [span for count, span in makes if count is None]
        if len(whole) > 1:
            yield Problem(
                "part-count",
                sentence(f"two parts make all of {name}"),
                whole[1],
                (Label(whole[0], f"all of {name} is made here"),),
                repairs=(Repair("say how many are made in each part: makes 9 lantern"),),
            )
            continue
        total = sum(count for count, _ in makes if count is not None)
        needed = _needed(project, name)
        if needed is None or not total or (whole and total < needed):
            continue
        if whole or total != needed:
            yield Problem(
                "part-count",
                sentence(
                    f"the parts make {total} of {name}, and the quilt needs {needed}"
                    + (
                        " in all, so that nothing is left for the part that makes the rest"
                        if whole and total == needed
                        else ""
                    )
                ),
                makes[-1][1],
                tuple(
                    Label(span, f"{count} here" if count is not None else "the rest here") for count, span in makes[:-1]
                ),
            )


def _needed(project: Project, name: str) -> int | None:
    if project.top is None or project.disagreements or name in WHOLE:
        return None
    return sum(
        c.needed
        for c in project.draft[0].counts
        if c.making.unit == name and c.making.role in ("unit", "block") and c.making.key.part is None
    )


def _left_out(pattern: Pattern, first: dict[str, tuple[int, Span]]) -> Iterator[Problem]:
    """Units of the quilt that no part makes."""
    for name in sorted(_used_by(pattern, "top")):
        if name not in first:
            unit = next(u for u in pattern.units.values() if u.name == name)
            yield Problem(
                "not-in-a-part",
                f"No part makes {name}.",
                unit.span,
                (Label(pattern.parts[0].span, "the parts begin here"),),
                repairs=(Repair(f"add a line such as makes {name} to the part in which it is sewn"),),
                advice=True,
            )


def _title(part: Release) -> str:
    return f"“{part.title}”" if part.title else "that part"
