"""How far small errors at the seams move a size, and which plain pieces can take them up.

An error t at each of n seams along one line moves the size by n t when all errors lie the same way (a foot set wrong),
and by about root n times t when they lie either way by chance (the usual sum of independent errors). Both are printed.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from itertools import pairwise
from typing import Any

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.diagonal import is_diagonal, number
from patternkit.booklet.content.rounds import has_logs
from patternkit.document import Block, Paragraph, Section, Table
from patternkit.lengths import ZERO, Length, root
from patternkit.piecing.making import Cloth, Making, Part
from patternkit.piecing.reflect import flattened
from patternkit.piecing.setting.borders import MITRED
from patternkit.piecing.unknowns import Unknown
from patternkit.sizes.causes import Var

MANY = 5
"""Seams along one line from which a unit is flagged: common practice, no source."""


class Drift(msgspec.Struct, frozen=True):
    """A unit's seams along one line: how many, which way the line runs ("w" or "h"), how far the size moves."""

    seams: int
    way: str
    in_all: Length
    by_chance: Length


class Remedy(msgspec.Struct, frozen=True):
    """Plain pieces that take up a difference: when the unit is `missing` short, each of the `pieces` pieces is cut
    `each` larger. `most` is the largest shortage that this meets without any piece changing more than half a seam."""

    pieces: int
    missing: Length
    each: Length
    most: Length
    names: tuple[str, ...] = ()
    parent: str = ""
    copies: int = 1


def drift(making: Making, ctx: Context) -> Drift:
    """The drift along the line with most seams, at the file's thread."""
    across, down = seams_along(making, 0), seams_along(making, 1)
    n, thread = max(across, down), ctx.pattern.settings.thread
    return Drift(n, "w" if across >= down else "h", thread * n, root(Fraction(n)) * thread if n else ZERO)


def seams_along(part: Part, axis: int, memo: dict[tuple[int, int], int] | None = None) -> int:
    """The most seams that one line across a unit crosses, running along x (`axis` 0) or y (1) as it is drawn.

    Rows and the quilt are added up from their parts; inside a unit lines are drawn through its patches.
    """
    memo = {} if memo is None else memo
    if isinstance(part, Cloth):
        return 0
    key = (id(part), axis)
    if key not in memo:
        memo[key] = _crossed(part, axis, memo)
    return memo[key]


def _crossed(making: Making, axis: int, memo: dict[tuple[int, int], int]) -> int:
    if making.role in ("unit", "block") or any(p.place.turned % 90 for p in making.parts):
        return _through_patches(making, axis)
    inner = []
    for p in making.parts:
        own = axis if p.place.turned % 180 == 0 else 1 - axis
        inner.append(seams_along(p.what, own, memo))
    method = making.recipe.method
    if method.around == "borders":
        band = inner[1] if method is MITRED else 0
        return inner[0] + 2 + band * 2
    beside = method.runs == ("across", "down")[axis]
    return sum(inner) + len(inner) - 1 if beside else max(inner, default=0)


def _through_patches(making: Making, axis: int) -> int:
    shapes = [
        [(float(p[axis]), float(p[1 - axis])) for p in place.outline(cloth.outline)]
        for cloth, place in flattened(making)
    ]
    levels = sorted({round(y, 6) for shape in shapes for _, y in shape})
    most = 0
    for low, high in pairwise(levels):
        if high - low > 1e-4:
            y = low + (high - low) * 0.4871  # off the middle, where crossings of slanted seams lie
            most = max(most, sum(min(b for _, b in s) < y < max(b for _, b in s) for s in shapes) - 1)
    return most


# -- remedies, from the equations of the sizes ---------------------------------------------------------------
def own_ends(making: Making, ctx: Context) -> Remedy | None:
    """The two plain end pieces of a unit of many pieces, and how much larger each is cut for a seam's width missing.

    The unit's equation adds up its pieces: changing both ends by d changes the sum by the sum of their coefficients
    times d.
    """
    found = _sum_of(making, ctx)
    if found is None:
        return None
    terms, parts, whole = found.terms, found.parts, found.whole
    first, last = parts[0][1], parts[-1][1]
    if len(parts) < 3 or not (_plain(first, ctx) and _plain(last, ctx)):
        return None
    both = sum((abs(Length(terms[v])) for v in {first, last}), ZERO) if first != last else abs(Length(terms[first]))
    whole_share = abs(Length(terms[whole]))
    change = both / whole_share
    return Remedy(2, ctx.seam, ctx.seam / change, ctx.seam / 2 * change)


