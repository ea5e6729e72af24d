"""Pooled figures of the live readings, each with its standard uncertainty."""

from __future__ import annotations

import math
import statistics
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from wormwright.handbook.instruments import Instrument, instruments
from wormwright.job.reading import Reading
from wormwright.job.rotary import Job
from wormwright.job.sheet import KINDS

PITCH_NOISE = 0.002
"""Pitch error of a cheap wheel at one place, one standard deviation at r2, mm (common practice)."""

TO_AND_FRO = frozenset(
    {
        "rock",
        "rock_pins",
        "worm_end_play",
        "worm_float",
        "drive_play",
        "table_radial_play",
        "table_axial_play",
        "tilt_under_moment",
        "wheel_joint_play",
    }
)
"""Kinds whose value is the difference of a push reading and a pull reading."""

FEW = 4
"""From so many repeats on their own scatter counts; below it the kind's usual noise does."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A pooled figure in core units: mean, standard uncertainty, repeats, degrees of freedom."""

    value: float
    u: float
    n: int
    dof: float
    seqs: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Bench:
    """The live readings of one job."""

    job: Job
    readings: tuple[Reading, ...]
    _usable: Mapping[str, tuple[Reading, ...]] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Sort the usable readings by kind once."""
        by_kind: dict[str, list[Reading]] = {}
        for r in sorted(self.readings, key=lambda r: r.seq):
            if "off scale" not in r.flags and not (r.value is None and r.word is None):
                by_kind.setdefault(r.kind, []).append(r)
        usable = {kind: tuple(rows) for kind, rows in by_kind.items()}
        object.__setattr__(self, "_usable", MappingProxyType(usable))

    def of(self, kind: str, station: str | None = None) -> tuple[Reading, ...]:
        """Usable readings of a kind, in order of their running number."""
        found = self._usable.get(kind, ())
        return found if station is None else tuple(r for r in found if r.station == station)

    def figure(self, kind: str, station: str | None = None) -> Figure | None:
        """Mean of the repeats of a kind with its uncertainty; None if it was not read."""
        readings = [r for r in self.of(kind, station) if r.value is not None]
        if not readings:
            return None
        values = [r.value for r in readings if r.value is not None]
        n = len(values)
        usual = math.sqrt(statistics.fmean(noise(r) ** 2 for r in readings))
        spread, dof = usual, math.inf
        if n >= FEW:
            spread, dof = max(statistics.stdev(values), usual / 2), n - 1.0
        scale = max(_scale_error(r) for r in readings)
        u_repeat = spread / math.sqrt(n)
        u = math.hypot(u_repeat, scale)
        if u_repeat > 0:
            dof *= (u / u_repeat) ** 4
        return Figure(statistics.fmean(values), u, n, dof, tuple(r.seq for r in readings))

    def word(self, kind: str, station: str | None = None) -> str | None:
        """The latest word read for a kind, or None."""
        words = [r.word for r in self.of(kind, station) if r.word is not None]
        return words[-1] if words else None


def noise(reading: Reading) -> float:
    """Standard uncertainty of one reading, in core units; 0 for counts and words.

    As typed, if a figure was typed. Else the kind's usual noise, or the class of the instrument
    where one is named and its error is larger: a finer instrument does not make the set-up finer.
    Doubled for a reading written with ~.
    """
    if reading.u is not None:
        return reading.u
    kind = KINDS[reading.kind]
    if kind.noise is None:
        return 0.0
    u = math.hypot(kind.noise, kind.noise_share * (reading.value or 0.0))
    named = named_instrument(reading)
    if named is not None:
        u = max(u, _class_error(named, reading))
    return u * (2.0 if "approximate" in reading.flags else 1.0)


def named_instrument(reading: Reading) -> Instrument | None:
    """The handbook's class of the instrument that the reading names, or None."""
    wanted = reading.instrument.strip().casefold()
    if not wanted:
        return None
    dimension = KINDS[reading.kind].dimension
    for row in instruments():
        if wanted in (row.name.casefold(), row.key.casefold()) and row.dimension == dimension:
            return row
    return None


def _class_error(instrument: Instrument, reading: Reading) -> float:
    kind, moved = KINDS[reading.kind], abs(reading.value or 0.0)
    if kind.swing or kind.signed:
        return instrument.u_of_difference(turned_back=kind.swing, moved=moved)
    half_width = instrument.read_half_width / math.sqrt(3)
    return math.hypot(half_width, (instrument.error_span + instrument.repeat_span) / math.sqrt(12))


def _scale_error(reading: Reading) -> float:
    """The part of an instrument's error that repeats do not average out."""
    named = named_instrument(reading)
    return 0.0 if named is None else named.span_over(reading.value or 0.0) / math.sqrt(12)
