"""A house's own phrases, held to what a phrase may do: say words, use the values it is given, choose with if.

A phrase comes from a file that someone else wrote. It is parsed and refused when it holds anything but text, the values
and filters of the phrase it replaces, comparisons and ``if``: no calls, loops, attributes, imports or arithmetic that
could make an endless text. Words of drawings are `str.format` templates and may only name their own places.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from string import Formatter
from typing import Any

from jinja2 import Environment, TemplateSyntaxError, meta, nodes

from patternkit.problems import PatternError, Problem

ALLOWED = (
    nodes.Template,
    nodes.Output,
    nodes.TemplateData,
    nodes.Name,
    nodes.Const,
    nodes.Tuple,
    nodes.If,
    nodes.CondExpr,
    nodes.Compare,
    nodes.Operand,
    nodes.And,
    nodes.Or,
    nodes.Not,
    nodes.Filter,
    nodes.Add,
    nodes.Sub,
)
FILTERS = frozenset(("len", "by", "bare", "about", "fine", "of", "yardage", "cap", "lower", "upper", "trim"))
LONGEST = 4000  # characters of a phrase
MOST_PARTS = 300  # texts, values and choices in one; the longest of the booklet's own has 100
LARGEST = 1_000_000  # number written into one


def checked(house: Mapping[str, Any], known: Mapping[str, Any], environment: Environment) -> dict[str, Any]:
    """A house's phrases, flat, when they are sound; raises PatternError with every problem otherwise.

    `known` are the phrases that they may replace, flat.
    """
    problems: list[Problem] = []
    for key, new in house.items():
        if key not in known:
            problems.append(
                Problem(
                    "unknown-phrase",
                    f"The house's phrases name {key}, which the booklet does not have." + _near(key, known),
                )
            )
            continue
        reason = _reason(key, new, known[key], environment)
        if reason:
            problems.append(Problem("bad-phrase", f"The house's phrase {key} can't be used: {reason}."))
    if problems:
        raise PatternError(problems)
    return dict(house)


def _near(key: str, known: Mapping[str, Any]) -> str:
    from patternkit.syntax.suggest import nearest

    close = nearest(key, list(known))
    return f" Did you mean {close}?" if close else ""


def _reason(key: str, new: Any, old: Any, environment: Environment) -> str:
    """Why a phrase can't be used; empty when it can."""
    if isinstance(old, list):
        if (
            not isinstance(new, list)
            or not all(isinstance(x, str) for x in new)
            or (len(new) != len(old) and key != "tools.usual")
        ):
            return f"it must be a list of {len(old)} texts"
        return "it is too long" if sum(map(len, new)) > LONGEST else ""
    if not isinstance(new, str):
        return "it must be a text"
    if len(new) > LONGEST:
        return "it is too long"
    if key.startswith("drawing."):
        return _drawing(new, str(old))
    return _template(new, str(old), environment)


def _template(new: str, old: str, environment: Environment) -> str:
    try:
        tree = environment.parse(new)
    except (TemplateSyntaxError, RecursionError) as error:
        return f"it is not a phrase ({error})"
    for count, node in enumerate(_parts(tree), 1):
        if count > MOST_PARTS:
            return "it has more parts than a phrase can have"
        if not isinstance(node, ALLOWED):
            return f"a phrase may hold text, its values, filters and if, but no {type(node).__name__.lower()}"
        if isinstance(node, nodes.Filter) and node.name not in FILTERS:
            return f"there is no filter {node.name}"
        if isinstance(node, nodes.Const) and not _plain(node.value):
            return "a number in it is none that a phrase needs"
    given = meta.find_undeclared_variables(environment.parse(old))
    for name in sorted(meta.find_undeclared_variables(tree) - given):
        return f"it asks for {name}, and is given {', '.join(sorted(given)) or 'nothing'}"
    return ""


def _parts(tree: nodes.Node) -> Iterator[nodes.Node]:
    """All nodes of a phrase below its root, without a call for each level: a sum of a thousand is as deep."""
    left = [tree]
    while left:
        node = left.pop()
        yield node
        left += node.iter_child_nodes()


def _plain(value: object) -> bool:
    """Whether a constant is a text, a truth or a number of a sensible size."""
    return isinstance(value, str | bool | None) or (isinstance(value, int) and abs(value) <= LARGEST)


def _drawing(new: str, old: str) -> str:
    places = {name for _, name, _, _ in Formatter().parse(old) if name is not None}
    try:
        for _, name, form, change in Formatter().parse(new):
            if name is not None and (name not in places or form or change):
                return f"its places may only be {', '.join(sorted(places)) or 'none'}, each in plain braces"
    except ValueError:
        return "its braces do not close"
    return ""
