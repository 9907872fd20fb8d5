"""The shaped edge of a quilt: what goes along a curve, what stands outside it, and what it cuts into."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Finishing, Quilt
from patternkit.piecing.making import Making
from patternkit.problems import Label, Problem, Repair
from patternkit.project import Project
from patternkit.source import Span
from patternkit.units import show

NEEDS_SIZES = True
CODES = ("edge-shape", "edge-cuts")

STRAIGHT = {
    "facing": "A facing of straight strips is turned back along straight edges",
    "prairie-points": "Prairie points stand side by side along straight edges",
    "flange": "A flange of straight strips lies along straight edges",
    "piping": "A piping of straight strips lies along straight edges",
    "backing": "The two halves of a cushion's back meet its front along straight edges",
}
"""What is sewn to an edge and follows no curve, and why."""


def check(project: Project) -> Iterable[Problem]:
    """Rounded corners with what can't go round them, corners without room, and those that cut into pieces."""
    pattern, top = project.pattern, project.top
    quilt = pattern.quilt
    edge = next((f for f in quilt.finishing if f.word == "edge"), None) if quilt is not None else None
    if quilt is None or edge is None or "rounded" not in edge.extras or top is None:
        return
    radius = edge.extras["rounded"].value(pattern.parameters)
    units = pattern.settings.units
    yield from _along(quilt, edge)
    if radius <= ZERO:
        yield Problem("edge-shape", f"A radius of {show(radius, units)} rounds nothing.", edge.span)
    elif radius * 2 > min(top.width, top.height):
        most = min(top.width, top.height) / 2
        yield Problem(
            "edge-shape",
            f"Corners rounded by {show(radius, units)} have no room beside each other: the quilt finishes "
            f"{show(min(top.width, top.height), units)} on its shorter side.",
            edge.span,
            causes=(f"Two corners share a side, so that the radius is {show(most, units)} at most.",),
        )
    else:
        yield from _into(project, quilt, edge, radius, top)


def _along(quilt: Quilt, edge: Finishing) -> Iterator[Problem]:
    """Lines whose cloth does not follow a curve, or lies outside it."""
    here = Label(edge.span, "the edge is rounded here")
    if edge.after < len(quilt.borders):
        outer = quilt.borders[edge.after]
        yield Problem(
            "edge-shape",
            f"The {outer.word} goes round an edge that is rounded before it.",
            outer.span,
            (here,),
            ("A border is sewn to straight edges. Write the edge line behind the last border.",),
        )
    for finish in quilt.finishing:
        if finish.word == "binding" and not {"bias", "from a square"} & set(finish.words):
            end = Span(finish.span.file, finish.span.end, finish.span.end)
            yield Problem(
                "edge-shape",
                "Binding on the straight grain does not lie flat round rounded corners.",
                finish.span,
                (here,),
                ("Strips on the bias give, and follow a curve.",),
                () if "straight" in finish.words else (Repair("cut it on the bias", end, ", bias"),),
            )
        inside = finish.word in ("flange", "piping") and finish.after < len(quilt.borders)
        cushion = finish.word == "backing" and "envelope" in finish.words
        if finish.word in STRAIGHT and not inside and (cushion or finish.word != "backing"):
            yield Problem(
                "edge-shape",
                f"{STRAIGHT[finish.word]}, and the corners of this quilt are rounded.",
                finish.span,
                (here,),
                ("A rounded edge is bound on the bias: binding cut 2 1/4 night, bias.",),
            )


def _into(project: Project, quilt: Quilt, edge: Finishing, radius: Length, top: Making) -> Iterator[Problem]:
    """Advice where the arcs reach beyond the plain borders.

    A corner at (b, b) behind borders b wide lies within the arc where (R - b) root 2 is no more than R.
    """
    from patternkit.plan.edges import inside_border

    borders = len(quilt.borders)
    while borders and (piece := quilt.borders[borders - 1].piece) is not None and piece.fabric:
        borders -= 1
    inside = inside_border(borders, top, project.draft[0].counts) if borders < len(quilt.borders) else top
    wide = min(top.width - inside.width, top.height - inside.height) / 2
    short = radius - wide
    if short > ZERO and short * short * 2 > radius * radius:
        units = project.pattern.settings.units
        causes = (f"The plain borders are {show(wide, units)} wide, and the arc reaches farther in.",)
        yield Problem(
            "edge-cuts",
            f"Corners rounded by {show(radius, units)} cut into the pieces "
            f"{'inside the borders' if wide else 'in the corners of the quilt'}.",
            edge.span,
            causes=causes if wide else ("No plain border lies outside them; one keeps them whole.",),
            advice=True,
        )
