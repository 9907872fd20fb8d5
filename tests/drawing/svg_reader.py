"""Reads a drawing back: every filled path as polygons in the drawing's own points, groups and uses
followed."""

from __future__ import annotations

import re
from collections import defaultdict
from xml.etree import ElementTree

NS = "{http://www.w3.org/2000/svg}"
Pt = tuple[float, float]


def loops_of(d: str) -> list[list[Pt]]:
    """Path data of M, h, v, l and z as lists of points."""
    found: list[list[Pt]] = []
    x = y = 0.0
    for letter, rest in re.findall(r"([MhvlzZ])([^MhvlzZ]*)", d):
        nums = [float(n) for n in re.findall(r"-?\d*\.?\d+(?:e-?\d+)?", rest)]
        if letter == "M":
            x, y = nums
            found.append([(x, y)])
        elif letter in "hvl":
            dx, dy = (nums[0], 0.0) if letter == "h" else (0.0, nums[0]) if letter == "v" else (nums[0], nums[1])
            x, y = x + dx, y + dy
            found[-1].append((x, y))
    return found


def polygons(svg: str) -> dict[str, list[list[Pt]]]:
    """Polygons by fill: a colour, or the ground colour of the texture."""
    root = ElementTree.fromstring(svg)
    by_id = {e.get("id"): e for e in root.iter() if e.get("id")}
    found: dict[str, list[list[Pt]]] = defaultdict(list)

    def walk(element: ElementTree.Element, dx: float, dy: float) -> None:
        tag = element.tag.removeprefix(NS)
        if tag == "use":
            inner = by_id[element.get("href", "")[1:]]
            walk(inner, dx + float(element.get("x", 0)), dy + float(element.get("y", 0)))
            return
        if tag in ("defs", "pattern"):
            return
        move = re.fullmatch(r"translate\((\S+) (\S+)\)", element.get("transform", ""))
        if move:
            dx, dy = dx + float(move[1]), dy + float(move[2])
        if tag == "path" and element.get("fill", "none") != "none":
            fill = element.get("fill", "")
            if fill.startswith("url("):
                fill = by_id[fill[5:-1]][0].get("fill", "")
            found[fill] += [[(x + dx, y + dy) for x, y in loop] for loop in loops_of(element.get("d", ""))]
        for child in element:
            walk(child, dx, dy)

    for child in root:
        walk(child, 0.0, 0.0)
    return found
