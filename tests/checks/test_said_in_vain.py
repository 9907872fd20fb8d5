"""Nothing that is written is left out without a word: it changes what is made, or is told where it stands."""

from __future__ import annotations

import pytest

from patternkit import api
from patternkit.checks import run
from patternkit.problems import Problem
from patternkit.project import Project

HEAD = """pattern "Marram Steps"
    seam 1/4
    usable width 42
{pattern}
fabric dune "Dune" light
{fabric}fabric reed "Reed" medium
fabric peat "Peat" dark

"""
BLOCKS = """block step
    rows
        dune | reed
        reed | dune
    finished 6
{unit}
block sill
    row peat 3 | dune 3
    finished 6 x 6

unit post
    patch peat 2

"""
QUILT = """quilt
{setting}    across 4, down 4
    tile
        step | sill
        sill | step
{quilt}    binding cut 2 1/4 peat
"""


def indented(text: str) -> str:
    return "".join(f"    {line}\n" for line in text.split("\n")) if text else ""


def text_of(pattern: str = "", fabric: str = "", unit: str = "", setting: str = "", quilt: str = "") -> str:
    return (HEAD + BLOCKS + QUILT).format(
        pattern=indented(pattern),
        fabric=indented(fabric),
        unit=indented(unit),
        setting=indented(setting),
        quilt=indented(quilt),
    )


def told(text: str) -> list[Problem]:
    return [p for p in run(Project("marram.pattern", text), guarded=False) if p.code != "not-used"]


def refused(text: str, said: str, code: str = "out-of-place") -> Problem:
    """The one problem of a text, standing where `said` stands."""
    (found,) = told(text)
    assert (found.code, found.advice) == (code, False)
    start = text.rindex(said)
    assert start <= found.span.start <= found.span.end <= start + len(said), text[found.span.start : found.span.end]
    return found


def test_the_pattern_itself_is_sound() -> None:
    assert told(text_of()) == []


@pytest.mark.parametrize(
    "setting, said",
    [
        ("setting straight, float 1", "float 1"),
        ("setting straight, triangles reed", "reed"),
        ("setting straight, sides cut 9 3/4", "sides cut 9 3/4"),
        ("setting straight, corners cut 5 1/4", "corners cut 5 1/4"),
        ("setting float 1", "float 1"),
        ("setting on point reed turned 90", "reed turned 90"),
    ],
)
def test_settings(setting: str, said: str) -> None:
    assert refused(text_of(setting=setting), said).causes


@pytest.mark.parametrize(
    "quilt, said",
    [
        ("border 2 reed, mitred, cornerstones peat", "cornerstones peat"),
        ("border 2 reed, mitred, top first", "top first"),
        ("border post, mitred", "mitred"),
        ("border post, lengthwise", "lengthwise"),
        ("border 2 reed, top first, cornerstones peat", "top first"),
        ("batting reed", "reed"),
        ("backing reed mirrored", "reed mirrored"),
        ("press half of them the other way", "press half of them the other way"),
        ("ring\n    post\n    >\n    post", ">"),
    ],
)
def test_lines_of_a_quilt(quilt: str, said: str) -> None:
    assert refused(text_of(quilt=quilt), said).causes


@pytest.mark.parametrize(
    "line, other, why",
    [
        ("binding cut 2 peat, straight, bias", "bias", "grain"),
        ("binding cut 2 peat, straight, from a square", "from a square", "bias"),
        ("backing reed, seams vertical, seams horizontal", "seams horizontal", "one way"),
        ("border 2 reed, top first, sides first", "sides first", "first"),
    ],
)
def test_phrases_of_which_one_can_be_meant(line: str, other: str, why: str) -> None:
    text = text_of(quilt="" if line.startswith("binding") else line)
    if line.startswith("binding"):
        text = text.replace("binding cut 2 1/4 peat", line)
    assert why in refused(text, other, "said-twice").causes[0]


@pytest.mark.parametrize(
    "line, other", [("bias, joined straight", "joined straight"), ("from a square, strips 3", "strips 3")]
)
def test_phrases_of_a_binding_that_another_leaves_empty(line: str, other: str) -> None:
    refused(text_of().replace("1/4 peat", f"1/4 peat, {line}"), other)


