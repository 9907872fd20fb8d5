"""Each size in strips of its own: what takes least thought, and often more cloth."""

from __future__ import annotations

from patternkit.plan.cutting.task import Layouts, Task, layout


def own_strips(task: Task) -> Layouts:
    """Give each kind strips of its own, lying the way that takes least length, then fewest strips; what lies beside
    long pieces is filled first, the tallest kinds before the others."""
    plan: Layouts = {}
    left = [kind.demand for kind in task.kinds]

    def put(kind: int, size: tuple[int, int], bed: int, strips: int) -> None:
        """Cut so many strips of a kind, the last of them as far as pieces are wanted."""
        full = task.width_of(bed) // size[0]
        for number, copies in ((full, left[kind] // full), (left[kind] % full, 1)):
            copies = min(copies, strips)
            if number and copies:
                row = layout(size[1], [(kind, *size, number)], bed)
                plan[row] = plan.get(row, 0) + copies
                strips -= copies
                left[kind] -= number * copies

    for bed, (width, room) in enumerate(task.beds, 1):
        for kind, one in sorted(enumerate(task.kinds), key=lambda pair: -min(h for _, h in pair[1].sizes)):
            fitting = [size for size in one.sizes if size[0] <= width and size[1] <= room]
            if fitting and left[kind]:
                size = min(fitting, key=lambda s: (s[1] / (width // s[0]), s[1]))
                put(kind, size, bed, room // size[1])
                room -= sum(row.height * n for row, n in plan.items() if row.bed == bed and row.parts[0][0] == kind)
    for kind, one in enumerate(task.kinds):
        if left[kind]:
            size = min(one.sizes, key=lambda s: (s[1] * -(-left[kind] // (task.width // s[0])), -s[1]))
            put(kind, size, 0, left[kind])
    return plan
