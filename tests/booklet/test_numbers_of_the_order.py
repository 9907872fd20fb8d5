"""Every number that a step prints is one of its batches', and every number that its reader needs is printed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

import pytest

from patternkit.booklet.content.context import Context, context
from patternkit.booklet.content.diagonal import is_diagonal
from patternkit.booklet.content.merged import step, steps_of
from patternkit.checks import run
from patternkit.document import Figure, NumberedStep, Rich
from patternkit.piecing.making import Making
from patternkit.project import Project
from tests.generate import pattern

from .conftest import EXAMPLES
from .order_facts import counts_of, lengths_of, needed_of
from .printed import Printed, counts, lengths, texts, without

PRINTED = (("en", ""), ("de", "cm"), ("en", "mm"), ("de", "inches"))
"""Language and units; none are the file's own."""
SEEDS = range(48)
NAMED = re.compile(
    r"\b(?:seams?|rows?|steps?|logs?|pieces?|strips?|rings?|Naht|Nähte|Reihen?|Schritte?n?|Stücke?|Streifen|Teile?)"
    r"(?: (?:between their numbers|to|and|bis|und|,)? ?\d+(?:(?:, | and | und | to | bis )\d+)*)",
    re.IGNORECASE,
)
"""What is called by its number."""
ANGLE = re.compile(r"\b(?:30|45|60) (?:degree|degrees|Grad)\b|\b(?:30|45|60)-Grad\b|\b45°")
TWICE = re.compile(r"\b(about|etwa|in|of|cm|mm|to|the|a) \1\b")
"""A word that is said twice, by a phrase and by what is filled in."""
DRIFT = re.compile(r"^(?:Hier liegen )?(\d+) ")


def _contexts(path: Path, language: str, units: str) -> Iterator[Context]:
    whole = Project(path.name, path.read_text(encoding="utf-8"))
    for size in [s.name for s in whole.pattern.sizes] or [""]:
        yield context(whole.in_size(size, ""), language=language, units=units, solver=False)


@lru_cache(maxsize=8)
def _made(seed: int) -> Project | None:
    """A made pattern; None where it has problems of its own."""
    project = Project(f"made {seed}", pattern(seed))
    return None if any(not p.advice for p in run(project)) else project


def _steps(ctx: Context) -> Iterator[tuple[NumberedStep, list[Making]]]:
    for number, copies in enumerate(steps_of(ctx), 1):
        yield step(number, copies, ctx), [count.making for _, count in copies]


def _printed(told: NumberedStep, *, drawn: bool = True) -> Iterator[str]:
    """What a step prints, without the writer's own words."""
    for block in told.blocks:
        if isinstance(block, Rich) or (isinstance(block, Figure) and not drawn):
            continue
        yield from texts((block,))


def _names(ctx: Context) -> set[str]:
    found = set(ctx.template_names.values())
    for count in ctx.plan.counts:
        making = count.making
        found |= {ctx.title(making), ctx.names.base(making), ctx.names.version_of(making)}
        found |= {ctx.names.of(cut.name) for cut in making.recipe.cuts if cut.name is not None}
    found |= {ctx.fabric(f) for f in ctx.pattern.fabrics} | {f.title for f in ctx.pattern.fabrics.values()}
    return {name for name in found if re.search(r"\d", name)}


def _strange_lengths(ctx: Context) -> list[tuple[int, str, str]]:
    found, names = [], _names(ctx)
    for told, makings in _steps(ctx):
        facts = lengths_of(makings, ctx)
        for text in _printed(told):
            found += [(told.number, m[0], text) for m in TWICE.finditer(text)]
            for p in lengths(without(text, names)):
                if not any(p.means(fact) for fact in facts) and not _drift(text, p, ctx):
                    found.append((told.number, p.text, text))
    return found


def _drift(text: str, p: Printed, ctx: Context) -> bool:
    """Whether a length is what so many seams make of the thread of an error: the number stands at the beginning."""
    seams = DRIFT.match(text)
    return seams is not None and p.means(int(seams[1]) * float(ctx.pattern.settings.thread))


def _strange_counts(ctx: Context) -> list[tuple[int, int, str]]:
    found, names = [], _names(ctx)
    for told, makings in _steps(ctx):
        facts = counts_of(makings, ctx)
        if is_diagonal(makings[0]):
            continue  # a table of rows by their numbers
        for text in _printed(told, drawn=False):
            bare = ANGLE.sub("", DRIFT.sub("", text) if _is_drift(text, ctx) else text)
            for n in counts(NAMED.sub("", without(bare, names))):  # a unit may be called Step
                if n not in facts:
                    found.append((told.number, n, text))
    return found


