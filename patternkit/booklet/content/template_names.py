"""What templates are called: their unit, with a letter where a unit has several shapes; one name, one template."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from itertools import chain, count

from patternkit.english import letters
from patternkit.piecing.keys import Thing
from patternkit.piecing.making import Making, Outline, PieceCut


def template_names(
    makings: Iterable[Making],
    title: Callable[[Making], str],
    lettered: Callable[[str, str], str],
    form: Callable[[PieceCut], str],
) -> Mapping[tuple[Thing, Outline], str]:
    """The names of all templates of some makings, by the thing and the raw outline of a cut.

    `lettered` puts a title and a letter together; `form` tells which template a cut is for, however that is turned.
    Units of one title share a name only where they share the template; a name that another one has already is passed
    over, and the letters go on.
    """
    found: dict[tuple[Thing, Outline], str] = {}
    taken: dict[str, str] = {}
    for making in makings:
        forms = {c.shape: form(c) for c in making.recipe.cuts if c.then == "template"}
        shapes = list(dict.fromkeys(forms.values()))
        called = title(making)
        for shape in shapes:
            candidates = chain(
                [called] if len(shapes) == 1 else [], (lettered(called, letters(n).lower()) for n in count())
            )
            name = next(name for name in candidates if taken.get(name, shape) == shape)
            taken[name] = shape
            found |= {(making.thing, outline): name for outline, own in forms.items() if own == shape}
    return found
