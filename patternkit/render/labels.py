"""The few words the frame of a booklet needs, in English; a booklet's own `labels` replace them."""

from __future__ import annotations

from collections.abc import Mapping

from patternkit.document import Booklet

ENGLISH: dict[str, str] = {
    "by": "by",
    "contents": "Contents",
    "contact": "Questions and corrections",
    "page": "Page",
    "of": "of",
    "step": "Step",
    "skip": "Skip to the pattern",
    "note": "Note",
    "tip": "Tip",
    "caution": "Caution",
    "checkpoint": "Checkpoint",
    "remedy": "If it does not measure",
    "templates": "Templates at true size",
    "sheet": "Sheet",
    "print_true": "Print this sheet at 100 %, with no fitting to the page, and measure both squares before you cut.",
    "square_inch": "1 in",
    "square_metric": "5 cm",
    "test_squares": "Test squares: one inch and 5 cm.",
    "tile": "Part {part} of {parts}: row {row}, column {column}",
    "tile_join": "Neighbouring sheets repeat 1/2 in (12.7 mm) of the drawing. Cut one along its dashed line, "
    "lay it on the dashed line of the other, and bring the diamonds with the same letter together.",
}


class Labels:
    """The frame's words for one booklet: `labels("step")`; a word nobody gave comes from the English set."""

    def __init__(self, own: Mapping[str, str]) -> None:
        self._own = own

    def __call__(self, name: str, **values: object) -> str:
        """The word called `name`, with `{value}` places filled; a misspelt place is left as it stands."""
        text = self._own.get(name) or ENGLISH[name]
        for key, value in values.items():
            text = text.replace("{" + key + "}", str(value))
        return text


def labels_of(booklet: Booklet) -> Labels:
    """The frame's words in the booklet's language."""
    return Labels(booklet.labels)
