"""Which drawings stand in which step. Drawings are made by the drawing room; nothing is worked out here."""

from __future__ import annotations

from collections.abc import Sequence

from patternkit.booklet.content import images, slanted
from patternkit.booklet.content.context import Context
from patternkit.booklet.content.panels import Depicted, Panel
from patternkit.booklet.content.piece_codes import look_at
from patternkit.booklet.content.pressing import numbered_seams
from patternkit.booklet.content.shared_strips import drawn, made_before
from patternkit.booklet.content.tubes import from_rings
from patternkit.document import Drawing, Figure
from patternkit.drawing.making import DrawnJoint, draw_making
from patternkit.piecing.batch import CutOut, Piece
from patternkit.piecing.kinds.slanted import Slant
from patternkit.piecing.making import Making
from patternkit.plan.counts import Count
from patternkit.work.forms import spelled

MOST_HIGH = 380.0  # points: room for the words of the step on the same page
ROWS_HIGH = 150.0  # points: the rows of a centre below the table of them
BORDERS_HIGH = 264.0  # points: a quilt with the borders that are pulled away from it
RESULT = 116.0  # points: a unit beside the pictures of its method
SEGMENT = 80.0  # points: what is cut from a strip unit, beside that
SEWN = 134.0  # points: a block beside its pieces
PLAIN = 5  # a unit of more parts is shown by itself as well
MOST_MARKS = 120  # a drawing with more joints than this marks none


def step_figures(count: Count, ctx: Context) -> list[Panel]:
    """The drawings of one step, by what they show; drawn only where they are asked for."""
    making = count.making
    found = [Panel("figure", _shown(count, ctx) if ctx.many > 1 else None, lambda: (_figure(*_drawn(count, ctx)),))]
    if ctx.many > 1 and _is_apart(count, ctx):  # one key for all sizes, though one has too many to mark
        marks = {mark.kind: mark for mark in ctx.marks.get(id(making), ())}
        meant = [marks[kind] for kind in sorted(marks)]
        found.append(Panel("figure key", Depicted(tuple(sorted(marks))), lambda: (_key(making, meant, ctx),)))
    return found


def _shown(count: Count, ctx: Context) -> Depicted:
    making, method = count.making, count.making.recipe.method
    strips: tuple[object, ...] = (drawn(making, ctx), made_before(making, ctx)) if method.in_strips else ()
    strips += (from_rings(making, ctx),) if method.tube else ()
    if making.recipe.pitch is not None:
        strips = (ctx.makers[making.thing].batches[0][0].actions, made_before(making, ctx))
    bare = (design(making, {}), strips)
    return Depicted(
        (bare, tuple((s.pressed, s.spun) for s in making.seams), joints(making, ctx)),
        bare if making.role in ("unit", "block") else None,
        ctx.forms.turns(making.thing) if making.role == "row" else None,
        len(making.parts),
    )


def design(making: Making, known: dict[int, object]) -> object:
    """All of a making that is drawn, parts within parts, but for how its seams are pressed. `known` is filled with the
    designs of parts by their identity."""
    if id(making) not in known:
        parts = [(design(p.what, known) if isinstance(p.what, Making) else p.what, p.place) for p in making.parts]
        seams = [(s.start, s.end, s.left, s.right, s.path) for s in making.seams]
        known[id(making)] = spelled(making.thing), making.kind, making.outline, parts, seams
    return known[id(making)]


def _is_apart(count: Count, ctx: Context) -> bool:
    """Whether what is made is drawn pulled apart: a quilt, its centre, a border."""
    making = count.making
    return making.role in ("centre", "quilt", "border") and not (making.recipe.method.in_strips or _by_method(making))


def _by_method(making: Making) -> bool:
    """Whether the pictures of its method show how it is made."""
    method = making.recipe.method
    return bool(method.drawn) and not (method.drawn == "row" and len(making.parts) > PLAIN)


