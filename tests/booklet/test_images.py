"""What comes out mirrored, or with its seams the other way round: the words of the step that makes it, and of the step
that takes it.
"""

from __future__ import annotations

import pytest

from patternkit import api, render
from tests.work.sewn import pattern

TURNED = "u | u mirrored\nu mirrored | u"
CASES = [
    ("quarter-square a, b, c, d", "put 8 of them aside", "came out of step 1 as mirror images"),
    ("quarter-square a, b", "has its long seam on the other diagonal", "with their long seam on the other diagonal"),
    (
        "three-patch a, b, b",
        "has its seams pressed the other way round",
        "with their seams pressed the other way round",
    ),
]


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize(("kind", "kept", "taken"), CASES)
def test_one_step_makes_what_another_takes(kind: str, kept: str, taken: str, language: str) -> None:
    project = pattern(f"{kind}\nfinished 4", tile=TURNED)
    said = render.markdown(api.make_booklet(project, language=language))
    assert ("beiseitelegen" if language == "de" else kept) in said
    assert ("entstanden sind" if language == "de" else taken) in said
