"""Words that another quilter, a page or another language would use, and what is meant by them here."""

from __future__ import annotations

MEANT = {
    "title": "pattern",
    "yardage": "buy",
    "size": "finished",
    "quantity": "make",
    "count": "make",
    "color": "fabric",
    "colour": "fabric",
    "goose": "flying-geese",
    "fg": "flying-geese",
    "geese": "flying-geese",
    "snowball": "flipped-corners",
    "economy": "square-in-a-square",
    "strip-set": "strips",
    "strip-unit": "strips",
    "strip-piecing": "strips",
    "hourglass": "quarter-square",
    "square-in-square": "square-in-a-square",
    "squares-in-a-square": "square-in-a-square",
    "squares-in-squares": "square-in-a-square",
    "triangles-in-a-square": "triangle-in-a-square",
    "economy-block": "square-in-a-square",
    "snowball-block": "flipped-corners",
    "stitch-and-flip-corner": "flipped-corners",
    "drunkards-path": "quarter-circle",
    "drunkard's-path": "quarter-circle",
    "lemoyne-star": "eight-point-star",
    "lone-star": "eight-point-star",
    "dresden": "plate",
    "dresden-plate": "plate",
    "leaf": "petal",
    "melon": "petal",
    "square": "patch",
    "rectangle": "patch",
    "square-on-point": "square-in-a-square",
    "diamond-in-a-square": "square-in-a-square",
    "equilateral-triangle": "triangle-strip",
    "partial-seams": "partial-seam",
    "trim": "measures",
    "trim-to": "measures",
    "trimmed-to": "measures",
    "square-up": "measures",
    "square-up-to": "measures",
    "baby-block": "tumbling-block",
    "baby-blocks": "tumbling-block",
    "honeycomb": "hexagons",
    "flower-garden": "hexagons",
    "half-hexagon": "trapezoid",
    "half-rectangle-triangle": "half-rectangle",
    "hrt": "half-rectangle",
    "disappearing-nine-patch": "cut-apart",
    "disappearing-four-patch": "cut-apart",
    "sash": "sashing",
    "lattice": "sashing",
    "blocks": "tile",
    "back": "backing",
    "backing-fabric": "backing",
    "cushion": "quilt",
    "pillow": "quilt",
    "runner": "quilt",
    "wall-hanging": "quilt",
    "parameters": "sizes",
    "instructions": "note",
    "step": "note",
    "rotated": "turned",
    "rotate": "turned",
    "turn": "turned",
    "mirror": "mirrored",
    "reversed": "mirrored",
    "flipped": "mirrored",
}
"""Words that another quilter or another language would use, and the word that is meant here."""

OTHER_PHRASES = {
    "side": "sides",
    "setting": "triangles",
    "post": "cornerstones",
    "posts": "cornerstones",
    "cornerstone": "cornerstones",
    "corners": "cornerstones",
    "squares": "cornerstones",
    "diagonal": "on point",
    "diagonally": "on point",
    "miter": "mitred",
    "mitre": "mitred",
}
"""Words in a line of the quilt that are none of its phrases, and the phrase that is meant where the line has it."""

TURNS = {
    **dict.fromkeys(("right", "clockwise"), "90"),
    **dict.fromkeys(("upside", "over", "around", "round"), "180"),
    **dict.fromkeys(("left", "counterclockwise", "anticlockwise"), "270"),
}
"""Words behind `turned` that say a way round, and the degrees that are meant."""

CUT_ACROSS = ("segment", "segments", "section", "sections", "subcut", "subcuts", "sub-cut", "crosscut", "cross-cut")
"""What pages call the pieces that a strip unit is cut into, or cutting them."""
EDGE_TRIANGLES = frozenset(
    (
        "setter",
        "setters",
        "setter-triangle",
        "setter-triangles",
        "setting-triangle",
        "side-triangle",
        "side-triangles",
        "side-setting-triangles",
        "corner-triangle",
        "corner-triangles",
        "corner-setting-triangles",
        "edge-triangles",
    )
)
"""What pages call the triangles round blocks on point, which stand behind the setting here."""
_IN_ROWS = "Its pieces stand in rows, a line for each, under `rows`:"
BLOCKS = {
    "nine-patch": f"{_IN_ROWS} three of three fabrics.",
    "four-patch": f"{_IN_ROWS} two of two fabrics.",
    "sixteen-patch": f"{_IN_ROWS} four of four fabrics.",
    "checkerboard": f"{_IN_ROWS} fabrics by turns, or segments of `strips`.",
    "pinwheel": f"{_IN_ROWS} one `half-square`, turned four ways.",
    "churn-dash": f"{_IN_ROWS} a `half-square` in each corner, segments of two `strips` at the sides.",
    "sawtooth-star": f"{_IN_ROWS} `flying-geese` round a square, plain corners.",
    "ohio-star": f"{_IN_ROWS} a `quarter-square` at each side of a square, plain corners.",
    "attic-window": "It is a unit of `slices`: a bent line with `set in` takes off its two sashes.",
    "oval": "It is a `drawing`: its outline stands in an SVG file beside the pattern.",
    "ellipse": "It is a `drawing`: its outline stands in an SVG file beside the pattern.",
    "rail-fence": "It is a unit of `strips`, by turns as it lies and `turned 90`.",
}
"""Blocks that are no kind of unit, and how they are written."""
