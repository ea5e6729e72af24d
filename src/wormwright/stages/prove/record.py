"""Instruments and conditions of the readings behind a proof, as they were written down."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wormwright.bench import Bench
from wormwright.job.kind import Condition
from wormwright.job.proof_record import InstrumentUsed, ProofRecord
from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS
from wormwright.quantities import Dimension, shown

NOT_NAMED = "not named"
STEPS: dict[Dimension, float] = {
    "count": 1.0,
    "length": 0.1,
    "torque": 10.0,
    "temperature": 0.1,
    "force": 0.1,
}
"""Place to which a condition is told."""
NOT_TOLD = frozenset(
    {"run", "turn", "cycle", "setup", "first_face", "approach", "branch", "stylus", "pin_radius_u"}
)
"""Conditions that sort the readings and say nothing of the day."""


def record_of(bench: Bench, rows: Sequence[Reading]) -> ProofRecord | None:
    """The record of these readings; None when there are none."""
    if not rows:
        return None
    days = sorted(r.when[:10] for r in rows if r.when)
    return ProofRecord(
        rows=len(rows),
        first=days[0] if days else "",
        last=days[-1] if days else "",
        instruments=tuple(_instruments(rows)),
        conditions=(*_temperatures(bench), *_conditions(bench, rows)),
    )


def _instruments(rows: Sequence[Reading]) -> Iterator[InstrumentUsed]:
    by_name: dict[str, list[Reading]] = {}
    for r in rows:
        by_name.setdefault(r.instrument.strip() or NOT_NAMED, []).append(r)
    for name in sorted(by_name, key=lambda n: (n == NOT_NAMED, n)):
        labels = tuple(dict.fromkeys(KINDS[r.kind].label for r in by_name[name]))
        yield InstrumentUsed(name, labels, len(by_name[name]))


def _temperatures(bench: Bench) -> Iterator[tuple[str, str]]:
    for station in ("room", "housing"):
        read = bench.figure("temperature", station)
        if read is not None:
            step, units = STEPS["temperature"], bench.job.units
            words = shown(read.value, "temperature", resolution=step, units=units)
            yield f"temperature, {station}", words


def _conditions(bench: Bench, rows: Sequence[Reading]) -> Iterator[tuple[str, str]]:
    """Every condition written with the readings: its words, or its least and largest figure."""
    known: dict[str, Condition] = {}
    for r in rows:
        known.update({c.key: c for c in KINDS[r.kind].conditions if c.key not in NOT_TOLD})
    for key, condition in known.items():
        said = [got for r in rows if (got := r.conditions.get(key)) is not None]
        if said:
            yield condition.label, _words(bench, condition, said)


def _words(bench: Bench, condition: Condition, said: Sequence[float | str]) -> str:
    words = list(dict.fromkeys(s for s in said if isinstance(s, str)))
    numbers = [abs(s) for s in said if isinstance(s, float)]
    if numbers:
        step = STEPS.get(condition.dimension, 0.01)
        ends = [
            shown(end, condition.dimension, resolution=step, units=bench.job.units)
            for end in (min(numbers), max(numbers))
        ]
        words.append(" to ".join(dict.fromkeys(ends)))
    return ", ".join(words)
