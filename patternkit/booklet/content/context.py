"""What every part of the booklet reads: the project, its plan, fabrics with their letters, phrases, drawings' look."""

from __future__ import annotations

from functools import cached_property
from typing import Any, Mapping

from patternkit.booklet.drawing.look import Look
from patternkit.booklet.drawing.swatches import Swatch, assign
from patternkit.booklet.phrases import Phrases
from patternkit.lengths import Length
from patternkit.model.pattern import Pattern
from patternkit.piecing.making import Making
from patternkit.plan.counts import Count
from patternkit.plan.model import Plan
from patternkit.project import Project
from patternkit.units import SYSTEMS, Units


SECTIONS = ("units", "blocks", "top", "borders")


class Context:
    """One pattern in one size and colourway, planned and ready to be told. `sizes` are its sister contexts, one for
    each row of the sizes table, when the booklet covers them all."""

    def __init__(self, project: Project, plan: Plan, top: Making | None, phrases: Phrases,
                 sizes: tuple[Context, ...] = ()) -> None:
        self.project, self.plan, self.top, self.phrases, self.sizes = project, plan, top, phrases, sizes

    @property
    def pattern(self) -> Pattern:
        """The model."""
        return self.project.pattern

    @property
    def units(self) -> Units:
        """The units lengths are printed in."""
        return self.phrases.units

    @property
    def size_name(self) -> str:
        """The title of the row of the sizes table; "as written" without one."""
        row = next((s for s in self.pattern.sizes if s.name == self.pattern.size), None)
        return row.title if row else self.phrases.say("words.as_written")

    @cached_property
    def swatches(self) -> dict[str, Swatch]:
        """Letters, textures and colours of the fabrics."""
        used = [f for f in self.pattern.fabrics.values()]
        return assign((f.key, f.title, f.colour, f.value) for f in used)

    @cached_property
    def look(self) -> Look:
        """How drawings are told."""
        words = {k: v for k, v in self.phrases.table("drawing").items()}
        return Look(self.units, self.pattern.settings.seam, words)

    def say(self, key: str, **values: Any) -> str:
        """A phrase filled in."""
        return self.phrases.say(key, **values)

    def fabric(self, key: str) -> str:
        """A fabric as it is always called: ``Midnight blue (A)``."""
        swatch = self.swatches.get(key)
        return f"{swatch.title} ({swatch.letter})" if swatch else key

    def raw(self, making: Making) -> tuple[Length, Length]:
        """What a unit measures, raw edge to raw edge."""
        s = self.pattern.settings.seam * 2
        return making.width + s, making.height + s

    def count(self, making: Making) -> Count:
        """The count of a making that is in the plan."""
        found = self.plan.count_of(making)
        assert found is not None
        return found

    def listed(self, items: list[str]) -> str:
        """Items in a row of words: ``a, b and c``."""
        if len(items) < 2:
            return "".join(items)
        return f"{', '.join(items[:-1])} {self.say('words.and')} {items[-1]}"

    def shape(self, width: Length, height: Length, n: int) -> str:
        """Square or rectangle, in the number asked."""
        word = "square" if width == height else "rectangle"
        return self.say(f"words.{word}{'' if n == 1 else 's'}")

    @cached_property
    def steps(self) -> list[Count]:
        """The makings that are sewn in a step of their own, in reading order: units, blocks, top, borders."""
        own = [c for c in self.plan.counts if c.making.seams or c.making.recipe.phrase not in ("patch", "row-joined")]
        return sorted(own, key=lambda c: SECTIONS.index(section_of(c.making)))  # stable: sewing order within each


def section_of(making: Making) -> str:
    """The section a making's step stands in."""
    if making.role == "quilt":
        return "borders" if making.kind in ("border", "mitred-border") else "top"
    return {"unit": "units", "block": "blocks", "row": "top", "centre": "top"}.get(making.role, "borders")


def units_for(pattern: Pattern, wanted: str, catalogue: Mapping[str, str]) -> Units:
    """The units to print in: those asked for, the language's own, or the file's."""
    return SYSTEMS.get(wanted or catalogue.get("units", ""), pattern.settings.units)
