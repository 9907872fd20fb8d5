"""Log cabins and courthouse steps: logs sewn round a centre, their lengths worked out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.asking import behind, choice, chosen, option, pieces, problems
from patternkit.piecing.kinds.base import Equations, Kind, Shop, Unsettled
from patternkit.piecing.kinds.logs import Logs, read_logs
from patternkit.piecing.leaves import Along, End, Ends, Leaf, sides
from patternkit.piecing.making import Cloth, Making, Numbers, PieceCut, Placed, Recipe, Seam, rectangle
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name
from patternkit.piecing.shapes import called, making, seam, sizes_in_place, state_width
from patternkit.piecing.templates import EXTRA, PaperExtra, up
from patternkit.piecing.unknowns import Unknown, of_unit
from patternkit.problems import Problem

TO_LENGTH, PAPER = "logs cut to length", "foundation"
ROUND = Method(TO_LENGTH, "log-cabin", drawn="rounds", pressed="out", around="logs", holds_units=True)
PAIRED = Method(TO_LENGTH, "courthouse-steps", drawn="joins", pressed="out", around="logs", holds_units=True)
ROUND_ON_PAPER, PAIRED_ON_PAPER = (
    msgspec.structs.replace(m, name=PAPER, phrase="slices-foundation", formula=PAPER, on_paper=True, holds_units=False)
    for m in (ROUND, PAIRED)
)


class LogWidth(Numbers, frozen=True):
    """What all logs finish, where they are alike."""

    width: Length | None


class LogCabin(Kind):
    """``log-cabin red 2`` with ``round glow, glow, night, night``, ``log 1`` and ``rounds 3`` under it."""

    words: ClassVar[tuple[str, ...]] = ("log-cabin",)
    written: ClassVar[str] = "log-cabin red 2: the centre and its size; the logs stand under it"
    methods: ClassVar[tuple[Method, ...]] = (ROUND, ROUND_ON_PAPER)
    options: ClassVar[dict[str, str]] = {
        "log": "log 1",
        "logs": "logs night, glow 1 1/2",
        "round": "round glow, glow, night, night",
        "rounds": "rounds 3",
        "start": "start top",
        "clockwise": "clockwise",
        "counterclockwise": "counterclockwise",
        "extra": "extra 1/2",
    }
    paired: ClassVar[bool] = False
    joins: ClassVar[bool] = True

    def equations(self, unit: Unit, out: Equations) -> None:
        """The centre and the logs beside it add up to the width, the centre and the logs above and below it to the
        height."""
        once = tuple({o.word: o for o in unit.options}.values())
        for problem in problems(self, msgspec.structs.replace(unit, options=once), sizes=("finished", "cut")):
            out.problem(problem)
        method = choice(self, unit)
        if not isinstance(method, Problem) and (wrong := _extra_in_vain(unit, method.method.on_paper)) is not None:
            out.problem(wrong)
        logs = read_logs(unit, self.paired)
        for problem in logs.problems:
            out.problem(problem)
        if not pieces(unit):
            return
        centre = pieces(unit)[0]
        inner = out.size_of(unit, centre)
        sizes_in_place(unit, centre, out)
        if centre.fabric and centre.width is not None and centre.height is None:
            sizes_in_place(unit, centre, out, "h")  # one length stands for both sides of a square
        self._widths(unit, logs, out)
        self._units(unit, logs, inner, out)
        for axis, across in ((0, ("left", "right")), (1, ("top", "bottom"))):
            self._add_up(unit, logs, inner[axis], across, out.outer(unit)[axis], out)

    def _widths(self, unit: Unit, logs: Logs, out: Equations) -> None:
        """What is said of the logs' widths."""
        for n, log in enumerate(logs.logs, 1):
            if log.width is not None:
                var = width_of(unit, logs, n - 1)
                out.shown(var, f"log {n} of {called(unit)}")
                state_width(unit, log.width, log.cut, var, f"log {n}", log.span, out)
        usual = usual_width(unit)
        out.shown(usual, f"the width of the logs of {called(unit)}")
        if logs.usual is not None:
            state_width(
                unit,
                logs.usual,
                logs.usual_cut,
                usual,
                "every log without a width of its own",
                logs.span,
                out,
            )

    def _units(self, unit: Unit, logs: Logs, inner: tuple[Unknown, Unknown], out: Equations) -> None:
        """A unit that is a log lies as it is written: as wide as its log, and as long as all that it is sewn to."""
        for n, log in enumerate(logs.logs):
            if log.unit is None:
                continue
            wide, high = out.size_of(unit, log.unit)
            flat = log.side in ("top", "bottom")
            across, along = (high, wide) if flat else (wide, high)
            out.same(across, width_of(unit, logs, n), f"log {n + 1} of {called(unit)}", log.span)
            ends = ("left", "right") if flat else ("top", "bottom")
            sewn = [inner[0 if flat else 1], *(width_of(unit, logs, i) for i in range(n) if logs.logs[i].side in ends)]
            counts = {var: sewn.count(var) for var in sewn}
            text = f"log {n + 1} of {called(unit)} is as long as what it is sewn to"
            out.total([(count, var) for var, count in counts.items()], along, text, log.span)

    def _add_up(
        self, unit: Unit, logs: Logs, inner: Unknown, sides: tuple[str, str], whole: Unknown, out: Equations
    ) -> None:
        counts: dict[Unknown, int] = {inner: 1}
        for i, log in enumerate(logs.logs):
            if log.side in sides:
                var = width_of(unit, logs, i)
                counts[var] = counts.get(var, 0) + 1
        across, side = ("left to right", "width") if sides[0] == "left" else ("top to bottom", "height")
        text = f"the centre and the logs of {called(unit)}, from {across}, make its {side}"
        out.total([(n, var) for var, n in counts.items()], whole, text, unit.kind_span)

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """The width of every log, and both sides of a plain centre; none on paper."""
        logs = read_logs(unit, self.paired)
        if logs.problems or not pieces(unit) or chosen(self, unit).method.on_paper:
            return ()
        centre = pieces(unit)[0]
        own = sides(out.size_of(unit, centre), centre.cut) if centre.fabric else ()
        widths = {
            width_of(unit, logs, i): log.cut if log.width is not None else logs.usual_cut
            for i, log in enumerate(logs.logs)
            if log.unit is None
        }
        return (*own, *(Leaf(var, fixed=cut) for var, cut in widths.items()))

    def ends(self, unit: Unit, side: Along, out: Equations) -> Ends | None:
        """The outermost logs on two opposite sides: every log has a length of its own."""
        return self._outermost(unit, side)

    def may_trim(self, unit: Unit, side: Along) -> bool:
        """Where logs lie on both sides."""
        return self._outermost(unit, side) is not None

    def _outermost(self, unit: Unit, side: Along) -> Ends | None:
        logs = read_logs(unit, self.paired)
        if chosen(self, unit).method.on_paper:
            return None
        found = []
        for where in ("left", "right") if side == "w" else ("top", "bottom"):
            last = [i for i, log in enumerate(logs.logs) if log.side == where and not log.cut][-1:]
            found += [End(own_width(unit, i), width_of(unit, logs, i)) for i in last if logs.logs[i].unit is None]
        return Ends(found[0], found[1]) if len(found) == 2 and not logs.usual_cut else None

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The centre, the logs and the seams in the order in which they are sewn."""
        logs = read_logs(unit, self.paired)
        if logs.problems or not pieces(unit):
            raise Unsettled(unit.key)
        centre = pieces(unit)[0]
        w, h = shop.piece_size(unit, centre)
        widths = [shop.solved_alone(own_width(unit, i), width_of(unit, logs, i)) for i in range(len(logs.logs))]
        x, y = (
            sum((v for v, log in zip(widths, logs.logs, strict=True) if log.side == side), ZERO)
            for side in ("left", "top")
        )
        parts = [_centre(unit, shop, centre, x, y)]
        box = [x, y, x + w, y + h]
        seams = []
        paper = chosen(self, unit).method.on_paper  # its fields are numbered from the centre, which is piece 1
        for n, (log, width) in enumerate(zip(logs.logs, widths, strict=True), 1):
            outline, joint = _added(box, log.side, width, n)
            fabric = shop.fabric(unit, log.unit) if log.unit is not None else log.fabric
            name = Name("piece", (n + 1,)) if paper else Name("log", (n,))
            parts.append(Placed(Cloth(fabric, outline, name=name)))
            # on paper a log is folded over its seam, and lies on its allowance
            seams.append(msgspec.structs.replace(joint, pressed="right") if paper else joint)
        recipe = self._recipe(unit, shop, parts, widths)
        return making(unit, shop.width(unit), shop.height(unit), parts, seams, recipe)

    def _recipe(self, unit: Unit, shop: Shop, parts: Sequence[Placed], widths: Sequence[Length]) -> Recipe:
        method = chosen(self, unit).method
        extra = _extra(unit, shop)
        more = shop.seam * 2 + (extra * 2 if method.on_paper else ZERO)
        cuts = [_cut(part.what, shop, more) for part in parts if isinstance(part.what, Cloth)]
        alike = widths[0] if len(set(widths)) == 1 else None
        return Recipe(method, tuple(cuts), numbers=PaperExtra(extra) if method.on_paper else LogWidth(alike))


class CourthouseSteps(LogCabin):
    """``courthouse-steps red 2``: as a log cabin, the logs in pairs on opposite sides."""

    words: ClassVar[tuple[str, ...]] = ("courthouse-steps",)
    written: ClassVar[str] = "courthouse-steps red 2: the centre and its size; the logs stand under it"
    methods: ClassVar[tuple[Method, ...]] = (PAIRED, PAIRED_ON_PAPER)
    options: ClassVar[dict[str, str]] = {
        "log": "log 1",
        "logs": "logs night, night, glow, glow",
        "round": "round glow, glow, night, night",
        "rounds": "rounds 3",
        "start": "start left",
        "extra": "extra 1/2",
    }
    paired: ClassVar[bool] = True


def usual_width(unit: Unit) -> Unknown:
    """The width of all logs that have no width of their own."""
    return of_unit(unit.key, "log")


def own_width(unit: Unit, i: int) -> Unknown:
    """The width of a log alone, counted from 0, where it has one of its own."""
    return of_unit(unit.key, f"log {i + 1}")


def width_of(unit: Unit, logs: Logs, i: int) -> Unknown:
    """The width of a log, counted from 0."""
    alone = logs.logs[i].width is not None or logs.logs[i].unit is not None
    return own_width(unit, i) if alone else usual_width(unit)


def _centre(unit: Unit, shop: Shop, centre: Component, x: Length, y: Length) -> Placed:
    part, place = shop.part(unit, centre)
    if isinstance(part, Cloth):
        return Placed(
            msgspec.structs.replace(part, outline=place.outline(part.outline), name=Name("centre")),
            msgspec.structs.replace(place, dx=x, dy=y),
        )
    return Placed(part, msgspec.structs.replace(place, dx=place.dx + x, dy=place.dy + y))


def _added(box: list[Length], side: str, width: Length, n: int) -> tuple[tuple[tuple[Length, Length], ...], Seam]:
    """A log's outline and its seam; `box` (left, top, right, bottom of what is sewn) grows by the log."""
    x0, y0, x1, y1 = box
    done = range(n)
    if side == "top":
        box[1] = y0 - width
        return rectangle(x1 - x0, width, x0, box[1]), seam((x1, y0), (x0, y0), done, (n,))
    if side == "right":
        box[2] = x1 + width
        return rectangle(width, y1 - y0, x1, y0), seam((x1, y1), (x1, y0), done, (n,))
    if side == "bottom":
        box[3] = y1 + width
        return rectangle(x1 - x0, width, x0, y1), seam((x0, y1), (x1, y1), done, (n,))
    box[0] = x0 - width
    return rectangle(width, y1 - y0, box[0], y0), seam((x0, y0), (x0, y1), done, (n,))


def _extra(unit: Unit, shop: Shop) -> Length:
    """How much larger pieces are cut on every side for paper piecing."""
    expression = behind(unit, "extra")
    found = shop.length(unit, expression) if expression is not None else None
    return EXTRA if found is None else found


def _extra_in_vain(unit: Unit, paper: bool) -> Problem | None:
    """What is wrong with ``extra``: it speaks of paper piecing."""
    line = option(unit, "extra")
    if line is None or paper:
        return None
    why = ("It is what pieces for paper piecing have more than they need: method foundation.",)
    message = f"In {called(unit)}, extra says nothing: logs that are cut to length are not larger than they have to be."
    return Problem("out-of-place", message, line.span, causes=why)


def _cut(cloth: Cloth, shop: Shop, more: Length) -> PieceCut:
    """A rectangle of cloth with what it is cut larger, written with its shorter side first as logs are cut
    from strips."""
    (x0, y0), _, (x1, y1), _ = cloth.outline
    w, h = x1 - x0 + more, y1 - y0 + more
    return PieceCut(cloth.fabric, up(w, shop.grid), up(h, shop.grid), w, h, 1, "", cloth.name)
