"""What every part of the booklet reads: the project, its plan, fabrics with their letters, phrases, drawings' look."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING, Any

import msgspec

from patternkit.booklet.content.naming import Names, variants
from patternkit.booklet.content.template_names import template_names
from patternkit.booklet.phrases import Phrases, Printed, Sentence, catalogue
from patternkit.drawing.look import Look
from patternkit.drawing.making import DrawnJoint as Mark
from patternkit.drawing.swatches import Swatch, assign
from patternkit.drawing.varied import with_prints, with_shades
from patternkit.lengths import Length
from patternkit.model.pattern import Pattern, Unit
from patternkit.piecing.batch import Piece, Thing
from patternkit.piecing.keys import AnyKey, Key
from patternkit.piecing.making import Making, PieceCut, rectangle
from patternkit.piecing.names import SASHING_ROW, SET_PARTS
from patternkit.piecing.prints import Dealing, shared_out
from patternkit.piecing.reflect import OTHER_SEAMS
from patternkit.piecing.sewing.templates import Found
from patternkit.plan.counts import Count, sewing_order
from patternkit.plan.model import Plan
from patternkit.plan.rows import row_count
from patternkit.problems import PatternError
from patternkit.project import Project
from patternkit.syntax.statements import MethodStatement
from patternkit.units import SYSTEMS, Units
from patternkit.work.build import Worked, lettered, order_from
from patternkit.work.codes import codes_of
from patternkit.work.forms import Forms
from patternkit.work.model import Order, Step
from patternkit.work.runs import RunShare, first_runs, shares_of
from patternkit.work.sections import SECTIONS, section_of

if TYPE_CHECKING:
    from patternkit.drawing.from_states import Performed
    from patternkit.rehearsal.rehearse import Rehearsal
    from patternkit.work.drift import Crossed

METRIC_LOT = Fraction(1000, 254)  # 10 cm in inches: how cloth is sold by the metre (common practice, no source)


class PhraseLook(Look, frozen=True):
    """A look that prints lengths as the booklet's phrases do."""

    phrases: Any = None
    names: Any = None
    codes: Mapping[Piece, str] = {}  # none in drawings without codes
    piece: Any = None  # which piece one cut of a recipe gives

    def code(self, cut: PieceCut) -> str:
        """The code of what one cut of a recipe gives, if it has one here."""
        return self.piece_code(self.piece(cut)) if self.codes else ""

    def piece_code(self, piece: Piece) -> str:
        """The code of a piece, if it has one here."""
        return self.codes.get(piece, "")

    def called(self, making: Making) -> str:
        """What the booklet calls a making."""
        return self.title or str(self.names.title(making))

    def length(self, value: Length) -> str:
        """One length with its unit."""
        return str(self.phrases.length(value))

    def method(self, name: str) -> str:
        """What a method is called in the booklet's language."""
        key = "methods." + name.replace(" ", "_")
        return str(self.phrases.say(key)) if self.phrases.has(key) else name

    def size(self, width: Length, height: Length) -> str:
        """Width and height with their unit."""
        return str(self.phrases.by(width, height))


def is_box(making: Making) -> bool:
    """Whether a making is a rectangle, which can be measured by two sides."""
    return set(making.outline) == set(rectangle(making.width, making.height))


class MadeBesides(msgspec.Struct, frozen=True):
    """A unit that is told besides the quilt: by which method in the place of its own (none: one that may be made if one
    wishes), and its own context."""

    unit: Unit
    method: MethodStatement | None
    ctx: Context


