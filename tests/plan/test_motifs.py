"""Pieces that each show a motif of their own: counted by the repeats of the print, cut on the table, told and drawn."""

from __future__ import annotations

import json
from fractions import Fraction

import jsonschema
import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import patternkit
from patternkit.desk.cutting import cuts_text
from patternkit.desk.cutting_data import cuts_json
from patternkit.lengths import Length
from patternkit.plan.model import CutLine
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of
from patternkit.work.model import CutPieces
from tests.desk.test_cutting_data import accounted, schema
from tests.published.desk import objection, pattern, planned, problems

BODY = """
unit flower
    patch night
    method fussy cut
    finished {size}
block nine
    rows
        glow | flower
        flower | glow
quilt
    across {across}, down {down}
    tile
        nine
    border 2 night
"""


def fussy(size: str = "4", across: int = 3, down: int = 3, repeat: str = "6 x 8", *setting: str) -> Project:
    body = BODY.format(size=size, across=across, down=down)
    return pattern(body, *(setting or ("usable width 42",)), night=f"repeat {repeat}")


def line(project: Project) -> CutLine:
    return next(x for x in planned(project).lines if x.called == "flower")


def test_as_many_as_are_whole_wherever_the_first_one_lies() -> None:
    """Cut 4 1/2 in, motifs 6 x 8 in apart, 42 in wide. A motif whose piece begins less than 6 in from the selvedge is
    followed by five that end within 5.9 + 30 + 4.5 in: 6. 18 pieces take three rows: 8 in to the first, 4 1/2 in, and
    two repeats."""
    found = line(fussy()).motifs
    assert found is not None
    assert (found.across, found.rows, found.length, found.step) == (6, 3, Fraction(57, 2), (6, 8))
    wider = line(fussy(size="6")).motifs  # 6 1/2 in round each: every other one of five across, and each one down
    assert wider is not None
    assert (wider.across, wider.rows, wider.length, wider.step) == (3, 6, Fraction(109, 2), (12, 8))


@settings(max_examples=120, deadline=None)
@given(st.integers(8, 60), st.integers(4, 60), st.integers(4, 60), st.integers(1, 40), st.integers(80, 180))
def test_no_place_of_the_first_motif_gives_fewer(size: int, wide: int, high: int, blocks: int, usable: int) -> None:
    """All in quarters of an inch; motifs are laid out from every quarter, and taken one by one as a cutter does."""

    def quarters(n: int) -> str:
        return f"{n // 4} {n % 4}/4" if n >= 4 and n % 4 else f"{n}/4" if n % 4 else f"{n // 4}"

    project = fussy(
        quarters(size), blocks, 1, f"{quarters(wide)} x {quarters(high)}", f"usable width {quarters(usable)}"
    )
    if problems(project):
        assert usable - (size + 2) < wide or size + 2 > usable
        return
    found = line(project)
    motifs, side = found.motifs, size + 2
    assert motifs is not None

    def taken(room: int, repeat: int, first: int) -> int:
        count, edge = 0, 0
        for at in range(first, room - side + 1, repeat):
            if at >= edge:
                count, edge = count + 1, at + side
        return count

    length = int(motifs.length.fraction * 4)
    assert min(taken(usable, wide, n) for n in range(wide)) >= motifs.across
    assert min(taken(length, high, n) for n in range(high)) >= motifs.rows
    assert motifs.across * motifs.rows >= found.count == 2 * blocks
    assert min(taken(length - 2, high, n) for n in range(high)) < motifs.rows  # of half an inch less some are missing


def test_the_plan_and_the_rehearsal_have_every_piece() -> None:
    project = fussy()
    plan = planned(project)
    assert plan.fabrics["night"].used >= Fraction(57, 2) and patternkit.rehearse(project) == []
    text = cuts_text(project, plan)
    assert (
        "1 length 28 1/2 in x the usable width: 18 of 4 1/2 x 4 1/2 in round every motif, 6 across and 3 down" in text
    )
    assert "every second motif across and every motif down" in cuts_text(fussy("6"), planned(fussy("6")))
    assert "cannot be cut from less" not in text[: text.index("Lamp")]  # other pieces may lie between the motifs
    order, designs = order_of(project)
    for change in ({"count": 25}, {"motif": {"length": 20}}, {"motif": {"repeat": (8, 8)}}):
        changed = []
        for cut in order.cutting:
            if isinstance(cut, CutPieces) and cut.motif is not None:
                motif = change.get("motif", {})
                assert isinstance(motif, dict)
                lengths = {k: _length(v) for k, v in motif.items()}
                cut = msgspec.structs.replace(cut, motif=msgspec.structs.replace(cut.motif, **lengths))
                cut = msgspec.structs.replace(cut, count=change.get("count", cut.count))
            changed.append(cut)
        assert any(g.kind == "count" for g in rehearse(msgspec.structs.replace(order, cutting=tuple(changed)), designs))


