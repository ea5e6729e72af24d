"""What to read next: each candidate's row tried on the draws, without taking the reading."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.bench import PITCH_NOISE
from wormwright.core.lost_motion import table_play_share_of_couple
from wormwright.job.findings import NextReading
from wormwright.job.pair import WormPair
from wormwright.job.sheet import KINDS
from wormwright.stages.diagnose.duty import Felt
from wormwright.stages.diagnose.fit import Fit
from wormwright.stages.diagnose.rows import Row, rock_sees

Array = NDArray[np.float64]

WORTH_TAKING = 0.005
"""A reading that narrows neither doubt by this much is not listed."""

AS_GOOD = 0.05
"""Of readings within this gain of each other the shortest comes first."""

DECIDED = 0.02
"""A duty that is met or missed in all but this share of cases needs no further reading."""

ROCK_RADIUS_OF_PITCH = 1.5
"""Pin radius taken for a rock not yet made, in pitch radii."""

PLACES_OF_A_MAP = 6
"""Fewest places that show the wheel runout and the tight spot with something to spare."""

MINUTES_A_PLACE = 3.0
"""Minutes for each further place once the rock is set up."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """A reading or series that could be taken: what it would show, (draws, figures), mm at r2.

    `u` is the noise of each figure, mm at r2.
    """

    kind: str
    label: str
    seen: Array
    u: tuple[float, ...]
    minutes: float
    tells: str


def next_readings_of(
    fit: Fit, rows: list[Row], pair: WormPair, *, worm_share: float, felt: Felt
) -> tuple[NextReading, ...]:
    """Candidates by how much they narrow what is decided, most useful first.

    Update of least squares: figures s of noise u take c·(S + U)⁻¹·c off the variance of q, with c
    the covariances of q with s, S that of s and U the squares of u. The two q are the closing that
    shuts the mesh at the tight spot, and what the duty feels; the second counts only while it is
    not settled whether the duty is met.
    """
    tight = 2 * pair.t * _swing(fit)
    closing = np.maximum(fit.of("mesh") - tight, 0.0) / (2 * pair.t)
    open_duty = DECIDED < felt.chance < 1 - DECIDED
    taken = {r.kind for r in rows if not r.is_rock}
    out = [
        NextReading(
            c.kind,
            f"{c.label}, once more" if c.kind in taken else c.label,
            c.minutes,
            _left(closing, c),
            _left(felt.draws, c) if open_duty else 1.0,
            c.tells,
        )
        for c in _candidates(fit, rows, pair, worm_share)
    ]
    worth = [n for n in out if n.gain > WORTH_TAKING]
    return tuple(sorted(worth, key=lambda n: (-round(n.gain / AS_GOOD), n.minutes)))


def _left(wanted: Array, one: Candidate) -> float:
    """Doubt of `wanted` after the reading, as a share of the doubt before."""
    both = np.cov(np.column_stack([wanted, one.seen]), rowvar=False)
    own, shared, seen = both[0, 0], both[1:, 0], both[1:, 1:]
    if own <= 0 or not seen.any():
        return 1.0
    taken = float(shared @ np.linalg.solve(seen + np.diag(np.square(one.u)), shared))
    return math.sqrt(min(1.0, max(0.0, 1.0 - taken / own)))


def _swing(fit: Fit) -> Array:
    wheel = np.hypot(fit.of("wheel_x"), fit.of("wheel_y"))
    swing: Array = wheel + np.hypot(fit.of("worm_x"), fit.of("worm_y"))
    return swing


def _candidates(
    fit: Fit, rows: list[Row], pair: WormPair, worm_share: float
) -> Iterator[Candidate]:
    for play, kind, to_r2 in (
        ("end_play", "worm_end_play", 1.0),
        ("worm_float", "worm_float", 1.0),
        ("table_radial", "table_radial_play", 1.0),
        ("table_axial", "table_axial_play", 1.0),
        ("wheel_joint", "wheel_joint_play", 1.0),
        ("drive", "drive_play", pair.r2 / pair.ratio),
    ):
        yield _of_kind(kind, fit.of(play), to_r2)
    for kind, names in (
        ("wheel_runout", ("wheel_x", "wheel_y")),
        ("worm_runout", ("worm_x", "worm_y")),
    ):
        if kind in KINDS:
            yield _of_kind(kind, 2 * np.hypot(fit.of(names[0]), fit.of(names[1])), 1.0)
    yield from _rocks(fit, rows, pair, worm_share)


def _of_kind(kind: str, seen: Array, to_r2: float) -> Candidate:
    entry = KINDS[kind]
    u = (entry.noise or 0.0) * to_r2 / math.sqrt(entry.repeats)
    return Candidate(kind, entry.label, seen[:, None], (u,), entry.minutes, entry.tells)


@dataclass(frozen=True, slots=True)
class _Rock:
    """Rocks not yet made, tried on the draws."""

    fit: Fit
    pair: WormPair
    worm_share: float

    def seen(self, kind: str, phi: float, psi: float, torque: float) -> Array:
        """What the rock would show by draw, mm at r2."""
        sees = rock_sees(self.pair, phi, psi, torque=torque, driven=False)
        share = table_play_share_of_couple(self.pair.t)
        row = Row(kind, (), 0.0, 1.0, sees, table_share=share, worm_share=self.worm_share)
        return self.fit.seen_by(row)

    def one(self, kind: str, phi: float, torque: float, words: tuple[str, str]) -> Candidate:
        """One rock at a table angle, the worm at its mark."""
        seen, minutes = self.seen(kind, phi, 0.0, torque), KINDS[kind].minutes
        return Candidate(kind, words[0], seen[:, None], (_rock_u(kind),), minutes, words[1])

    def round_the_table(self, places: int, torque: float) -> Candidate:
        """Rocks at even places round the turn: their mean, and the size of the wheel runout."""
        turn = 2 * math.pi / places
        rocks = [self.seen("rock", k * turn, 0.0, torque) for k in range(places)]
        return self._turned(rocks, KINDS["rock"].minutes + (places - 1) * MINUTES_A_PLACE, _ROUND)

    def round_the_worm(self, phi: float, torque: float) -> Candidate:
        """Four rocks within one worm turn: their mean, and the size of the worm runout."""
        rocks = [self.seen("rock", phi, k * math.pi / 2, torque) for k in range(4)]
        return self._turned(rocks, KINDS["rock"].minutes + 3 * MINUTES_A_PLACE, _TURNED)

    def _turned(self, rocks: list[Array], minutes: float, words: tuple[str, str]) -> Candidate:
        """Rocks at even angles of one turn as mean and once-per-turn amplitude."""
        n = len(rocks)
        waves = np.exp(2j * np.pi * np.arange(n) / n)
        mean = np.mean(rocks, axis=0)
        swing = np.abs(waves @ np.array(rocks)) * 2 / n
        u = _rock_u("rock")
        seen = np.column_stack([mean, swing])
        return Candidate(
            "rock", words[0], seen, (u / math.sqrt(n), u * math.sqrt(2 / n)), minutes, words[1]
        )


def _rock_u(kind: str) -> float:
    return math.hypot((KINDS[kind].noise or 0.0) / ROCK_RADIUS_OF_PITCH, PITCH_NOISE)


def _rocks(fit: Fit, rows: list[Row], pair: WormPair, worm_share: float) -> Iterator[Candidate]:
    """Rocks that could be made: at unread places, at a softer torque, with the worm turned."""
    rocks = [r for r in rows if r.is_rock]
    read = [r.table_angle for r in rocks if r.table_angle is not None]
    torque = max(r.torque for r in rocks)
    place, again = _widest_gap(read), read[-1] if read else 0.0
    rock = _Rock(fit, pair, worm_share)
    yield rock.one("rock_pins", place, torque, _unread(place))
    yield rock.one("rock", again, torque / 3, _SOFTER)
    yield rock.round_the_table(PLACES_OF_A_MAP, torque)
    yield rock.round_the_worm(again, torque)


def _unread(place: float) -> tuple[str, str]:
    return (
        f"Table rock on two opposite pins at {math.degrees(place):.0f}°",
        "the true rotation at a place not yet read",
    )


_SOFTER = (
    "Table rock again at a third of the torque",
    "how much of the rock is springing, by going back to no torque",
)
_ROUND = (
    "Table rock at six even places round the turn, at whole worm turns",
    "wheel runout and the tight spot, where the mesh must be set",
)
_TURNED = (
    "Table rock at four worm angles within one worm turn",
    "worm runout, and with it the tightest worm angle",
)


def _widest_gap(read: list[float]) -> float:
    """Middle of the widest gap of the turn without a rock, rad."""
    if not read:
        return 0.0
    turn = 2 * math.pi
    places = sorted({a % turn for a in read})
    gaps = [(b - a, a) for a, b in zip(places, [*places[1:], places[0] + turn], strict=True)]
    width, start = max(gaps)
    return (start + width / 2) % turn
