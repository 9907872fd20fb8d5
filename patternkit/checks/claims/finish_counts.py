"""Claims of finishing lines against what the quilt needs: ``strips 8`` of a binding, a border, sashing or a sleeve,
``panels 2`` and ``measures 68 x 80`` of a backing, ``cut 72 x 90`` of a batting, ``sides cut 60 1/2`` of a border."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from patternkit.checks.claims.finish_claims import Claimed, differs
from patternkit.checks.finish_words import backing_causes, binding_cause
from patternkit.lengths import Length
from patternkit.model.pattern import Finishing, Framing
from patternkit.plan.finishing import measure
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.sizes import Affine
from patternkit.source import Span
from patternkit.units import number, show, show_size

NEEDS_SIZES = True
COUNTS_ALL = True
CODES = ("finish-differs",)

ROUNDING = 1
"""Inches by which a backing or a batting may be larger than wanted, as sizes are printed round."""


def check(project: Project) -> Iterable[Problem]:
    """Too few strips or panels and lengths that do not do are a problem; more than needed is worth knowing, and so is a
    binding that goes round the quilt but leaves less than the allowance. The numbers in a file are those of the pattern
    as written."""
    pattern = project.pattern
    if pattern.quilt is None or not pattern.as_written or project.top is None:
        return
    for finish in pattern.quilt.finishing:
        if finish.strip:
            yield from _needless(finish, project)
        if "from one length" in finish.words and "wide" not in finish.extras:
            yield from _apart(finish, project)
        if finish.extras or finish.size is not None:
            yield from _finishing(finish, project)
    sashing = (pattern.quilt.sashing,) if pattern.quilt.sashing is not None else ()
    for edge in (*sashing, *pattern.quilt.borders):
        if edge.extras:
            yield from _framing(edge, project)


def _needless(finish: Finishing, project: Project) -> Iterator[Problem]:
    """A strip in a backing that one width of its cloth is enough for."""
    back = project.quick_plan[0].backing
    if back is None or back.strip is not None:
        return
    yield Problem(
        "finish-differs",
        f"One width of the cloth is enough for the backing, so the strip of {finish.strip} is left out.",
        finish.span,
        causes=(*backing_causes(project, back), "A strip takes the place of a panel of the backing."),
        advice=True,
    )


def _apart(finish: Finishing, project: Project) -> Iterator[Problem]:
    """A backing that can't be cut from one length with the rest of its fabric."""
    plan, fabric = project.quick_plan[0], project.pattern.fabrics.get(finish.fabric)
    if plan.backing is None or plan.one_length or fabric is None:
        return
    why = f"Nothing else is cut from {fabric.title}."
    if fabric.in_sheets:
        why = f"{fabric.title} comes in pieces, not by length."
    yield Problem(
        "finish-differs",
        "The backing is bought for itself: it can't be cut from one length with the rest.",
        finish.span,
        causes=(why,),
        advice=True,
    )


def _claim(
    word: str, span: Span, phrase: str, extras: Mapping[str, Affine], places: Mapping[str, Span], project: Project
) -> Claimed | None:
    """A number that is claimed by a phrase; None where none is."""
    if phrase not in extras:
        return None
    value = extras[phrase].value(project.pattern.parameters) / project.pattern.settings.units.inches
    if not value.is_fraction or value.fraction.denominator != 1:
        return None
    return Claimed(word, int(value.fraction), span, phrase.removesuffix("s"), places.get(phrase))


def _finishing(finish: Finishing, project: Project) -> Iterator[Problem]:
    plan, units = project.quick_plan[0], project.pattern.settings.units
    panels = _claim(finish.word, finish.span, "panels", finish.extras, finish.numbers, project)
    strips = _claim(finish.word, finish.span, "strips", finish.extras, finish.numbers, project)
    if finish.word == "binding" and strips is not None and plan.binding is not None and plan.binding.square is None:
        made = plan.binding
        joined = made.usable * strips.stated - made.join * max(0, strips.stated - 1)
        round_it = joined >= made.perimeter + made.join  # the last join closes the ring
        yield from differs(strips, made.strips, (binding_cause(project, made, strips.stated),), scant=round_it)
    if finish.word == "sleeve" and strips is not None and plan.sleeve is not None:
        wanted = show(plan.sleeve.lengths[0][0], units)
        yield from differs(strips, plan.sleeve.strips, (f"The sleeve is cut {wanted} long, as the quilt is wide.",))
    if finish.word == "backing" and plan.backing is not None:
        causes = backing_causes(project, plan.backing)
        if panels is not None:
            yield from differs(panels, plan.backing.panels, causes)
        yield from _sized(finish, (plan.backing.width, plan.backing.height), plan.backing.overage, causes, project)
    if finish.word == "batting" and plan.batting is not None:
        assert project.top is not None
        over = (plan.batting[0] - measure(project.top, project.pattern)[0]) / 2
        yield from _sized(finish, plan.batting, over, (), project)


def _sized(
    finish: Finishing, wanted: tuple[Length, Length], over: Length, causes: tuple[str, ...], project: Project
) -> Iterator[Problem]:
    """A stated size: less than the quilt top is a problem, and less than a stated overage; otherwise the overage is a
    custom, and what differs from it is worth knowing. Pages that count from the finished size are let be."""
    top, units = project.top, project.pattern.settings.units
    if finish.size is None or top is None:
        return
    w, h = (side.value(project.pattern.parameters) for side in finish.size)
    seams, stated = project.pattern.settings.seam * 2, "overage" in finish.extras
    beyond = [(own - side) / 2 for own, side in ((w, top.width), (h, top.height))]
    least = min(beyond)
    claimed, size = show_size(w, h, units), show_size(*wanted, units)
    measured = show_size(*measure(top, project.pattern), units)
    why = f"The top measures {measured} before it is bound; {'the' if stated else 'the usual'} overage is "
    why += f"{show(over, units)} on every side, which makes {size}."
    repair = Repair(f"write {size}", finish.numbers.get("size"), " x ".join(number(x, units) for x in wanted))
    repairs = (repair,) if repair.span is not None else ()
    small, less = least * 2 < seams, least < over
    more = max(w - wanted[0], h - wanted[1])
    short = small or (stated and less)
    if not short and not less and more < ROUNDING:
        return
    if small:
        how = "is smaller than the top"
    elif short:
        how = "leaves less than the overage on a side"
    elif less:
        how = f"leaves {show(least, units)} on a side, and {show(over, units)} {'are' if over > 1 else 'is'} usual"
    else:
        how = f"is {show(more, units)} more than wanted"
    yield Problem(
        "finish-differs",
        f"A {finish.word} of {claimed} {how}.",
        finish.span,
        causes=(why, *causes[1:]),
        repairs=repairs,
        advice=not short,
    )


def _framing(edge: Framing, project: Project) -> Iterator[Problem]:
    from patternkit.checks.claims.finish_claims import frame_lengths, frame_strips

    claim = _claim(edge.called, edge.span, "strips", edge.extras, edge.numbers, project)
    if edge.piece is None or edge.piece.unit:
        what = "its own pieces" if edge.piece is not None else "nothing"
        yield Problem(
            "finish-differs",
            f"{edge.called.capitalize()} is sewn from {what}, so its strips and lengths say nothing.",
            edge.span,
            causes=("Only a plain fabric is cut in strips here.",),
        )
        return
    if claim is not None:
        yield from frame_strips(edge, claim, project)
    yield from frame_lengths(edge, project)
