"""A booklet is sewn before it is written: what does not come out as it is told is a fault of the program, and nobody is
to find it with scissors in hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from patternkit.desk.order_words import OrderWords
from patternkit.desk.rehearsing import Rehearsed, gaps_text, rehearsal_json
from patternkit.problems import PatternError, Problem

if TYPE_CHECKING:
    from patternkit.booklet.content.context import Context

MOST = 12  # gaps that one problem tells; all of them are in the report


class DoesNotHold(PatternError):
    """Raised where a booklet would tell what does not come out. `reports` are the orders with their gaps as JSON, by
    size and colourway; the pattern is not at fault."""

    def __init__(self, problems: list[Problem], reports: Mapping[tuple[str, str], bytes]) -> None:
        super().__init__(problems)
        self.reports = dict(reports)


def rehearsed(ctx: Context) -> Rehearsed:
    """The order that a booklet is told from, with what came of its rehearsal: both are worked out once for both."""
    titles = {key: fabric.title for key, fabric in ctx.pattern.fabrics.items()}
    words = OrderWords(ctx.units, ctx.order.codes, ctx.worked.designs, titles)
    return Rehearsed(ctx.order, ctx.worked.designs, ctx.rehearsed, words)


def gaps_of(contexts: Sequence[Context]) -> list[Problem]:
    """One problem for each size and colourway whose order does not hold, with its gaps as causes."""
    return [_problem(ctx) for ctx in contexts if ctx.rehearsed.gaps]


def must_hold(contexts: Sequence[Context]) -> None:
    """Nothing where every order holds. Raises DoesNotHold with the gaps of those that do not, and their reports."""
    wrong = [ctx for ctx in contexts if ctx.rehearsed.gaps]
    if wrong:
        reports = {(c.project.size, c.project.colourway): rehearsal_json(rehearsed(c), c.project) for c in wrong}
        raise DoesNotHold(gaps_of(wrong), reports)


def reported(error: DoesNotHold, saved: Sequence[Path]) -> DoesNotHold:
    """The same, saying in which files its reports were saved."""
    last = f"For a report, the order with all its gaps was saved in {', '.join(map(str, saved))}."
    first = error.problems[0]
    first = msgspec.structs.replace(first, causes=(*first.causes, last))
    return DoesNotHold([first, *error.problems[1:]], error.reports)


def _problem(ctx: Context) -> Problem:
    gaps = list(dict.fromkeys(gaps_text(rehearsed(ctx))))
    where = [f"size {ctx.project.size}"] if ctx.project.size else []
    where += [f"colourway {ctx.project.colourway}"] if ctx.project.colourway else []
    more = [f"And {len(gaps) - MOST} more."] if len(gaps) > MOST else []
    message = (
        f"Sewn as it would be told{', in ' + ' and '.join(where) if where else ''}, this does not come out: "
        "that is a fault of the program, not of the pattern."
    )
    return Problem("does-not-hold", message, causes=(*gaps[:MOST], *more), size=ctx.project.size)
