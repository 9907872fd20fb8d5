"""The grammar is found, its tables are kept where they may be, and nothing depends on that."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternkit.syntax import grammar, words
from patternkit.syntax.lexer import LineText

TEXT = (grammar.grammar_folder() / "patternkit.lark").read_text(encoding="utf-8")


def reads() -> bool:
    """Whether a fresh parser reads a line."""
    said = grammar.LineParser().parse("let", LineText("f", 0, "let a = 3", ("LET", "let", 3)))
    return bool(said.name == "a")


def test_tables_are_kept_and_used_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setattr("sys.platform", "linux")
    assert reads()
    kept = list((tmp_path / "patternkit").iterdir())
    assert len(kept) == 1 and kept[0].stat().st_size > 1000
    before = kept[0].stat().st_mtime_ns
    assert reads()
    assert list((tmp_path / "patternkit").iterdir()) == kept and kept[0].stat().st_mtime_ns == before


def test_a_damaged_cache_is_made_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setattr("sys.platform", "linux")
    assert reads()
    (kept,) = (tmp_path / "patternkit").iterdir()
    for damage in (b"", b"nonsense", kept.read_bytes()[:500]):
        kept.write_bytes(damage)
        assert reads()


def test_without_a_cache_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("not a folder")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    monkeypatch.setattr("sys.platform", "linux")
    assert grammar.cache_file(TEXT) is None
    assert reads()


def test_a_cache_folder_that_cannot_be_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "a-folder-where-a-file-should-be").mkdir()
    monkeypatch.setattr(grammar, "cache_file", lambda text: str(tmp_path / "a-folder-where-a-file-should-be"))
    assert reads()


@pytest.mark.parametrize(
    "platform, variable, want",
    [
        ("win32", "LOCALAPPDATA", "patternkit"),
        ("darwin", "HOME", "Library/Caches/patternkit"),
        ("linux", "XDG_CACHE_HOME", "patternkit"),
    ],
)
def test_the_cache_folder_of_each_system(
    platform: str, variable: str, want: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.platform", platform)
    monkeypatch.setenv(variable, str(tmp_path))
    assert grammar.cache_folder() == tmp_path / want


def test_the_key_of_the_cache_is_the_grammar() -> None:
    assert grammar.cache_file(TEXT) != grammar.cache_file(TEXT + "\n")


def test_the_word_lists_agree_with_the_grammar() -> None:
    parser = grammar.line_parser()
    rules = {rule.origin.name for rule in parser.lark.rules}
    assert set(grammar.STARTS) <= rules
    assert {rule for place in words.PLACES.values() for rule in place.values()} - {"prose"} <= rules
    for rule in parser.lark.rules:  # every rule has its method
        name = rule.alias or rule.origin.name
        inner = name.startswith("__") or (rule.options.expand1 and not rule.alias)
        assert inner or hasattr(parser.builder, name), name


def test_every_unit_kind_can_be_written() -> None:
    from patternkit.piecing.kinds import kinds

    assert set(kinds()) <= set(words.KINDS)
    for kind in kinds().values():
        for option in kind.options:
            assert option in words.OPTION_WORDS, option
