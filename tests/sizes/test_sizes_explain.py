"""What is said about sizes that do not agree: the steps, the repairs, the two seams."""

from __future__ import annotations

from fractions import Fraction

import pytest

from patternkit.lengths import Length
from patternkit.sizes import Affine, System, Var, adds_up, claimed, same, stated
from patternkit.sizes.explain import Explained, explain
from patternkit.sizes.open_words import render_open
from patternkit.sizes.wording import Wording, number_text
from patternkit.source import Span
from patternkit.units import CENTIMETRES

SEAM = Length(Fraction(1, 4))
SIDE = Affine.parameter("side")


class Writer:
    """Adds statements in the order in which they are written."""

    def __init__(self, unit: str = "in") -> None:
        self.system, self.at, self.unit = System(), 0, unit

    def span(self) -> Span:
        self.at += 10
        return Span("quilt.pattern", self.at, self.at + 5)

    def size(
        self,
        name: str,
        inches: Affine | Fraction | int,
        text: str,
        claim: bool = False,
        key: str | None = None,
        raw: bool = False,
    ) -> None:
        value, at = Affine.of(inches), self.span()
        cause = (claimed if claim else stated)(at, text, value, number=at, unit=self.unit, key=key, raw=raw)
        self.system.add({(name, "width"): 1}, value - SEAM * 2 if raw else value, cause)

    def row(self, place: str, whole: str, *parts: str) -> None:
        labels = tuple((p, wide(p)) for p in parts)
        self.system.add(
            [*((v, 1) for _, v in labels), (wide(whole), -1)],
            0,
            adds_up(self.span(), place, labels, (whole, wide(whole))),
        )

    def seam(self, place: str, one: str, two: str) -> None:
        self.system.add(
            {wide(one): 1, wide(two): -1}, 0, same(self.span(), place, ((one, wide(one)), (two, wide(two))))
        )

    def told(self, **env: int) -> list[Explained]:
        units = Wording(env={k: Length(v) for k, v in env.items()})
        if self.unit == "cm":
            units = Wording(CENTIMETRES)
        return explain(self.system.solve(), units, seam=SEAM)


def wide(name: str) -> Var:
    return name, "width"


def lantern(claim: Fraction | int, raw: bool = False) -> Writer:
    w = Writer()
    w.size("corner", 3, "corner finishes 3 in wide")
    w.size("wall", 3, "wall finishes 3 in wide")
    w.row("row 1 of block lantern", "block lantern", "corner", "wall", "corner")
    w.size("block lantern", claim, f"block lantern finishes {Affine(claim).text()} in wide", claim=True, raw=raw)
    return w


def test_a_claim_is_held_against_the_pieces_in_steps() -> None:
    (told,) = lantern(Fraction(19, 2)).told()
    assert told.claim
    assert [s.text for s in told.steps] == [
        "corner finishes 3 in wide",
        "wall finishes 3 in wide",
        "row 1 of block lantern: corner 3 in + wall 3 in + corner 3 in = 9 in",
        "block lantern finishes 9 1/2 in wide; the other statements make it 9 in",
    ]
    assert [(r.text, r.replacement) for r in told.repairs] == [
        ("block lantern finishes 9 1/2 in wide: write 9 in instead of 9 1/2 in", "9"),
        ("wall finishes 3 in wide: write 3 1/2 in instead of 3 in", "3 1/2"),
        ("corner finishes 3 in wide: write 3 1/4 in instead of 3 in", "3 1/4"),
    ]
    assert told.repairs[0].span == told.closing.number


def test_nobody_is_blamed() -> None:
    for told in (*lantern(Fraction(19, 2)).told(), *lantern(10).told()):
        said = " ".join([told.message, told.hint, *(s.text for s in told.steps), *(r.text for r in told.repairs)])
        assert not {"wrong", "mistake", "error", "incorrect", "should"} & set(said.lower().split())
        assert len(told.repairs) > 1


def test_exactly_two_seams_are_recognised() -> None:
    (more,) = lantern(Fraction(19, 2)).told()
    assert more.hint == "9 1/2 in is exactly two seams (1/2 in) more than 9 in: it may be the size with seams"
    (less,) = lantern(9, raw=True).told()
    assert less.hint == "9 in is exactly two seams (1/2 in) less than 9 1/2 in: it may be the finished size"
    (other,) = lantern(10).told()
    assert other.hint == ""


