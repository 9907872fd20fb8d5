"""Numbers typed into texts are read by what is said of them: finished, measured, cut, bought, counted."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.project import Project

TEXT = """pattern "Lanterns"
    intro
        {}
fabric night dark
fabric glow light
unit spark
    half-square night, glow
    finished 3
block lantern
    rows
        spark | glow  | spark
        glow  | night | glow
        spark | glow  | spark
    finished 9
quilt
    across 3, down 4
    tile
        lantern
    border 2 1/2 night
    backing glow
"""


def advice(text: str) -> list[str]:
    found = run(Project("lanterns.pattern", TEXT.format(text)), guarded=False)
    assert {p.code for p in found} <= {"number-in-prose", "bias-outside", "seams-fight"}
    return [p.message for p in found if p.code == "number-in-prose"]


@pytest.mark.parametrize(
    "text",
    [
        "Each lantern finishes 9 in.",
        "Each lantern measures 9 1/2 in, raw edge to raw edge.",
        "A lantern is a 9 in finished block.",
        "The sparks are cut from squares of 3 7/8 in.",
        "Trim the sparks to 3 1/2 in.",
        "Cut strips of 3 1/2 in.",
        "The quilt finishes 32 x 41 in.",
        "The top measures 32 1/2 x 41 1/2 in.",
        "A border 2 1/2 in wide frames it.",
        "Sew 12 lanterns of 4 sparks each.",
        "There are 48 sparks in all.",
        "In each row lie 3 lanterns.",
        "Press every seam twice; 20 minutes will do.",
        "It took us 99 lanternless evenings.",
    ],
)
def test_true_numbers_pass(text: str) -> None:
    assert advice(text) == []


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Each lantern finishes 9 1/2 in.", "9 1/2 in stands in the text, and nothing in the pattern finishes that."),
        ("Each lantern measures 9 in now.", "9 in stands in the text, and nothing in the pattern measures that."),
        ("The sparks are cut 9 in wide.", "9 in stands in the text, and nothing in the pattern is cut that."),
        ("Take squares of 3 5/8 in.", "3 5/8 in stands in the text, and nothing in the pattern has that size."),
        ("The quilt finishes 32 x 40 1/2 in.", "32 x 40 1/2 in stands in the text"),
        ("The quilt finishes 32 x 32 in.", "32 x 32 in stands in the text"),
        ("You need 9 yd of night.", "9 yd stands in the text"),
        ("Sew 14 lanterns.", "14 lanterns stands in the text, and the pattern has no such number of lantern."),
        ("Lay 5 sparks in each.", "5 sparks stands in the text, and the pattern has no such number of spark."),
    ],
)
def test_numbers_of_another_kind_are_told(text: str, said: str) -> None:
    """All but one of these sizes are sizes of the pattern: each side of a pair, and those of another kind."""
    (message,) = advice(text)
    assert message.startswith(said)


def test_what_it_is_instead_is_told() -> None:
    found = run(Project("lanterns.pattern", TEXT.format("Each lantern finishes 9 1/2 in.")), guarded=False)
    (told,) = (p for p in found if p.code == "number-in-prose")
    assert told.advice and told.causes[0] == "The pattern has that size, and of another kind."


def test_numbers_of_every_size_pass() -> None:
    more = "sizes\n    small across 2, down 2\n    large across 5, down 6\n"
    text = TEXT.format("Sew 4 lanterns for the small quilt, and 30 lanterns for the large one.") + more
    assert not [p for p in run(Project("l.pattern", text), guarded=False) if p.code == "number-in-prose"]
