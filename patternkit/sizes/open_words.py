"""What to say of sizes that nobody gave."""

from __future__ import annotations

import msgspec

from patternkit.english import listed
from patternkit.sizes.causes import Cause, Var
from patternkit.sizes.open_sizes import FreeGroup
from patternkit.sizes.wording import Wording

_MOST_NAMED = 4


class OpenWords(msgspec.Struct, frozen=True):
    """Ready sentences (no full stop): what is not known, who speaks of it, and what would settle it."""

    message: str
    mentions: tuple[Cause, ...]
    remedies: tuple[str, ...]


def render_open(group: FreeGroup, wording: Wording) -> OpenWords:
    """The sentences for one group; `wording` names each size ("the width of wall")."""
    sizes = list(_named(group.sizes, wording))
    message = f"nothing settles {listed(sizes, _MOST_NAMED)}"
    choices = _named(group.resolves, wording)
    if group.missing == 1:
        more = "; the others follow" if len(sizes) > 1 else ""
        questions = [question or f"how large {name} is" for name, question in choices.items()]
        remedies = tuple(f"say {question}{more}" for question in questions[:_MOST_NAMED])
    else:
        sides = all(choices.values())
        asked = listed(list(choices.values() if sides else choices), _MOST_NAMED)
        asked = asked if sides else f"how large {asked} are"
        remedies = (f"{group.missing} sizes are lacking: say, for instance, {asked}",)
    texts = {cause.text: cause for cause in reversed(group.mentions)}
    mentions = tuple(c for c in group.mentions if texts[c.text] is c)
    return OpenWords(message, mentions, remedies)


def _named(sizes: tuple[Var, ...], wording: Wording) -> dict[str, str]:
    """The names of sizes, each once, with the question that each answers."""
    return {wording.of(v): wording.asked(v) if wording.asked is not None else "" for v in sizes}
