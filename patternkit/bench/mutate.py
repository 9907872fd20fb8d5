"""Damage to pattern files, as fingers, paste and mail programs do it: nothing may crash the checker or keep it long.

    python -m patternkit.bench.mutate 20000 --jobs 2

Each number from 0 on gives one damaged file, the same every time. Every one is checked in full; an exception, or a
check of more than a second, is printed with its number, and `python -m patternkit.bench.mutate --show NUMBER` prints
the file.
"""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from random import Random
from time import perf_counter, process_time
from traceback import format_exc

from patternkit.desk.explain import pages

_BLOCK = re.compile(r"```pattern\n(.*?)```", re.DOTALL)
LIMIT = 1.0  # seconds of the processor for one check, so that what else runs on the machine does not count

_TOKENS = (
    "|",
    ">",
    "<",
    "<>",
    ",",
    "(",
    ")",
    "x",
    "in",
    "cm",
    "yd",
    "1/2",
    "1 1/4",
    "0",
    "-1",
    "1/0",
    "3.5",
    "9999999999",
    "100000",
    "turned 90",
    "turned 45",
    "mirrored",
    "cut",
    "finished",
    "measures",
    "make",
    "times",
    "root(2)",
    "root(-1)",
    "pattern",
    "unit",
    "block",
    "quilt",
    "fabric",
    "let",
    "row",
    "column",
    "rows",
    "strips",
    "half-square",
    "patch",
    "border",
    "binding",
    "sizes",
    "tile",
    "layout",
    "ring",
    "across 200, down 200",
    "setting on point",
    "sashing 1",
    "mitred",
    "cornerstones",
    "press toward",
    "press open",
    "press spun",
    "#",
    '"',
    "“",
    "½",
    "\t",
    "{",
    "}",
    "{a.b}",
    "\u00a0",
    "\ufeff",
    "\0",
    "é",
    "日",
    "include",
    "part",
    "makes",
    "colourway",
    "units cm",
    "seam 3",
    "seam 1/4",
    "1e9",
    "1" * 30,
    "(" * 50,
    "a" * 300,
)
_NUMBERS = (
    "0",
    "1",
    "2",
    "1/3",
    "1/7",
    "7/8",
    "13",
    "999",
    "4001",
    "100000",
    "100001",
    "123456789012",
    "0.0001",
    "99 63/64",
)


def seed_texts(folder: Path) -> list[str]:
    """What is damaged: the example files, in order of their names, and the examples on the pages of the problems."""
    texts = [p.read_text(encoding="utf-8") for p in sorted(folder.rglob("*.pattern"))]
    for page in sorted(pages().glob("*.md")):
        texts += _BLOCK.findall(page.read_text(encoding="utf-8"))
    return texts


def damaged(number: int, texts: Sequence[str]) -> str:
    """The damaged file of that number."""
    random = Random(number)
    text = random.choices(texts, [len(t) + 1 for t in texts])[0]  # long files have more to damage
    for _ in range(random.choice((1, 1, 1, 2, 2, 3, 5, 12))):
        text = random.choice(_WAYS)(text, random, texts)
    return text


# -- ways to damage a text --------------------------------------------------------------------------------
def _characters(text: str, random: Random, texts: Sequence[str]) -> str:
    at = random.randrange(len(text) + 1)
    return (
        text[:at]
        + random.choice(("", random.choice(text or " "), random.choice("|<>,()#\"'{}-+*/= \t\r\n½x0")))
        + text[at + random.choice((0, 1, 1, 2, 7)) :]
    )


def _tokens(text: str, random: Random, texts: Sequence[str]) -> str:
    words = text.split(" ")
    at = random.randrange(len(words))
    way = random.randrange(4)
    if way == 0:
        words[at] = random.choice(_TOKENS)
    elif way == 1:
        words.insert(at, random.choice(_TOKENS))
    elif way == 2:
        words[at] = random.choice(words)
    else:
        del words[at]
    return " ".join(words)


def _numbers(text: str, random: Random, texts: Sequence[str]) -> str:
    places = [i for i, c in enumerate(text) if c.isdigit()]
    if not places:
        return text
    at = random.choice(places)
    end = at
    while end < len(text) and (text[end].isdigit() or text[end] == "/"):
        end += 1
    return text[:at] + random.choice(_NUMBERS) + text[end:]


