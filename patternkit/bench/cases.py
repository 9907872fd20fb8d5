"""Made-up cutting lists that look like those of real patterns, the same for the same seed."""

from __future__ import annotations

from random import Random

from patternkit.plan.cutting import CuttingSettings, PieceDemand

GRIDS = (8, 16)


def realistic(seed: int) -> tuple[list[PieceDemand], CuttingSettings]:
    """Give the pieces of one fabric: 10 to 120 sizes, 50 to 2,000 pieces, on eighths or sixteenths.

    Patches, rectangles, squares to be cut on the diagonal, logs, sashes and a few large setting pieces, in counts that
    come in twos and fours; some fabrics are directional, and some writers allow no trimming.
    """
    random = Random(seed)
    ruler = random.choice(GRIDS)
    sizes = random.choice((10, 12, 16, 20, 24, 32, 40, 60, 80, 120))
    total = max(50, min(2000, int(sizes * random.choice((3, 5, 8, 12, 20, 40)))))
    found: dict[tuple[int, int], int] = {}
    while len(found) < sizes:
        size = _size(random, ruler)
        found.setdefault(size, 0)
    shares = [random.paretovariate(1.2) for _ in found]
    directional = random.random() < 0.2
    pieces = []
    for index, (size, share) in enumerate(zip(sorted(found), shares, strict=True)):
        count = max(1, round(total * share / sum(shares)))
        count += count % random.choice((1, 2, 4))
        fixed = directional and size[0] != size[1]
        pieces.append(PieceDemand(f"p{index + 1}", *size, count, may_turn=not fixed))
    width = random.choice((40, 41, 42, 42, 44)) * ruler
    return pieces, CuttingSettings(width=width, trim=random.random() < 0.7, lot=9 * ruler // 2)


def _size(random: Random, ruler: int) -> tuple[int, int]:
    """Give one cut size: finished size plus what its seams take."""
    step = random.choice((ruler, ruler // 2, ruler // 4, 1))
    side = random.randrange(ruler, 7 * ruler, step)
    seams = random.choice((ruler // 2, ruler // 2, ruler // 2, 7 * ruler // 8, 5 * ruler // 4))
    sort = random.random()
    if sort < 0.45:
        return side + seams, side + seams
    if sort < 0.75:
        return side + ruler // 2, 2 * side + ruler // 2
    if sort < 0.95:
        return side + ruler // 2, random.randrange(side, 13 * ruler, step) + ruler // 2
    big = random.randrange(8 * ruler, 20 * ruler, step)
    return big + seams, big + seams
