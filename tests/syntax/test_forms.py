"""Every form of the language, with what it says."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from patternkit.syntax import statements as st
from patternkit.syntax.words import KINDS, PROSE

from .helpers import line_codes, nodes_of, read, statement


def test_the_sample_is_read_whole(lantern: str) -> None:
    file = read(lantern)
    assert file.problems == ()
    kinds = [type(n.statement).__name__ for n in nodes_of(file)]
    assert kinds.count("PieceLine") == 5
    assert kinds.count("Finish") == 5
    assert "Bad" not in kinds and "Option" not in kinds
    rows = [n for n in nodes_of(file) if isinstance(n.statement, st.SizeRow)]
    assert [r.statement.name for r in rows] == ["cot", "throw", "queen"]
    assert rows[1].comment == "# as written above"


@pytest.mark.parametrize(
    "line, word, text",
    [
        ('by "Saltmarsh Sewing Room"', "by", "Saltmarsh Sewing Room"),
        ('copyright "2026"', "copyright", "2026"),
        ("edition 2", "edition", "2"),
        ('skill "beginner"', "skill", "beginner"),
        ("units cm", "units", "cm"),
        ("units centimetres", "units", "cm"),
        ("units in", "units", "inches"),
        ("trimming yes", "trimming", "yes"),
        ("cutting least cloth", "cutting", "least cloth"),
        ("cutting simple", "cutting", "simple"),
        ("language en-gb", "language", "en-gb"),
    ],
)
def test_settings_with_a_text_or_word(line: str, word: str, text: str) -> None:
    setting = statement(line, "pattern")
    assert (setting.word, setting.text) == (word, text)


@pytest.mark.parametrize(
    "line, word, value",
    [
        ("seam 1/4", "seam", F(1, 4)),
        ("usable width 40", "usable-width", F(40)),
        ("usable-width 40 in", "usable-width", F(40)),
        ("ruler 1/8", "ruler", F(1, 8)),
        ("spare 4", "spare", F(4)),
        ("layers 4", "layers", F(4)),
        ("shrinkage 3%", "shrinkage", F(3)),
    ],
)
def test_settings_with_a_length(line: str, word: str, value: F) -> None:
    setting = statement(line, "pattern")
    assert (setting.word, setting.value.value) == (word, value)


def test_tools() -> None:
    assert statement('tools "ruler", “cutter”', "pattern").texts == ("ruler", "cutter")


def test_fabric_in_any_order() -> None:
    head = statement('fabric stone directional #9AA3AD "Quay stone" medium', "file")
    assert (head.name, head.title, head.value, head.colour, head.directional) == (
        "stone",
        "Quay stone",
        "medium",
        "#9aa3ad",
        True,
    )
    assert statement("fabric dark dark", "file").name == "dark"


@pytest.mark.parametrize(
    "line, word, width, height, count",
    [
        ("sold by 1/8 yd", "by", F(1, 8), None, None),
        ("sold as fat-quarters 18 x 21", "fat-quarters", 18, 21, None),
        ("sold as fat quarters 18 x 21", "fat-quarters", 18, 21, None),
        ("sold as squares 10 x 10, 42 to a pack", "squares", 10, 10, 42),
        ("sold as strips 2 1/2 x 40, 40 to a pack", "strips", F(5, 2), 40, 40),
        ("have 3", "have", None, None, 3),
    ],
)
def test_how_a_fabric_is_sold(line: str, word: str, width: F, height: F, count: F) -> None:
    sold = statement(line, "fabric")
    got = [None if e is None else e.value for e in (sold.width, sold.height, sold.count)]
    assert (sold.word, got) == (word, [width, height, count])


def test_claims() -> None:
    assert statement("buy 1 1/4 yd", "fabric").value.unit == "yd"
    assert statement("make 18").value.value == 18
    claim = statement("cut 2 1/2 x 4 1/2")
    assert (claim.word, claim.width.value, claim.height.value) == ("cut", F(5, 2), F(9, 2))
    assert statement("measures 60 x 80", "quilt").word == "measures"


@pytest.mark.parametrize("head", ['block star(night, side) "Tide Star"', 'block star (night, side) "Tide Star"'])
def test_unit_heads(head: str) -> None:
    said = statement(head, "file")
    assert (said.role, said.name, [p.name for p in said.params], said.title) == (
        "block",
        "star",
        ["night", "side"],
        "Tide Star",
    )


@pytest.mark.parametrize("kind", KINDS)
def test_kinds(kind: str) -> None:
    for spelling in (kind, kind.replace("-", " "), kind.title()):
        said = statement(f"{spelling} night, glow | stone")
        assert said.kind == kind
        assert [m.mark for m in said.line.marks] == [",", "|"]
    if kind != "rows":
        assert statement(kind).line is None


def test_a_row_of_pieces() -> None:
    line = statement(
        "corner | wall turned 90 > lantern(night, 8) mirrored <> sand 3/4 < sea cut 1 x 2 turned 180 mirrored",
        "rows",
    )
    a, b, c, d, e = line.items
    assert [m.mark for m in line.marks] == ["|", ">", "<>", "<"]
    assert (a.name, a.turned, a.mirrored) == ("corner", 0, False)
    assert (b.name, b.turned) == ("wall", 90)
    assert (c.name, c.args[0].name, c.args[1].value, c.mirrored) == ("lantern", "night", 8, True)
    assert (d.width.value, d.height, d.cut) == (F(3, 4), None, False)
    assert (e.width.value, e.height.value, e.cut, e.turned, e.mirrored) == (1, 2, True, 180, True)


@pytest.mark.parametrize(
    "text, turned", [("turned 90", 90), ("turned 90°", 90), ("turned 90 degrees", 90), ("turned 450", 90)]
)
def test_turns(text: str, turned: int) -> None:
    assert statement(f"a {text} | b", "rows").items[0].turned == turned


def test_a_length_by_name_in_place() -> None:
    use = statement("sand side | sea (side - 1) x 2", "rows").items
    assert use[0].width.name == "side"
    assert (use[1].width.op, use[1].height.value, use[1].args) == ("-", 2, ())


def test_groups() -> None:
    line = statement("(sand 3/4 > sea 1/2 <) 3 times sand 3/4", "rows")
    group, last = line.items
    assert group.times.value == 3
    assert [m.mark for m in group.marks] == [">", "<"]
    assert line.marks == (group.marks[-1],)
    assert last.name == "sand"
    nested = statement("((a | b |) 2 times c |) n times", "rows").items[0]
    assert isinstance(nested.items[0], st.RepeatedGroup) and nested.times.name == "n"
    plain = statement("(a | b) 2 times | c", "rows")
    assert [m.mark for m in plain.items[0].marks] == ["|"]
    assert [m.mark for m in plain.marks] == ["|"]


@pytest.mark.parametrize("mark", ["|", ">", "<", "<>"])
def test_a_mark_between_two_rows(mark: str) -> None:
    for kind in ("rows", "column"):
        file = read(f"unit u\n    {kind}\n        a | b\n        {mark}\n        c | d\n")
        assert not file.problems
        assert [type(n.statement).__name__ for n in nodes_of(file)[2:]] == ["PieceLine", "SeamLine", "PieceLine"]
        assert nodes_of(file)[3].statement.mark.mark == mark


@pytest.mark.parametrize(
    "line, words, value",
    [
        ("method eight at a time", "eight at a time", None),
        ("method 8 at a time", "eight at a time", None),
        ("method oversize 1/4", "oversize", F(1, 4)),
        ("method from triangles", "from triangles", None),
        ("method stitch-and-flip", "stitch-and-flip", None),
    ],
)
def test_methods(line: str, words: str, value: F) -> None:
    method = statement(line)
    assert (method.words, method.value and method.value.value) == (words, value)


@pytest.mark.parametrize(
    "line, how, name",
    [
        ("press toward night", "toward", "night"),
        ("press towards the night", "toward", "night"),
        ("press away from glow", "away", "glow"),
        ("press open", "open", ""),
        ("press seams open", "open", ""),
        ("press out", "out", ""),
        ("press in", "in", ""),
        ("press left", "left", ""),
        ("press right", "right", ""),
        ("press up", "up", ""),
        ("press down", "down", ""),
        ("press toward the plain patch", "plain", ""),
        ("press spun", "spun", ""),
        ("press rows alternately", "rows-alternately", ""),
        ("press toward the darker", "darker", ""),
        ("press toward the darker side", "darker", ""),
        ("press half of them the other way", "versions", ""),
    ],
)
def test_pressing(line: str, how: str, name: str) -> None:
    press = statement(line)
    assert (press.how, press.name) == (how, name)
    assert (press.name_span is None) == (name == "")


def test_options_of_a_kind() -> None:
    option = statement('slice from 0 0 to 3 1/2 2 glow, 3 x 4, wall(night) turned 90 mirrored "a text", side/2')
    first, second, third, fourth = option.clauses
    assert option.word == "slice"
    assert [type(i).__name__ for i in first] == ["Ref", "Num", "Num", "Ref", "Num", "Num", "Ref"]
    assert [i.value for i in first[4:6]] == [F(7, 2), 2]
    assert isinstance(second[0], st.SizePair)
    assert isinstance(third[0], st.PieceUse) and third[0].turned == 90 and isinstance(third[1], st.Text)
    assert isinstance(fourth[0], st.Binary)
    assert statement("logs night, stone", "kind").clauses[1][0].name == "stone"
    assert statement("centre").clauses == ()


@pytest.mark.parametrize(
    "line, across, down",
    [
        ("across 5, down 7", 5, 7),
        ("across 5 down 7", 5, 7),
        ("down 7, across 5", 5, 7),
        ("across 5", 5, None),
        ("down 7", None, 7),
    ],
)
def test_across(line: str, across: int, down: int) -> None:
    said = statement(line, "quilt")
    assert [e and e.value for e in (said.across, said.down)] == [across, down]


@pytest.mark.parametrize(
    "line, value, cut, use, cornerstones, words, extras",
    [
        ("border 4 stone, mitred", 4, False, "stone", None, ("mitred",), []),
        ("border 4 stone, mitered", 4, False, "stone", None, ("mitred",), []),
        ("border 2 night, cornerstones glow, top first", 2, False, "night", "glow", ("top first",), []),
        ("border goose-row, cornerstones star", None, False, "goose-row", "star", (), []),
        ("border side night", "side", False, "night", None, (), []),
        ("border side/2 night", "/", False, "night", None, (), []),
        ("sashing 1 stone, cornerstones glow", 1, False, "stone", "glow", (), []),
        ("sashing 1 stone, inner", 1, False, "stone", None, ("inner",), []),
        ("binding cut 2 1/4 night, bias", F(9, 4), True, "night", None, ("bias",), []),
        ("binding cut width night", "width", True, "night", None, (), []),
        (
            "backing stone, overage 4, seams horizontal",
            None,
            False,
            "stone",
            None,
            ("overage", "seams horizontal"),
            [("overage", 4)],
        ),
        (
            "backing stone wide 108, overage 3",
            None,
            False,
            "stone",
            None,
            ("wide", "overage"),
            [("wide", 108), ("overage", 3)],
        ),
        ("batting overage 3", None, False, None, None, ("overage",), [("overage", 3)]),
        ("sleeve 4 night", 4, False, "night", None, (), []),
        ("setting on point, float 1", None, False, None, None, ("on point", "float"), []),
        ("setting on point, triangles stone", None, False, "stone", None, ("on point",), []),
        ("setting straight", None, False, None, None, ("straight",), []),
    ],
)
def test_finishing_lines(
    line: str,
    value: object,
    cut: bool,
    use: str,
    cornerstones: str,
    words: tuple[str, ...],
    extras: list[tuple[str, int]],
) -> None:
    said = statement(line, "quilt")
    got = said.value and (getattr(said.value, "value", None) or getattr(said.value, "name", None) or said.value.op)
    assert (got, said.cut) == (value, cut)
    assert (said.use and said.use.name, said.cornerstones and said.cornerstones.name) == (use, cornerstones)
    assert said.words == words
    assert [(w, e.value) for w, e in said.extras] == extras
    assert (said.extra and said.extra.value) == (extras[0][1] if extras else None)


def test_places_of_rows_in_a_quilt() -> None:
    for word in ("tile", "layout", "ring"):
        file = read(f"quilt\n    {word}\n        a | b\n        >\n        b | a\n")
        assert not file.problems
        assert nodes_of(file)[1].statement.word == word


def test_sizes_colourways_parts() -> None:
    row = statement('queen "Queen size" across 9, down 11 side 8 1/2', "sizes")
    assert (row.name, row.title) == ("queen", "Queen size")
    assert [(r.name, e.value) for r, e in row.values] == [("across", 9), ("down", 11), ("side", F(17, 2))]
    assert statement('colourway dusk "At dusk"', "file").title == "At dusk"
    swap = statement("night = teal", "colourway")
    assert (swap.name.name, swap.other.name) == ("night", "teal")
    part = statement('part "Week one" 2026-03-02', "file")
    assert (part.title, part.date) == ("Week one", "2026-03-02")
    makes = statement("makes 9 lantern, wall", "part")
    assert [(n and n.value, r.name) for n, r in makes.names] == [(9, "lantern"), (None, "wall")]
    assert statement('include "units.pattern"', "file").path == "units.pattern"


@pytest.mark.parametrize("word", PROSE)
def test_free_text(word: str) -> None:
    text = f'{word}\n    First # no comment\n\n      second "quoted\n    third\n\nlet a = 1\n'
    file = read(text)
    assert not file.problems
    prose = nodes_of(file)[0].statement
    assert (prose.word, prose.text) == (word, 'First # no comment\n\n  second "quoted\nthird')
    assert len(prose.offsets) == 4
    for line, at in zip(prose.text.split("\n"), prose.offsets, strict=True):
        assert text[at : at + len(line)] == line
    assert text[prose.text_span.start : prose.text_span.end].startswith("First")
    assert text[prose.text_span.start : prose.text_span.end].endswith("third")
    beside = statement(f"{word} “Sew {{a.count}} of them.” # a comment", "file")
    assert beside.text == "Sew {a.count} of them."
    assert statement(f"{word} Sew them # all", "file").text == "Sew them # all"


def test_words_that_stay_free_as_names() -> None:
    for name in (
        "dark",
        "top",
        "inner",
        "spare",
        "toward",
        "open",
        "straight",
        "to",
        "the",
        "skill",
        "nine-patch",
        "m2",
    ):
        assert statement(f"fabric {name}", "file").name == name
        assert statement(f"a | {name}", "rows").items[1].name == name


@pytest.mark.parametrize(
    "name", ["border", "note", "patch", "row", "x", "in", "m", "turned", "half-square", "let", "times"]
)
def test_words_of_the_language_are_no_names(name: str) -> None:
    assert line_codes(f"unit {name}\n    patch a", "file") == ["reserved-word"]
    assert line_codes(f"let {name} = 3", "file") == ["reserved-word"]


def test_keywords_end_where_words_end() -> None:
    assert line_codes("lettotal = 2", "file") == ["unknown-word"]
    assert statement("makes18").word == "makes18"
    assert statement("turnedup | mirrored-star", "rows").items[0].name == "turnedup"