def _lines(text: str, random: Random, texts: Sequence[str]) -> str:
    lines = text.split("\n")
    a, b = random.randrange(len(lines)), random.randrange(len(lines))
    way = random.randrange(5)
    if way == 0:
        lines[a], lines[b] = lines[b], lines[a]
    elif way == 1:
        del lines[a]
    elif way == 2:
        lines.insert(b, lines[a])
    elif way == 3:
        lines[a:a] = lines[a:b] * random.choice((1, 2))
    else:
        lines.insert(a, random.choice(random.choice(list(texts)).split("\n")))
    return "\n".join(lines)


def _indents(text: str, random: Random, texts: Sequence[str]) -> str:
    lines = text.split("\n")
    at = random.randrange(len(lines))
    for i in range(at, min(len(lines), at + random.choice((1, 1, 3, 10)))):
        lines[i] = random.choice((" ", "  ", "    ", "\t", "")) + random.choice((lines[i], lines[i].lstrip()))
    return "\n".join(lines)


def _names(text: str, random: Random, texts: Sequence[str]) -> str:
    """A word in the place of another, so that files stay readable and mean something else."""
    words = sorted({w for w in text.replace("|", " ").split() if w.isalpha() and w.islower()})
    if len(words) < 2:
        return text
    old, new = random.choice(words), random.choice(words)
    places = [i for i in range(len(text)) if text.startswith(old, i)]
    at = random.choice(places)
    return text[:at] + new + text[at + len(old) :]


def _ends(text: str, random: Random, texts: Sequence[str]) -> str:
    return random.choice(
        (
            text.replace("\n", "\r\n"),
            text.replace("\n", "\r"),
            text[: random.randrange(len(text) + 1)],
            "\ufeff" + text,
            text + text,
            text.replace(" ", "\u00a0"),
            text.upper(),
        )
    )


Way = Callable[[str, Random, Sequence[str]], str]
_WAYS: tuple[Way, ...] = (
    _characters,
    _tokens,
    _tokens,
    _numbers,
    _numbers,
    _lines,
    _lines,
    _indents,
    _names,
    _names,
    _ends,
)


# -- the run
# --------------------------------------------------------------------------------------------------
def trial(text: str) -> tuple[float, str]:
    """Check a text in full: how many seconds it took, and the traceback if there was one."""
    from patternkit.checks import run
    from patternkit.project import Project

    start = process_time()
    trouble = ""
    try:
        run(Project("damaged.pattern", text), guarded=False)
    except Exception:  # whatever it is, it is what we are looking for
        trouble = format_exc()
    return process_time() - start, trouble


def stretch(first: int, last: int, folder: str) -> list[tuple[int, float, str]]:
    """Numbers from `first` up to `last` (not included) that crash or take too long, with seconds and traceback."""
    texts = seed_texts(Path(folder))
    found = []
    for number in range(first, last):
        seconds, trouble = trial(damaged(number, texts))
        if not trouble and seconds > LIMIT:
            seconds = min(seconds, trial(damaged(number, texts))[0])  # a busy machine is no fault of the file
        if trouble or seconds > LIMIT:
            found.append((number, seconds, trouble))
    return found


def trials(count: int, jobs: int, folder: Path, start: int = 0) -> Iterator[tuple[int, float, str]]:
    """What `stretch` finds, over several processes."""
    if jobs == 1:
        yield from stretch(start, start + count, str(folder))
        return
    step = max(1, min(250, count // jobs))
    bounds = [(n, min(n + step, start + count)) for n in range(start, start + count, step)]
    with ProcessPoolExecutor(jobs) as pool:
        for found in pool.map(stretch, *zip(*bounds, strict=True), [str(folder)] * len(bounds)):
            yield from found


def main(argv: Sequence[str] | None = None) -> int:
    """Run a number of damaged files; exit status 1 when one of them crashed or took too long."""
    ask = argparse.ArgumentParser(prog="python -m patternkit.bench.mutate", description=__doc__.split("\n", 1)[0])
    ask.add_argument("count", type=int, nargs="?", default=400)
    ask.add_argument("--start", type=int, default=0)
    ask.add_argument("--jobs", type=int, default=1)
    ask.add_argument("--show", type=int)
    ask.add_argument("--examples", type=Path, default=Path(__file__).resolve().parents[2] / "examples")
    wish = ask.parse_args(argv)
    if wish.show is not None:
        print(damaged(wish.show, seed_texts(wish.examples)), end="")
        return 0
    start, bad = perf_counter(), 0
    for number, seconds, trouble in trials(wish.count, wish.jobs, wish.examples, wish.start):
        bad += 1
        print(f"number {number}: {seconds:.2f} s\n{trouble}", flush=True)
    print(
        f"{wish.count} damaged files, {bad} of them crashed or took more than {LIMIT:g} s; "
        f"{perf_counter() - start:.0f} s in all"
    )
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
