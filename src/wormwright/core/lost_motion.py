"""Lost motion at the table, worm held: what each play adds, and what a pin really reads.

Frame: X along the worm axis, Y from the wheel centre to the worm, Z the table axis. A pin at
angle beta stands at R(-sin beta, cos beta): beta = 0 is the worm side. Plays are FULL to-and-fro
plays. All lost motion is circumferential at the wheel pitch radius r2, in mm.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray


class PlayShare(NamedTuple):
    """Lost motion at r2 per mm of table-shaft play: true rotation, and as one pin reads it."""

    rotation: float
    one_pin: float


def table_play_share(
    *,
    push_radius: float,
    push_angle: float,
    pin_radius: float,
    pin_angle: float,
    pitch_radius: float,
    tan_pressure: float,
) -> PlayShare:
    """Lost motion per mm of table-shaft radial play when one force pushes the table to and fro.

    Source: statics of the table (derived here; limits in tests/references/test_lost_motion.py).
    Formula: the shaft goes to the edge of its play disc in the direction of the net force
        F+- = F(+-(rho - cos beta), -+sin beta - rho t), rho = push_radius/r2;
        rotation = (D+x - D-x) - t (D+y + D-y), D+- = u+-/2 (unit vector of F+-);
        a pin adds (r2/R)[-(D+x - D-x) cos beta_p - (D+y - D-y) sin beta_p].
    Inputs: radii [mm], angles from the worm direction [rad], tan_pressure = tan of the axial
        pressure angle [1].
    Outputs: PlayShare of mm at r2 per mm of full play [1].
    Valid for: a push strong enough to slide the table (multiply by a share of 0..1 otherwise).
    Raises: ValueError for radii or tan_pressure that are not above zero.
    Example: a push far out at the worm side comes near the pure couple, sqrt(1 + t²):
        >>> far = table_play_share(push_radius=1e6, push_angle=0.0, pin_radius=80.0,
        ...     pin_angle=0.0, pitch_radius=50.0, tan_pressure=0.364)
        >>> round(far.rotation, 4), round(math.hypot(1, 0.364), 4)
        (1.0642, 1.0642)
    """
    for name, number in (
        ("push_radius", push_radius),
        ("pin_radius", pin_radius),
        ("pitch_radius", pitch_radius),
        ("tan_pressure", tan_pressure),
    ):
        if not number > 0:
            raise ValueError(f"{name} must be above zero, got {number}")
    rho = push_radius / pitch_radius
    fx = rho - math.cos(push_angle)
    plus_y = -math.sin(push_angle) - rho * tan_pressure
    minus_y = math.sin(push_angle) - rho * tan_pressure
    plus, minus = math.hypot(fx, plus_y), math.hypot(fx, minus_y)
    x_change = (fx / plus + fx / minus) / 2
    y_sum = (plus_y / plus + minus_y / minus) / 2
    y_change = (plus_y / plus - minus_y / minus) / 2
    rotation = x_change - tan_pressure * y_sum
    carried = -x_change * math.cos(pin_angle) - y_change * math.sin(pin_angle)
    return PlayShare(rotation, rotation + carried * pitch_radius / pin_radius)


def table_play_share_of_couple(tan_pressure: float) -> float:
    """Lost motion at r2 per mm of table-shaft play when a pure couple turns the table.

    Source: derived, limit of `table_play_share`; the two plays s_x and s_y share one disc.
    Formula: sqrt(1 + t²).
    Inputs: tan_pressure [1]. Outputs: mm at r2 per mm of play [1].
    Valid for: frictionless sliding, an upper bound. Raises: nothing.
    Example:
        >>> round(table_play_share_of_couple(0.36397), 4)
        1.0642
    """
    return math.hypot(1.0, tan_pressure)


def worm_float_share(
    *, tan_pressure: float, tan_lead: float, worm_radius: float, bearing_span: float
) -> float:
    """Lost motion at r2 per mm of radial float in both worm bearings, frictionless.

    Source: statics of the worm on two bearings (derived here). The thrust acts r1 off the worm
        axis and turns the worm over on its span; the separating and tangential forces are shared.
    Formula: |(t/2 - r1/span, g/2)| + |(t/2 + r1/span, g/2)|.
    Inputs: tangents [1], worm_radius and bearing_span [mm].
    Outputs: mm at r2 per mm of full radial float (the mean of the two bearings) [1].
    Valid for: worm between its bearings, wheel at mid-span.
    Raises: ValueError when the span is not above zero.
    Example: an endless span leaves the separating and tangential parts only:
        >>> round(worm_float_share(tan_pressure=0.364, tan_lead=0.0, worm_radius=11.0,
        ...     bearing_span=1e9), 4)
        0.364
    """
    if not bearing_span > 0:
        raise ValueError(f"bearing_span must be above zero, got {bearing_span}")
    lever = worm_radius / bearing_span
    near = math.hypot(tan_pressure / 2 - lever, tan_lead / 2)
    far = math.hypot(tan_pressure / 2 + lever, tan_lead / 2)
    return near + far


def mesh_backlash_round_the_turn(
    table_angle: ArrayLike,
    worm_angle: ArrayLike,
    *,
    mesh_mean: ArrayLike,
    wheel_x: ArrayLike,
    wheel_y: ArrayLike,
    worm_x: ArrayLike,
    worm_y: ArrayLike,
    tan_pressure: ArrayLike,
) -> NDArray[np.float64]:
    """Flank backlash at r2 round the turn, from the runout vectors of wheel and worm.

    Source: ../explanation/lost-motion; first order in the eccentricities (derived).
    Formula: j = mean + 2t[ex cos phi + ey sin phi + wx cos psi + wy sin psi].
    Inputs: angles [rad], plays and eccentricities (half of TIR) [mm], tan_pressure [1];
        all broadcast together.
    Outputs: backlash [mm].
    Valid for: eccentricities small against the module. Raises: nothing.
    Example: the wheel's high side opens, its low side closes the mesh:
        >>> import numpy as np
        >>> mesh_backlash_round_the_turn([0, np.pi], 0.0, mesh_mean=0.1, wheel_x=0.02,
        ...     wheel_y=0.0, worm_x=0.0, worm_y=0.0, tan_pressure=0.5).round(3).tolist()
        [0.12, 0.08]
    """
    phi, psi = np.asarray(table_angle, float), np.asarray(worm_angle, float)
    wheel = np.asarray(wheel_x) * np.cos(phi) + np.asarray(wheel_y) * np.sin(phi)
    worm = np.asarray(worm_x) * np.cos(psi) + np.asarray(worm_y) * np.sin(psi)
    result: NDArray[np.float64] = np.asarray(mesh_mean) + 2 * np.asarray(tan_pressure) * (
        wheel + worm
    )
    return result


def sliding_share_of_push(
    *, net_force: float, weight: float, friction: tuple[float, float] = (0.10, 0.20)
) -> tuple[float, float]:
    """Interval of the share (0..1) of its radial play that a table slides under a push.

    Source: common practice without source; Coulomb friction under the table's own weight.
    Formula: nothing slides below mu W; all of it slides at 2 mu W and more.
    Inputs: net_force on the shaft [N], weight of table and what stands on it [N], friction
        coefficient low and high [1].
    Outputs: (low, high) share [1].
    Valid for: table axis vertical. Raises: ValueError for negative forces.
    Example:
        >>> sliding_share_of_push(net_force=100.0, weight=80.0)
        (1.0, 1.0)
    """
    if net_force < 0 or weight < 0:
        raise ValueError(f"forces must not be negative, got {net_force} and {weight}")

    def share(mu: float) -> float:
        holding = mu * weight
        return 1.0 if holding == 0 else min(1.0, max(0.0, net_force / holding - 1.0))

    return share(max(friction)), share(min(friction))


def held_worm_locks(*, tan_lead: float, pressure_angle: float, friction: float = 0.06) -> bool:
    """Whether friction locks the held worm sideways, so that a rock cannot show axial play.

    Source: self-locking condition of a screw, lead angle below the friction angle
        (Shigley, Mechanical Engineering Design, ch. 13; from memory).
    Formula: tan(gamma) < mu/cos(alpha).
    Inputs: tan_lead [1], pressure_angle [rad], friction, the lowest believable [1].
    Outputs: True when locked.
    Valid for: a table at rest; never to be relied on as a brake. Raises: nothing.
    Example:
        >>> import math
        >>> held_worm_locks(tan_lead=math.tan(math.radians(3.25)), pressure_angle=0.35)
        True
    """
    return tan_lead < friction / math.cos(pressure_angle)