@pytest.mark.parametrize(
    "lines",
    [
        "sashing 2 reed\nsashing 1 dune",
        "binding cut 2 reed",
        "backing reed\nbacking dune",
        "batting overage 3\nbatting overage 5",
        "sleeve 4 reed\nsleeve 5 reed",
        "across 5",
        "tile\n    step",
    ],
)
def test_lines_that_a_quilt_has_once(lines: str) -> None:
    found = [p for p in told(text_of(quilt=lines)) if not p.advice]
    assert [p.code for p in found] == ["named-twice"] and found[0].labels


@pytest.mark.parametrize("line", ["sashing 1", "border 2", "sleeve 4", "border 2, mitred"])
def test_strips_of_no_fabric(line: str) -> None:
    assert "names no fabric" in refused(text_of(quilt=line), line, "not-understood").message


def test_a_fabric_named_like_a_phrase_is_told_from_it() -> None:
    text = (
        text_of(quilt="border 2 mitred").replace('fabric reed "Reed"', 'fabric mitred "Reed"').replace("reed", "mitred")
    )
    assert "needs another" in refused(text, "border 2 mitred", "not-understood").causes[0]


@pytest.mark.parametrize("name", ["side", "sides", "corner", "corners"])
def test_a_fabric_behind_on_point_may_have_any_free_name(name: str) -> None:
    text = text_of(setting=f"setting on point {name}").replace('reed "Reed"', f'{name} "Reed"').replace("reed", name)
    assert told(text) == []


def test_a_slip_in_a_phrase_is_still_seen() -> None:
    for line, guess in (
        ("setting on point trianges reed", "triangles"),
        ("setting on point reed, side cut 9", "sides cut"),
    ):
        found = told(text_of(setting=line))
        assert any(f"`{guess}`" in p.message for p in found)


def test_sashing_between_blocks_on_point_leaves_no_room_for_a_float() -> None:
    lines = {"setting": "setting on point reed", "quilt": "sashing 1 1/2 dune, cornerstones peat"}
    assert told(text_of(**lines)) == []
    lines["setting"] += ", float 1"
    problem = refused(text_of(**lines), "float 1")
    assert "border 1 stone" in problem.causes[1]


@pytest.mark.parametrize("mark", [">", "<", "<>"])
@pytest.mark.parametrize("lines", [{"quilt": "sashing 1 reed"}, {"setting": "setting on point reed"}])
def test_marks_between_blocks_that_no_seam_joins(mark: str, lines: dict[str, str]) -> None:
    text = text_of(**lines)
    assert "presses nothing" in refused(text.replace("step | sill", f"step {mark} sill"), mark).message
    alone = text.replace("step | sill\n", f"step | sill\n        {mark}\n")
    assert "presses nothing" in refused(alone, mark).message


def test_a_layout_is_laid_once() -> None:
    laid = "layout\n        step | sill | step\n        sill | step | sill\n"
    text = text_of().replace("tile\n        step | sill\n        sill | step\n", laid)
    assert told(text.replace("across 4, down 4", "across 3, down 2")) == []
    assert "lies 3 across" in refused(text.replace("across 4, down 4", "across 5"), "across 5").message
    assert "lies 2 down" in refused(text.replace("across 4, down 4", "down 3"), "down 3").message
    on_point = text.replace("    across 4, down 4\n", "    setting on point reed\n")
    assert "laid by tile" in refused(on_point, "layout").message


def test_parts_of_a_tile_that_are_never_laid_are_told_as_advice() -> None:
    for counts, said in (("across 4, down 1", "sill | step"), ("across 1, down 4", "step")):
        found = told(text_of().replace("across 4, down 4", counts))
        assert found and all(p.advice and "never laid" in p.message for p in found)
    in_a_size = text_of() + "\nsizes\n    cot across 1, down 1\n    full across 4, down 4\n"
    assert told(in_a_size) == []


