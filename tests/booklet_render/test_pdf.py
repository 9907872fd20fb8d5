"""The PDF by its structure: pages, bookmarks, tags, fonts, scale, sameness."""

from __future__ import annotations

import io
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from patternkit import render
from patternkit.bench.booklet import piece, sample
from patternkit.document import (
    Booklet,
    Drawing,
    Figure,
    NumberedStep,
    Paragraph,
    PrintedTemplate,
    Rich,
    Section,
    Table,
)
from patternkit.problems import PatternError
from patternkit.render import as_pdf
from patternkit.render.sheets import OVERLAP
from patternkit.render.viewer import unscaled

from .pdf_paths import Shape, pages_of, squares
from .pdf_text import structure, words_of

pytest.importorskip("typst", reason='the extra "print" is not installed')
FIVE_CM = 5 / 2.54 * 72


@pytest.fixture(scope="module")
def made(rich_booklet: Booklet) -> bytes:
    return render.pdf(rich_booklet)


@pytest.fixture
def opened(made: bytes) -> Iterator[pikepdf.Pdf]:
    with pikepdf.open(io.BytesIO(made)) as document:
        yield document


def test_same_bytes_twice_and_in_another_process(made: bytes, rich_booklet: Booklet, tmp_path: Path) -> None:
    assert render.pdf(rich_booklet) == made
    code = (
        "import sys; from patternkit.bench.booklet import sample; from patternkit import render\n"
        "sys.stdout.buffer.write(render.pdf(sample(units=2)))"
    )
    other = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, check=True, env={"PYTHONPATH": ":".join(sys.path)}
    )
    assert other.stdout == made


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595.2756, 841.8898))])
def test_page_boxes(rich_booklet: Booklet, paper: Any, size: tuple[float, float]) -> None:
    with pikepdf.open(io.BytesIO(render.pdf(rich_booklet, paper=paper))) as document:
        for page in document.pages:
            left, bottom, right, top = (float(v) for v in page.mediabox)
            assert (left, bottom) == (0, 0)
            assert (right, top) == pytest.approx(size, abs=0.001)


def test_catalogue(opened: pikepdf.Pdf) -> None:
    root = opened.Root
    assert str(root.Lang) == "en"
    assert bool(root.MarkInfo.Marked)
    assert str(root.ViewerPreferences.PrintScaling) == "/None"
    assert bool(root.ViewerPreferences.DisplayDocTitle)
    assert str(opened.docinfo["/Title"]) == "Tide Tables"
    assert str(opened.docinfo["/Author"]) == "Saltmarsh Sewing Room"
    assert "/CreationDate" not in opened.docinfo
    assert opened.open_metadata().get("pdfuaid:part") == "1"
    assert opened.check_pdf_syntax() == []


def test_bookmarks(opened: pikepdf.Pdf) -> None:
    with opened.open_outline() as outline:
        titles = [item.title for item in outline.root]
        assert titles == [
            "What to buy",
            "Before you begin",
            "Cutting",
            "Units",
            "Putting the top together",
            "Finishing",
            "Templates at true size",
        ]
        units = next(item for item in outline.root if item.title == "Units")
        assert [child.title for child in units.children] == ["Nine-patch unit 1", "Nine-patch unit 2"]
        assert len(units.children[0].children) == 3


def test_fonts_are_embedded_and_ours(opened: pikepdf.Pdf) -> None:
    names = set()
    for item in opened.objects:
        if isinstance(item, pikepdf.Dictionary) and item.get("/Type") == "/FontDescriptor":
            assert "/FontFile2" in item or "/FontFile3" in item
            names.add(str(item.FontName).split("+")[1])
    assert names and all(name.startswith(("Vollkorn", "OpenSans", "DejaVuSansMono")) for name in names)


def test_each_drawing_has_its_words(opened: pikepdf.Pdf, rich_booklet: Booklet) -> None:
    figures = [e for e in structure(opened.Root.StructTreeRoot) if str(e.S) == "/Figure"]
    said = {str(e.get("/Alt", "")) for e in figures}
    assert "" not in said
    assert "The quilt. A square of 144 patches in three fabrics, in slanting rows." in said
    assert any("Sail, 12 x 10 in, point upward. Test squares" in words for words in said)


