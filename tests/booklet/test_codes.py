"""Every piece has one code, and the table of all pieces, the cutting tables and the steps tell the same of it."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from patternkit.booklet.content.cloth import cutting_table
from patternkit.document import Block, NumberedStep, Section, Table
from patternkit.work.sections import SECTIONS

from .conftest import EXAMPLES, MARSH, made, told
from .printed import texts
from .test_consistency import items
from .test_methods_as_told import drawings

PATHS = pytest.mark.parametrize("path", [*EXAMPLES, MARSH], ids=lambda p: p.stem)
CODE = re.compile(r"\b([A-Z]\d+)\b")


def rows(path: Path) -> list[dict[str, str]]:
    """The lines of the table of all pieces, by head."""
    cutting = next(s for s in made(path).sections if isinstance(s, Section) and s.key == "cutting")
    table = next(b for b in cutting.blocks if isinstance(b, Table))
    return [dict(zip(table.heads, row, strict=True)) for row in table.rows]


def named(name: str) -> Path:
    """An example."""
    return next(p for p in EXAMPLES if p.stem == name)


@PATHS
def test_the_codes_of_the_steps_are_those_of_the_table(path: Path) -> None:
    """And what is taken in no step is told where the quilt is finished; the panels of a backing go by size."""
    listed = {row["Code"]: row for row in rows(path) if row["Code"] != "–" and row["For"] != "backing panel"}
    found: dict[str, set[str]] = {}

    def walk(blocks: tuple[Block, ...]) -> None:
        for block in blocks:
            if isinstance(block, NumberedStep):
                for code in {m[1] for words in texts(block.blocks) for m in CODE.finditer(words)}:
                    found.setdefault(code, set()).add(str(block.number))
            elif isinstance(block, Section):
                walk(block.blocks)

    sections = [s for s in made(path).sections if isinstance(s, Section)]
    walk(tuple(s for s in sections if s.key.split("-")[0] in SECTIONS))
    finishing = next((" ".join(texts(s.blocks)) for s in sections if s.key == "finishing"), "")
    for code, row in listed.items():
        steps = set() if row["Step"] == "–" else set(row["Step"].split(", "))
        assert steps <= found.get(code, set()), code
        assert steps or re.search(rf"\b{code}\b", finishing) or code in found, code
    assert set(found) <= set(listed)


@PATHS
def test_codes_are_one_for_one(path: Path) -> None:
    listed = [(row["Code"], row["Fabric"], row["Piece"]) for row in rows(path) if row["Code"] != "–"]
    assert len({code for code, *_ in listed}) == len(listed) > 0
    for code, fabric, _ in listed:
        assert re.sub(r"\d", "", code) == re.findall(r"\(([A-Z]+)\)", fabric)[0]


@PATHS
def test_the_cutting_tables_cut_as_many_as_the_table_of_all_pieces_says(path: Path) -> None:
    ctx = told(path)
    if ctx.pattern.sizes:
        pytest.skip("the sizes have columns of their own")
    wanted = {row["Code"]: row for row in rows(path) if row["Code"] != "–"}
    for key in ctx.plan.fabrics:
        cut: Counter[str] = Counter()
        for first, each, _, _ in cutting_table(key, ctx).rows:
            strips = re.search(r"(\d+) (?:strip|length)", first)
            for item, times in items(each) if strips and "round a motif" not in each else ():
                if one := re.match(r"([A-Z]\d+): (\d+) (.*)", item):
                    runs = re.search(r"in each of (\d+) lengths", one[3])
                    cut[one[1]] += int(one[2]) * times * int(strips[1]) * (int(runs[1]) if runs else 1)
                    if last := re.search(r"\((\d+|none) from the last\)", one[3]):
                        cut[one[1]] -= int(one[2]) - (0 if last[1] == "none" else int(last[1]))
        for code, n in cut.items():
            assert int(wanted[code]["Number"]) == n, (key, code)


def test_a_piece_that_is_taken_twice_has_one_code() -> None:
    """The middle of a star and the cornerstone of the border are both 4 1/2 in squares of one cloth: one pile."""
    row = next(row for row in rows(named("tide-star")) if row["Code"] == "C2")
    assert (row["Number"], row["Piece"], row["Step"]) == ("16", "4 1/2 x 4 1/2 in", "3, 7")


def test_the_drawings_bear_the_codes() -> None:
    """On the cloth every piece, in a step the pieces that are not sewn yet; what is sewn has its cloth's letters."""
    drawn = {d.key: d.svg for d in drawings(made(named("tide-star")))}
    assert len(re.findall(r">A2</text>", drawn["cut-deep"])) == 12
    assert ">C2<" in drawn["step-star"] and ">A1<" not in drawn["step-star"]
    assert ">A1<" in drawn["method-spark"] and ">C1<" in drawn["method-spark"]
