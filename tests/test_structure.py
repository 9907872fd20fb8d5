"""The package as a building: what its files say about each other, read from their text."""

from __future__ import annotations

import ast
import re
from collections import Counter, defaultdict
from functools import cache
from pathlib import Path

from tests.filled import with_docstrings_filled

PACKAGE = Path(__file__).parents[1] / "patternkit"


@cache
def trees() -> dict[str, ast.Module]:
    """The files of the package by their path in it."""
    return {str(p.relative_to(PACKAGE)): ast.parse(p.read_text()) for p in sorted(PACKAGE.rglob("*.py"))}


def test_no_two_classes_share_a_name() -> None:
    """A name means one thing in all rooms. (Names with an underscore are not seen outside their file.)"""
    places = defaultdict(list)
    for path, tree in trees().items():
        for node in ast.walk(tree):
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                places[node.name].append(path)
    assert len(places) > 200
    assert {name: paths for name, paths in places.items() if len(paths) > 1} == {}


# -- who knows whom ----------------------------------------------------------------------------------------
def imports() -> dict[str, set[str]]:
    """The files that each file knows: every import counts, inside functions and for type checkers too."""
    files = {path: name_of(path) for path in trees()}
    by_name = {name: path for path, name in files.items()}
    found: dict[str, set[str]] = {}
    for path, tree in trees().items():
        names: list[str] = []
        for node in ast.walk(tree):
            if isinstance(node, ast.Import):
                names += [a.name for a in node.names]
            elif isinstance(node, ast.ImportFrom):
                assert node.level == 0, f"{path} imports from a place relative to itself"
                for a in node.names:
                    inner = f"{node.module}.{a.name}"
                    names.append(inner if inner in by_name else str(node.module))
        found[path] = {by_name[name] for name in names if name in by_name} - {path}
    return found


def name_of(path: str) -> str:
    """The name under which a file is imported."""
    parts = ("patternkit", *Path(path).with_suffix("").parts)
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def rooms() -> dict[str, int]:
    """The rooms of the developers' table, as folders and files of the package, with their rows from top to bottom."""
    text = (PACKAGE.parent / "DEVELOPERS.md").read_text(encoding="utf-8")
    rows = [line.split(" | ") for line in text.splitlines() if line.startswith("| ") and "`patternkit/" in line]
    found = {place: n for n, row in enumerate(rows) for place in re.findall(r"`patternkit/([^`]+)`", row[1])}
    assert len(rows) > 10
    return found


def room_of(path: str, table: dict[str, int]) -> int:
    """The row of a file's room."""
    places = [place for place in table if path == place or (place.endswith("/") and path.startswith(place))]
    assert len(places) == 1, f"{path} belongs to {len(places)} rooms of the table in DEVELOPERS.md"
    return table[places[0]]


def test_a_room_knows_only_those_above_it_in_the_table() -> None:
    table, known = rooms(), imports()
    assert sum(map(len, known.values())) > 1000
    wrong = {(a, b) for a, others in known.items() for b in others if room_of(b, table) > room_of(a, table)}
    wrong -= {("__init__.py", "api.py")}  # the public names, loaded on first use
    assert wrong == set()
    assert all((PACKAGE / place).exists() for place in table)


def test_drawing_and_render_do_not_know_what_a_booklet_says() -> None:
    for path, others in imports().items():
        if path.startswith("drawing/"):
            assert not [o for o in others if o.startswith(("booklet/", "checks/", "project/"))], path
        if path.startswith("render/"):
            ground = {"document.py", "english.py", "problems.py", "text_widths.py"}
            assert all(o in ground or o.startswith("render/") for o in others), path


def test_no_file_comes_back_to_itself() -> None:
    """Whatever a file knows, and what that knows, and so on, never knows the file."""
    known = imports()
    done: set[str] = set()
    for start in known:
        way, waiting = [start], [iter(sorted(known[start]))]
        while waiting:
            here = next((o for o in waiting[-1] if o not in done), None)
            if here is None:
                done.add(way.pop())
                waiting.pop()
                continue
            assert here not in way, " knows ".join([*way[way.index(here) :], here])
            way.append(here)
            waiting.append(iter(sorted(known[here])))


# -- measures ----------------------------------------------------------------------------------------------
def functions(tree: ast.Module) -> list[ast.FunctionDef]:
    return [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]


