"""What stands round units and quilt: the pattern's settings, fabrics and how they are sold, prose."""

from __future__ import annotations

from fractions import Fraction

from .measures import SOLD, Measures, typed
from .writer import Writer

CLOTH = {
    "night": ("Midnight blue", "dark", "#1b2a49"),
    "glow": ("Lamp yellow", "light", "ivory"),
    "stone": ("Quay stone", "medium", "#9aa3ad"),
    "rust": ("Rust", "medium", "#b5532a"),
    "foam": ("Foam", "light", "#e9eef2"),
    "tar": ("Tarred timber", "dark", "#33302e"),
}
SPARE = {
    "plum": ("Plum", "dark", "#4a235a"),
    "rose": ("Rose", "light", "#f3d9d2"),
    "weed": ("Bladder weed", "medium", "#6b7f4e"),
}
"""Fabrics that only a colourway brings."""


def settings(w: Writer) -> list[str]:
    """The pattern's own lines."""
    m = w.m
    lines = ['pattern "Made by the Tide"', '    by "Saltmarsh Sewing Room"', f"    units {m.units}"]
    lines += [f"    seam {typed(m.seam)}", f"    usable width {typed(m.usable)}", f"    ruler {typed(m.ruler)}"]
    if not w.has("heads"):
        return lines
    more = [
        'copyright "2026 Saltmarsh Sewing Room"',
        'contact "patterns@saltmarsh.example"',
        'corrections "saltmarsh.example/corrections"',
        'number "SM-7"',
        'edition "2"',
        f'skill "{w.pick("beginner", "confident beginner", "intermediate")}"',
        'tools "rotary cutter", "24 in ruler"',
        f"sold by {w.shape.choice(SOLD[m.units])}",
        f"spare {typed(round_spare(m, w.pick(0, 2, 4)))}",
        f"shrinkage {w.pick('3%', '5%', '4')}",
        f"thread {typed({'inches': m.inch / 32, 'cm': m.inch / 25, 'mm': m.inch * 10 / 254}[m.units])}",
        f"layers {w.pick(4, 2, 6)}",
        f"trimming {w.pick('yes', 'no')}",
        f"cutting {w.pick('simple', 'least cloth')}",
        f"language {w.pick('en-gb', 'de')}",
        f"press {w.pick('toward the darker', 'open', 'rows alternately', 'toward the plain patch')}",
        'intro "Lanterns along the harbour wall."',
        'finishing "Quilt as the tide runs."',
        'note "Read all of it before you cut."',
    ]
    return lines + [f"    {x}" for x in more if w.chance(0.35)]


def fabrics(w: Writer) -> list[str]:
    """Fabrics that may be used, and the lines that tell of them; one that comes in sheets is for small pieces."""
    names = list(CLOTH)[: w.pick(3, 4, 5)]
    w.cloth = names[:-1] if w.has("stock") else names
    w.valued = w.has("heads") or w.chance(0.5)
    lines = []
    for name in names:
        title, value, colour = CLOTH[name]
        says = [f'"{title}"', value, colour] if w.valued else []
        if w.chance(0.2, "directional"):
            says.append("directional")
        lines.append(" ".join(["fabric", name, *says]))
        if w.has("stock") and name == names[-1]:
            lines += _sheets(w, name)
        elif w.chance(0.4, "heads"):
            lines += _by_length(w)
    for name in SPARE if w.has("colourways") else ():
        title, value, colour = SPARE[name]
        lines.append(f'fabric {name} "{title}" {value} {colour}')
    return lines


def groups(w: Writer) -> list[str]:
    """Groups of prints sold by length, one of them a part of another, and now and then a bag."""
    if not w.has("groups"):
        return []
    count = w.dealing.choice((3, 5, 8))
    lines = [f'fabrics shoals "Shoal prints" {count} {w.dealing.choice(("light", "medium", "dark"))}']
    w.groups = ["shoals"]
    if w.dealing.random() < 0.5:
        lines += [f"fabrics eddies {count - 1} of shoals"]
        w.groups.append("eddies")
    return lines


def round_spare(m: Measures, inches: int) -> Fraction:
    """About so many inches, in whole inches, centimetres or tens of millimetres."""
    return Fraction(inches * {"inches": 1, "cm": 3, "mm": 30}[m.units])


def _by_length(w: Writer) -> list[str]:
    m = w.m
    choices = [
        [f"    usable width {typed(m.usable - 2)}"],
        [f"    sold by {w.shape.choice(SOLD[m.units])}"],
        ["    buy 30 yd"],
        [f"    spare {typed(round_spare(m, w.pick(2, 4)))}"],
        ["    shrinkage 4%"],
    ]
    return w.shape.choice(choices)


def _sheets(w: Writer, name: str) -> list[str]:
    """Fat quarters, squares or strips, with packs and what is at hand."""
    form = w.pick("fat-quarters", "squares 10 x 10", "strips 2 1/2 x 40", "fat quarters 20 x 18", "squares 12")
    if w.m.units != "inches":
        form = " ".join(f"{x} in" if x[0].isdigit() and x[-1].isdigit() and "/" not in x else x for x in form.split())
        form = form.replace("2 in 1/2", "2 1/2 in")
    room = {"strips": 2, "squares": 8, "fat-quarters": 14, "fat": 14}[form.split()[0]] * w.m.inch
    w.small.append((name, (room - w.m.seam * 6) * 3 / 4))
    pack = w.pick("", ", 40 to a pack", ", 6 to a pack") if any(c.isdigit() for c in form) else ""
    lines = [f"    sold as {form}{pack}"]
    if w.chance(0.4):
        lines.append(f"    have {w.pick(2, 12)}")
    if w.chance(0.2):
        lines.append("    buy 200")
    return lines
