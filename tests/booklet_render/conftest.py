"""A booklet with every kind of block, and one in which every text is hostile."""

from __future__ import annotations

import pytest

from patternkit.bench.booklet import sample
from patternkit.document import (
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

HOSTILE = (
    '</style></title></svg>"\'><script>window.pwned=1</script><img src=x onerror="window.pwned=1"> '
    '#eval("1") #read("/etc/passwd") $x$ @label <b>*bold*</b> {{ 7*7 }} {% raw %} ../../../etc/passwd '
    "javascript:window.pwned=1 &lt;i&gt; \x00\x08\u202e\ud800\ufffe"
)
HOSTILE_RICH = (
    HOSTILE
    + "\n\n<script>window.pwned=1</script>\n\n[go](javascript:window.pwned=1) [file](file:///etc/passwd) "
    + "[data](data:text/html,<script>window.pwned=1</script>) ![huge](https://tracker.example/huge.png) "
    + "![inline](data:image/png;base64,"
    + "A" * 50_000
    + ")\n\n[ok](https://saltmarsh.example/a?b=1&c=<2>)\n\n"
    + "> " * 300
    + "deep\n\n"
    + '#read("/etc/passwd")\n'
)


@pytest.fixture(scope="session")
def rich_booklet() -> Booklet:
    return sample(units=2)


@pytest.fixture(scope="session")
def hostile_booklet() -> Booklet:
    return make_hostile()


def make_hostile() -> Booklet:
    """Every text of every block is hostile, and so are the drawings' own texts and their SVG."""
    bad = HOSTILE
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        'viewBox="0 0 90 90" onload="window.pwned=1">'
        "<style>@import url(https://tracker.example/x.css);</style>"
        "<script>window.pwned=1</script>"
        '<foreignObject><body xmlns="http://www.w3.org/1999/xhtml" onload="window.pwned=1"/></foreignObject>'
        '<image href="https://tracker.example/huge.png" width="99999" height="99999"/>'
        '<a xlink:href="javascript:window.pwned=1">'
        '<text x="4" y="20" onclick="window.pwned=1">words</text></a>'
        '<rect width="80" height="80" fill="url(https://tracker.example/p.svg#p)"/>'
        '<rect width="80" height="80" style="fill:url(https://tracker.example/q)"/>'
        '<use href="https://tracker.example/u.svg#u"/></svg>'
    )
    drawing = Drawing("../../../etc/passwd", svg, bad, bad, 90, 90)
    template = Drawing("../t", svg, bad, bad, 90, 90, true_size=True)
    blocks = (
        Paragraph(bad, lead=bad),
        Rich(HOSTILE_RICH),
        Callout("tip", bad),
        Callout("note", HOSTILE_RICH, rich=True),
        Bullets((bad, "# heading", "1. one", "- dash", "")),
        Table(bad, (bad, "|", ""), ((bad, "|", "`|`"), ("a",)), "lrx"),
        Figure((drawing, drawing), bad),
        NumberedStep(1, bad, (Paragraph(bad), Figure((drawing,), bad))),
        Section("main", bad, (Paragraph(bad),)),
    )
    return Booklet(
        title=bad,
        author=bad,
        subtitle=bad,
        cover=drawing,
        facts=((bad, bad),),
        sections=(Section("../../x", bad, blocks), Section("../../x", bad, blocks, new_page=True)),
        templates=(PrintedTemplate(template, bad, (bad,)),),
        language='en"><script>',
        copyright=bad,
        contact=bad,
        labels={"step": bad, "contents": bad},
    )
