"""How fast a booklet is rendered, and a made-up booklet to render.

    python -m patternkit.bench.booklet

prints the time of each renderer for a booklet of about 20 pages, and that of the PDF against the typesetter's own time
on the finished source. Goals: PDF within 1 s and 1.5 times the typesetter's time, HTML within 0.5 s.
"""

from __future__ import annotations

import re
import subprocess
import sys
import time
from collections.abc import Callable
from statistics import median

from patternkit.document import (
    Block,
    Booklet,
    Bullets,
    Callout,
    Drawing,
    Figure,
    NumberedStep,
    Paragraph,
    PrintedTemplate,
    Rich,
    Section,
    Table,
)

_FABRICS = (("A", "Samphire", "#b9543a"), ("B", "Creek", "#3f7f80"), ("C", "Sandbar", "#e6d9b8"))


def patchwork(key: str, cells: int, side: float, title: str, description: str) -> Drawing:
    """A square of `cells` by `cells` patches, `side` points wide; each with colour, texture, letter."""
    step = side / cells
    parts = [
        '<defs><pattern id="dots" width="6" height="6" patternUnits="userSpaceOnUse">'
        '<circle cx="3" cy="3" r="0.9" fill="#1f2b2a"/></pattern></defs>'
    ]
    for row in range(cells):
        for column in range(cells):
            letter, _, colour = _FABRICS[(row * 2 + column) % 3]
            x, y = column * step, row * step
            box = f'x="{x:.2f}" y="{y:.2f}" width="{step:.2f}" height="{step:.2f}"'
            parts.append(f'<rect {box} fill="{colour}" stroke="#1f2b2a" stroke-width="0.6"/>')
            if letter == "B":
                parts.append(f'<rect {box} fill="url(#dots)"/>')
            if step >= 20:
                size = min(12.0, step / 3)
                parts.append(
                    f'<text x="{x + step / 2:.2f}" y="{y + step / 2 + size / 3:.2f}" font-size="{size:.1f}" '
                    f'text-anchor="middle" font-family="sans-serif">{letter}</text>'
                )
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{side}pt" height="{side}pt" '
        f'viewBox="-1 -1 {side + 2} {side + 2}">{"".join(parts)}</svg>'
    )
    return Drawing(key, svg, title, description, side, side)


def piece(key: str, width: float, height: float, title: str) -> Drawing:
    """A triangle template of `width` by `height` inches in points: raw edge, finished line, grain arrow."""
    w, h = width * 72, height * 72
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}pt" height="{h}pt" viewBox="0 0 {w} {h}">'
        f'<polygon class="raw" points="0,{h} {w},{h} {w / 2},0" fill="#ffffff" stroke="#1f2b2a" '
        f'stroke-width="0.75"/>'
        f'<polygon points="36,{h - 18} {w - 36},{h - 18} {w / 2},40" fill="none" stroke="#1f2b2a" '
        f'stroke-width="0.5" stroke-dasharray="4 3"/>'
        f'<line x1="{w / 2}" y1="{h * 0.45}" x2="{w / 2}" y2="{h * 0.8}" stroke="#1f2b2a"/>'
        f'<text x="{w / 2 + 6}" y="{h * 0.7}" font-size="9" font-family="sans-serif">grain</text></svg>'
    )
    return Drawing(key, svg, title, f"{title}, {width} x {height} in, point upward.", w, h, true_size=True)


def sample(units: int = 14) -> Booklet:
    """A booklet with every kind of block, `units` units long (14 make about 20 pages)."""
    cover = patchwork("quilt", 12, 330, "The quilt", "A square of 144 patches in three fabrics, in slanting rows.")
    facts = (
        ("Finished size", "60 1/2 x 72 1/2 in before binding; 60 x 72 in without the outer seam"),
        ("Blocks", "30 blocks, 12 in finished"),
        ("Seam", "1/4 in"),
        ("Usable width assumed", "40 in"),
    )
    sections = (
        Section("need", "What to buy", _buy()),
        Section("before", "Before you begin", _before()),
        Section("cutting", "Cutting", _cutting(), new_page=True),
        Section("units", "Units", tuple(_unit(n) for n in range(1, units + 1)), new_page=True),
        Section("top", "Putting the top together", _top(), new_page=True),
        Section(
            "finishing",
            "Finishing",
            (Rich("Layer, baste, quilt *as you like*. See **binding** in the cutting table."),),
        ),
    )
    templates = (
        PrintedTemplate(
            piece("kite", 3, 2.5, "Kite"),
            "Kite, finished 2 1/2 in",
            ("Cut 24 of fabric A", "Seam allowance included"),
        ),
        PrintedTemplate(piece("wedge", 2, 4, "Wedge"), "Wedge", ("Cut 24 of fabric B and 24 mirrored",)),
        PrintedTemplate(piece("sail", 12, 10, "Sail"), "Sail", ("Cut 4 of fabric C", "Seam allowance included")),
    )
    return Booklet(
        title="Tide Tables",
        author="Saltmarsh Sewing Room",
        subtitle="A lap quilt in three fabrics",
        cover=cover,
        facts=facts,
        sections=sections,
        templates=templates,
        copyright="Copyright Saltmarsh Sewing Room. One copy for the buyer's own sewing.",
        contact="corrections@saltmarsh.example",
    )


