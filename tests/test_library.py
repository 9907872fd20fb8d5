"""The library by its public names, as somebody's own program uses it."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

import patternkit
from patternkit import api
from patternkit.desk.session import Session
from patternkit.lengths import Length
from patternkit.project import Project

EXAMPLES = Path(__file__).parents[1] / "examples"
CHAIN = EXAMPLES / "traditional" / "four-patch-chain.pattern"
TIDE = EXAMPLES / "tide-star.pattern"


def live(path: Path) -> Project:
    session = Session(path.name)
    session.check(path.read_text(encoding="utf-8"))
    assert session.project is not None
    return session.project


def bought(project: Project) -> dict[str, tuple[Length, Length]]:
    plan, problems = project.plan(solver=False)
    assert not problems and plan.fabrics
    return {key: (f.used, f.buy) for key, f in plan.fabrics.items()}


def refused(why: str, *args: object, **wishes: object) -> None:
    with pytest.raises(patternkit.PatternError, match=why):
        patternkit.files(*args, **wishes)  # type: ignore[arg-type]


# -- public names ------------------------------------------------------------------------------------------
def test_public_names_stay_what_they_are_however_often_they_are_used() -> None:
    project = patternkit.load(TIDE)
    for _ in range(2):
        assert patternkit.make_booklet(project).title == project.pattern.settings.title
    for name in set(patternkit.__all__) - {"PatternError", "Problem"}:
        assert getattr(patternkit, name) is getattr(api, name)
    assert patternkit.check(project) == []


# -- the project of a session ------------------------------------------------------------------------------
@pytest.mark.parametrize("path", [CHAIN, TIDE], ids=lambda p: p.stem)
def test_the_project_of_a_session_does_all_that_a_loaded_one_does(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    project, fresh = live(path), Project(path.name, text)
    assert patternkit.check(project) == patternkit.check(fresh)
    assert dict(project.sources).keys() == {path.name} and project.sources[path.name].text == text
    assert project.pressing is not None and fresh.pressing is not None
    assert project.pressing.sides == fresh.pressing.sides
    assert bought(project) == bought(fresh)
    wishes = {"formats": ("md", "html")}
    assert patternkit.files(project, **wishes) == patternkit.files(fresh, **wishes)  # type: ignore[arg-type]
    assert patternkit.files(project, proof=True) == patternkit.files(fresh, proof=True)


def test_the_project_of_a_session_in_another_size_and_colourway() -> None:
    project, fresh = live(CHAIN), patternkit.load(CHAIN)
    for row in fresh.pattern.sizes:
        one, other = project.in_size(row.name), fresh.in_size(row.name)
        assert bought(one) == bought(other)
        assert one.pressing is not None and other.pressing is not None and one.pressing.sides == other.pressing.sides
        assert one.with_values({}).pattern.settings.title == other.pattern.settings.title
        assert project.in_size(row.name) is one
    for way in fresh.pattern.colourways:
        one, other = project.in_size("", way.name).pattern.fabrics, fresh.in_size("", way.name).pattern.fabrics
        assert {k: (f.title, f.colour) for k, f in one.items()} == {k: (f.title, f.colour) for k, f in other.items()}


def test_a_faulty_text_of_a_session_is_refused_with_places_in_it(tmp_path: Path) -> None:
    text = TIDE.read_text(encoding="utf-8").replace("measures 8 1/2", "measures 8")
    session = Session("live.pattern")
    found = session.check(text)
    assert session.project is not None
    with pytest.raises(patternkit.PatternError) as caught:
        patternkit.write(session.project, tmp_path)
    assert caught.value.problems == [p for p in found if not p.advice]
    assert all(p.span.file in caught.value.sources for p in caught.value.problems)


def test_a_session_of_many_chunks_may_include_as_many_files_as_a_loaded_pattern() -> None:
    heads = "".join(f"\nunit vane-{n}\n    half-square night, glow\n    finished 3\n" for n in range(60))
    text = 'include "cloth"\n' + heads
    session = Session("live.pattern", lambda including, path: (path, "fabric night dark\nfabric glow light\n"))
    assert not [p for p in session.check(text) if not p.advice]


# -- what is refused ---------------------------------------------------------------------------------------
def test_wishes_that_nobody_can_meet_are_refused_before_anything_is_made() -> None:
    project = patternkit.load(CHAIN)
    refused("no size .*quen", patternkit.load(CHAIN, size="quen"))
    refused("no colourway .*rust", patternkit.load(CHAIN, colourway="rust"))
    refused("sidee", patternkit.load(CHAIN, values={"sidee": Length(3)}))
    refused("no format called docx; there is md, html, pdf", project, formats=("md", "docx"))
    refused("no paper called a5", project, paper="a5")
    refused("no language called fr", project, language="fr")
    refused("no way to print lengths called ells; there is inches, cm, mm", project, units="ells")
    refused("no section verses", project, only=("verses",))


@pytest.mark.parametrize("value", [8.5, "8 1/2", True, None])
def test_values_are_exact_or_refused(value: object) -> None:
    with pytest.raises(TypeError, match=r"side is set to .*, which is no exact number"):
        patternkit.load(TIDE, values={"side": value})  # type: ignore[dict-item]
    with pytest.raises(TypeError, match=r"side is set to .*, which is no exact number"):
        patternkit.load(TIDE).with_values({"side": value})  # type: ignore[dict-item]


@pytest.mark.parametrize("value", [9, Fraction(17, 2), Length(Fraction(17, 2))])
def test_exact_values_of_any_kind_are_taken(value: int | Fraction | Length) -> None:
    text = 'pattern "One"\nlet side = 3\nfabric night\nblock wall\n    patch night\n    finished side\n'
    project = patternkit.load(TIDE).with_values({"side": value}, text)
    assert project.pattern.parameters["side"] == value
    assert project.makings["wall"].width == value
