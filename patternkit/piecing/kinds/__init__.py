"""The registry of unit kinds, found by their keyword. A kind is imported when the registry is first asked."""

from __future__ import annotations

from functools import lru_cache
from importlib import import_module
from pkgutil import iter_modules

from patternkit.piecing.kinds.base import Kind


@lru_cache(maxsize=1)
def kinds() -> dict[str, Kind]:
    """All kinds by keyword. Every module in this folder is asked for its Kind classes."""
    found: dict[str, Kind] = {}
    for module in sorted(m.name for m in iter_modules(__path__) if m.name != "base"):
        for value in vars(import_module(f"{__name__}.{module}")).values():
            if isinstance(value, type) and issubclass(value, Kind) and value.words:
                kind = value()
                for word in value.words:
                    found.setdefault(word, kind)
    return found
