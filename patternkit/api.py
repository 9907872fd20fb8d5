"""The library: load a pattern, check it, write its booklet.

import patternkit
project = patternkit.load("lantern.pattern", size="queen")
for problem in patternkit.check(project): print(problem.message)
patternkit.write(project, "build/")
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from patternkit.lengths import Number
from patternkit.problems import PatternError, Problem

ALL = "all"
"""In place of a part: the whole booklet, and each release."""

if TYPE_CHECKING:
    from patternkit.booklet.content.context import Context
    from patternkit.document import Booklet
    from patternkit.project import Project


def load(
    path: str | Path, *, size: str = "", colourway: str = "", values: Mapping[str, Number] | None = None
) -> Project:
    """Read a pattern file and what it includes, in one row of its sizes table and one colourway.

    `values` sets names given by ``let`` (and ``across``, ``down``) to exact numbers, in the file's own units. Raises
    PatternError when the file can't be read, TypeError for a value that is a float; mistakes inside the file, and a
    size, colourway or name that it does not have, are for `check` to tell.
    """
    from patternkit.desk.files import open_project

    return open_project(Path(path), size=size, colourway=colourway, overrides=values)


def check(project: Project, *, sizes: bool = True) -> list[Problem]:
    """Every problem of a pattern in the order of the file; empty when it is sound. With `sizes`, in all its sizes.
    Offers that change the text have been tried in it."""
    from patternkit.checks import run

    found = run(project, sizes=sizes)
    if all(p.advice for p in found):
        return found
    from patternkit.desk.offers import tried

    return tried(project, found, sizes=sizes)


def rehearse(project: Project) -> list[Problem]:
    """Sew everything that the booklet of a sound pattern would tell, in all its sizes and colourways: a problem for
    each that does not come out, which is a fault of the program. Raises PatternError where nothing can be told."""
    from patternkit.desk.refusing import gaps_of

    return gaps_of(_parts(*_contexts(project)))


def make_booklet(
    project: Project,
    *,
    language: str = "",
    units: str = "",
    house: Mapping[str, Any] | None = None,
    every_size: bool = True,
    part: str = "",
    proof: bool = False,
    unrehearsed: bool = False,
) -> Booklet:
    """The booklet as a document tree. `every_size` puts all rows of the sizes table side by side, unless the project is
    in one of them; `part` is the number, date or title of the one release to write (``rest``: what none makes); `proof`
    gives the proof sheet instead.

    Everything that is told is sewn on simulated cloth before, in each size and colourway; where something does not come
    out, DoesNotHold (a PatternError, with reports) is raised, or, `unrehearsed`, the booklet says so at its head. A
    proof sheet tells no maker what to do, and is not held back.

    Raises PatternError when there is nothing to write; for a size, a colourway or a set value that the pattern does not
    have, a release that there is none of, or two; a language or units that there are none of.
    """
    from patternkit.booklet.content.release_names import find_release

    number = find_release(project.pattern, part) if part else None
    wishes: dict[str, Any] = {"language": language, "units": units, "house": house}
    return _booklets(project, [number], every_size=every_size, proof=proof, unrehearsed=unrehearsed, **wishes)[0]


def _booklets(
    project: Project,
    releases: Sequence[int | None],
    *,
    every_size: bool = True,
    proof: bool = False,
    unrehearsed: bool = False,
    **wishes: Any,
) -> list[Booklet]:
    """The booklets of some releases by number, None for the whole, from one plan of each size."""
    from patternkit.booklet.content.booklet import booklet, release_booklet, warned
    from patternkit.desk.refusing import gaps_of, must_hold

    ctx, ways = _contexts(
        project, every_size=every_size and not proof, every_way=None in releases and not proof, **wishes
    )
    contexts = _parts(ctx, ways)
    if proof:
        from patternkit.booklet.content.proof import proof_sheet

        return [proof_sheet(ctx)]
    if not unrehearsed:
        must_hold(contexts)
    found = [booklet(ctx, ways) if number is None else release_booklet(number, ctx) for number in releases]
    return [warned(one, ctx) for one in found] if unrehearsed and gaps_of(contexts) else found


def _parts(ctx: Context, ways: Sequence[Context]) -> list[Context]:
    """All that a booklet tells: every size, the colourways, and what may be made besides."""
    from patternkit.booklet.content.besides import besides_of

    besides = [c for whole in (ctx, *ways) for one in besides_of(whole) for c in one.ctx.family]
    return [*ctx.family, *ways, *besides]


def _contexts(
    project: Project, *, every_size: bool = True, every_way: bool = True, **wishes: Any
) -> tuple[Context, tuple[Context, ...]]:
    """What a booklet tells of, planned: a size with those beside it, and the colourways. Raises PatternError as
    `make_booklet` does."""
    from patternkit.booklet.content.context import context
    from patternkit.desk.asked import LANGUAGES, one_of, wrong_usage
    from patternkit.units import SYSTEMS

    one_of("language", wishes.get("language") or "", ("", *LANGUAGES))
    one_of("way to print lengths", wishes.get("units") or "", ("", *SYSTEMS))
    unknown = [p for p in project.building if wrong_usage(p)]
    if unknown:
        raise PatternError(unknown)
    if not project.makings and project.top is None:
        span = project.read.real(project.pattern.settings.span)
        raise PatternError(
            [Problem("nothing-to-write", "There is nothing in this pattern that can be made yet.", span)]
        )
    sizes = [s.name for s in project.pattern.sizes] if every_size and not project.size else []
    ctx = context(project, sisters=[project.in_size(size) for size in sizes], **wishes)
    names = [w.name for w in project.pattern.colourways] if every_way and not project.colourway else []
    return ctx, tuple(context(project.in_size(project.size, way), **wishes) for way in names)


def files(
    project: Project,
    *,
    formats: Sequence[str] = ("md", "html"),
    paper: str = "letter",
    only: Sequence[str] = (),
    part: str = "",
    **wishes: Any,
) -> dict[str, bytes]:
    """The files of a booklet by name, in memory: ``NAME.md`` with its drawings in ``NAME-drawings``, ``NAME.html``,
    ``NAME.pdf``. NAME is the pattern file's, with the size, colourway, part and sections that are told.

    `only` names the sections to write (``cutting``, ``templates`` ...); `part` may also be ``all``: the whole booklet,
    and each release in files of its own; `wishes` as for `make_booklet`. Raises PatternError when there is no such
    section, format or paper, and where `make_booklet` does.
    """
    from patternkit.desk.asked import FORMATS, PAPERS, one_of

    for wanted in formats:
        one_of("format", wanted, FORMATS)
    one_of("paper", paper, PAPERS)
    proof = bool(wishes.get("proof"))
    releases = _asked(project, part)
    made = _booklets(project, releases[:1] if proof else releases, **wishes)
    found: dict[str, bytes] = {}
    for number, booklet in zip(releases, _only(made, only, project), strict=False):
        if booklet is not None:
            stem = _stem(project, number, only, proof=proof)
            found |= _rendered(booklet, stem, formats, paper)
    return found


def _asked(project: Project, part: str) -> list[int | None]:
    """The releases that are asked for by number, None for the whole. Raises PatternError for one that there is not."""
    from patternkit.booklet.content.release_names import find_release
    from patternkit.work.build import order_of

    parts = project.pattern.parts
    if part.strip().casefold() != ALL:
        return [find_release(project.pattern, part) if part else None]
    if not parts:
        find_release(project.pattern, part)  # says that it has none
    over = any(run.release == len(parts) for run in order_of(project)[0].runs)
    return [None, *range(len(parts) + over)]


def _only(made: Sequence[Booklet], only: Sequence[str], project: Project) -> list[Booklet | None]:
    """Booklets with some of their sections; None where one has none of them. Raises PatternError for a section that is
    in no booklet."""
    from patternkit import render

    if not only:
        return list(made)
    known = dict.fromkeys(key for booklet in made for key in render.keys_of(booklet))
    for key in only:
        if key not in known:
            message = f"The booklet has no section {key}; it has {', '.join(known)}."
            raise PatternError([Problem("unknown-name", message, project.read.real(project.pattern.settings.span))])
    return [render.only(booklet, only) if set(only) & set(render.keys_of(booklet)) else None for booklet in made]


def _rendered(made: Booklet, stem: str, formats: Sequence[str], paper: str) -> dict[str, bytes]:
    """One booklet's files by name."""
    from patternkit import render

    found: dict[str, bytes] = {}
    if "md" in formats:
        drawings = f"{stem}-drawings"
        found[f"{stem}.md"] = render.markdown(made, drawings).encode()
        for name, svg in render.drawing_files(made, drawings).items():
            found[name] = svg.encode()
    if "html" in formats:
        found[f"{stem}.html"] = render.html(made).encode()
    if "pdf" in formats:
        found[f"{stem}.pdf"] = render.pdf(made, paper=paper)  # type: ignore[arg-type]
    return found