def _is_drift(text: str, ctx: Context) -> bool:
    thread = float(ctx.pattern.settings.thread)
    return DRIFT.match(text) is not None and any(p.means(thread) for p in lengths(text))


def _unsaid(ctx: Context) -> list[tuple[int, str, float]]:
    found = []
    for told, makings in _steps(ctx):
        if is_diagonal(makings[0]):
            continue  # told in a table of all rows
        said = [p for text in texts(told.blocks) for p in lengths(text)]
        for making in makings:
            for what, values in needed_of(making, ctx).items():
                found += [(told.number, what, v) for v in values if not any(p.means(v) for p in said)]
    return found


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_numbers_of_the_examples(path: Path) -> None:
    """In all sizes; as it is, and by turns in another language or in other units."""
    for language, units in (PRINTED[0], PRINTED[1 + EXAMPLES.index(path) % 3]):
        for ctx in _contexts(path, language, units):
            where = ctx.pattern.size, language, units
            assert (where, _strange_lengths(ctx), _strange_counts(ctx), _unsaid(ctx)) == (where, [], [], [])


FAMILIES = tuple(p for p in EXAMPLES if "\nsizes" in p.read_text(encoding="utf-8"))


@pytest.mark.parametrize("path", FAMILIES, ids=lambda p: p.stem)
@pytest.mark.parametrize(("language", "units"), PRINTED)
def test_numbers_of_several_sizes_side_by_side(path: Path, language: str, units: str) -> None:
    """Each is one of some size's; what a size needs stands there."""
    whole = Project(path.name, path.read_text(encoding="utf-8"))
    sisters = [whole.in_size(s.name, "") for s in whole.pattern.sizes]
    ctx = context(whole, language=language, units=units, solver=False, sisters=sisters)
    found = []
    for number, copies in enumerate(steps_of(ctx), 1):
        told, names = step(number, copies, ctx), _names(ctx)
        facts = {x for c, count in copies for x in lengths_of([count.making], c)}
        for text in _printed(told):
            found += [
                (number, p.text, text)
                for p in lengths(without(text, names))
                if not any(p.means(fact) for fact in facts) and not _drift(text, p, ctx)
            ]
        printed = [p for text in texts(told.blocks) for p in lengths(text)]
        for c, count in () if is_diagonal(copies[0][1].making) else copies:
            for what, values in needed_of(count.making, c).items():
                found += [(number, what, str(v)) for v in values if not any(p.means(v) for p in printed)]
    assert found == []


@pytest.mark.parametrize("seed", SEEDS)
def test_numbers_of_made_patterns(seed: int) -> None:
    """Languages and units by turns."""
    project = _made(seed)
    if project is None:
        pytest.skip("refused")
    language, units = PRINTED[seed % len(PRINTED)]
    ctx = context(project, language=language, units=units, solver=False)
    assert (_strange_lengths(ctx), _strange_counts(ctx), _unsaid(ctx)) == ([], [], [])


# -- the reading itself ------------------------------------------------------------------------------------
def _with(house: dict[str, dict[str, str]], stem: str = "tide-star") -> Context:
    path = next(p for p in EXAMPLES if p.stem == stem)
    return context(Project(path.name, path.read_text(encoding="utf-8")), house=house, solver=False)


def test_a_wrong_number_is_seen() -> None:
    """A phrase that adds a seam to what is trimmed; one that counts a batch more."""
    assert _strange_lengths(_with({"step": {"trim_hair": "Trim to {{ (w + w)|by(h) }}."}}))
    assert _strange_counts(_with({"step": {"take_batch": "For {{ n }} at a time, {{ batches + 31 }} times over:"}}))


def test_what_is_left_out_is_seen() -> None:
    """A phrase that does not say to what size a unit is trimmed, and a checkpoint without its size."""
    house = {"step": {"trim_hair": "Trim it.", "measures": "Measure it."}, "drawing": {"trim": "trim"}}
    assert {what.split()[0] for _, what, _ in _unsaid(_with(house))} & {"trim", "measure"}


def test_numbers_are_read_as_a_maker_reads_them() -> None:
    row = lengths("from about 3 1/4 x 2 in, then 76, 71 and 76 mm; 4; 3,4; 4 cm of 12 strips, 1/2 in high")
    assert [p.text for p in row] == ["3 1/4 in", "2 in", "76 mm", "71 mm", "76 mm", "4 cm", "3,4 cm", "4 cm", "1/2 in"]
    assert row[0].means(3.27) and not row[0].means(3.3) and not row[2].means(3.0) and row[8].means(0.5)
    assert counts("For 2 at a time, 20 times over, take 3 strips, 2 1/2 in wide") == [2, 20, 3]
