"""Offers that are tried before they are made: each is put into the text, which is checked again.

An offer is kept where its problem goes and no other comes; those that leave least behind stand first. Offers that name
no change of the text can't be tried, and stand behind the others.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from msgspec import structs

from patternkit.checks import run
from patternkit.desk.chunked import Revisions
from patternkit.desk.guesses import guesses
from patternkit.problems import Problem, Repair
from patternkit.project import Project

MOST = 4
"""Offers that are told of one problem."""
UNTRIED = 10**6
"""More problems than any text has: what an offer that can't be tried may leave behind."""
_OTHERS_GONE = "disagreements"
"""What an offer says that tells by itself what else it settles."""
TRIES = 32
"""Offers that are tried for one text: each costs what the change costs."""

Key = tuple[str, str, str]
"""What a problem is known by when the text has changed: its code, its sentence, and the row of the sizes table."""


def tried(project: Project, problems: Sequence[Problem], *, sizes: bool = True) -> list[Problem]:
    """The problems with those of their offers that were tried and found good, and those that are words only; with
    `sizes` they are those of all rows of the sizes table."""
    if all(p.advice for p in problems):
        return list(problems)
    bench = _Bench(project, problems, sizes)
    found = []
    for problem in problems:
        offers = () if problem.advice else (*problem.repairs, *guesses(project, problem))
        found.append(structs.replace(problem, repairs=bench.best(problem, offers)) if offers else problem)
    return found


def _key(problem: Problem) -> Key:
    return problem.code, problem.message, problem.size


def _plain(problem: Problem) -> tuple[str, str]:
    """A problem as its room tells it, which may begin with a small letter."""
    return problem.code, problem.message.lower()


def _known(problems: Iterable[Problem]) -> set[tuple[str, str]]:
    return set(map(_plain, problems))


class _Tally:
    """The problems of one text: how many there are of each sort, and how many of them come up while the text is read,
    or the model is built, behind which others hide."""

    def __init__(self, project: Project, problems: Sequence[Problem]) -> None:
        wrong = [p for p in problems if not p.advice]
        self.keys = Counter(map(_key, wrong))
        self.codes = Counter(p.code for p in wrong)
        reading, building = map(_known, (project.reading, project.building))
        self._stages = [0 if k in reading else 1 if k in building else 2 for k in map(_plain, wrong)]
        self._wrong = wrong
        self.disagrees = bool(project.disagreements)

    def stage(self, problem: Problem) -> int:
        """How early a problem comes up."""
        return next((s for p, s in zip(self._wrong, self._stages, strict=True) if p == problem), 2)

    def up_to(self, stage: int) -> int:
        """How many problems come up so early or earlier."""
        return sum(s <= stage for s in self._stages)


class _Bench:
    """A text with its problems, against which changes of it are tried; what a change does not touch is worked out
    once."""

    def __init__(self, project: Project, problems: Sequence[Problem], sizes: bool) -> None:
        self._project, self._sizes = project, sizes
        self._revisions = Revisions(project.name, project.reader)
        rows = len(project.pattern.sizes) if sizes else 0
        self._left = max(MOST, TRIES // (1 + rows))  # each size is checked again
        self._before = _Tally(project, problems)
        self._known: dict[str, _Tally] = {}

    def best(self, problem: Problem, offers: Sequence[Repair]) -> tuple[Repair, ...]:
        """The offers that are worth making, the best first."""
        good: list[tuple[int, int, bool, Repair]] = []  # how many it leaves, its place, whether others come to light
        unlike: dict[object, Repair] = {}
        for offer in offers:
            unlike.setdefault(offer.text if offer.replacement is None else (offer.span, offer.replacement), offer)
        for number, offer in enumerate(unlike.values()):
            after = self._after(offer)
            if after is None:
                good.append((UNTRIED, number, True, offer))
            elif self._better(problem, after):
                new = sum((after.codes - self._before.codes).values()) if self._makes_sizes_agree(after) else 0
                text = offer.text + self._cost(offer, after, new)
                good.append((after.up_to(2), number, new > 0, structs.replace(offer, text=text)))
        now = self._before.up_to(2)
        # an offer that brings as much to light as it settles is made where no other leaves less
        fewer = [g for g in good if g[0] < now or g[0] == UNTRIED] if any(g[0] < now for g in good) else good
        return tuple(g[-1] for g in sorted(fewer, key=lambda g: g[:2])[:MOST])

    def _cost(self, offer: Repair, after: _Tally, new: int) -> str:
        """What else goes with an offer, or comes to light: amounts are not held against sizes that disagree."""
        if new:
            return f"; {new} other problem{'s' * (new > 1)} would then show"
        gone = self._before.up_to(2) - after.up_to(2) - 1
        if gone <= 0 or _OTHERS_GONE in offer.text:
            return ""
        return f"; {gone} other problem{'s' * (gone > 1)} would go with it"

    def _makes_sizes_agree(self, after: _Tally) -> bool:
        return self._before.disagrees and not after.disagrees

    def _after(self, offer: Repair) -> _Tally | None:
        """The problems of the text with an offer taken; None where that is not tried."""
        if offer.replacement is None or offer.span is None or offer.span.file != self._project.name:
            return None
        changed = offer.taken(self._project.read.text)
        if changed not in self._known:
            if not self._left:
                return None
            self._left -= 1
            self._known[changed] = self._checked(changed)
        return self._known[changed]

    def _checked(self, text: str) -> _Tally:
        project = self._project.edited(text, self._revisions.read(text), self._revisions.memory)
        return _Tally(project, run(project, sizes=self._sizes))

    def _better(self, problem: Problem, after: _Tally) -> bool:
        before, key = self._before, _key(problem)
        if after.keys[key] >= before.keys[key]:
            return False
        if (stage := before.stage(problem)) < 2:
            return after.up_to(stage) < before.up_to(stage)
        if self._makes_sizes_agree(after):
            return True
        return after.up_to(2) < before.up_to(2) and all(before.codes[code] >= n for code, n in after.codes.items())