class Context:
    """One pattern in one size and colourway, planned and ready to be told. `sizes` are its sister contexts, one for
    each row of the sizes table, when the booklet covers them all."""

    def __init__(
        self,
        project: Project,
        plan: Plan,
        top: Making | None,
        phrases: Phrases,
        names: Names,
        sizes: tuple[Context, ...] = (),
        roots: Sequence[tuple[Making, int]] = (),
    ) -> None:
        self.project, self.plan, self.top, self.phrases = project, plan, top, phrases
        self.names, self.sizes, self.roots = names, sizes, tuple(roots)
        self.several = False  # the step at hand is made more than once in some size: all sizes say "each"
        self.numbers: dict[Thing, int] = {}  # the step in which each thing is made
        self.many = 0  # how many sizes stand side by side, where it is one of several in one booklet
        # what was looked up already: pieces that touch a stretch of an edge, seams that lie in one line
        self.touched: dict[object, Any] = {}
        self.crossed: Crossed = {}
        self.family: tuple[Context, ...] = sizes or (self,)  # all sizes that one booklet tells
        self.besides: Sequence[MadeBesides] | None = None  # what is told besides the quilt, once that is worked out
        self.within: Context | None = None  # the booklet of which this is a part, with letters and codes

    @property
    def pattern(self) -> Pattern:
        """The model."""
        return self.project.pattern

    @property
    def units(self) -> Units:
        """The units lengths are printed in."""
        return self.phrases.units

    @property
    def seam(self) -> Length:
        """The seam allowance."""
        return self.pattern.settings.seam

    @property
    def size_name(self) -> str:
        """The title of the row of the sizes table; "as written" without one."""
        row = next((s for s in self.pattern.sizes if s.name == self.pattern.size), None)
        return row.title if row else self.phrases.say("words.as_written")

    @cached_property
    def swatches(self) -> dict[str, Swatch]:
        """Letters, textures and colours of the fabrics: those that some size uses, and the lining's."""
        if self.within is not None:
            return self.within.swatches
        besides = [c for one in self.besides or () for c in one.ctx.family]
        plans, fabrics = [c.plan for c in (self, *self.family, *besides)], self.pattern.fabrics
        lines = (line.fabric for plan in plans for own in plan.fabrics.values() for line in own.lines)
        keys = {fabrics[key].called for key in lines} | {p.backing.fabric for p in plans if p.backing}
        used = [f for f in fabrics.values() if f.key in keys]
        found = assign((f.key, f.title, f.colour, f.value) for f in used or fabrics.values())
        return with_shades(found, fabrics) if any(f.group is not None for f in used) else found

    @cached_property
    def look(self) -> Look:
        """How drawings are told."""
        return PhraseLook(self.units, self.seam, self.phrases.table("drawing"), phrases=self.phrases, names=self.names)

    @cached_property
    def coded_look(self) -> Look:
        """The same, with the codes of cut pieces."""
        return msgspec.structs.replace(self.look, codes=self.codes, piece=self.worked.desk.piece)

    def say(self, key: str, **values: Any) -> str:
        """A phrase filled in."""
        return self.phrases.say(key, **values)

    def state(self, key: str, **values: Any) -> Sentence:
        """The same as data, for what is merged before it is put in words."""
        return self.phrases.state(key, **values)

    def fabric(self, key: str) -> str:
        """A fabric as it is always called: ``Midnight blue (A)``."""
        swatch = self.swatches.get(key)
        if swatch is None:
            return self.pattern.fabrics[key].title if key in self.pattern.fabrics else key
        one = self.pattern.fabrics[key].print if swatch.of and key in self.pattern.fabrics else None
        title = f"{swatch.title} ({swatch.letter})"
        return self.say("prints.one", group=title, role=one.role) if one is not None and one.role else title

    def cloth(self, key: str) -> str:
        """A fabric where it is clear which print is meant: the first print that a unit is given by its group's name."""
        fabric = self.pattern.fabrics.get(key)
        one = fabric.print if fabric is not None else None
        return self.fabric(one.group if one is not None and one.role == 1 else key)

    @cached_property
    def dealt(self) -> Dealing:
        """Which copies get which prints of groups."""
        return shared_out(self.roots, self.pattern.fabrics)

    def as_shown(self, making: Making) -> Making:
        """A making as it is drawn, its groups of prints in shades."""
        return with_prints(making, self.pattern.fabrics)

    def raw(self, making: Making) -> tuple[Length, Length]:
        """What a unit measures, raw edge to raw edge."""
        s = self.seam * 2
        return making.width + s, making.height + s

    def measures(self, making: Making) -> str:
        """The same in words; nothing of a piece that is no rectangle."""
        return self.phrases.by(*self.raw(making)) if is_box(making) else ""

    def size(self, making: Making) -> Printed | str:
        """The same as data."""
        return Printed("by", self.raw(making)) if is_box(making) else ""

    def count(self, making: Making) -> Count:
        """The count of a making that is in the plan."""
        found = self.plan.count_of(making)
        assert found is not None
        return found

    def listed(self, items: Sequence[str]) -> str:
        """Items in a row of words: ``a, b and c``."""
        return self.phrases.listed(items)

    def title(self, making: Making) -> str:
        """What a making is called."""
        return self.names.title(making)

    def noun(self, making: Making, n: int | str) -> str:
        """A number of makings with what they are: ``4 goose units``, ``3 star blocks``, ``rows 1 and 3``."""
        if making.recipe.apart is not None:
            return self.say("nouns.apart", n=n, number=self.names.number(making), title=self.names.whole(making))
        title, version = self.names.base(making), self.names.version_of(making)
        role = making.role if making.role in ("unit", "block") else "other"
        if making.key.part == SASHING_ROW:
            role = "sashing"
        elif isinstance(making.key, Key) and making.key.piece is not None and making.key.piece.what in SET_PARTS:
            role = "border" if making.key.piece.what in ("border", "ring") else "part"
        elif making.role in ("centre", "quilt", "border", "row"):
            role = "numbered" if self.names.every_other_of(making) else "named"
        elif making.role == "border strip":
            role = "border"
        return self.say(f"nouns.{role}", n=n, title=title) + (f", {version}" if version else "")

    @cached_property
    def worked(self) -> Worked:
        """The making order of what is told here, from the plan that is printed."""
        return order_from(self.pattern, self.plan, self.roots, (self.project.size, self.project.colourway))

    @cached_property
    def designs(self) -> Mapping[Thing, Making]:
        """What each thing of the order is, as it is called here."""
        return {count.making.thing: count.making for count in self.plan.counts}

    @property
    def order(self) -> Order:
        """The order itself."""
        return self.worked.order

    @cached_property
    def rehearsed(self) -> Rehearsal:
        """What came of sewing the order on simulated cloth."""
        from patternkit.rehearsal.rehearse import rehearsal

        return rehearsal(self.order, self.worked.designs)

    def performed(self, making: Making) -> Performed | None:
        """What the table shows while a making is sewn; None where its kind says no actions."""
        from patternkit.drawing.from_states import Performed

        for n, step in enumerate(self.order.steps):
            done = self.rehearsed.outcomes.get((n, 0))
            if step.thing == making.thing and done is not None:
                return Performed(step.batches[0][0], tuple(done.performance.states), self.worked.designs)
        return None

    @cached_property
    def makers(self) -> Mapping[Thing, Step]:
        """The step in which each thing is made: its own, or the one from which it comes besides (strip units that are
        shared, mirror images)."""
        found = {thing: step for step in self.order.steps for thing in step.gives if isinstance(thing, Thing)}
        return found | {step.thing: step for step in self.order.steps}

    @cached_property
    def codes(self) -> Mapping[Piece, str]:
        """Letter and number of each cut piece, one for all sizes."""
        first = self.within.family if self.within is not None else ()
        orders = [(c.order.steps, c.order.cutting) for c in (*first, *self.family)]
        used = {key for key, swatch in self.swatches.items() if not swatch.of}
        return codes_of(lettered(self.pattern.fabrics, used), orders)

    @cached_property
    def forms(self) -> Forms:
        """The forms of the steps."""
        return Forms(self.makers)

    @cached_property
    def template_names(self) -> Mapping[tuple[Thing, str], str]:
        """What each template is called, by the thing that is sewn of its pieces, and the template."""
        makings = (c.making for c in self.plan.counts)
        return template_names(
            makings,
            self.title,
            lambda t, letter: self.say("template.name", title=t, letter=letter),
            lambda cut: self.form(cut).shape.name,
            lambda cut: not self.angle(self.form(cut).shape.name),
        )

    def angle(self, template: str) -> int:
        """The angle of the ruler by which a shape is cut that needs no template; 0 for others."""
        known = self.order.templates.get(template)
        if known is None:
            return 0
        return BIAS if known.bias_strip is not None else known.angle

    def bias_strip(self, template: str) -> tuple[Length, Length] | None:
        """How wide and how long a bias strip is that a ruler cuts; None of any other shape."""
        known = self.order.templates.get(template)
        return known.bias_strip if known is not None else None

    def form(self, cut: PieceCut) -> Found:
        """The template of a cut, and how that lies for it."""
        desk = self.worked.desk
        return desk.templates.find(cut, cut.fabric in desk.directional or cut.fixed_grain)

    @cached_property
    def marks(self) -> Mapping[int, tuple[Mark, ...]]:
        """The joints on the seams of each making, by its identity, with what happens there."""
        from patternkit.pressing.conflicts import side_of, verdict
        from patternkit.pressing.joints import find_joints

        found: dict[int, list[Mark]] = {}
        kinds = {"nest": "lock", "conflict": "clash", "weak": "open", "pin": "open"}
        for j in find_joints(self.top) if self.top is not None else ():
            happens = verdict(j, side_of(j.a.making, j.a.seam, None), side_of(j.b.making, j.b.seam, None))
            mark = Mark(j.local, kinds[happens]) if happens in kinds else None  # type: ignore[arg-type]
            marks = found.setdefault(id(j.making), [])
            if mark is not None and mark not in marks:
                marks.append(mark)
        return {key: tuple(marks) for key, marks in found.items()}

    def number(self, thing: Thing) -> int | str:
        """The number of the step in which a thing is made; nothing before the steps have their numbers."""
        return self.numbers.get(thing, "")

    def shape(self, width: Length, height: Length, n: int) -> str:
        """Square or rectangle, in the number asked."""
        word = "square" if width == height else "rectangle"
        return self.say(f"words.{word}{'' if n == 1 else 's'}")

    @cached_property
    def steps(self) -> list[Count]:
        """The makings that are sewn in a step of their own, in reading order: release by release, and in each units,
        blocks, top, borders."""
        alone = [c for c in self.plan.counts if c.cut_with is None and c.waste_of is None]
        own = [c for c in alone if c.making.is_sewn]
        return sorted(own, key=lambda c: self.reading(c.making))  # stable: sewing order within each

    def reading(self, making: Making) -> tuple[int, int]:
        """Where a step stands in reading order: its first release by number, then the section."""
        return self.first_runs.get(making.thing, 0), SECTIONS.index(section_of(making))

    @cached_property
    def first_runs(self) -> Mapping[Thing, int]:
        """In which release each thing is first made; empty where the pattern has no releases."""
        return first_runs(self.order) if self.pattern.parts else {}

    @cached_property
    def shares(self) -> Mapping[int, RunShare]:
        """The releases by number, from 0; what none of them makes has the number after the last."""
        return {s.release: s for s in shares_of(self.order, self.pattern.parts)} if self.pattern.parts else {}


