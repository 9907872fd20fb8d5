"""Lengths and words in every spelling that a writer or her word processor may use."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from patternkit.syntax import statements as st

from .helpers import line_codes, meaning, read, statement

ONE_AND_A_QUARTER = [
    "1 1/4",
    "1-1/4",
    "1¼",
    "1 ¼",
    "1-¼",
    "1.25",
    "1\u00a01/4",
    "1\u202f¼",
    "1–1/4",
    "1 1⁄4",
    "1 ¹⁄₄",
    "5/4",
    "1‑1/4",
]


@pytest.mark.parametrize("text", ONE_AND_A_QUARTER)
@pytest.mark.parametrize(
    "tail, unit",
    [
        ("", None),
        (" in", "in"),
        ("in", "in"),
        ('"', "in"),
        ("”", "in"),
        ("“", "in"),
        ("″", "in"),
        ("''", "in"),
        (" inches", "in"),
        (" in.", "in"),
        (" cm", "cm"),
        ("cm", "cm"),
        (" mm", "mm"),
        (" yd", "yd"),
        (" yards", "yd"),
        (" m", "m"),
        ("\u00a0m", "m"),
        (" CM", "cm"),
        (" ft", "ft"),
    ],
)
def test_a_length_in_every_spelling(text: str, tail: str, unit: str | None) -> None:
    claim = statement(f"finished {text}{tail}")
    assert claim.width.value == F(5, 4)
    assert claim.width.unit == unit
    assert claim.height is None


@pytest.mark.parametrize(
    "character, value",
    [
        ("½", F(1, 2)),
        ("⅓", F(1, 3)),
        ("⅔", F(2, 3)),
        ("¼", F(1, 4)),
        ("¾", F(3, 4)),
        ("⅛", F(1, 8)),
        ("⅜", F(3, 8)),
        ("⅝", F(5, 8)),
        ("⅞", F(7, 8)),
        ("⅙", F(1, 6)),
        ("⅚", F(5, 6)),
        ("⅕", F(1, 5)),
        ("⅒", F(1, 10)),
    ],
)
def test_fraction_characters(character: str, value: F) -> None:
    assert statement(f"finished {character}").width.value == value
    assert statement(f"finished 12{character}").width.value == 12 + value
    assert statement(f"finished 12{character}”").width.unit == "in"


@pytest.mark.parametrize("text", ["3x4", "3 x 4", "3×4", "3 × 4", "3 X 4", "3X4", "3 x4", "3x 4"])
def test_x_between_two_lengths(text: str) -> None:
    claim = statement(f"finished {text}")
    assert (claim.width.value, claim.height.value) == (3, 4)


def test_a_unit_written_once_counts_for_both_sides() -> None:
    claim = statement("finished 3 1/2 x 6 1/2 in")
    assert (claim.width.value, claim.width.unit, claim.height.unit) == (F(7, 2), "in", "in")
    claim = statement("finished 8cmx10cm")
    assert (claim.width.value, claim.width.unit, claim.height.value, claim.height.unit) == (8, "cm", 10, "cm")
    claim = statement('finished 3½"x6½"')
    assert (claim.width.value, claim.height.value, claim.width.unit, claim.height.unit) == (
        F(7, 2),
        F(13, 2),
        "in",
        "in",
    )


def test_a_name_that_starts_with_x_is_no_size() -> None:
    assert statement("x4 | x5", "rows").items[0].name == "x4"
    assert line_codes("x | a", "rows") == ["reserved-word"]


def shown(e: st.Expr) -> str:
    """An expression with all its brackets, to compare how it was taken."""
    if isinstance(e, st.Num):
        return str(e.value)
    if isinstance(e, st.Ref):
        return e.name
    if isinstance(e, st.Binary):
        return f"({shown(e.left)}{e.op}{shown(e.right)})"
    return f"{e.name}[{shown(e.args[0])}]"


@pytest.mark.parametrize(
    "text, want",
    [
        ("side/3", "(side/3)"),
        ("2*side", "(2*side)"),
        ("side/3/4", "((side/3)/4)"),
        ("side / 3/4", "(side/3/4)"),
        ("5 - 3", "(5-3)"),
        ("5 - 3 - 1", "((5-3)-1)"),
        ("a - b*c", "(a-(b*c))"),
        ("(a - b)*c", "((a-b)*c)"),
        ("-3", "-[3]"),
        ("-(a + 1)", "-[(a+1)]"),
        ("root(2)*side", "(root[2]*side)"),
        ("root (2)", "root[2]"),
        ("1 1/4 + 1/8", "(5/4+1/8)"),
        ("9 − 1 1/2", "(9-3/2)"),
        ("9 – 1", "(9-1)"),
        ("a·b", "(a*b)"),
        ("9÷c", "(9/c)"),
        ("side-one", "side-one"),
        ("side -1", "(side-1)"),
        ("2 * 1 1/4", "(2*5/4)"),
        ("9/2", "9/2"),
        ("9 / 2", "(9/2)"),
    ],
)
def test_arithmetic(text: str, want: str) -> None:
    assert shown(statement(f"let a = {text}", "file").value) == want


def test_subtraction_needs_spaces() -> None:
    assert line_codes("let a = 5-3", "file") == ["glued-minus"]
    assert line_codes("let a = 3½-1", "file") == ["glued-minus"]
    assert statement("let a = 3-1/4", "file").value.value == F(13, 4)


@pytest.mark.parametrize(
    "text, code",
    [
        ("finished 1234567890123", "number-too-long"),
        ("finished 1.1234567890123", "number-too-long"),
        ("finished 1/0", "nothing-below"),
        ("make 123456789012", None),
    ],
)
def test_numbers_nobody_sews(text: str, code: str | None) -> None:
    assert line_codes(text) == ([code] if code else [])


@pytest.mark.parametrize(
    "quoted", ['"Quay stone"', "“Quay stone”", "”Quay stone”", '“Quay stone"', '"Quay stone”', "„Quay stone“"]
)
def test_quotes(quoted: str) -> None:
    head = statement(f"fabric stone {quoted} medium", "file")
    assert (head.title, head.value) == ("Quay stone", "medium")


def test_a_curly_quote_inside_straight_ones() -> None:
    assert statement('fabric s "the “Lantern” cloth" dark', "file").title == "the “Lantern” cloth"


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends(end: str, lantern: str) -> None:
    plain = read(lantern)
    other = read(lantern.replace("\n", end))
    assert not other.problems
    assert meaning(other) == meaning(plain)


def test_what_a_word_processor_does(lantern: str) -> None:
    pasted = "\ufeff" + lantern.replace("    ", "\t").replace('"', "”").replace("1/4", "¼").replace("block ", "Block ")
    pasted = pasted.replace("5, down", "5,\u00a0down").rstrip("\n")
    file = read(pasted)
    assert not file.problems
    assert meaning(file) == meaning(read(lantern))


@pytest.mark.parametrize("word", ["flying-geese", "flying geese", "Flying  Geese", "FLYING\u00a0GEESE"])
def test_kinds_with_a_space_for_their_hyphen(word: str) -> None:
    kind = statement(f"{word} a, b")
    assert kind.kind == "flying-geese"
    assert [use.name for use in kind.line.items] == ["a", "b"]


def test_names_fold_to_small_letters_and_plain_hyphens() -> None:
    assert statement("Bear’s‑Paw | Étoile", "rows").items[0].name == "bear's-paw"
    assert statement("Bear’s‑Paw | Étoile", "rows").items[1].name == "étoile"
