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

if TYPE_CHECKING:
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
    """Every problem of a pattern in the order of the file; empty when it is sound. With `sizes`, in all its sizes."""
    from patternkit.checks import run

    return run(project, sizes=sizes)


def make_booklet(
    project: Project,
    *,
    language: str = "",
    units: str = "",
    house: Mapping[str, Any] | None = None,
    every_size: bool = True,
    part: str = "",
    proof: bool = False,
) -> Booklet:
    """The booklet as a document tree. `every_size` puts all rows of the sizes table side by side, unless the project is
    in one of them; `part` is the title of the one release to write; `proof` gives the proof sheet instead.

    Raises PatternError when there is nothing to write; for a size, a colourway or a set value that the pattern does not
    have, a release of another title, a language or units that there are none of.
    """
    from patternkit.booklet.content.booklet import booklet as put_together
    from patternkit.booklet.content.booklet import context
    from patternkit.booklet.content.releases import find_release
    from patternkit.desk.asked import LANGUAGES, one_of, wrong_usage
    from patternkit.units import SYSTEMS

    one_of("language", language, ("", *LANGUAGES))
    one_of("way to print lengths", units, ("", *SYSTEMS))
    unknown = [p for p in project.building if wrong_usage(p)]
    if unknown:
        raise PatternError(unknown)
    if not project.makings and project.top is None:
        span = project.read.real(project.pattern.settings.span)
        raise PatternError(
            [Problem("nothing-to-write", "There is nothing in this pattern that can be made yet.", span)]
        )
    release = find_release(project.pattern, part) if part else None
    wishes: dict[str, Any] = {"language": language, "units": units, "house": house}
    whole = every_size and not project.size and release is None and not proof
    sisters = [project.in_size(s.name) for s in project.pattern.sizes] if whole else []
    ctx = context(project, sisters=sisters, release=release, **wishes)
    if proof:
        from patternkit.booklet.content.proof import proof_sheet

        return proof_sheet(ctx)
    ways = [] if project.colourway or release is not None else [w.name for w in project.pattern.colourways]
    return put_together(ctx, tuple(context(project.in_size(project.size, way), **wishes) for way in ways))


def files(
    project: Project,
    *,
    formats: Sequence[str] = ("md", "html"),
    paper: str = "letter",
    only: Sequence[str] = (),
    **wishes: Any,
) -> dict[str, bytes]:
    """The files of a booklet by name, in memory: ``NAME.md`` with its drawings in ``NAME-drawings``, ``NAME.html``,
    ``NAME.pdf``. NAME is the pattern file's, with the size, colourway, part and sections that are told.

    `only` names the sections to write (``cutting``, ``templates`` ...); `wishes` as for `make_booklet`. Raises
    PatternError when there is no such section, format or paper, and where `make_booklet` does.
    """
    from patternkit import render
    from patternkit.desk.asked import FORMATS, PAPERS, one_of

    for wanted in formats:
        one_of("format", wanted, FORMATS)
    one_of("paper", paper, PAPERS)
    made = make_booklet(project, **wishes)
    if only:
        known = render.keys_of(made)
        for key in only:
            if key not in known:
                raise PatternError(
                    [
                        Problem(
                            "unknown-name",
                            f"The booklet has no section {key}; it has {', '.join(known)}.",
                            project.read.real(project.pattern.settings.span),
                        )
                    ]
                )
        made = render.only(made, only)
    stem = _stem(project, wishes.get("part") or "", only, proof=bool(wishes.get("proof")))
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


def _stem(project: Project, part: str, only: Sequence[str], *, proof: bool) -> str:
    """The name of a booklet's files, without their endings: the pattern's, and what is told of it.

    Where a size, a colourway or a part would be called alike as a part of a file's name, the later one in the file has
    a number behind it, so that none is written over another.
    """
    from patternkit.booklet.content.releases import find_release
    from patternkit.render.names import Slugs, slug

    pattern, taken = project.pattern, Slugs()
    taken.fresh("proof")
    called: dict[tuple[str, str], str] = {}
    for kind, names in (
        ("size", [s.name for s in pattern.sizes]),
        ("colourway", [w.name for w in pattern.colourways]),
        ("part", [p.title for p in pattern.parts]),
    ):
        called |= {(kind, name): taken.fresh(name) for name in names}
    title = find_release(pattern, part).title if part else ""
    wished = (("size", project.size), ("colourway", project.colourway), ("part", title))
    ends = [called.get(wish) or slug(wish[1]) for wish in wished if wish[1]]
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
    """Write the booklet into a folder, all its files or none, and return their paths; wishes as for `files`.

    Raises PatternError when the pattern has problems (advice does not count), when the folder can't be written, and
    where `files` does.
    """
    from patternkit.desk.asked import sound
    from patternkit.desk.files import write_whole

    sound(project, sizes=True)
    return write_whole(Path(folder), files(project, formats=formats, paper=paper, only=only, **wishes))