def _length(value: object) -> object:
    from patternkit.lengths import Length

    return tuple(map(Length, value)) if isinstance(value, tuple) else Length(value)  # type: ignore[arg-type]


def test_the_data_says_where_they_lie() -> None:
    project = fussy()
    found = json.loads(cuts_json(project, planned(project)))
    jsonschema.Draft202012Validator(schema()).validate(found)
    night = next(f for f in found["fabrics"] if f["fabric"] == "night")
    accounted(night)
    (piece,) = (p for p in night["pieces"] if p["motifs"])
    assert piece["count"] == 18 and piece["motifs"]["across"] * piece["motifs"]["down"] >= 18
    assert Fraction(piece["motifs"]["length"]) == Fraction(57, 2)
    assert piece["motifs"]["repeat"] == {"width": "6", "height": "8"} == piece["motifs"]["step"]


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_booklet_tells_and_draws_them(language: str) -> None:
    files = patternkit.files(fussy(), formats=("md",), language=language, units="inches")
    text = next(iter(files.values())).decode()
    told = {"en": "each round a motif of its own: every motif, 6 in a row, 3 rows", "de": "jedes um ein eigenes Motiv"}
    assert told[language] in text
    wider = {
        "en": "every second motif across and every row, 3 in a row",
        "de": "jedes 2. Motiv der Reihe und jede Reihe",
    }
    more = patternkit.files(fussy("6"), formats=("md",), language=language, units="inches")
    assert wider[language] in next(iter(more.values())).decode()
    drawing = next(v for k, v in files.items() if k.endswith("cut-night.svg")).decode()
    assert "18" in drawing and "4 1/2" in drawing


def test_what_can_not_be_counted_is_told() -> None:
    assert "Midnight has no repeat" in objection(
        pattern(BODY.format(size="4", across=2, down=2), "usable width 42"), "motif-repeat"
    )
    wide = objection(fussy(repeat="40 x 8"), "motif-repeat")
    assert "is sure to have a motif" in wide and "40 in apart" in wide
    sheets = pattern(
        BODY.format(size="4", across=2, down=2).replace("    border 2 night\n", ""),
        night="sold as fat-quarters\n    repeat 6",
    )
    assert "comes in pieces" in objection(sheets, "motif-repeat")
    plain = pattern("block p\n    patch night 4\nquilt\n    across 2\n    tile\n        p\n", night="repeat 6")
    assert [p.code for p in patternkit.check(plain) if "repeat says nothing" in p.message] == ["motif-repeat"]


def test_a_piece_with_a_motif_is_no_other_piece_of_its_size() -> None:
    """A block with two plain patches of the same print and one with a motif takes them apart."""
    body = BODY.format(size="3 x 4", across=2, down=2).replace("glow | flower", "night 3 x 4 | flower")
    project = pattern(body, "usable width 42", night="repeat 6 x 8")
    assert patternkit.rehearse(project) == []
    order, _ = order_of(project)
    (step,) = (s for s in order.steps if s.thing.key.of == "nine")
    taken = {
        getattr(item, "fussy", None): n for item, n in step.takes.items() if getattr(item, "fabric", "") == "night"
    }
    assert taken == {True: 8, False: 4}
    text = next(iter(patternkit.files(project, formats=("md",)).values())).decode()
    assert "- A2: 2 rectangles of Midnight (A), 3 1/2 x 4 1/2 in (flower)" in text
    assert "- A1: 1 rectangle of Midnight (A), 3 1/2 x 4 1/2 in" in text


def test_what_is_proved_of_motifs_counts_the_rows_of_the_print() -> None:
    """140 pieces of 3 1/2 in round motifs 8 in apart on 42 in: 4 in a row wherever these lie, 5 where they lie well,
    so that 35 rows are told, 28 x 8 in less what lies between are needed: 219 1/2 in, 6 1/8 yd."""
    body = (
        "unit dot\n    patch night 3\n    method fussy cut\nblock one\n    rows\n        glow | dot | glow\n"
        "        dot | glow | dot\n        glow | dot | glow\n    finished 9\nquilt\n    across 5, down 7\n"
        "    tile\n        one\n"
    )
    plan = pattern(body, "usable width 42", "spare 0", night="repeat 8").plan()[0].fabrics["night"]
    assert (plan.used, plan.least) == (Length(Fraction(567, 2)), Length(Fraction(441, 2)))
