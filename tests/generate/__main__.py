"""``python -m tests.generate N [--seed S] [--out FOLDER]``: makes patterns, takes each through every room, and tells
what of the language they held, what refused them, and how long it took."""

from __future__ import annotations

import argparse
import time
import traceback
from collections import Counter
from pathlib import Path

from .coverage import held, wanted
from .sound import TRIES, problems
from .whole import write

SLOW = 3.0  # seconds


class Count:
    """What happened to the patterns made."""

    def __init__(self) -> None:
        self.items: Counter[tuple[str, ...]] = Counter()
        self.refused: Counter[str] = Counter()
        self.first, self.sound = 0, 0
        self.seconds: Counter[str] = Counter()
        self.faults: list[str] = []

    def timed(self, room: str, seed: int, work: object, *args: object) -> object:
        """Do something, and keep how long it took and whether it failed."""
        start = time.perf_counter()
        try:
            return work(*args)  # type: ignore[operator]
        except Exception:
            self.faults.append(f"seed {seed}, {room}: {traceback.format_exc().splitlines()[-1]}")
            return None
        finally:
            took = time.perf_counter() - start
            self.seconds[room] += took
            if took > SLOW:
                self.faults.append(f"seed {seed}, {room}: {took:.1f} s")


def one(seed: int, count: Count) -> str:
    """Make the pattern of a seed and take it through every room; gives its text, empty where none is sound."""
    for attempt in range(TRIES):
        text = count.timed("made", seed, write, seed, attempt)
        found = count.timed("check", seed, problems, text) if isinstance(text, str) else None
        if not isinstance(found, list) or not isinstance(text, str):
            return ""
        if not found:
            break
        if not attempt:
            count.refused.update({p.code for p in found})
            count.faults.append(f"seed {seed}, first try: [{found[0].code}] {found[0].message}")
    else:
        return ""
    count.first += not attempt
    count.sound += 1
    count.items.update(held(text))
    count.timed("plan", seed, planned, text)
    count.timed("booklet", seed, told, text)
    return text


def planned(text: str) -> None:
    """Cutting and pressing."""
    from patternkit.project import Project

    project = Project("made.pattern", text)
    _, found = project.plan()
    assert not [p for p in found if not p.advice], found


def told(text: str) -> None:
    """The booklet as Markdown, with all sizes and colourways."""
    from patternkit import api
    from patternkit.project import Project

    api.files(Project("made.pattern", text), formats=("md",))


def main() -> None:
    """Read the command's words and tell what came out."""
    parser = argparse.ArgumentParser(prog="python -m tests.generate")
    parser.add_argument("number", type=int)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--out", type=Path)
    asked = parser.parse_args()
    count = Count()
    for seed in range(asked.seed, asked.seed + asked.number):
        text = one(seed, count)
        if asked.out and text:
            asked.out.mkdir(parents=True, exist_ok=True)
            (asked.out / f"made-{seed}.pattern").write_text(text)
    for item in sorted(wanted()):
        print(f"{count.items[item]:6} {' '.join(item)}")
    print(f"{count.sound} of {asked.number} sound, {count.first} at the first try; {dict(count.refused)}")
    for room, seconds in count.seconds.items():
        print(f"{room}: {seconds / asked.number * 1000:.1f} ms each")
    print(*count.faults, sep="\n")


if __name__ == "__main__":
    main()
