"""What is given in brackets may lie as it likes, and a turn may be a number given by name."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.piecing.making import Cloth, Making, Place
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.syntax.format import format_text
from patternkit.syntax.parse import parse

HEAD = """pattern "Slipway"
fabric oak dark
fabric sail light

unit vane
    half-square oak, sail
    finished 4

unit spar
    row oak 1 x 4 | sail 2 x 4

"""
FRAME = """block frame(mid)
    rows
        sail 1 | oak | sail 1
        sail | {mid} | sail
        sail 1 | oak | sail 1
    finished 6

quilt
    layout
        frame({given})
"""


def drawn(text: str) -> list[tuple[str, tuple[tuple[float, float], ...]]]:
    """Every patch of the quilt by its fabric and its corners, in any order."""
    project = Project("slipway.pattern", text)
    assert [p.message for p in run(project, guarded=False) if not p.advice] == []
    assert project.top is not None
    found: list[tuple[str, tuple[tuple[float, float], ...]]] = []

    def walk(making: Making, place: Place) -> None:
        for part in making.parts:
            where = part.place.then(place)
            if isinstance(part.what, Cloth):
                corners = sorted((float(x), float(y)) for x, y in where.outline(part.what.outline))
                found.append((part.what.fabric, tuple(corners)))
            else:
                walk(part.what, where)

    walk(project.top, Place())
    return sorted(found)


LIES = ["", "turned 90", "turned 180", "mirrored", "mirrored turned 90", "turned 270"]


@pytest.mark.parametrize("given", LIES)
@pytest.mark.parametrize("own", LIES)
def test_a_unit_is_given_as_it_lies(given: str, own: str) -> None:
    """What is given turned and then turned again is drawn as a unit made by hand of the turned one."""
    direct = HEAD + f"unit held\n    row vane {given}\n\n" + FRAME.format(mid=f"held {own}", given="sail")
    direct = direct.replace("frame(mid)", "frame").replace("frame(sail)", "frame")
    passed = HEAD + FRAME.format(mid=f"mid {own}", given=f"vane {given}")
    assert drawn(direct) == drawn(passed)


def test_what_is_given_is_given_on() -> None:
    outer = "block outer(core)\n    row frame(core mirrored) | frame(core)\n\n"
    text = HEAD + outer + FRAME.format(mid="mid", given="X").replace("frame(X)", "outer(vane turned 90)")
    pair = HEAD + FRAME.format(mid="mid", given="X").replace(
        "frame(X)", "frame(vane mirrored turned 270) | frame(vane turned 90)"
    )
    assert drawn(text) == drawn(pair)


def test_a_unit_with_arguments_of_its_own_may_be_given() -> None:
    text = HEAD + "unit block2(a, b)\n    half-square a, b\n    finished 4\n\n"
    text += FRAME.format(mid="mid", given="block2(oak, sail) turned 90")
    assert drawn(text) == drawn(HEAD + FRAME.format(mid="mid", given="vane turned 90"))


def test_sizes_beside_what_is_given_are_those_as_it_lies() -> None:
    text = (
        HEAD + "block frame(mid)\n    row mid 4 x 3 | sail 2 x 3\n\nquilt\n    layout\n        frame(spar turned 90)\n"
    )
    assert drawn(text) == drawn(text.replace("4 x 3", ""))


@pytest.mark.parametrize("turn", ["0", "90", "180", "270", "360", "side*15"])
def test_a_turn_by_name(turn: str) -> None:
    text = HEAD + "let side = 6\n\nblock gate(turn)\n    row vane turned turn\n\nquilt\n    layout\n        gate({})\n"
    degrees = 90 if turn == "side*15" else int(turn) % 360
    direct = HEAD + f"quilt\n    layout\n        vane turned {degrees}\n"
    assert drawn(text.format(turn)) == drawn(direct)


def told(text: str) -> list[Problem]:
    return [p for p in run(Project("slipway.pattern", text), guarded=False) if not p.advice]


@pytest.mark.parametrize(
    "given, code",
    [("oak turned 90", "out-of-place"), ("mast turned 90", "unknown-name"), ("vane turned 45", "odd-turn")],
)
def test_what_can_not_be_given(given: str, code: str) -> None:
    assert [p.code for p in told(HEAD + FRAME.format(mid="mid", given=given))] == [code]


@pytest.mark.parametrize("turn, code", [("45", "odd-turn"), ("1/2", "odd-turn"), ("oak", "unknown-name")])
def test_turns_that_are_none(turn: str, code: str) -> None:
    text = HEAD + f"block gate(turn)\n    row vane turned turn\n\nquilt\n    layout\n        gate({turn})\n"
    assert code in [p.code for p in told(text)]


def test_the_formatter_keeps_them() -> None:
    text = "quilt\n    layout\n        frame(vane   turned 90,lamp(glow , 4) mirrored)|vane turned   turn\n"
    done = format_text(text)
    assert "frame(vane turned 90, lamp(glow, 4) mirrored) | vane turned turn" in done
    assert format_text(done) == done and not parse("f", done).problems
