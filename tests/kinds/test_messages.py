"""What is told about a unit's lines: each problem by its code and its words; the pages of the reference are
true."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import patternkit
from patternkit.piecing.asking import method_words
from patternkit.piecing.kinds import kinds
from patternkit.project import Project
from tests.kinds.text import codes, objections, problems, written

GRAMMAR = Path(__file__).resolve().parents[2] / "grammar"
PAGES = (
    "cut-too-small",
    "seams-added-twice",
    "cut-much-larger",
    "cuts-differ",
    "method-cannot",
    "wrong-pieces",
)
UNITS = (
    "patch", "row", "strips", "half-square", "quarter-square", "three-patch", "flying-geese",
    "half-rectangle", "square-in-a-square", "flipped-corners", "triangle-in-a-square",
)  # fmt: skip
UNUSED = {"not-used", "fabric-not-used"}


def all_codes(text: str) -> set[str]:
    """The codes of a whole file, but for what is not used (an example shows one unit only)."""
    return {p.code for p in patternkit.check(Project("page.pattern", text, reader=_drawing))} - UNUSED


def _drawing(_: str, path: str) -> tuple[str, str]:
    """The drawing of an example."""
    return path, (GRAMMAR.parent / "examples" / "traditional" / "drawings" / path).read_text("utf-8")


def blocks(text: str) -> list[str]:
    """The pattern examples of a page."""
    return re.findall(r"```pattern\n(.*?)```", text, re.S)


@pytest.mark.parametrize("code", PAGES)
def test_problem_pages(code: str) -> None:
    """The first example raises exactly the page's code, the second nothing."""
    bad, good = (GRAMMAR / "problems" / f"{code}.md").read_text(encoding="utf-8").split("## Mended")
    assert [all_codes(b) for b in blocks(bad)] == [{code}]
    assert [all_codes(b) for b in blocks(good)] == [set()]


@pytest.mark.parametrize("name", UNITS)
def test_unit_pages(name: str) -> None:
    """Every example of a unit's page is sound; every method and option of the kind stands on it."""
    text = (GRAMMAR / "units" / f"{name}.md").read_text(encoding="utf-8")
    kind = kinds()[name]
    for method in method_words(kind):
        assert method in text
    for option in kind.options:
        assert f"`{option} " in text or f"{option} " in text
    fabrics = "".join(
        f'fabric {f} "Fabric {f}" {v}\n' for f, v in (("night", "dark"), ("glow", "light"), ("stone",
        "medium"),
                                                    ("sand", "light"), ("sea", "dark"))
    )  # fmt: skip
    corner = "" if name != "row" else "unit corner\n    half-square night, glow\n    finished 3\n"
    found = blocks(text)
    assert found
    for block in found:
        assert all_codes(fabrics + corner + block) == set()


def test_a_method_nobody_knows_is_asked_about() -> None:
    found = problems("\nunit it\n    half-square night, glow\n    finished 2\n    method four at time\n")
    assert [p.code for p in found] == ["unknown-word"]
    assert found[0].message.endswith("Did you mean four at a time?")
    repair = found[0].repairs[0]
    source = written("\nunit it\n    half-square night, glow\n    finished 2\n    method four at time\n").sources
    text = source["trial.pattern"].text
    assert repair.span is not None and repair.replacement is not None and repair.safe
    mended = repair.taken(text)
    assert not [p for p in patternkit.check(Project("m.pattern", mended)) if p.code == "unknown-word"]


@pytest.mark.parametrize(
    ("lines", "code"),
    [
        (("half-square night, glow", "finished 2", "method eight at a time 1/4"), "out-of-place"),
        (("half-square night 2, glow", "finished 2"), "out-of-place"),
        (("half-square night, glow", "finished 2", "leaning left"), "unknown-word"),
        (("flying-geese night, glow", "finished 4 x 2", "cut 3"), "out-of-place"),
        (("row night 2 x 2 | glow 2", "cut 3"), "out-of-place"),
        (("row night 2 x 2 | glow 2", "method pairs of squares"), "out-of-place"),
        (("half-rectangle night, glow", "finished 2 x 4", "leaning lefft"), "unknown-word"),
        (("flipped-corners night, glow", "finished 6", "corner 2", "at top midle"), "unknown-word"),
        (("flipped-corners night, glow", "finished 6"), "size-unknown"),
        (("flipped-corners night, glow", "finished 6", "corner 4"), "cannot-sew"),
        (("flipped-corners night, glow, stone", "finished 6", "corner 1"), "wrong-pieces"),
        (("quarter-square night", "finished 6"), "claim-differs"),  # alone it is half as high as wide
        (("square-in-a-square night, glow 2", "finished 6"), "out-of-place"),
        (("half-square night, glow", "finished 2 x 3"), "claim-differs"),
        (("quarter-square night, glow", "finished 2", "cut 3 1/8"), "cut-too-small"),
        (("three-patch night cut 3, glow cut 3, stone cut 3 1/4", "finished 2"), "cut-too-small"),
        (("half-rectangle night, glow", "finished 2 x 4", "cut 2 3/4 x 5 1/4"), "cut-too-small"),
        (("half-square night, glow", "finished 2", "cut 3 x 4"), "out-of-place"),
    ],
)
def test_objections(lines: tuple[str, ...], code: str) -> None:
    """One mistake, one problem (or that problem before all others)."""
    assert objections(*lines) == [code]


def test_seams_left_out_are_recognised() -> None:
    found = problems("\nunit it\n    half-square night, glow\n    finished 3\n    cut 3\n")
    assert [p.code for p in found] == ["cut-too-small"]
    assert found[0].causes[-1] == "Without any seams it would be 3 in: the seams were left out."
    assert [r.replacement for r in found[0].repairs] == ["3 7/8"]


def test_a_cut_two_seams_too_small_is_not_one_without_seams() -> None:
    """A centre of 5 has corners of 5 / root 2 = 3.54 without seams; 4 is no such size, though 4 1/2 less 1/2."""
    found = problems("\nunit it\n    square-in-a-square night 5, glow cut 4\n    method from triangles\n")
    assert [p.code for p in found] == ["cut-too-small"]
    assert not [c for c in found[0].causes if "left out" in c]
    found = problems("\nunit it\n    square-in-a-square night 5, glow cut 3 5/8\n    method from triangles\n")
    assert "the seams were left out" in found[0].causes[-1]


def test_a_unit_where_a_fabric_belongs() -> None:
    body = """
        unit corner
            half-square night, glow
            finished 2

        unit it
            half-square corner, glow
            finished 2
    """
    assert "must-be-cloth" in codes(body)


def test_a_stated_cut_may_follow_a_parameter() -> None:
    """``cut side/3 + 7/8`` is held against the size at the value given."""
    body = """
        let side = {}

        unit corner
            half-square night, glow
            finished side/3
            cut side/3 + {}
    """
    assert codes(body.format(9, "7/8")) == []
    assert codes(body.format(9, "3/4")) == ["cut-too-small"]
    assert codes(body.format(9, "1 3/8")) == ["seams-added-twice"]


def test_a_metric_message_speaks_metric() -> None:
    found = problems("\nunit it\n    half-square night, glow\n    finished 5\n    cut 6.5\n", "units cm", "seam 0.75")
    assert [p.code for p in found] == ["cut-too-small"]
    assert "7.6 cm" in found[0].message and "7.561 cm" in found[0].causes[1]
