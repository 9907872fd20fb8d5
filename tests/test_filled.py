"""The tool that fills docstrings."""

from __future__ import annotations

import ast

from tests.filled import WIDTH, with_docstrings_filled

LOOSE = '''"""Short lines
that fit on
one."""


class Pin:
    """One sentence of a docstring that was broken much
    too early.

    Another paragraph, which is long enough to need more than a single line of the file once all of its words are set,
    one behind
    the other.

    - a list stands
    - line by line

        as does what is set in
        like this
    """

    at = 3
    """Where it
    is."""
'''


def test_paragraphs_are_filled_and_lists_are_left() -> None:
    found = with_docstrings_filled(LOOSE)
    assert found.startswith('"""Short lines that fit on one."""\n')
    assert (
        '    - a list stands\n    - line by line\n\n        as does what is set in\n        like this\n    """' in found
    )
    assert '    """Where it is."""' in found
    assert "was broken much too early.\n\n    Another" in found
    assert all(len(line) <= WIDTH for line in found.splitlines())
    assert with_docstrings_filled(found) == found
    before, after = (
        [" ".join(str(ast.get_docstring(n)).split()) for n in ast.walk(ast.parse(text)) if isinstance(n, ast.ClassDef)]
        for text in (LOOSE, found)
    )
    assert before == after


def test_closing_quotes_never_stand_beyond_the_width() -> None:
    for length in range(100, 130):
        words = ("x" * 9 + " ") * 30
        text = f'"""{words[:length].strip()}."""\n'
        found = with_docstrings_filled(text)
        assert all(len(line) <= WIDTH for line in found.splitlines()) and with_docstrings_filled(found) == found
        assert found.replace("\n", " ").strip() == text.strip()
