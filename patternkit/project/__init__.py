"""A pattern on its way through the rooms: what is read (`sources`), what follows from it (`answers`), and the sizes and
colourways of one pattern (`family`)."""

from __future__ import annotations

from patternkit.project.family import Memories, Project
from patternkit.project.sources import Reader, Sources

__all__ = ["Memories", "Project", "Reader", "Sources"]
