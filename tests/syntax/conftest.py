from pathlib import Path

import pytest


@pytest.fixture(scope="session")
def lantern() -> str:
    """The sample file."""
    return (Path(__file__).parent / "lantern.pattern").read_text(encoding="utf-8")
