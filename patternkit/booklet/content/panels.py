"""What a step says in one size, as data: panels of sentences, numbers and drawings, not yet put in words.

Sizes whose panels hold the same data share a panel; only then is it rendered.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Literal

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.pressing import Ways, press_sentences
from patternkit.booklet.phrases import Sentence
from patternkit.document import Block, Bullets, Callout, Paragraph, Rich
from patternkit.lengths import Length
from patternkit.work.forms import Turns

Sentences = tuple[Sentence, ...]
Items = tuple[tuple[Sentences, str], ...]
"""Items of a list: each is sentences with commas between, and what it is called in brackets, if anything."""
_Size = tuple[Length, Length]


class Remark(msgspec.Struct, frozen=True):
    """Sentences that are read in one breath: a paragraph, or a callout of a kind."""

    sentences: Sentences
    kind: Literal["", "checkpoint", "remedy"] = ""


class Listed(msgspec.Struct, frozen=True):
    """A list with what leads to it."""

    lead: Sentence
    items: Items


class Pressing(msgspec.Struct, frozen=True):
    """Where seams are pressed and which way; one whole sentence, with no place, where all are pressed alike."""

    ways: Ways


class Measures(msgspec.Struct, frozen=True):
    """What a checkpoint says: whether of several pieces, their raw size and the finished one, what they show."""

    many: bool
    raw: _Size
    finished: _Size | None
    shows: Sentences


class Depicted(msgspec.Struct, frozen=True):
    """A drawing by what it shows; of a unit also what is `bare` of how seams are pressed; of a row what lies in it by
    turns, and of how many parts it is."""

    shown: object
    bare: object = None
    row: Turns | None = None
    parts: int = 0


class Panel(msgspec.Struct, frozen=True):
    """One panel of a step: its place in it, and its data; what renders it, where it is a drawing or a table."""

    slot: str
    data: object
    render: Callable[[], tuple[Block, ...]] | None = None

    def blocks(self, ctx: Context) -> tuple[Block, ...]:
        """The panel in words, and drawings."""
        if self.render is not None:
            return self.render()
        data = self.data
        if isinstance(data, tuple):
            return tuple(block for part in data for block in Panel(self.slot, part).blocks(ctx))
        if isinstance(data, Remark):
            words = text(data.sentences, ctx)
            return (Callout(data.kind, words) if data.kind else Paragraph(words),)
        if isinstance(data, Listed):
            return (Paragraph(ctx.phrases.render(data.lead)), Bullets(items(data.items, ctx)))
        if isinstance(data, Pressing):
            return (Paragraph(text(press_sentences(data.ways), ctx)),)
        if isinstance(data, Measures):
            return (Callout("checkpoint", text((_measured(data, ctx), *data.shows), ctx)),)
        assert isinstance(data, (Rich, Callout))  # the writer's own words
        return (data,)


def _measured(data: Measures, ctx: Context) -> Sentence:
    (w, h), (fw, fh) = data.raw, data.finished or data.raw
    n, finished = 2 if data.many else 1, data.finished is not None
    return ctx.state("step.measures", n=n, w=w, h=h, finished=finished, fw=fw, fh=fh)


def lines(slot: str, *data: Sentence | Remark | Listed | Block) -> list[Panel]:
    """A panel for each sentence, or for each run of them."""
    return [Panel(f"{slot} {i}", Remark((x,)) if isinstance(x, Sentence) else x) for i, x in enumerate(data)]


def items(listed: Items, ctx: Context) -> tuple[str, ...]:
    """The items of a list in words."""
    texts = [(", ".join(map(ctx.phrases.render, sentences)), name) for sentences, name in listed]
    return tuple(f"{item} ({name})" if name else item for item, name in texts)


def text(sentences: Sequence[Sentence], ctx: Context) -> str:
    """Sentences in words, one after the other."""
    return " ".join(map(ctx.phrases.render, sentences))
