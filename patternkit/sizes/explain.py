"""A contradiction in the writer's own statements: numbered steps, and the changes that would settle it.

Nothing here says which statement is wrong: any of them may be.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from fractions import Fraction

import msgspec

from patternkit.english import listed
from patternkit.lengths import ZERO, Length
from patternkit.sizes.affine import Affine
from patternkit.sizes.causes import Cause, Var
from patternkit.sizes.repairs import SizeChange, changes, key_of
from patternkit.sizes.solution import Contradiction, ContradictionTerm, Solution
from patternkit.sizes.system import System
from patternkit.sizes.walk import Walk, walk
from patternkit.sizes.wording import Wording, number_text
from patternkit.source import NOWHERE, Span
from patternkit.units import apart, finely, show

_EIGHTH = Fraction(1, 8)
_MOST_ROUNDS = 6  # each is one more solving; what is told later is then told as it stands


class Reason(msgspec.Struct, frozen=True):
    """One sentence of an explanation (no number, no full stop) and where it comes from."""

    text: str
    span: Span
    cause: Cause


class NumberChange(msgspec.Struct, frozen=True):
    """A change that would settle it, as a sentence; `replacement` is the text for the number at `span`. `let` is the
    name whose value it changes, where it is one given by ``let``."""

    text: str
    span: Span
    replacement: str | None
    change: SizeChange | None
    let: str = ""


class Explained(msgspec.Struct, frozen=True):
    """Everything to be said about one contradiction, or about several that one change would settle.

    `claim` tells whether a stated claim differs from what the rest gives (else two sides of a seam, or a sum);
    `closing` is that claim or seam. `hint` is the sentence about two seams, or empty; `conflicts` all that are meant,
    the explained one first; `condition` the gap when it depends on parameters.
    """

    message: str
    closing: Cause
    steps: tuple[Reason, ...]
    repairs: tuple[NumberChange, ...]
    hint: str
    claim: bool
    conflicts: tuple[Contradiction, ...]
    condition: Affine | None


def explain(
    solution: Solution, wording: Wording | None = None, *, grid: Fraction = _EIGHTH, seam: Length = ZERO
) -> list[Explained]:
    """All that does not agree at the parameters' values in `wording`, each thing once.

    Contradictions that one and the same change would settle are told as one, by the shortest of them. `grid` is the
    ruler's, in inches; `seam` the seam allowance, by which a finished size taken for one with seams is known.
    """
    return resolve(solution, wording, grid=grid, seam=seam)[0]


def resolve(
    solution: Solution, wording: Wording | None = None, *, grid: Fraction = _EIGHTH, seam: Length = ZERO
) -> tuple[list[Explained], Solution]:
    """What `explain` gives, and the sizes as they are once the first repair of each is made, for going on with.

    A contradiction that leans on a number of another one is explained with that one mended, so that one slip is not
    told over and over in what follows from it.
    """
    wording = wording or Wording()
    solution = nearer(solution, wording.env)
    explained: dict[int, Explained] = {}
    mended: set[Hashable] = set()
    first_seen = [c for c in solution.conflicts if c.open_at(wording.env)]
    for _ in range(_MOST_ROUNDS):
        conflicts = solution.conflicts
        offered = changes(solution, wording.env, grid, seam)
        offered = [[c for c in some if c.key not in mended] or some for some in offered]
        made: dict[Hashable, SizeChange] = {}
        waiting = False
        groups = [g for g in _groups(conflicts, offered, wording.env) if conflicts[g[0][0]].equation not in explained]
        for group, shared in sorted(groups, key=lambda g: -len(g[0])):
            first = min(group, key=lambda i: (len(conflicts[i].parts), i))
            if any(key_of(p) in made for i in group for p in conflicts[i].parts):
                waiting = True
                continue
            best = shared or next((c for c in offered[first] if not c.breaks and not c.leaves), None)
            if best is not None:
                made[best.key] = best
            one = _explained(
                [conflicts[first]] + [conflicts[i] for i in group if i != first],
                [shared] if shared else [],
                offered[first],
                wording,
                seam,
            )
            explained |= dict.fromkeys((conflicts[i].equation for i in group), one)
        mended.update(made)
        if made:
            solution = _mended(solution, made, wording)
        if not waiting:
            break
    return _all_explained(explained, first_seen), solution


def nearer(solution: Solution, env: Mapping[str, Length]) -> Solution:
    """The same statements solved with claims taken in as they are met, where that tells no more contradictions and in
    fewer statements.

    A unit that contradicts itself may otherwise be told by way of half the quilt, whose blocks give its size too. Sizes
    that no fraction gives are left alone: there a claim that was rounded has to be the last.
    """
    far = [len(c.parts) for c in solution.conflicts if c.open_at(env)]
    if len(far) < 2 or not solution.finished:
        return solution
    again = System()
    again.needed, again.equations = dict(solution.needed), list(solution.equations)
    near = again.solve(claims_last=False)
    found = [c for c in near.conflicts if c.open_at(env)]
    exact = all(c.gap.at(env).is_constant and c.gap.at(env).const.is_fraction for c in found)
    fewer = len(found) <= len(far) and sum(len(c.parts) for c in found) < sum(far)
    return near if near.finished and exact and fewer else solution


def _all_explained(explained: Mapping[int, Explained], conflicts: list[Contradiction]) -> list[Explained]:
    """The explanations in order; a conflict that went away with the repairs of others belongs to one that it shares a
    statement with."""
    kept = list({id(one): one for _, one in sorted(explained.items())}.values())
    more: dict[int, list[Contradiction]] = {}
    for conflict in conflicts:
        if conflict.equation not in explained:
            keys = {key_of(p) for p in conflict.parts if p.cause.stated}
            shared = [sum(key_of(p) in keys for p in one.conflicts[0].parts) for one in kept]
            more.setdefault(shared.index(max(shared)), []).append(conflict)
    return [msgspec.structs.replace(one, conflicts=(*one.conflicts, *more.get(i, ()))) for i, one in enumerate(kept)]


def _mended(solution: Solution, made: Mapping[Hashable, SizeChange], wording: Wording) -> Solution:
    """The same statements with some of their numbers changed, solved again."""
    equations = []
    for e, equation in enumerate(solution.equations):
        change = (
            made.get(key_of(ContradictionTerm(e, {}, equation.right, equation.cause, ZERO)))
            if equation.cause.stated
            else None
        )
        if change is not None:
            more = (change.new - change.old) * Affine(equation.cause.per.inverse())
            cause = msgspec.structs.replace(
                equation.cause, text=f"{equation.cause.text} (taken as {wording.length(change.new)})", typed=change.new
            )
            equation = msgspec.structs.replace(equation, right=equation.right + more, cause=cause)
        equations.append(equation)
    found = solution.with_numbers(equations)
    if found is None:
        again = System()
        again.needed, again.equations = dict(solution.needed), equations
        found = again.solve()
    return found


def _groups(
    conflicts: list[Contradiction], offered: list[list[SizeChange]], env: Mapping[str, Length]
) -> list[tuple[list[int], SizeChange | None]]:
    """Conflicts to be told together: those that one change settles without doing harm."""
    left = [i for i, c in enumerate(conflicts) if c.open_at(env)]
    groups: list[tuple[list[int], SizeChange | None]] = []
    while left:
        best: SizeChange | None = None
        for i in left:
            for change in offered[i]:
                if not change.breaks and (
                    best is None or len(change.resolves & set(left)) > len(best.resolves & set(left))
                ):
                    best = change
        merged = [i for i in left if best is not None and i in best.resolves]
        if best is None or len(merged) < 2:
            groups += [([i], None) for i in left]
            break
        groups.append((merged, best))
        left = [i for i in left if i not in merged]
    return sorted(groups, key=lambda g: conflicts[g[0][0]].equation)


def _explained(
    conflicts: list[Contradiction], first: list[SizeChange], offered: list[SizeChange], wording: Wording, seam: Length
) -> Explained:
    conflict = conflicts[0]
    names = {v: wording.of(v) for p in conflict.parts for v in p.terms}
    way = walk(conflict, wording.env, names)
    wording = msgspec.structs.replace(
        wording, open={text: names.get(var, str(var)) for var, text in way.unknown.items()}
    )
    steps = [
        Reason(_sentence(p, g, shown, wording, g in way.unknown), p.cause.span, p.cause)
        for p, g, shown in zip(way.parts, way.gives, way.shown, strict=True)
    ]
    message, last = _closing_words(way, conflict, wording)
    steps.append(Reason(last, way.closing.cause.span, way.closing.cause))
    if way.open and conflict.gap.is_constant and way.closing.cause.parts:
        sizes = " and ".join(dict.fromkeys(names.get(var, str(var)) for var in way.open))
        steps.append(
            Reason(
                f"that is so however large {sizes} may be: nothing that is said of it can settle it",
                way.closing.cause.span,
                way.closing.cause,
            )
        )
    ordered = first + [c for c in offered if c not in first]
    condition = None if conflict.gap.is_constant else conflict.gap
    offers: dict[Hashable, SizeChange] = {}
    for c in ordered:
        if _reads_otherwise(c, wording):
            offers.setdefault((c.key, _read(c.new, wording)), c)
    repairs = _distinct([_number_change(c, wording, len(conflicts)) for c in offers.values()])
    if condition is not None:  # after plain numbers, before formulas
        plain = sum(c.new.is_constant for c in ordered)
        repairs[plain:plain] = _parameter_repairs(condition, wording)
    if way.open and not repairs:
        repairs = _evening(way, wording)
    once = {step.text: step for step in reversed(steps)}  # a square says the same of its width and its height
    steps = [step for step in steps if once[step.text] is step]
    return Explained(
        message,
        way.closing.cause,
        tuple(steps),
        tuple(repairs),
        _hint(ordered, seam, wording),
        way.closing.cause.claim,
        tuple(conflicts),
        condition,
    )


# -- sentences -------------------------------------------------------------------------------------------
def _sentence(
    part: ContradictionTerm, gives: Var | None, values: Mapping[Var, Affine], wording: Wording, fixed: bool
) -> str:
    """What one statement says, with the sizes known so far; `settled` where it settles a size that was left open."""
    cause = part.cause
    if fixed and gives is not None and (cause.stated or not cause.parts or gives not in part.terms):
        return f"{cause.text}, so {wording.of(gives)} is {wording.length(values[gives])}"
    if cause.stated or not cause.parts:
        return cause.text
    if cause.whole is None:
        return _same_words(cause, part, gives, values, wording)
    words = " + ".join(
        label if var == gives else wording.piece(label, values[var]) for label, var in cause.parts if var in part.terms
    )
    var = cause.whole[1]
    total = f"{cause.place}: {words} "
    if var not in part.terms:
        return total + wording.equals(part.right.at(wording.env))
    total += wording.equals(values[var])
    if gives == var or gives is None:
        return total
    piece = next((text for text, v in cause.parts if v == gives), wording.of(gives))
    return f"{total}, so {piece} is {wording.length(values[gives])}"


def _same_words(
    cause: Cause, part: ContradictionTerm, gives: Var | None, values: Mapping[Var, Affine], wording: Wording
) -> str:
    """Two or more pieces along one edge: what the one that is known makes the other."""
    pairs = [(label, var) for label, var in cause.parts if var in part.terms]
    size = next((label for label, var in pairs if var == gives), None)
    other = next((label for label, var in pairs if var != gives), None)
    if gives is None or size is None or other is None:
        return cause.text
    here = wording.length(values[gives])
    return (
        f"{cause.place}: {size} is as {cause.way} as {other}, {here}"
        if cause.way
        else f"{cause.place}: {size} is as long as {other} there, {here}"
    )


def _closing_words(way: Walk, conflict: Contradiction, wording: Wording) -> tuple[str, str]:
    """The message for the whole and the last step, where two sides meet."""
    part, cause = way.closing, way.closing.cause
    if cause.stated and len(part.terms) == 1:
        ((var, c),) = part.terms.items()
        # the claim's right side is what was stated; the others give something else for the same size
        found = way.values[var] * Affine(Length(c))
        typed = cause.typed if cause.typed is not None else part.right
        here = _as_typed(cause, typed.at(wording.env), found - part.right.at(wording.env))
        text = f"{cause.text}; the other statements make it {wording.length(here)}"
        if here.is_constant and here.const <= ZERO:
            text = f"{cause.text}; the other statements leave nothing for it"
            text += f", and are {wording.length(-here)} too large" if here.const < ZERO else ""
        return text, text
    if cause.parts and cause.whole is None:
        both = [
            f"{label} is {wording.length(way.values[var])}" + (f" {cause.way}" if cause.way else "")
            for label, var in cause.parts
            if var in part.terms
        ]
        text = f"{cause.place}: {listed(both)}, and they are sewn along one edge"
        return text, text
    if cause.parts and cause.whole is not None:
        words = " + ".join(wording.piece(label, way.values[var]) for label, var in cause.parts if var in part.terms)
        total, whole = _both_sides(way, wording)
        held = wording.length(whole)
        if whole.is_constant and held.removeprefix("about ") == wording.length(total).removeprefix("about "):
            held = finely(whole.const, wording.units)  # a diagonal beside what it was rounded to
        text = f"{cause.place}: {words} {wording.equals(total)}, and {cause.whole[0]} is {held}"
        return text, text
    return f"{cause.text}; with the other statements that leaves {_apart(part, way, wording)} over", cause.text


def _both_sides(way: Walk, wording: Wording) -> tuple[Affine, Affine]:
    """What the pieces of the closing part come to, and what the whole is by the other statements."""
    part, cause = way.closing, way.closing.cause
    assert cause.whole is not None
    total = Affine()
    for var, c in part.terms.items():
        if var != cause.whole[1]:
            total = total + way.values[var] * Affine(Length(abs(c)))
    return total, way.values[cause.whole[1]] if cause.whole[1] in part.terms else part.right.at(wording.env)


def _evening(way: Walk, wording: Wording) -> list[NumberChange]:
    """What is left to do where no number that is typed can settle it: more on the one side, or less on the other."""
    cause = way.closing.cause
    if cause.whole is None:
        return []
    total, whole = _both_sides(way, wording)
    gap = total - whole
    if not gap.is_constant:
        return []
    more, less = ("take {gap} out here", "add pieces of {gap} where {whole} is made up")
    if gap.const < ZERO:
        more, less = ("add pieces of {gap} here", "take {gap} out where {whole} is made up")
    size, name = show(abs(gap.const), wording.units), cause.whole[0]
    return [NumberChange(text.format(gap=size, whole=name), cause.span, None, None) for text in (more, less)]


def _as_typed(cause: Cause, typed: Affine, more: Affine) -> Affine:
    """The number that would have been typed for a right side larger by `more`."""
    return typed + more * Affine(cause.per)


def _apart(part: ContradictionTerm, way: Walk, wording: Wording) -> str:
    left = -part.right.at(wording.env)
    for var, c in part.terms.items():
        left = left + way.values[var] * Affine(Length(c))
    return apart(abs(left.const), wording.units) if left.is_constant else wording.length(left)


# -- repairs ---------------------------------------------------------------------------------------------
def _number_change(change: SizeChange, wording: Wording, merged: int) -> NumberChange:
    cause = change.cause
    text = f"{cause.text}: write {wording.length(change.new)} instead of {wording.length(change.old)}"
    if not change.new.is_constant and wording.env:
        here = change.new.at(wording.env)
        if here.is_constant:
            text += f" ({wording.length(here)} as the pattern stands)"
    if merged > 1 and len(change.resolves) > 1:
        text += f"; this would settle {len(change.resolves)} disagreements at once"
    if change.breaks:
        text += f"; {change.breaks} other statement{'s' * (change.breaks != 1)} would then differ"
    elif change.leaves:
        text += f"; {change.leaves} other statement{'s' * (change.leaves != 1)} would still differ"
    return NumberChange(
        text,
        cause.number or cause.span,
        number_text(change.new, cause.unit) if cause.number is not None else None,
        change,
    )


def _reads_otherwise(change: SizeChange, wording: Wording) -> bool:
    """Whether the new number is written otherwise than the old: nobody can write "about 1 in" for 1 in."""
    return _read(change.new, wording) != _read(change.old, wording)


def _read(value: Affine, wording: Wording) -> str:
    """A number as it is read: nobody can write "about 1 in" otherwise than 1 in."""
    return wording.length(value).removeprefix("about ")


def _distinct(found: list[NumberChange]) -> list[NumberChange]:
    """Changes of numbers that stand several times in alike words, told as the first, second... of them."""
    places: dict[str, list[NumberChange]] = {}
    for change in found:
        places.setdefault(change.text, []).append(change)
    distinct = []
    for change in found:
        alike = sorted(places[change.text], key=lambda c: c.span)
        if len(alike) > 1:
            nth = alike.index(change) + 1
            change = msgspec.structs.replace(change, text=f"{change.text} (place {nth} of {len(alike)})")
        distinct.append(change)
    return distinct


def _parameter_repairs(gap: Affine, wording: Wording) -> list[NumberChange]:
    """Values of one parameter, the others as they are, at which a condition holds."""
    found = []
    for name in gap.coefs:
        rest = gap.at({k: v for k, v in wording.env.items() if k != name})
        if list(rest.coefs) != [name]:
            continue
        value = -rest.const / rest.coefs[name]
        if value > ZERO:
            place, own = wording.places.get(name), value * wording.units.inches
            found.append(
                NumberChange(
                    f"let {name} be {show(own, wording.units)}",
                    place or NOWHERE,
                    None if place is None else number_text(Affine(own), wording.unit),
                    None,
                    name,
                )
            )
    return found


def _hint(ordered: list[SizeChange], seam: Length, wording: Wording) -> str:
    """The trade's most frequent slip: a finished size for one with seams, or the other way round."""
    likely = [c for c in ordered if c.seams == (1 if c.cause.raw else -1)]
    change: SizeChange | None = next((c for c in likely if c.cause.claim), None)
    change = change or next((c for c in likely if c.seams < 0), None)
    if change is None:
        return ""
    old, new = wording.length(change.old), wording.length(change.new)
    two = show(seam * 2, wording.units)
    if change.seams < 0:
        return f"{old} is exactly two seams ({two}) more than {new}: it may be the size with seams"
    return f"{old} is exactly two seams ({two}) less than {new}: it may be the finished size"
