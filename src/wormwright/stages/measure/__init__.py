"""measure: what do I read, how, and are my readings sound?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wormwright.bench import Bench, pair_doubts, pair_in_hand
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.job.rotary import Job
from wormwright.stages.measure.nouns import KindLine, PurposeLine, Sheet, State
from wormwright.stages.measure.report import report
from wormwright.stages.measure.state import kind_lines, minutes_for_all, purpose_lines
from wormwright.stages.measure.traps_blue import BLUE_TRAPS, blue_finding
from wormwright.stages.measure.traps_rock import ROCK_TRAPS, below_zero
from wormwright.stages.measure.traps_runout import RUNOUT_TRAPS
from wormwright.stages.measure.traps_series import BENCH_TRAPS, PAIR_TRAPS
from wormwright.stages.measure.traps_units import UNIT_TRAPS
from wormwright.stages.measure.traps_work import SINCE_TRAPS, WORK_TRAPS

__all__ = ["KindLine", "PurposeLine", "Sheet", "State", "doubts_of", "measure", "report"]

_ORDER = {"refuse": 0, "ask": 1, "warn": 2}


def measure(
    job: Job,
    readings: Sequence[Reading],
    *,
    all_readings: Sequence[Reading] = (),
    stale: Mapping[int, str] | None = None,
) -> Sheet:
    """The sheet as it stands: state of every kind, doubts, and which purposes are served.

    `readings` are the live ones. `all_readings` holds superseded and stale rows as well, `stale`
    the operation that made a row stale, by its running number.
    """
    bench = Bench(job, tuple(readings))
    everything = tuple(all_readings) or tuple(readings)
    doubts = doubts_of(bench, everything)
    refused = {seq for d in doubts if d.action == "refuse" for seq in d.rows}
    refused |= {r.seq for r in readings if below_zero(r)}
    usable = Bench(job, tuple(r for r in bench.readings if r.seq not in refused))
    return Sheet(
        job=job,
        lines=kind_lines(bench, everything, stale or {}, doubts),
        purposes=purpose_lines(usable),
        doubts=doubts,
        usable=usable.readings,
        kept_out=tuple(sorted(refused)),
        minutes_left=minutes_for_all(usable),
        blue=blue_finding(bench),
    )


def doubts_of(bench: Bench, everything: Sequence[Reading] = ()) -> tuple[Doubt, ...]:
    """Every trap met, refusals first; questions about rows already stood by are left out."""
    traps = (*UNIT_TRAPS, *ROCK_TRAPS, *RUNOUT_TRAPS, *BENCH_TRAPS, *BLUE_TRAPS, *WORK_TRAPS)
    found = [d for trap in traps for d in trap(bench)]
    found += [d for trap in SINCE_TRAPS for d in trap(bench, everything)]
    pair = pair_in_hand(bench)
    if pair is not None:
        found += [d for trap in PAIR_TRAPS for d in trap(bench, pair)]
        found += pair_doubts(bench)
    stood_by = _stood_by(bench.readings, everything)
    kept = [d for d in found if d.action != "ask" or not d.rows or not set(d.rows) <= stood_by]
    return tuple(sorted(kept, key=lambda d: (_ORDER[d.action], min(d.rows, default=0))))


def _stood_by(live: Sequence[Reading], everything: Sequence[Reading]) -> set[int]:
    """Rows that were confirmed, or replaced with the very same reading after a question."""
    earlier = {r.seq: r for r in everything}
    out = {r.seq for r in live if "confirmed" in r.flags}
    for reading in live:
        old = earlier.get(reading.supersedes or 0)
        if old is not None and _says(old) == _says(reading):
            out.add(reading.seq)
    return out


def _says(reading: Reading) -> tuple[object, ...]:
    return reading.value, reading.word, dict(reading.conditions)
