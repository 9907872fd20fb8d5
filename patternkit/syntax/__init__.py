"""From the text of a pattern file to typed statements, with every mistake reported in the writer's words."""

from patternkit.syntax.parse import parse

__all__ = ["parse"]
