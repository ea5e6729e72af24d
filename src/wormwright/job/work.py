"""The work that the axis is for: what is cut, where, how fast, and how true it must be."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wormwright.job.given import Given, refuse_unless_positive
from wormwright.job.rotary import Approach

WorkKind = Literal["indexed", "continuous", "reversing", "engraving", "slow turning"]
Process = Literal["milling", "drilling", "turning"]
Hold = Literal["powered", "power off"]


@dataclass(frozen=True, slots=True)
class Cutter:
    """What cuts: sizes mm, feed mm for each tooth (milling) or turn, spindle rpm.

    `depth` along the cutter and `width` across its feed for milling; depth alone for turning.
    """

    process: Process
    material: str
    diameter: float | None = None
    teeth: int | None = None
    depth: float | None = None
    width: float | None = None
    feed: float | None = None
    spindle: float | None = None

    def __post_init__(self) -> None:
        """Refuse a cutter that lacks what its process needs."""
        wanted = {
            "milling": ("diameter", "teeth", "depth", "width", "feed", "spindle"),
            "drilling": ("diameter", "feed"),
            "turning": ("depth", "feed"),
        }[self.process]
        missing = [name for name in wanted if getattr(self, name) is None]
        if missing:
            raise ValueError(f"{self.process} needs {', '.join(missing)} as well")


@dataclass(frozen=True, slots=True)
class Task:
    """One kind of work on the axis, in core units.

    `force` is the tangential force at `radius`, where it was given; else `cutter` tells it.
    `error` is how far the work may be moved there: from its place when cut one way, to and fro
    when both ways. `speed` is the table's rpm, `overhang` from table face to cut, `mass` what turns
    with the table, its centre `off_centre` away from the axis. `teeth` divides a turn; `run` is how
    long it turns without a rest, minutes.
    """

    name: str
    kind: WorkKind
    radius: float
    approach: Approach = "both ways"
    error: float | None = None
    force: Given | None = None
    cutter: Cutter | None = None
    speed: float | None = None
    overhang: float | None = None
    mass: float | None = None
    off_centre: float = 0.0
    hold: Hold = "powered"
    teeth: int | None = None
    feed: float | None = None
    run: float | None = None

    def __post_init__(self) -> None:
        """Refuse work that says nothing of its load."""
        refuse_unless_positive(
            f"work {self.name}",
            radius=self.radius,
            error=self.error,
            speed=self.speed,
            overhang=self.overhang,
            mass=self.mass,
            feed=self.feed,
            run=self.run,
        )
        if (self.force is None) == (self.cutter is None):
            raise ValueError(f"work {self.name}: give the force, or the cutter that makes it")
        if self.off_centre and self.mass is None:
            raise ValueError(f"work {self.name}: off_centre needs the mass that is off centre")
