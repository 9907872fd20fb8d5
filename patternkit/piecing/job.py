"""What a kind is told when it says in batches how its units are made.

A kind offers ``batches(making, job)``: batches with how many times each is done. The job gives the numbers of the plan
and turns the makings and cuts of one unit into the items of the making order, in the one spelling that all steps share.
"""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.batch import Batch, Item, Piece, Thing, piece
from patternkit.piecing.making import Making, Part, PieceCut, Seam

Batches = tuple[tuple[Batch, int], ...]


class Job(msgspec.Struct, frozen=True):
    """So many of a unit to make: seam allowance and ruler line in inches, and what the plan has counted.

    `yields` is how many one batch gives, `times` how many batches are done in full, `half` what a last batch from half
    strips gives (0 without one), `lengths` the usable length of a whole strip by fabric, `directional` the fabrics
    whose print has a direction. `templates` names the template of a shape that is cut by one.
    """

    seam: Length
    ruler: Length
    needed: int
    yields: int
    times: int
    half: int = 0
    lengths: Mapping[str, Length] = {}
    directional: frozenset[str] = frozenset()
    templates: Mapping[object, str] = {}

    def thing(self, making: Making) -> Thing:
        """A sewn thing."""
        return Thing(making.key)

    def item(self, part: Part) -> Item:
        """What is taken for a part that is a making: the thing, or, where a making has but one part, what that is; the
        cut piece where it is a plain patch. Plain cloth among a unit's parts has no item of its own: its cut has
        (`piece`, `pieces`); this raises TypeError for it.
        """
        what = part
        while isinstance(what, Making) and not what.seams:
            inner = [p.what for p in what.parts]
            if len(inner) == 1 and isinstance(inner[0], Making):
                what = inner[0]
            elif what.recipe.cuts:
                return self.piece(what.recipe.cuts[0])
            else:
                break
        if not isinstance(what, Making):
            raise TypeError("plain cloth has no item of its own")
        return self.thing(what)

    def piece(self, cut: PieceCut) -> Piece:
        """The cut piece that one cut gives (a triangle of a halved or quartered one)."""
        form = {"half": "half", "quarter": "quarter", "strip": "strip", "template": "template", "bias": "bias"}
        width = self.lengths[cut.fabric] if cut.then == "strip" else cut.width
        return piece(
            cut.fabric,
            form.get(cut.then, "rectangle"),  # type: ignore[arg-type]
            width,
            cut.height,
            hand=cut.leans,
            template=self.templates.get(cut.shape, "") if cut.then == "template" else "",
            directional=cut.fabric in self.directional,
        )


def toward(seam: Seam, left: int, right: int) -> int:
    """The part number to whose side a seam is pressed, for the parts that stand for its left and right; `OPEN` (-1)
    where it is pressed open or nobody says (then either will do).
    """
    return {"left": left, "right": right}.get(seam.pressed, -1)