def _stem(project: Project, release: int | None, only: Sequence[str], *, proof: bool) -> str:
    """The name of a booklet's files, without their endings: the pattern's, and what is told of it.

    Where a size, a colourway or a part would be called alike as a part of a file's name, the later one in the file has
    a number behind it, so that none is written over another.
    """
    from patternkit.booklet.content.release_names import REST
    from patternkit.render.names import Slugs, slug

    pattern, taken = project.pattern, Slugs()
    taken.fresh("proof")
    called: dict[tuple[str, str], str] = {}
    for kind, names in (
        ("size", [s.name for s in pattern.sizes]),
        ("colourway", [w.name for w in pattern.colourways]),
    ):
        called |= {(kind, name): taken.fresh(name) for name in names}
    releases = [taken.fresh(name) for name in [*(p.title or p.date for p in pattern.parts), REST]]
    wished = (("size", project.size), ("colourway", project.colourway))
    ends = [called.get(wish) or slug(wish[1]) for wish in wished if wish[1]]
    ends += [] if release is None else [releases[release]]
    return "-".join([Path(project.name).stem, *ends, *map(slug, only), *(["proof"] if proof else [])])


def write(
    project: Project,
    folder: str | Path = "build",
    *,
    formats: Sequence[str] = ("md", "html"),
    paper: str = "letter",
    only: Sequence[str] = (),
    **wishes: Any,
) -> list[Path]:
    """Write the booklet into a folder, all its files or none, and return their paths; wishes (`part` too) as for
    `files`.

    Raises PatternError when the pattern has problems (advice does not count), when the folder can't be written, and
    where `files` does. Where what would be told does not come out (DoesNotHold), the order with its gaps is saved
    beside the folder for a report, in a file that the problem names.
    """
    from patternkit.desk.asked import sound
    from patternkit.desk.files import write_whole
    from patternkit.desk.refusing import DoesNotHold, reported

    sound(project, sizes=True)
    try:
        made = files(project, formats=formats, paper=paper, only=only, **wishes)
    except DoesNotHold as error:
        named = {
            f"{_stem(project.in_size(*way), None, (), proof=False)}-order.json": data
            for way, data in error.reports.items()
        }
        raise reported(error, write_whole(Path(folder).absolute().parent, named)) from error
    return write_whole(Path(folder), made)
