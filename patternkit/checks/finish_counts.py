"""``strips 8`` of a binding and ``panels 2`` of a backing against what the quilt needs."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.checks.finish_words import backing_causes, binding_cause
from patternkit.model.pattern import Finishing
from patternkit.problems import Problem
from patternkit.project import Project

NEEDS_SIZES = True
CODES = ("finish-differs",)


def check(project: Project) -> Iterable[Problem]:
    """Too few strips or panels are a problem; more than one too many is worth knowing, and so is a binding that goes
    round the quilt but leaves less than the allowance. The numbers in a file are those of the pattern as written."""
    pattern = project.pattern
    if pattern.quilt is None or not pattern.as_written or project.top is None:
        return
    for finish in pattern.quilt.finishing:
        yield from _needless(finish, project)
        stated = _count(finish, "strips" if finish.word == "binding" else "panels", project)
        if stated is None:
            continue
        plan = project.quick_plan[0]
        if finish.word == "binding" and plan.binding is not None and plan.binding.square is None:
            made = plan.binding
            joined = made.usable * stated - made.join * max(0, stated - 1)
            round_it = joined >= made.perimeter + made.join  # the last join closes the ring
            causes = (binding_cause(project, made, stated),)
            yield from _differs(finish, stated, made.strips, "strip", causes, round_it)
        elif finish.word == "backing" and plan.backing is not None:
            yield from _differs(finish, stated, plan.backing.panels, "panel", backing_causes(project, plan.backing))


def _needless(finish: Finishing, project: Project) -> Iterable[Problem]:
    """A strip in a backing that one width of its cloth is enough for."""
    back = project.quick_plan[0].backing if finish.strip else None
    if back is None or back.strip is not None:
        return
    yield Problem(
        "finish-differs",
        f"One width of the cloth is enough for the backing, so the strip of {finish.strip} is left out.",
        finish.span,
        causes=(*backing_causes(project, back), "A strip takes the place of a panel of the backing."),
        advice=True,
    )


def _count(finish: Finishing, phrase: str, project: Project) -> int | None:
    if phrase not in finish.extras:
        return None
    value = finish.extras[phrase].value(project.pattern.parameters) / project.pattern.settings.units.inches
    return int(value.fraction) if value.is_fraction and value.fraction.denominator == 1 else None


def _differs(
    finish: Finishing, stated: int, needed: int, what: str, causes: tuple[str, ...], scant: bool = False
) -> Iterable[Problem]:
    """What is said of a count that differs; `scant` where it is enough, if nothing goes amiss."""
    things = f"{needed} {what}{'' if needed == 1 else 's'}"
    if scant and stated < needed:
        yield Problem(
            "finish-differs",
            f"The {finish.word} takes {things} with its allowance; {stated} go round the quilt, with less to spare.",
            finish.span,
            causes=causes,
            advice=True,
        )
    elif stated < needed:
        yield Problem(
            "finish-differs",
            f"The {finish.word} takes {things}; {stated} {'is' if stated == 1 else 'are'} too few.",
            finish.span,
            causes=causes,
        )
    elif stated > needed + 1:
        yield Problem(
            "finish-differs",
            f"The {finish.word} takes {things}; {stated} are more than it needs.",
            finish.span,
            causes=causes,
            advice=True,
        )