def test_a_finished_size_is_never_guessed_to_be_one_and_no_cut_to_have_seams() -> None:
    """What is two seams too small and said to be finished is no finished size taken for one with seams; a cut that is
    two seams too large has its seams in any case."""
    (less,) = lantern(Fraction(17, 2)).told()
    assert "block" not in less.hint
    w = Writer()
    w.size("rust", 10, "rust is cut 10 in wide", raw=True)
    w.size("block", 9, "block finishes 9 in wide", claim=True)
    w.seam("row 1", "rust", "block")
    (told,) = w.told()
    assert "rust" not in told.hint and "10 in" not in told.hint


def test_both_sides_of_a_seam_are_told() -> None:
    w = Writer()
    w.size("corner", 3, "corner finishes 3 in wide")
    w.row("row 1", "top", "corner", "corner", "corner")
    w.size("goose", 5, "goose finishes 5 in wide")
    w.row("row 2", "bottom", "goose", "goose")
    w.seam("between row 1 and row 2", "top", "bottom")
    (told,) = w.told()
    assert not told.claim
    assert told.message == (
        "between row 1 and row 2: top is 9 in and bottom is 10 in, and they are sewn along one edge"
    )
    assert [s.text for s in told.steps] == [
        "corner finishes 3 in wide",
        "row 1: corner 3 in + corner 3 in + corner 3 in = 9 in",
        "goose finishes 5 in wide",
        "row 2: goose 5 in + goose 5 in = 10 in",
        told.message,
    ]
    # 4 1/2 is on the ruler, 3 1/3 is not
    assert [r.replacement for r in told.repairs] == ["4 1/2", None]
    assert [r.change.on_grid for r in told.repairs if r.change] == [True, False]


def test_a_piece_that_is_worked_out_is_said() -> None:
    w = Writer()
    w.size("block", 9, "block finishes 9 in wide")
    w.size("corner", 3, "corner finishes 3 in wide")
    w.row("row 1", "block", "corner", "wall", "corner")
    w.size("wall", 2, "wall measures 2 1/2 in wide", claim=True)
    (told,) = w.told()
    assert "row 1: corner 3 in + wall + corner 3 in = 9 in, so wall is 3 in" in [s.text for s in told.steps]


def test_one_number_that_settles_several_is_said_first() -> None:
    w = Writer()
    w.size("wall", Fraction(7, 2), "wall finishes 3 1/2 in wide")
    for b in "abc":
        w.row(f"row 1 of {b}", b, "wall", "wall")
        w.size(b, 6, f"{b} finishes 6 in wide", claim=True)
    (told,) = w.told()
    assert len(told.conflicts) == 3
    assert told.repairs[0].text == (
        "wall finishes 3 1/2 in wide: write 3 in instead of 3 1/2 in; this would settle 3 disagreements at once"
    )


def test_a_number_that_others_agree_with_comes_last() -> None:
    w = Writer()
    w.size("a", 3, "a finishes 3 in wide")
    w.size("b", 3, "b finishes 3 in wide", claim=True)
    w.size("c", 4, "c finishes 4 in wide", claim=True)
    w.seam("seam 1", "a", "b")
    w.seam("seam 2", "a", "c")
    (told,) = w.told()
    assert [r.replacement for r in told.repairs] == ["3", "4"]
    assert told.repairs[1].text.endswith("; 1 other statement would then differ")


def test_a_number_in_several_equations_changes_in_all() -> None:
    # a square typed once: its width lies in one row, its height in a column
    w = Writer()
    w.size("square", 3, "square finishes 3 in", key="square")
    w.size("square high", 3, "square finishes 3 in", key="square")
    w.row("row", "block", "square", "square high")
    w.size("block", 8, "block finishes 8 in wide", claim=True)
    (told,) = w.told()
    assert {r.replacement for r in told.repairs} == {"6", "4"}


def test_a_condition_offers_the_parameter_too() -> None:
    w = lantern(9)
    w.size("plain", SIDE, "plain finishes side wide")
    w.seam("between lantern and plain", "block lantern", "plain")
    assert w.told(side=9) == []
    told = w.told(side=10)
    texts = [r.text for t in told for r in t.repairs]
    assert "let side be 9 in" in texts
    assert "plain finishes side wide: write side - 1 instead of side (9 in as the pattern stands)" in texts
    assert told[0].condition == SIDE - 9 or told[0].condition == 9 - SIDE


