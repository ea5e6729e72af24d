"""What was read of the table, the blue and the oil of the example units."""

from __future__ import annotations

import math

import parts_read as parts
from simulated_rotary import Taker, rock

CLOSED = (*parts.EIGHT, 0.0)
"""Eight places and the first again."""


def runouts(
    taker: Taker,
    *,
    lean: parts.Wave,
    register: parts.Wave,
    radii: tuple[float, float],
    bar: tuple[parts.Wave, parts.Wave],
    at: tuple[float, float],
) -> None:
    """Face at two radii (lean in rad), bore, and a bar at two distances from the jaws.

    In a bore the needle stands highest opposite to where the bore stands off.
    """
    for radius in radii:
        face = parts.once((lean[0] * radius, lean[1]))
        parts.series(taker, "face_runout", face, places=CLOSED, radius=radius, surface="table face")
    bore = parts.once(register)
    parts.series(taker, "register_runout", bore, places=CLOSED, surface="bore")
    for wave, z in zip(bar, at, strict=True):
        parts.series(taker, "bar_runout", parts.once(wave), places=CLOSED, z=z, grip=1.0)


def blue(taker: Taker, sketch: str) -> None:
    """The same sketch on both flanks at three places, the worm crest dull."""
    for station in ("flank plus", "flank minus"):
        for phi in (0.0, 120.0, 240.0):
            taker.take(
                "blue_mark",
                word=sketch,
                station=station,
                phi=math.radians(phi),
                conditions={"crest": "dull", "film": "thin"},
            )


def loop(taker: Taker) -> None:
    """A rock loop at table angle 0 that agrees with the rocks of the same unit, and friction."""
    truth = taker.truth
    free = rock(truth, 0.0, 0.0, radius=80.0, torque=0.0, pins=1) / 80.0
    springing = truth.compliance / truth.r2**2
    parts.loop(taker, clearance=free, compliance=springing, friction=500.0, phi=0.0)


def router_table(taker: Taker) -> None:
    """The router axis: a little lean, a chuck off centre, an open mesh, grease, 12 K of rise."""
    taker.take("lubricant", word="plain grease")
    for station, word in (("table", "slight"), ("worm", "drags")):
        taker.take("turn_feel", word=word, station=station)
    parts.tilts(taker, play=1.0e-4, spring=2.5e-9, moments=(6000.0, 20000.0))
    runouts(
        taker,
        lean=(1.0e-4, math.radians(140)),
        register=(0.012, math.radians(240)),
        radii=(40.0, 70.0),
        bar=((0.036, math.radians(80)), (0.060, math.radians(110))),
        at=(20.0, 120.0),
    )
    parts.clamp(taker, "turning", 0.012, radius=80.0, order="A then B")
    parts.clamp(taker, "lift", 0.008, radius=70.0, order="A then B")
    blue(taker, "both edges")
    conditions: dict[str, float | str] = {"minutes": 30.0, "speed": 480.0}
    taker.take("temperature_rise", 12.0, station="housing", conditions=conditions)


def club_table(taker: Taker, *, oil: str) -> None:
    """The club table: a chuck on its plate, clamp shift, a rock loop."""
    taker.take("lubricant", word=oil)
    for station, word in (("table", "drags"), ("worm", "slight")):
        taker.take("turn_feel", word=word, station=station)
    runouts(
        taker,
        lean=(1.1e-4, math.radians(200)),
        register=(0.010, math.radians(300)),
        radii=(50.8, 95.25),
        bar=((0.0241, math.radians(79)), (0.0361, math.radians(111))),
        at=(25.4, 152.4),
    )
    parts.clamp(taker, "turning", 0.0102, radius=88.9, order="A then B")
    parts.tilts(taker, play=0.8e-4, spring=1.5e-9, moments=(8000.0, 25000.0))
    loop(taker)
    blue(taker, "centred patch")
