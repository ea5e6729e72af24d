"""State of every kind and of every purpose, from the live, doubted and stale rows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wormwright.bench import Bench
from wormwright.job.kind import ReadingKind
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, Estimate
from wormwright.job.sheet import KINDS, PURPOSES, ROCKS, PurposeSet, Want
from wormwright.job.sheet_housing import ENDS
from wormwright.stages.measure.nouns import KindLine, PurposeLine, State

MAPS = frozenset({*ROCKS, "drag_in_mesh"})
"""Kinds read at many places, where a mean of all rows says little."""


def kind_lines(
    bench: Bench,
    everything: Sequence[Reading],
    stale: Mapping[int, str],
    doubts: Sequence[Doubt],
) -> tuple[KindLine, ...]:
    """One line for each kind of the sheet."""
    doubted = {seq for d in doubts if d.action != "warn" for seq in d.rows}
    return tuple(_line(bench, kind, everything, stale, doubted) for kind in KINDS.values())


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
    whole = kind.key not in MAPS and not kind.stations and kind.key not in _APART
    return KindLine(
        kind=kind.key,
        state=state,
        rows=rows,
        doubtful=doubtful,
        stale=dead,
        stations_missing=lacking if live else (),
        figure=_figure(bench, kind) if whole else None,
        span=(min(values), max(values)) if values and not whole else None,
        word=", ".join(dict.fromkeys(r.word for r in live if r.word)),
    )


_APART = frozenset({"thread_length", "worm_over_wires"})


def _figure(bench: Bench, kind: ReadingKind) -> Estimate | None:
    figure = bench.figure(kind.key)
    if figure is None:
        return None
    half = 1.96 * figure.u
    low, high = figure.value - half, figure.value + half
    return Estimate(figure.value, figure.u, low, high, kind.dimension, f"mean of {figure.n}")


def purpose_lines(bench: Bench, lines: Sequence[KindLine]) -> tuple[PurposeLine, ...]:
    """How far each purpose is served."""
    state = {line.kind: line.state for line in lines}
    return tuple(_purpose(bench, purpose, state) for purpose in PURPOSES)


def _purpose(bench: Bench, purpose: PurposeSet, state: Mapping[str, State]) -> PurposeLine:
    adjusting = bench.word("adjusting")
    missing: list[str] = []
    minutes = 0.0
    for want in purpose.wants:
        if want.only_for and adjusting not in want.only_for:
            continue
        got = max(_got(bench, kind, want) for kind in want.kinds)
        usable = any(state[kind] in ("done", "part", "doubtful") for kind in want.kinds)
        if got >= want.count and usable:
            continue
        missing.append(want.kinds[0])
        first = KINDS[want.kinds[0]]
        minutes += first.minutes * (1 - got / want.count)
    return PurposeLine(purpose.key, purpose.question, not missing, tuple(missing), minutes)


def _got(bench: Bench, kind: str, want: Want) -> float:
    """How much of a want is read: positions, ends of the worm, or readings."""
    rows = bench.of(kind)
    if want.positions:
        return len({round(r.table_angle, 2) for r in rows if r.table_angle is not None})
    if KINDS[kind].stations == ENDS:
        return want.count * len({r.station for r in rows} & set(ENDS)) / len(ENDS)
    return len(rows)
