"""Outlines from drawings: what is read, held against shapely, and what a hostile or broken file is answered with."""

from __future__ import annotations

from itertools import pairwise
from math import pi
from pathlib import Path

import pytest
from shapely import Polygon

import patternkit
from patternkit import api
from patternkit.project import Project
from patternkit.syntax.outlines import NoOutline, outline_of

BEGIN = '<svg xmlns="http://www.w3.org/2000/svg">'
PATTERN = """fabric rose
fabric cream
unit bird
    drawing "bird.svg", rose 4
block bed
    patch cream
    applique bird at 6 x 6
    finished 12
"""


def svg(inside: str) -> str:
    return f"{BEGIN}{inside}</svg>"


@pytest.mark.parametrize(
    "inside, area, high",
    [
        ('<circle cx="50" cy="40" r="20"/>', pi / 4, 1),
        ('<ellipse rx="20" ry="10"/>', pi / 8, 0.5),
        ('<rect x="3" y="4" width="10" height="5"/>', 0.5, 0.5),
        ('<polygon points="0,0 10,0 5,10"/>', 0.5, 1),
        ('<path d="M0 0h10v5h-10z"/>', 0.5, 0.5),
        ('<path d="M0 0v5h10v-5z"/>', 0.5, 0.5),  # the other way round
        ('<path d="M0 0h10v5h-10L0 0"/>', 0.5, 0.5),
        ('<g transform="rotate(90)"><g transform="scale(2 1)"><path d="M0 0h10v5h-10z"/></g></g>', 4, 4),
        ('<defs><circle r="9"/></defs><title>T</title><path d="M0 0C0 10 10 10 10 0Z"/>', 0.6, 0.75),
    ],
)
def test_the_one_shape_of_a_file(inside: str, area: float, high: float) -> None:
    ring = Polygon(outline_of(svg(inside)))
    assert ring.is_valid and ring.area == pytest.approx(area, abs=0.005)
    assert ring.bounds == pytest.approx((0, 0, 1, high), abs=0.002)
    points = list(ring.exterior.coords)
    assert sum(a[0] * b[1] - a[1] * b[0] for a, b in pairwise(points)) > 0  # clockwise, y down


LAUGHS = "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 9}">' for n in range(1, 9))
HOSTILE = [
    ("", "no whole SVG file"),
    ("<svg>", "no whole SVG file"),
    ("<html></html>", "no SVG file"),
    ("\x00\x01", "no whole SVG file"),
    (svg(""), "holds no closed path"),
    (svg('<circle r="1"/><circle r="2"/>'), "holds 2 shapes"),
    (svg('<path d="M0 0h9v9h-9z M2 2h3v3h-3z"/>'), "a hole"),
    (svg('<path d="M0 0h9v9"/>'), "not closed"),
    (svg('<path d=""/>'), "not closed"),
    (svg('<path d="drop table"/>'), "can't be read"),
    (svg('<path d="M0 0h9z"/>'), "only a line"),
    (svg('<path d="M0 0h1e400v1e400z"/>'), ""),
    (svg('<circle r="1e300" transform="scale(1e300)"/>'), "too large"),
    (svg('<circle r="1" transform="spin(9)"/>'), "spin"),
    (svg("<script>alert(1)</script>"), "a script"),
    (svg('<circle r="3" onload="alert(1)"/>'), "a script"),
    (svg('<image href="file:///etc/passwd"/>'), "a picture"),
    (svg('<use href="other.svg#a"/>'), "by reference"),
    (svg("<text>hello</text>"), "text"),
    (f'<!DOCTYPE svg [<!ENTITY a0 "x">{LAUGHS}]>{svg("&a8;")}', "entities"),
    (f'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>{svg("&x;")}', "entities"),
    ("<svg>" * 200 + "</svg>" * 200, "far more"),
    (svg("<g/>" * 6000), "far more"),
    (svg(f'<path d="M0 0{"l1 1" * 4000}z"/>'), "segments"),
    (svg(" " * 1_100_000), "longer than"),
    (svg('<path d="M' + " ".join(f"{i % 97} {i * i % 89}" for i in range(2500)) + 'z"/>'), "corners"),
]


@pytest.mark.parametrize("text, why", HOSTILE)
def test_a_hostile_or_broken_file_is_told_in_words(text: str, why: str) -> None:
    with pytest.raises(NoOutline) as told:
        outline_of(text)
    assert why in str(told.value)


def problems(folder: Path, name: str = "bird.svg") -> list[str]:
    (folder / "p.pattern").write_text(PATTERN.replace("bird.svg", name))
    return [p.message for p in api.check(api.load(folder / "p.pattern")) if p.code == "drawing-unusable"]


def test_files_are_read_from_the_folder_of_the_pattern_alone(tmp_path: Path) -> None:
    inside = tmp_path / "inside"
    inside.mkdir()
    (tmp_path / "bird.svg").write_text(svg('<circle r="3"/>'))
    assert "outside the pattern's folder" in problems(inside, "../bird.svg")[0]
    (inside / "link.svg").symlink_to(tmp_path / "bird.svg")
    assert "outside the pattern's folder" in problems(inside, "link.svg")[0]
    assert len(problems(inside)) == 1
    (inside / "bird.svg").write_bytes(b"\xff\xfe\x00\xd8")
    assert len(problems(inside)) == 1
    (inside / "bird.svg").write_text(svg('<circle r="3"/>'))
    assert problems(inside) == []


def test_a_drawing_that_crosses_itself_is_not_made() -> None:
    bow = svg('<path d="M0 0L10 10V0L0 10z"/>')
    found = patternkit.check(Project("p.pattern", PATTERN, reader=lambda _, path: (path, bow)))
    assert [p.code for p in found if not p.advice] == ["cannot-sew"]


@pytest.mark.parametrize("line", ["drawing rose 4", 'drawing "bird.svg"', 'circle "bird.svg", rose 4'])
def test_a_line_without_its_file_or_fabric_is_told(line: str) -> None:
    text = PATTERN.replace('drawing "bird.svg", rose 4', line)
    found = patternkit.check(Project("p.pattern", text, reader=lambda _, path: (path, svg('<circle r="3"/>'))))
    assert [p for p in found if not p.advice and p.code in ("drawing-unusable", "wrong-pieces", "not-understood")]
