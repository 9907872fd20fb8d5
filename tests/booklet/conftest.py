"""Projects and booklets of the examples and of a pattern that has everything, made once for all tests."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from patternkit import api
from patternkit.booklet.content.context import Context, context
from patternkit.booklet.content.panels import items
from patternkit.booklet.content.taking import take
from patternkit.document import Booklet
from patternkit.plan.counts import Count
from patternkit.project import Project

ROOT = Path(__file__).resolve().parents[2]
MARSH = Path(__file__).with_name("marsh.pattern")
EXAMPLES = tuple(
    sorted(
        p
        for folder in ("examples", "examples/traditional")
        for p in (ROOT / folder).glob("*.pattern")
        if "wrong" not in p.name
    )
)
FEW = tuple(
    p for p in EXAMPLES if p.stem in ("groyne-runner", "harbour-chain", "lantern-walk", "shore-sampler", "tide-star")
)


@lru_cache(maxsize=64)
def project(path: Path, size: str = "") -> Project:
    """A pattern, read once."""
    return api.load(path, size=size)


@lru_cache(maxsize=64)
def told(path: Path, language: str = "", size: str = "", way: str = "") -> Context:
    """A pattern in one size and colourway, ready to be told."""
    whole = project(path, size)
    return context(whole.in_size(size, way) if way else whole, language=language, solver=False)


@lru_cache(maxsize=64)
def made(path: Path, language: str = "") -> Booklet:
    """Its whole booklet."""
    return api.make_booklet(project(path), language=language)


def taken(count: Count, ctx: Context) -> tuple[str, ...]:
    """What a step lists to take, in words."""
    return items(take(count, ctx)[0], ctx)


def text_project(text: str) -> Project:
    """A pattern from its text."""
    return Project("test.pattern", text)
