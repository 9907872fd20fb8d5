"""Turns what lark has read of one line into a statement. Each method bears the name of a rule of the grammar."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, cast

from lark import Token

from patternkit.problems import Repair
from patternkit.source import Span
from patternkit.syntax import statements as st
from patternkit.syntax.cut_claims import also_line, counted_cut, cut_lines, cuts_claim
from patternkit.syntax.finish import finish
from patternkit.syntax.groups import EACH, bought, fabrics
from patternkit.syntax.lexer import LineText, trouble
from patternkit.syntax.numbers import NumberTrouble, read_number, real_date
from patternkit.syntax.pieces import degrees, join, laid, modified, strips_on
from patternkit.syntax.suggest import nearest
from patternkit.syntax.words import KINDS, RESERVED, UNIT_SPELLINGS, WORD_SETTINGS

Children = list[Any]
UNIT_SETTING_SPELLINGS = {word: {"in": "inches"}.get(unit, unit) for word, unit in UNIT_SPELLINGS.items()}
"""What may be written behind ``units``, and the choice it means."""
FABRIC_WORDS = ("light", "medium", "dark", "directional")
_COUNT_WORDS = {1: "one", 2: "two", 4: "four", 8: "eight"}


def _one(word: str) -> Callable[[Any, Children], str]:
    """A rule of the grammar that says one word."""
    return lambda _, c: word


class Builder:
    """The callbacks of the parser. `here` is set before each parse and gives the places of everything in it."""

    here: LineText

    # -- helpers ----------------------------------------------------------------------------------------
    def at(self, token: Token) -> Span:
        """The span of a token."""
        base = self.here.base
        return Span(self.here.file, base + cast(int, token.start_pos), base + cast(int, token.end_pos))

    @property
    def whole(self) -> Span:
        """The span of the line, without indentation and comment."""
        return self.here.span(0, self.here.end)

    def name(self, token: Token) -> str:
        """A name being given or used; raises Trouble for a word of the language."""
        word = str(token)
        if word in RESERVED:
            raise trouble(
                "reserved-word",
                f"`{word}` is a word of the language and can't be a name.",
                self.at(token),
                causes=(self._instead(word),),
            )
        return word

    def _instead(self, word: str) -> str:
        """What to write instead of a word of the language: among pieces, the name of a unit that is made so."""
        lead = self.here.lead
        if word in KINDS and (lead is None or lead[1] in KINDS):
            return (
                f"A unit of its own, such as `unit part` with the `{word}` line under it, is made so; "
                "here stands its name."
            )
        return f"Another name, such as `my-{word}`, would do."

    def words_in(self, token: Token) -> str:
        """What stands between the quotes of a text."""
        return str(token)[1:-1]

    # -- numbers and expressions --------------------------------------------------------------------------
    def num(self, c: Children) -> st.Num:
        span = self.at(c[0])
        try:
            value, unit = read_number(c[0])
        except NumberTrouble as error:
            raise trouble(error.code, str(error), span) from None
        if unit == "°":
            raise trouble("not-understood", "A number of degrees can only follow `turned`.", span)
        return st.Num(value, unit, span)

    def ref(self, c: Children) -> st.Ref:
        return st.Ref(str(c[0]), self.at(c[0]))

    def binary(self, c: Children) -> st.Binary:
        left, op, right = c
        return st.Binary(str(op), left, right, left.span.to(right.span))

    def negative(self, c: Children) -> st.Expr:
        op, value = c
        span = self.at(op).to(value.span)
        return st.Call("-", (value,), span) if op == "-" else cast("st.Expr", value)

    def root(self, c: Children) -> st.Call:
        value = c[-1]
        return st.Call("root", (value,), Span(self.here.file, self.at(c[0]).start - 4, value.span.end + 1))

    def bracketed(self, c: Children) -> st.Expr:
        return cast("st.Expr", c[-1])

    def size(self, c: Children) -> st.SizePair | st.Expr:
        """One length, or two; a unit written once behind the second counts for both."""
        if len(c) == 1:
            return cast("st.Expr", c[0])
        width, height = c[0], c[-1]
        if isinstance(width, st.Num) and isinstance(height, st.Num) and width.unit is None:
            width = st.Num(width.value, height.unit, width.span)
        return st.SizePair(width, height, width.span.to(height.span))

    # -- pieces -------------------------------------------------------------------------------------------
    def args(self, c: Children) -> tuple[Token, list[st.Argument]]:
        return c[0], [a for a in c[1:] if type(a) is not Token]

    def turned(self, c: Children) -> tuple[str, int | st.Ref, Span]:
        span = self.at(c[0])
        if c[0].type == "NAME":
            return "turned", st.Ref(self.name(c[0]), span), span
        return "turned", degrees(c[0], span), span

    def shifted(self, c: Children) -> tuple[str, int, Span]:
        return "shifted", strips_on(c[0], self.at(c[0])), self.at(c[0])

    def mirrored(self, c: Children) -> tuple[str, bool, Span]:
        return "mirrored", True, self.whole

    def laid(self, c: Children) -> tuple[str, st.Laid, Span]:
        return "laid", laid(c, self.whole), self.whole

    def cut(self, c: Children) -> tuple[str, Any, Span]:
        return "cut", c[0], c[0].span

    def use(self, c: Children) -> st.PieceUse:
        """A piece with what is said of it."""
        name, mods = c[0], c[1:]
        args: Sequence[st.Argument] = ()
        span = self.at(name)
        if mods and type(mods[0]) is tuple and type(mods[0][0]) is Token:
            args = mods[0][1]
            mods = mods[1:]
        use = st.PieceUse(self.name(name), span, span, tuple(args))
        return modified(use, mods) if mods else use

    def group(self, c: Children) -> st.RepeatedGroup:
        start, times = self.at(c[0]), c[-1]
        items, marks = join(c[1:-1], self.at, True)
        return st.RepeatedGroup(items, marks, times, start.to(times.span))

    def line(self, c: Children) -> st.PieceLine:
        items, marks = join(c, self.at, False)
        last = items[-1].span
        return st.PieceLine(items, marks, Span(last.file, items[0].span.start, max(last.end, self.whole.end)))

    def seam_line(self, c: Children) -> st.SeamLine:
        return st.SeamLine(st.Mark(cast("st.MarkText", str(c[0])), self.at(c[0])), self.whole)

    # -- the file -----------------------------------------------------------------------------------------
    def pattern_head(self, c: Children) -> st.PatternHead:
        return st.PatternHead(self.words_in(c[0]), self.whole)

    def include(self, c: Children) -> st.Include:
        return st.Include(self.words_in(c[0]), self.whole)

    def let(self, c: Children) -> st.Let:
        return st.Let(self.name(c[0]), self.at(c[0]), c[1], self.whole)

    def bare(self, c: Children) -> st.Statement:
        word = str(c[0])
        if word == "quilt":
            return st.QuiltHead(self.whole)
        if word == "sizes":
            return st.SizesHead(self.whole)
        return st.Tile(cast(Any, word), self.whole)

    def setting_text(self, c: Children) -> st.Setting:
        word, value = c
        text = self.words_in(value) if value.type == "TEXT" else self.here.text[value.start_pos : value.end_pos]
        return st.Setting(str(word), self.whole, text=text)

    def setting_texts(self, c: Children) -> st.Setting:
        return st.Setting(str(c[0]), self.whole, texts=tuple(self.words_in(t) for t in c[1:] if t.type == "TEXT"))

    def setting_length(self, c: Children) -> st.Setting:
        return st.Setting(str(c[0]), self.whole, value=c[1])

    def setting_word(self, c: Children) -> st.Setting:
        word, *names = (x for x in c if x is not None)
        value = " ".join(names)
        if word == "units":
            value = UNIT_SETTING_SPELLINGS.get(value, value)
        if (choices := WORD_SETTINGS[word]) and value not in choices:
            guess, span = nearest(value, choices), self.at(names[0]).to(self.at(names[-1]))
            hint = f" Did you mean `{guess}`?" if guess else ""
            raise trouble(
                "unknown-word",
                f"`{value}` is no choice for `{word}`.{hint}",
                span,
                *([Repair(f"write `{guess}`", span, guess, True)] if guess else []),
                causes=("The choices are " + ", ".join(f"`{choice}`" for choice in choices) + ".",),
            )
        return st.Setting(word, self.whole, text=value)

    # -- fabrics ------------------------------------------------------------------------------------------
    def fabric_title(self, c: Children) -> tuple[str, str]:
        return "title", self.words_in(c[0])

    def fabric_colour(self, c: Children) -> tuple[str, str]:
        return "colour", str(c[0]).lower()

    def fabric_named(self, c: Children) -> tuple[str, str]:
        """A colour by its name; raises Trouble for any other word."""
        from patternkit.syntax.colours import COLOURS  # only a file that names a colour needs them

        word, span = str(c[0]), self.at(c[0])
        if word in COLOURS:
            return "colour", COLOURS[word]
        before = self.here.text[: c[0].start_pos].rstrip()
        guess = nearest(word, FABRIC_WORDS) or nearest(word, COLOURS)
        if guess is None and len(before.split()) == 2 and '"' not in before:
            first = before.split()[1]
            start = before.rindex(first)
            raise trouble(
                "not-understood",
                f"`{first} {word}` can't be a name: a name is one word, with hyphens if need be.",
                self.here.span(start, c[0].end_pos or start),
                Repair("put a hyphen between them", self.here.span(len(before), c[0].start_pos or 0), "-"),
            )
        words = ", ".join(f"`{w}`" for w in FABRIC_WORDS)
        raise trouble(
            "unknown-word",
            f"`{word}` has no meaning here." + (f" Did you mean `{guess}`?" if guess else ""),
            span,
            *([Repair(f"write `{guess}`", span, guess, True)] if guess else []),
            causes=(f"Here may stand: a text in double quotes, {words}, a colour such as `#1b2a49` or `teal`.",),
        )

    def fabric_light(self, c: Children) -> tuple[str, str]:
        return "value", "light"

    def fabric_medium(self, c: Children) -> tuple[str, str]:
        return "value", "medium"

    def fabric_dark(self, c: Children) -> tuple[str, str]:
        return "value", "dark"

    def fabric_directional(self, c: Children) -> tuple[str, bool]:
        return "directional", True

    def fabric_head(self, c: Sequence[Any]) -> st.FabricHead:
        fields: dict[str, Any] = {}
        for key, value in c[1:]:
            if key in fields:
                what = {"title": "printed name", "value": "value (light, medium or dark)"}.get(key, key)
                raise trouble("said-twice", f"This fabric is given its {what} twice.", self.whole)
            fields[key] = value
        return st.FabricHead(self.name(c[0]), self.at(c[0]), self.whole, **fields)

    def group_count(self, c: Children) -> tuple[str, Any]:
        return "count", (self.num(c[:1]), self.ref(c[1:]) if len(c) > 1 else None)

    def fabrics_head(self, c: Children) -> st.FabricHead:
        return fabrics(c, self.fabric_head, self.whole)

    each_print = _one(EACH)

    def sold_by(self, c: Children) -> st.Sold:
        return st.Sold("by", self.whole, width=c[0])

    fat_quarters, fat_eighths = _one("fat-quarters"), _one("fat-eighths")
    pieces, squares, strips, packs = _one("pieces"), _one("squares"), _one("strips"), _one("packs")

    def sold(self, c: Children) -> st.Sold:
        parts = [p for p in c[1:] if type(p) is not Token]
        width, height = split(parts[0]) if parts else (None, None)
        return st.Sold(c[0], self.whole, width, height, parts[1] if len(parts) > 1 else None)

    def repeat(self, c: Children) -> st.Repeat:
        return st.Repeat(*split(next(x for x in c if type(x) is not Token)), self.whole)

    def batting_sold(self, c: Children) -> st.BattingSold:
        return st.BattingSold(tuple(split(x) for x in c[1:] if type(x) is not Token), self.whole)

    def have(self, c: Children) -> st.Sold:
        width, height = split(c[1]) if len(c) > 1 else (None, None)
        return st.Sold("have", self.whole, width, height, c[0])

    def buy(self, c: Children) -> st.BuyClaim:
        return bought(c, self.whole)

    def bought(self, c: Children) -> tuple[st.Ref, st.BuyClaim]:
        name = self.ref([c[0]])
        return name, bought(c[1:], name.span.to(c[1].span))

    def size_buy(self, c: Children) -> st.BuysClaim:
        return st.BuysClaim(tuple(part for part in c if type(part) is tuple), self.whole)

    # -- units --------------------------------------------------------------------------------------------
    def params(self, c: Children) -> tuple[st.Ref, ...]:
        return tuple(st.Ref(self.name(t), self.at(t)) for t in c if t.type == "NAME")

    def unit_head(self, c: Children) -> st.UnitHead:
        params: tuple[st.Ref, ...] = ()
        title = ""
        for part in c[2:]:
            if type(part) is tuple:
                params = part
            else:
                title = self.words_in(part)
        return st.UnitHead(cast(Any, str(c[0])), self.name(c[1]), self.at(c[1]), self.whole, params, title)

    def kind(self, c: Children) -> st.KindStatement:
        line = next((part for part in c[1:] if type(part) is st.PieceLine), None)
        file = next((self.text([part]) for part in c[1:] if type(part) is Token and part.type == "TEXT"), None)
        if file is not None and c[0] != "drawing":
            raise trouble("not-understood", f"No text stands behind `{c[0]}`.", file.span)
        return st.KindStatement(str(c[0]), self.at(c[0]), line, self.whole, file)

    def size_claim(self, c: Children) -> st.SizeClaim:
        width, height = split(c[1])
        return st.SizeClaim(cast(Any, str(c[0])), width, height, self.whole)

    def wide_claim(self, c: Children) -> st.SizeClaim:
        return self.one_side(c, "w")

    def high_claim(self, c: Children) -> st.SizeClaim:
        return self.one_side(c, "h")

    def one_side(self, c: Children, side: str) -> st.SizeClaim:
        """``finished 3 high``; raises Trouble for a cut, which takes both sides."""
        if c[0] == "cut":
            message = "A `cut` line says both sides, width before height: `cut 3 1/2 x 4 1/2`."
            raise trouble("not-understood", message, self.whole)
        return st.SizeClaim(cast(Any, str(c[0])), c[1], None, self.whole, cast(Any, side))

    def wide_high_claim(self, c: Children) -> st.SizeClaim:
        width, height = (part for part in c[1:] if type(part) is not Token)
        return st.SizeClaim(cast(Any, str(c[0])), width, height, self.whole)

    cut_pieces, corner_to_corner = _one("pieces"), _one("")

    def cut_once(self, c: Children) -> tuple[str, Span]:
        return "once", self.whole

    def cut_twice(self, c: Children) -> tuple[str, Span]:
        return "twice", self.whole

    def from_each(self, c: Children) -> tuple[str, Span]:
        return "each", self.whole

    def counted_cut(self, c: Children) -> st.CountedCut:
        return counted_cut(c, self.at)

    def cut_list(self, c: Children) -> Children:
        return [part for part in c if type(part) is not Token]

    def cut_claim(self, c: Children) -> st.CutsClaim:
        return cuts_claim(c[1], self.whole)

    def also(self, c: Children) -> st.Also:
        title = self.words_in(c[-1]) if type(c[-1]) is Token else ""
        return also_line(next(part for part in c if type(part) is st.CountedCut), title, self.whole)

    def cut_off(self, c: Children) -> st.CutFromEdge:
        return cut_lines(c, self.at, self.whole)

    cut_middle = cut_off

    def strip_units(self, c: Children) -> st.StripUnitsClaim:
        counts = [part for part in c if type(part) is not Token]
        return st.StripUnitsClaim(counts[0], counts[1] if len(counts) > 1 else None, self.whole)

    def make(self, c: Children) -> st.CountClaim:
        counts = [part for part in c if type(part) is not Token]
        return st.CountClaim(counts[0], self.whole, counts[1] if len(counts) > 1 else None)

    def method(self, c: Children) -> st.MethodStatement:
        words: list[str] = []
        value: st.Expr | None = None
        for token in c:
            if token.type == "NAME":
                words.append(str(token))
                continue
            number = self.num([token])
            if number.unit is None and not words and len(c) > 1 and number.value in _COUNT_WORDS:
                words.append(_COUNT_WORDS[int(number.value)])  # "8 at a time"
            elif value is None:
                value = number
            else:
                raise trouble("said-twice", "A method takes one length.", self.at(token))
        return st.MethodStatement(" ".join(words), value, self.whole)

    def plain_patch(self, c: Children) -> tuple[str, None]:
        return "plain", None

    def darker_side(self, c: Children) -> tuple[str, None]:
        return "darker", None

    def named_side(self, c: Children) -> Any:
        """``the red fabric`` is the fabric red; ``the dark side`` is the darker one."""
        return ("darker", None) if c[0] == "dark" else c[0]

    def press_toward(self, c: Children) -> tuple[str, Token | None]:
        return ("toward", c[0]) if type(c[0]) is Token else cast("tuple[str, None]", c[0])

    def press_away(self, c: Children) -> tuple[str, Token]:
        return "away", c[0]

    def press_plain(self, c: Children) -> tuple[str, None]:
        return str(c[0]), None

    def press_rows(self, c: Children) -> tuple[str, None]:
        return "rows-alternately", None

    def press_versions(self, c: Children) -> tuple[str, None]:
        return "versions", None

    def press(self, c: Children) -> st.PressStatement:
        how, token = c[0]
        if token is None:
            return st.PressStatement(how, "", None, self.whole)
        return st.PressStatement(how, self.name(token), self.at(token), self.whole)

    def text(self, c: Children) -> st.Text:
        return st.Text(self.words_in(c[0]), self.at(c[0]))

    def clause(self, c: Children) -> list[Any]:
        return c

    def option(self, c: Children) -> st.Option:
        clauses = tuple(tuple(part) for part in c[1:] if type(part) is list)
        return st.Option(str(c[0]), self.at(c[0]), clauses, self.whole)

    # -- the quilt ------------------------------------------------------------------------------------------
    def across_down(self, c: Children) -> st.Across:
        c = [part for part in c if type(part) is not Token]
        return st.Across(c[0], c[1] if len(c) > 1 else None, self.whole)

    def down_across(self, c: Children) -> st.Across:
        c = [part for part in c if type(part) is not Token]
        return st.Across(c[1] if len(c) > 1 else None, c[0], self.whole)

    def finish(self, c: Children) -> st.Finish:
        return finish(c[0], [part for part in c[1:] if type(part) is list], self.here, self.name_again)

    def name_again(self, ref: st.Ref) -> str:
        """A name met as a value that turns out to be a piece; raises Trouble for a word of the language."""
        base = self.here.base
        return self.name(Token("NAME", ref.name, ref.span.start - base, 1, 1, 1, 1, ref.span.end - base))

    # -- sizes, colourways, parts ---------------------------------------------------------------------------
    def size_value(self, c: Children) -> tuple[st.Ref, st.Expr]:
        return st.Ref(str(c[0]), self.at(c[0])), c[1]

    def size_row(self, c: Children) -> st.SizeRow:
        title = next((self.words_in(t) for t in c[1:] if type(t) is Token and t.type == "TEXT"), "")
        values = tuple(v for v in c[1:] if type(v) is tuple)
        seen: set[str] = set()
        for ref, _ in values:
            if ref.name in seen:
                raise trouble("said-twice", f"`{ref.name}` is set twice in this row.", ref.span)
            seen.add(ref.name)
        return st.SizeRow(self.name(c[0]), self.at(c[0]), values, self.whole, title)

    def colourway_head(self, c: Children) -> st.ColourwayHead:
        return st.ColourwayHead(self.name(c[0]), self.at(c[0]), self.words_in(c[1]) if len(c) > 1 else "", self.whole)

    def swap(self, c: Children) -> st.Swap:
        self.name(c[0])
        self.name(c[1])
        return st.Swap(self.ref([c[0]]), self.ref([c[1]]), self.whole)

    def part_head(self, c: Children) -> st.PartHead:
        date = str(c[1]) if len(c) > 1 else ""
        if date and not real_date(date):
            raise trouble("odd-date", f"`{date}` is not a day of the calendar (year, month, day).", self.at(c[1]))
        return st.PartHead(self.words_in(c[0]), date, self.whole)

    def made(self, c: Children) -> tuple[st.Expr | None, st.Ref]:
        if c[-1] != "finishing":  # what a part may make besides units
            self.name(c[-1])
        return (c[0] if len(c) > 1 else None), self.ref([c[-1]])

    def makes(self, c: Children) -> st.Makes:
        return st.Makes(tuple(part for part in c if type(part) is tuple), self.whole)


def split(size: Any) -> tuple[Any, Any]:
    """Width and height of a size; the height is None when one length was written."""
    return (size.width, size.height) if type(size) is st.SizePair else (size, None)