def test_tables_are_tagged_with_heads(opened: pikepdf.Pdf) -> None:
    kinds = [str(e.S) for e in structure(opened.Root.StructTreeRoot)]
    assert kinds.count("/Table") == 4
    assert kinds.count("/TH") == 16
    assert "/H1" in kinds and "/Title" not in kinds[0]


def test_text_comes_in_reading_order(made: bytes) -> None:
    text = "\n".join(words_of(made))
    places = [
        text.index(words)
        for words in (
            "Tide Tables",
            "Contents",
            "Fabric to buy",
            "Close the blade",
            "Fabric A, Samphire",
            "Step 1",
        )
    ]
    assert places == sorted(places)
    assert "2 1/2 x 2 1/2 in" in text  # a set fraction is still found as it is typed


def test_running_foot(made: bytes) -> None:
    pages = words_of(made)[:-1]
    assert "Page" not in pages[0]
    for number, page in enumerate(pages[1:], start=2):
        assert f"Page {number} of {len(pages)}" in page and "Tide Tables" in page


def test_a_long_table_repeats_its_head() -> None:
    rows = tuple((f"row {n}", "2 1/2 in") for n in range(120))
    table = Table("Long", ("Piece", "Size of it"), rows)
    pages = words_of(render.pdf(Booklet("T", "", "", None, (), (Section("a", "A", (table,)),))))
    holding = [page for page in pages if "row " in page]
    assert len(holding) >= 3 and all("Size of it" in page for page in holding)


def test_no_step_is_split_from_its_drawing() -> None:
    square = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {w} {w}"><rect width="{w}" height="{w}"/></svg>'
    steps = []
    for number in range(1, 25):
        side = 60 + 37 * (number % 7)
        drawing = Drawing(f"d{number}", square.format(w=side), "Square", f"Number {number}", side, side)
        words = (Paragraph(f"First words {number}w."), Paragraph(f"Last words {number}w."))
        steps.append(NumberedStep(number, f"Title {number}w", (*words, Figure((drawing,)))))
    pdf = render.pdf(Booklet("T", "", "", None, (), (Section("a", "A", tuple(steps)),)))
    pages = words_of(pdf)
    place = {n: next(i for i, page in enumerate(pages) if f"Title {n}w" in page) for n in range(1, 25)}
    for number, page in place.items():
        assert f"First words {number}w." in pages[page] and f"Last words {number}w." in pages[page]
    with pikepdf.open(io.BytesIO(pdf)) as document:
        page_of = {page.obj.objgen: i for i, page in enumerate(document.pages)}
        for figure in structure(document.Root.StructTreeRoot):
            if str(figure.S) == "/Figure":
                number = int(str(figure.Alt).split("Number ")[1])
                assert page_of[_page(figure).objgen] == place[number]


def _page(element: Any) -> Any:
    """The page a structure element's content stands on."""
    if "/Pg" in element:
        return element.Pg
    kids = element.K if isinstance(element.K, pikepdf.Array) else [element.K]
    return next(kid.Pg for kid in kids if isinstance(kid, pikepdf.Dictionary) and "/Pg" in kid)


def test_a_step_longer_than_a_page_is_not_lost() -> None:
    words = tuple(Paragraph(f"Sentence {n}w of a very long step. " * 8) for n in range(60))
    text = "\n".join(
        words_of(render.pdf(Booklet("T", "", "", None, (), (Section("a", "A", (NumberedStep(1, "x", words),)),))))
    )
    assert all(f"Sentence {n}w" in text for n in range(60))


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_each_sheet_has_an_inch_and_five_centimetres(rich_booklet: Booklet, paper: Any) -> None:
    sheets = pages_of(render.pdf(rich_booklet, paper=paper, include="templates"))
    assert len(sheets) >= 3
    for shapes in sheets:
        sides = squares(shapes)
        assert sum(abs(side - 72) < 1e-3 for side in sides) == 1, sides
        assert sum(abs(side - FIVE_CM) < 1e-3 for side in sides) == 1, sides


