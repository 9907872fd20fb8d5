"""Values of a wrong sort behind every option of every kind: one problem each, on the line where it stands."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.piecing.kinds import kinds
from patternkit.project import Project

HEAD = """\
pattern "Saltmarsh trial"

fabric night "Midnight"
fabric sky "Sky"
fabric glow "Lamp"

unit rung
    strips night 1 1/2 | sky 1 1/2 | glow 1 1/2 | sky 1 1/2 | night 1 1/2
    finished 1 1/2 high

unit end
    trapezoid night
    finished 2 high

block tried
"""
RIGHT = (
    ("band rung", ("stagger 1 1/2",), "finished 24 x 4"),
    ("diamond night, sky", ("angle 60",), "finished 3 high"),
    ("eight-point-star night, glow, sky", ("side 3",), ""),
    ("flipped-corners night, glow", ("corner 2", "at top left"), "finished 6"),
    ("half-rectangle night, glow", ("leaning left",), "finished 2 x 4"),
    ("hexagon night, sky", ("angle free",), "finished 6 x 4"),
    ("hexagons night", ("side 1", "round glow", "background sky"), ""),
    ("kite night, sky", ("angle free", "shoulder 2"), "finished 3 x 6"),
    ("log-cabin sky 2", ("log 1", "round glow, night", "rounds 2", "start left", "clockwise"), ""),
    ("log-cabin sky 2", ("logs night 1, glow 1", "extra 1/4"), "method foundation"),
    ("courthouse-steps sky 2", ("log 1", "round glow, night", "rounds 2", "start left"), ""),
    ("courthouse-steps sky 2", ("logs night 1, glow 1", "extra 1/4"), "method foundation"),
    ("parallelogram night, sky", ("angle 45", "top 3"), "finished 2 high"),
    ("partial-seam sky 2", ("round night 2", "clockwise"), ""),
    ("plate night, glow", ("blades 20", "hole 4", "ends pointed", "sweep 360"), "finished 16"),
    ("quarter-circle night, sky", ("radius 4",), "finished 6"),
    ("slices night", ("slice from middle of top to middle of bottom, glow left", "dog-ears kept"), "finished 6"),
    ("square-in-a-square night, glow", ("float 1/2",), "finished 6"),
    ("strings night 1, glow", ("string cut 1 3/4",), "finished 6"),
    ("strips night 2 | glow 2", ("slant 45",), "cut 2 1/2"),
    ("trapezoid night, sky", ("angle 60", "top 3"), "finished 2 high"),
    ("triangle-strip night, glow", ("triangles 7", "ends half, sky", "first up"), "finished 3 high"),
    ("tumbling-block night, glow, sky", ("side 2",), ""),
    ("row end | end turned 180", ("ends half, sky",), ""),
)
WRONG = ("3 x 3", "0", "-1", "foo", "3, 4", "3 4", "1000000", "", "top left")
FINE = {("float", ""), ("extra", "0")}
UNTRIED = {"counterclockwise", "outline", "lay"}
"""Another word for one that is tried; what stands beside slices of its own sort."""


def problems(text: str) -> list[tuple[int, int, str]]:
    """Where each problem stands, and what it says."""
    found = run(Project("trial.pattern", text), guarded=False)
    return [(p.span.start, p.span.end, p.message) for p in found if not p.advice]


def written(kind: str, options: tuple[str, ...], size: str) -> str:
    """A pattern with one block of that kind."""
    return HEAD + "".join(f"    {line}\n" for line in (kind, *options, size) if line)


@pytest.mark.parametrize(("kind", "options", "size"), RIGHT, ids=lambda x: x if isinstance(x, str) else "")
def test_a_wrong_value_is_one_problem(kind: str, options: tuple[str, ...], size: str) -> None:
    assert problems(written(kind, options, size)) == []
    for n, right in enumerate(options):
        word = right.split()[0]
        for wrong in WRONG:
            line = f"{word} {wrong}".strip()
            if line == right or (word, wrong) in FINE or (word == "logs" and wrong in ("0", "1000000")):
                continue
            text = written(kind, (*options[:n], line, *options[n + 1 :]), size)
            found = problems(text)
            start = text.index(f"    {line}\n")
            assert found, line
            if wrong != "0":  # of a log of no width it is told that nothing is left of it
                assert all(start <= a and b <= start + 4 + len(line) for a, b, _ in found), (line, found)
            assert len({a for a, _, _ in found}) == len(found) <= (2 if word == "round" else 1), (line, found)


@pytest.mark.parametrize(
    ("kind", "right", "wrong", "size"),
    [
        ("plate night\n    hole 4", "blades 20", "blades 20 in", "finished 16"),
        ("plate night\n    hole 4", "ends round", "ends round, pointed", "finished 16"),
        ("diamond night", "angle 60", "angle 60 in", "finished 3 high"),
        ("strips night 2 | glow 2", "slant 45", "slant 45 in", "cut 2 1/2"),
        ("half-rectangle night, glow", "leaning left", "leaning left, right", "finished 2 x 4"),
        ("patch night", "make 2", "make 2 in", "finished 3"),
    ],
)
def test_what_is_counted_or_chosen_stands_alone(kind: str, right: str, wrong: str, size: str) -> None:
    assert problems(written(kind, (right,), size)) == []
    assert len(problems(written(kind, (wrong,), size))) == 1


def test_every_option_is_tried() -> None:
    tried = {(kind.split()[0], line.split()[0]) for kind, options, _ in RIGHT for line in options}
    words = {(kind.words[0], word) for kind in kinds().values() for word in kind.options}
    assert {pair for pair in words - tried if pair[1] not in UNTRIED} - {("slices", "extra")} == set()
