"""Published two-stage instances: strips of any height across the width, one trimming cut, nothing turned.

The optimal lengths were found by the independent exact run in `patternkit.bench.exact`, which shares no model
with the planner; for the smallest instance it is run here again.
"""

from __future__ import annotations

import importlib.util
import json
from pathlib import Path

import msgspec
import pytest

from patternkit.bench import cutting as bench
from patternkit.bench.cases import realistic
from patternkit.bench.exact import level_optimum
from patternkit.plan.cutting import CuttingSettings, PieceDemand, plan

_spec = importlib.util.spec_from_file_location("replay", Path(__file__).with_name("replay.py"))
assert _spec and _spec.loader
_replay = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(_replay)

# N. Christofides and C. Whitlock, "An algorithm for two-dimensional cutting problems", Operations
# Research 25, 1977: width, [width, height, copies], optimum.
CGCUT1 = (15, [(8, 4, 2), (3, 7, 1), (8, 2, 3), (3, 4, 5), (3, 3, 2), (3, 2, 2), (2, 1, 1)], 21)
CGCUT2 = (
    40,
    [
        (21, 22, 1),
        (31, 13, 1),
        (9, 35, 3),
        (9, 24, 3),
        (30, 7, 2),
        (11, 13, 3),
        (10, 14, 1),
        (14, 8, 3),
        (12, 8, 3),
        (13, 7, 3),
    ],
    129,
)
# J. E. Beasley, "Algorithms for unconstrained two-dimensional guillotine cutting", Journal of the Operational
# Research Society 36, 1985.
GCUT1 = (
    250,
    [
        (167, 184, 1),
        (114, 118, 1),
        (167, 152, 1),
        (83, 140, 1),
        (70, 86, 1),
        (143, 166, 1),
        (120, 160, 1),
        (66, 148, 1),
        (87, 141, 1),
        (69, 165, 1),
    ],
    780,
)
GCUT2 = (
    250,
    [
        (120, 133, 1),
        (135, 186, 1),
        (86, 75, 1),
        (103, 73, 1),
        (66, 85, 1),
        (135, 97, 1),
        (91, 175, 1),
        (131, 176, 1),
        (71, 176, 1),
        (153, 72, 1),
        (87, 148, 1),
        (168, 107, 1),
        (118, 90, 1),
        (140, 109, 1),
        (132, 159, 1),
        (152, 93, 1),
        (135, 68, 1),
        (121, 158, 1),
        (68, 94, 1),
        (155, 76, 1),
    ],
    1340,
)
GCUT9 = (
    1000,
    [
        (310, 426, 1),
        (673, 468, 1),
        (426, 463, 1),
        (325, 498, 1),
        (555, 540, 1),
        (292, 455, 1),
        (343, 341, 1),
        (362, 491, 1),
        (305, 688, 1),
        (459, 607, 1),
    ],
    2535,
)
# E. Hopper and B. Turton, "An empirical investigation of meta-heuristic and heuristic algorithms for a 2D
# packing problem", European Journal of Operational Research 128, 2001.
C1_2 = (
    20,
    [
        (4, 1, 1),
        (4, 5, 1),
        (9, 4, 1),
        (3, 5, 1),
        (3, 9, 1),
        (1, 4, 1),
        (5, 3, 1),
        (4, 1, 1),
        (5, 5, 1),
        (7, 2, 1),
        (9, 3, 1),
        (3, 13, 1),
        (2, 8, 1),
        (15, 4, 1),
        (5, 4, 1),
        (10, 6, 1),
        (7, 2, 1),
    ],
    28,
)
ALL = {"cgcut1": CGCUT1, "cgcut2": CGCUT2, "gcut1": GCUT1, "gcut2": GCUT2, "gcut9": GCUT9, "C1_2": C1_2}


def pieces_of(items: list[tuple[int, int, int]]) -> list[PieceDemand]:
    """Give the items as pieces that may not be turned."""
    return [PieceDemand(str(i), w, h, n, may_turn=False) for i, (w, h, n) in enumerate(items)]


@pytest.mark.parametrize("name", ALL)
def test_equal_to_the_proven_optimum(name: str) -> None:
    pytest.importorskip("highspy")
    width, items, optimum = ALL[name]
    pieces, rules = pieces_of(items), CuttingSettings(width=width, rows=False)
    done = plan(pieces, rules)
    _replay.replay(pieces, rules, done)
    assert (done.length, done.bound) == (optimum, optimum)
    wide = CuttingSettings(width=width)
    done = plan(pieces, wide)
    _replay.replay(pieces, wide, done)
    assert done.free <= done.bound <= done.length <= optimum


@pytest.mark.parametrize("name", ALL)
def test_without_the_solver_the_bound_still_holds(name: str) -> None:
    width, items, optimum = ALL[name]
    pieces, rules = pieces_of(items), CuttingSettings(width=width, solver=False, rows=False)
    done = plan(pieces, rules)
    _replay.replay(pieces, rules, done)
    assert done.bound <= optimum <= done.length <= optimum * 1.1


def test_the_independent_run_agrees() -> None:
    pytest.importorskip("highspy")
    width, items, optimum = CGCUT1
    assert level_optimum(pieces_of(items), width, 30.0) == (optimum, optimum)


@pytest.mark.parametrize("seed", [0, 4, 12, 17, 22, 28])
def test_made_up_lists(seed: int) -> None:
    pieces, rules = realistic(seed)
    rules = msgspec.structs.replace(rules, steps=150, rows=False)
    done = plan(pieces, rules)
    _replay.replay(pieces, rules, done)
    greedy = plan(pieces, msgspec.structs.replace(rules, solver=False))
    assert (done.buy, done.length) <= (greedy.buy, greedy.length)
    assert greedy.bound <= done.bound <= done.length
    assert not done.hurried
    assert float(done.gap) < 0.06


def test_the_generator_keeps_its_word() -> None:
    for seed in range(40):
        pieces, _ = realistic(seed)
        assert 10 <= len(pieces) <= 120
        assert 50 <= sum(p.count for p in pieces) <= 2400
        assert realistic(seed)[0] == pieces


def test_the_table(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pytest.importorskip("highspy")
    width, items, _ = CGCUT1
    file = tmp_path / "one.json"
    file.write_text(json.dumps({"cgcut1": {"source": "1977", "width": width, "items": items}}))
    assert bench.main([str(tmp_path), "--cases", "0", "--exact", "20"]) == 0
    said = capsys.readouterr().out
    row = next(line for line in said.splitlines() if line.startswith("cgcut1")).split()
    assert row[:10] == ["cgcut1", "7", "16", "21", "21", "21", "21", "21", "0", "0.00"]
    assert row[12] == "21"
    assert "worst 0.00 %, none in 1\n" in said and "more in 0 of 1" in said
    with pytest.raises(SystemExit):
        bench.main([str(tmp_path / "missing.json")])
