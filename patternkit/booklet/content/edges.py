"""What is sewn to the edges of the quilt and is no binding: facing, flanges, piping, prairie points, the back of a
cushion."""

from __future__ import annotations

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.panels import Panel, lines
from patternkit.booklet.phrases import Listing
from patternkit.lengths import ZERO
from patternkit.piecing.names import Name, Side
from patternkit.work.model import EdgeFinish

BASTED = ("flange", "piping")
_SIDES: tuple[Side, Side] = ("sides", "top and bottom")


def edge_panels(edge: EdgeFinish, ctx: Context) -> list[Panel]:
    """What one of them is made of, and how it is sewn on."""
    pieces = []
    for (piece, n), side in zip(edge.pieces, _SIDES, strict=False):
        short, long = sorted((piece.width, piece.height))
        named = ""
        if edge.what in ("facing", "flange", "piping"):
            named = ctx.names.of(Name(edge.what, side=side))
        values = {"n": n, "fabric": ctx.fabric(piece.fabric), "w": short, "h": long, "side": named}
        values["code"] = ctx.codes.get(piece, "")
        pieces.append(ctx.state("finish.edge_piece", **values))
    first = edge.pieces[0][0]
    high = first.height if first.width == edge.strip else first.width
    facts: dict[str, object] = {
        "shows": edge.shows,
        "turn": edge.turn,
        "overlap": edge.overlap,
        "seam": ctx.seam,
        "high": high,
        "around": sum((max(piece.width, piece.height) * n for piece, n in edge.pieces), ZERO),
    }
    facts |= dict(zip(("n", "m", "across", "down"), (*edge.along, *edge.apart), strict=True))
    key = f"finish.{edge.what.replace(' ', '_')}"
    return lines(edge.what, ctx.state(key, strips=Listing(tuple(pieces)), **facts))


def flanges_under(border: int, ctx: Context) -> list[Panel]:
    """Flanges and pipings that are basted to the quilt before a border (by its number) is sewn on."""
    edges = [x for x in ctx.order.finish if isinstance(x, EdgeFinish) and x.what in BASTED and x.after == border - 1]
    return [panel for edge in edges for panel in edge_panels(edge, ctx)]