def _drawn(count: Count, ctx: Context) -> list[Drawing]:
    """How a unit is made, and what comes out with its joints marked."""
    from patternkit.drawing.methods import draw_method
    from patternkit.drawing.steps import draw_step
    from patternkit.drawing.strips import draw_strips

    making, method = count.making, count.making.recipe.method
    look = look_at(making, ctx)
    key, marks, numbers = slug(making.spelled), joints(making, ctx), numbered_seams(making, ctx)
    small = ctx.many > 1  # the same step in other sizes stands beside or below
    if images.made_before(count) or made_before(making, ctx):
        return [draw_making(making, ctx.swatches, look, key=f"unit-{key}", wide=RESULT)]
    if making.is_layered:
        from patternkit.drawing.placement import draw_placement  # only shapes laid on a ground need it

        return [draw_placement(making, ctx.swatches, look, key=f"placement-{key}")]
    if making.recipe.pitch is not None:
        slant = making.recipe.numbers
        laid = slanted.picture(making, slant, key, ctx) if isinstance(slant, Slant) else _cut_out(making, ctx)
        return [laid, draw_making(making, ctx.swatches, look, key=f"unit-{key}", wide=SEGMENT)]
    if method.in_strips:
        cut = drawn(making, ctx)
        tube = from_rings(making, ctx)
        return [draw_strips(making, ctx.swatches, look, key=f"strips-{key}", small=small, cut=cut, tube=tube)]
    if _by_method(making):
        pictures = draw_method(making, ctx.swatches, look, key=f"method-{key}", worked=ctx.performed(making))
        if not marks and not numbers and len(making.parts) <= PLAIN:
            return [pictures]
        wide = SEWN if numbers else RESULT  # the last picture of a method is the unit; this is for what it can't show
        unit = f"unit-{key}"
        shown = draw_making(making, ctx.swatches, look, key=unit, joints=marks, numbers=numbers, wide=wide)
        return [pictures, shown]
    if making.role in ("centre", "quilt", "border") or making.kind == "on-point":
        return [_apart(making, key, marks, ctx)]
    every, making = range(len(making.seams)), ctx.as_shown(making)
    if (marks or numbers) and making.role in ("block", "unit"):
        apart = draw_step(making, every, ctx.swatches, look, key=f"step-{key}", result=False)
        sewn = f"sewn-{key}"
        shown = draw_making(making, ctx.swatches, look, key=sewn, joints=marks, numbers=numbers, wide=SEWN)
        return [apart, shown]
    whole = not (small and making.role == "row")
    return [draw_step(making, every, ctx.swatches, look, key=f"step-{key}", result=whole)]


def _cut_out(making: Making, ctx: Context) -> Drawing:
    """The strip unit with the shapes that come from it, as they lie on it."""
    from patternkit.drawing.cut_out import draw_cut_out
    from patternkit.rehearsal.bench import Workroom
    from patternkit.rehearsal.strip_unit import cut_from

    batch = ctx.makers[making.thing].batches[0][0]
    action = next(a for a in batch.actions if isinstance(a, CutOut))
    room = Workroom(float(ctx.seam), ctx.order.templates, squaring=ctx.order.squaring)
    items = [use.item for use in batch.uses if isinstance(use.item, Piece)]
    high = [float(i.height - ctx.seam * (1 if n in (0, len(items) - 1) else 2)) for n, i in enumerate(items)]
    strips = [(i.fabric, h) for i, h in zip(items, high, strict=True)]
    length = float(min(i.width for i in items))
    key = f"cut-out-{slug(making.spelled)}"
    return draw_cut_out(
        ctx.title(making), strips, length, cut_from(room, batch, action), ctx.swatches, ctx.look, key=key
    )


def _apart(making: Making, key: str, marks: tuple[DrawnJoint, ...], ctx: Context) -> Drawing:
    """A quilt or its centre pulled apart; where sizes stand side by side, without the key of its marks."""
    from patternkit.drawing.assembly import draw_assembly

    high = MOST_HIGH if making.role == "centre" else BORDERS_HIGH
    wide = beside(ctx) if ctx.many else min(400.0, high * float(making.width) / float(making.height))
    rows = False if making.kind == "on-point" else None  # the step before has taken its rows apart
    own, alone = f"assembly-{key}", ctx.many < 2
    making = ctx.as_shown(making)
    return draw_assembly(making, ctx.swatches, ctx.look, key=own, joints=marks, rows=rows, wide=wide, legend=alone)


def _key(making: Making, meant: Sequence[DrawnJoint], ctx: Context) -> Figure:
    from patternkit.drawing.assembly import draw_key

    return _figure(draw_key(making, ctx.swatches, ctx.look, key=f"key-{slug(making.spelled)}", joints=meant))


def rows_wide(making: Making) -> float:
    """How wide a drawing of a quilt centre's rows may be, in points, to leave room for a table on its page."""
    return min(400.0, ROWS_HIGH * float(making.width) / float(making.height))


def beside(ctx: Context) -> float:
    """How wide a drawing may be, in points, so that those of all sizes stand in one row."""
    return max(72.0, min(150.0, 440.0 / max(ctx.many, 1) - 44.0))


def joints(making: Making, ctx: Context) -> tuple[DrawnJoint, ...]:
    """The joints to mark on a making's drawing; none where there are too many to see."""
    marks = ctx.marks.get(id(making), ())
    return marks if len(marks) <= MOST_MARKS else ()


def _figure(*drawings: Drawing) -> Figure:
    return Figure(drawings)


def slug(text: str) -> str:
    """A name for a drawing's file."""
    kept = "".join(c if c.isascii() and c.isalnum() else "-" for c in text.lower())
    return "-".join(x for x in kept.split("-") if x) or "unit"