def between_plain(making: Making, ctx: Context) -> Remedy | None:
    """Plain pieces beside a unit in the row it is sewn into: how much larger each is cut when every copy of the unit is
    short by a seam's width, and the most that this can meet."""
    key = making.key.of
    for equation in ctx.project.sizing.system.equations:
        cause = equation.cause
        if cause.whole is None or not any(_is_of(v, key) for _, v in cause.parts):
            continue
        copies = [i for i, (_, v) in enumerate(cause.parts) if _is_of(v, key)]
        plain = [(name, v) for name, v in cause.parts if _plain(v, ctx)]
        if not plain or not all(_has_plain_beside(i, cause.parts, ctx) for i in copies):
            continue
        each = ctx.seam * len(copies) / len(plain)
        most = ctx.seam / 2 * len(plain) / len(copies)
        owner = cause.whole[1]
        return Remedy(
            len(plain),
            ctx.seam,
            each,
            most,
            tuple(dict.fromkeys(name for name, _ in plain)),
            owner.owner if isinstance(owner, Unknown) and owner.sort == "unit" else "",
            len(copies),
        )
    return None


class _Sum(msgspec.Struct, frozen=True):
    """The equation that adds a unit's pieces up: its terms, its pieces in order, and the unit's own size."""

    terms: Mapping[Var, Any]
    parts: tuple[tuple[str, Var], ...]
    whole: Var


def _sum_of(making: Making, ctx: Context) -> _Sum | None:
    """The equation along the unit's line of most seams; None when no one equation runs along it."""
    pieces = drift(making, ctx).seams + 1
    for equation in ctx.project.sizing.system.equations:
        cause = equation.cause
        whole = cause.whole[1] if cause.whole is not None else None
        if _is_of(whole, making.key.of) and len(cause.parts) == pieces:
            return _Sum(equation.terms, cause.parts, whole)
    return None


def _plain(var: Var, ctx: Context) -> bool:
    """True for the size of a plain piece: a patch in its place, or a unit that is one piece of cloth."""
    if not isinstance(var, Unknown):
        return False
    return ctx.pattern.units[var.owner].kind == "patch" if var.sort == "unit" else var.sort in ("piece", "block")


def _is_of(var: Var, key: str) -> bool:
    """Whether it is a size of the unit of that key, and not of a piece in it."""
    return isinstance(var, Unknown) and var.sort == "unit" and var.owner == key


def _has_plain_beside(i: int, parts: tuple[tuple[str, Var], ...], ctx: Context) -> bool:
    return any(0 <= j < len(parts) and _plain(parts[j][1], ctx) for j in (i - 1, i + 1))


# -- in words ------------------------------------------------------------------------------------------------
def remedies(making: Making, ctx: Context) -> list[str]:
    """What a step says about a unit with many seams; nothing for others."""
    if making.role not in ("unit", "block") or making.recipe.method.on_paper:
        return []  # the lines of a paper keep every piece in its place
    off = drift(making, ctx)
    if off.seams < MANY:
        return []
    thread = ctx.pattern.settings.thread
    key = "remedy.many_logs" if has_logs(making) else "remedy.many"
    texts = [ctx.say(key, seams=off.seams, thread=thread, off=off.in_all)]
    ends, beside = own_ends(making, ctx), between_plain(making, ctx)
    half = ctx.seam / 2
    if ends is not None:
        texts.append(ctx.say("remedy.ends", missing=ends.missing, each=ends.each, half=half, most=ends.most))
    if beside is not None:
        parent = ctx.pattern.units.get(beside.parent)
        texts.append(
            ctx.say(
                "remedy.beside",
                parent=parent.title if parent else ctx.say("names.centre"),
                names=ctx.listed(beside.names),
                n=beside.pieces,
                copies=beside.copies,
                step=half * beside.pieces / beside.copies / 2,
                each=half / 2,
                half=half,
                most=beside.most,
            )
        )
    return [" ".join(texts)]


def accuracy_section(ctx: Context) -> Section | None:
    """The drift of every unit with two seams or more along a line."""
    found: dict[tuple[str, ...], list[Making]] = {}
    for count in ctx.steps:
        off = drift(count.making, ctx)
        if off.seams >= 2:
            told = (
                ctx.say(f"accuracy.{off.way}", n=off.seams),
                ctx.phrases.fine(off.in_all),
                ctx.phrases.fine(off.by_chance),
            )
            same = "diagonal" if is_diagonal(count.making) else ctx.title(count.making)
            found.setdefault((same, *told), []).append(count.making)
    rows = []
    for (name, *told_of), makings in found.items():
        diagonal = is_diagonal(makings[0])
        called = ctx.names.diagonal([number(m) for m in makings]) if diagonal else name
        rows.append((called, *told_of))
    if not rows:
        return None
    thread = ctx.phrases.fine(ctx.pattern.settings.thread)
    blocks: list[Block] = [
        Paragraph(ctx.say("accuracy.intro", thread=thread)),
        Table("", ctx.phrases.list("accuracy.heads"), tuple(rows), "llrr"),
        Paragraph(ctx.say("accuracy.help", many=MANY)),
    ]
    return Section("accuracy", ctx.say("heads.accuracy"), tuple(blocks))