def _buy() -> tuple[Block, ...]:
    rows = tuple((letter, name, f"{n} 1/4 yd", "40 in") for n, (letter, name, _) in enumerate(_FABRICS, start=1))
    return (
        Table("Fabric to buy", ("Fabric", "Name", "Amount", "Usable width"), rows, "llrr"),
        Bullets(("Rotary cutter, mat and a 6 x 24 in ruler", "Thread to piece and to quilt", "Batting 68 x 80 in")),
    )


def _before() -> tuple[Block, ...]:
    return (
        Paragraph("All seams are 1/4 in. Sizes are width before height. Press after each seam, before the next."),
        Callout("caution", "Close the blade after each cut. The iron is hot to its very edge."),
        Bullets(("WOF: width of fabric", "RST: right sides together", "HST: half-square triangle"), numbered=True),
        Rich(
            "Test your seam: sew **three** strips of 1 1/2 in; the middle one must show *exactly* 1 in."
            "\n\n- thread\n- needle"
        ),
    )


def _cutting() -> tuple[Block, ...]:
    made: list[Block] = []
    for letter, name, _ in _FABRICS:
        rows = tuple(
            (f"({n})", f"strips {n} 1/4 in x WOF", f"({4 * n}) squares {n} 1/4 x {n} 1/4 in", "four-patch")
            for n in range(1, 12)
        )
        made.append(Table(f"Fabric {letter}, {name}", ("Count", "First cut", "Then cut", "For"), rows, "rlll"))
    return tuple(made)


def _unit(number: int) -> Section:
    side = 90 + 10 * (number % 4)
    before = patchwork(f"unit-{number}-before", 3, side, f"Unit {number} before sewing", "Nine patches laid out apart.")
    after = patchwork(f"unit-{number}", 3, side, f"Unit {number}", "Nine patches sewn: three rows of three.")
    steps = (
        NumberedStep(
            3 * number - 2,
            "Lay out the patches",
            (
                Paragraph("Take (4) squares of A and (5) of B, 2 1/2 x 2 1/2 in. Lay them in three rows."),
                Figure((before,)),
            ),
        ),
        NumberedStep(
            3 * number - 1,
            "Sew the rows",
            (
                Paragraph("Sew each row from left to right with a 1/4 in seam."),
                Paragraph("toward B in the first and third row, toward A in the second.", lead="Press:"),
                Figure((before, after), "Before and after"),
            ),
        ),
        NumberedStep(
            3 * number,
            "Join the rows",
            (
                Paragraph("Let the joints lock, pin, sew. Make 30."),
                Callout("checkpoint", "The unit measures 6 1/2 x 6 1/2 in, and each patch shows 2 in."),
                Callout("tip", "Chain the units: **one thread**, no cutting between.", rich=True),
                Figure((after,), "Make 30"),
            ),
        ),
    )
    return Section(f"unit-{number}", f"Nine-patch unit {number}", (Paragraph("Make 30 units, 6 in finished."), *steps))


def _top() -> tuple[Block, ...]:
    drawing = patchwork("assembly", 10, 400, "The top in rows", "Ten rows of ten blocks, pulled apart.")
    return (
        NumberedStep(
            90,
            "Join the blocks in rows",
            (Paragraph("Sew ten rows of ten blocks."), Figure((drawing,), "Row by row")),
        ),
        Callout("remedy", "A row 1/4 in short: cut each end piece 1/8 in longer."),
        Callout("note", "Rows are heavy: press toward the *plain* blocks.", rich=True),
    )


def _best(action: Callable[[], object], times: int = 5) -> float:
    """The quickest of some runs, in seconds."""
    found = []
    for _ in range(times):
        start = time.perf_counter()
        action()
        found.append(time.perf_counter() - start)
    return min(found)


_FRESH = """
import time
from patternkit.bench.booklet import sample
from patternkit import render
from patternkit.render import as_pdf
booklet = sample()
as_pdf._typesetter()
source = as_pdf.source(booklet) if {typeset} else ""
start = time.perf_counter()
as_pdf.typeset(source) if {typeset} else render.pdf(booklet)
print(time.perf_counter() - start)
"""


def _fresh(typeset: bool, times: int = 5) -> float:
    """The middle one of some runs, each in its own process: the typesetter remembers what it set before."""
    code = _FRESH.format(typeset=typeset)
    runs = (subprocess.run([sys.executable, "-c", code], capture_output=True, check=True) for _ in range(times))
    return median(float(run.stdout) for run in runs)


def main() -> None:
    """Print the times and their ratios."""
    from patternkit import render

    booklet = sample()
    print(f"markdown  {_best(lambda: render.markdown(booklet)) * 1000:7.1f} ms")
    html = _best(lambda: render.html(booklet))
    print(f"html      {html * 1000:7.1f} ms  (goal 500; {html / 0.5:.2f} of it)")
    engine, whole = _fresh(typeset=True), _fresh(typeset=False)
    again = _best(lambda: render.pdf(booklet))
    pages = len(re.findall(rb"/Type/Page\b(?!s)", render.pdf(booklet)))
    print(f"pdf       {whole * 1000:7.1f} ms  (goal 1000; {whole:.2f} of it), {pages} pages, fresh process")
    print(f"typeset   {engine * 1000:7.1f} ms  -> pdf / typeset {whole / engine:.2f} (goal 1.5)")
    print(f"again     {again * 1000:7.1f} ms  for the same booklet in the same process")


if __name__ == "__main__":
    main()
