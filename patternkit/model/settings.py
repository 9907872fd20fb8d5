"""The ``pattern`` statement and fabrics: settings, with the defaults of the trade where the file is silent."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any

from patternkit.lengths import Length
from patternkit.model.amounts import bought
from patternkit.model.cut_claims import claimed_cuts
from patternkit.model.cut_lines import ClaimedCuts
from patternkit.model.pattern import Fabric, Packet, Scrap, Settings, Stock
from patternkit.model.report import Notebook
from patternkit.model.scope import statements
from patternkit.model.values import Broken, Values
from patternkit.problems import Label
from patternkit.sizes.affine import Affine
from patternkit.source import Span
from patternkit.syntax.statements import (
    Bad,
    BattingSold,
    BuyClaim,
    CutsClaim,
    Expr,
    FabricHead,
    Node,
    Num,
    PatternHead,
    PressStatement,
    Prose,
    Repeat,
    Setting,
    Sold,
    Statement,
)
from patternkit.units import IMPERIAL, SYSTEMS, Units

MOST_SHRINKAGE = 50  # percent: cloth in print shrinks up to 5; half of it is a slip of the pen
TEXTS = ("by", "copyright", "contact", "corrections", "number", "edition", "skill", "language")
LANGUAGES = {"en": "English", "de": "German"}
"""The languages of booklets; a region may follow, `en-gb`."""

# Defaults where the file is silent. Inches: the trade's quarter-inch seam and 40 in of usable width (a safe
# convention, published on many pages); centimetres: 0.75 cm seams and 105 cm of usable width, sold by 10 cm
# (common practice, no source). A spare of 1 in, or 3 cm, is for squaring up the two ends: an amount that would
# come out just on the line of the shop's measure goes up to the next one, as careful writers do
# (https://huntersdesignstudio.wordpress.com/about/mission/). Squaring up the end of a strip takes 1/2 in, or 1 cm (a
# choice made here: what a straight cut across a slightly crooked end takes off).
_METRIC = {
    "seam": Fraction(3, 4) / Fraction(254, 100),
    "width": 105 / Fraction(254, 100),
    "lot": 10 / Fraction(254, 100),
    "thread": Fraction(5, 254),
    "spare": 3 / Fraction(254, 100),
    "squaring": 1 / Fraction(254, 100),
}


PACKETS = tuple(
    Packet(name, Length(width), Length(height))
    for name, width, height in (
        ("crib", 45, 60),
        ("twin", 72, 90),
        ("full", 81, 96),
        ("queen", 90, 108),
        ("king", 120, 120),
    )
)
"""Packaged batting, in inches, as a table in print has it
(http://www.honeybegood.com/blogs/resources/12653533-common-quilt-and-batting-sizes); another
(https://project12quilts.blogspot.com/2012/01/quilting-basics-standard-quilt-sizes.html) has 84 x 96 for full and 124 x
120 for king. No table in centimetres was found: there they are said in the pattern, or not known."""


def units_of(pattern: Node | None) -> Units:
    """The units a file is written in; inches where it does not say."""
    for node in statements(pattern.children if pattern else ()):
        s = node.statement
        if isinstance(s, Setting) and s.word == "units" and s.text in SYSTEMS:
            return SYSTEMS[s.text]
    return IMPERIAL


def settings(pattern: Node | None, loose: Iterable[Node], values: Values, notes: Notebook) -> Settings:
    """Read the settings under ``pattern`` and the file-wide press and prose lines."""
    units = values.units
    found: dict[str, Any] = {"units": units, "ruler": units.grid}
    if units is not IMPERIAL:
        found |= {
            "seam": Length(_METRIC["seam"]),
            "usable_width": Length(_METRIC["width"]),
            "lot": _METRIC["lot"],
            "thread": Length(_METRIC["thread"]),
            "spare": Length(_METRIC["spare"]),
            "squaring": Length(_METRIC["squaring"]),
        }
    else:
        found["packets"] = PACKETS
    press: list[PressStatement] = []
    prose: list[Prose] = []
    first: dict[str, Span] = {}
    if pattern is not None and isinstance(pattern.statement, PatternHead):
        found["title"] = pattern.statement.title
        found["span"] = pattern.statement.span
    for node in [*statements(pattern.children if pattern else ()), *loose]:
        s = node.statement
        if isinstance(s, (Setting, Sold)):
            _once(first, s.word if isinstance(s, Setting) else f"sold {s.word}", s.span, "The pattern", notes)
        if isinstance(s, PressStatement) and s.how == "versions":
            notes.report(
                "out-of-place",
                "Two versions are asked for of one unit: under pattern half of them says nothing.",
                s.span,
                causes=["It stands under the unit that is pressed in two versions."],
            )
        elif isinstance(s, PressStatement):
            press.append(s)
        elif isinstance(s, Prose):
            prose.append(s)
        elif isinstance(s, Sold) and s.word == "by" and s.width is not None:
            _length(found, "lot", s.width, values, Fraction(1, 64), as_fraction=True)
        elif isinstance(s, BattingSold):
            _once(first, "batting", s.span, "The pattern", notes)
            found["packets"] = _packets(s, values)
        elif isinstance(s, Setting):
            _setting(found, s, values, notes)
        elif not isinstance(s, Bad):
            notes.report("out-of-place", "This line does not belong under pattern.", s.span)
    return Settings(press=tuple(press), prose=tuple(prose), **found)


def _packets(s: BattingSold, values: Values) -> tuple[Packet, ...]:
    """The sizes in which the writer's shops sell batting, those that can be read."""
    found = []
    for width, height in s.sizes:
        try:
            sides = [values.length(e, {}).value(values.parameters) for e in (width, height or width)]
        except Broken:
            continue
        if min(sides) < 1:
            values.notes.report("too-small", "Batting of this size is too small to be of use.", width.span)
        else:
            found.append(Packet("", *sides))
    return tuple(found)


def _once(first: dict[str, Span], word: str, span: Span, owner: str, notes: Notebook) -> None:
    """Note a line that stands once under its heading and is given again."""
    if word in first:
        stated = word.replace("-", " ")
        notes.report(
            "named-twice",
            f"{owner} says {stated} a second time.",
            span,
            labels=[Label(first[word], "it is first said here")],
            causes=["tools takes several, with commas between them."] if word == "tools" else (),
        )
    first.setdefault(word, span)


def _setting(found: dict[str, Any], s: Setting, values: Values, notes: Notebook) -> None:
    if s.word == "language" and s.text.lower().replace("_", "-").split("-")[0] not in LANGUAGES:
        notes.report(
            "unknown-word",
            f"Booklets are not written in the language {s.text}.",
            s.span,
            causes=["They are written in " + " and ".join(f"{name} ({key})" for key, name in LANGUAGES.items()) + "."],
        )
    elif s.word in TEXTS:
        found[s.word] = s.text
    elif s.word == "tools":
        found["tools"] = s.texts
    elif s.word == "trimming":
        found["trimming"] = s.text == "yes"
    elif s.word == "cutting":
        found["simple"] = s.text == "simple"
    elif s.word == "units":
        if s.text not in SYSTEMS:
            notes.report("unknown-word", f"Units are inches, cm or mm; {s.text} is none of them.", s.span)
    elif s.value is None:
        notes.report("not-understood", f"The line {s.word} needs a value.", s.span)
    elif s.word == "layers":
        try:
            found["layers"] = values.count(s.value, {}, "The number of layers", 100)
        except Broken:
            pass
    elif s.word == "shrinkage":
        try:
            found["shrinkage"] = _percent(s.value, {}, values)
        except Broken:
            pass
    elif s.word == "usable-width":
        _length(found, "usable_width", s.value, values, Fraction(1))
    elif s.word == "ruler":
        _length(found, "ruler", s.value, values, Fraction(1, 1000), as_fraction=True)
    elif s.word in ("seam", "spare", "squaring", "thread"):
        least = Fraction(1, 1000) if s.word == "seam" else Fraction(0)
        _length(found, s.word, s.value, values, least)
        if s.word == "seam":
            found["seam_span"] = s.value.span


def _length(
    found: dict[str, Any], key: str, e: Expr, values: Values, least: Fraction, as_fraction: bool = False
) -> None:
    try:
        length = values.length(e, {}).value(values.parameters)
    except Broken:
        return
    if length < least:
        values.notes.report("too-small", f"The {key.replace('_', ' ')} is too small to work with.", e.span)
    elif as_fraction:
        if length.is_fraction:
            found[key] = length.fraction
    else:
        found[key] = length


def _percent(e: Expr, env: Mapping[str, Affine], values: Values) -> Fraction:
    """What washing takes away, in percent of the length, with or without the sign; raises Broken after noting why it
    can't be that."""
    if isinstance(e, Num) and e.unit is not None and e.unit != "%":
        values.notes.report("unknown-word", f"Shrinkage is in percent, not in {e.unit}.", e.span)
        raise Broken
    plain = Num(e.value, None, e.span) if isinstance(e, Num) else e
    found = values.value(plain, env).value(values.parameters)
    if not found.is_fraction or not 0 <= found.fraction <= MOST_SHRINKAGE:
        values.notes.report("too-large", f"Shrinkage is between 0 and {MOST_SHRINKAGE} percent.", e.span)
        raise Broken
    return found.fraction


def fabric(node: Node, settings: Settings, env: Mapping[str, Affine], values: Values, notes: Notebook) -> Fabric:
    """Read one fabric with the lines under it."""
    head = node.statement
    assert isinstance(head, FabricHead)
    found: dict[str, Any] = {}
    have, scraps = 0, list[Scrap]()
    claim: BuyClaim | None = None
    sold: Sold | None = None
    first: dict[str, Span] = {}
    for child in statements(node.children):
        s = child.statement
        _fabric_line(s, first, head, notes)
        try:
            if isinstance(s, Setting) and s.word == "usable-width" and s.value is not None:
                found["usable_width"] = values.length(s.value, env).value(values.parameters)
            elif isinstance(s, Setting) and s.word == "shrinkage" and s.value is not None:
                found["shrinkage"] = _percent(s.value, env, values)
            elif isinstance(s, Setting) and s.word in ("spare", "squaring") and s.value is not None:
                _length(found, s.word, s.value, values, Fraction(0))
            elif isinstance(s, BuyClaim):
                claim = s
            elif isinstance(s, Repeat):
                found |= _repeat(s, env, values)
            elif isinstance(s, Sold) and s.word == "by" and s.width is not None:
                found["lot"] = values.length(s.width, env).value(values.parameters).fraction
                found["by_length"] = True
            elif isinstance(s, Sold) and s.word == "have" and s.width is not None:
                scraps.append(_scrap(s, env, values))
            elif isinstance(s, Sold) and s.word == "have":
                have = values.count(s.count, env, "What is at hand", 10_000, 0) if s.count else 0
            elif isinstance(s, Sold):
                sold = s
            elif not isinstance(s, (Bad, Prose, CutsClaim)):
                notes.report("out-of-place", "This line does not belong under fabric.", s.span)
        except (Broken, ValueError):
            continue
    if sold is not None:  # after the line that says how wide the cloth is
        try:
            found["stock"] = _stock(sold, found.get("usable_width", settings.usable_width), env, values)
        except Broken:
            pass
    if claim is not None:  # after the lines that say how the cloth is sold
        try:
            found |= bought(claim, found.get("stock"), bool(found.get("by_length")), env, values, head.many)
        except Broken:
            pass
    broken = any(isinstance(c.statement, Bad) for c in node.children if isinstance(c, Node))
    if "have" in first and "stock" not in found and not broken:
        _have_in_vain(head, first["have"], notes)
    cuts = _cuts(node, head, env, values, notes)
    return _fabric(head, settings, {**found, "scraps": tuple(scraps), "cuts": cuts}, have, notes)


def _have_in_vain(head: FabricHead, span: Span, notes: Notebook) -> None:
    notes.report(
        "out-of-place",
        f"Fabric {head.name} is bought by length, so have says nothing.",
        span,
        causes=[
            "have counts the sheets at hand of cloth that is sold as fat-quarters, squares or strips.",
            "Pieces of any other cloth say how large they are: have 3 of 10 x 12.",
        ],
    )


def _cuts(
    node: Node, head: FabricHead, env: Mapping[str, Affine], values: Values, notes: Notebook
) -> tuple[ClaimedCuts, ...]:
    """What is claimed to be cut of a fabric."""
    found = []
    for child in statements(node.children):
        if isinstance(child.statement, CutsClaim):
            try:
                found.append(claimed_cuts(child.statement, {head.name: head.name}, head.name, env, values, notes))
            except Broken:
                continue
    return tuple(found)


def _fabric_line(s: Statement, first: dict[str, Span], head: FabricHead, notes: Notebook) -> None:
    """Note a line of a fabric that is given again, and a text, which has no place in the booklet there."""
    owner = f"Fabric {head.name}"
    if isinstance(s, Sold):
        if s.word == "have" and s.width is not None:
            return  # scraps are of many sizes
        _once(first, s.word if s.word == "have" else "sold by" if s.word == "by" else "sold as", s.span, owner, notes)
    elif isinstance(s, (BuyClaim, Repeat)):
        _once(first, "buy" if isinstance(s, BuyClaim) else "repeat", s.span, owner, notes)
    elif isinstance(s, Setting):
        _once(first, s.word, s.span, owner, notes)
    elif isinstance(s, Prose):
        notes.report(
            "out-of-place",
            f"A text under a fabric is printed nowhere, so this {s.word} says nothing.",
            s.span,
            causes=["It can stand under pattern, where it comes before the cutting, or under a unit."],
        )


def _fabric(head: FabricHead, settings: Settings, found: dict[str, Any], have: int, notes: Notebook) -> Fabric:
    """A fabric from what was said of it. Strips of cloth that comes in sheets run across a sheet."""
    stock: Stock | None = found.get("stock")
    usual = stock.width if stock is not None and not found.get("by_length") else settings.usable_width
    width = found.get("usable_width", usual)
    if width < 1:
        notes.report("too-small", "The usable width is too small to cut from.", head.span)
        width = settings.usable_width
    squaring = found.get("squaring", settings.squaring)
    if width - squaring < 1:
        notes.report("too-small", "Squaring up leaves too little of the usable width to cut from.", head.span)
        squaring = Length(0)
    lot = found.get("lot", settings.lot)
    if lot <= 0:
        notes.report("too-small", "The step in which cloth is sold must be more than nothing.", head.span)
        lot = settings.lot
    if stock is not None and have:
        stock = Stock(stock.form, stock.width, stock.height, stock.pack, have, stock.span)
    return Fabric(
        head.name,
        head.title or head.name,
        head.value,
        head.colour,
        head.directional,
        width,
        lot,
        head.span,
        stock,
        bool(found.get("by_length")),
        found.get("buy"),
        found.get("buy_span"),
        found.get("buy_packs"),
        found.get("spare", settings.spare),
        found.get("shrinkage", settings.shrinkage),
        found.get("buy_sheets"),
        bool(found.get("buy_bare")),
        found["scraps"],
        squaring,
        found["cuts"],
        repeat=found.get("repeat"),
        repeat_span=found.get("repeat_span"),
        buy_each=bool(found.get("buy_each")),
    )


_FORMS = {
    "fat-quarters": (Length(21), Length(18)),
    "fat-eighths": (Length(21), Length(9)),
    "squares": (Length(10), Length(10)),
}
"""Usable sizes: published for nominal 18 x 22 in and 9 x 22 in (https://anniescatalog.com/quilting/content.html), and
the larger of the two squares that packs have."""
_STRIP = Length(Fraction(5, 2))
"""How high the strips of a roll usually are."""


def _stock(s: Sold, usable: Length, env: Mapping[str, Affine], values: Values) -> Stock:
    """A form in which cloth is sold. Strips whose length is not said are as long as the cloth is wide; raises Broken
    for pieces without a size."""
    if s.word == "pieces" and (s.width is None or s.height is None):
        values.notes.report("not-understood", "Pieces are sold in no usual size: say sold as pieces 20 x 30.", s.span)
        raise Broken
    usual = (_STRIP, usable) if s.word == "strips" else _FORMS.get(s.word, _FORMS["squares"])
    sides = [
        values.length(e, env).value(values.parameters) if e is not None else usual[i]
        for i, e in enumerate((s.width, s.height))
    ]
    if s.width is not None and s.height is None and s.word != "strips":
        sides[1] = sides[0]
    if s.word == "strips":  # a strip lies across the cloth, whichever of its sides is written first
        sides.sort(reverse=True)
    pack = values.count(s.count, env, "The number in a pack", 10_000) if s.count is not None else 1
    if s.word == "pieces":  # a width and a height of their own
        return Stock(s.word, sides[0], sides[1], pack, 0, s.span)
    # strips are cut across the longer side, whichever the writer names first
    return Stock(s.word, max(sides), min(sides), pack, 0, s.span)


def _repeat(s: Repeat, env: Mapping[str, Affine], values: Values) -> dict[str, Any]:
    """How far the motifs of a print lie apart; raises Broken after noting what is none."""
    width = values.length(s.width, env).value(values.parameters)
    height = values.length(s.height, env).value(values.parameters) if s.height is not None else width
    if min(width, height) <= 0:
        values.notes.report("too-small", "The motifs of a print lie some way apart.", s.span)
        raise Broken
    return {"repeat": (width, height), "repeat_span": s.span}


def _scrap(s: Sold, env: Mapping[str, Affine], values: Values) -> Scrap:
    """Pieces at hand of one size; one length stands for both sides."""
    assert s.count is not None and s.width is not None
    count = values.count(s.count, env, "What is at hand", 10_000, 0)
    width = values.length(s.width, env).value(values.parameters)
    height = values.length(s.height, env).value(values.parameters) if s.height is not None else width
    if min(width, height) <= 0:
        values.notes.report("too-small", "A piece at hand has two sides.", s.span)
        raise Broken
    return Scrap(count, width, height, s.span)
