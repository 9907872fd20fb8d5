"""Strip units made for two units: the words, read back from the page, against the plan and against a count of
the quilt.
"""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from patternkit import api, render
from patternkit.document import Block, Booklet, Bullets, Figure, NumberedStep, Paragraph, Section, Table
from patternkit.piecing.names import HALF_STRIP
from patternkit.project import Project

from .conftest import EXAMPLES, made, project, text_project, told
from .test_consistency import inches, needed
from .test_snapshots import Text

OWN = Path(__file__).with_name("shared-strips.pattern")
KEYS = next(p for p in EXAMPLES if p.stem == "fence-and-keys")
BOTH = pytest.mark.parametrize("path", [OWN, KEYS], ids=lambda p: p.stem)

UNITS = re.compile(r"For (?:one strip unit|each of (\d+) strip units)(?: \((half strips)( for the last)?\))? take:")
WAY = re.compile(
    r"from (?:each of (?:the )?(\d+) strip units|the strip unit|the one of whole strips|"
    r"one strip unit|the last strip unit|"
    r"(the (?:one|strip unit) of half strips)): (.+)"
)
SEGMENT = re.compile(r"(\d+) segments? ((?:\d+ )?\d+(?:/\d+)? in) wide for ([\w -]+?)(?= and |, |$)")


def steps(booklet: Booklet) -> list[NumberedStep]:
    def of(blocks: tuple[Block, ...]) -> list[NumberedStep]:
        return [
            s
            for b in blocks
            for s in ([b] if isinstance(b, NumberedStep) else of(b.blocks) if isinstance(b, Section) else [])
        ]

    return of(booklet.sections)


def step_of(booklet: Booklet, title: str) -> NumberedStep:
    return next(s for s in steps(booklet) if s.title.startswith(title))


def said(step: NumberedStep) -> str:
    return " ".join(b.text for b in step.blocks if isinstance(b, Paragraph))


def ways(step: NumberedStep) -> list[tuple[int, bool, list[tuple[int, Fraction, str]]]]:
    """Each way of cutting as it is printed: how many strip units, whether of half strips, the segments."""
    found = []
    for b in step.blocks:
        for item in b.items if isinstance(b, Bullets) else ():
            match = WAY.fullmatch(item)
            if match:
                told_of = [(int(n), inches(w), title) for n, w, title in SEGMENT.findall(match[3])]
                assert len(told_of) == match[3].count("segment")
                found.append((int(match[1] or 1), bool(match[2]), told_of))
    return found


@BOTH
def test_the_words_cut_every_segment_that_the_quilt_needs_and_none_beyond_the_cloth(path: Path) -> None:
    ctx, first = told(path), steps(made(path))[0]
    assert ctx.top is not None
    usable = ctx.pattern.settings.usable_width.fraction
    count = needed(ctx.top)
    wanted = {
        ctx.title(c.making): (count[id(c.making)], c.making.height.fraction + 2 * ctx.seam.fraction)
        for c in ctx.steps
        if c.making.recipe.method.in_strips
    }
    cut: Counter[str] = Counter()
    for times, half, segments in ways(first):
        assert sum(n * w for n, w, _ in segments) <= (usable / 2 if half else usable)
        for n, w, title in segments:
            assert w == wanted[title][1]
            cut[title] += times * n
    assert cut == {title: n for title, (n, _) in wanted.items()} and len(cut) == 2


@BOTH
def test_the_strip_units_of_the_words_are_the_strips_of_the_cutting_table(path: Path) -> None:
    ctx, booklet = told(path), made(path)
    first = steps(booklet)[0]
    lead = next(m for b in first.blocks if isinstance(b, Paragraph) and (m := UNITS.fullmatch(b.text)))
    cut = ways(first)
    assert int(lead[1] or 1) == sum(times for times, _, _ in cut)
    assert bool(lead[2]) == any(half for _, half, _ in cut)
    taken = next(b for b in first.blocks if isinstance(b, Bullets))
    for item in taken.items:
        each = re.match(r"[A-Z]\d+(?: \([A-Z]\d+ for the last\))?: (\d+) strips? of (.+) \((\w)\), (.+) wide", item)
        assert each, item
        halves = sum(times * (1 if half else 2) for times, half, _ in cut) * int(each[1])
        lines = [
            line
            for line in ctx.plan.lines
            if ctx.fabric(line.fabric) == f"{each[2]} ({each[3]})"
            and line.also
            and line.cut.height.fraction == inches(each[4])
        ]
        assert sum(line.count * (1 if line.cut.name == HALF_STRIP else 2) for line in lines) == halves


@BOTH
def test_the_later_step_says_where_its_segments_are(path: Path) -> None:
    booklet = made(path)
    found = steps(booklet)
    later = next(s for s in found if "sewn and pressed already" in said(s))
    match = re.search(
        r"Take the (\d+) segments? (.+) wide that were cut for (.+) in step (\d+), "
        r"from the (?:(\d+) strip units|strip unit) of (.+?)\.",
        said(later),
    )
    assert match
    first = next(s for s in found if s.number == int(match[4]))
    assert first.number < later.number and first.title.lower().startswith(match[6].lower())
    assert later.title.lower() == f"{match[3]}: make {match[1]}".lower()
    assert int(match[5] or 1) == sum(times for times, _, _ in ways(first))
    assert f"{match[3]} (step {later.number})" in said(first)
    assert not any(isinstance(b, Bullets) for b in later.blocks)  # no strips are asked for twice
    drawn = [d for b in first.blocks if isinstance(b, Figure) for d in b.drawings]
    assert any(match[2] in d.description for d in drawn)


