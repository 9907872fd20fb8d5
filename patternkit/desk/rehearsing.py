"""The making order in words and as data, with what lies on the table after each step, and what a rehearsal found."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

import msgspec

from patternkit.desk.order_finish import finish_lines
from patternkit.desk.order_words import ActionWords, OrderWords
from patternkit.lengths import Length
from patternkit.piecing.batch import Batch, Item, Piece, Thing
from patternkit.piecing.making import Making
from patternkit.project import Project
from patternkit.rehearsal.gaps import Gap, gap_text
from patternkit.rehearsal.rehearse import Rehearsal, rehearsal
from patternkit.work.build import order_of
from patternkit.work.model import Order

SCHEMA_VERSION = 1


class Rehearsed(msgspec.Struct, frozen=True):
    """A project's order, its designs, and what came of its rehearsal."""

    order: Order
    designs: Mapping[Thing, Making]
    result: Rehearsal
    words: OrderWords


def rehearse_project(project: Project) -> Rehearsed:
    """Make and rehearse the order of a project, with the cloth that its plan buys."""
    plan, _ = project.plan()
    order, designs = order_of(project, plan)
    titles = {key: f.title for key, f in project.pattern.fabrics.items()}
    words = OrderWords(project.pattern.settings.units, order.codes, designs, titles)
    return Rehearsed(order, designs, rehearsal(order, designs), words)


def gaps_text(done: Rehearsed) -> list[str]:
    """Each gap as a sentence."""
    return [gap_text(gap, done.words.item) for gap in done.result.gaps]


def rehearsal_text(done: Rehearsed) -> str:
    """The order step by step, and after each step what lies on the table; then the gaps, if any."""
    order, words = done.order, done.words
    lines = ["Pieces"]
    lines += [f"  {code}: {words.piece(piece)}" for piece, code in order.codes.items()]
    table: dict[Item, int] = {}
    for n, step in enumerate(order.steps):
        made = step.gives.get(step.thing, 0)
        lines += ["", f"Step {n + 1}: {words.item(step.thing)}, {made} to make"]
        if not step.rehearsed:
            lines.append("  not rehearsed: this kind of unit has no actions yet")
        for batch, times in step.batches:
            lines += _batch(batch, times, words)
        _lay_out(table, step.takes, step.gives)
        lines.append(f"  on the table: {_items(table, words) or 'nothing'}")
        if step.leaves:
            lines.append(f"  left over: {_items(dict(step.leaves), words)}")
    lines += [*finish_lines(order, words), ""]
    missing = gaps_text(done)
    lines += ["What does not hold:", *(f"  {text}" for text in missing)] if missing else ["Everything holds."]
    return "\n".join(lines)


def _lay_out(table: dict[Item, int], takes: Mapping[Item, int], gives: Mapping[Item, int]) -> None:
    """Sewn things come onto the table and go from it; cut pieces lie in their stacks and are not listed."""
    for item, n in takes.items():
        if isinstance(item, Thing):
            table[item] = table.get(item, 0) - n
    for item, n in gives.items():
        table[item] = table.get(item, 0) + n
    for item in [i for i, n in table.items() if n <= 0]:
        del table[item]


def _items(items: Mapping[Item, int], words: OrderWords) -> str:
    return ", ".join(f"{n} x {words.item(item)}" for item, n in items.items())


def _batch(batch: Batch, times: int, words: OrderWords) -> list[str]:
    uses = tuple(use.item for use in batch.uses)
    taken: dict[Item, int] = {}
    for item in uses:
        taken[item] = taken.get(item, 0) + 1
    how = "once" if times == 1 else f"{times} times"
    lines = [f"  {how}: take {_items(taken, words)}"]
    action_words = ActionWords(words, uses)
    lines += [f"    {action_words.render(a)}" for a in batch.actions]
    return [*lines, f"    gives {_items(dict(batch.gives), words)}"]


# -- data -------------------------------------------------------------------------------------------------
def rehearsal_json(done: Rehearsed, project: Project) -> bytes:
    """The order as data, with its gaps: `order.schema.json` beside this says what stands where. Items are named by code
    (cut pieces) or key (sewn things); lengths are inches as text, exact."""
    order, words = done.order, done.words
    designs = done.designs
    found = {
        "version": SCHEMA_VERSION,
        "pattern": project.pattern.settings.title,
        "size": order.size,
        "colourway": order.colourway,
        "seam": _plain(order.seam, words),
        "ruler": _plain(order.ruler, words),
        "pieces": {code: _plain(piece, words, spell=True) for piece, code in order.codes.items()},
        "things": {
            words_key(thing): {
                "title": making.title,
                "width": _plain(making.width, words),
                "height": _plain(making.height, words),
            }
            for thing, making in designs.items()
        },
        "cutting": [_plain(x, words) for x in order.cutting],
        "steps": [
            {
                "makes": words_key(step.thing),
                "rehearsed": step.rehearsed,
                "takes": _counted(step.takes, words),
                "gives": _counted(step.gives, words),
                "leaves": _counted(dict(step.leaves), words),
                "batches": [{"times": times, **_plain(batch, words)} for batch, times in step.batches],
                "remedies": [_plain(mend, words) for mend in step.remedies],
                "prints": [_plain(x, words) for x in step.prints],
            }
            for step in order.steps
        ],
        "finish": [_plain(x, words) for x in order.finish],
        "runs": [_plain(x, words) for x in order.runs],
        "top": None if order.top is None else words_key(order.top),
        "bought": {key: _plain(x, words) for key, x in order.bought.items()},
        "gaps": [_gap(gap, words) for gap in done.result.gaps],
    }
    return msgspec.json.format(msgspec.json.encode(found), indent=2)


def words_key(thing: Thing) -> str:
    """A sewn thing's key as text, its version behind it where it is not the first."""
    return f"{thing.key}#{thing.version + 1}" if thing.version else str(thing.key)


def exact(value: Length) -> str:
    """An exact length in inches as text: ``5/2``, or ``1/4 + 3/2 sqrt 2`` where it has square roots."""
    if value.is_fraction:
        return str(value.fraction)
    roots = [f"{factor} sqrt {n}" for n, factor in value.roots]
    return " + ".join([str(value.q), *roots] if value.q else roots)


def _counted(items: Mapping[Item, int], words: OrderWords) -> list[dict[str, Any]]:
    return [{"item": _plain(item, words), "count": n} for item, n in items.items()]


def _gap(gap: Gap, words: OrderWords) -> dict[str, Any]:
    return {"kind": gap.kind, "step": gap.step, "text": gap_text(gap, words.item)}


def _plain(value: Any, words: OrderWords, spell: bool = False) -> Any:
    """A value of an order as plain data: lengths as text, items by code or key, structs by their fields."""
    if isinstance(value, (Length, Fraction)):
        return str(value) if isinstance(value, Fraction) else exact(value)
    if isinstance(value, Thing):
        return words_key(value)
    if isinstance(value, Piece) and not spell and value in words.codes:
        return words.codes[value]
    if isinstance(value, msgspec.Struct):
        tag = type(value).__struct_config__.tag
        fields = {name: _plain(getattr(value, name), words) for name in value.__struct_fields__}
        return {"type": tag, **fields} if tag else fields
    if isinstance(value, Mapping):
        return {str(k): _plain(v, words) for k, v in value.items()}
    if isinstance(value, (tuple, list)):
        return [_plain(v, words) for v in value]
    return value
