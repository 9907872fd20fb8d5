"""The registry of unit kinds, found by their keyword. A kind is imported when a pattern first uses it.

The module of a kind is named after its keyword (``half-square``: half_square.py), or stands in `ELSEWHERE`.
"""

from __future__ import annotations

from functools import lru_cache
from importlib import import_module
from importlib.util import find_spec
from pkgutil import iter_modules
from types import ModuleType

from patternkit.model.unit_lines import SET
from patternkit.piecing.kinds.base import Kind

ELSEWHERE = {
    "row": "joins",
    "rows": "joins",
    "column": "joins",
    "three-patch": "quarter_square",
    "courthouse-steps": "log_cabin",
    "square-in-a-square": "square_in_square",
    "triangle-in-a-square": "triangle_in_square",
}


@lru_cache(maxsize=256)
def kind_of(word: str) -> Kind | None:
    """The kind with a keyword, or of units that are set like a quilt; None when there is none."""
    if word == SET:
        found: Kind = import_module(f"{__name__}.set_like_quilt").SET_LIKE_QUILT
        return found
    name = ELSEWHERE.get(word, word.replace("-", "_"))
    if not name.isidentifier() or find_spec(f"{__name__}.{name}") is None:
        return None
    return _kinds_in(import_module(f"{__name__}.{name}")).get(word)


@lru_cache(maxsize=1)
def kinds() -> dict[str, Kind]:
    """All kinds by keyword. Every module in this folder is asked for its Kind classes."""
    found: dict[str, Kind] = {}
    for module in sorted(m.name for m in iter_modules(__path__) if m.name != "base"):
        for word, kind in _kinds_in(import_module(f"{__name__}.{module}")).items():
            found.setdefault(word, kind)
    return found


def _kinds_in(module: ModuleType) -> dict[str, Kind]:
    found: dict[str, Kind] = {}
    for value in vars(module).values():
        if isinstance(value, type) and issubclass(value, Kind) and value.words:
            kind = value()
            for word in value.words:
                found.setdefault(word, kind)
    return found
