"""Logs one by one, with their lengths.

https://brunswickquilters.com/give-back/patterns/habitat-log-cabin-block/ (a centre of 3 in, strips of 1 3/4 in) and
https://sites.google.com/site/craftinbla/quilting/log-cabin-block (a centre of 1 1/2 in, strips of 1 1/2 in).
"""

from __future__ import annotations

import pytest

from .desk import found, said, settled

CABIN = """\
fabric sea "Sea" dark #1b2a49
fabric sand "Sand" light #f4c95d

block cabin
    {kind} sea cut {centre}
    logs {logs}

quilt
    across 1, down 1
    tile
        cabin
"""
HABITAT = ("3", "4 1/4", "4 1/4", "5 1/2", "5 1/2", "6 3/4", "6 3/4", "8", "8", "9 1/4", "9 1/4", "10 1/2")
BLOCK = ("1 1/2", "2 1/2", "2 1/2", "3 1/2", "3 1/2", "4 1/2")


def cabin(centre: str, strip: str, lengths: tuple[str, ...], kind: str = "log-cabin") -> str:
    names = ("sand", "sand", "sea", "sea")
    logs = ", ".join(f"{names[n % 4]} cut {strip} x {length}" for n, length in enumerate(lengths))
    return CABIN.format(kind=kind, centre=centre, logs=logs)


@pytest.mark.parametrize(("centre", "strip", "lengths"), [("3", "1 3/4", HABITAT), ("1 1/2", "1 1/2", BLOCK)])
def test_published_lengths(centre: str, strip: str, lengths: tuple[str, ...]) -> None:
    assert found(cabin(centre, strip, lengths)) == []


def test_courthouse_steps() -> None:
    assert found(cabin("2 1/2", "1 1/2", ("2 1/2", "2 1/2", "4 1/2", "4 1/2"), "courthouse-steps")) == []


def test_too_short_and_too_long() -> None:
    short = settled(cabin("1 1/2", "1 1/2", ("1 1/2", "2 1/4", "2 1/2", "3 1/2")), "log-differs")
    assert not short.advice and "Log 2 of cabin is cut 2 1/2 in long; 2 1/4 in is 1/4 in too short." in short.message
    more = settled(cabin("1 1/2", "1 1/2", ("1 1/2", "3", "2 1/2", "3 1/2")), "log-differs")
    assert more.advice and "1/2 in more" in more.message


def test_lengths_stand_where_logs_are_listed() -> None:
    text = cabin("1 1/2", "1 1/2", BLOCK).replace("logs sand", "round sand")
    assert any("one by one" in c for p in found(text) for c in p.causes)
    bare = cabin("1 1/2", "1 1/2", BLOCK[:4]).replace("cut 1 1/2 x 1 1/2", "1 x 1 1/2")
    assert "behind sand stands one width" in said(bare, "not-understood").message
