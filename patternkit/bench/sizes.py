"""How quickly sizes are worked out, against a plain loop over fractions in the same run.

Run with ``python -m patternkit.bench.sizes``.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from fractions import Fraction
from time import perf_counter

from patternkit.sizes import Affine, Cause, System, claimed, stated, structure
from patternkit.source import Span

Given = list[tuple[list[tuple[tuple[str, str], int]], Affine, Cause]]

GOAL_MS = 100.0


def quilt(blocks: int, across: int = 3, planted: bool = True) -> Given:
    """Equations of a sampler: blocks of `across` by `across` patches, each measured, set in one long row.

    A block gives ``4 * across**2 + 4 * across + 2`` equations or so; one wrong claim is planted in the middle.
    """
    given: Given = []

    def add(terms: list[tuple[tuple[str, str], int]], right: Affine | int | Fraction, cause: Cause) -> None:
        given.append((terms, Affine.of(right), cause))

    at = 0
    for b in range(blocks):
        block = f"block-{b}"
        for way, other in (("width", "height"), ("height", "width")):
            for r in range(across):
                line = f"{block}-{way}-{r}"
                add([((line, way), 1), ((block, way), -1)], 0, structure(_span(at), "the row is as long as the block"))
                cells = [f"{block}-{r}-{c}" if way == "width" else f"{block}-{c}-{r}" for c in range(across)]
                add(
                    [((cell, way), 1) for cell in cells] + [((line, way), -1)],
                    0,
                    structure(_span(at), "the pieces of the row add up"),
                )
                for cell in cells[1:]:
                    add(
                        [((cells[0], other), 1), ((cell, other), -1)],
                        0,
                        structure(_span(at), "pieces of a row are equally high"),
                    )
                at += 1
        for c in range(across):
            size = Fraction(2 * (c % 4) + 3, 2)
            for cell, way in ((f"{block}-0-{c}", "width"), (f"{block}-{c}-0", "height")):
                add([((cell, way), 1)], size, stated(_span(at), f"{cell} is so wide", Affine(size)))
        total = sum((Fraction(2 * (c % 4) + 3, 2) for c in range(across)), Fraction(0))
        wrong = Fraction(1, 2) if planted and b == blocks // 2 else 0
        add(
            [((block, "width"), 1)],
            total + wrong,
            claimed(_span(at), f"{block} finishes so wide", Affine(total + wrong)),
        )
    add(
        [((f"block-{b}", "width"), 1) for b in range(blocks)] + [(("quilt", "width"), -1)],
        0,
        structure(_span(at), "the blocks add up to the quilt"),
    )
    return given


def _span(at: int) -> Span:
    return Span("bench", at, at + 1)


def patternkit_way(given: Given) -> int:
    """Solve with the library, contradictions unrolled; returns how many there are."""
    system = System()
    for terms, right, cause in given:
        system.add(terms, right, cause)
    return len(system.solve().conflicts)


def plain_way(given: Given) -> int:
    """The least that could be done: put values in, all in fractions, over and over until nothing changes."""
    values: dict[tuple[str, str], Fraction] = {}
    left = [([(v, Fraction(c)) for v, c in terms], right.const.q) for terms, right, _ in given]
    wrong, changed = 0, True
    while left and changed:
        changed, rest = False, []
        for terms, right in left:
            total, open_terms = right, []
            for v, c in terms:
                if v in values:
                    total = total - c * values[v]
                else:
                    open_terms.append((v, c))
            if len(open_terms) > 1:
                rest.append((terms, right))
                continue
            changed = True
            if open_terms:
                values[open_terms[0][0]] = total / open_terms[0][1]
            elif total != 0:
                wrong += 1
        left = rest
    return wrong


def best_of(times: int, job: Callable[[Given], int], given: Given) -> tuple[float, int]:
    """The shortest of several runs, in milliseconds, and what the job returned."""
    best, found = float("inf"), 0
    for _ in range(times):
        start = perf_counter()
        found = job(given)
        best = min(best, (perf_counter() - start) * 1000)
    return best, found


def main(argv: Sequence[str] = ()) -> int:
    """Print one line for each size of system; exit status 1 when the goal for 5,000 equations is missed."""
    status = 0
    for blocks, across in ((17, 3), (162, 3), (1, 48)):
        given = quilt(blocks, across)
        ours, found = best_of(5, patternkit_way, given)
        plain, _ = best_of(3, plain_way, given)
        note = ""
        if len(given) >= 4900:
            note = f"  goal {GOAL_MS:.0f} ms: {'met' if ours <= GOAL_MS else 'missed'}"
            status = status or int(ours > GOAL_MS)
        print(
            f"{len(given):6d} equations  {ours:7.1f} ms  {found} contradictions found  "
            f"plain fractions {plain:7.1f} ms  ratio {ours / plain:.2f}{note}"
        )
    return status


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
