"""How long the order of a booklet takes to be worked out and to be sewn, beside a process that imports lark.

    python -m patternkit.bench.rehearsal [FILES]

takes all examples without any. The goal: twice as long as that import, which is about 100 ms.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from time import perf_counter

from patternkit.bench.check import bare

GOAL = 2.0


def main(argv: Sequence[str] | None = None) -> int:
    """Print the times of every file that is sound; exit status 1 when one misses the goal."""
    from patternkit.checks import run
    from patternkit.desk.files import open_project
    from patternkit.rehearsal.rehearse import rehearsal
    from patternkit.work.build import order_of

    names = list(argv if argv is not None else sys.argv[1:])
    baseline = bare() * 1000
    print(f"import lark alone: {baseline:.0f} ms; goal {GOAL:g} times that")
    missed = False
    for file in [Path(name) for name in names] or sorted(Path("examples").rglob("*.pattern")):
        project = open_project(file)
        if any(not p.advice for p in run(project)):
            continue
        plan = project.plan()[0]
        order, designs = order_of(project, plan)
        ordering, sewing = best(partial(order_of, project, plan)), best(partial(rehearsal, order, designs))
        ratio = (ordering + sewing) / baseline
        missed |= ratio > GOAL
        print(
            f"{file.stem:20} order {ordering:5.1f} ms, rehearsal {sewing:5.1f} ms; ratio {ratio:.2f}: "
            f"{'met' if ratio <= GOAL else 'missed'}"
        )
    return int(missed)


def best(job: Callable[[], object], times: int = 5) -> float:
    """The least time of several, in milliseconds."""
    found = []
    for _ in range(times):
        start = perf_counter()
        job()
        found.append((perf_counter() - start) * 1000)
    return min(found)


if __name__ == "__main__":
    sys.exit(main())
