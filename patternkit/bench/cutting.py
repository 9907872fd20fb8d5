"""The table of cutting plans: real fabrics, made-up lists and published instances, against greedy, strips cut straight
into pieces and a packing library.

Run ``python -m patternkit.bench.cutting [FOLDER_OR_JSON] [--cases N] [--patterns FOLDER] [--exact SECONDS]``. Strips
cut straight into pieces are planned in the same run, by the search that was all there was in the first version. An
instance file holds name -> {source, width, items: [width, height, copies]}; all pieces are cut from cloth of that
width, unturned. The real fabrics are those of all examples, and of the patterns of a folder (as ``python -m
tests.generate 200 --out FOLDER`` makes them); they are planned unless published instances are asked for.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from statistics import median
from time import perf_counter, process_time

import msgspec

from patternkit.bench.cases import realistic
from patternkit.bench.exact import level_optimum
from patternkit.bench.fabrics import EXAMPLES, fabric_cases
from patternkit.plan.cutting import CutPlan, CuttingSettings, PieceDemand, plan, to_buy

LINE = "{:<28} {:>5} {:>6} {:>8} {:>8} {:>8} {:>8} {:>5} {:>5} {:>8} {:>7} {:>8} {:>9} {:>6} {:>8}"
HEAD = LINE.format(
    "case",
    "sizes",
    "pieces",
    "greedy",
    "straight",
    "plan",
    "bound",
    "lots",
    "open",
    "gap %",
    "time s",
    "library",
    "exact",
    "steps",
    "proved",
)
LONG = 60
"""Sizes beyond which lists are summed up by themselves."""
WORDS = {"proved": "any way", "proved for strips": "strips", "bounded": "-"}
"""How a plan's status is named in the table."""


class CaseResult(msgspec.Struct):
    """One case measured."""

    name: str
    pieces: list[PieceDemand]
    settings: CuttingSettings
    greedy: CutPlan
    straight: CutPlan
    done: CutPlan
    seconds: float
    worked: float
    library: int | None
    exact: str

    def open(self) -> int:
        """Give how many lots less might do, for all that is proved."""
        return self.done.lots - to_buy(self.done.bound, self.settings)[1]

    def text(self) -> str:
        """Write the row of the table."""
        done = self.done
        return LINE.format(
            self.name,
            len(self.pieces),
            sum(p.count for p in self.pieces),
            self.greedy.length,
            self.straight.length,
            done.length,
            done.bound,
            done.lots,
            self.open(),
            f"{float(done.gap) * 100:.2f}",
            f"{self.seconds:.2f}",
            "-" if self.library is None else self.library,
            self.exact,
            done.steps,
            WORDS[done.status],
        )


def instances(path: Path) -> Iterator[tuple[str, list[PieceDemand], CuttingSettings]]:
    """Read published instances from a JSON file, or from every JSON file of a folder."""
    files = sorted(path.glob("*.json")) if path.is_dir() else [path]
    for file in files:
        for name, case in json.loads(file.read_text(encoding="utf-8")).items():
            pieces = [PieceDemand(str(i), w, h, n, may_turn=False) for i, (w, h, n) in enumerate(case["items"])]
            yield name, pieces, CuttingSettings(width=case["width"], rows=False)


def library_length(pieces: Sequence[PieceDemand], settings: CuttingSettings) -> int | None:
    """Pack with a general rectangle-packing library, best of several ways; its packings need not be cuttable.

    None when the library is not installed. It turns all pieces or none, so directional lists are not turned.
    """
    try:
        import rectpack
    except ImportError:
        return None
    turn = all(p.may_turn or p.width == p.height for p in pieces)
    tallest = sum(max(p.width, p.height) * p.count for p in pieces)
    ways = [rectpack.SkylineBlWm, rectpack.MaxRectsBl, rectpack.GuillotineBssfSas]
    if sum(p.count for p in pieces) > 150:
        ways = ways[:1]  # the others take minutes
    lengths = []
    for way in ways:
        packer = rectpack.newPacker(
            mode=rectpack.PackingMode.Offline, pack_algo=way, rotation=turn, sort_algo=rectpack.SORT_SSIDE
        )
        for piece in pieces:
            for _ in range(piece.count):
                packer.add_rect(piece.width, piece.height)
        packer.add_bin(settings.width, tallest)
        packer.pack()
        placed = packer.rect_list()
        if len(placed) == sum(p.count for p in pieces):
            lengths.append(max(y + h for _, _, y, _, h, _ in placed))
    return min(lengths, default=None)


def measure(
    name: str, pieces: list[PieceDemand], settings: CuttingSettings, exact: float, packed: bool = True
) -> CaseResult:
    """Plan one case greedily, with strips cut straight, and in full, and compare."""
    greedy = plan(pieces, msgspec.structs.replace(settings, solver=False, rows=False))
    straight = plan(pieces, msgspec.structs.replace(settings, rows=False))
    begin, worked = perf_counter(), process_time()
    done = plan(pieces, settings)
    seconds, worked = perf_counter() - begin, process_time() - worked
    shown = "-"
    if exact and settings.trim and sum(p.count for p in pieces) <= 60:
        length, bound = level_optimum(pieces, settings.width, exact)
        shown = str(length) if length is not None else f">={bound}"
    library = library_length(pieces, settings) if packed else None
    return CaseResult(name, pieces, settings, greedy, straight, done, seconds, worked, library, shown)


