"""The belief in each wheel kind: what was seen of the face, then what known settings told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import cast

from wormwright.bench.figures import Bench, noise
from wormwright.job.pair import KindTold, WheelKind, WormPair
from wormwright.job.result import Doubt, Estimate

CLOSING_U = 0.003
"""How well a closing is known by indicators on both ends of the worm, mm."""
TOLD = 0.8
"""A kind believed this much is told."""
LEAST_EXCESS = 0.01
"""Least radius excess of an oversize hob, as a share of the worm radius."""


def told_by_settings(bench: Bench, pair: WormPair) -> WormPair:
    """The pair with its beliefs after the rocks at known settings, if there are enough of them."""
    rows = [r for r in bench.of("setting_rock") if r.value is not None]
    places = {r.number("closing") for r in rows} - {None}
    if not rows or len(pair.kinds) == 1:
        return pair
    if len(places) < 3:
        return replace(pair, doubts=(*pair.doubts, _too_few(len(places))))
    import numpy as np  # noqa: PLC0415  (late: only a sheet with settings needs them)

    from wormwright.core.wheel_kind import (  # noqa: PLC0415
        KnownPair,
        Settings,
        belief_after_settings,
    )

    scale = [pair.r2 / (r.number("pin_radius") or pair.r2) for r in rows]
    told = belief_after_settings(
        Settings(
            closing=np.array([r.number("closing") or 0.0 for r in rows]),
            rock=np.array([(r.value or 0.0) * s for r, s in zip(rows, scale, strict=True)]),
            rock_u=np.array([noise(r) * s for r, s in zip(rows, scale, strict=True)]),
            closing_u=CLOSING_U,
        ),
        KnownPair(
            angle=pair.pressure_angle,
            angle_u=pair.pressure_angle_u,
            g=pair.g,
            r1=pair.r1,
            face=min(pair.bearing_face, 1.98 * pair.r1),
            excess=(LEAST_EXCESS * pair.r1, max(pair.hob_excess_max, LEAST_EXCESS * pair.r1)),
        ),
        before={str(kind): p for kind, p in pair.kinds},
    )
    kinds = cast("Mapping[WheelKind, float]", told.kinds)
    slope = Estimate.normal(told.slope, told.slope_u, "ratio", "line by weights")
    said = KindTold(slope, tuple(told.expected.items()), len(rows))  # type: ignore[arg-type]
    found = tuple((kind, kinds[kind]) for kind, _ in pair.kinds)
    doubts = pair.doubts
    if max(p for _, p in found) < TOLD:
        doubts = (*doubts, _cannot_tell(found))
    return replace(pair, kinds=found, told=said, doubts=doubts)


def _too_few(places: int) -> Doubt:
    return Doubt(
        "ask",
        "ID-11",
        f"Rocks at known settings were read at {places} of the three closings wanted.",
        "A line through two places cannot show whether it is straight.",
        "Read `setting_rock` at one more closing between the ends.",
    )


def _cannot_tell(kinds: tuple[tuple[WheelKind, float], ...]) -> Doubt:
    spread = ", ".join(f"{kind} {p:.0%}" for kind, p in kinds)
    return Doubt(
        "warn",
        "ID-12",
        f"The rocks at known settings cannot tell the wheel kind: {spread}.",
        "The slopes of the kinds lie closer together than these readings, or the pressure angle, "
        "are known.",
        "Read over a longer way, from as far open as it goes; read wires of two sizes for the "
        "pressure angle.",
    )
