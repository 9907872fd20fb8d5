"""An end of a strip that the binding takes is told where the strip is cut, again where it is joined, and on the proof
sheet."""

from __future__ import annotations

import re

from patternkit.booklet.content.cloth import fabric_cuts
from patternkit.booklet.content.joined import kept_for_finishing
from patternkit.document import Paragraph
from patternkit.work.model import Bind

from .conftest import EXAMPLES, MARSH, told

SNOWBALL = next(path for path in EXAMPLES if path.stem == "snowball")


def test_the_end_is_kept_where_the_strip_is_cut() -> None:
    ctx = told(SNOWBALL)
    words = [b.text for b in fabric_cuts(ctx, "berry").blocks if isinstance(b, Paragraph)]
    (kept,) = kept_for_finishing("berry", ctx)
    assert kept in words
    (bind,) = (x for x in ctx.order.finish if isinstance(x, Bind))
    (rest,) = (one for one in bind.joins if one.of is not None)
    assert rest.of is not None and rest.left is not None
    numbers = [ctx.phrases.length(x) for x in (rest.of, rest.left, bind.strip)]
    assert re.findall(r"\d[\d /]* in", kept) == numbers
    assert not kept_for_finishing("frost", ctx)


def test_nothing_is_kept_where_whole_strips_are_joined() -> None:
    ctx = told(MARSH)
    assert all(not kept_for_finishing(key, ctx) for key in ctx.pattern.fabrics)
