"""A booklet whose order does not come out is not written: the program is at fault, and says so."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from pathlib import Path

import msgspec
import pytest
from click.testing import CliRunner

from patternkit import api
from patternkit.booklet.content import context
from patternkit.cli import DEFECT, main
from patternkit.desk.refusing import DoesNotHold
from patternkit.desk.session import Session
from patternkit.work.build import Worked

PATTERN = """
pattern "Vanes"
fabric a
fabric b
fabric c
fabric d
unit vane
    half-square a, b
    finished 3
block wheel
    rows
        vane | vane turned 90
        vane turned 270 | vane turned 180
quilt
    across 2, down 2
    tile
        wheel
    border 1 c
sizes
    lap     down 3
    single  down 4
colourway dusk "Dusk"
    a = d
"""


def damaged(only: str | None = None) -> Callable[..., Worked]:
    """A maker of orders that sews the first step once too seldom, in one size or in all."""
    right = context.order_from

    def wrong(*args: object, **more: object) -> Worked:
        worked = right(*args, **more)  # type: ignore[arg-type]
        order = worked.order
        if only is not None and order.size != only:
            return worked
        batch, times = order.steps[0].batches[0]
        first = msgspec.structs.replace(order.steps[0], batches=((batch, times - 1), *order.steps[0].batches[1:]))
        new = msgspec.structs.replace(order, steps=(first, *order.steps[1:]))
        return msgspec.structs.replace(worked, order=new)

    return wrong


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "vanes.pattern"
    path.write_text(PATTERN, encoding="utf-8")
    return path


def command(file: Path, *more: str) -> tuple[int, str]:
    done = CliRunner().invoke(main, ["write", str(file), "--to", str(file.parent / "out"), *more])
    return done.exit_code, done.output


def names(folder: Path) -> Sequence[str]:
    return sorted(p.name for p in folder.iterdir())


def test_what_holds_is_written(file: Path) -> None:
    assert command(file)[0] == 0
    assert names(file.parent) == ["out", "vanes.pattern"]


def test_nothing_is_written_of_what_does_not_hold(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(context, "order_from", damaged("single"))
    code, said = command(file)
    assert code == DEFECT == 3
    assert "does-not-hold" in said and "size single" in said and "fault of the program" in said
    assert "is taken" in said, "the gaps themselves"
    assert "vanes-single-order.json" in said.replace("\n", "")
    assert "Nothing was written" in said and "--unrehearsed" in said
    assert names(file.parent) == ["vanes-single-order.json", "vanes.pattern"], "no folder, and nothing half written"
    report = json.loads((file.parent / "vanes-single-order.json").read_text(encoding="utf-8"))
    assert report["size"] == "single" and {g["kind"] for g in report["gaps"]} >= {"taken"}


def test_a_size_alone_that_holds_is_written(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(context, "order_from", damaged("single"))
    assert command(file, "--size", "lap")[0] == 0
    assert command(file, "--size", "single")[0] == 3


@pytest.mark.parametrize("form", ["md", "html"])
def test_unrehearsed_writes_with_a_warning(file: Path, monkeypatch: pytest.MonkeyPatch, form: str) -> None:
    assert command(file, "--as", form, "--unrehearsed")[0] == 0
    page = file.parent / "out" / f"vanes.{form}"
    warning = "Not everything in this booklet came out"
    assert warning not in page.read_text(encoding="utf-8"), "what holds has no warning"
    monkeypatch.setattr(context, "order_from", damaged())
    assert command(file, "--as", form, "--unrehearsed")[0] == 0
    assert warning in page.read_text(encoding="utf-8")


def test_the_library_refuses_as_well(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    project = api.load(file)
    monkeypatch.setattr(context, "order_from", damaged())
    with pytest.raises(DoesNotHold) as told:
        api.files(project)
    assert set(told.value.reports) == {("lap", ""), ("single", ""), ("", "dusk")}
    with pytest.raises(DoesNotHold):
        api.make_booklet(project)
    assert api.make_booklet(project, unrehearsed=True).sections
    assert api.make_booklet(project, proof=True).sections, "a proof sheet tells no maker what to do"


def test_a_session_rehearses_when_it_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    session = Session("vanes.pattern")
    assert not session.check(PATTERN) and session.rehearse() == []
    monkeypatch.setattr(context, "order_from", damaged("single"))
    assert not session.check(PATTERN), "a check stays a check"
    assert [(p.code, p.size) for p in session.rehearse()] == [("does-not-hold", "single")]
    assert session.check('pattern "Bare') and session.rehearse() == []
