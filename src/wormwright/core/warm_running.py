"""How warm a rotary gets that keeps turning, and for how long it may."""

from __future__ import annotations

import math

from wormwright.core.friction import Interval
from wormwright.core.refused_input import above_zero, not_below_zero

FILM = Interval(6.0, 14.0)
"""Heat given off to still air by convection and radiation, W/(m² K) (common practice)."""


def steady_rise(*, heat: float, area: float, film: Interval = FILM) -> Interval:
    """Rise of a housing above the shop when it has stopped getting warmer.

    Source: energy balance with a film coefficient between two ends. Formula: P/(h A).
    Inputs: heat P [W]; area A that air reaches [mm²]; film h [W/(m² K)]. Outputs: Interval [K].
    Valid for: still air, no plate that carries heat away: on a machine it stays cooler.
    Raises: ValueError for figures not above zero.

    >>> rise = steady_rise(heat=10, area=90_000)
    >>> round(rise.low, 1), round(rise.high, 1)
    (7.9, 18.5)
    """
    not_below_zero(heat=heat)
    above_zero(area=area, film_low=film.low)
    return Interval(heat / (film.high * area / 1e6), heat / (film.low * area / 1e6))


def steady_rise_of_run(*, rise: float, minutes: float, time_constant: float) -> float:
    """Rise that a run would have come to, from the rise after some minutes of it.

    Source: one heat capacity, one way out. Formula: dT / (1 - exp(-t/tau)).
    Inputs: rise dT read after minutes t [K, min]; time_constant tau [min]. Outputs: [K].
    Valid for: started at shop temperature. Raises: ValueError outside.

    >>> round(steady_rise_of_run(rise=12, minutes=30, time_constant=45), 1)
    24.7
    """
    not_below_zero(rise=rise)
    above_zero(minutes=minutes, time_constant=time_constant)
    return rise / -math.expm1(-minutes / time_constant)


def rise_at_speed(*, rise: float, at: float, rpm: float) -> float:
    """Rise at another speed of the same unit.

    Source: drag of a greased worm taken as steady over the speed. Formula: dT n/n0.
    Inputs: rise dT at speed n0 `at` [K, rpm]; rpm n. Outputs: [K].
    Valid for: up to three times the speed it was read at. Raises: ValueError outside.

    >>> rise_at_speed(rise=10, at=5, rpm=10)
    20.0
    """
    not_below_zero(rise=rise, rpm=rpm)
    above_zero(at=at)
    if rpm > 3 * at:
        raise ValueError(f"speed {rpm} rpm: expected up to three times {at} rpm; read it faster")
    return rise * rpm / at


def run_minutes(*, allowed: float, steady: float, time_constant: float) -> float:
    """How long a cold unit may run before it reaches an allowed rise.

    Source: as `steady_rise_of_run`. Formula: -tau ln(1 - allowed/steady); inf when it never does.
    Inputs: allowed rise, steady rise [K]; time_constant tau [min]. Outputs: [min].
    Valid for: above zero. Raises: ValueError outside.

    >>> round(run_minutes(allowed=20, steady=40, time_constant=45), 1)
    31.2
    """
    above_zero(allowed=allowed, time_constant=time_constant)
    not_below_zero(steady=steady)
    if steady <= allowed:
        return math.inf
    return -time_constant * math.log1p(-allowed / steady)


def duty_share(*, allowed: float, steady: float) -> float:
    """Share of the time that it may turn, in short spells, so as to stay at an allowed rise.

    Source: mean heat. Formula: allowed/steady, at most 1. Inputs: both [K]. Outputs: [1].
    Valid for: spells short against the time constant. Raises: ValueError outside.

    >>> duty_share(allowed=20, steady=50)
    0.4
    """
    above_zero(allowed=allowed)
    not_below_zero(steady=steady)
    return 1.0 if steady <= allowed else allowed / steady
