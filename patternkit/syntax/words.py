"""The words of the language: which stand where, which take what, and what else they may be spelled as.

The only lists of words in the project. A new unit kind adds its keyword to `KINDS`; a new option word that looks like a
slip for a statement word goes into `OPTION_WORDS`; a new finishing phrase goes into `PHRASES`.
"""

from __future__ import annotations

# -- unit kinds ------------------------------------------------------------------------------------------
ROW_KINDS = ("row", "column", "rows")
"""Kinds whose pieces may stand in lines indented under them."""

FIELD_KINDS = ("hexagons",)
"""Kinds of several lines of pieces that are not joined edge to edge, but lie in each other's notches."""

LAID_SHAPES = ("circle", "petal", "heart", "drawing")
"""Kinds of shapes that are laid on a ground; their words stay free as names."""

KINDS = (
    "patch",
    *ROW_KINDS,
    "strips",
    "half-square",
    "quarter-square",
    "three-patch",
    "flying-geese",
    "half-rectangle",
    "square-in-a-square",
    "flipped-corners",
    "log-cabin",
    "courthouse-steps",
    "partial-seam",
    "slices",
    "triangle-strip",
    "diamond",
    "hexagon",
    "kite",
    "trapezoid",
    "parallelogram",
    "quarter-circle",
    "eight-point-star",
    "triangle-in-a-square",
    "cut-apart",
    "band",
    "strings",
    "bonus",
    "tumbling-block",
    "plate",
    *FIELD_KINDS,
    *LAID_SHAPES,
)
"""Every kind of unit by the keyword that starts its line. A hyphen may be written as a space."""

OPTION_WORDS = frozenset(
    (
        "centre",
        "corner",
        "corners",
        "first",
        "float",
        "last",
        "log",
        "logs",
        "round",
        "rounds",
        "slice",
        "segment",
        "segments",
        "angle",
        "slant",
        "stagger",
        "applique",
        "width",
        "height",
        "side",
        "sides",
        "radius",
        "seam",
        "steps",
        "points",
        "shape",
        "from",
        "grain",
        "repeat",
        "template",
        "templates",
        "foundation",
        "piece",
        "pieces",
        "background",
        "order",
        "trim",
        "curve",
        "at",
        "leaning",
        "shoulder",
        "clockwise",
        "counterclockwise",
        "outline",
        "lay",
        "extra",
        "dog-ears",
        "triangles",
        "ends",
        "edge",
        "of",
        "base",
        "top",
        "sashing",
        "mate",
        "mark",
        "marks",
        "take",
        "spare",
        "allowance",
        "fold",
        "start",
        "offset",
        "string",
        "optional",
        "blades",
        "sweep",
        "hole",
    )
)
"""Option words that are never taken for a mistyped statement word."""

# -- statements by the place where they stand ---------------------------------------------------------------
PROSE = ("intro", "note", "tip", "caution", "before", "after", "finishing")
TEXT_SETTINGS = ("by", "copyright", "contact", "corrections", "number", "edition", "skill")
LENGTH_SETTINGS = ("seam", "usable-width", "squaring", "ruler", "spare", "shrinkage", "layers", "thread")
WORD_SETTINGS: dict[str, tuple[str, ...]] = {
    "units": ("inches", "cm", "mm"),
    "trimming": ("yes", "no"),
    "cutting": ("least cloth", "simple"),
    "language": (),
}
LATER_FINISHES = ("facing", "flange", "piping", "prairie-points", "edge")
"""Finishes whose words stay free as names."""
FINISHES = ("setting", "sashing", "border", "binding", "backing", "batting", "sleeve", *LATER_FINISHES)

_PROSE = dict.fromkeys(PROSE, "prose")
_CLAIMS = dict.fromkeys(("finished", "measures", "cut"), "size_claim")

