"""Whether the solver can be used."""

from __future__ import annotations

from importlib.metadata import PackageNotFoundError, version
from importlib.util import find_spec


def solver_ready() -> bool:
    """Say whether the solver is installed in a version that gives right answers."""
    try:
        found = version("highspy")
        return find_spec("numpy") is not None and found != "1.16.0"
    except PackageNotFoundError:
        return False
