"""How a quilt is finished, in the words of its making order: a line for each thing, with the pieces that it takes."""

from __future__ import annotations

from patternkit.desk.order_words import OrderWords
from patternkit.piecing.names import english
from patternkit.work.model import Bind, EdgeFinish, Extra, Finish, Order, Panels, RoundedCorners, Sleeve


def finish_lines(order: Order, words: OrderWords) -> list[str]:
    """Under a heading what is done with the top, in order; nothing where that is nothing."""
    lines = [f"  {_line(one, words)}" for one in order.finish]
    return ["", "Finish", *lines] if lines else []


def _line(one: Finish, words: OrderWords) -> str:
    if isinstance(one, Panels):
        return _panels(one, words)
    if isinstance(one, Bind):
        how = "bias strips" if not one.count else f"{one.count} strips" if one.count > 1 else "one strip"
        how += " and kept ends" if one.joins else ""
        joined = f"joined to {words.length(one.length)}, round {words.length(one.perimeter)}"
        return f"binding: {how} of {_cloth(one.fabric, words)}, {words.length(one.strip)} wide, {joined}"
    if isinstance(one, Sleeve):
        size = words.size(one.length, one.strip)
        return f"sleeve: {_cloth(one.fabric, words)}, {size}{_strips(one.count) if not one.along else ''}"
    if isinstance(one, Extra):
        each = f" for each {words.item(one.of)}" if one.of is not None else ""
        return f"also: {one.count} x {words.item(one.piece)} ({english(one.name)}){each}"
    if isinstance(one, RoundedCorners):
        return f"corners: cut along arcs of {words.length(one.raw)}; rounded by {words.length(one.radius)} once bound"
    return _edge(one, words)


def _panels(one: Panels, words: OrderWords) -> str:
    cloth = f" of {_cloth(one.fabric, words)}" if one.fabric else ""
    count = "one piece" if one.count == 1 else f"{one.count} panels"
    size, trimmed = words.size(one.width, one.length), words.size(*one.trimmed)
    between = ""
    if one.between is not None:
        between = f", a strip of {_cloth(one.between.fabric, words)}, {words.length(one.between.strip)} wide, between"
    return f"{one.what}: {count}{cloth}, {size}{between}; trimmed to {trimmed}"


def _edge(one: EdgeFinish, words: OrderWords) -> str:
    taken = ", ".join(f"{n} x {words.item(piece)}" for piece, n in one.pieces)
    shows = f"; {words.length(one.shows)} of it shows" if one.shows else ""
    return f"{one.what}: take {taken}{shows}"


def _cloth(fabric: str, words: OrderWords) -> str:
    return words.fabrics.get(fabric, fabric)


def _strips(n: int) -> str:
    return f", joined from {n} strips" if n > 1 else ""