PLACES: dict[str, dict[str, str]] = {
    "file": {
        "pattern": "pattern_head",
        "include": "include",
        "let": "let",
        "fabric": "fabric_head",
        "fabrics": "fabrics_head",
        "unit": "unit_head",
        "block": "unit_head",
        "quilt": "bare",
        "sizes": "bare",
        "colourway": "colourway_head",
        "part": "part_head",
        **_PROSE,
    },
    "pattern": {
        **dict.fromkeys(TEXT_SETTINGS, "setting_text"),
        **dict.fromkeys(LENGTH_SETTINGS, "setting_length"),
        **dict.fromkeys(WORD_SETTINGS, "setting_word"),
        "tools": "setting_texts",
        "press": "press",
        "sold": "sold",
        "batting": "batting_sold",
        **_PROSE,
    },
    "fabric": {
        "sold": "sold",
        "have": "have",
        "repeat": "repeat",
        "buy": "buy",
        "usable-width": "setting_length",
        "squaring": "setting_length",
        "shrinkage": "setting_length",
        "spare": "setting_length",
        "cut": "cut_claim",
    },
    "unit": {
        **dict.fromkeys(KINDS, "kind"),
        **_CLAIMS,
        "strip-units": "strip_units",
        "also": "also",
        "make": "make",
        "method": "method",
        "press": "press",
        **dict.fromkeys(("across", "down"), "across"),
        **dict.fromkeys(("tile", "layout", "ring"), "bare"),
        **dict.fromkeys(("setting", "sashing", "border"), "finish"),
        **_PROSE,
    },
    "kind": {},
    "rows": {},
    "quilt": {
        "across": "across",
        "down": "across",
        **dict.fromkeys(("tile", "layout", "ring"), "bare"),
        **dict.fromkeys(FINISHES, "finish"),
        "finished": "size_claim",
        "measures": "size_claim",
        "press": "press",
        "also": "also",
        **_PROSE,
    },
    "sizes": {},
    "size": {"buy": "size_buy"},
    "colourway": {**_PROSE},
    "part": {"makes": "makes", **_PROSE},
}
"""For each place, the words a line may start with and the grammar's start rule for it."""

PLACE_NAMES = {
    "file": "the file itself",
    "pattern": "`pattern`",
    "fabric": "a `fabric`",
    "unit": "a `unit` or `block`",
    "kind": "a unit's kind",
    "rows": "rows",
    "quilt": "`quilt`",
    "sizes": "`sizes`",
    "size": "a row of `sizes`",
    "colourway": "a `colourway`",
    "part": "a `part`",
}

HEADS_TO_PLACE = {
    "pattern": "pattern",
    "fabric": "fabric",
    "fabrics": "fabric",
    "unit": "unit",
    "block": "unit",
    "quilt": "quilt",
    "sizes": "sizes",
    "colourway": "colourway",
    "part": "part",
    "tile": "rows",
    "layout": "rows",
    "ring": "rows",
    **dict.fromkeys((*ROW_KINDS, *FIELD_KINDS), "rows"),
    **{kind: "kind" for kind in KINDS if kind not in (*ROW_KINDS, *FIELD_KINDS)},
}
"""What the lines under a heading word are."""

NEEDS_LINES = frozenset(
    ("unit", "block", "quilt", "sizes", "colourway", "part", "tile", "layout", "ring", "rows", *FIELD_KINDS)
)
"""Heading words that say nothing without lines under them (`row` and `column` may have their pieces beside them)."""

ALIASES = {
    "colorway": "colourway",
    "appliqué": "applique",
    "half-square-triangle": "half-square",
    "half-square-triangles": "half-square",
    "quarter-square-triangle": "quarter-square",
    "quarter-square-triangles": "quarter-square",
    "flipped-corner": "flipped-corners",
    "eight-pointed-star": "eight-point-star",
    "tumbling-blocks": "tumbling-block",
    "hst": "half-square",
    "hsts": "half-square",
    "qst": "quarter-square",
    "qsts": "quarter-square",
    "finishes": "finished",
    "unfinished": "measures",
    "borders": "border",
    "hanging-sleeve": "sleeve",
    "also-cut": "also",
    "wadding": "batting",
    "seam-allowance": "seam",
    "seam-allowances": "seam",
    "width-of-fabric": "usable-width",
    "wof": "usable-width",
    "anticlockwise": "counterclockwise",
    "counter-clockwise": "counterclockwise",
}
"""Other spellings of a leading word. They stay free as names, and the formatter writes the one spelling."""

