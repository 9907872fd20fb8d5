"""All sizes of a pattern as they are sewn: tried unit by unit, and solved again where what grows is tied to others."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.lengths import ZERO, Length
from patternkit.memory import Memory
from patternkit.model.pattern import Pattern
from patternkit.piecing.leaves import Leaf
from patternkit.piecing.sewn.attempt import Attempt
from patternkit.piecing.sewn.framing import sew_quilt
from patternkit.piecing.sewn.ground import QUILT, SIDES, Ground, inner_units
from patternkit.piecing.sewn.ledger import Ledger
from patternkit.piecing.sewn.model import Rounded, RoundingTrouble, SewnSizes
from patternkit.piecing.sizing import Sizing
from patternkit.piecing.unknowns import Unknown, of_unit
from patternkit.sizes import Affine, Solution, System, structure
from patternkit.sizes.causes import Var
from patternkit.sizes.equations import Equation
from patternkit.source import NOWHERE

MOST_ROUNDS = 12
MOST_DROPPED = 60


def sew_sizes(
    pattern: Pattern,
    sizing: Sizing,
    solution: Solution,
    spread: frozenset[str] = frozenset(),
    memory: Memory | None = None,
) -> SewnSizes:
    """The sizes that come out when every leaf is cut by the ruler; those that were solved where all lie on it.

    Units of `spread` are not kept at their size by their ends or by trimming.
    """
    ground = Ground(pattern, sizing, solution, memory=memory)
    sewn = _sewn(ground, spread)
    if sewn.trouble is None:
        return sewn
    for measured, up in ((False, True), (True, False), (True, True)):
        if up or ground.has_roots():
            again = _sewn(Ground(pattern, sizing, solution, measured=measured), spread, up)
            if again.trouble is None:
                return again
    return sewn


def _sewn(ground: Ground, spread: frozenset[str], up: bool = False) -> SewnSizes:
    """One way to sew all: with `up`, a unit whose size is on no line of the ruler is trimmed to the line above, so that
    it is as large as others of its size."""
    pattern, solution = ground.pattern, ground.solution
    base: Solution | None = None
    demands: dict[Var, Length] = {}
    pinned: dict[Unknown, Length] = {}
    rounded: dict[tuple[str, Var], Rounded] = {}  # of every round: what was rounded first lies on the ruler later
    shaped: dict[Unknown, Length] = {}  # units cut by templates, once plain pieces beside them need another size
    for _ in range(MOST_ROUNDS):
        attempt = Attempt(ground, base, demands, spread, up)
        attempt.run()
        if pattern.quilt is not None and not attempt.tied:
            sew_quilt(attempt, pattern.quilt)
        rounded |= {(r.owner, r.var): r for r in attempt.rounded}
        off = not attempt.tied and bool(attempt.troubles) and attempt.troubles[0].reason == "off"
        if not attempt.tied and not (off and not shaped and (shaped := _shaped(ground))):
            return _result(attempt, solution, tuple(rounded.values()))
        pins = {**_pins(attempt), **shaped}
        if pins == pinned:
            break
        pinned = pins
        found = _solved_again(attempt, pins)
        if isinstance(found, RoundingTrouble):
            return SewnSizes(solution, rounded=tuple(rounded.values()), trouble=found)
        base, pins = found
        demands = _demands(attempt, base, pins)
    owner, gap = next(iter(attempt.tied.items()))
    return SewnSizes(solution, rounded=tuple(rounded.values()), trouble=RoundingTrouble(owner, "tied", gap))


def _result(attempt: Attempt, solution: Solution, rounded: tuple[Rounded, ...]) -> SewnSizes:
    """What an attempt in which all fits comes to, unless a size that was said of the quilt does not come out."""
    trouble = attempt.troubles[0] if attempt.troubles else _claim_missed(attempt)
    if trouble is not None:
        return SewnSizes(solution, rounded=rounded, trouble=trouble)
    changes = tuple(attempt.changes)
    return SewnSizes(attempt.final(), attempt.values, attempt.excess, changes, rounded, design=solution)


def _shaped(ground: Ground) -> dict[Unknown, Length]:
    """Units that are cut by templates, which can be made in any size, and lie between two lines of the ruler: the line
    above, so that plain pieces beside them can be cut."""
    found: dict[Unknown, Length] = {}
    for unit in ground.order:
        if not inner_units(unit) and not ground.leaves(unit):
            sizes = {side: ground.design(of_unit(unit.key, side)) for side in SIDES}
            if any(x is not None and x.is_fraction and not ground.on_ruler(x) for x in sizes.values()):
                new = {of_unit(unit.key, s): ground.up(Leaf(s), x) for s, x in sizes.items() if x is not None}
                found |= new if _keeps_shape(ground, unit.key, new) else {}
    return found


def _keeps_shape(ground: Ground, key: str, new: dict[Unknown, Length]) -> bool:
    """Whether a unit may have these sizes by its own geometry."""
    ledger = Ledger()
    own = [e for _, e in ground.stated_by(key) if not e.cause.stated]
    given = [(e.terms.items(), e.right.value(ground.pattern.parameters)) for e in own]
    pinned = [({var: 1}.items(), size) for var, size in new.items()]
    return not any(ledger.add(terms, right) for terms, right in (*given, *pinned))


def _claim_missed(attempt: Attempt) -> RoundingTrouble | None:
    g = attempt.ground
    for _, equation in g.of_quilt():
        if equation.cause.claim and len(equation.terms) == 1:
            var = next(iter(equation.terms))
            now, then, stated = attempt.size(var), g.design(var), equation.right.value(g.pattern.parameters)
            if now is not None and now != then and abs(now - stated) > g.hair:
                return RoundingTrouble(QUILT, "stated", now, equation)
    return None


def _pins(attempt: Attempt) -> dict[Unknown, Length]:
    """The sizes of all units that come out at another size than was solved, those that differ most first; and of those
    that kept theirs although something in them grew."""
    g = attempt.ground
    found: list[tuple[Length, str]] = []
    for unit in g.order:
        if unit.key in attempt.tied:
            continue
        own = [(attempt.size(of_unit(unit.key, s)), g.design(of_unit(unit.key, s))) for s in SIDES]
        if any(now is None or then is None for now, then in own):
            continue
        differs = max(abs((now or ZERO) - (then or ZERO)) for now, then in own)
        kept = any(c.owner == unit.key for c in attempt.changes)
        if (differs or kept) and not any(of_unit(unit.key, s) in attempt.demands for s in SIDES):
            found.append((differs, unit.key))
    found.sort(key=lambda x: -x[0])
    sides = [of_unit(key, s) for _, key in found for s in SIDES]
    return {var: size for var in sides if (size := attempt.size(var)) is not None}


def _demands(attempt: Attempt, base: Solution, pins: dict[Unknown, Length]) -> dict[Var, Length]:
    """What the units beside those that have grown must measure."""
    g = attempt.ground
    demands = dict(attempt.demands)
    for owner in attempt.tied:
        for key in _members(g, owner):
            for s in SIDES:
                value = base.value(of_unit(key, s))
                if of_unit(key, s) not in pins and value is not None:
                    size = value.value(g.pattern.parameters)
                    if size != g.design(of_unit(key, s)):
                        demands[of_unit(key, s)] = size
    return demands


def _members(g: Ground, owner: str) -> Iterable[str]:
    """The units that lie directly in a unit, or in the quilt."""
    quilt = g.pattern.quilt
    if owner != QUILT or quilt is None:
        return inner_units(g.pattern.units[owner])
    pieces = [p for row in quilt.rows for p in row.pieces]
    pieces += [p for p in ((quilt.setting.sides, quilt.setting.corners) if quilt.setting else ()) if p is not None]
    pieces += [p for e in quilt.borders for p in (*e.sequence, e.corner) if p is not None]
    pieces += [p for p in ((quilt.sashing.piece, quilt.sashing.corner) if quilt.sashing else ()) if p is not None]
    return list(dict.fromkeys(p.unit for p in pieces if p.unit))


# -- the equations again ------------------------------------------------------------------------------------
def _solved_again(
    attempt: Attempt, pins: dict[Unknown, Length]
) -> tuple[Solution, dict[Unknown, Length]] | RoundingTrouble:
    """All equations with the sizes that units have grown to in place of what was said of them; and the pins that could
    be held. RoundingTrouble where a size that was stated elsewhere forbids it."""
    g = attempt.ground
    loose = _loose_owners(attempt, pins)
    held = dict(pins)
    dropped: set[int] = set()
    for _ in range(MOST_DROPPED):
        system, names = _system(g, held, dropped)
        solution = system.solve()
        conflict = next(iter(solution.conflicts), None)
        if conflict is None:
            return solution, held
        numbers = [names[p.equation] for p in conflict.parts]
        drop = [n for n in numbers if isinstance(n, int) and _may_drop(g, n)]
        drop.sort(key=lambda n: not _speaks_of(g, n, loose))
        pinned = [n for n in numbers if isinstance(n, Unknown) and n in held]
        if drop:
            dropped.add(drop[0])
        elif len({v.owner for v in pinned}) > 1:
            least = list(held)[max(list(held).index(v) for v in pinned)]
            held = {v: x for v, x in held.items() if v.owner != least.owner}
        else:
            own = [n for n in numbers if isinstance(n, int) and n < len(g.sizing.system.equations)]
            stated = [n for n in own if g.sizing.system.equations[n].cause.stated]
            forbids = g.sizing.system.equations[stated[0]] if stated else None
            owner = pinned[0].owner if pinned else next(iter(attempt.tied))
            return RoundingTrouble(owner, "stated" if forbids else "tied", abs(conflict.gap.const), forbids)
    return RoundingTrouble(next(iter(attempt.tied)), "tied")


def _system(g: Ground, pins: dict[Unknown, Length], dropped: set[int]) -> tuple[System, list[int | Unknown]]:
    """The equations at the pattern's values, without those that a pinned unit states of itself."""
    system = System()
    resolved = {var.owner for var in pins}
    out: set[int] = set()
    for key in resolved:
        out.update(n for n, _ in g.stated_by(key))
    names: list[int | Unknown] = []
    for var, size in pins.items():
        system.add([(var, 1)], Affine(size), structure(NOWHERE, "it comes out so"))
        names.append(var)
    for number, e in enumerate(g.sizing.system.equations):
        if number not in out and number not in dropped:
            right = Affine(e.right.value(g.pattern.parameters))
            system.equations.append(Equation(e.terms, right, e.cause))
            names.append(number)
    for key in (QUILT, *(u.key for u in g.order if u.key not in resolved)):
        for line in g.lines(key):
            system.add(line, 0, structure(NOWHERE, "a line goes on from row to row"))
            names.append(len(g.sizing.system.equations))
    return system, names


