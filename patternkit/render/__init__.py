"""Renderers: one booklet tree as Markdown, as a web page, as paper.

from patternkit import render
render.markdown(booklet), render.drawing_files(booklet)
render.html(booklet)
render.pdf(booklet, paper="a4")
"""

from __future__ import annotations

from patternkit.render.as_html import html
from patternkit.render.as_markdown import drawing_files, markdown
from patternkit.render.as_pdf import pdf
from patternkit.render.choose import keys_of, only

__all__ = ["drawing_files", "html", "keys_of", "markdown", "only", "pdf"]
