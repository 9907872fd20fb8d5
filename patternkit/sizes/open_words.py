"""What to say of sizes that nobody gave."""

from __future__ import annotations

import re

import msgspec

from patternkit.english import listed
from patternkit.sizes.causes import Cause, Var
from patternkit.sizes.explain import Wording
from patternkit.sizes.open_sizes import FreeGroup

_MOST_NAMED = 4
_SIDE = re.compile(r"the (width|height) of (.+)")


class OpenWords(msgspec.Struct, frozen=True):
    """Ready sentences (no full stop): what is not known, who speaks of it, and what would settle it."""

    message: str
    mentions: tuple[Cause, ...]
    remedies: tuple[str, ...]


def render_open(group: FreeGroup, wording: Wording) -> OpenWords:
    """The sentences for one group; `wording` names each size ("the width of wall")."""
    sizes = _names(group.sizes, wording)
    message = f"nothing settles {listed(sizes, _MOST_NAMED)}"
    choices = _names(group.resolves, wording)
    if group.missing == 1:
        remedies = tuple(
            f"say {_how(name)}" + ("; the others follow" if len(sizes) > 1 else "") for name in choices[:_MOST_NAMED]
        )
    else:
        sides = all(_SIDE.fullmatch(name) for name in choices)
        asked = listed([_how(name) if sides else name for name in choices], _MOST_NAMED)
        asked = asked if sides else f"how large {asked} are"
        remedies = (f"{group.missing} sizes are lacking: say, for instance, {asked}",)
    texts = {cause.text: cause for cause in reversed(group.mentions)}
    mentions = tuple(c for c in group.mentions if texts[c.text] is c)
    return OpenWords(message, mentions, remedies)


def _how(name: str) -> str:
    """The question that a size answers: ``how wide wall is``."""
    side = _SIDE.fullmatch(name)
    return f"how {'wide' if side[1] == 'width' else 'high'} {side[2]} is" if side else f"how large {name} is"


def _names(sizes: tuple[Var, ...], wording: Wording) -> list[str]:
    return list(dict.fromkeys(wording.of(v) for v in sizes))
