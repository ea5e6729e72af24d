"""What a certificate must say of a test besides its figures: instruments, conditions, days."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class InstrumentUsed:
    """One instrument as it was named at the bench, and what was read with it."""

    name: str
    readings: tuple[str, ...]
    rows: int


@dataclass(frozen=True, slots=True)
class ProofRecord:
    """What the proof stands on: how many readings, when, with what, under which conditions."""

    rows: int
    first: str
    last: str
    instruments: tuple[InstrumentUsed, ...]
    conditions: tuple[tuple[str, str], ...]
