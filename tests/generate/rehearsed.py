"""``python -m tests.generate.rehearsed A B``: rehearses the made patterns of seeds A to B - 1, and counts what does not
hold: by the kind of gap, the kind of unit and its method, with the first seeds of each."""

from __future__ import annotations

import sys
from collections import defaultdict

from patternkit.project import Project
from patternkit.rehearsal.gaps import Gap
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of

from .sound import pattern


def gaps(text: str, size: str = "", colourway: str = "") -> list[tuple[Gap, str]]:
    """The gaps of a pattern in a size and a colourway, each with the kind and the method of the unit it is found in."""
    order, designs = order_of(Project("made.pattern", text).in_size(size, colourway))
    found = []
    for gap in rehearsal(order, designs).gaps:
        making = None if gap.step is None else designs[order.steps[gap.step].thing]
        found.append((gap, "" if making is None else f"{making.kind}, {making.recipe.method.phrase}"))
    return found


def main(first: int, end: int) -> None:
    """Rehearse, and print the counts."""
    where: dict[tuple[str, str], list[int]] = defaultdict(list)
    held = 0
    for seed in range(first, end):
        try:
            found = gaps(pattern(seed))
        except LookupError:
            where["no sound pattern", ""].append(seed)
            continue
        held += not found
        for key in {(gap.kind, unit) for gap, unit in found}:
            where[key].append(seed)
    print(f"{held} of {end - first} hold")
    for (kind, unit), seeds in sorted(where.items(), key=lambda item: -len(item[1])):
        print(f"{len(seeds):5} {kind:10} {unit:45} {seeds[:6]}")


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]))
