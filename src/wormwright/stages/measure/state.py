"""State of every kind and of every purpose, from the live, doubted and stale rows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wormwright.bench import Bench
from wormwright.job.kind import ReadingKind
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, Estimate
from wormwright.job.sheet import (
    KINDS,
    LATER_KINDS,
    PURPOSES,
    SERIES,
    PurposeSet,
    Want,
)
from wormwright.job.sheet_housing import ENDS
from wormwright.job.sheet_load import FEEL, FLANKS, feel_rank
from wormwright.stages.measure.nouns import KindLine, PurposeLine, State


def kind_lines(
    bench: Bench,
    everything: Sequence[Reading],
    stale: Mapping[int, str],
    doubts: Sequence[Doubt],
) -> tuple[KindLine, ...]:
    """One line for each kind of the sheet; what is read on the finished unit once it is read."""
    doubted = {seq for d in doubts if d.action != "warn" for seq in d.rows}
    lines = (_line(bench, kind, everything, stale, doubted) for kind in KINDS.values())
    return tuple(n for n in lines if n.kind not in LATER_KINDS or n.state != "missing")


def _line(
    bench: Bench,
    kind: ReadingKind,
    everything: Sequence[Reading],
    stale: Mapping[int, str],
    doubted: set[int],
) -> KindLine:
    live = bench.of(kind.key)
    rows = tuple(r.seq for r in live)
    dead = tuple((r.seq, stale[r.seq]) for r in everything if r.kind == kind.key and r.seq in stale)
    doubtful = tuple(seq for seq in rows if seq in doubted)
    read_at = {r.station for r in live}
    lacking = tuple(s for s in kind.stations if s not in read_at) if live else kind.stations
    state: State = "missing"
    if doubtful:
        state = "doubtful"
    elif live:
        state = "part" if lacking else "done"
    elif dead:
        state = "stale"
    values = [r.value for r in live if r.value is not None]
    apart = kind.key in _APART or kind.key in LATER_KINDS
    whole = kind.key not in SERIES and not kind.stations and not apart
    return KindLine(
        kind=kind.key,
        state=state,
        rows=rows,
        doubtful=doubtful,
        stale=dead,
        stations_missing=lacking if live else (),
        figure=_figure(bench, kind) if whole else None,
        span=(min(values), max(values)) if values and not whole else None,
        word=", ".join(_words(kind, live)),
    )


def _words(kind: ReadingKind, live: Sequence[Reading]) -> tuple[str, ...]:
    """Each word once, in order of reading; feel words with the worst first."""
    words = dict.fromkeys(r.word for r in live if r.word)
    if kind.choices == FEEL:
        return tuple(sorted(words, key=feel_rank, reverse=True))
    return tuple(words)


_APART = frozenset({"thread_length", "worm_over_wires"})


def _figure(bench: Bench, kind: ReadingKind) -> Estimate | None:
    figure = bench.figure(kind.key)
    if figure is None:
        return None
    half = 1.96 * figure.u
    low, high = figure.value - half, figure.value + half
    return Estimate(figure.value, figure.u, low, high, kind.dimension, f"mean of {figure.n}")


def purpose_lines(bench: Bench) -> tuple[PurposeLine, ...]:
    """How far each purpose is served by these readings; refused ones are left out by the caller."""
    return tuple(_purpose(bench, purpose) for purpose in PURPOSES)


def minutes_for_all(bench: Bench) -> float:
    """Bench time left for every purpose together: a reading that serves two is taken once."""
    left: dict[tuple[str, ...], float] = {}
    for purpose in PURPOSES:
        for want in _open_wants(bench, purpose):
            left[want.kinds] = max(_minutes(bench, want), left.get(want.kinds, 0.0))
    return sum(left.values())


def _purpose(bench: Bench, purpose: PurposeSet) -> PurposeLine:
    open_wants = _open_wants(bench, purpose)
    missing = tuple(want.kinds[0] for want in open_wants)
    minutes = sum(_minutes(bench, want) for want in open_wants)
    return PurposeLine(purpose.key, purpose.question, not missing, missing, minutes)


def _open_wants(bench: Bench, purpose: PurposeSet) -> tuple[Want, ...]:
    adjusting = bench.word("adjusting")
    return tuple(
        want
        for want in purpose.wants
        if (not want.only_for or adjusting in want.only_for) and _most(bench, want) < want.count
    )


def _minutes(bench: Bench, want: Want) -> float:
    return KINDS[want.kinds[0]].minutes * (1 - _most(bench, want) / want.count)


def _most(bench: Bench, want: Want) -> float:
    return max(_got(bench, kind, want) for kind in want.kinds)


def _got(bench: Bench, kind: str, want: Want) -> float:
    """How much of a want is read: positions, ends of the worm, or readings."""
    rows = bench.of(kind)
    if want.positions:
        return len({round(r.table_angle, 2) for r in rows if r.table_angle is not None})
    both = KINDS[kind].stations
    if both in (ENDS, FLANKS):
        return want.count * len({r.station for r in rows} & set(both)) / len(both)
    return len(rows)
