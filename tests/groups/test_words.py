"""What a booklet says of groups: what to buy, how prints are shared out, one set of steps; and how they are drawn."""

from __future__ import annotations

import re

import pytest

from patternkit import api
from patternkit.drawing.swatches import assign
from patternkit.drawing.varied import shade_key, shades, with_prints
from patternkit.piecing.reflect import flattened
from patternkit.project import Project

from .written import FAT, mills, pattern

PLAIN = "    across 4, down 5\n    tile\n        mill(shore)\n    backing cream\n"


def told(project: Project, language: str = "en") -> str:
    """The booklet of a project, as Markdown without its drawings."""
    text = api.files(project, formats=("md",), language=language)["groups.md"]
    text = text if isinstance(text, str) else text.decode()
    return "\n".join(line for line in text.splitlines() if not line.startswith("!["))


def test_the_shopping_list_and_the_sharing_out() -> None:
    text = told(mills(PLAIN))
    assert "| 12 fat quarters | 12 fat quarters, one of each print |" in text
    assert "Each of the 20 Mill blocks is of one print: 8 prints give 2 and 4 prints give 1." in text
    assert "8 prints, 1 fat quarter each" in text and "4 prints, 1 fat quarter each" in text
    assert "one shore" not in text  # what stands for a print has a name of the program's own


def test_one_set_of_steps_however_many_prints() -> None:
    text = told(mills(PLAIN))
    assert len(re.findall(r"^### Step \d+: Corner", text, re.M)) == 1
    assert "1 square of one print of Shore prints (B), 3 7/8 x 3 7/8 in" in text
    assert "Of these make 8 of each of 8 prints and 4 of each of 4 prints." in text
    assert "Everything of Shore prints (B) in one of them is of the same print." in text


def test_lengths_of_each_print_are_bought() -> None:
    text = told(mills(PLAIN, "fabrics shore 12\n"))
    assert "12 x 1/4 yd, one of each print" in text


def test_a_print_by_its_number_has_a_letter_of_its_own() -> None:
    text = told(mills(PLAIN + "    border 2 shore(3)\n"))
    assert "11 prints" in text and "2 fat quarters of Shore prints 3 (C)" in text
    assert "Shore prints 3 (C), 1 fat quarter" in text


def test_pieces_that_any_print_will_do_for() -> None:
    body = (
        "block four\n    rows\n        shore | cream\n        cream | shore\n    finished 6\n"
        "quilt\n    across 5, down 5\n    tile\n        four\n"
    )
    text = told(pattern(body))
    assert "Pieces for four may be of any print; they are shared out evenly." in text
    assert "Take the pieces of Shore prints (B) as they come, one print after the other." in text
    assert "cannot be cut from less" not in text.split("### Shore prints")[1].split("##")[0]  # fewer prints would do


def test_in_german() -> None:
    text = told(mills(PLAIN), "de")
    assert "8 Stoffe geben je 2 und 4 Stoffe geben je 1." in text
    assert "Davon 8 aus jedem von 8 Stoffen und 4 aus jedem von 4 Stoffen nähen." in text


def test_each_copy_is_drawn_in_its_print_and_always_the_same() -> None:
    project = mills(PLAIN)
    assert project.top is not None
    first, again = (with_prints(project.top, project.pattern.fabrics) for _ in range(2))
    shown = [[c.fabric for c, _ in flattened(top)] for top in (first, again)]
    assert shown[0] == shown[1]
    prints = {f for f in shown[0] if f.startswith("shore")}
    assert prints == {shade_key("shore", n) for n in range(1, 13)}
    dealt = {n: sum(f == shade_key("shore", n) for f in shown[0]) for n in range(1, 13)}
    assert sorted(dealt.values()) == [5] * 4 + [10] * 8  # four corners and a middle a block


def test_what_has_no_group_is_drawn_as_it_is() -> None:
    project = mills(PLAIN.replace("shore", "cream"), "")
    assert project.top is not None and with_prints(project.top, project.pattern.fabrics) is project.top


@pytest.mark.parametrize("count", [1, 2, 12, 40])
def test_shades_differ_in_one_texture(count: int) -> None:
    (swatch,) = assign([("shore", "Shore", "#5f9ea8", "medium")]).values()
    found = shades(swatch, count)
    assert len({s.colour for s in found.values()}) == count
    assert {(s.texture, s.letter, s.of) for s in found.values()} == {(swatch.texture, "A", "shore")}


def test_the_data_say_of_which_print_a_piece_is() -> None:
    import json

    from patternkit.desk.cutting_data import cuts_json

    project = mills(PLAIN, FAT)
    (cloth,) = (f for f in json.loads(cuts_json(project, project.plan()[0]))["fabrics"] if f["fabric"] == "shore")
    assert {p["fabric"] for p in cloth["pieces"]} == {"one shore"}
    assert sorted(n for x in cloth["sheets"]["layouts"] for n in x["prints"]) == list(range(1, 13))


def test_what_is_bought_of_prints_can_be_asked_for_in_a_text() -> None:
    body = PLAIN + '    note "Buy {shore.buy}."\n'
    assert "Buy 12 fat quarters, one of each print." in told(mills(body))
