"""How long a check takes: a cold one, one after an edit, a thousand files.

    python -m patternkit.bench.check

A cold check of a 500-line file is a process of its own and is held against a process that imports lark and does nothing
else, in turns, so that a busy machine slows both. The goals: three times that; 15 ms after an edited line of 1,000
lines.
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

GOAL_RATIO, GOAL_MS = 3.0, 15.0
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


def after_edits(lines: int, rounds: int = 5) -> list[tuple[str, float]]:
    """For each kind of edit the median time of a check, in milliseconds of the processor, there and back."""
    from patternkit.desk.session import Session

    text = long_pattern(lines)
    session = Session("long.pattern")
    session.check(text)
    found = []
    for what, changed in edits(text):
        spent = []
        for version in [changed, text] * rounds:
            start = process_time()
            session.check(version)
            spent.append((process_time() - start) * 1000)
        found.append((what, median(spent)))
    return found


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
    """Print all times; exit status 1 when a goal is missed."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "long.pattern"
        file.write_text(long_pattern(500), encoding="utf-8")
        ours, theirs = cold(file)
    ratio = ours / theirs
    print(
        f"cold check of {long_pattern(500).count(chr(10))} lines: {ours * 1000:.0f} ms; import lark alone: "
        f"{theirs * 1000:.0f} ms; ratio {ratio:.2f}  goal {GOAL_RATIO:g}: "
        f"{'met' if ratio <= GOAL_RATIO else 'missed'}"
    )
    worst = 0.0
    for what, ms in after_edits(1000):
        worst = max(worst, ms)
        print(f"after an edit of {long_pattern(1000).count(chr(10))} lines ({what}): {ms:.1f} ms")
    print(f"goal {GOAL_MS:g} ms: {'met' if worst <= GOAL_MS else 'missed'}")
    seconds = many_files(1000)
    print(f"1,000 files: {seconds:.1f} s, {seconds:.1f} ms each")
    return int(ratio > GOAL_RATIO or worst > GOAL_MS)


if __name__ == "__main__":
    sys.exit(main())
