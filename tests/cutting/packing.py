"""The shortest cloth that a handful of pieces fit on in any way at all, found by trying; nothing is shared with the
planner."""

from __future__ import annotations

from patternkit.plan.cutting import PieceDemand

Single = tuple[int, int, bool]  # width, height, whether it may be turned


def shortest(pieces: list[PieceDemand], width: int) -> int:
    """Give the least length for pieces laid square to the cloth, cut by edge-to-edge cuts or not."""
    singles = tuple(
        sorted(((p.width, p.height, p.may_turn and not p.along) for p in pieces for _ in range(p.count)), reverse=True)
    )
    area = sum(w * h for w, h, _ in singles)
    length = -(-area // width)
    while not _fits((0,) * width, singles, length, area, set()):
        length += 1
    return length


def _fits(
    filled: tuple[int, ...], left: tuple[Single, ...], length: int, area: int, tried: set[tuple[object, object]]
) -> bool:
    """Fill the cloth from its top: the first free place is the corner of some piece, or is wasted.

    `filled` says how far each column is filled. Any packing can be pushed up and to the left, and its pieces then taken
    in the order of their corners, so that nothing is missed.
    """
    if not left:
        return True
    low = min(filled)
    if (filled, left) in tried or sum(length - f for f in filled) < area:
        return False
    tried.add((filled, left))
    at = filled.index(low)
    room = 0
    while at + room < len(filled) and filled[at + room] == low:
        room += 1
    for index, (w, h, turns) in enumerate(left):
        if index and left[index - 1] == left[index]:
            continue
        for across, along in {(w, h), (h, w)} if turns else {(w, h)}:
            if across <= room and low + along <= length:
                now = (*filled[:at], *[low + along] * across, *filled[at + across :])
                if _fits(now, left[:index] + left[index + 1 :], length, area - w * h, tried):
                    return True
    return _fits((*filled[:at], low + 1, *filled[at + 1 :]), left, length, area, tried)
