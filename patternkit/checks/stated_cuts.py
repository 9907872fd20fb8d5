"""Cuts that the writer states, and that nobody finds on the pattern's ruler."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import msgspec

from patternkit.english import listed
from patternkit.lengths import Length
from patternkit.model.cut_lines import AlsoCut
from patternkit.model.pattern import Component, Unit
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.sizes import Affine
from patternkit.source import Span
from patternkit.units import number, show

NEEDS_SIZES = True
CODES = ("cut-off-ruler",)

FINER = {False: (2, 4, 8), True: (2, 4, 5, 10)}  # by what the ruler is divided, in inches and in metric units


class Stated(msgspec.Struct, frozen=True):
    """A raw size that is stated: what is cut, its size, where that stands, and its number there; of what is cut
    `besides` nothing else in the pattern depends."""

    what: str
    size: Length
    span: Span
    number: Span | None = None
    besides: bool = False


def check(project: Project) -> Iterable[Problem]:
    """Each size once, however many units a definition with parameters stands for."""
    settings = project.pattern.settings
    off = [x for x in _stated(project) if not x.size.on_grid(settings.ruler)]
    met: set[tuple[Span, Length]] = set()
    for_all = (*_finer(project, off), *_left_out(project, off)) if off else ()
    for stated in off:
        if (stated.span, stated.size) not in met:
            met.add((stated.span, stated.size))
            above = Length(stated.size.ceil_to(settings.ruler))
            lines = [show(x, settings.units) for x in (above - settings.ruler, above)]
            yield Problem(
                "cut-off-ruler",
                f"{stated.what} cut {show(stated.size, settings.units)}, which is on no line of the ruler.",
                stated.span,
                causes=(
                    f"The lines of the ruler are {show(Length(settings.ruler), settings.units)} apart, "
                    "and a cut that is stated is cut as it stands.",
                    f"Those beside it are {listed(lines)}.",
                ),
                repairs=(*_nearest(project, stated), *for_all),
            )


# -- what is stated -------------------------------------------------------------------------------------------
def _stated(project: Project) -> Iterator[Stated]:
    """The cuts of units, but for those that are cut by templates or sewn on paper; those of the quilt's own pieces."""
    values = project.pattern.parameters

    def sizes(what: str, span: Span, *both: tuple[Affine | None, Span | None]) -> Iterator[Stated]:
        for size, place in both:
            if size is not None:
                yield Stated(what, size.value(values), span, place)

    def pieces(where: str, listed: Iterable[Component]) -> Iterator[Stated]:
        for p in listed:
            if p.cut:
                both = zip((p.width, p.height), p.numbers, strict=True)
                whole = project.pattern.fabrics[p.fabric].usable_width if p.fabric in project.pattern.fabrics else None
                found = sizes(f"In {where}, {p.name} is", p.span, *both)
                yield from (x for x in found if x.size != whole)  # as wide as the cloth: nobody measures that

    def besides(listed: Iterable[AlsoCut]) -> Iterator[Stated]:
        for also in listed:
            what = f"{also.title[:1].upper()}{also.title[1:]} is"
            both = zip((also.cut.width, also.cut.height), also.numbers, strict=True)
            yield from (msgspec.structs.replace(x, besides=True) for x in sizes(what, also.cut.span, *both))

    for unit in project.pattern.units.values():
        yield from besides(unit.also)
        if not _by_hand(project, unit):
            continue
        where = f"{unit.role} {unit.key}"
        yield from pieces(where, [*(p for row in unit.rows for p in row.pieces), *unit.named.values()])
        for claim in unit.claims:
            if claim.word == "cut":
                both = zip((claim.width, claim.height), claim.numbers, strict=True)
                yield from sizes(f"{where[0].upper()}{where[1:]} is", claim.span, *both)
    for quilt in project.pattern.quilts:
        yield from pieces(quilt.called, [p for row in quilt.rows for p in row.pieces] if not quilt.of else ())
        for edge in quilt.frames:
            name = f"{edge.called} of {quilt.of}" if quilt.of else edge.called
            if edge.cut:
                yield from sizes(f"{name[0].upper()}{name[1:]} is", edge.span, (edge.width, edge.number))
            yield from pieces(name, edge.sequence if not quilt.of else ())
    own = project.pattern.quilt
    if own is None:
        return
    yield from besides(own.also)
    for finish in own.finishing:
        if finish.cut:
            yield from sizes(f"The {finish.word} is", finish.span, (finish.width, None))


def _by_hand(project: Project, unit: Unit) -> bool:
    """Whether the pieces of a unit are cut along a ruler: not by templates alone, nor roughly for a foundation."""
    making = project.makings.get(unit.key)
    return making is not None and not making.recipe.method.on_paper and not making.recipe.method.exact


# -- what would settle it -------------------------------------------------------------------------------------
def _nearest(project: Project, stated: Stated) -> Iterator[Repair]:
    """The lines on either side, where with that number all sizes agree and everything can be sewn."""
    if stated.number is None:
        return
    from patternkit.piecing.sewn.ground import Ground
    from patternkit.piecing.sewn.offers import Offers

    offers = Offers(Ground(project.pattern, project.sizing, project.solution))
    found = offers.on_lines(stated.number) if not stated.besides else None
    if found is not None:
        yield from found
        return
    units = project.pattern.settings.units  # a square of a method, which may be cut larger than it needs to be
    above, now = Length(stated.size.ceil_to(project.pattern.settings.ruler)), show(stated.size, units)
    yield Repair(f"write {show(above, units)} instead of {now}", stated.number, number(above, units))


def _finer(project: Project, off: list[Stated]) -> Iterator[Repair]:
    """A finer ruler that has all the cuts that are stated, and by which everything can be sewn."""
    from patternkit.piecing.sewn.offers import FINEST
    from patternkit.piecing.sewn.rounding import sew_sizes

    settings = project.pattern.settings
    for part in FINER[settings.units.decimals]:
        grid = settings.ruler / part
        if grid < FINEST[settings.units.decimals]:
            return
        if all(x.size.on_grid(grid) for x in off):
            pattern = msgspec.structs.replace(project.pattern, settings=msgspec.structs.replace(settings, ruler=grid))
            if sew_sizes(pattern, project.sizing, project.solution).trouble is None:
                yield Repair(f"write ruler {show(Length(grid), settings.units)} under pattern")
            return


def _left_out(project: Project, off: list[Stated]) -> Iterator[Repair]:
    """Nothing said of these cuts, where all sizes follow from others: they are rounded to the ruler then."""
    from patternkit.piecing.sewn.offers import without

    if not any(x.besides for x in off) and without(project.pattern, {x.span for x in off}):
        several = "the cuts that are on no line" if len({x.span for x in off}) > 1 else "the cut"
        yield Repair(f"leave out {several}: what follows from the other sizes is cut by the ruler")
