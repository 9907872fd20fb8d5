"""Offers that are tried before they are made: each is put into the text, which is checked again.

An offer is kept where its problem goes and no other comes; those that leave least behind stand first. Offers that name
no change of the text can't be tried, and stand behind the others.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from msgspec import structs

from patternkit.checks import run
from patternkit.desk.chunked import Chunked
from patternkit.desk.guesses import guesses
from patternkit.memory import Memory
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.syntax.chunks import Chunks

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


def tried(project: Project, problems: Sequence[Problem]) -> list[Problem]:
    """The problems with those of their offers that were tried and found good, and those that are words only."""
    if all(p.advice for p in problems):
        return list(problems)
    bench = _Bench(project, problems)
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

    def __init__(self, project: Project, problems: Sequence[Problem]) -> None:
        self._project, self._chunks = project, Chunks(project.name)
        self._left = max(MOST, TRIES // (1 + len(project.pattern.sizes)))  # each size is checked again
        self._memories: dict[str, Memory] = {}
        self._before = _Tally(project, problems)
        self._known: dict[str, _Tally] = {}

    def best(self, problem: Problem, offers: Sequence[Repair]) -> tuple[Repair, ...]:
        """The offers that are worth making, the best first."""
        good: list[tuple[int, int, Repair]] = []
        unlike: dict[object, Repair] = {}
        for offer in offers:
            unlike.setdefault(offer.text if offer.replacement is None else (offer.span, offer.replacement), offer)
        for number, offer in enumerate(unlike.values()):
            after = self._after(offer)
            if after is None:
                good.append((UNTRIED, number, offer))
            elif self._better(problem, after):
                good.append(
                    (after.up_to(2), number, structs.replace(offer, text=offer.text + self._cost(offer, after)))
                )
        now = self._before.up_to(2)
        fewer = [g for g in good if g[0] < now or " would then show" in g[2].text or g[0] == UNTRIED]
        best = sorted(fewer if any(g[0] < now for g in good) else good, key=lambda g: g[:2])
        return tuple(offer for _, _, offer in best[:MOST])

    def _cost(self, offer: Repair, after: _Tally) -> str:
        """What else goes with an offer, or comes to light: amounts are not held against sizes that disagree."""
        new = sum((after.codes - self._before.codes).values())
        if new and self._makes_sizes_agree(after):
            return f"; {new} other problem{'s' * (new > 1)} would then show"
        gone = self._before.up_to(2) - after.up_to(2) - 1
        return (
            f"; {gone} other problem{'s' * (gone > 1)} would go with it"
            if gone > 0 and _OTHERS_GONE not in offer.text
            else ""
        )

    def _makes_sizes_agree(self, after: _Tally) -> bool:
        return self._before.disagrees and not after.disagrees

    def _after(self, offer: Repair) -> _Tally | None:
        """The problems of the text with an offer taken; None where that is not tried."""
        span, text = offer.span, self._project.read.text
        if offer.replacement is None or span is None or span.file != self._project.name:
            return None
        changed = text[: span.start] + offer.replacement + text[span.end :]
        if changed not in self._known:
            if not self._left:
                return None
            self._left -= 1
            self._known[changed] = self._checked(changed)
        return self._known[changed]

    def _checked(self, text: str) -> _Tally:
        sources = Chunked(self._chunks, text, self._project.reader)
        project = self._project.edited(text, sources, lambda size: self._memories.setdefault(size, Memory()))
        return _Tally(project, run(project))

    def _better(self, problem: Problem, after: _Tally) -> bool:
        before, key = self._before, _key(problem)
        if after.keys[key] >= before.keys[key]:
            return False
        if (stage := before.stage(problem)) < 2:
            return after.up_to(stage) < before.up_to(stage)
        if self._makes_sizes_agree(after):
            return True
        return after.up_to(2) < before.up_to(2) and all(before.codes[code] >= n for code, n in after.codes.items())
