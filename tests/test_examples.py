"""Every example is sound: it passes its check, its patches cover the quilt, and its booklet and drawings are made."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from patternkit import api
from patternkit.drawing import assembly, audit, cuts, making, methods, steps, strips, templates
from patternkit.drawing.scene import Scene
from patternkit.project import Project
from patternkit.syntax.words import FINISHES, KINDS, PHRASES
from tests.setting.build import covers, seams_meet

FOLDER = Path(__file__).parent.parent / "examples"
EXAMPLES = sorted(
    p for p in (*FOLDER.glob("*.pattern"), *FOLDER.glob("traditional/*.pattern")) if "wrong" not in p.name
)
each = pytest.mark.parametrize("path", EXAMPLES, ids=[p.stem for p in EXAMPLES])
DRAWING = (assembly, cuts, making, methods, steps, strips, templates)


@cache
def project(path: Path) -> Project:
    """An example, read once for all tests."""
    return api.load(path)


@each
def test_passes_its_check(path: Path) -> None:
    assert [p.message for p in api.check(project(path)) if not p.advice] == []


@each
def test_patches_cover_the_quilt(path: Path) -> None:
    top = project(path).top
    assert top is not None
    covers(top)
    seams_meet(top)


@each
def test_booklet_and_drawings(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Markdown and HTML are written; every drawing passes the audit; no number, name or colour is missing in them."""
    scenes: dict[str, Scene] = {}
    for module in DRAWING:
        real = module.finished

        def kept(scene: Scene, key: str, real=real):  # type: ignore[no-untyped-def]
            scenes[key] = scene
            return real(scene, key)

        monkeypatch.setattr(module, "finished", kept)
    files = api.files(project(path), formats=("md", "html"))
    assert {f"{path.stem}.md", f"{path.stem}.html"} <= set(files)
    assert {key: found for key, scene in scenes.items() if (found := audit(scene))} == {}
    assert "cover" in scenes
    text = files[f"{path.stem}.md"].decode()
    assert not re.search(r"Undefined|None\b|\{\{|\}\}", text)
    shown = set(re.findall(rf"\]\(({path.stem}-drawings/[^)]+)\)", text))
    assert shown and shown <= set(files)


@cache
def words() -> str:
    """All examples and what they include, without comments."""
    return "\n".join(re.sub(r"# .*", "", p.read_text()) for p in sorted(FOLDER.rglob("*.pattern")))


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_unit_is_shown(kind: str) -> None:
    assert re.search(rf"^    {kind}\b", words(), re.MULTILINE)


@pytest.mark.parametrize("phrase", [f"{finish} {phrase}" for finish in FINISHES for phrase in PHRASES[finish] or [""]])
def test_every_setting_and_finish_is_shown(phrase: str) -> None:
    finish, _, said = phrase.partition(" ")
    usual = {("setting", "straight"), ("binding", "straight"), ("border", "sides first")}
    if (finish, said) not in usual:
        assert re.search(rf"^    {finish}\b.*{said}", words(), re.MULTILINE)


def test_there_are_twenty_traditional_ones() -> None:
    assert len([p for p in EXAMPLES if p.parent.name == "traditional"]) >= 20
