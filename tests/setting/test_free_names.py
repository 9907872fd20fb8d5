"""Any free word may name a unit, a block or a fabric: what the quilt calls its own parts takes no name away."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.piecing.unknowns import of_centre, of_layer, of_piece, of_unit, of_whole
from patternkit.project import Project

OWN = [
    "centre",
    "whole",
    "float",
    "top",
    "middle",
    "piece",
    "side",
    "log",
    "corner",
    "cornerstone",
    "rows-1",
    "border-1",
]
WORDS = ["quilt", "border", "row", "sashing", "block", "unit"]
FABRICS = ["side", "sides", "corner", "corners", "centre", "top"]
HEAD = "fabric kelp dark\nfabric milk light\nfabric gorse medium\n"
STRAIGHT = """
block {name}
    row kelp 3 | milk 3
    finished 6 x 6
quilt
    across 3, down 2
    tile
        {name}
    sashing 1 milk
    border 2 gorse
    border 1 kelp
    finished 28 x 21
"""
TWO = """
unit {name}
    half-square kelp, milk
    finished 2
block star
    rows
        {name} | milk | {name}
        kelp | gorse | kelp
        {name} | milk | {name}
    finished 6
quilt
    across 2, down 2
    tile
        star
    border 2 gorse
"""
ON_POINT = """
block {name}
    patch kelp
    finished 6
quilt
    across 2, down 2
    setting on point gorse, float 1
    tile
        {name}
        {name}
    border 2 kelp
"""
LAID = """
block nine
    rows
        kelp | milk | kelp
        milk | kelp | milk
        kelp | milk | kelp
    finished 6
block {name}
    column milk 4 | nine | milk 14
quilt
    layout
        milk 12 | {name} | milk 3
    border 2 kelp
"""


def problems(text: str) -> list[str]:
    """What a check says of a text, advice and all."""
    return [p.message for p in run(Project("names.pattern", HEAD + text))]


@pytest.mark.parametrize("name", OWN)
@pytest.mark.parametrize("text", [STRAIGHT, TWO, ON_POINT, LAID])
def test_a_unit_is_checked_alike_whatever_it_is_called(text: str, name: str) -> None:
    plain, own = (Project("names.pattern", HEAD + text.format(name=n)) for n in ("lantern", name))
    assert problems(text.format(name=name)) == [
        m.replace("lantern", name) for m in problems(text.format(name="lantern"))
    ]
    for side in "wh":
        assert own.solution.value(of_whole(side)) == plain.solution.value(of_whole(side)) is not None
        assert own.solution.value(of_unit(name, side)) == plain.solution.value(of_unit("lantern", side)) is not None


@pytest.mark.parametrize("word", WORDS)
def test_a_word_of_the_language_is_refused_where_it_is_to_be_a_name(word: str) -> None:
    told = run(Project("names.pattern", HEAD + TWO.format(name=word)))
    assert told[0].message == f"`{word}` is a word of the language and can't be a name."
    assert not any("finish" in p.message for p in told)


def test_sizes_of_one_name_are_kept_apart() -> None:
    found = Project("names.pattern", HEAD + STRAIGHT.format(name="centre")).solution
    sizes = [found.value(var) for var in (of_unit("centre", "w"), of_centre("w"), of_layer(1, "w"), of_whole("w"))]
    assert [size.const for size in sizes if size is not None] == [6, 22, 26, 28]
    assert found.value(of_piece("centre", "1.1", "w")) != found.value(of_unit("centre", "w"))


@pytest.mark.parametrize("name", FABRICS)
def test_a_fabric_may_be_called_so(name: str) -> None:
    text = (
        f"fabric {name}\nblock bare\n    patch kelp\n    finished 6\nquilt\n    across 2, down 2\n"
        f"    setting on point {{of}}\n    tile\n        bare\n        bare\n    border 2 {name}\n"
    )
    for way in (name, f"{name}, float 1", f"{name} float 1", f"triangles {name}"):
        project = Project("names.pattern", HEAD + text.replace("{of}", way))
        assert [p.message for p in run(project) if name in p.message] == [], way
        assert project.top is not None
        assert project.pattern.quilt is not None and project.pattern.quilt.setting is not None
        assert project.pattern.quilt.setting.fabric == name


@pytest.mark.parametrize("slip", ["side cut 9", "trianges gorse", "flot 1"])
def test_a_slip_behind_on_point_is_still_told(slip: str) -> None:
    text = f"block bare\n    patch kelp\n    finished 6\nquilt\n    setting on point {slip}\n    tile\n        bare\n"
    assert any("has no meaning in a `setting` line" in message for message in problems(text))