def test_marks_of_a_ring_press_its_seams() -> None:
    ring = "ring\n    post {} post\n    post"
    pressed = {}
    for mark in ("|", ">", "<>"):
        project = Project("marram.pattern", text_of(quilt=ring.format(mark)))
        assert [p for p in run(project) if not p.advice and p.code != "not-used"] == []
        sides = next(
            m for m in _all(project) if m.role == "border strip" and len(m.seams) > 2 and str(m.key).endswith("strip")
        )
        pressed[mark] = [s.pressed for s in sides.seams]
    assert set(pressed["|"]) == {"free"}
    assert pressed[">"] == ["right", "free"] * 5 + ["right"] and pressed["<>"][::2] == ["open"] * 6


def _all(project: Project) -> list:  # type: ignore[type-arg]
    from patternkit.piecing.making import Making

    seen, waiting = [], [project.top]
    while waiting:
        making = waiting.pop()
        seen.append(making)
        assert making is not None
        waiting += [p.what for p in making.parts if isinstance(p.what, Making)]
    return seen


@pytest.mark.parametrize("word", ["note", "tip", "intro", "caution", "before", "after", "finishing"])
def test_texts_that_the_booklet_has_no_place_for(word: str) -> None:
    said = f'{word} "Mind the grain."'
    assert "printed nowhere" in refused(text_of(fabric=said), said).message
    patch = text_of().replace("    patch peat 2\n", f"    patch peat 2\n    {said}\n")
    refused(patch, said)
    if word == "finishing":
        assert "under quilt" in refused(text_of(unit=said), said).causes[0]


@pytest.mark.parametrize("word", ["note", "tip", "intro", "caution", "before", "after", "finishing"])
def test_texts_of_a_colourway_are_printed_with_it(word: str) -> None:
    text = text_of() + f'\ncolourway dusk "At dusk"\n    dune = reed\n    {word} "A bolder look."\n'
    assert told(text) == []
    for colourway in ("", "dusk"):
        pages = api.files(Project("marram.pattern", text, colourway=colourway), formats=("md",))
        assert any(b"A bolder look." in page for name, page in pages.items() if name.endswith(".md"))


@pytest.mark.parametrize(
    "where, lines",
    [
        ("pattern", "seam 3/8"),
        ("pattern", "sold by 1/4 yd\nsold by 1/8 yd"),
        ("fabric", "sold as squares 10 x 10\nsold as fat-quarters"),
        ("fabric", "buy 1 yd\nbuy 2 yd"),
        ("fabric", "usable width 30\nusable width 20"),
        ("unit", "make 9\nmake 8"),
    ],
)
def test_lines_that_stand_once_under_their_heading(where: str, lines: str) -> None:
    assert "named-twice" in {p.code for p in told(text_of(**{where: lines}))}


def test_a_method_said_twice() -> None:
    text = text_of().replace(
        "row peat 3 | dune 3", "half-square peat, dune\n    method oversize\n    method from triangles"
    )
    refused(text, "method from triangles", "named-twice")


def test_what_is_at_hand_of_cloth_by_length() -> None:
    assert "by length" in refused(text_of(fabric="have 3"), "have 3").message


def test_colourways_say_each_thing_once() -> None:
    twice = text_of() + "\ncolourway dusk\n    dune = reed\n    dune = peat\n"
    refused(twice, "dune = peat", "named-twice")
    again = text_of() + "\ncolourway dusk\n    dune = reed\ncolourway dusk\n    dune = peat\n"
    refused(again, "dusk", "named-twice")
    refused(text_of() + "\ncolourway dusk\n    dune = dune\n", "dune = dune")


def test_a_count_before_the_top_of_a_part() -> None:
    refused(text_of() + '\npart "One"\n    makes step, sill\npart "Two"\n    makes 2 top, finishing\n', "top")


def test_pressing_of_the_whole_file() -> None:
    refused(text_of(pattern="press half of them the other way"), "press half of them the other way")
    assert [p.code for p in told(text_of(pattern="press toward rede"))] == ["unknown-name"]
    (found,) = told(text_of(pattern="press toward post"))
    assert (found.code, found.advice) == ("press-no-seam", True)
    assert told(text_of(pattern="press open")) == []