@BOTH
def test_tables_name_both_units_once(path: Path) -> None:
    ctx = told(path)
    both = ctx.listed([ctx.title(m) for c in ctx.plan.counts if c.batches and c.shared for m in c.shared.makings])
    rows = [r for s in made(path).sections for b in _flat(s) if isinstance(b, Table) for r in b.rows]
    strips = [r for r in rows if "high" in r[0] and r[1] == "keep whole" and "binding" not in r[3]]
    assert strips and all(r[3] == both for r in strips)
    proof = api.make_booklet(project(path), proof=True)
    cells = " ".join(
        cell for s in proof.sections for b in _flat(s) if isinstance(b, Table) for r in b.rows for cell in r
    )
    assert "strip units made together" in cells and cells.count("strip units of ") >= 3


def _flat(section: Section) -> list[Block]:
    return [x for b in section.blocks for x in (_flat(b) if isinstance(b, Section) else [b])]


def test_shared_strips_word_for_word(snapshot: SnapshotAssertion) -> None:
    assert render.markdown(render.only(made(OWN), ("buy", "cutting", "units"))) == snapshot(extension_class=Text)


def test_shared_strips_in_german(snapshot: SnapshotAssertion) -> None:
    found = [s for s in steps(made(OWN, "de")) if s.number < 3]
    words = [
        [s.title, *(getattr(b, "text", "") or "\n".join(getattr(b, "items", ())) for b in s.blocks)] for s in found
    ]
    assert "\n".join(w for step in words for w in step if w) == snapshot(extension_class=Text)


PARTS = """
part "One" 2026-03-02
    makes {one}

part "Two" 2026-03-09
    makes {two}
"""


def in_parts(one: str, two: str) -> Project:
    return Project("parts.pattern", OWN.read_text(encoding="utf-8") + PARTS.format(one=one, two=two))


def test_a_part_alone_makes_the_strip_units_of_both_units() -> None:
    found = steps(api.make_booklet(in_parts("rung, plank", "ladder, raft, top"), part="One"))
    assert [s.title for s in found] == ["Rung: make 18", "Plank: make 3"]
    assert len(ways(found[0])) == 2 and "in step 1" in said(found[1])


def test_units_of_different_parts_have_strip_units_of_their_own() -> None:
    pattern = in_parts("rung", "plank, ladder, raft, top")
    for part in ("One", "Two"):
        found = steps(api.make_booklet(pattern, part=part))
        assert not any("step" in said(s) and "sewn and pressed already" in said(s) for s in found)
        own = [s for s in found if s.title.startswith(("Rung", "Plank"))]
        assert len(own) == 1 and "strip unit" in said(own[0]) and not ways(own[0])


SIZES = """
sizes
    small  down 4
    tall   down 8
"""


def test_each_size_shares_for_itself() -> None:
    """Twice as high, the tile comes twice: 36 rungs and 6 planks."""
    pattern = Project("sizes.pattern", OWN.read_text(encoding="utf-8") + SIZES)
    booklet = api.make_booklet(pattern)
    rung = step_of(booklet, "Rung")
    text = render.markdown(booklet)
    assert rung.title == "Rung: make 18 / 36"
    assert "18 segments 2 1/2 in wide for rung and 3 segments 4 1/2 in wide for plank" in text
    tall = pattern.in_size("tall").quick_plan[0]
    shared = next(c.shared for c in tall.counts if str(c.making.key) == "rung")
    assert (shared is None) == ("36 segments 2 1/2 in wide for rung" not in text)


def test_the_command_for_cuts_and_its_data_name_both_units() -> None:
    from patternkit.desk.cutting import cuts_text
    from patternkit.desk.cutting_data import cuts_json

    plan = project(OWN).quick_plan[0]
    assert "2 strips 2 1/2 in x the usable width: rung and plank" in cuts_text(project(OWN), plan)
    assert b'"for": "rung and plank"' in cuts_json(project(OWN), plan)


@BOTH
def test_strip_units_are_pressed_before_they_are_cut(path: Path) -> None:
    for step in steps(made(path)):
        texts = [b.text for b in step.blocks if isinstance(b, Paragraph)]
        cut = next((i for i, t in enumerate(texts) if "Square up one end" in t), None)
        if cut is not None:
            assert any(t.startswith("Press") for t in texts[:cut]) and not any("Press" in t for t in texts[cut:])


@pytest.mark.parametrize(("mark", "outer"), [(">", "Foam (C)"), ("<", "Deep water (A)")])
def test_seams_pressed_one_way_are_told_by_the_outer_strip(mark: str, outer: str) -> None:
    """A strip unit has no left and right once it is turned; its outer strips stay what they are."""
    text = KEYS.read_text(encoding="utf-8").replace("deep > tide > foam", f"deep {mark} tide {mark} foam")
    booklet = api.make_booklet(Project("keys.pattern", text))
    assert f"Press all seams one way, toward the outer strip of {outer}." in said(steps(booklet)[0])


@pytest.mark.parametrize(("narrow", "said"), [("39", True), ("42", False)])
def test_strips_of_unequal_length_lie_level_at_one_end(narrow: str, said: bool) -> None:
    """A maker who centres them, or turns every second one, squares up an end where a strip is missing."""
    unequal = text_project(
        f"""pattern "Unequal"
    usable width 42
fabric white
fabric band
    usable width {narrow}
unit seg
    strips white cut 3 | band cut 3 | white cut 3
    cut 3
quilt
    across 4, down 10
    tile
        seg
"""
    )
    page = render.markdown(api.make_booklet(unequal))
    assert ("lay them level at one end, the same for all seams" in page) is said
