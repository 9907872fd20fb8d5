"""Forms that are put into a made pattern once it is written, by chances of their own: what came to the language later
changes nothing else in the pattern of a seed."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from random import Random

from .laid import with_shapes_laid_on
from .measures import Measures, typed

FABRIC = re.compile(r"fabric (\S+)")
HEAD = re.compile(r"(?:unit|block) ([\w'-]+)")
PATCH = re.compile(r"    patch ([a-z]+)(?= |$)")


def with_newer_forms(text: str, seed: int, has: Collection[str], m: Measures) -> str:
    """The text with some newer forms, each where it may stand."""
    by = Random(f"newer {seed}")
    lines = list(_lines(text.splitlines(), by, has, m))
    if "kinds" in has and not {"colourways", "sizes"} & set(has) and by.random() < 0.6:
        lines = _fussy(lines, by, m)
    made = any(line.startswith("    make ") for line in lines)
    if not made and not {"sizes", "parts"} & set(has) and by.random() < 0.7:
        lines = _whole_blocks(lines, by)
    if not {"sizes", "parts"} & set(has) and (by.random() < 0.4 or "    ring" in lines):
        lines = _centre_as_unit(lines, by)
    if "kinds" in has and Random(f"tubes {seed}").random() < 0.4:
        lines = _tubes(lines)
    if "kinds" in has and "sizes" not in has:
        lines = with_shapes_laid_on(lines, seed, m)
    lines = _rounded(lines, Random(f"rounded {seed}"), m)
    return "\n".join(lines) + "\n"


def _whole_blocks(lines: list[str], by: Random) -> list[str]:
    """Whole blocks for the triangles of a setting on point without a float, cut through at the edge."""
    at = next((i for i, x in enumerate(lines) if x.startswith("    setting on point")), None)
    if at is None or any(word in lines[at] for word in ("float", "cut")) or any("inner" in x for x in lines[at:]):
        return lines
    tile = next(i for i, x in enumerate(lines) if i > at and x == "    tile")
    block = lines[tile + 1].split("|")[0].strip()
    units = {x.split()[1] for x in lines if x.startswith(("unit ", "block "))}
    if block.split()[0] not in units:
        return lines
    said = lines[at].split()
    fabric = said[-1] if said[-1] not in ("point", "triangles") else ""
    corners = block if by.random() < 0.6 or not fabric else fabric
    return [*lines[:at], f"    setting on point, sides {block}, corners {corners}", *lines[at + 1 :]]


SET = ("across", "down", "tile", "layout", "setting", "sashing")
FRAMES = ("border", "ring")


def _centre_as_unit(lines: list[str], by: Random) -> list[str]:
    """The quilt's blocks, with some of its borders, as one unit that is made like a quilt."""
    at = lines.index("quilt")
    end = next((i for i in range(at + 1, len(lines)) if not lines[i].startswith(" ")), len(lines))
    groups: list[list[str]] = []
    for line in lines[at + 1 : end]:
        if line.startswith("     "):
            groups[-1].append(line)
        else:
            groups.append([line])
    frames = 4 if "    ring" in lines else by.choice((0, 1, 2))
    own: list[list[str]] = []
    rest: list[list[str]] = []
    for group in groups:
        word = group[0].replace(",", "").split()
        counted = "across" in word[1:2] or "down" in word[1:2]
        if word[0] in SET or counted:
            own.append(group)
        elif word[0] in FRAMES and frames and "strips" not in word and not any("cut" in x for x in word):
            own.append(group)
            frames -= 1
        else:
            frames = 0 if word[0] in FRAMES else frames
            rest.append(group)
    if by.random() < 0.2 and len(own) == 1:
        return lines
    unit = ["block whole-middle", *(x for group in own for x in group), ""]
    quilt = ["quilt", "    tile", "        whole-middle", *(x for group in rest for x in group)]
    return [*lines[:at], *unit, *quilt, *lines[end:]]