def triangle(shapes: list[Shape], width: float, height: float) -> list[Shape]:
    """Shapes of three corners with this extent."""
    found = []
    for shape in shapes:
        xs, ys = [x for x, _ in shape], [y for _, y in shape]
        if len({(round(x, 2), round(y, 2)) for x, y in shape}) == 3 and (
            abs(max(xs) - min(xs) - width) < 1e-3 and abs(max(ys) - min(ys) - height) < 1e-3
        ):
            found.append(shape)
    return found


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_templates_are_at_true_size_and_their_parts_meet(paper: Any) -> None:
    """Raw edges are as long as drawn; a diamond lies at the same spot of the template on both neighbours."""
    sail = PrintedTemplate(piece("sail", 12, 10, "Sail"), "Sail")
    kite = PrintedTemplate(piece("kite", 3, 2.5, "Kite"), "Kite")
    booklet = Booklet("T", "", "", None, (), (), templates=(kite, sail))
    _, first, *parts = pages_of(render.pdf(booklet, paper=paper))
    assert len(triangle(first, 216, 180)) == 1
    assert len(parts) == 4
    seen: dict[tuple[float, float], set[int]] = {}
    for number, shapes in enumerate(parts):
        (raw,) = triangle(shapes, 864, 720)
        left, top = min(x for x, _ in raw), max(y for _, y in raw)
        diamonds = [s for s in shapes if _is_diamond(s)]
        assert diamonds
        for shape in diamonds:
            x = (min(p[0] for p in shape) + max(p[0] for p in shape)) / 2 - left
            y = top - (min(p[1] for p in shape) + max(p[1] for p in shape)) / 2
            seen.setdefault((round(x, 1), round(y, 1)), set()).add(number)
    assert len(seen) == 8
    assert all(len(on) == 2 for on in seen.values()), seen


def _is_diamond(shape: Shape) -> bool:
    corners = {(round(x, 2), round(y, 2)) for x, y in shape}
    xs, ys = [x for x, _ in shape], [y for _, y in shape]
    size = (max(xs) - min(xs), max(ys) - min(ys))
    return len(corners) == 4 and size == pytest.approx((12, 12), abs=0.01) and len({x for x, _ in corners}) == 3


def test_the_overlap_is_stated() -> None:
    assert OVERLAP == 36
    text = words_of(render.pdf(Booklet("T", "", "", None, (), (), (PrintedTemplate(piece("s", 12, 10, "S"), "S"),))))
    assert "Part 1 of 4" in text[1] and "1/2 in (12.7 mm)" in " ".join(text[1].split())


def test_a_template_as_large_as_a_room_is_refused_in_words() -> None:
    with pytest.raises(PatternError) as caught:
        render.pdf(Booklet("T", "", "", None, (), (), (PrintedTemplate(piece("s", 200, 200, "S"), "Sail"),)))
    assert caught.value.problems[0].code == "template-too-large"
    assert "200.0 x 200.0 in" in str(caught.value)


def test_text_or_templates_alone(rich_booklet: Booklet) -> None:
    text, sheets = render.pdf(rich_booklet, include="text"), render.pdf(rich_booklet, include="templates")
    assert "Test squares" not in "".join(words_of(text)) and "Step 1" in "".join(words_of(text))
    assert "Step 1" not in "".join(words_of(sheets)) and "Kite" in words_of(sheets)[0]
    assert "Page 1 of" in words_of(sheets)[0]  # there is no cover to leave bare


def test_hostile_text_is_shown_as_it_was_typed(hostile_booklet: Booklet) -> None:
    pdf = render.pdf(hostile_booklet)
    text = "".join("".join(words_of(pdf)).split())
    assert '#read("/etc/passwd")' in text and "<script>window.pwned=1</script>" in text
    assert "root:x:0" not in text
    with pikepdf.open(io.BytesIO(pdf)) as document:
        targets = set()
        for page in document.pages:
            for note in page.get("/Annots", []):
                action = note.get("/A")
                if action is not None:
                    assert str(action.S) == "/URI"
                    targets.add(str(action.URI))
        assert targets == {"https://saltmarsh.example/a?b=1&c=%3C2%3E"}
        assert not {"/OpenAction", "/AA", "/AcroForm"} & set(document.Root.keys())
        assert set(document.Root.get("/Names", {}).keys()) <= {"/Dests"}


def test_letters_no_font_has_become_a_box_and_the_file_stays_whole() -> None:
    booklet = Booklet("Quilt 縫い目", "Сара", "", None, (), (Section("a", "A", (Rich("Ω 縫 \U0001f9f5 end"),)),))
    pdf = render.pdf(booklet)
    text = "".join(words_of(pdf))
    assert "□" in text and "Сара" in text and "Ω" in text and "end" in text
    with pikepdf.open(io.BytesIO(pdf)) as document:
        assert document.open_metadata().get("pdfuaid:part") == "1"


