"""Sizes side by side: what is compared is the data of a step, and it is as fine as what is printed of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternkit.booklet.content.context import Context, context
from patternkit.booklet.content.diagonal import is_diagonal
from patternkit.booklet.content.merged import as_printed, steps_of
from patternkit.booklet.content.steps import panels

from .conftest import EXAMPLES, project

SIZED = [p for p in EXAMPLES if "\nsizes" in p.read_text(encoding="utf-8")]


def sized(path: Path) -> Context:
    own = project(path)
    sisters = [own.in_size(size.name, "") for size in own.pattern.sizes]
    return context(own, solver=False, sisters=sisters)


@pytest.mark.parametrize("path", SIZED, ids=lambda p: p.stem)
def test_panels_of_the_same_data_print_alike_and_others_do_not(path: Path) -> None:
    """In every step, size by size: sentences, lists and drawings."""
    ctx, pairs, unlike = sized(path), 0, 0
    for copies in steps_of(ctx):
        if is_diagonal(copies[0][1].making):
            continue
        each = [(c, {p.slot: p for p in panels(count, c)}) for c, count in copies]
        for i, (c, mine) in enumerate(each):
            for other, theirs in each[i + 1 :]:
                for slot in mine.keys() & theirs.keys():
                    a, b = mine[slot], theirs[slot]
                    same = as_printed(a.data, ctx) == as_printed(b.data, ctx)
                    assert (a.blocks(c) == b.blocks(other)) is same, (slot, a.data, b.data)
                    pairs, unlike = pairs + same, unlike + (not same)
    assert pairs > 10 and unlike > 10


@pytest.mark.parametrize("path", SIZED, ids=lambda p: p.stem)
def test_steps_of_one_thing_have_one_form_in_all_sizes(path: Path) -> None:
    """A unit is sewn in one way whatever its size: only numbers differ; its rows and its centre are of other forms."""
    met = 0
    for copies in steps_of(sized(path)):
        units = [(c, x.making) for c, x in copies if x.making.role in ("unit", "block")]
        forms = [c.forms.of(making.thing) for c, making in units]
        met += len(forms) > 1
        assert all(form == forms[0] for form in forms)
    assert met > 1