def test_files_and_functions_fit_on_a_few_screens() -> None:
    long = {p: n for p in trees() if (n := (PACKAGE / p).read_text().count("\n")) > 500}
    assert long == {}
    high = {
        (path, f.name): n
        for path, tree in trees().items()
        for f in functions(tree)
        if f.end_lineno is not None and (n := f.end_lineno - f.lineno + 1) > 60
    }
    assert high == {}


def public(tree: ast.Module | ast.ClassDef) -> list[ast.ClassDef | ast.FunctionDef]:
    """The classes, functions and methods that others may use."""
    found: list[ast.ClassDef | ast.FunctionDef] = []
    for node in tree.body:
        if isinstance(node, (ast.ClassDef, ast.FunctionDef)) and not node.name.startswith("_"):
            found.append(node)
            found += public(node) if isinstance(node, ast.ClassDef) else []
    return found


def rules_of_the_grammar() -> set[str]:
    text = (PACKAGE.parent / "grammar" / "patternkit.lark").read_text(encoding="utf-8")
    return set(re.findall(r"(?:^[?!]?|-> *)([a-z_]+)", text, re.MULTILINE))


def test_public_names_say_what_they_are() -> None:
    """Each has a docstring, but for what a grammar rule of the same name says already, and for the spellings of an
    overload."""
    names = [(path, node) for path, tree in trees().items() for node in public(tree)]
    rules = rules_of_the_grammar()
    bare = [
        f"{path}: {node.name}"
        for path, node in names
        if not ast.get_docstring(node)
        and not (path == "syntax/build.py" and node.name in rules)
        and not any(isinstance(d, ast.Name) and d.id == "overload" for d in node.decorator_list)
    ]
    assert len(names) > 1500 and len(rules) > 80
    assert bare == []
    assert [path for path, tree in trees().items() if not ast.get_docstring(tree)] == []


def test_docstrings_are_filled() -> None:
    loose = [p for p in trees() if with_docstrings_filled(text := (PACKAGE / p).read_text(encoding="utf-8")) != text]
    assert loose == [], "python -m tests.filled fills them"


# -- what nobody uses --------------------------------------------------------------------------------------
CALLED_BY_OTHERS = {"format_files", "lex"}  # by click, by lark


LOOSE = {"told", "said", "saying", "settle", "settled", "settles", "together"}
"""Words that no name says anything with: the field has verbs for it (render, state, compute, merge, collect)."""


def named_in(tree: ast.Module) -> set[str]:
    """What a file gives a name to: functions, classes, arguments, variables, fields."""
    found = {n.name for n in ast.walk(tree) if isinstance(n, (ast.FunctionDef, ast.ClassDef))}
    found |= {n.arg for n in ast.walk(tree) if isinstance(n, (ast.arg, ast.keyword)) and n.arg}
    found |= {n.id for n in ast.walk(tree) if isinstance(n, ast.Name) and isinstance(n.ctx, ast.Store)}
    return found | {n.attr for n in ast.walk(tree) if isinstance(n, ast.Attribute) and isinstance(n.ctx, ast.Store)}


def test_names_have_the_verbs_of_the_field() -> None:
    names = {(path, name) for path, tree in trees().items() for name in (*named_in(tree), Path(path).stem)}
    assert len(names) > 5000
    assert {(path, name) for path, name in names if LOOSE & set(name.lower().split("_"))} == set()


def test_every_function_and_constant_is_used() -> None:
    """Each name that a file defines stands somewhere else in the package too, in its code, phrases or grammar."""
    texts = [p.read_text(encoding="utf-8") for end in ("py", "toml", "typ", "js") for p in PACKAGE.rglob(f"*.{end}")]
    words = Counter(word for text in texts for word in re.findall(r"\w+", text))
    words.update(rules_of_the_grammar())
    unused = []
    for path, tree in trees().items():
        found = [n.name for n in ast.walk(tree) if isinstance(n, ast.FunctionDef)]
        targets = [t for n in tree.body if isinstance(n, ast.Assign) for t in n.targets]
        found += [e.id for t in targets for e in ast.walk(t) if isinstance(e, ast.Name)]
        unused += [f"{path}: {name}" for name in found if words[name] == 1 and not name.startswith("__")]
    assert {name.split()[-1] for name in unused} == CALLED_BY_OTHERS, unused