BIAS = 45
"""The line of the ruler along which bias strips are cut."""
VERSIONS = ("version A", "version B", "version C", "version D")


def _versions(project: Project) -> dict[AnyKey, tuple[str, ...]]:
    """Units in several versions, with what each is called, by their number."""
    pressing = project.pressing
    found: dict[AnyKey, tuple[str, ...]] = {v.key: v.names for v in pressing.versions} if pressing is not None else {}
    if project.top is not None:
        for making in sewing_order([project.top]):
            if making.version & OTHER_SEAMS:
                two = making.key in found
                found[making.key] = VERSIONS if two else (VERSIONS[0], "", VERSIONS[1], "")
    return found


def units_for(pattern: Pattern, wanted: str, catalogue: Mapping[str, str]) -> Units:
    """The units to print in: those asked for; the language's own where the file is in inches; or the file's."""
    own = pattern.settings.units
    return SYSTEMS.get(wanted or ("" if own.decimals else catalogue.get("units", "")), own)


def context(
    project: Project,
    *,
    language: str = "",
    units: str = "",
    house: Mapping[str, Any] | None = None,
    solver: bool = True,
    sisters: Sequence[Project] = (),
) -> Context:
    """Plan a project and make it ready to be told; `sisters` are the same pattern in the rows of its sizes table."""
    settings = project.pattern.settings
    wanted = (language or settings.language).lower().replace("_", "-").split("-")[0]  # en-gb is read as en
    words = catalogue(wanted if wanted in ("en", "de") else "en")
    printed = units_for(project.pattern, units, words)
    phrases = Phrases(wanted, printed, house, converted=printed.decimals != settings.units.decimals)
    several = len(sisters) > 1
    others = tuple(_planned(p, phrases, solver, several=several) for p in sisters)
    found = _planned(project, phrases, solver, others, several)
    for other in others:
        other.many, other.family, other.within = len(others) if several else 0, others, found
    return found


