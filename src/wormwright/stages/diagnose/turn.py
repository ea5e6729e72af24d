"""Round the turn: the map of lost motion, the runout vectors, and where the tight spot is."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from wormwright.job.findings import Posterior, TightSpot
from wormwright.job.pair import WormPair
from wormwright.job.result import Estimate
from wormwright.quantities import Dimension
from wormwright.stages.diagnose.fit import Fit
from wormwright.stages.diagnose.ranges import WEAR
from wormwright.stages.diagnose.rows import Row, axial_share

Array = NDArray[np.float64]

FEWEST_POSITIONS = 4
WIDEST_GAP = math.radians(125)
WIDEST_DOUBT = math.radians(60)


def estimate_of(draws: Array, dimension: Dimension, method: str) -> Estimate:
    """Mean, standard deviation and central 95 % interval of equally likely draws."""
    low, high = np.quantile(draws, [0.025, 0.975])
    return Estimate(
        float(draws.mean()), float(draws.std()), float(low), float(high), dimension, method
    )


def lost_motion_of(posterior: Posterior, pair: WormPair, *, drive: bool) -> Array:
    """Mean lost motion at the table by draw, rad; from the motor when `drive`."""
    total = sum(part for key, part in parts_of(posterior, pair).items() if drive or key != "drive")
    result: Array = np.asarray(total) / pair.r2
    return result


def parts_of(posterior: Posterior, pair: WormPair) -> dict[str, Array]:
    """What each play adds to the lost motion at r2, mm, by draw, for a pure couple."""
    return {
        "mesh": posterior.of("mesh"),
        "end_play": posterior.of("end_play"),
        "worm_float": posterior.of("worm_float") * posterior.of("worm_share"),
        "table_radial": posterior.of("table_radial") * posterior.of("table_share"),
        "table_axial": posterior.of("table_axial") * axial_share(pair) * pair.g,
        "wheel_joint": posterior.of("wheel_joint"),
        "drive": posterior.of("drive"),
    }


def distinct_positions(rows: list[Row]) -> Array:
    """Table angles at which a rock was read, sorted, each once (to a degree), rad."""
    degrees = {round(math.degrees(r.table_angle)) % 360 for r in rows if r.table_angle is not None}
    positions: Array = np.radians(np.array(sorted(degrees), float))
    return positions


def vector_of(
    posterior: Posterior, names: tuple[str, str], method: str
) -> tuple[Estimate, Estimate | None]:
    """Runout as TIR (mm) and the angle of the high side; the angle only when it is known."""
    x, y = posterior.of(names[0]), posterior.of(names[1])
    runout = estimate_of(2 * np.hypot(x, y), "length", method)
    return runout, _angle_of(x, y, method)


def _angle_of(x: Array, y: Array, method: str) -> Estimate | None:
    """Angle of a vector from its draws, or None when its 95 % half-width passes 60 degrees."""
    middle = math.atan2(float(y.mean()), float(x.mean()))
    off = np.angle(np.exp(1j * (np.arctan2(y, x) - middle)))
    low, high = np.quantile(off, [0.025, 0.975])
    if max(-low, high) > WIDEST_DOUBT:
        return None
    centre = middle % (2 * math.pi)
    return Estimate(
        centre, float(off.std()), centre + float(low), centre + float(high), "angle", method
    )


def tight_spot_of(posterior: Posterior, positions: Array) -> TightSpot:
    """The angle of least play, refused when positions are too few or the swing too small."""
    if len(positions) < FEWEST_POSITIONS:
        return TightSpot(
            None,
            f"{len(positions)} table positions cannot show a tight spot; "
            f"rock the table at {FEWEST_POSITIONS} or more, spread round the turn (12 is good).",
        )
    gaps = np.diff(np.append(positions, positions[0] + 2 * math.pi))
    if gaps.max() > WIDEST_GAP:
        return TightSpot(
            None,
            f"the positions leave {math.degrees(gaps.max()):.0f}° of the turn unread; "
            "read at least one position inside the gap.",
        )
    angle = _angle_of(
        -posterior.of("wheel_x"), -posterior.of("wheel_y"), "once-per-turn part of the map"
    )
    if angle is None:
        return TightSpot(
            None,
            "the play hardly changes round the turn against the noise of the readings; "
            "no tight spot can be named. More positions or a finer indicator would tell.",
        )
    return TightSpot(angle)


def map_round_the_turn(
    posterior: Posterior, pair: WormPair, angles: Array
) -> tuple[Array, Array, Array]:
    """Mean and 95 % band of the lost motion (worm held at the worm), rad, at each angle."""
    base = lost_motion_of(posterior, pair, drive=False)[:, None] * pair.r2
    swing = (
        2
        * pair.t
        * (
            posterior.of("wheel_x")[:, None] * np.cos(angles)
            + posterior.of("wheel_y")[:, None] * np.sin(angles)
        )
    )
    curve = (base + swing) / pair.r2
    low, high = np.quantile(curve, [0.025, 0.975], axis=0)
    return curve.mean(axis=0), low, high


def tight_and_loose(
    posterior: Posterior, pair: WormPair, *, wear: Array | float = 0.0
) -> tuple[Array, Array]:
    """Least and greatest lost motion round the turn (all worm phases), from the motor, rad.

    The greatest may fall in the worn sector.
    """
    mean = lost_motion_of(posterior, pair, drive=True)
    wheel = np.hypot(posterior.of("wheel_x"), posterior.of("wheel_y"))
    worm = np.hypot(posterior.of("worm_x"), posterior.of("worm_y"))
    swing = 2 * pair.t * (wheel + worm) / pair.r2
    floor = mean - posterior.of("mesh") / pair.r2
    return np.maximum(mean - swing, floor), mean + swing + np.maximum(wear, 0.0) / pair.r2


def wear_of(fit: Fit) -> Estimate | None:
    """Play that the used sector has more than the rest, mm at r2; None if none was marked.

    It is an unknown of the fit beside the wheel runout, so the once-per-turn part does not pass
    for wear and its doubt is inside.
    """
    if WEAR not in fit.names:
        return None
    return estimate_of(fit.of(WEAR), "length", "used sector against the rest, in the fit")
