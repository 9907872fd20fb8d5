"""Finishing lines of the quilt: a width, a piece, and phrases from the list of that line's own words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from lark import Token

from patternkit.problems import Repair
from patternkit.source import Span
from patternkit.syntax import statements as st
from patternkit.syntax.lexer import LineText, Trouble, trouble
from patternkit.syntax.meant import OTHER_PHRASES
from patternkit.syntax.suggest import nearest
from patternkit.syntax.words import COUNTED, OTHER_EDGES, PHRASE_SPELLINGS, PHRASES, WITHOUT_WIDTH

OF_ITS_OWN = ("cornerstones", "strip", "sides", "corners")
"""Phrases behind which a second piece is named, beside the line's own."""

_ONE_WIDTH = (
    "One width stands on a line; lines have no numbers, and those of the quilt go from the inside to the outside."
)


class _Reader:
    """Reads the clauses of one line from left to right."""

    def __init__(self, word: str, line: LineText, name: Callable[[st.Ref], str]) -> None:
        self.word, self.line, self.name = word, line, name
        self.phrases = PHRASES[word]
        self.fields: dict[str, Any] = {}
        self.words: list[str] = []
        self.places: list[Span] = []
        self.extras: list[tuple[str, st.Expr]] = []

    def phrase(self, items: Sequence[Any], i: int) -> tuple[str, int]:
        """The longest phrase that starts at item `i`, and how many items it takes; "" and 0 when none does."""
        run: list[str] = []
        best = ("", 0)
        for item in items[i : i + 4]:
            if type(item) is not st.Ref:
                break
            run.append(item.name)
            text = " ".join(run)
            text = text if text in self.phrases else PHRASE_SPELLINGS.get(text, text)
            if text in self.phrases:
                best = text, len(run)
        return best

    def put(self, key: str, value: Any, what: str, span: Span) -> None:
        """Keep something said, once."""
        if key in self.fields:
            causes = (_ONE_WIDTH,) if what == "a width" else ()
            raise trouble("said-twice", f"This line gives {what} twice.", span, causes=causes)
        self.fields[key] = value

    def piece(self, item: Any) -> st.PieceUse:
        """A piece from what was read as a bare word or a piece."""
        if type(item) is st.PieceUse:
            return item
        return st.PieceUse(self.name(item), item.span, item.span)

    def keep(self, phrase: str, rest: Sequence[Any], span: Span) -> int:
        """Keep a phrase with what must follow it; gives the number of items that followed."""
        takes = self.phrases[phrase]
        if phrase in self.words or (phrase in OF_ITS_OWN and phrase in self.fields):
            raise trouble("said-twice", f"`{phrase}` is said twice.", span)
        if not takes:
            self.words.append(phrase)
            self.places.append(span)
            return 0
        follows = rest[0] if rest else None
        if takes == "piece" and type(follows) in (st.Ref, st.PieceUse):
            self.put(phrase if phrase in OF_ITS_OWN else "use", self.piece(follows), "a fabric", span)
            return 1
        if takes == "length" and isinstance(follows, (st.Num, st.Ref, st.Binary, st.Call)):
            self.words.append(phrase)
            self.places.append(span.to(follows.span))
            self.extras.append((phrase, follows))
            return 1
        if takes == "size" and isinstance(follows, (st.SizePair, st.Num, st.Ref, st.Binary, st.Call)):
            self.words.append(phrase)
            self.places.append(span.to(follows.span))
            self.put("size", follows, "a size", span)
            return 1
        if takes == "lengths" and isinstance(follows, (st.SizePair, st.Num, st.Ref, st.Binary, st.Call)):
            self.words.append(phrase)
            self.places.append(span.to(follows.span))
            self.put("size", follows, "a size", span)
            return 1
        needs = {"piece": "the fabric or unit", "size": "a width and a height"}.get(takes, "a length")
        raise trouble("not-understood", f"`{phrase}` needs {needs} behind it.", span)

    def clause(self, items: Sequence[Any], first: bool) -> None:
        """Read one clause."""
        i = 0
        while i < len(items):
            item = items[i]
            if words := self.counted_first(items, i):
                items = [*items[:i], *items[i + 1 : i + 1 + words], item, *items[i + 1 + words :]]
                item = items[i]
            phrase, taken = self.phrase(items, i)
            if first and i == 0 and phrase == "strips":
                taken = self.named_strip(items, taken)
            if taken and not self.is_fabric(phrase, items, i + taken):
                i += taken
                i += self.keep(phrase, items[i:], item.span.to(items[i - 1].span))
                continue
            if i and type(item) is st.Ref and item.name in ("with", "and") and self.phrase(items, i + 1)[1]:
                i += 1  # "sashing 1 stone with cornerstones glow"
                continue
            if not first:
                raise self.unknown(item, items[i + 1] if i + 1 < len(items) else None)
            i += self.plain(items, i)

    def is_fabric(self, phrase: str, items: Sequence[Any], after: int) -> bool:
        """Whether a word that is a phrase is a fabric's name: behind ``on point``, with nothing behind it."""
        alone = after == len(items) or self.phrase(items, after)[1] > 0
        return phrase in ("sides", "corners") and alone and after > 1 and "use" not in self.fields

    def named_strip(self, items: Sequence[Any], taken: int) -> int:
        """How many words the phrase ``strips`` has where a line begins with it: none where it is the name of a width
        (``border strip night``). Raises Trouble where it stands before a width (``sashing strips 1 night``)."""
        follows, behind = (*items[taken : taken + 2], None, None)[:2]
        if type(follows) in (st.Ref, st.PieceUse) and taken == 1 and (behind is None or self.phrase(items, 2)[1]):
            return 0
        if (
            isinstance(follows, st.Num)
            and type(behind) in (st.Ref, st.PieceUse)
            and not self.phrase(items, taken + 1)[1]
        ):
            whole = Span(items[0].span.file, items[0].span.start, follows.span.start)
            raise trouble(
                "not-understood",
                f"A `{self.word}` line begins with how wide it is; how many strips stands behind a comma.",
                items[0].span,
                Repair("take the word out", whole, ""),
                causes=(f"`{self.word} 2 {getattr(behind, 'name', '')}, strips 8` says both.",),
            )
        return taken

    def counted_first(self, items: Sequence[Any], i: int) -> int:
        """How many words the phrase has that a number stands before: ``8 strips``; 0 where none does."""
        if i + 1 >= len(items) or not isinstance(items[i], st.Num) or items[i].unit is not None:
            return 0
        phrase, words = self.phrase(items, i + 1)
        follows = items[i + 1 + words] if i + 1 + words < len(items) else None
        fits = phrase in COUNTED and phrase not in self.words and not isinstance(follows, st.Num)
        return words if fits else 0

    def plain(self, items: Sequence[Any], i: int) -> int:
        """Read a width, ``cut`` or piece of the first clause; gives the number of items taken."""
        item = items[i]
        if type(item) is st.Ref and item.name == "cut" and "value" not in self.fields:
            self.put("cut", True, "`cut`", item.span)
            return 1
        if type(item) in (st.SizePair, st.Text):
            sized = [p for p, takes in self.phrases.items() if takes == "size"] if type(item) is st.SizePair else []
            here = Span(item.span.file, item.span.start, item.span.start)
            repairs = [Repair(f"put `{p}` before the size", here, f"{p} ") for p in sized]
            raise trouble("not-understood", f"A `{self.word}` line takes one length here.", item.span, *repairs)
        follows = items[i + 1] if i + 1 < len(items) else None
        if self.word == "edge" and type(item) is st.Ref and item.name in OTHER_EDGES:
            raise trouble(
                "not-understood",
                f"The corners of a quilt can be rounded; an edge that is {item.name} is not worked out.",
                item.span,
                causes=(
                    "`edge rounded 3` rounds the corners; another edge is drawn after quilting, in words of your own.",
                ),
            )
        if type(item) is st.Ref and not self.stands_alone(items, i) and self.misread(item, follows):
            raise self.unknown(item, follows)
        if type(item) is st.PieceUse or (type(item) is st.Ref and not self.is_length(item, follows, items, i)):
            if "use" in self.fields:
                raise self.unknown(item)
            self.put("use", self.piece(item), "a fabric", item.span)
        elif self.word in WITHOUT_WIDTH:
            message = f"{'An' if self.word == 'edge' else 'A'} `{self.word}` takes no length of its own."
            here = Span(item.span.file, item.span.start, item.span.start)
            repairs = [Repair("put `overage` before it", here, "overage ")] if "overage" in self.phrases else []
            raise trouble("not-understood", message, item.span, *repairs, causes=(self.choices(),))
        else:
            self.put("value", item, "a width", item.span)
        return 1

    def is_length(self, item: st.Ref, follows: Any, items: Sequence[Any], i: int) -> bool:
        """Whether a bare name is the width: a second name that is no phrase follows it (``border side night``)."""
        if "value" in self.fields or "use" in self.fields:
            return False
        return "cut" in self.fields or (
            type(follows) in (st.Ref, st.PieceUse)
            and not self.phrase(items, i + 1)[1]
            and not nearest(getattr(follows, "name", ""), self.phrases)
        )

    def begun(self, item: st.Ref, follows: Any) -> bool:
        """Whether a word starts a phrase of several words that then goes on wrongly."""
        return type(follows) is st.Ref and any(p.startswith(item.name + " ") for p in self.phrases)

    def stands_alone(self, items: Sequence[Any], i: int) -> bool:
        """Whether a bare name stands behind a phrase and nothing but phrases behind it: there it is a fabric, however
        near it is to a phrase (``setting on point side``)."""
        return i > 0 and (i + 1 == len(items) or self.phrase(items, i + 1)[1] > 0)

    def misread(self, item: st.Ref, follows: Any) -> bool:
        """Whether a bare name starts a phrase that goes on wrongly, or is a slip for one of a setting's phrases."""
        if self.begun(item, follows):
            return True
        return self.word == "setting" and bool(self.near(item) or OTHER_PHRASES.get(item.name, "") in self.phrases)

    def near(self, item: st.Ref) -> str:
        """The first word of a phrase that a word is near to; "" when there is none."""
        return nearest(item.name, [p.split()[0] for p in self.phrases]) or ""

    def unknown(self, item: Any, follows: Any = None) -> Trouble:
        """The problem of a word that is no phrase of this line, or of two words that are none together."""
        span = item.span
        if type(item) is st.Ref and follows is not None and self.begun(item, follows):
            words, span = f"{item.name} {follows.name}", span.to(follows.span)
            guess = nearest(words, self.phrases)
            return trouble(
                "unknown-word",
                f"`{words}` has no meaning in a `{self.word}` line." + (f" Did you mean `{guess}`?" if guess else ""),
                span,
                *([Repair(f"write `{guess}`", span, guess, True)] if guess else []),
                causes=(self.choices(),),
            )
        if type(item) is not st.Ref:
            again = isinstance(item, st.Num) and self.word not in WITHOUT_WIDTH
            one = f"A `{self.word}` line says one {self.word}; another one gets a line of its own."
            return trouble(
                "not-understood",
                f"This has no meaning at this place of a `{self.word}` line.",
                span,
                causes=(one, self.choices()) if again else (self.choices(),),
            )
        firsts = {p.split()[0]: p for p in self.phrases}
        if (other := OTHER_PHRASES.get(item.name, "")) in self.phrases:
            behind = follows.name if type(follows) is st.Ref else ""
            if f"{other} {behind}" in self.phrases:
                other = f"{other} {behind}"
            if behind in ("triangle", "triangles") or other.endswith(f" {behind}"):
                assert follows is not None
                span = span.to(follows.span)
            text = self.line.text[span.start - self.line.base : span.end - self.line.base]
            message = f"`{text}` has no meaning in a `{self.word}` line. Did you mean `{other}`?"
            raise trouble("unknown-word", message, span, Repair(f"write `{other}`", span, other, True))
        guess = self.near(item)
        repairs = (Repair(f"write `{guess}`", span, guess, True),) if guess else ()
        hint = f" Did you mean `{firsts[guess]}`?" if guess else ""
        return trouble(
            "unknown-word",
            f"`{item.name}` has no meaning in a `{self.word}` line.{hint}",
            span,
            *repairs,
            causes=(self.choices(),),
        )

    def choices(self) -> str:
        """A sentence that lists the line's phrases."""
        ends = {
            "": "",
            "length": " with a length",
            "lengths": " with a length",
            "size": " with a size",
            "piece": " with a fabric or unit",
        }
        if not self.phrases:
            return f"A `{self.word}` line has a length and a fabric, and nothing more."
        return "Here may stand: " + ", ".join(f"`{p}`{ends[t]}" for p, t in self.phrases.items()) + "."


def finish(word: Token, clauses: Sequence[Sequence[Any]], line: LineText, name: Callable[[st.Ref], str]) -> st.Finish:
    """The finish that a line says. `name` gives a piece's name or raises Trouble for a word of the language."""
    reader = _Reader(str(word), line, name)
    for number, items in enumerate(clauses):
        reader.clause(items, number == 0)
    if not clauses and str(word) != "batting":
        raise trouble(
            "not-understood",
            f"`{word}` needs something behind it.",
            line.span(0, line.end),
            causes=(reader.choices(),),
        )
    extra = reader.extras[0][1] if reader.extras else None
    return st.Finish(
        str(word),
        line.span(0, line.end),
        words=tuple(reader.words),
        extra=extra,
        extras=tuple(reader.extras),
        places=tuple(reader.places),
        **reader.fields,
    )