def test_numbers_are_offered_in_the_unit_they_were_typed_in() -> None:
    cm = Fraction(50, 127)
    w = Writer("cm")
    w.size("a", 8 * cm, "a finishes 8 cm wide")
    w.row("row 1", "b", "a", "a")
    w.size("b", 15 * cm, "b finishes 15 cm wide", claim=True)
    (told,) = w.told()
    assert {r.replacement for r in told.repairs} == {"16", "7.5"}


@pytest.mark.parametrize(
    ("inches", "unit", "text"),
    [
        (Fraction(5, 4), "in", "1 1/4"),
        (Fraction(36), "yd", "1"),
        (Fraction(45), "yd", "1 1/4"),
        (Fraction(1, 3), "in", None),
        (Fraction(1), "cm", "2.54"),
        (Fraction(1, 128), "in", None),
        (Fraction(1, 3), "cm", None),
        (Fraction(1), "furlong", None),
    ],
)
def test_replacements_are_exact_or_none(inches: Fraction, unit: str, text: str | None) -> None:
    assert number_text(Affine(inches), unit) == text


def test_a_repair_never_leaves_less_than_nothing() -> None:
    w = Writer()
    w.size("a", 1, "a finishes 1 in wide")
    w.size("b", 8, "b finishes 8 in wide")
    w.row("row 1", "c", "a", "b")
    w.size("c", 3, "c finishes 3 in wide", claim=True)
    (told,) = w.told()
    assert {r.replacement for r in told.repairs} == {"9", "2"}  # a would have to be -5 in


def test_very_many_contradictions_are_bounded() -> None:
    from time import process_time

    w = Writer()
    for i in range(300):
        w.size(f"a{i}", 3, f"a{i} finishes 3 in wide")
        w.row(f"row {i}", f"b{i}", f"a{i}", f"a{i}")
        w.size(f"b{i}", 7, f"b{i} finishes 7 in wide", claim=True)
    start = process_time()
    told = w.told()
    assert len(told) == 300 and all(len(t.repairs) == 2 for t in told)
    assert process_time() - start < 5


def test_sizes_that_nobody_gave_are_said_with_what_would_settle_them() -> None:
    w = Writer()
    w.row("row 1 of block lantern", "block lantern", "corner", "wall")
    w.size("block lantern", 9, "block lantern finishes 9 in wide", claim=True)
    w.system.need(wide("plain"))
    first, second = (render_open(g, Wording()) for g in w.system.solve().free())
    assert first.message == "nothing settles corner width and wall width"
    assert first.remedies == (
        "say how large corner width is; the others follow",
        "say how large wall width is; the others follow",
    )
    assert [c.place for c in first.mentions] == ["row 1 of block lantern"]
    assert second.remedies == ("say how large plain width is",) and second.mentions == ()
    w = Writer()
    w.row("row 1", "top", "a", "b", "c", "d", "e")
    (only,) = (render_open(g, Wording()) for g in w.system.solve().free())
    assert only.message == "nothing settles a width, b width, c width and 3 more"
    assert only.remedies == (
        "5 sizes are lacking: say, for instance, how large a width, b width, c width and 2 more are",
    )


def test_a_formula_is_not_turned_into_quite_another() -> None:
    w = Writer()
    w.size("wall", SIDE / 3, "wall finishes side/3 wide")
    w.row("row 1", "block", "wall", "wall", "wall")
    w.size("block", 9, "block finishes 9 in wide", claim=True)
    (told,) = w.told(side=12)
    assert [r.text for r in told.repairs] == [
        "block finishes 9 in wide: write 12 in instead of 9 in",
        "let side be 9 in",
        "block finishes 9 in wide: write side instead of 9 in (12 in as the pattern stands)",
        "wall finishes side/3 wide: write side/3 - 1 instead of side/3 (3 in as the pattern stands)",
    ]


def test_a_sentence_is_said_once() -> None:
    w = Writer()
    w.size("square", 3, "square finishes 3 in", key="square")
    w.size("square high", 3, "square finishes 3 in", key="square")
    w.row("row", "block", "square", "square high")
    w.size("block", 8, "block finishes 8 in wide", claim=True)
    (told,) = w.told()
    assert [s.text for s in told.steps].count("square finishes 3 in") == 1
