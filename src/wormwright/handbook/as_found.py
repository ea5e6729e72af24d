"""What such units show as found, how far work at home reaches, and what it cannot cure.

Pure table. `usual` is the range of the trade for new and used geared tables of the 4 to 8 in class
(common practice without a single source); `far` is where a part is likelier bent, cracked or worn
out than out of adjustment (chosen here, twice the usual end or more). Lengths mm, angles rad,
torques N·mm.
"""

from __future__ import annotations

import math
from typing import Literal, NamedTuple

ARCMIN = math.radians(1 / 60)
THOU = 0.0254


class Limit(NamedTuple):
    """One row: what is judged, its usual range, its far limit, the cure, and where it is from."""

    label: str
    dimension: Literal["length", "angle", "torque", "ratio"]
    usual: tuple[float, float]
    far: float
    curable: bool
    cure: str
    source: str


_SEEN = "common practice, as found:"

LIMITS = {
    "lost_motion": Limit(
        "lost motion from the motor, mean round the turn",
        "angle",
        (3 * ARCMIN, 15 * ARCMIN),
        40 * ARCMIN,
        True,
        "take the causes in order: joint, end play, bearings, then the mesh",
        _SEEN + " 3 to 15 arcmin",
    ),
    "end_play": Limit(
        "worm end play",
        "length",
        (0.5 * THOU, 3 * THOU),
        10 * THOU,
        True,
        "shim the worm bearings or set the nut",
        _SEEN + " 0.5 to 3 thou",
    ),
    "worm_float": Limit(
        "worm radial float",
        "length",
        (0.2 * THOU, 2 * THOU),
        5 * THOU,
        True,
        "new worm bearings or bushes",
        _SEEN + " 0.2 to 2 thou",
    ),
    "table_radial": Limit(
        "table radial play",
        "length",
        (0.2 * THOU, 2 * THOU),
        5 * THOU,
        True,
        "set the table bearing before the mesh is touched",
        _SEEN + " 0.2 to 2 thou",
    ),
    "table_axial": Limit(
        "table axial play",
        "length",
        (0.2 * THOU, 2 * THOU),
        5 * THOU,
        True,
        "shim or set the retainer",
        _SEEN + " 0.2 to 2 thou",
    ),
    "wheel_joint": Limit(
        "play between wheel and table",
        "length",
        (0.0, 0.5 * THOU),
        5 * THOU,
        True,
        "tighten screws and pin; no closing of the mesh cures it",
        "common practice: a tight joint shows nothing",
    ),
    "wheel_runout": Limit(
        "wheel runout in the mesh (TIR)",
        "length",
        (0.0, 4 * THOU),
        10 * THOU,
        True,
        "true the wheel on its seat",
        "common practice without source",
    ),
    "worm_runout": Limit(
        "worm runout in the mesh (TIR)",
        "length",
        (0.0, 1.5 * THOU),
        4 * THOU,
        False,
        "first look for a camming thrust face; a bent shaft is not straightened at home",
        "common practice: 5 to 15 % of the rock",
    ),
    "pitch": Limit(
        "scatter of the teeth beyond the usual",
        "length",
        (0.0, 0.006),
        0.020,
        False,
        "none: it is cut into the wheel; map it and compensate, or replace the pair",
        "chosen here: three times the usual 2 µm",
    ),
    "face": Limit(
        "runout of a face (TIR)",
        "length",
        (0.3 * THOU, 1.5 * THOU),
        6 * THOU,
        True,
        "bearings first, then skim in place",
        _SEEN + " 0.3 to 1.5 thou",
    ),
    "register": Limit(
        "runout of a register (TIR)",
        "length",
        (0.2 * THOU, 2 * THOU),
        8 * THOU,
        True,
        "bearings first; then an adjustable spigot, or skim in place",
        _SEEN + " 0.2 to 2 thou",
    ),
    "bar": Limit(
        "runout of a bar (TIR)",
        "length",
        (2 * THOU, 5 * THOU),
        30 * THOU,
        True,
        "re-seat the chuck, clean the register; then an adjustable body or a wedge",
        "common practice: 2 to 5 thou on its plate",
    ),
    "clamp": Limit(
        "clamp shift, turning",
        "length",
        (2 * THOU / 10, 10 * THOU / 10),
        5 * THOU,
        True,
        "lock slowly, both screws in the same order, zero after locking; dress the brake shoe",
        "common practice: 2 to 10 tenths at the rim",
    ),
    "drag": Limit(
        "drag at the worm, in mesh",
        "torque",
        (100.0, 500.0),
        1500.0,
        True,
        "grease and preload first, then the mesh at the tight spot",
        "common practice: 0.1 to 0.5 N·m",
    ),
    "peak": Limit(
        "drag round the turn, peak over median",
        "ratio",
        (1.0, 2.0),
        4.0,
        True,
        "find the tick: burr, dirt or wheel runout; open the mesh meanwhile",
        "common practice: at most 2",
    ),
}

PITCH_ERROR = (
    "Pitch error of the wheel: cut into it. No shim or closing changes it; it can be mapped and "
    "compensated, or the pair replaced."
)
CRACKED_CASTING = (
    "A cracked casting: no reading here shows it. Look at the worm housing and the lock boss, and "
    "read the mesh again after tightening the case: play that moves with the screws is a bad sign."
)
BENT_SHAFT = (
    "A bent worm shaft: it shows once per worm turn. Straightening hardened or threaded shafts "
    "does not hold; a new worm is needed."
)
