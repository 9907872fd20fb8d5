"""A batch carried out on simulated cloth: what lies on the table after each action, and what comes out."""

from __future__ import annotations

import msgspec

from patternkit.piecing.batch import (
    Action,
    Batch,
    CloseTube,
    CutAcross,
    CutApart,
    CutMeasured,
    CutOut,
    Discard,
    Field,
    Join,
    Lay,
    LayOn,
    LayStrip,
    Measure,
    Mitre,
    Open,
    OpenRing,
    Sew,
    Snip,
    TearAway,
    TrimBand,
    TrimBeyond,
    TrimTo,
)
from patternkit.piecing.batch import Cut as CutLines
from patternkit.rehearsal import (
    cut_apart,
    joining,
    laying,
    laying_on,
    measuring,
    mitres,
    papers,
    strip_unit,
    trimming,
    tubes,
)
from patternkit.rehearsal.bands import trim_band
from patternkit.rehearsal.bench import Bench, Workroom
from patternkit.rehearsal.gaps import Gap, Slip
from patternkit.rehearsal.table import OnTable, State


class Performance(msgspec.Struct):
    """What came of a batch: the states of the table, and what went wrong; `broken` where it could not go on."""

    states: list[State]
    gaps: list[Gap]
    broken: bool = False

    @property
    def hands(self) -> tuple[OnTable, ...]:
        """What lies on the table in the end."""
        return self.states[-1].hands


def _do(bench: Bench, action: Action) -> None:
    """Carry out one action."""
    if isinstance(action, Join):
        joining.join(bench, action)
    elif isinstance(action, Mitre):
        mitres.mitre(bench, action)
    elif isinstance(action, Lay):
        laying.lay(bench, action)
    elif isinstance(action, Sew):
        laying.sew(bench, action)
    elif isinstance(action, CutLines):
        laying.cut(bench, action)
    elif isinstance(action, Snip):
        laying.snip(bench, action)
    elif isinstance(action, Discard):
        laying.discard(bench, action)
    elif isinstance(action, Open):
        laying.open_up(bench, action)
    elif isinstance(action, CutAcross):
        strip_unit.cut_across(bench, action)
    elif isinstance(action, CloseTube):
        tubes.close_tube(bench, action)
    elif isinstance(action, OpenRing):
        tubes.open_ring(bench, action)
    elif isinstance(action, CutApart):
        cut_apart.cut_apart(bench, action)
    elif isinstance(action, CutMeasured):
        trimming.cut_measured(bench, action)
    elif isinstance(action, CutOut):
        strip_unit.cut_out(bench, action)
    elif isinstance(action, TrimTo):
        trimming.trim_to(bench, action)
    elif isinstance(action, TrimBand):
        trim_band(bench, action)
    elif isinstance(action, TrimBeyond):
        trimming.trim_beyond(bench, action)
    elif isinstance(action, Measure):
        measuring.measure(bench, action)
    elif isinstance(action, Field):
        papers.field(bench, action)
    elif isinstance(action, LayOn):
        laying_on.lay_on(bench, action)
    elif isinstance(action, LayStrip):
        laying_on.lay_strip(bench, action)
    else:
        assert isinstance(action, TearAway)
        papers.tear_away(bench, action)


def perform(batch: Batch, room: Workroom) -> Performance:
    """Carry out a batch once.

    The states begin with what is taken. Where an action can't be done the performance is `broken` and ends with the
    gap; other gaps are noted and the sewing goes on.
    """
    try:
        bench = Bench(batch, room)
    except Slip as wrong:
        return Performance([State(-1, -1, ())], [wrong.gap], True)
    states = [State(-1, -1, tuple(bench.hands))]
    for p, passage in enumerate(batch.passages):
        for a, action in enumerate(passage.actions):
            bench.lines, before, bench.now = [], len(bench.gaps), (p, a)
            try:
                _do(bench, action)
            except Slip as wrong:
                gap = wrong.gap
                if gap.action is None:
                    gap = msgspec.structs.replace(gap, passage=p, action=a)
                return Performance(states, [*bench.gaps, gap], True)
            for n in range(before, len(bench.gaps)):
                bench.gaps[n] = msgspec.structs.replace(bench.gaps[n], passage=p, action=a)
            states.append(State(p, a, tuple(bench.hands), tuple(bench.lines)))
    if any(h.tube is not None and not h.rest and not h.waste for h in bench.hands):
        bench.gaps.append(Gap("ring"))
    for paper, parts in bench.covered.items():
        if parts and paper not in bench.trimmed:
            bench.gaps.append(Gap("untrimmed", item=bench.item(parts[0])))
    return Performance(states, bench.gaps)
