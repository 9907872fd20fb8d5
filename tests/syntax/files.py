"""Random files for property tests: valid ones, and ones with damage."""

from __future__ import annotations

from hypothesis import strategies as some

from patternkit.syntax.words import KINDS

NAMES = some.sampled_from(["a", "night", "quay-stone", "bear's-paw", "b2", "side", "dark", "étoile"])
NUMBERS = some.sampled_from(
    ["3", "1 1/4", "1-1/4", "1¼", "½", "2.50", ".5", "12 in", '3½"', "4 cm", "1/8 yd", "2/8", "1 ¹⁄₄"]
)
MARKS = some.sampled_from(["|", ">", "<", "<>"])
SPACES = some.sampled_from([" ", "  ", "\u00a0", "\t"])


def _joined(draw: some.DrawFn, parts: list[str]) -> str:
    return "".join(part + (draw(SPACES) if i + 1 < len(parts) else "") for i, part in enumerate(parts))


@some.composite
def lengths(draw: some.DrawFn, deep: int = 2) -> str:
    """An expression."""
    form = draw(some.integers(0, 7 if deep else 2))
    if form < 2:
        return draw(NUMBERS)
    if form == 2:
        return draw(NAMES)
    left, right = draw(lengths(deep - 1)), draw(lengths(deep - 1))
    if form == 3:
        return f"({left})"
    if form == 4:
        return f"root({left})"
    if form == 5:
        return f"{left}{draw(some.sampled_from([' + ', ' - ', ' − ']))}{right}"
    return f"({left}){draw(some.sampled_from(['*', '/', ' / ', ' * ']))}{right}" if form == 6 else f"{left} / {right}"


@some.composite
def pieces(draw: some.DrawFn) -> str:
    """One piece of a row."""
    parts = [draw(NAMES)]
    if draw(some.booleans()):
        parts[0] += "(" + ", ".join(draw(some.lists(lengths(1), min_size=1, max_size=2))) + ")"
    if draw(some.booleans()):
        parts.append(
            draw(some.sampled_from(["", "cut "])) + draw(NUMBERS) + draw(some.sampled_from(["", " x 3", "x4"]))
        )
    parts += draw(some.lists(some.sampled_from(["turned 90", "mirrored"]), unique=True))
    return _joined(draw, parts)


@some.composite
def rows(draw: some.DrawFn, deep: int = 1) -> str:
    """A row of pieces."""
    parts: list[str] = []
    for _ in range(draw(some.integers(1, 4))):
        if deep and draw(some.integers(0, 4)) == 0:
            mark = draw(some.sampled_from(["", " |"]))
            parts += [f"({draw(rows(0))}{mark}) {draw(some.sampled_from(['3', 'side', '2']))} times"]
            parts += [] if mark else [draw(MARKS)]
        else:
            parts += [draw(pieces()), draw(some.sampled_from(["|", ">", "<", "<>", ","]))]
    if parts[-1] in ("|", ">", "<", "<>", ","):
        parts.pop()
    return _joined(draw, parts)


@some.composite
def comments(draw: some.DrawFn) -> str:
    """Nothing, or a comment at the end of a line."""
    return draw(some.sampled_from(["", "", "", " # why", "\t#", '   # a | b "c']))


@some.composite
def statements(draw: some.DrawFn) -> str:
    """A line of a unit."""
    size = draw(lengths()) + draw(some.sampled_from(["", " x 3", "×3½”"]))
    return draw(
        some.sampled_from(
            [
                f"finished {size}",
                f"Measures {size}",
                "make 4",
                "method 8 at a time",
                "press toward the night",
                "press rows alternately",
                f"{draw(some.sampled_from(KINDS))} {draw(rows())}",
                f"opting from 0 0 to {draw(NUMBERS)} night, 3 x 4 “t”",
                "flying geese night, glow",
                'note "a  b"',
                "note Sew  it",
                "note\n{}        one\n\n{}          two # three",
                f"cut {size}",
            ]
        )
    )


@some.composite
def files(draw: some.DrawFn) -> str:
    """A file that can be read."""
    step = draw(some.sampled_from(["    ", "\t", "  ", "   "]))
    end = draw(some.sampled_from(["\n", "\r\n", "\r"]))
    out: list[str] = []

    def put(depth: int, line: str) -> None:
        out.extend(draw(some.lists(some.sampled_from(["", "# alone", "        # deep", "  "]), max_size=1)))
        pad = step * depth
        out.append(pad + line.replace("{}", pad) + ("" if "note" in line else draw(comments())))

    for _ in range(draw(some.integers(1, 4))):
        form = draw(some.integers(0, 4))
        if form == 0:
            put(0, f"let a = {draw(lengths(3))}")
        elif form == 1:
            put(
                0,
                draw(
                    some.sampled_from(
                        ['fabric night "N" dark #1B2A49', "Fabric b2 #aabbcc directional “B 2”", "fabric a"]
                    )
                ),
            )
        elif form == 2:
            put(0, "quilt")
            put(
                1,
                draw(
                    some.sampled_from(
                        [
                            "across 5,down 7",
                            "border 1½ night,mitered",
                            "binding cut 2¼ night , bias",
                            "backing night wide 108, overage 4",
                            "usable 3",
                        ][:4]
                    )
                ),
            )
        elif form == 3:
            put(0, "sizes")
            put(1, "cot across 3, down 5")
            put(1, 'queen   "Q" across 9 down 11,side 8½')
        else:
            put(0, f"unit {draw(NAMES)}(a, b)")
            for line in draw(some.lists(statements(), min_size=1, max_size=3)):
                put(1, line)
            put(1, "rows")
            for line in draw(some.lists(some.one_of(rows(), MARKS), min_size=1, max_size=4)):
                put(2, line)
    out.extend(draw(some.lists(some.sampled_from(["", "# end"]), max_size=2)))
    return end.join(out) + draw(some.sampled_from(["", end]))
