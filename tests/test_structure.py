"""The package as a building: what its files say about each other, read from their text."""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

PACKAGE = Path(__file__).parents[1] / "patternkit"


def trees() -> dict[str, ast.Module]:
    """The files of the package by their path in it."""
    return {str(p.relative_to(PACKAGE)): ast.parse(p.read_text()) for p in sorted(PACKAGE.rglob("*.py"))}


def test_no_two_classes_share_a_name() -> None:
    """A name means one thing in all rooms. (Names with an underscore are not seen outside their file.)"""
    places = defaultdict(list)
    for path, tree in trees().items():
        for node in ast.walk(tree):
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                places[node.name].append(path)
    assert len(places) > 200
    assert {name: paths for name, paths in places.items() if len(paths) > 1} == {}
