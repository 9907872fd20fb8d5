"""How strips are joined end to end: the seam that is told is the one that the lengths are reckoned with."""

from __future__ import annotations

import pytest

import patternkit
from patternkit.lengths import Length
from patternkit.project import Project
from tests.published.desk import plain, planned, sound

WORDS = {"en": ("straight seams", "diagonal seams"), "de": ("geraden, auseinander", "diagonalen, auseinander")}


def told(project: Project, language: str, proof: bool = False) -> str:
    """The Markdown of a booklet (or of its proof sheet) in the pattern's own units."""
    made = patternkit.files(sound(project), formats=("md",), language=language, units="inches", proof=proof)
    return next(data.decode() for name, data in made.items() if name.endswith(".md"))


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("straight", [True, False])
def test_binding_is_joined_as_stated(language: str, straight: bool) -> None:
    """96 x 110, 12 in more, 2 1/2 in strips of 40 in: 12 with diagonal joins, 11 with joins of 1/2 in."""
    project = plain("96", "110", "binding cut 2 1/2 night" + (", joined straight" if straight else ""))
    made = planned(project).binding
    assert made is not None and made.straight == straight and made.strips == (11 if straight else 12)
    assert made.gives == Length(40) * made.strips - made.join * (made.strips - 1)
    text = told(project, language)
    says, never = WORDS[language] if straight else WORDS[language][::-1]
    (paragraph,) = (x for x in text.splitlines() if x.startswith(("Binding:", "Einfassung:")))
    assert says in paragraph and never not in paragraph
    reckoned = told(project, language, proof=True)
    less = "less" if language == "en" else "weniger"
    assert f"40 in {less} {'1/2' if straight else '2 1/2'} in" in reckoned


def test_border_strips_are_joined_straight() -> None:
    """A side of 60 in from 40 in cloth: two strips less one straight join of 1/2 in; the booklet says so."""
    project = plain("60", "60", "border 3 night")
    (long,) = planned(project).long_strips
    need = sum((length * n for length, n, _ in long.lengths), Length(0))
    assert long.join == Length(1) / 2 and not long.diagonal
    assert Length(40) * long.strips - long.join * (long.strips - 1) >= need
    assert Length(40) * (long.strips - 1) - long.join * (long.strips - 2) < need
    assert "end to end with straight seams pressed open" in told(project, "en")


def test_a_bias_square_is_told_with_what_it_gives() -> None:
    text = told(plain("57", "75", "binding cut 2 1/4 night, bias, from a square"), "en")
    (paragraph,) = (x for x in text.splitlines() if x.startswith("Binding on the bias"))
    for part in (
        "26 in a side",
        "8 strips 2 1/4 in wide",
        "moved along by one strip",
        "at least 284 in",
        "need 276 in",
    ):
        assert part in paragraph


def test_slanted_strips_are_told_with_their_length_of_cloth() -> None:
    project = plain("20", "20", "binding cut 2 1/4 night, allowance 10, bias", night="usable width 31")
    (paragraph,) = (x for x in told(project, "en").splitlines() if x.startswith("Binding on the bias"))
    for part in ("11 3/8 in high", "2 1/4 in apart at 45 degrees", "cut 6 strips", "need 90 in"):
        assert part in paragraph
