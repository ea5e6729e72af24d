"""What a control counts: exact pulses for each degree, cost of rounding, divisions of the turn."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

TURN = 360
ARCSEC_PER_TURN = 1_296_000


def pulses_per_degree(*, pulses_per_turn: int, ratio: Fraction) -> Fraction:
    """Pulses for one degree of the table, exact.

    Source: arithmetic. Formula: p i / 360. Inputs: pulses_per_turn p of the motor (full steps times
        microsteps); ratio i, motor turns for one turn of the table.
    Outputs: a fraction. Valid for: above zero. Raises: ValueError outside.

    >>> pulses_per_degree(pulses_per_turn=2000, ratio=Fraction(80))
    Fraction(4000, 9)
    """
    if pulses_per_turn < 1 or ratio <= 0:
        raise ValueError(f"pulses {pulses_per_turn}, ratio {ratio}: expected above zero")
    return pulses_per_turn * ratio / TURN


@dataclass(frozen=True, slots=True)
class Rounded:
    """The figure a control takes, and what it is out by.

    `pulses` are those missing (above zero: too few) after `turns` of the table, `angle` the same as
    an angle of the table in arc seconds; both exact.
    """

    typed: Fraction
    turns: int
    pulses: Fraction
    angle: Fraction


def rounded_setting(exact: Fraction, *, decimals: int, turns: int) -> Rounded:
    """What a setting rounded to so many decimals costs after so many turns.

    Source: arithmetic; a half goes to the even digit. Formula: (exact - typed) 360 turns pulses.
    Inputs: exact pulses for each degree; decimals the control keeps; turns of the table.
    Outputs: Rounded. Valid for: exact above zero, decimals 0 to 12. Raises: ValueError outside.

    >>> off = rounded_setting(Fraction(4000, 9), decimals=3, turns=100)
    >>> off.typed, off.pulses
    (Fraction(111111, 250), Fraction(16, 1))
    >>> round(float(off.angle), 1)
    129.6
    """
    if exact <= 0 or not 0 <= decimals <= 12 or turns < 1:
        raise ValueError(f"setting {exact}, {decimals} decimals, {turns} turns: out of range")
    return setting_error(exact, typed=round(exact, decimals), turns=turns)


def setting_error(exact: Fraction, *, typed: Fraction, turns: int) -> Rounded:
    """What a typed setting costs after so many turns of the table.

    Source: arithmetic. Formula: missing pulses (exact - typed) 360 turns; angle = pulses/exact.
    Inputs: exact and typed pulses for each degree; turns of the table. Outputs: Rounded.
    Valid for: exact above zero, typed zero or more. Raises: ValueError outside.

    >>> off = setting_error(Fraction(160, 9), typed=Fraction(18), turns=1)
    >>> float(off.angle) / 3600
    -4.5
    """
    if exact <= 0 or typed < 0 or turns < 1:
        raise ValueError(f"setting {exact}, typed {typed}, {turns} turns: out of range")
    pulses = (exact - typed) * TURN * turns
    return Rounded(typed, turns, pulses, pulses / exact * 3600)


def pulse_rate(*, per_degree: Fraction, rpm: float) -> float:
    """Pulses a second at a speed of the table.

    Source: arithmetic. Formula: p 6 n. Inputs: per_degree p; rpm n of the table. Outputs: [1/s].
    Valid for: speed of zero or more. Raises: ValueError outside.

    >>> round(pulse_rate(per_degree=Fraction(800), rpm=20 / 3), 3)
    32000.0
    """
    if rpm < 0:
        raise ValueError(f"speed: expected zero or more, got {rpm} rpm")
    return float(per_degree) * 6 * rpm


def rpm_of_pulse_rate(*, per_degree: Fraction, rate: float) -> float:
    """Table speed at a pulse rate.

    Source: arithmetic. Formula: rate / (6 p). Inputs: per_degree p; rate [1/s]. Outputs: [rpm].
    Valid for: above zero. Raises: ValueError outside.

    >>> round(rpm_of_pulse_rate(per_degree=Fraction(4000, 9), rate=30_000), 4)
    11.25
    """
    if per_degree <= 0 or rate <= 0:
        raise ValueError(f"pulses {per_degree}, rate {rate}: expected above zero")
    return rate / (6 * float(per_degree))


def most_pulses_per_turn(*, rate: float, rpm: float, ratio: float) -> float:
    """Most pulses in a motor turn with which a speed stays within a pulse rate.

    Source: arithmetic. Formula: 60 rate / (n i). Inputs: rate [1/s]; rpm n of the table; ratio i.
    Outputs: [1]. Valid for: above zero. Raises: ValueError outside.

    >>> most_pulses_per_turn(rate=30_000, rpm=25, ratio=80)
    900.0
    """
    if not (rate > 0 and rpm > 0 and ratio > 0):
        raise ValueError(f"rate {rate}, speed {rpm}, ratio {ratio}: expected above zero")
    return 60 * rate / (rpm * ratio)


@dataclass(frozen=True, slots=True)
class Division:
    """One turn divided: pulses from place to place, and the largest error of a place, arc seconds.

    The pulses of all places add up to one turn of whole pulses.
    """

    moves: tuple[int, ...]
    worst: Fraction

    @property
    def even(self) -> bool:
        """Whether all moves are alike."""
        return len(set(self.moves)) == 1


def divided_turn(*, pulses: int, divisions: int) -> Division:
    """A turn of whole pulses divided so that the remainders are spread and nothing is lost.

    Source: each place rounded from the start of the turn, never move by move.
    Formula: place k at round(k P/n); moves are the differences.
    Inputs: pulses P in a table turn; divisions n. Outputs: Division.
    Valid for: 2 <= n <= P. Raises: ValueError outside.

    >>> got = divided_turn(pulses=160_000, divisions=127)
    >>> sum(got.moves), sorted(set(got.moves))
    (160000, [1259, 1260])
    """
    if not 2 <= divisions <= pulses:
        raise ValueError(f"divisions: expected 2 to {pulses}, got {divisions}")
    exact = [Fraction(k * pulses, divisions) for k in range(divisions + 1)]
    places = [round(place) for place in exact]
    worst = max(abs(a - b) for a, b in zip(places, exact, strict=True))
    moves = tuple(b - a for a, b in pairwise(places))
    return Division(moves, worst * ARCSEC_PER_TURN / pulses)


def truncated_turn_error(*, pulses: int, divisions: int) -> int:
    """Pulses that one turn is short of when each move is cut down by itself.

    Source: arithmetic: what spreading the remainder avoids. Formula: P - n floor(P/n).
    Inputs: pulses P in a table turn; divisions n. Outputs: pulses.
    Valid for: 2 <= n <= P. Raises: ValueError outside.

    >>> truncated_turn_error(pulses=160_000, divisions=127)
    107
    """
    if not 2 <= divisions <= pulses:
        raise ValueError(f"divisions: expected 2 to {pulses}, got {divisions}")
    return pulses - divisions * (pulses // divisions)


def turns_of_counter(*, per_degree: Fraction, bits: int = 32) -> int:
    """Whole turns one way before a signed counter of a control is full.

    Source: arithmetic. Formula: floor((2^(bits-1) - 1) / (360 p)).
    Inputs: per_degree p; bits of the counter. Outputs: turns.
    Valid for: p above zero, 8 to 64 bits. Raises: ValueError outside.

    >>> turns_of_counter(per_degree=Fraction(800))
    7456
    """
    if per_degree <= 0 or not 8 <= bits <= 64:
        raise ValueError(f"pulses {per_degree}, {bits} bits: out of range")
    most = (1 << (bits - 1)) - 1
    return most * per_degree.denominator // (per_degree.numerator * TURN)
