"""Families of drives, motor frames and couplings: the usual ranges, each with its source."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from wormwright.handbook.rows import rows

ARCMIN = math.radians(1 / 60)


@dataclass(frozen=True, slots=True)
class DriveFamily:
    """Usual ranges of one family: ratio, lost motion rad, efficiency, input speed rpm."""

    name: str
    ratio: tuple[float, float]
    lost_motion: tuple[float, float]
    efficiency: tuple[float, float]
    input_rpm: float
    wear: str
    source: str


@dataclass(frozen=True, slots=True)
class Frame:
    """A motor frame: body, square of the holes, pilot and its depth, hole in the plate, mm.

    `thread` is tapped in the plate where screws come through the motor flange; the hole is then
    its drill. Without one the motor itself is tapped.
    """

    number: int
    body: float
    pitch: float
    pilot: float
    pilot_depth: float
    hole: float
    thread: str
    source: str


@dataclass(frozen=True, slots=True)
class Coupling:
    """A kind of coupling: offset and axial shift it takes mm, tilt rad.

    `carries_true` says that it turns evenly when it is offset.
    """

    kind: str
    offset: float
    tilt: float
    axial: float
    play: str
    carries_true: bool
    source: str


@cache
def drive_families() -> tuple[DriveFamily, ...]:
    """Every family."""
    return tuple(
        DriveFamily(
            r["family"],
            (float(r["ratio_low"]), float(r["ratio_high"])),
            (float(r["lost_low_arcmin"]) * ARCMIN, float(r["lost_high_arcmin"]) * ARCMIN),
            (float(r["efficiency_low"]), float(r["efficiency_high"])),
            float(r["input_rpm"]),
            r["wear"],
            r["source"],
        )
        for r in rows("drives")
    )


def drive_family(name: str) -> DriveFamily:
    """The family of that name; ValueError lists the known ones."""
    for row in drive_families():
        if row.name == name:
            return row
    known = "; ".join(row.name for row in drive_families())
    raise ValueError(f"family of drives {name!r}: expected one of {known}")


@cache
def frames() -> tuple[Frame, ...]:
    """Every motor frame, small to large."""
    return tuple(
        Frame(
            int(r["frame"]),
            float(r["body_mm"]),
            float(r["pitch_mm"]),
            float(r["pilot_mm"]),
            float(r["pilot_depth_mm"]),
            float(r["hole_mm"]),
            r["thread"],
            r["source"],
        )
        for r in rows("frames")
    )


def frame(number: int) -> Frame:
    """The frame of that number; ValueError lists the known ones."""
    for row in frames():
        if row.number == number:
            return row
    known = ", ".join(str(row.number) for row in frames())
    raise ValueError(f"motor frame {number}: expected one of {known}")


@cache
def couplings() -> tuple[Coupling, ...]:
    """Every kind of coupling, stiff ones first."""
    return tuple(
        Coupling(
            r["kind"],
            float(r["offset_mm"]),
            math.radians(float(r["tilt_deg"])),
            float(r["axial_mm"]),
            r["play"],
            r["carries_true"] == "yes",
            r["source"],
        )
        for r in rows("couplings")
    )
