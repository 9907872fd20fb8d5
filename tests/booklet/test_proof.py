"""The proof sheet: every size with the statements that settle it, every cut with its formula, and where
it was said."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternkit import api, render
from patternkit.booklet.content.proof import chain, line_of
from patternkit.document import Table
from patternkit.piecing.unknowns import of_unit
from patternkit.source import Span

from .conftest import EXAMPLES, MARSH, ROOT, project, told

LANTERN = ROOT / "examples" / "lantern-walk.pattern"


def test_the_chain_of_a_size_holds_the_statements_that_settle_it() -> None:
    ctx = told(LANTERN)
    line = next(i for i, t in enumerate(LANTERN.read_text().splitlines(), 1) if "block lantern" in t)
    told_by = chain(of_unit("lantern", "w"), ctx)
    assert any("dark-row" in text or "lantern" in text for text in told_by)
    assert any(f"line {n}" in " ".join(told_by) for n in range(line - 15, line + 8))


@pytest.mark.parametrize("path", [*EXAMPLES, MARSH], ids=lambda p: p.stem)
def test_every_unit_has_its_sizes_and_every_size_a_reason(path: Path) -> None:
    sheet = api.make_booklet(project(path), proof=True)
    sizes = next(s for s in sheet.sections if s.key == "proof-sizes").blocks[0]
    assert isinstance(sizes, Table)
    ctx = told(path)
    first = (c.making for c in ctx.plan.counts if not c.making.version)  # other versions are as large
    units = {ctx.title(m) for m in first if str(m.key) in ctx.pattern.units}
    assert {row[0] for row in sizes.rows} >= units
    assert all(row[4] for row in sizes.rows)
    assert len(render.markdown(sheet)) > 1000


def test_cuts_tell_exact_size_rounding_and_count() -> None:
    sheet = api.make_booklet(project(MARSH), proof=True)
    cuts = next(s for s in sheet.sections if s.key == "proof-cuts").blocks[0]
    assert isinstance(cuts, Table)
    spark = next(row for row in cuts.rows if row[1] == "spark")
    # 3 + (2 + root 2) / 4 = 3.8536 in, cut oversize at 4
    assert spark[2:6] == ("3.8536 x 3.8536", "4 x 4 in", "0.1464", "1 x 12 = 12")
    assert spark[6] == "finished + (2 + root 2) seams"


def test_lines_are_counted_as_an_editor_counts_them() -> None:
    ctx = told(MARSH)
    text = MARSH.read_text(encoding="utf-8")
    at = text.index("unit spark")
    wanted = text[:at].count("\n") + 1
    assert line_of(Span(ctx.project.name, at, at + 4), ctx) == str(wanted)
    assert line_of(None, ctx) == "–"


def test_the_sheet_names_no_folder() -> None:
    sheet = api.make_booklet(project(MARSH), proof=True)
    assert str(MARSH.parent) not in render.markdown(sheet) and "marsh.pattern" in sheet.subtitle