def summary(rows: Sequence[CaseResult]) -> str:
    """Say how the plans compare in all."""
    gaps = [float(r.done.gap) * 100 for r in rows]
    times, worked = sorted(r.seconds for r in rows), sorted(r.worked for r in rows)
    saved = [100 - 100 * r.done.length / r.greedy.length for r in rows]
    shorter = [100 - 100 * r.done.length / r.straight.length for r in rows]
    packed = [100 - 100 * r.done.length / r.library for r in rows if r.library]
    status = [r.done.status for r in rows]
    opened = [r.open() for r in rows]
    lots, before = sum(r.done.lots for r in rows), sum(r.straight.lots for r in rows)
    least = lots - sum(opened)
    small = [r.open() for r in rows if r.done.lots < 50]
    large = [float(r.done.gap_buy) * 100 for r in rows if r.done.lots >= 50]
    lines = [
        f"length to buy proved: {status.count('proved')} for any way of cutting, "
        f"{status.count('proved for strips')} for strips cut up further, together "
        f"{100 - 100 * status.count('bounded') / len(rows):.1f} %; one lot open in {opened.count(1)}, "
        f"more in {sum(n > 1 for n in opened)} of {len(rows)}",
        f"open below 50 lots: at most {max(small, default=0)} lots; above: at most {max(large, default=0.0):.2f} %",
        f"lots: {lots}, with strips cut straight {before} ({100 * lots / before - 100:+.2f} %; proofs leave no "
        f"more than {100 * least / before - 100:+.2f} %), more in {sum(r.done.lots > r.straight.lots for r in rows)}",
        f"gap of the length used: median {median(gaps):.2f} %, worst {max(gaps):.2f} %, none in "
        f"{sum(g == 0 for g in gaps)}",
        f"time: median {median(times):.3f} s, nine of ten within {times[len(times) * 9 // 10]:.2f} s, longest "
        f"{times[-1]:.2f} s, more than 1 s in {sum(t > 1 for t in times)}; of the processor: median "
        f"{median(worked):.3f} s, longest {worked[-1]:.2f} s",
        f"shorter than greedy: {sum(saved) / len(saved):.2f} % on average, longer in {sum(s < 0 for s in saved)}",
        f"shorter than strips cut straight: {sum(shorter) / len(shorter):.2f} % on average, longer in "
        f"{sum(s < 0 for s in shorter)}",
    ]
    if packed:
        lines.append(
            f"shorter than the packing library: {sum(packed) / len(packed):.2f} % on average, longer in "
            f"{sum(s < 0 for s in packed)} of {len(packed)}"
        )
    return "\n".join(lines)


def parts_of(rows: Sequence[CaseResult]) -> Iterator[tuple[str, Sequence[CaseResult]]]:
    """Give the cases as they are summed up: long lists and very long ones by themselves, and with and without
    trimming."""
    sorts = {(len(r.pieces) > LONG, r.settings.trim) for r in rows}
    for very in (False, True) if len(sorts) > 1 else ():
        for trim in (True, False):
            some = [r for r in rows if (len(r.pieces) > LONG, r.settings.trim) == (very, trim)]
            if some:
                size, cut = f"more than {LONG}" if very else f"up to {LONG}", "with" if trim else "without"
                yield f"-- {size} sizes, {cut} trimming\n", some
    if rows:
        yield "-- all\n", rows


def main(arguments: Sequence[str] | None = None) -> int:
    """Print the tables."""
    parser = argparse.ArgumentParser(prog="python -m patternkit.bench.cutting", description=__doc__)
    parser.add_argument("path", nargs="?", type=Path, help="a JSON file of instances, or a folder of them")
    parser.add_argument("--cases", type=int, default=30, help="made-up lists to plan (default 30)")
    parser.add_argument("--patterns", type=Path, help="a folder of patterns whose fabrics are planned besides")
    parser.add_argument("--exact", type=float, default=0.0, help="seconds for an exact run of each")
    options = parser.parse_args(arguments)
    for path in (options.path, options.patterns):
        if path is not None and not path.exists():
            parser.error(f"there is no file or folder {path}")
    folders = [folder for folder in (EXAMPLES, options.patterns) if folder is not None and folder.exists()]
    made_up = ((f"made-up {seed}", *realistic(seed)) for seed in range(options.cases))
    groups: list[tuple[str, Iterator[tuple[str, list[PieceDemand], CuttingSettings]]]] = [
        ("Real fabrics", fabric_cases(folders)),
        ("Made-up lists", made_up),
    ]
    if options.path is not None:
        groups[0] = ("Published instances, with trimming, no turning", instances(options.path))
    for title, cases in groups:
        print(f"\n{title}\n{HEAD}")
        rows = []
        for name, pieces, settings in cases:
            rows.append(measure(name, pieces, settings, options.exact, title != "Real fabrics"))
            print(rows[-1].text(), flush=True)
        for words, some in parts_of(rows):
            print(words + summary(some))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