def test_versions_that_no_joint_asks_for() -> None:
    text = text_of(unit="press half of them the other way")
    assert told(text) == []  # rails lie beside the steps, and both sorts of seams meet
    apart = text.replace("step | sill\n        sill | step", "step | post 6\n        post 6 | post 6").replace(
        "patch peat 2", "patch peat 6"
    )
    (found,) = told(apart)
    assert (found.code, found.advice) == ("press-no-seam", True)


def test_names_that_nothing_uses() -> None:
    text = (
        text_of()
        .replace("block sill\n", "block sill(width)\n")
        .replace(" sill", " sill(3)")
        .replace("block sill(3)", "block sill")
    )
    found = [p for p in run(Project("m.pattern", text), guarded=False) if p.code == "not-used"]
    assert any("takes width in brackets" in p.message for p in found)
    lets = "let wide = 3\n\nlet idle = 4\n\n" + text_of().replace("peat 3 |", "peat wide |")
    found = [p for p in run(Project("m.pattern", lets), guarded=False) if p.code == "not-used"]
    assert [p.message for p in found if "value" in p.message] == ["The value of idle is given, and no line uses it."]


KINDS = [
    ("flying-geese dune, reed\n    finished 6 x 3", "method from templates oversize"),
    ("slices dune\n    slice from top left to bottom right, reed\n    finished 6", "extra 1/4"),
    (
        "slices dune\n    slice from top left to bottom right, reed\n    finished 6\n    method foundation",
        "dog-ears kept",
    ),
    ("slices dune\n    slice from top left to bottom right, reed\n    finished 6", "lay 0 x 1"),
    ("log-cabin dune 2\n    logs reed 1, peat 1, reed 1, peat 1", "log 2"),
]


@pytest.mark.parametrize("kind, line", KINDS)
def test_lines_of_a_kind_that_its_method_makes_nothing_of(kind: str, line: str) -> None:
    text = text_of().replace("row peat 3 | dune 3\n    finished 6 x 6\n", f"{kind}\n    {line}\n")
    found = [p for p in told(text) if p.code == "out-of-place"]
    assert len(found) == 1 and text[found[0].span.start : found[0].span.end] == line


@pytest.mark.parametrize(
    "lines, said, code",
    [
        ("round reed\n    round peat\n    log 1\n    rounds 1", "round peat", "out-of-place"),
        ("round reed\n    log 1\n    log 2", "log 2", "named-twice"),
        ("round reed\n    log 1\n    rounds 2\n    rounds 1", "rounds 1", "named-twice"),
        ("round reed\n    log 1\n    clockwise\n    counterclockwise", "counterclockwise", "named-twice"),
        ("logs reed, peat\n    round reed\n    log 1", "round reed", "out-of-place"),
    ],
)
def test_lines_of_a_log_cabin(lines: str, said: str, code: str) -> None:
    text = text_of().replace("row peat 3 | dune 3\n    finished 6 x 6\n", f"log-cabin dune 2\n    {lines}\n")
    assert (code, said) in {(p.code, text[p.span.start : p.span.end]) for p in told(text)}


def test_turned_cloth_and_marks_in_lists() -> None:
    base = text_of()
    for line, said in (("half-square peat turned 90, dune", "peat turned 90"), ("half-square peat > dune", ">")):
        refused(base.replace("row peat 3 | dune 3", line).replace("6 x 6", "6"), said)
    refused(base.replace("dune | reed", "dune mirrored | reed"), "dune mirrored")
    refused(base.replace("step | sill", "step | reed turned 90"), "reed turned 90")
    sized = base.replace("row peat 3 | dune 3\n    finished 6 x 6", "row peat 6 x 3 turned 90 | dune 6 x 3 turned 90")
    assert told(sized) == []


def test_a_mark_below_the_last_row() -> None:
    refused(text_of().replace("        reed | dune\n", "        reed | dune\n        >\n"), ">")


def test_a_coping_strip_of_two_widths_is_not_mitred() -> None:
    text = text_of(quilt="border reed, mitred\nring\n    spar\n    spar").replace(
        "across 4, down 4", "across 2, down 1"
    )
    text = text.replace("unit post", "unit spar\n    patch peat 5\n\nunit post")
    found = [p for p in told(text) if not p.advice]
    assert [p.code for p in found] == ["cannot-sew"] and "1 1/2 in wide at the sides and 2 in" in found[0].message
