"""What is joined end to end, and how a quilt is finished, as data: beside each fabric's cuts in the cutting plan."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from patternkit.lengths import Length
from patternkit.piecing.joined import JoinedStrip
from patternkit.piecing.names import english
from patternkit.plan.model import Binding, Edging, LongStrip, Plan, Web, called

FINE = Fraction(1, 1024)

Data = dict[str, Any]


def finishing_data(plan: Plan) -> Data:
    """Strips joined end to end, the binding, the sleeve, the batting and the web for fused shapes; None for what the
    quilt does not have."""
    return {
        "joined": [joined_data(x) for x in plan.long_strips],
        "binding": _binding(plan.binding) if plan.binding is not None else None,
        "sleeve": joined_data(plan.sleeve) if plan.sleeve is not None else None,
        "batting": _batting(plan, *plan.batting) if plan.batting is not None else None,
        "edges": [_edge(edge) for edge in plan.edges],
        "web": _web(plan.web) if plan.web is not None else None,
    }


def _edge(edge: Edging) -> Data:
    """A facing, a flange, prairie points or the back of a cushion, with what is cut for it."""
    return {
        "what": edge.what,
        "fabric": edge.fabric,
        "cut": stated(edge.raw),
        "shows": stated(edge.shows),
        "pieces": [
            {"for": english(x.name), "number": x.count, "width": stated(x.width), "height": stated(x.height)}
            for x in edge.pieces
        ],
    }


def _web(web: Web) -> Data:
    """Paper-backed web for fused shapes."""
    return {"width": stated(web.width), "length": stated(web.length), "shapes": web.shapes}


def _batting(plan: Plan, width: Length, height: Length) -> Data:
    one = plan.packet
    sold = {"name": one.name, "width": stated(one.width), "height": stated(one.height)} if one is not None else None
    return {"width": stated(width), "height": stated(height), "sold": sold}


def joined_data(long: LongStrip) -> Data:
    """Strips of one height that are joined end to end, and what is cut from them."""
    return {
        "fabric": long.fabric,
        "height": stated(long.height),
        "strips": long.strips,
        "join": stated(long.join),
        "seams": "diagonal" if long.diagonal else "straight",
        "along": long.along,
        "lengths": [{"length": stated(x), "count": n, "for": called(use)} for x, n, use in long.lengths],
        "joins": [_joined_strip(one, [x for x, *_ in long.lengths]) for one in long.joins],
    }


def _joined_strip(one: JoinedStrip, lengths: Sequence[Length]) -> Data:
    return {
        "count": one.count,
        "wholeStrips": one.wholes,
        "keptEnds": [{"atLeast": stated(x), "number": n} for x, n in one.ends],
        "cuts": [{"length": stated(lengths[i]), "number": n} for i, n in one.cuts],
        "keeps": [{"atLeast": stated(x), "number": n} for x, n in one.keeps],
        "endOf": {"height": stated(one.of), "left": _at_least(one.left)} if one.of and one.left else None,
    }


def _binding(done: Binding) -> Data:
    grain = "straight" if not done.bias else "bias" if done.square is None else "bias from a square"
    return {
        "fabric": done.fabric,
        "width": stated(done.width),
        "grain": grain,
        "perimeter": stated(done.perimeter),
        "allowance": stated(done.allowance),
        "wanted": stated(done.total),
        "gives": _at_least(done.gives),
        "strips": done.strips,
        "each": _at_least(done.usable),
        "join": stated(done.join),
        "seams": "straight" if done.straight else "diagonal",
        "square": stated(done.square) if done.square is not None else None,
        "rounds": done.rounds,
        "joins": [_joined_strip(one, [done.total]) for one in done.joins],
        "length": stated(done.length) if done.length is not None else None,
    }


def stated(length: Length) -> str:
    """A length in inches; one that no fraction gives as it lies on a fine rule, rounded up."""
    return str(length.fraction if length.is_fraction else length.ceil_to(FINE))


def _at_least(length: Length) -> str:
    """The same, rounded down: what something gives."""
    return str(length.fraction if length.is_fraction else length.floor_to(FINE))