def beside(projects: Sequence[Project], whole: Context) -> Context:
    """What is told besides a quilt, in every size that has it; its letters and codes are the booklet's."""
    several = len(projects) > 1
    sizes = tuple(_planned(p, whole.phrases, True, several=several) for p in projects) if several else ()
    for c in sizes:
        c.many, c.family, c.within = len(sizes), sizes, whole
    found = _planned(projects[0], whole.phrases, True, sizes, several)
    found.within = whole
    return found


def _planned(
    project: Project,
    phrases: Phrases,
    solver: bool,
    sizes: tuple[Context, ...] = (),
    several: bool = False,
) -> Context:
    pattern = project.pattern
    versions = _versions(project)
    top = project.pressed_top
    borders = max((len(quilt.borders) for quilt in pattern.quilts), default=0)
    printed = {key: fabric.title for key, fabric in pattern.fabrics.items()}
    unlike = variants([top] if top is not None else [m for m, _ in project.roots], printed)
    names = Names(phrases, borders, row_count(top) if top is not None else 0, several, versions, unlike)
    lot = METRIC_LOT if phrases.converted and phrases.units.decimals else None
    plan, problems = project.plan(solver=solver, lot=lot)
    if problems:  # a booklet without what cannot be cut would be told as if it were whole
        raise PatternError(problems, project.sources)
    return Context(project, plan, project.sewn_top, phrases, names, sizes, project.sewn_roots)


__all__ = ["Context", "beside", "context", "units_for"]
