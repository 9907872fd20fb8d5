"""The rehearsal knows orders and designs, and nothing of how either was worked out."""

from __future__ import annotations

import ast
from pathlib import Path

import patternkit.rehearsal as room

KNOWN = ("patternkit.rehearsal", "patternkit.work.model", "patternkit.piecing.batch", "patternkit.piecing.making",
         "patternkit.lengths")  # fmt: skip


def test_no_formula_for_a_cut_size_is_imported() -> None:
    for file in Path(room.__path__[0]).glob("*.py"):
        for node in ast.walk(ast.parse(file.read_text())):
            names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            for name in names:
                assert not name.startswith("patternkit") or name.startswith(KNOWN), f"{file.name} imports {name}"
