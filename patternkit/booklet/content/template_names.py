"""What templates are called: their unit, with a letter where a unit has several shapes; one name, one template."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from itertools import chain, count

from patternkit.english import letters
from patternkit.piecing.keys import Thing
from patternkit.piecing.making import Making, PieceCut


def template_names(
    makings: Iterable[Making],
    title: Callable[[Making], str],
    lettered: Callable[[str, str], str],
    form: Callable[[PieceCut], str],
    printed: Callable[[PieceCut], bool],
) -> Mapping[tuple[Thing, str], str]:
    """The names of all templates of some makings, by the thing and the template of a cut.

    `lettered` puts a title and a letter together; `form` tells which template a cut is for, however that is turned, and
    `printed` whether there is one: a ruler may cut it. Units of one title share a name only where they share the
    template; a name that another one has already is passed over, and the letters go on.
    """
    found: dict[tuple[Thing, str], str] = {}
    taken: dict[str, str] = {}
    for making in makings:
        shapes = list(dict.fromkeys(form(c) for c in making.recipe.cuts if c.then == "template" and printed(c)))
        called = title(making)
        for shape in shapes:
            candidates = chain(
                [called] if len(shapes) == 1 else [], (lettered(called, letters(n).lower()) for n in count())
            )
            name = next(name for name in candidates if taken.get(name, shape) == shape)
            taken[name] = shape
            found[making.thing, shape] = name
    return found
