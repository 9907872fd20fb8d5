"""Pressing that is stated and presses nothing: a line for the whole file that no seam follows, two versions of a unit
where one does for all."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.piecing.making import Making, made_from
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.source import Span

NEEDS_SIZES = True
CODES = ("press-no-seam",)


def check(project: Project) -> Iterable[Problem]:
    """Advice for each line of the file's own pressing that settles no seam, and for versions that are not needed."""
    pattern = project.pattern
    if pattern.settings.press and project.top is not None:
        followed, units = _followed(project), {u.name for u in pattern.units.values()}
        for statement in pattern.settings.press:
            known = not statement.name or statement.name in pattern.fabrics or statement.name in units
            if known and statement.span not in followed:
                from patternkit.pressing.statements import statement_words

                yield Problem(
                    "press-no-seam",
                    f"`{statement_words(statement)}` presses nothing in this quilt.",
                    statement.span,
                    causes=("No seam is one that it speaks of, or each of these has a line or a mark of its own.",),
                    repairs=(Repair("take the line out"),),
                    advice=True,
                )
    asked = {u.key: p for u in pattern.units.values() for p in u.press if p.how == "versions"}
    if not asked or project.top is None or project.pressing is None or not pattern.as_written:
        return
    taken = {v.key.of for v in project.pressing.versions}
    made = {making.unit for making in _makings(project)}
    for key, statement in asked.items():
        if key not in taken and pattern.units[key].name in made:
            yield Problem(
                "press-no-seam",
                f"All {pattern.units[key].name} are pressed alike: with half of them the other way no more seams "
                "would lie against each other.",
                statement.span,
                causes=("Two versions are made where copies of a unit meet and both allowances would lie one way.",),
                repairs=(Repair("take the line out"),),
                advice=True,
            )


def _makings(project: Project) -> list[Making]:
    seen: dict[Making, None] = {}
    waiting = [root for root, _ in project.roots]
    while waiting:
        making = waiting.pop()
        if making not in seen:
            seen[making] = None
            waiting += made_from(making)
    return list(seen)


def _followed(project: Project) -> set[Span | None]:
    """The places of all press lines that some seam follows."""
    return {seam.stated for making in _makings(project) for seam in making.seams}
