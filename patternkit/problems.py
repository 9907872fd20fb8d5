"""What a check can say: one problem with its place, its causes in order and the repairs that would settle it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import msgspec

from patternkit.source import NOWHERE, Source, Span


class Label(msgspec.Struct, frozen=True):
    """A second place that belongs to a problem, with what it says there."""

    span: Span
    text: str


class Repair(msgspec.Struct, frozen=True):
    """A change that would settle the problem.

    `replacement` is the text to put at `span`, or None when it is described in words only; `safe` is True when the
    change cannot alter what the writer means (a spelling), False when she has to decide.
    """

    text: str
    span: Span | None = None
    replacement: str | None = None
    safe: bool = False

    def taken(self, text: str) -> str:
        """The text of its file with the change made; only for one that has a place and a replacement."""
        assert self.span is not None and self.replacement is not None
        return text[: self.span.start] + self.replacement + text[self.span.end :]


class Problem(msgspec.Struct, frozen=True):
    """One thing that is wrong, or worth knowing.

    `code` names a page in `grammar/problems/`; `advice` is True when the pattern can be sewn all the same; `causes` are
    whole sentences in order, each built from the writer's own statements; `size` names the row of the sizes table in
    which it shows (empty for the pattern as written); `count` is how often it occurs.
    """

    code: str
    message: str
    span: Span = NOWHERE
    labels: tuple[Label, ...] = ()
    causes: tuple[str, ...] = ()
    repairs: tuple[Repair, ...] = ()
    advice: bool = False
    size: str = ""
    count: int = 1

    def placed(self, real: Callable[[Span], Span]) -> Problem:
        """The same problem with all its places put through `real`."""
        labels = tuple(Label(real(x.span), x.text) for x in self.labels)
        repairs = tuple(
            Repair(r.text, real(r.span) if r.span is not None else None, r.replacement, r.safe) for r in self.repairs
        )
        return msgspec.structs.replace(self, span=real(self.span), labels=labels, repairs=repairs)


class PatternError(Exception):
    """Raised by the library's public functions when a pattern can't be read or written; carries problems, and the texts
    by name that they point into."""

    def __init__(self, problems: list[Problem], sources: Mapping[str, Source] | None = None) -> None:
        super().__init__("; ".join(p.message for p in problems[:3]))
        self.problems = problems
        self.sources = dict(sources or {})
