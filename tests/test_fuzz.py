"""Nothing a file can hold crashes the checker or keeps it long.

``PATTERNKIT_DAMAGED=20000`` in the environment checks that many damaged files (400 without it);
``python -m patternkit.bench.mutate 20000 --jobs 2`` does the same on two processors.
"""

from __future__ import annotations

import os
from pathlib import Path
from time import process_time

import pytest

from patternkit.bench.mutate import LIMIT, damaged, seed_texts, stretch, trial
from patternkit.checks import run
from patternkit.project import Project

EXAMPLES = Path(__file__).parents[1] / "examples"
COUNT = int(os.environ.get("PATTERNKIT_DAMAGED", "400"))
CLOTH = 'fabric night "Midnight" dark\nfabric glow "Lamp" light\n'


@pytest.mark.parametrize("part", range(4))
def test_damaged_files_are_checked(part: int) -> None:
    each = COUNT // 4
    assert stretch(part * each, (part + 1) * each, str(EXAMPLES)) == []


def test_the_damage_is_damage_and_the_same_every_time() -> None:
    texts = seed_texts(EXAMPLES)
    made = [damaged(n, texts) for n in range(200)]
    assert made == [damaged(n, texts) for n in range(200)]
    assert sum(text not in texts for text in made) > 190
    assert len(set(made)) > 190


def test_a_trial_sees_a_crash(monkeypatch: pytest.MonkeyPatch) -> None:
    def crash(*args: object, **more: object) -> None:
        raise ZeroDivisionError("on purpose")

    monkeypatch.setattr("patternkit.checks.run", crash)
    assert "ZeroDivisionError: on purpose" in trial("quilt\n")[1]


def nested(depth: int) -> str:
    """A chain of units, each made from the one before."""
    lines = [CLOTH, "unit u0\n    row night 1 x 1 | glow 1 x 1\n"]
    lines += [f"unit u{n}\n    row u{n - 1} | night 1 x 1\n" for n in range(1, depth)]
    return "\n".join(reversed(lines))


def grown(depth: int) -> str:
    """Units that double: the last has two to the power of `depth` pieces."""
    units = "".join(f"\nunit u{n}\n    row u{n - 1} | u{n - 1}\n" for n in range(1, depth))
    return (
        CLOTH + "\nunit u0\n    patch night\n    finished 1\n" + units + f"\nquilt\n    layout\n        u{depth - 1}\n"
    )


REFUSED = {
    "brackets": (CLOTH + "let a = " + "(" * 3000 + "9" + ")" * 3000 + "\n", "too-much"),
    "headings": ("".join(" " * n + "unit u\n" for n in range(300)), "too-much"),
    "groups": (
        CLOTH + "block star\n    row " + "(" * 200 + "night | glow" + ") 3 times" * 200 + "\n",
        "too-much",
    ),
    "repeats": (
        CLOTH + "block star\n    strips (night 1 | glow 1 |) 100000 times night 1\n    finished 9\n",
        "too-large",
    ),
    "repeats of repeats": (
        CLOTH + "block star\n    row ((night 1 x 1 | glow 1 x 1 |) 25 times night 1 x 1 |) 25 times night 1 x 1\n",
        "too-large",
    ),
    "units in units": (nested(400), "too-large"),
    "a doubling chain": (grown(40), "too-large"),
    "across": (
        CLOTH + "block star\n    patch night\n    finished 3\n"
        "quilt\n    across 1000000, down 1000000\n    tile\n        star\n",
        "too-large",
    ),
    "blocks": (
        CLOTH + "block star\n    patch night\n    finished 3\n"
        "quilt\n    across 200, down 200\n    tile\n        star\n",
        "too-large",
    ),
    "a number": (CLOTH + "block star\n    patch night\n    finished " + "9" * 400 + "\n", "number-too-long"),
    "a large number": (CLOTH + "block star\n    patch night\n    finished 999999999\n", "too-large"),
    "a power": (
        CLOTH
        + "let a = 99999\n"
        + "".join(f"let {chr(98 + n)} = {chr(97 + n)}*{chr(97 + n)}\n" for n in range(20))
        + "block star\n    patch night\n    finished u\n",
        "too-large",
    ),
    "make": (CLOTH + "block star\n    patch night\n    finished 3\n    make 999999999\n", "too-large"),
    "lines": ("\n" * 30_000, "too-much"),
    "characters": ("#" * 1_200_000, "too-much"),
    "a line": ("# x\nlet a = " + "1 + " * 5000 + "1\n", "too-much"),
    "roots": (
        CLOTH + "let a = root(2 + root(3 + root(5)))\nblock star\n    patch night\n    finished a\n",
        "no-value",
    ),
}


@pytest.mark.parametrize("what", REFUSED)
def test_what_is_far_too_much_is_refused_clearly_and_at_once(what: str) -> None:
    text, code = REFUSED[what]
    run(Project("warm.pattern", CLOTH))
    start = process_time()
    found = run(Project("large.pattern", text), guarded=False)
    assert process_time() - start < LIMIT
    assert code in {p.code for p in found}
    assert found and all(len(p.message) < 600 for p in found)
    assert len(found) <= 200


def test_a_long_chain_of_units_is_checked() -> None:
    assert not [p for p in run(Project("chain.pattern", nested(50)), guarded=False) if p.code == "too-large"]


def test_a_large_honest_quilt_is_quick() -> None:
    text = (
        CLOTH
        + "\nblock star\n    rows\n"
        + "        night | glow | night\n        glow | night | glow\n        night | glow | night\n"
        "    finished 9\nblock plain\n    patch glow\n    finished 9\n"
        "quilt\n    across 100, down 100\n    tile\n"
        "        star | plain\n        plain | star\n"
    )
    start = process_time()
    found = run(Project("large.pattern", text), guarded=False)
    assert process_time() - start < 5 * LIMIT
    assert not [p for p in found if not p.advice]
