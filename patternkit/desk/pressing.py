"""The pressing plan of a pattern in words, and its marks written into the file."""

from __future__ import annotations

from patternkit.piecing.pressing.conflicts import Conflict
from patternkit.piecing.pressing.joints import Joint
from patternkit.piecing.pressing.planner import Loop, PressPlan
from patternkit.project import Project
from patternkit.units import show



def press_text(project: Project, plan: PressPlan) -> str:
    """The plan in words: how many joints lock, what was proved, each unit's seams, what can't lock and why."""
    lines = [_summary(plan)]
    lines += _marks(project, plan)
    for version in plan.versions:
        first, second = version.counts
        lines.append(f"{version.key}: make {first} pressed {version.names[0]} and {second} pressed {version.names[1]}.")
    if plan.opened:
        opened = sorted({key for key, _ in plan.opened})
        lines.append(f"Pressed open: seams of {', '.join(opened)}.")
    for left in plan.left_over:
        lines.append(_left(left, project))
    for loop in plan.loops:
        lines += _loop(loop)
    return "\n".join(lines)


def _summary(plan: PressPlan) -> str:
    joints = f"{plan.nested} of {plan.total} joints lock"
    if plan.proved:
        return f"{joints}; proved best."
    if plan.proved_joints:
        return f"{joints}; proved that no more can lock."
    return f"{joints}; another plan could lose at most {plan.gap:.0%} less at the joints."


def _marks(project: Project, plan: PressPlan) -> list[str]:
    """The rows of the file with their marks as planned, one line for each line of text that gets a mark."""
    lines: dict[tuple[str, int], str] = {}
    by_line: dict[tuple[str, int], list[tuple[int, int, str]]] = {}
    for edit in plan.marks:
        source = project.sources.get(edit.span.file)
        if source is None:
            continue
        line, column = source.place(edit.span.start)
        by_line.setdefault((edit.span.file, line), []).append((column - 1, edit.span.end - edit.span.start, edit.text))
        lines[(edit.span.file, line)] = source.line(line)
    told = []
    for (file, line), edits in sorted(by_line.items()):
        text = lines[(file, line)]
        for column, length, new in sorted(set(edits), reverse=True):
            text = text[:column] + new + text[column + length:]
        told.append(f"{file}:{line}: {text.strip()}")
    return told


def _left(conflict: Conflict, project: Project) -> str:
    words = {"conflict": "two allowances lie the same way", "weak": "one of the two seams is open",
             "pin": "both seams are open: pin them", "unstated": "the pressing is not settled"}[conflict.verdict]
    return f"{_place(conflict.joint, project)}: {words} ({conflict.count} in the quilt)."


def _place(joint: Joint, project: Project) -> str:
    units = project.pattern.settings.units
    x, y = joint.point
    return f"{joint.place}, {show(x, units)} from the left and {show(y, units)} from the top" if joint.place else \
        f"{joint.making.key}, {show(x, units)} from the left and {show(y, units)} from the top"


def _loop(loop: Loop) -> list[str]:
    """The shortest ring of joints that can't all lock, and the choices."""
    lines = [f"These {len(loop.joints)} joints cannot all lock, because each wants its two seams to lie against each other:"]
    lines += [f"  - {j.place or j.making.key}: {j.a.making.key} and {j.b.making.key}" for j in loop.joints]
    if loop.open_one:
        seams = ", ".join(f"seam {i + 1} of {key}" for key, i in loop.open_one[:4])
        lines.append(f"  You could press one of these open: {seams}.")
    if loop.two_versions:
        lines.append(f"  Or press one of these in two versions (press half of them the other way): "
                     f"{', '.join(loop.two_versions[:4])}.")
    return lines


def marked(project: Project, plan: PressPlan) -> dict[str, str]:
    """The text of every file with the planned marks written in, nothing else touched. Only free marks are replaced;
    a mark that would have to differ between copies of a row is left free."""
    edits: dict[str, dict[tuple[int, int], set[str]]] = {}
    for edit in plan.marks:
        edits.setdefault(edit.span.file, {}).setdefault((edit.span.start, edit.span.end), set()).add(edit.text)
    found: dict[str, str] = {}
    for file, places in edits.items():
        text = project.sources[file].text
        for (start, end), words in sorted(places.items(), reverse=True):
            if len(words) == 1 and text[start:end] == "|":
                text = text[:start] + next(iter(words)) + text[end:]
        if text != project.sources[file].text:
            found[file] = text
    return found


