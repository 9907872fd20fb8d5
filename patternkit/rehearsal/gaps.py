"""What a rehearsal finds wrong, as data, and in plain words."""

from __future__ import annotations

from collections.abc import Callable
from typing import Union

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.batch import Item, Piece

Number = Union[Length, float, int]

WORDS = {
    "taken": "{item} is taken {stated} times, and only {out} are cut or made by then",
    "untaken": "{out} of {item} are cut or made and taken by nothing, and {stated} are said to be left",
    "again": "{item} is put aside, {stated} of it, and made or cut afresh elsewhere ({out})",
    "unused": "{item} is taken and nothing is done with it",
    "missing": "what is told of {item} can't be found on the table",
    "edges": "raw edges that meet are {stated} and {out} long",
    "seam lines": "seam lines that meet are {stated} and {out} long",
    "line": "raw edges that are sewn in one line do not lie in one line: they are {out} apart",
    "closes": "edges that are to close do not lie on each other: they are {out} apart",
    "through": "an earlier seam is stitched {out} into an allowance that has to be open here",
    "loose": "pieces that are to be opened are held by no stitches",
    "shut": "other stitches hold together what is to be opened, and nobody is told to pick them out",
    "picked": "stitches are to be picked out, and there are none",
    "ring": "a ring of a tube is never opened",
    "fold": "pieces lie face to face and are never opened",
    "told": "{item} is to measure {stated}, and measures {out}",
    "shows": "a piece is to show {stated}, and shows {out}",
    "no cloth": "there is no cloth to trim to {stated}: it measures {out}",
    "point": "the trimming cuts a point: there are {out} left outside it, and {stated} are needed",
    "strip": "what is cut takes {stated} of the strip unit, and it is {out} long",
    "cover": "{item} does not cover its field with a seam to spare: {stated} are needed, and it has {out}",
    "field": "a field of the foundation can't be sewn along one straight line in this order",
    "untrimmed": "the foundation under {item} is never trimmed to its outer line",
    "size": "{item} is to measure {stated} from raw edge to raw edge, and comes out {out}",
    "patch": "what comes out is not {item} as it is drawn",
    "mirrored": "what comes out is the mirror image of {item}",
    "version": "what comes out is {item} with other seams: another version",
    "press": "a seam of {item} is pressed to another side than planned",
    "locks": "{stated} seams are said to lock along a seam, and {out} do",
    "count": "{stated} of {item} are said to come out, and {out} do",
    "extra": "something comes out that nobody is told of",
    "undrawn": "nothing is drawn for {item}",
    "cloth": "what is cut takes more cloth than is bought: {stated} square inches, and {out} are there",
    "long": "{item} is {stated} long, and the cloth is {out} wide",
    "strips": "what is cut from joined strips takes {stated}, and they are {out} long",
    "segments": "what lies side by side takes {stated}, and there are {out}",
    "edge": "what is sewn to an edge is to be {stated}, and comes to {out}",
    "leftover": "what is cut from a leftover takes {stated}, and there are {out}",
    "rows": "what lies one above the other takes {stated}, and there are {out}",
    "untrimmed piece": "a piece {stated} high lies in a row {out} high and is not trimmed",
    "over": "{item} cut side by side lie over each other",
    "laid": "{item} is cut {stated} times, and {out} lie in the strips",
    "panels": "panels that are joined are to be {stated}, and come to {out}",
    "ruler": "{stated} lies on no line of the ruler",
    "print": "{item} is taken {stated} times in one print, and only {out} of it are cut or made",
    "run": "a release takes {stated} of {item}, and only {out} are made by then",
    "runs": "the releases sew a batch {out} times in all, and it is to be sewn {stated} times",
    "top": "{stated} quilt top is to be there in the end, and {out} are",
    "wanted": "{stated} of {item} are to be there in the end, and {out} are",
    "remedy": "where {item} is off by {stated}, the remedy does not bring things together: {out} are left",
}
"""The kinds of gap, with what is said of each."""


class Gap(msgspec.Struct, frozen=True):
    """One place where what is told is not what comes out.

    `kind` is a key of `WORDS`; `step`, `batch`, `passage`, `action` number from 0 (None where the gap belongs to none);
    `item` and `other` are what it is about; `stated` is the number in the order, `out` the one that comes out: a length
    in inches, or a count.
    """

    kind: str
    step: int | None = None
    batch: int | None = None
    passage: int | None = None
    action: int | None = None
    item: Item | None = None
    stated: Number | None = None
    out: Number | None = None
    other: Item | None = None


class Slip(Exception):
    """A gap met while a batch is performed, which can't go on."""

    def __init__(self, gap: Gap) -> None:
        super().__init__(gap.kind)
        self.gap = gap


def slip(kind: str, stated: Number | None = None, out: Number | None = None, item: Item | None = None) -> Slip:
    """A gap to be raised where the batch can't go on."""
    return Slip(Gap(kind, stated=stated, out=out, item=item))


def gap_text(gap: Gap, called: Callable[[Item], str] | None = None) -> str:
    """A gap as a sentence. `called` gives an item's name; without it, items are spelt out."""
    name = called or item_text
    where = []
    if gap.step is not None:
        where.append(f"step {gap.step + 1}")
    if gap.batch:
        where.append(f"batch {gap.batch + 1}")
    if gap.action is not None and gap.passage is not None:
        where.append(f"action {gap.passage + 1}.{gap.action + 1}")
    text = WORDS[gap.kind].format(
        item=name(gap.item) if gap.item is not None else "it", stated=number_text(gap.stated), out=number_text(gap.out)
    )
    head = ", ".join(where)
    return f"{head[0].upper()}{head[1:]}: {text}." if head else f"{text[0].upper()}{text[1:]}."


def item_text(item: Item) -> str:
    """An item spelt out."""
    if isinstance(item, Piece):
        lean = f", {item.hand}" if item.hand else ""
        return f"{item.form} of {item.fabric} {number_text(item.width)} x {number_text(item.height)}{lean}"
    version = f", version {item.version + 1}" if item.version else ""
    return f"{item.key}{version}"


def number_text(n: Number | None) -> str:
    """A number with at most three decimals."""
    if n is None:
        return "nothing"
    return str(n) if isinstance(n, int) else f"{float(n):.3f}".rstrip("0").rstrip(".")
