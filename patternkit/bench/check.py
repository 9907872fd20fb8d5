"""How long a check takes: a cold one, one after an edit, a thousand files.

    python -m patternkit.bench.check

A cold check of a 500-line file is a process of its own and is held against a process that imports lark and does nothing
else, in turns, so that a busy machine slows both. A check after an edit is held against the first check of the same
text in the same process, a short file against the import of lark. The goals: three times the import; an eighth of the
first check after an edit that leaves the equations as they are, a third after one that does not.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from statistics import median
from time import perf_counter, process_time

GOAL_COLD, GOAL_EDIT, GOAL_EQUATIONS = 3.0, 0.125, 0.34
NEW_EQUATIONS = ("a finished size", "a strip more")
_HEAD = """\
pattern "Long Shore"
    contact "patterns@saltmarsh.example"
    seam 1/4

let side = 9

fabric night "Midnight blue" dark   #1b2a49
fabric glow  "Lamp yellow"   light  #f4c95d
fabric stone "Quay stone"    medium #9aa3ad

"""
_BLOCK = """\
unit rail-{n}
    strips night | stone | glow
    finished side/3
    press toward night

unit vane-{n}
    half-square night, glow
    finished side/3
    method eight at a time

block star-{n}
    rows
        vane-{n}            | rail-{n} | vane-{n} turned 90
        rail-{n} turned 90  > glow < rail-{n} turned 90
        vane-{n} turned 270 | rail-{n} | vane-{n} turned 180
    measures 9 1/2
    make 1

"""
_FOOT = """\
    sashing 1 stone
    border 2 night
    binding cut 2 1/4 glow
    backing stone
"""


def long_pattern(lines: int) -> str:
    """A sound pattern of about that many lines: sashed blocks, each made of strip units and half-squares of its own."""
    blocks = max(6, (lines - _HEAD.count("\n") - 10) // (_BLOCK.count("\n") + 0))
    across = next(k for k in (6, 5, 7, 4, 3, 2, 1) if blocks % k == 0)
    names = [f"star-{n}" for n in range(blocks)]
    rows = ["        " + " | ".join(names[i : i + across]) for i in range(0, blocks, across)]
    return _HEAD + "".join(_BLOCK.format(n=n) for n in range(blocks)) + "\n".join(["quilt", "    layout", *rows, _FOOT])


def edits(text: str) -> list[tuple[str, str]]:
    """Versions of the long pattern, each with one line edited, with what was edited."""

    def swap(what: str, old: str, new: str) -> tuple[str, str]:
        changed = text.replace(old, new, 1)
        assert changed != text
        return what, changed

    return [
        swap("a fabric", "unit vane-7\n    half-square night, glow", "unit vane-7\n    half-square glow, night"),
        swap("a claim", "    make 1\n\nunit rail-9", "    make 2\n\nunit rail-9"),
        swap(
            "a finished size",
            "unit rail-5\n    strips night | stone | glow\n    finished side/3",
            "unit rail-5\n    strips night | stone | glow\n    finished side/2",
        ),
        swap(
            "a strip more",
            "unit rail-3\n    strips night | stone",
            "unit rail-3\n    strips night | stone | stone",
        ),
        swap("a comment", "unit rail-4\n", "# seen\nunit rail-4\n"),
        swap("a slip", "unit rail-6\n    strips", "unit rail-6\n    strip"),
        swap("the border", "border 2 night", "border 3 night"),
    ]


def cold(file: Path, times: int = 7) -> tuple[float, float]:
    """Seconds of a check in a new process, and of a process that imports lark: the best of several, in turns.

    Both run from compiled modules, as they do once installed.
    """
    with tempfile.TemporaryDirectory() as cache:
        env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"} | {"PYTHONPYCACHEPREFIX": cache}
        ours, theirs = (
            [sys.executable, "-m", "patternkit.cli", "check", str(file)],
            [sys.executable, "-c", "import lark"],
        )
        found: list[list[float]] = [[], []]
        for turn in range(times + 1):
            for job, words in enumerate((ours, theirs)):
                start = perf_counter()
                subprocess.run(words, env=env, check=True, stdout=subprocess.DEVNULL)
                if turn:  # the first run compiles
                    found[job].append(perf_counter() - start)
    return min(found[0]), min(found[1])


def bare(times: int = 5) -> float:
    """Seconds of a process that imports lark and does nothing else, the best of several: what others are held
    against."""
    found = []
    for _ in range(times):
        start = perf_counter()
        subprocess.run([sys.executable, "-c", "import lark"], check=True)
        found.append(perf_counter() - start)
    return min(found)


def after_edits(lines: int, rounds: int = 5) -> tuple[float, list[tuple[str, float]]]:
    """The time of a first check, and for each kind of edit the median time of a check, there and back; in milliseconds
    of the processor."""
    from patternkit.desk.session import Session

    text = long_pattern(lines)
    Session("short.pattern").check(long_pattern(1))  # imports everything
    first = []
    for _ in range(3):
        session = Session("long.pattern")
        start = process_time()
        session.check(text)
        first.append((process_time() - start) * 1000)
    found = []
    for what, changed in edits(text):
        spent = []
        for version in [changed, text] * rounds:
            start = process_time()
            session.check(version)
            spent.append((process_time() - start) * 1000)
        found.append((what, median(spent)))
    return min(first), found


def many_files(count: int) -> float:
    """Seconds to check that many files of some forty lines, each its own, in one process."""
    from patternkit.checks import run
    from patternkit.project import Project

    texts = [
        long_pattern(1).replace("side = 9", f"side = {6 + n % 30}").replace("measures 9 1/2", "") for n in range(count)
    ]
    start = perf_counter()
    for n, text in enumerate(texts):
        run(Project(f"{n}.pattern", text))
    return perf_counter() - start


def main(argv: Sequence[str] | None = None) -> int:
    """Print all times, and what each is of its baseline; exit status 1 when a goal is missed."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "long.pattern"
        file.write_text(long_pattern(500), encoding="utf-8")
        ours, theirs = cold(file)
    missed = _report(
        f"cold check of {long_pattern(500).count(chr(10))} lines: {ours * 1000:.0f} ms, import lark alone "
        f"{theirs * 1000:.0f} ms",
        ours / theirs,
        GOAL_COLD,
    )
    first, after = after_edits(1000)
    print(f"first check of {long_pattern(1000).count(chr(10))} lines: {first:.0f} ms")
    for what, ms in after:
        goal = GOAL_EQUATIONS if what in NEW_EQUATIONS else GOAL_EDIT
        missed |= _report(f"after an edit ({what}): {ms:.1f} ms", ms / first, goal)
    seconds = many_files(1000)
    print(f"1,000 files: {seconds:.1f} s, {seconds:.1f} ms each; of the import of lark: {seconds / 1000 / theirs:.2f}")
    return int(missed)


def _report(what: str, ratio: float, goal: float) -> bool:
    """Print a time with what it is of its baseline; whether it misses its goal."""
    print(f"{what}; ratio {ratio:.3f}, goal {goal:g}: {'met' if ratio <= goal else 'missed'}")
    return ratio > goal


if __name__ == "__main__":
    sys.exit(main())
