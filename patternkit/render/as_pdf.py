"""A booklet on paper: PDF set by Typst, tagged for readers, the same bytes for the same booklet."""

from __future__ import annotations

import json
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from patternkit.document import Booklet
from patternkit.problems import PatternError, Problem, Repair
from patternkit.render.pdf_data import data_of
from patternkit.render.viewer import unscaled

if TYPE_CHECKING:
    from typst import Compiler

Paper = Literal["letter", "a4"]
Include = Literal["all", "text", "templates"]

_ASSETS = Path(__file__).parent / "assets"
_NO_GLYPH = "could not be displayed"
_SUBSTITUTE = "\u25a1"


def pdf(booklet: Booklet, paper: Paper = "letter", include: Include = "all") -> bytes:
    """The booklet as a PDF file (PDF/UA-1), on Letter or A4; `include` chooses text, templates or all.

    Templates keep their size: 72 points are one inch. Letters that no font of the booklet has are shown as an empty
    box. Raises PatternError `print-extra-missing` when the typesetter isn't installed, `drawing-unreadable` and
    `template-too-large` when a drawing can't be set.
    """
    _typesetter()
    return unscaled(typeset(source(booklet, paper, include)))


def source(booklet: Booklet, paper: Paper = "letter", include: Include = "all") -> str:
    """The finished source: the booklet's data as JSON, which `assets/booklet.typ` sets."""
    return json.dumps(data_of(booklet, paper, include), ensure_ascii=False, separators=(",", ":"))


def typeset(data: str) -> bytes:
    """Data as `source` gives it, set by Typst with the fonts of this package only."""
    from typst import TypstError

    compiler = _typesetter()
    try:
        return _compiled(compiler, data)
    except TypstError as error:
        if _NO_GLYPH not in str(error):
            raise
    missing = set(_without_glyph("".join(sorted({c for c in data if ord(c) > 0xFF}))))
    data = "".join(_SUBSTITUTE if c in missing else c for c in data)
    try:
        return _compiled(compiler, data)
    except TypstError as error:
        if _NO_GLYPH not in str(error):
            raise
    # Letters that each have a form but together have none: still tagged, only not certified so.
    return _compiled(compiler, data, strict=False)


def _compiled(compiler: Compiler, data: str, strict: bool = True) -> bytes:
    made = compiler.compile(format="pdf", sys_inputs={"booklet": data}, pdf_standards=["ua-1"] if strict else [])
    assert isinstance(made, bytes)
    return made


@lru_cache(maxsize=1)
def _typesetter() -> Compiler:
    try:
        import typst
    except ImportError:
        raise PatternError([_missing_extra()]) from None
    fonts = typst.Fonts(include_system_fonts=False, font_paths=[str(_ASSETS / "fonts")])
    return typst.Compiler(str(_ASSETS / "booklet.typ"), root=str(_ASSETS), font_paths=fonts, ignore_system_fonts=True)


def _missing_extra() -> Problem:
    return Problem(
        code="print-extra-missing",
        message="The PDF needs the typesetter Typst, and it is not installed. Install it with: "
        'pip install "patternkit[print]". The web page prints too.',
        repairs=(Repair('Install the extra "print", or write HTML and print it from a browser.'),),
    )


def _without_glyph(letters: str) -> str:
    """Those letters that no font has, found by trial, halving each time."""
    import typst

    if not letters:
        return ""
    trial = b'#set document(title: "-")\n#text(font: ("Vollkorn", "Open Sans"), sys.inputs.letters)'
    fonts = typst.Fonts(include_system_fonts=False, font_paths=[str(_ASSETS / "fonts")])
    compiler = typst.Compiler(font_paths=fonts, ignore_system_fonts=True)

    def tried(part: str) -> str:
        try:
            compiler.compile(trial, format="pdf", sys_inputs={"letters": part}, pdf_standards=["ua-1"])
        except typst.TypstError:
            half = len(part) // 2
            return part if len(part) == 1 else tried(part[:half]) + tried(part[half:])
        return ""

    return tried(letters)
