"""Reading kinds: what can be read at the bench, how, and what it can and cannot tell."""

from __future__ import annotations

from dataclasses import dataclass

from wormwright.quantities import Dimension


@dataclass(frozen=True, slots=True)
class Condition:
    """Something that must be stated with a reading, such as the pin radius of a rock."""

    key: str
    label: str
    dimension: Dimension
    compulsory: bool = False
    choices: tuple[str, ...] = ()
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class ReadingKind:
    """One kind of reading. `dimension` "none" means the reading is a word from `choices` or text.

    `noise` is one standard deviation of a careful hobby reading, to which `noise_share` of the
    value itself is added in quadrature (torque readings); `low`..`high` is the range that is
    believable, `usual_low`..`usual_high` what an as-found import of the 6-8 in class shows; all
    in core units. `row` is the row of the baseline sheet. `sensitivity` says in one line of
    formula what the reading sees (symbols of docs/explanation/lost-motion.md). `swing` says that
    the value is the whole swing of the needle, so that it may be written as TIR; `signed` that it
    is a place about an arbitrary zero, where only differences mean anything.
    """

    key: str
    row: int
    label: str
    dimension: Dimension
    do: str
    set_up: str
    instrument: str
    noise: float | None
    low: float | None
    high: float | None
    usual_low: float | None
    usual_high: float | None
    tells: str
    cannot_tell: str
    sensitivity: str
    minutes: float
    repeats: int = 1
    choices: tuple[str, ...] = ()
    conditions: tuple[Condition, ...] = ()
    needs_table_angle: bool = False
    needs_worm_angle: bool = False
    stations: tuple[str, ...] = ()
    noise_share: float = 0.0
    swing: bool = False
    signed: bool = False
