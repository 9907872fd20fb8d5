"""The rehearsal knows orders and designs, and nothing of how either was worked out."""

from __future__ import annotations

import ast
from pathlib import Path

import patternkit.rehearsal as room

KNOWN = ("patternkit.rehearsal", "patternkit.work.model", "patternkit.piecing.batch", "patternkit.piecing.making",
         "patternkit.piecing.joined", "patternkit.piecing.keys", "patternkit.piecing.names",
         "patternkit.lengths")  # fmt: skip


def test_no_formula_for_a_cut_size_is_imported() -> None:
    for file in Path(room.__path__[0]).glob("*.py"):
        for node in ast.walk(ast.parse(file.read_text())):
            names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            for name in names:
                assert not name.startswith("patternkit") or name.startswith(KNOWN), f"{file.name} imports {name}"


def test_crossings_are_those_of_every_pair_of_seams() -> None:
    """Held against all pairs, one by one, on seams of a grid and slanted ones across it."""
    from random import Random

    from patternkit.rehearsal.plane import apart, cross, meeting, minus, unit
    from patternkit.rehearsal.table import Sewn
    from patternkit.rehearsal.trimming import _near, crossings

    random = Random(7)
    fields = {f: None for f in Sewn.__struct_fields__}
    ends = [((x, y), (x + 3.0, y)) for x in range(0, 30, 3) for y in range(0, 30, 3)]
    ends += [((x, y), (x, y + 3.0)) for x in range(0, 30, 3) for y in range(0, 30, 3)]
    ends += [
        ((random.random() * 30, random.random() * 30), (random.random() * 30, random.random() * 30)) for _ in range(20)
    ]
    seams = [
        Sewn(**{**fields, "start": (float(a[0]), float(a[1])), "end": (float(b[0]), float(b[1]))}) for a, b in ends
    ]
    want: list[tuple[float, float]] = []
    for i, s in enumerate(seams):
        for t in seams[:i]:
            v, w = minus(s.end, s.start), minus(t.end, t.start)
            at = meeting(s.start, v, t.start, w)
            if at is not None and abs(cross(unit(v), unit(w))) >= 0.05 and _near(at, s) and _near(at, t):
                want += [at] if all(apart(at, p) > 1e-3 for p in want) else []
    found = crossings(seams)
    assert len(found) == len(want) > 100
    assert all(any(apart(p, q) < 2e-3 for q in found) for p in want)
