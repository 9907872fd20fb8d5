"""Where the installed command begins."""

from __future__ import annotations

import gc


def run() -> None:
    """The command line. A short run makes many small values and hardly any rings, from its first import on: rings are
    looked for less often."""
    gc.set_threshold(50_000, 20, 20)
    from patternkit.cli import run as command

    command()