PLACE_ALIASES = {
    ("unit", "makes"): "make",
    ("part", "make"): "makes",
    ("pattern", "designer"): "by",
    ("pattern", "author"): "by",
    ("pattern", "fabric-width"): "usable-width",
    ("fabric", "fabric-width"): "usable-width",
    ("unit", "strip-sets"): "strip-units",
}
"""Other spellings that hold at one place only, by the place and the word."""

# -- units of length ---------------------------------------------------------------------------------------
UNIT_SPELLINGS = {
    **dict.fromkeys(("in", "inch", "inches", "ins"), "in"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("yd", "yds", "yard", "yards"), "yd"),
    **dict.fromkeys(("ft", "foot", "feet"), "ft"),
}
"""What may stand behind a number, and the unit it means."""

# -- names ------------------------------------------------------------------------------------------------
RESERVED = (
    frozenset(PLACES["file"])
    | frozenset(PLACES["unit"])
    | frozenset(PLACES["quilt"])
    | {
        "sold",
        "have",
        "buy",
        "makes",
        "turned",
        "mirrored",
        "shifted",
        "laid",
        "times",
        "root",
        "x",
        "in",
        "cm",
        "mm",
        "m",
        "yd",
    }
) - {"strip-units", "also", "cut-apart", "band", "tumbling-block", "plate", *FIELD_KINDS, *LATER_FINISHES, *LAID_SHAPES}
"""Words that cannot be names. The words of `pattern` lines and of finishing phrases stay free."""

# -- finishing phrases --------------------------------------------------------------------------------------
PHRASES: dict[str, dict[str, str]] = {
    "setting": {
        "straight": "",
        "on point": "",
        "zigzag": "",
        "float": "lengths",
        "triangles": "piece",
        "sides": "piece",
        "corners": "piece",
        "sides cut": "length",
        "corners cut": "length",
    },
    "sashing": {"cornerstones": "piece", "inner": "", "strips": "length"},
    "border": {
        "mitred": "",
        "top first": "",
        "sides first": "",
        "cornerstones": "piece",
        "lengthwise": "",
        "one piece": "",
        "extra": "length",
        "strips": "length",
        "sides cut": "length",
        "top cut": "length",
    },
    "binding": {
        "straight": "",
        "bias": "",
        "from a square": "",
        "joined straight": "",
        "allowance": "length",
        "strips": "length",
    },
    "backing": {
        "wide": "length",
        "overage": "length",
        "seams horizontal": "",
        "seams vertical": "",
        "from one length": "",
        "panels": "length",
        "strip": "piece",
        "measures": "size",
        "envelope": "",
        "overlap": "length",
    },
    "batting": {"overage": "length", "cut": "size"},
    "sleeve": {"strips": "length"},
    **{word: {} for word in ("facing", "flange", "piping")},
    "prairie-points": {"across": "length", "down": "length"},
    "edge": {"rounded": "length"},
}
"""What may be said of a finish: phrase -> nothing, or ``length``, ``size`` or ``piece`` that follows it."""

COUNTED = ("strips", "panels", "across", "down")
"""Phrases whose length is a number of things: it may stand before them too."""

OTHER_EDGES = ("scallops", "scalloped", "pointed", "points", "wavy", "waves")
"""Shapes of a whole edge that are not worked out: they are refused in words of their own."""

WITHOUT_WIDTH = ("setting", "backing", "batting", "edge")
"""Finishes that take no length of their own."""

PHRASE_SPELLINGS = {
    "mitered": "mitred",
    "on-point": "on point",
    "zig-zag": "zigzag",
    "zig zag": "zigzag",
    "mitred corners": "mitred",
    "mitered corners": "mitred",
    "top and bottom first": "top first",
    "top and bottom cut": "top cut",
    "strip": "strips",
    "wof strips": "strips",
    "width of fabric strips": "strips",
    "panel": "panels",
}

PRESS_PLAIN = ("open", "out", "in", "left", "right", "up", "down", "spun")
"""Pressing directions of one word."""
