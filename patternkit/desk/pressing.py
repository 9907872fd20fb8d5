"""The pressing plan of a pattern in words, and its marks written into the file."""

from __future__ import annotations

import msgspec

from patternkit.english import sentence
from patternkit.piecing.keys import AnyKey, Key
from patternkit.pressing.conflicts import SeamKey
from patternkit.pressing.planner import Loop, PressPlan, tried
from patternkit.pressing.puzzle import PressOptions
from patternkit.pressing.words import SeamNames, choice_words, conflict_words, loop_words
from patternkit.project import Project
from patternkit.units import Units

MOST_TRIED = 12  # changes of one plan that are tried
MOST_JOINTS = 2_000  # in a quilt whose plan is worked out again for that


def press_text(project: Project, plan: PressPlan) -> str:
    """The plan in words: how many joints lock, what was proved, each row's marks, what can't lock and why."""
    lines = [_summary(plan)]
    lines += _marks(project, plan)
    for version in plan.versions:
        first, second = version.counts
        lines.append(f"{version.key}: make {first} ({version.names[0]}) and {second} ({version.names[1]}).")
    if plan.opened:
        opened = sorted({str(thing) for thing, _ in plan.opened})
        lines.append(f"Pressed open: seams of {', '.join(opened)}.")
    units = project.pattern.settings.units
    if plan.planned is not None and plan.left_over:
        names = SeamNames(plan.planned)
        lines += [sentence(conflict_words(left, plan.planned, units, names)) for left in plan.left_over]
    if plan.top is not None and plan.loops:
        names = SeamNames(plan.top)
        offers = _Offers(project, plan)
        for loop in plan.loops:
            lines += _loop(loop, plan, names, units, offers)
    return "\n".join(lines)


def _summary(plan: PressPlan) -> str:
    joints = f"{plan.nested} of {plan.total} joints lock"
    if plan.proved:
        return f"{joints}; proved best."
    if plan.proved_joints:
        return f"{joints}; proved that no more can lock."
    better = f"{joints}; another plan could lose at most {plan.gap:.0%} less at the joints"
    return f"{better}, but would not press every unit as the other sizes do." if plan.agreed else f"{better}."


def _marks(project: Project, plan: PressPlan) -> list[str]:
    """The rows of the file with their marks as planned, one line for each line of text that gets a mark."""
    lines: dict[tuple[str, int], str] = {}
    by_line: dict[tuple[str, int], list[tuple[int, int, str]]] = {}
    for edit in plan.marks:
        span = project.read.real(edit.span)
        source = project.sources.get(span.file)
        if source is None:
            continue
        line, column = source.place(span.start)
        by_line.setdefault((span.file, line), []).append((column - 1, span.end - span.start, edit.text))
        lines[(span.file, line)] = source.line(line)
    shown = []
    for (file, line), edits in sorted(by_line.items()):
        text = lines[(file, line)]
        for column, length, new in sorted(set(edits), reverse=True):
            text = text[:column] + new + text[column + length :]
        shown.append(f"{file}:{line}: {text.strip()}")
    return shown


class _Offers:
    """Changes of the pressing that have been tried: how many joints lock with each, where those are more."""

    def __init__(self, project: Project, plan: PressPlan) -> None:
        self.project, self.plan, self.known = project, plan, dict[object, str]()

    def open(self, seam: SeamKey) -> str:
        """What is gained by pressing a seam open; empty where nothing is."""
        return self._gain(seam, self.project.press_options, seam)

    def halved(self, key: AnyKey) -> str:
        """The same for pressing half of a unit the other way."""
        options = self.project.press_options
        if not isinstance(key, Key):
            return ""
        return self._gain(key, msgspec.structs.replace(options, versions=options.versions | {key}), None)

    def _gain(self, what: object, options: PressOptions, seam: SeamKey | None) -> str:
        if what not in self.known:
            other = None
            if len(self.known) < MOST_TRIED and self.plan.total <= MOST_JOINTS:
                other = tried(self.plan, self.project.values, options, seam)
            gains = other is not None and other.nested > self.plan.nested
            self.known[what] = f" ({other.nested} of {other.total} joints lock then)" if other and gains else ""
        return self.known[what]


def _loop(loop: Loop, plan: PressPlan, names: SeamNames, units: Units, offers: _Offers) -> list[str]:
    """The shortest ring of joints that can't all lock, and what would let more of them lock: a seam that lies open
    already is no choice."""
    assert plan.top is not None
    lines = [sentence(loop_words(loop.joints, plan.top, units, names))]
    makings = {end.making.thing: end.making for j in loop.joints for end in (j.a, j.b)}
    closed = [(key, seam) for key, seam in loop.open_one if key in makings and (key, seam) not in plan.opened]
    gains = {choice_words(names, makings[key], seam): offers.open((key, seam)) for key, seam in closed[:3]}
    gains |= {f"press half of {key} the other way": offers.halved(key) for key in loop.two_versions[:3]}
    choices = [f"{words}{gain}" for words, gain in gains.items() if gain]
    if choices:
        lines.append(f"  You could {', or '.join(choices)}.")
    return lines


def marked(project: Project, plan: PressPlan) -> dict[str, str]:
    """The text of every file with the planned marks written in, nothing else touched. Only free marks are replaced; a
    mark that would have to differ between copies of a row is left free."""
    edits: dict[str, dict[tuple[int, int], set[str]]] = {}
    for edit in plan.marks:
        span = project.read.real(edit.span)
        edits.setdefault(span.file, {}).setdefault((span.start, span.end), set()).add(edit.text)
    found: dict[str, str] = {}
    for file, places in edits.items():
        text = project.sources[file].text
        for (start, end), words in sorted(places.items(), reverse=True):
            if len(words) == 1 and text[start:end] == "|":
                text = text[:start] + next(iter(words)) + text[end:]
        if text != project.sources[file].text:
            found[file] = text
    return found
