"""patternkit: a pattern-writing toolkit with a checking language for patchwork quilt patterns."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from patternkit.api import check, files, load, make_booklet, rehearse, write
    from patternkit.problems import PatternError, Problem

__version__ = "0.1.0"
__all__ = ["PatternError", "Problem", "check", "files", "load", "make_booklet", "rehearse", "write"]

_FROM = {"PatternError": "patternkit.problems", "Problem": "patternkit.problems"}


def __getattr__(name: str) -> Any:
    """Load the public names on first use, so that importing a room does not load the whole house."""
    if name in __all__:
        from importlib import import_module

        return getattr(import_module(_FROM.get(name, "patternkit.api")), name)
    raise AttributeError(f"module 'patternkit' has no attribute {name!r}")
