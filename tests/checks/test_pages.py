"""Every problem has a page; the page's first example raises exactly it, and its second raises nothing."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from patternkit.checks import rules, run
from patternkit.desk.explain import codes, page
from patternkit.project import Project
from patternkit.source import NOWHERE

ROOT = Path(__file__).parents[2]
BLOCK = re.compile(r"```pattern\n(.*?)```", re.DOTALL)
EMITTED = re.compile(
    r'(?:Problem|report|Mistake|Trouble|trouble|_problem|_wrong|code\s*=)\(?\s*(?:code=)?"([a-z]+(?:-[a-z]+)+)"'
)
ALONE = {"bulk"}  # codes of one word, which the pattern above would take for any other text

# Codes that no text of a pattern can raise, or that only the desk does; `how it comes about` stands on their
# pages.
OUTSIDE = {
    "cannot-read",
    "cannot-write",
    "does-not-hold",
    "nothing-to-write",
    "bad-phrase",
    "unknown-phrase",
    "print-extra-missing",
    "drawing-unreadable",
    "template-too-large",
    "not-worked-out",
    "sizes-too-tangled",
}


def emitted() -> set[str]:
    """Every code in the sources, and those that the rules list."""
    found = set(ALONE)
    for path in (ROOT / "patternkit").rglob("*.py"):
        found |= set(EMITTED.findall(path.read_text(encoding="utf-8")))
    for name, *_ in rules():
        found |= set(__import__(f"patternkit.checks.{name}", fromlist=["CODES"]).CODES)
    return found


def test_every_code_has_a_page_and_every_page_a_code() -> None:
    assert set(codes()) == emitted()


def test_every_rule_lists_its_codes() -> None:
    listed = [c for name, *_ in rules() for c in __import__(f"patternkit.checks.{name}", fromlist=["CODES"]).CODES]
    assert len(listed) == len(set(listed)) > 25
    for name, *_ in rules():
        module = __import__(f"patternkit.checks.{name}", fromlist=["CODES"])
        text = Path(module.__file__).read_text(encoding="utf-8")
        assert all(f'"{c}"' in text.split("CODES", 1)[1].split(")", 1)[1] for c in module.CODES)


@pytest.mark.parametrize("code", codes())
def test_the_page_raises_exactly_its_code(code: str) -> None:
    text = page(code)
    assert text is not None and text.startswith("# ")
    assert "What settles it:" in text or code in OUTSIDE
    blocks = BLOCK.findall(text)
    if code in OUTSIDE:
        assert not blocks and "## How it comes about" in text
        return
    assert re.findall(r"^## (.*)$", text, re.MULTILINE) == ["Raises it", "Mended"]
    wrong, mended = blocks
    problems = run(Project(f"{code}.pattern", wrong), guarded=False)
    assert {p.code for p in problems} == {code}
    for p in problems:
        assert p.span != NOWHERE and 0 <= p.span.start <= p.span.end <= len(wrong)
        assert p.message[0] == p.message[0].upper() and p.message.rstrip().endswith((".", "?", "!"))
    assert run(Project(f"{code}.pattern", mended), guarded=False) == []


@pytest.mark.parametrize("code", sorted(set(codes()) - OUTSIDE))
def test_a_repair_of_the_page_can_be_made(code: str) -> None:
    """Where a repair has a replacement, it can be put in, and the problem it belongs to is gone."""
    text = BLOCK.findall(page(code) or "")[0]
    for p in run(Project("p.pattern", text), guarded=False):
        for repair in p.repairs:
            if repair.replacement is not None:
                assert repair.span is not None
                changed = repair.taken(text)
                left = [
                    q
                    for q in run(Project("p.pattern", changed), guarded=False)
                    if (q.code, q.message) == (p.code, p.message)
                ]
                assert not left, (repair, changed)
