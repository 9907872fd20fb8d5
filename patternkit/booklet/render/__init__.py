"""Renderers: one booklet tree as Markdown, as a web page.

    from patternkit.booklet import render
    render.markdown(booklet), render.drawing_files(booklet), render.html(booklet)
"""

from __future__ import annotations

from patternkit.booklet.render.html import html
from patternkit.booklet.render.markdown import drawing_files, markdown

__all__ = ["drawing_files", "html", "markdown"]