def _lines(lines: list[str], by: Random, has: Collection[str], m: Measures) -> Iterator[str]:
    by_length = _by_length(lines)
    for line in lines:
        if line.startswith("    border ") and by.random() < 0.5:
            if line.endswith(", mitred"):
                line += f", extra {typed(m.up(m.inch * by.choice((2, 3, 6))))}"
            line = line.replace(", lengthwise", ", one piece")
        if line.startswith("    backing ") and "wide" not in line:
            line += _backing(line, by, by_length)
        yield line
        if line.startswith("    ruler ") and "heads" in has:
            yield from [f"    squaring {typed(m.up(m.inch / 4))}"] if by.random() < 0.3 else []
            if by.random() < 0.3:
                sold = ", ".join(
                    f"{typed(m.up(m.inch * a))} x {typed(m.up(m.inch * b))}" for a, b in ((45, 60), (90, 108))
                )
                yield f"    batting sold as {sold}"
        if line.startswith("fabric ") and "heads" in has and by.random() < 0.1:
            yield f"    squaring {typed(m.up(m.inch / 3))}"


def _tubes(lines: list[str]) -> list[str]:
    """Strips of one unit sewn to tubes; where it is joined to others one of it begins a strip later."""
    at = next((i for i, line in enumerate(lines) if line.startswith("    strips ")), None)
    if at is None or lines[at + 1].startswith("    slant "):
        return lines
    lines = [*lines[: at + 1], "    method tube", *lines[at + 1 :]]
    head = next(HEAD.match(line) for line in lines[at::-1] if HEAD.match(line))
    used = re.compile(rf"(?<=[ |]){re.escape(head[1])}(\([^)]*\))?(?= *(?:[|<>]|$| turned| mirrored))")  # type: ignore[index]
    for i, line in enumerate(lines):
        if " | " in line and "strips" not in line and used.search(line):
            return [*lines[:i], used.sub(r"\g<0> shifted 1", line, count=1), *lines[i + 1 :]]
    return lines


def _backing(line: str, by: Random, cloth: list[str]) -> str:
    """What a backing is cut with, or pieced with."""
    chance, fabric = by.random(), line.split()[1].rstrip(",")
    if chance < 0.35 and fabric in cloth:
        return ", from one length"
    others = [x for x in cloth if x != fabric]
    return f", strip {by.choice(others)}" if chance > 0.75 and others and "panels" not in line else ""


def _by_length(lines: list[str]) -> list[str]:
    """The fabrics that are bought by length."""
    found = []
    for at, line in enumerate(lines):
        if (name := FABRIC.match(line)) is not None:
            under = "\n".join(x for x in lines[at + 1 : at + 4] if x.startswith("    sold as"))
            found += [] if under else [name[1]]
    return found


STRAIGHT = ("facing", "prairie-points", "flange", "piping", "edge")


def _rounded(lines: list[str], by: Random, m: Measures) -> list[str]:
    """Rounded corners before a bias binding, where nothing straight goes along the edge."""
    at = next((i for i, x in enumerate(lines) if x.startswith("    binding ") and ", bias" in x), None)
    if at is None or "envelope" in "\n".join(lines) or any(x.split()[:1] and x.split()[0] in STRAIGHT for x in lines):
        return lines
    if any(word in lines[at] for word in ("strips", "square")) or by.random() < 0.3:
        return lines
    return [*lines[:at], f"    edge rounded {typed(m.up(m.inch))}", *lines[at:]]


def _fussy(lines: list[str], by: Random, m: Measures) -> list[str]:
    """One patch cut round motifs of its fabric, which says how far these lie apart."""
    cloth = _by_length(lines)
    patches = [i for i, x in enumerate(lines) if (p := PATCH.match(x)) is not None and p[1] in cloth]
    if not patches:
        return lines
    at = by.choice(patches)
    name = PATCH.match(lines[at])[1]  # type: ignore[index]
    first = next(i for i, x in enumerate(lines) if x.split()[:2] == ["fabric", name])
    repeat = " x ".join(typed(m.up(m.inch * by.choice((3, 4, 6)))) for _ in range(2))
    lines = [*lines[: at + 1], "    method fussy cut", *lines[at + 1 :]]
    return [*lines[: first + 1], f"    repeat {repeat}", *lines[first + 1 :]]
