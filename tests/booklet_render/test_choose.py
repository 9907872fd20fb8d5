"""Parts of a booklet."""

from __future__ import annotations

from patternkit import render
from patternkit.document import Booklet


def test_one_section_wherever_it_stands(rich_booklet: Booklet) -> None:
    part = render.only(rich_booklet, {"unit-2", "cutting"})
    assert [s.key for s in part.sections] == ["cutting", "units"]
    assert part.sections[0] == rich_booklet.sections[2]
    assert [s.key for s in part.sections[1].blocks] == ["unit-2"]  # type: ignore[union-attr]
    assert part.cover == rich_booklet.cover and not part.templates


def test_templates_alone_and_nothing(rich_booklet: Booklet) -> None:
    assert render.only(rich_booklet, ["templates"]).templates == rich_booklet.templates
    assert not render.only(rich_booklet, ["tide"]).sections


def test_all_keys_give_the_whole(rich_booklet: Booklet) -> None:
    keys = render.keys_of(rich_booklet)
    assert keys[-1] == "templates" and "unit-1" in keys
    assert render.only(rich_booklet, keys) == rich_booklet
