"""The cutting plan as data: lengths in inches, exact, as fractions in text. `grammar/reference.md` says what stands
where, and ``cuts.schema.json`` beside this file says it to programs."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

import msgspec

from patternkit.desk.by_template import templates_save
from patternkit.desk.finishing_data import finishing_data, joined_data, stated
from patternkit.model.pattern import Pattern
from patternkit.piecing.by_angle import cut_angle
from patternkit.piecing.keys import Thing
from patternkit.piecing.turns import ShapeRun
from patternkit.plan.buying import bolt_of
from patternkit.plan.counts import Count
from patternkit.plan.cutting.model import CrossCut, CutPlan
from patternkit.plan.model import CutLine, FabricPlan, Plan
from patternkit.plan.sharing import Way
from patternkit.project import Project

Data = dict[str, Any]
Units = dict[Thing | None, list[Data]]

VERSION = 2
"""Of the shape of the data; counted up whenever something that was there changes its place or its meaning. The first
shape was the bare list of fabrics."""


def cuts_json(project: Project, plan: Plan, makers: int = 0) -> bytes:
    """Every fabric with all that is cut and bought of it: by length, from sheets, for the backing; what is joined end
    to end; the finishing; with `makers` what so many people need together."""
    pattern = project.pattern
    own = [c for c in plan.counts if c.making.recipe.segment is not None and c.batches]
    units: Units = {c.making.thing: _strip_units(c) for c in own}
    found = [_fabric(plan.fabrics[key], plan, pattern, units, makers) for key in plan.fabrics]
    back = plan.backing
    if back is not None and back.fabric not in plan.fabrics:
        found.append(_lining(plan, pattern, makers))
    whole = {
        "version": VERSION,
        "title": pattern.settings.title,
        "size": pattern.size,
        "colourway": pattern.colourway,
        "makers": makers,
        "fabrics": found,
        "byTemplates": [
            {"unit": x.unit, "fabric": x.fabric, "less": stated(x.less), "sheets": x.sheets}
            for x in templates_save(project, plan)
        ],
        **finishing_data(plan),
    }
    return msgspec.json.format(msgspec.json.encode(whole), indent=2)


def _fabric(fabric: FabricPlan, plan: Plan, pattern: Pattern, units: Units, makers: int) -> Data:
    scale, key = fabric.scale, fabric.fabric.key
    by_length = fabric.sheets is None or bool(fabric.plan.strips)
    bolt = bolt_of(fabric, plan, pattern, makers) if makers and by_length else None
    return {
        "fabric": key,
        "title": fabric.fabric.title,
        "usableWidth": stated(fabric.fabric.usable_width),
        "squaring": stated(fabric.fabric.squaring),
        "used": stated(fabric.used),
        "buy": stated(fabric.buy),
        "planned": stated(fabric.planned) if fabric.planned is not None else None,
        "leastToBuy": stated(fabric.least),
        "leastHoweverCut": _inches(fabric.plan.free_buy, scale),
        "buySimple": _inches(fabric.plan.simple_buy, scale),
        "buyClose": _inches(fabric.plan.close_buy, scale),
        "status": fabric.plan.status,
        "pieces": [_piece(line, units) for line in fabric.lines],
        "strips": _strips(fabric.plan, scale),
        "leftovers": [
            {
                "label": x.label,
                "width": _inches(x.width, scale),
                "height": _inches(x.height, scale),
                "number": x.number,
            }
            for x in fabric.plan.leftovers
        ],
        "sheets": _sheets(fabric, makers),
        "backing": _backing(plan, pattern, makers) if plan.backing is not None and plan.backing.fabric == key else None,
        "kits": None
        if bolt is None
        else {
            "makers": makers,
            "each": stated(bolt.each),
            "bolt": stated(bolt.whole),
            "least": stated(bolt.least),
        },
    }


def _lining(plan: Plan, pattern: Pattern, makers: int) -> Data:
    """A fabric that is the backing and nothing else; without a name where the file gives it none."""
    assert plan.backing is not None
    fabric = pattern.fabrics.get(plan.backing.fabric)
    return {
        "fabric": plan.backing.fabric,
        "title": fabric.title if fabric is not None else "",
        "usableWidth": stated(plan.backing.usable),
        "squaring": "0",
        "used": "0",
        "buy": "0",
        "planned": None,
        "leastToBuy": "0",
        "leastHoweverCut": "0",
        "buySimple": "0",
        "buyClose": "0",
        "status": "proved",
        "pieces": [],
        "strips": [],
        "leftovers": [],
        "sheets": None,
        "backing": _backing(plan, pattern, makers),
        "kits": None,
    }


def _piece(line: CutLine, units: Units) -> Data:
    return {
        "id": line.id,
        "fabric": line.fabric,
        "for": line.label,
        "width": stated(line.cut.width),
        "height": stated(line.cut.height),
        "count": line.count,
        "then": line.cut.then,
        "leans": line.cut.leans,
        "angle": cut_angle(line.cut),
        "face": ("down" if line.down else "up") if line.cut.then == "template" else "",
        "gives": line.gives,
        "perStrip": line.per_strip,
        "run": None if line.run is None else _run(line.run),
        "motifs": _motifs(line),
        "stripUnits": units.get(line.made_for),
    }


def _run(run: ShapeRun) -> Data:
    """How shapes lie side by side: where the box of each begins, from the left and the top of their strip."""
    return {
        "width": stated(run.width),
        "height": stated(run.height),
        "shapes": [{"x": stated(s.x), "y": stated(s.y), "turned": s.turned} for s in run.spots],
    }


def _motifs(line: CutLine) -> Data | None:
    """How pieces lie that each show a motif of their own; None for all others."""
    m = line.motifs
    if m is None:
        return None
    pairs = (("repeat", m.repeat), ("step", m.step))
    sizes = {name: {"width": stated(w), "height": stated(h)} for name, (w, h) in pairs}
    return {**sizes, "across": m.across, "down": m.rows, "length": stated(m.length)}


def _strips(plan: CutPlan, scale: Fraction) -> list[Data]:
    return [
        {
            "kind": s.kind,
            "height": _inches(s.height, scale),
            "copies": s.copies,
            "from": s.source,
            "cuts": _cuts(s.cuts, scale),
            "segments": [
                {
                    "width": _inches(segment.width, scale),
                    "rows": [{"height": _inches(r.height, scale), "cuts": _cuts(r.cuts, scale)} for r in segment.rows],
                }
                for segment in s.segments
            ],
        }
        for s in plan.strips
    ]


def _cuts(cuts: Sequence[CrossCut], scale: Fraction) -> list[Data]:
    return [
        {
            "piece": c.piece,
            "number": c.number,
            "width": _inches(c.width, scale),
            "height": _inches(c.height, scale),
            "turned": c.turned,
            "trimmedTo": _inches(c.trimmed_to, scale) if c.trimmed_to is not None else None,
        }
        for c in cuts
    ]


def _sheets(fabric: FabricPlan, makers: int) -> Data | None:
    """How a fabric that comes in sheets is cut from them; None for one that is bought by length. Without a form its
    sheets are all scraps."""
    plan, stock, scale = fabric.sheets, fabric.fabric.stock, fabric.scale
    if plan is None:
        return None
    every, pack = fabric.sheet_count * makers, stock.pack if stock is not None else 1
    return {
        "form": stock.form if stock is not None else "",
        "width": stated(stock.width) if stock is not None else None,
        "height": stated(stock.height) if stock is not None else None,
        "pack": pack,
        "have": stock.have if stock is not None else 0,
        "scraps": [
            {"width": stated(x.width), "height": stated(x.height), "have": x.count} for x in fabric.fabric.scraps
        ],
        "cut": fabric.sheet_count,
        "least": plan.bound,
        "status": plan.status,
        "packsToBuy": fabric.packs if plan.rest is None else 0,
        "eachPrint": stated(fabric.each) if fabric.each is not None else None,
        "kits": {
            "makers": makers,
            "cut": every,
            "packs": -(-every // pack),
            "scraps": [
                {"width": stated(x.width), "height": stated(x.height), "cut": n * makers} for x, n in fabric.scraps_cut
            ],
        }
        if makers
        else None,
        "layouts": [
            {
                "scrap": fabric.sheet_of(sheet.stock) is not stock,
                "width": stated(fabric.sheet_of(sheet.stock).width),
                "height": stated(fabric.sheet_of(sheet.stock).height),
                "copies": sheet.copies,
                "prints": list(fabric.prints_of(at)),
                "strips": [
                    {
                        "across": s.across,
                        "size": _inches(s.size, scale),
                        "copies": s.copies,
                        "cuts": _cuts(s.cuts, scale),
                    }
                    for s in sheet.strips
                ],
                "rest": {"width": _inches(sheet.rest[0], scale), "height": _inches(sheet.rest[1], scale)},
            }
            for at, sheet in enumerate(plan.sheets)
        ],
    }


def _backing(plan: Plan, pattern: Pattern, makers: int) -> Data:
    back, bought = plan.backing, plan.backing_buy
    assert back is not None and bought is not None
    return {
        "width": stated(back.width),
        "height": stated(back.height),
        "overage": stated(back.overage),
        "panels": back.panels,
        "length": stated(back.length),
        "seams": back.seams,
        "seam": stated(back.seam),
        "usableWidth": stated(back.usable),
        "last": stated(back.last) if back.last is not None else None,
        "oneLength": plan.one_length,
        "used": stated(back.length * back.panels),
        "strip": joined_data(back.strip) if back.strip is not None else None,
        "buy": stated(bought),
        "kits": {"makers": makers, "each": stated(bought), "bolt": stated(bought * makers)} if makers else None,
    }


def _strip_units(count: Count) -> list[Data]:
    """The strip units that a count's strips are sewn into: each way of cutting them into segments."""
    if count.shared is not None:
        makings, ways = count.shared.makings, count.shared.ways
    else:
        makings = (count.making,)
        whole = (Way(count.whole, (count.yields,)),) if count.whole else ()
        ways = (*whole, *((Way(1, (count.half,), half=True),) if count.half else ()))
    return [
        {
            "stripUnits": way.times,
            "halfStrips": way.half,
            "segments": [
                {"unit": m.spelled, "for": m.called, "number": n, "width": stated(m.recipe.segment_width)}
                for m, n in zip(makings, way.numbers, strict=True)
                if n and m.recipe.segment_width is not None
            ],
        }
        for way in ways
    ]


def _inches(n: int | Fraction, scale: Fraction) -> str:
    return str(Fraction(n) / scale)