def _loose_owners(attempt: Attempt, pins: dict[Unknown, Length]) -> set[str]:
    """The units whose stated sizes give way first: those that have grown, those beside them, and all that hold one."""
    g = attempt.ground
    loose: set[str] = {var.owner for var in pins}
    for owner in attempt.tied:
        loose.add(owner)
        loose.update(_members(g, owner))
    for unit in g.order:
        if any(k in loose for k in inner_units(unit)):
            loose.add(unit.key)
    loose.discard(QUILT)
    return loose


def _speaks_of(g: Ground, number: int, units: set[str]) -> bool:
    """Whether a statement is about one of these units."""
    return any(isinstance(var, Unknown) and var.owner in units for var in g.sizing.system.equations[number].terms)


def _may_drop(g: Ground, number: int) -> bool:
    """Whether a stated size gives way: what is claimed of a unit, the size of a plain piece that follows its
    neighbours, or one that the ruler does not have. What is stated as a cut stays."""
    if number >= len(g.sizing.system.equations):
        return False
    e = g.sizing.system.equations[number]
    if not e.cause.stated or len(e.terms) != 1:
        return False
    var = next(iter(e.terms))
    assert isinstance(var, Unknown)
    if e.cause.claim:
        return var.sort == "unit"
    if e.cause.typed is not None and e.cause.typed != e.right:
        return False
    unit = g.pattern.units.get(var.owner)
    if var.sort in ("quilt", "block") or (unit is not None and unit.kind == "patch"):
        return True
    return not g.on_ruler(e.right.value(g.pattern.parameters))
