"""What is claimed of the strips and lengths of borders and sashing, against those that are cut."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from patternkit.checks.claims.cut_words import sides
from patternkit.checks.claims.strip_needs import StripCloth, cloth_of
from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Framing
from patternkit.piecing.names import SASHES, Name
from patternkit.plan.finishing import strips_joined
from patternkit.plan.strip_room import Oblong, fewest
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.source import Span
from patternkit.units import number, show

LENGTHS = (("sides cut", "sides"), ("top cut", "top and bottom"))
"""What claims a length, and which sides of a border it is that of."""


class Claimed(msgspec.Struct, frozen=True):
    """A number that a finishing line claims: of what (``border 2``), of which things (`strip`, `panel`), and where."""

    word: str
    stated: int
    span: Span
    what: str
    number: Span | None = None


class EdgePiece(msgspec.Struct, frozen=True):
    """Pieces of a border or of sashing: raw length and width, how many, which they are, whether cut along the cloth."""

    length: Length
    wide: Length
    count: int
    name: Name
    along: bool = False


def differs(claim: Claimed, needed: int, causes: tuple[str, ...], *, scant: bool = False) -> Iterator[Problem]:
    """What is said of a count that differs; `scant` where it is enough, if nothing goes amiss."""
    stated, things = claim.stated, f"{needed} {claim.what}{'' if needed == 1 else 's'}"
    repairs = (Repair(f"write {needed}", claim.number, f"{needed}"),) if claim.number is not None else ()
    if stated == needed:
        return
    if stated > needed:
        more = f"{stated} are {stated - needed} more than it needs"
    elif scant:
        more = f"{stated} go round the quilt, with less to spare"
        things += " with its allowance"
    else:
        more = f"{stated} {'is' if stated == 1 else 'are'} too few"
    advice = scant or stated > needed
    yield Problem(
        "finish-differs",
        f"The {claim.word} takes {things}; {more}.",
        claim.span,
        causes=causes,
        repairs=repairs,
        advice=advice,
    )


def cut_of(edge: Framing, project: Project) -> list[EdgePiece]:
    """The strips that a border, or all sashing, is cut into."""
    plan, fabric = project.quick_plan[0], edge.piece.fabric if edge.piece is not None else ""

    def own(name: object) -> bool:
        if not isinstance(name, Name):
            return False
        if not edge.nth:
            return name.plain in SASHES
        return name.what == "border" and edge.nth in name.numbers and name.side != "cornerstone"

    found = []
    for line in plan.lines:
        if line.fabric == fabric and own(line.cut.name) and line.cut.then != "strip":
            short, long = sides(line.cut.width, line.cut.height)
            if line.cut.name is not None:
                found.append(EdgePiece(long, short, line.count, line.cut.name, line.cut.along))
    for strip in plan.long_strips:
        if strip.fabric == fabric:
            found += [
                EdgePiece(long, strip.height, n, name)
                for long, n, name in strip.lengths
                if isinstance(name, Name) and own(name)
            ]
    return found


def frame_strips(edge: Framing, claim: Claimed, project: Project) -> Iterator[Problem]:
    """``strips 5`` of a border or of sashing: joined end to end, or each piece from one strip, whichever is fewer."""
    pieces, units = cut_of(edge, project), project.pattern.settings.units
    if not pieces or edge.piece is None:
        return
    cloth = cloth_of(project.pattern.fabrics[edge.piece.fabric], project)
    total = sum((p.length * p.count for p in pieces), ZERO)
    alone = _alone(pieces, cloth)
    joined = strips_joined(total, cloth.length(cloth.across), cloth.join)
    cut = sum(p.count for p in pieces) if any(p.along for p in pieces) else alone
    least = cut if any(p.along for p in pieces) else min(alone, joined)
    one = ", ".join(f"{p.count} of {show(p.length, units)}" for p in pieces)
    causes = [f"It is cut into {one}; a strip is {show(cloth.length(cloth.across), units)} long."]
    if claim.stated < joined:
        n = claim.stated
        long = cloth.length(cloth.across) * n - cloth.join * (n - 1)
        measure = "measures" if n == 1 else "joined measure"
        causes.append(f"{n} {measure} {show(long, units)}, and {show(total, units)} are wanted.")
    if claim.stated < least:
        yield from differs(claim, least, tuple(causes))
    elif claim.stated > cut:
        yield from differs(claim, cut, tuple(causes))


def _alone(pieces: list[EdgePiece], cloth: StripCloth) -> int:
    """Strips where only those pieces are joined that are longer than one."""
    whole = cloth.length(cloth.across)
    long = [p for p in pieces if p.length > whole]
    short = [Oblong(cloth.whole(p.length), 1, p.count, turns=False) for p in pieces if p.length <= whole]
    n = fewest(1, {1: 0}, short, cloth.across, sum(p.number for p in short) + 1) or 0
    total = sum((p.length * p.count for p in long), ZERO)
    return n + (strips_joined(total, whole, cloth.join) if long else 0)


def frame_lengths(edge: Framing, project: Project) -> Iterator[Problem]:
    """``sides cut 60 1/2, top cut 64 1/2`` of a border."""
    units, values = project.pattern.settings.units, project.pattern.parameters
    pieces = cut_of(edge, project)
    for phrase, side in LENGTHS:
        lengths = {p.length for p in pieces if p.name.side == side}
        if phrase not in edge.extras or len(lengths) != 1:
            continue
        stated, cut = edge.extras[phrase].value(values), lengths.pop()
        if stated == cut:
            continue
        place = edge.numbers.get(phrase)
        repair = Repair(f"write {show(cut, units)}", place, number(cut, units)) if place is not None else None
        much = show(abs(stated - cut), units)
        yield Problem(
            "finish-differs",
            f"The {'sides' if side == 'sides' else 'top and bottom'} of {edge.called} are cut {show(cut, units)} long; "
            f"{show(stated, units)} is {much} {'more' if stated > cut else 'too short'}.",
            edge.span,
            causes=(f"With its seams {edge.called} is cut as long as what it is sewn to.",),
            repairs=(repair,) if repair is not None else (),
            advice=stated > cut,
        )
