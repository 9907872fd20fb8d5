"""What may have been meant where a problem has no offer of its own: each guess is an offer that has to be tried."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import chain

from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.source import Span

_NUMBER = re.compile(r"(?<![\w./#])(\d+)(?:([ ]\d+/\d+)|(\.\d+))(?![\w/])")
_TURN = re.compile(r"\bturned[ ]+(\d+(?:[ ]\d+/\d+|\.\d+)?)")
_WORD = re.compile(r"[A-Za-z][A-Za-z'-]*")
_HEADS = r"^(?:unit|block|fabrics?|let)[ \t]+({})(?![\w'-])"
_OF_SEVERAL = ("make-differs", "claim-differs", "finished-or-measures", "border-does-not-close", "strips-differ")
"""Problems that one wrong number elsewhere may bring."""
_USUAL_SEAM = "1/4"
"""In inches: common practice, no source."""
_POINT_WORDS = (
    "from",
    "to",
    "through",
    "of",
    "along",
    "start",
    "end",
    "again",
    "about",
    "top",
    "bottom",
    "left",
    "right",
)
"""Words of the points of a line in a shape, which are read with it and not by the grammar."""


def guesses(project: Project, problem: Problem) -> list[Repair]:
    """Changes of the main file that may be what was meant."""
    span = problem.span
    if span.file != project.name:
        return []
    text = project.read.text[span.start : span.end]
    if problem.code == "wrong-arguments":  # its place may be the name alone
        text = project.read.text[span.start :].split("\n", 1)[0].partition(")")[0]
    found: list[Iterator[Repair]] = []
    if problem.code in ("not-a-count", "wrong-arguments", "not-understood"):
        found.append(_whole_numbers(text, span))
    if problem.code in _OF_SEVERAL:
        found.append(_settings(project.read.text, span))
    if problem.code == "odd-turn":
        found.append(_quarter_turns(project.read.text, span))
    if problem.code == "glued-minus":
        found.append(_one_hyphen(project.read.text, span))
    if problem.code == "part-count":
        found.append(_numbers_named(project.read.text, span, problem.message))
    if problem.code == "unknown-name":
        found.append(_called_so(project, problem))
    if problem.code == "not-understood" and " " not in text:  # what is not understood may be the word behind it
        text = re.split(r"[,\n]", project.read.text[span.start :], maxsplit=1)[0]
    if problem.code == "not-understood" and not _WORD.search(text):  # nor the word before it
        start = project.read.text.rfind("\n", 0, span.start) + 1
        text, span = project.read.text[start : span.end], Span(span.file, start, span.end)
    if problem.code in ("not-understood", "wrong-place"):
        found.append(_nearest(text, span, _words()))
    if problem.code in ("not-understood", "unknown-name", "press-no-seam") and not problem.repairs[1:]:
        found.append(_nearest(text, span, [*project.pattern.fabrics, *project.pattern.units]))
    return list(chain.from_iterable(found))


def _at(found: re.Match[str], span: Span, start: int, group: int = 0) -> Span:
    """The place of what was found in a text that begins at `start` of the file."""
    return Span(span.file, start + found.start(group), start + found.end(group))


def _numbers_named(text: str, span: Span, message: str) -> Iterator[Repair]:
    """The numbers that the message names, in the place of the one that stands before the name it is about."""
    line = text.rfind("\n", 0, span.start) + 1
    for found in list(re.finditer(r"\b\d+\b", text[line : span.end]))[-1:]:
        place = _at(found, span, line)
        for named in dict.fromkeys(re.findall(r"\b\d+\b", message)):
            if named != found[0]:
                yield Repair(f"write {named}", place, named)


def _whole_numbers(text: str, span: Span) -> Iterator[Repair]:
    """The whole numbers on both sides of a fraction."""
    for found in _NUMBER.finditer(text):
        place = _at(found, span, span.start)
        for n in (int(found[1]), int(found[1]) + 1):
            if n:
                yield Repair(f"write {n}", place, f"{n}")


def _settings(text: str, span: Span) -> Iterator[Repair]:
    """One block more or fewer across or down, and the usual seam: each shows in several numbers at once."""
    for found in re.finditer(r"^[ \t]+(?:across[ \t]+(\d+))?(?:,?[ \t]*down[ \t]+(\d+))?", text, re.M):
        for word, group in (("across", 1), ("down", 2)):
            if found[group]:
                for n in (int(found[group]) - 1, int(found[group]) + 1):
                    if n:
                        yield Repair(f"write {word} {n}", _at(found, span, 0, group), f"{n}")
    for found in re.finditer(r"^[ \t]+seam[ \t]+(\d[\d/ .]*\d|\d)[ \t]*$", text, re.M):
        if found[1] != _USUAL_SEAM and not re.search(r"^[ \t]+units[ \t]+(?:cm|mm)", text, re.M):
            yield Repair(f"write seam {_USUAL_SEAM}", _at(found, span, 0, 1), _USUAL_SEAM)


def _quarter_turns(text: str, span: Span) -> Iterator[Repair]:
    """The quarter turns that are nearest to the turn that is said."""
    line = text.rfind("\n", 0, span.start) + 1
    for found in _TURN.finditer(text[line : span.end]):
        stated = float(found[1].split()[0])
        if found[1] not in ("90", "180", "270"):
            for turn in sorted((90, 180, 270), key=lambda t: abs(t - stated))[:2]:
                yield Repair(f"write turned {turn}", _at(found, span, line, 1), f"{turn}")


def _one_hyphen(text: str, span: Span) -> Iterator[Repair]:
    """One hyphen for two."""
    start = max(0, span.start - 1)
    for found in re.finditer(r"--+", text[start : span.end + 1]):
        yield Repair("write one hyphen", _at(found, span, start), "-")


def _called_so(project: Project, problem: Problem) -> Iterator[Repair]:
    """That what is called nearly so, and is spoken of nowhere else, is called so itself."""
    text = project.read.text
    for offer in problem.repairs:
        span, close = offer.span, offer.replacement
        if span is None or not close or span.file != project.name:
            continue
        name = text[span.start : span.end]
        head = re.search(_HEADS.format(re.escape(close)), text, re.M)
        many = len(re.findall(rf"(?<![\w'-]){re.escape(close)}(?![\w'-])", text))
        if head is not None and many == 1 and _WORD.fullmatch(name):
            place = _at(head, span, 0, 1)
            yield Repair(f"call it {name} where it is described, instead of {close}", place, name, True)


@cache
def _words() -> list[str]:
    """The words of the language."""
    from patternkit.piecing.kinds.slices_points import SIDES
    from patternkit.syntax.words import OPTION_WORDS, PHRASES, PLACES

    phrases = (word for table in PHRASES.values() for phrase in table for word in phrase.split())
    return sorted({*chain.from_iterable(PLACES.values()), *OPTION_WORDS, *_POINT_WORDS, *SIDES, *phrases})


def _nearest(text: str, span: Span, known: Iterable[str]) -> Iterator[Repair]:
    """What the words at the place of the problem are near to; in a long stretch only its first word is looked at."""
    from patternkit.syntax.suggest import nearest

    names = list(known)
    for found in list(_WORD.finditer(text))[: 1 if "\n" in text else None]:
        close = nearest(found[0], [name for name in names if name != found[0]])
        if close:
            place = _at(found, span, span.start)
            yield Repair(f"write {close} instead of {found[0]}", place, close, True)