def test_without_the_typesetter_the_message_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch, rich_booklet: Booklet
) -> None:
    as_pdf._typesetter.cache_clear()
    monkeypatch.setitem(sys.modules, "typst", None)
    with pytest.raises(PatternError) as caught:
        render.pdf(rich_booklet)
    as_pdf._typesetter.cache_clear()
    assert caught.value.problems[0].code == "print-extra-missing"
    assert "patternkit[print]" in str(caught.value)


def test_a_file_laid_out_otherwise_is_left_alone() -> None:
    assert unscaled(b"%PDF-1.7\nnothing here") == b"%PDF-1.7\nnothing here"


def test_font_licences_are_shipped() -> None:
    folder = Path(as_pdf.__file__).parent / "assets" / "fonts"
    assert "SIL OPEN FONT LICENSE" in (folder / "Vollkorn-OFL-1.1.txt").read_text()
    assert "Apache License" in (folder / "OpenSans-Apache-2.0.txt").read_text()
    assert sum(f.stat().st_size for f in folder.iterdir()) < 2_500_000


def test_quick(rich_booklet: Booklet) -> None:
    booklet = sample()
    render.pdf(rich_booklet)  # the typesetter and its fonts are loaded once, and by whichever test comes first
    start = time.process_time()  # on a machine that does other things as well, the clock tells about those
    pdf = render.pdf(booklet)
    assert time.process_time() - start < 1.0
    with pikepdf.open(io.BytesIO(pdf)) as document:
        assert len(document.pages) >= 19


def test_drawings_of_every_breadth_find_their_place() -> None:
    """Three in a row a little too wide, one wider than the page, one nearly as high: none off the page."""
    square = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {w} {h}"><rect width="{w}" height="{h}"/></svg>'

    def drawing(width: float, height: float) -> Drawing:
        svg = square.format(w=width, h=height)
        return Drawing(f"d{width}-{height}", svg, "Box", "A box", width, height)

    figures = tuple(
        Figure(tuple(drawing(width + i, height) for i in range(count)), "Boxes")
        for count, width, height in ((3, 170, 90), (2, 400, 60), (1, 900, 100), (1, 100, 760), (6, 120, 20))
    )
    for shapes in pages_of(render.pdf(Booklet("T", "", "", None, (), (Section("a", "A", figures),)))):
        for shape in shapes:
            assert all(-0.5 <= x <= 612.5 and -0.5 <= y <= 792.5 for x, y in shape), shape


def test_the_words_of_the_frame_can_be_another_languages() -> None:
    booklet = Booklet(
        "Gezeiten",
        "",
        "",
        None,
        (),
        (Section("a", "Größen", (NumberedStep(1, "Nähen", ()),)), Section("b", "Rand", ())),
        language="de-DE",
        labels={"step": "Schritt", "page": "Seite", "of": "von", "contents": "Inhalt"},
    )
    pdf = render.pdf(booklet)
    text = "\n".join(words_of(pdf))
    assert all(words in text for words in ("Inhalt", "Schritt 1", "Seite 2 von 2"))
    with pikepdf.open(io.BytesIO(pdf)) as document:
        assert str(document.Root.Lang) == "de-DE"
    assert '<html lang="de-DE">' in render.html(booklet)


def test_a_step_a_little_too_high_stays_on_one_page_with_its_drawing_a_little_smaller() -> None:
    svg = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 520"><path d="M0 0h300v520h-300z"/></svg>'
    drawing = Drawing("d", svg, "Tall", "Tall", 300, 520)
    words = tuple(Paragraph(f"Sentence {n}w of the step.") for n in range(8))
    steps = (NumberedStep(1, "Join", (*words, Figure((drawing,)), Paragraph("In the end: trim."))),)
    pdf = render.pdf(Booklet("T", "", "", None, (), (Section("a", "A", steps),)))
    (page,) = (page for page in words_of(pdf) if "Sentence 0w" in page)
    assert "In the end: trim." in page
    (shape,) = (s for shapes in pages_of(pdf) for s in shapes if len(s) >= 4 and _height(s) > 300)
    assert 0.8 * 520 < _height(shape) < 520


def _height(shape: Shape) -> float:
    return max(y for _, y in shape) - min(y for _, y in shape)
