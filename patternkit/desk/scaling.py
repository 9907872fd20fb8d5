"""Size work: for which values of its parameters a pattern adds up and lands on the ruler, and how to reach a size."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.kinds.base import Unsettled
from patternkit.piecing.making import Making
from patternkit.piecing.unknowns import of_whole
from patternkit.problems import PatternError
from patternkit.project import Project
from patternkit.sizes.affine import Affine
from patternkit.sizes.fit import Fit, FitChoice, Fits, fit, near, steps
from patternkit.sizes.proof import Ruler, Verdict, ruler, verdict
from patternkit.units import Units, number, show, show_size

Cuts = dict[tuple[str, int, str], Length]

MOST_OFFERED = 8
MOST_COUNT = 40  # blocks across or down that are offered


class SizeReport(msgspec.Struct, frozen=True):
    """The proof of the seams; the same with the sizes that the file states as plain numbers held against it; and for
    each parameter what the ruler says."""

    verdict: Verdict
    claims: Verdict
    rulers: tuple[Ruler, ...]


def size_report(project: Project) -> SizeReport:
    """Work out for which values every seam adds up, and for which every cut lands on the ruler."""
    pattern = project.pattern
    units, names = pattern.settings.units, list(pattern.parameters)
    proof = verdict(project.with_values({}).solution, names, units)
    claims = verdict(project.solution, names, units)
    rulers = []
    inches = units.inches
    env = {n: v * inches for n, v in pattern.parameters.items()}
    for name in names:
        pieces = list(_pieces(project, name))
        if pieces:
            rulers.append(
                ruler(
                    pieces,
                    name,
                    env,
                    grid=pattern.settings.ruler,
                    inches=inches,
                    show=lambda x: number(Length(x) * inches, units),
                )
            )
    return SizeReport(proof, claims, tuple(rulers))


def _pieces(project: Project, name: str) -> Iterator[tuple[str, Affine]]:
    """The exact cut sizes that follow a parameter, as linear functions of it in inches.

    They are read off the makings at three values of the parameter; a size that is not on one straight line through them
    does not follow the parameter linearly and is left out.
    """
    now = project.pattern.parameters[name]
    inches = project.pattern.settings.units.inches
    step = Length(Fraction(1, 4)) if not project.pattern.settings.units.decimals else Length(1)
    first, second, third = (_cuts(_at(project, name, now + step * i)) for i in range(3))
    for key, size in first.items():
        if key not in second or key not in third:
            continue
        rise = second[key] - size
        if third[key] - second[key] != rise or not rise:
            continue
        slope = rise / step / inches
        yield f"{key[0]} {key[2]}".strip(), Affine(size - slope * now * inches, {name: slope})


def _at(project: Project, name: str, value: Length) -> Project:
    return project.with_values({name: value})


def _cuts(project: Project) -> Cuts:
    found: Cuts = {}
    for key, making in project.designed.items():
        for i, cut in enumerate(making.recipe.cuts):
            if cut.stated is None and not cut.shape:
                sides = ("", cut.exact_height) if cut.then == "strip" else ("wide", cut.exact_width)
                found[(key, 2 * i, sides[0])] = sides[1]
                if cut.then != "strip" and cut.exact_height != cut.exact_width:
                    found[(key, 2 * i + 1, "high")] = cut.exact_height
    return found


def size_text(project: Project, found: SizeReport) -> str:
    """The report in words."""
    title = project.pattern.settings.title
    if not project.pattern.parameters:
        return f"{title} has no let values: it is made in one size. It {found.verdict.text}."
    lines = [f"{title}: {found.verdict.text}."]
    if found.claims.text != found.verdict.text:
        lines.append(
            f"With what the file states as plain numbers (measures, the size of the quilt): {found.claims.text}."
        )
    for r in found.rulers:
        lines.append(f"{r.name}: {r.text}")
    return "\n".join(lines)


def fit_report(project: Project, width: Length, height: Length) -> list[tuple[Fit, Project]]:
    """Choices that bring the quilt to a size, best first; only those that come near it and pass every check.

    Raises PatternError when the pattern has no quilt with a size.
    """
    now = project.top
    if now is None or project.pattern.quilt is None:
        from patternkit.problems import Problem

        raise PatternError(
            [Problem("no-layout", "This pattern has no quilt that can be sized.", project.pattern.settings.span)]
        )
    search = _Search(project, now)
    ranked: Fits = fit((width, height), search.current, search.options, search.size, keep=24)
    offered = []
    for choice in ranked.ranked:
        made = search.project(choice.choices)
        if made is not None and _is_reached(made, choice) and _sound(made):
            offered.append((choice, made))
        if len(offered) == MOST_OFFERED:
            break
    kept = near([choice for choice, _ in offered], (width, height))
    return [(choice, made) for choice, made in offered if choice in kept]


def _is_reached(project: Project, choice: Fit) -> bool:
    """Whether the quilt is as large as was worked out once everything is cut by the ruler."""
    return project.top is not None and (project.top.width, project.top.height) == (choice.width, choice.height)


def _sound(project: Project) -> bool:
    from patternkit.checks import run

    return not any(not p.advice for p in run(project, sizes=False))


class _Search:
    """What may be chosen in a quilt, and how large it is for a set of choices."""

    def __init__(self, project: Project, top: Making) -> None:
        self.base, quilt = project, project.pattern.quilt
        assert quilt is not None
        self.inches = project.pattern.settings.units.inches
        self.current: dict[str, Length] = {}
        self.options: list[FitChoice] = []
        if not quilt.layout:
            rows = quilt.rows
            wide = quilt.across or max((len(row.pieces) for row in rows), default=1)
            counted = (("across", "width", wide), ("down", "height", quilt.down or max(1, len(rows))))
            for side, axis, n in counted if rows else ():
                self.current[side] = Length(n)
                self.options.append(FitChoice(side, steps(1, MOST_COUNT), axis, f"blocks {side}"))  # type: ignore[arg-type]
        grid = Fraction(1, 2) if not project.pattern.settings.units.decimals else Fraction(1)
        for name, value in project.pattern.parameters.items():
            self.current[name] = value
            low = max(grid, (value / 2).floor_to(grid))
            self.options.append(FitChoice(name, steps(low, (value * 2).ceil_to(grid), grid), "both", name, 2))
        self.borders = {}
        for edge in quilt.borders:
            if edge.width is not None and edge.number is not None and edge.width.is_constant:
                self.borders[edge.called] = edge
                self.current[edge.called] = edge.width.const / self.inches
                self.options.append(FitChoice(edge.called, steps(1, 12, grid), "both", edge.called, 1))
        self._sizes: dict[tuple[tuple[str, Length], ...], tuple[Affine, Affine] | None] = {}
        self._names = tuple(project.pattern.parameters)

    def size(self, choices: Mapping[str, Length]) -> tuple[Length, Length] | None:
        """Finished width and height, from one solved pattern for each pair of counts and what its borders add."""
        key = tuple((s, choices[s]) for s in ("across", "down") if s in choices)
        if key not in self._sizes:
            other = self.base.with_values(dict(key))
            sides = [other.solution.value(of_whole(s)) for s in "wh"]
            self._sizes[key] = None if sides[0] is None or sides[1] is None else (sides[0], sides[1])
        found = self._sizes[key]
        if found is None:
            return None
        env = {n: choices.get(n, v) for n, v in self.base.pattern.parameters.items()}
        more = Length(0)
        for word, edge in self.borders.items():
            assert edge.width is not None
            more = more + (choices[word] * self.inches - edge.width.const) * 2
        return found[0].value(env) + more, found[1].value(env) + more

    def project(self, choices: Mapping[str, Length]) -> Project | None:
        """The pattern with these choices made: values set, border widths rewritten."""
        text = self.base.sources[self.base.name].text
        edits = []
        for word, edge in self.borders.items():
            if choices[word] != self.current[word] and edge.number is not None:
                if edge.number.file != self.base.name:
                    return None
                edits.append(
                    (
                        edge.number.start,
                        edge.number.end,
                        number(choices[word] * self.inches, self.base.pattern.settings.units),
                    )
                )
        for start, end, new in sorted(edits, reverse=True):
            text = text[:start] + new + text[end:]
        values = {n: v for n, v in choices.items() if n not in self.borders and v != self.current[n]}
        try:
            return self.base.with_values(values, text)
        except Unsettled:
            return None


def fit_text(project: Project, offered: list[tuple[Fit, Project]]) -> str:
    """The choices in words."""
    units = project.pattern.settings.units
    if not offered:
        return "No choice of counts, block size and border widths comes near that size and passes every check."
    lines = []
    for n, (choice, made) in enumerate(offered, 1):
        changed = [f"{name} {_as_typed(name, choice.choices[name], units)}" for name in choice.changed]
        size = show_size(choice.width, choice.height, units)
        over = [
            f"{show(abs(side), units)} too {'large' if side > 0 else 'small'} {way}"
            for side, way in zip(choice.over, ("across", "down"), strict=True)
            if side
        ]
        how = " and ".join(over) or "exactly"
        lines.append(f"{n}. {', '.join(changed) or 'as written'}: finishes {size} ({how})")
    return "\n".join(lines)


def _as_typed(name: str, value: Length, units: Units) -> str:
    """What is chosen, as it would be typed: a count, or a length in the file's unit."""
    return str(value.fraction) if name in ("across", "down") else number(value * units.inches, units)
