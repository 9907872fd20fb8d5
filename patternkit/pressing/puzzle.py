"""The pressing plan as a puzzle: sides to choose, joints that want two of them to agree or differ, and prices.

Every seam has one bit (1 for "left") that all copies share, and may be opened instead; what the writer fixed has no
bit. A unit that the writer accepts in two versions has one bit more for each place it is sewn into: there, all of its
seams lie the other way. A joint nests when the sum of its bits is what it wants and neither seam is open.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import msgspec

from patternkit.piecing.keys import Key
from patternkit.piecing.making import Making
from patternkit.piecing.reflect import beside
from patternkit.pressing.bits import Cost, ParityConstraint, PuzzleComponent, Slot
from patternkit.pressing.joints import Joint, JointTree, SeamEnd, find_joints
from patternkit.pressing.keeping import Kept, Wanted, wanted
from patternkit.pressing.looks import Looks
from patternkit.pressing.statements import belongs
from patternkit.source import Span


class PressOptions(msgspec.Struct, frozen=True):
    """What the planner may do. `versions`: keys of units that may be pressed in two versions, besides those whose
    making says so; `rows_either_way`: equal rows of the quilt may be pressed differently, as each is pressed by itself;
    `open_seams`: seams may be pressed open; `seconds`: the time the exact solver may take."""

    versions: frozenset[Key] = frozenset()
    rows_either_way: bool = True
    open_seams: bool = True
    seconds: float = 5.0


class Puzzle:
    """The puzzle of one tree. Seam numbers are bit numbers; the bits of slots follow them."""

    def __init__(
        self,
        top: Making,
        values: Mapping[str, str],
        options: PressOptions,
        kept: Kept | None = None,
        pins: Mapping[int, int | None] | None = None,
        tree: JointTree | None = None,
    ) -> None:
        self.tree = tree or JointTree(top)
        self.joints = find_joints(top, self.tree)
        self.options = options
        self.looks = Looks(values)
        self.seams = [(m, j) for m in self.tree.makings for j in range(len(m.seams))]
        self.number = {seam: n for n, seam in enumerate(self.seams)}
        self.fixed: list[str] = ["" if m.seams[j].pressed == "free" else m.seams[j].pressed for m, j in self.seams]
        self._owners()
        self.same = self._ties()
        self._sewn_at_once()
        self._pin(pins or {})
        self.edges: list[ParityConstraint] = []
        self.joints_of: dict[tuple[tuple[int, ...], int, int, int], list[Joint]] = {}
        self._edges()
        self.wishes: dict[int, list[tuple[int, int]]] = {}
        for n, (first, flip) in enumerate(self.same):
            if not self.fixed[n]:
                self.wishes.setdefault(first, []).append(self._wish(n, flip))
        self.wanted: dict[int, Wanted] = {}
        if kept is not None:
            self.wanted = wanted(kept, self.tree.makings, self.seams, self.fixed, self.same, self.slots)

    def _pin(self, pins: Mapping[int, int | None]) -> None:
        """Fix seams that the writer left free: the value of their bit, None for open."""
        for n, (first, flip) in enumerate(self.same):
            if first in pins:
                bit = pins[first]
                self.fixed[n] = "open" if bit is None else "left" if bit ^ flip else "right"

    def _ties(self) -> list[tuple[int, int]]:
        """For every seam the one whose bit it shares, and whether its own is the opposite.

        One mark of the text presses the seams of all makings made from it (of other fabrics, mirrored). Rows of the
        quilt are each pressed by themselves, whatever text they repeat.
        """
        top = self.tree.top
        found: dict[Span, tuple[int, int]] = {}
        own = {
            p.what
            for m in (top, *(p.what for p in top.parts))
            if isinstance(m, Making)
            for p in m.parts
            if isinstance(p.what, Making) and belongs(m, p.what) and self._whole(m)
        }
        same: list[tuple[int, int]] = []
        for n, (making, j) in enumerate(self.seams):
            seam = making.seams[j]
            if seam.mark is None or self.fixed[n] or making in own:
                same.append((n, 0))
                continue
            ahead = int(min(seam.left) < min(seam.right))  # "left" is toward the part written first
            first, other = found.setdefault(seam.mark, (n, ahead))
            same.append((first, ahead ^ other))
        return same

    def _sewn_at_once(self) -> None:
        """Tie seams that are pressed when they are one, or by the pile: those that a unit's recipe ties, and every seam
        of a unit with that of the mirror image that comes out of the same batch."""
        by_thing = {m.thing: m for m in self.tree.makings if m.recipe.mirrored}
        for making in self.tree.makings:
            for a, b, over in making.recipe.tied:
                self._tie(self.number[making, a], self.number[making, b], over)
            if making.recipe.apart is not None:  # a piece has the seams of the unit that it is cut from
                for j, (whole, a, over) in enumerate(making.recipe.apart.seams):
                    self._tie(self.number[whole, a], self.number[making, j], over)
            other = beside(making, by_thing)
            if other is not None:
                for j in range(len(making.seams)):
                    self._tie(self.number[making, j], self.number[other, j], False)

    def _tie(self, a: int, b: int, over: bool) -> None:
        """Let two seams be pressed to the same named side, or to opposite ones (`over`), unless the writer has pressed
        both."""
        if bool(self.fixed[a]) != bool(self.fixed[b]):
            done, other = (a, b) if self.fixed[a] else (b, a)
            sides = {"left": "right", "right": "left"}
            self.fixed[other] = sides.get(self.fixed[done], "open") if over else self.fixed[done]
        if self.fixed[a] or self.same[a][0] == self.same[b][0]:
            return
        (first, flip), (gone, turned) = self.same[a], self.same[b]
        for n, (of, own) in enumerate(self.same):
            if of == gone:
                self.same[n] = first, own ^ turned ^ flip ^ over

    def _whole(self, making: Making) -> bool:
        return making is self.tree.top or making.role in ("centre", "top", "quilt")

    # -- versions -------------------------------------------------------------------------------------------
    def _owners(self) -> None:
        """Which making's versions turn a making's seams over, and the bit of every place of such a making."""
        top, options = self.tree.top, self.options
        self.owner: dict[Making, Making] = {}
        uses: dict[Making, list[Slot]] = {}
        for making in self.tree.makings:
            for i, part in enumerate(making.parts):
                if isinstance(part.what, Making):
                    uses.setdefault(part.what, []).append(Slot(making, i, part.what))
        self.rows: set[Making] = set()
        self.home: dict[Making, Making] = {}  # the unit in which a row is written
        for making in reversed(self.tree.makings):
            slots = uses.get(making, [])
            if slots and all(belongs(s.parent, making) for s in slots):
                self.home[making] = self.home.get(slots[0].parent, slots[0].parent)
            outer = {self.owner.get(s.parent) for s in slots if belongs(s.parent, making)}
            if making.versions > 1 or making.key.plain in options.versions:
                self.owner[making] = making
            elif (
                options.rows_either_way
                and making.role == "row"
                and len(slots) > 1
                and all(s.parent is top or s.parent.role in ("centre", "top", "quilt") for s in slots)
            ):
                self.owner[making] = making
                self.rows.add(making)
            elif len(outer) == 1 and all(belongs(s.parent, making) for s in slots):
                found = outer.pop()
                if found is not None:
                    self.owner[making] = found
        self.slots: list[Slot] = []
        self.slot_bit: dict[tuple[Making, int], int] = {}
        self.slots_of: dict[Making, list[int]] = {}
        for making in self.tree.makings:
            if self.owner.get(making) is making:
                for slot in uses.get(making, []):
                    bit = len(self.seams) + len(self.slots)
                    self.slots.append(slot)
                    self.slot_bit[(slot.parent, slot.part)] = bit
                    self.slots_of.setdefault(making, []).append(bit)
        self.pinned = {bits[0] for bits in self.slots_of.values()}  # the first place shows the first version

    def _slot(self, joint: Joint, end: SeamEnd) -> int | None:
        """The slot bit that turns an end of a joint over; None when none does, or the joint's own making's does."""
        owner = self.owner.get(end.making)
        if owner is None or owner is self.owner.get(joint.making):
            return None
        making = joint.making
        for i in end.path:
            what = making.parts[i].what
            if what is owner:
                return self.slot_bit[(making, i)]
            assert isinstance(what, Making)
            making = what
        return None

    def _edges(self) -> None:
        """Joints as edges. A joint sewn inside a unit with versions meets a seam of the same version on its other side,
        or one that is turned over by the unit's own slot: then it stands once for each slot."""
        sums: dict[tuple[tuple[int, ...], int, int, int], int] = {}
        for joint in self.joints:
            weight = self.looks.weight(joint)
            own = self.owner.get(joint.making)
            inner = [own is not None and self.owner.get(e.making) is own for e in (joint.a, joint.b)]
            base = [self._slot(joint, e) for e in (joint.a, joint.b)]
            if inner[0] != inner[1] and own is not None:
                for bit in self.slots_of[own]:
                    slot = self.slots[bit - len(self.seams)]
                    count = joint.count * self.tree.counts[slot.parent] // self.tree.counts[own]
                    self._add(
                        joint,
                        [bit if i else s for i, s in zip(inner, base, strict=True)],
                        weight * count,
                        sums,
                    )
            else:
                self._add(joint, base, weight * joint.count, sums)
        self.edges = [ParityConstraint(*key, weight) for key, weight in sums.items()]

    def _add(
        self,
        joint: Joint,
        slots: list[int | None],
        weight: int,
        sums: dict[tuple[tuple[int, ...], int, int, int], int],
    ) -> None:
        want = 0 if joint.opposed else 1
        terms: set[int] = set()
        numbers = [self.number[(e.making, e.seam)] for e in (joint.a, joint.b)]
        for n, slot in zip(numbers, slots, strict=True):
            if self.fixed[n] in ("left", "right"):
                want ^= self.fixed[n] == "left"
            else:
                terms ^= {self.same[n][0]}
                want ^= self.same[n][1]
            if slot is not None and slot not in self.pinned:
                terms ^= {slot}
        if "open" in (self.fixed[numbers[0]], self.fixed[numbers[1]]):
            terms, want = set(), 0  # sides do not matter against an open seam
        numbers = sorted(self.same[n][0] for n in numbers)
        key = (tuple(sorted(terms)), int(want), numbers[0], numbers[1])
        sums[key] = sums.get(key, 0) + weight
        self.joints_of.setdefault(key, []).append(joint)

    def _wish(self, n: int, flip: int) -> tuple[int, int]:
        """The bit toward the dark and the bit toward fewer seams, -1 where there is no wish."""
        sides = (self.looks.darker(*self.seams[n]), self.looks.plainer(*self.seams[n]))
        dark, plain = (-1 if not s else int(s == "left") ^ flip for s in sides)
        return dark, plain

    # -- reading ------------------------------------------------------------------------------------------
    def can_open(self, n: int) -> bool:
        """Whether the planner may press a seam open: it is free, and not spun."""
        making, j = self.seams[n]
        return self.options.open_seams and not self.fixed[n] and making.seams[j].spun is None

    def components(self) -> list[PuzzleComponent]:
        """The puzzle in independent pieces, in the order of their first bits. All places of a unit that can have two
        versions belong together."""
        parent: dict[int, int] = {}

        def root(n: int) -> int:
            while parent.setdefault(n, n) != n:
                parent[n] = parent[parent[n]]
                n = parent[n]
            return n

        def join(bits: Iterable[int]) -> None:
            first = -1
            for n in bits:
                first = n if first < 0 else first
                a, b = root(first), root(n)
                parent[max(a, b)] = min(a, b)

        for n, fixed in enumerate(self.fixed):
            if not fixed and self.same[n][0] == n:
                root(n)
        for bits in self.slots_of.values():
            join(b for b in bits if b not in self.pinned)
        for edge in self.edges:
            join(self._touched(edge))
        edges: dict[int, list[ParityConstraint]] = {}
        for edge in self.edges:
            touched = self._touched(edge)
            if touched:
                edges.setdefault(root(touched[0]), []).append(edge)
        bits_of: dict[int, list[int]] = {}
        for n in sorted(parent):
            bits_of.setdefault(root(n), []).append(n)
        return [PuzzleComponent(tuple(bits), tuple(edges.get(r, ()))) for r, bits in sorted(bits_of.items())]

    def _touched(self, edge: ParityConstraint) -> list[int]:
        """All free bits on which an edge depends, by side or by being open."""
        return [*edge.terms, *(n for n in sorted({edge.a, edge.b} - set(edge.terms)) if not self.fixed[n])]

    def decided(self) -> list[ParityConstraint]:
        """Constraints that depend on nothing free."""
        return [e for e in self.edges if not self._touched(e)]

    def lost(self, edge: ParityConstraint, bits: Mapping[int, int], opened: frozenset[int] | set[int]) -> bool:
        """Whether an edge's joints do not nest under an assignment."""
        if edge.a in opened or edge.b in opened or "open" in (self.fixed[edge.a], self.fixed[edge.b]):
            return True
        total = edge.want
        for t in edge.terms:
            total ^= bits[t]
        return bool(total)

    def rough(self, edge: ParityConstraint, opened: frozenset[int] | set[int]) -> int:
        """How rough an edge is that does not nest: its weight for each seam that is not open."""
        return edge.weight * sum(n not in opened and self.fixed[n] != "open" for n in (edge.a, edge.b))

    def score(self, component: PuzzleComponent, bits: Mapping[int, int], opened: frozenset[int] | set[int]) -> Cost:
        """All levels of a component under an assignment, and how far it is from the plan it should keep to."""
        lost = [e for e in component.edges if self.lost(e, bits, opened)]
        used = {self.slots[b - len(self.seams)].what for b in component.bits if b >= len(self.seams) and bits[b]}
        mine = [n for n in component.bits if n < len(self.seams)]
        wishes = [(bits[n], *w) for n in mine if n not in opened for w in self.wishes[n]]
        return (
            sum(e.weight for e in lost),
            len(used - self.rows),
            sum(self.rough(e, opened) for e in lost),
            sum(n in opened for n in mine),
            sum(0 <= dark != b for b, dark, _ in wishes),
            sum(0 <= plain != b for b, _, plain in wishes),
            sum(self.wanted[n].apart(bits[n], n in opened) for n in component.bits if n in self.wanted),
        )
