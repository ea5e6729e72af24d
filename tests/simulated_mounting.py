"""A unit set down crooked on a machine that exists only here, and the readings taken of it.

The unit is a stiff body on four springy feet: clamped, it lies on the plane that fits its four
supports best; lying free, it stands on three of them. The bar is off centre, leans, is bent and
sags; the travel of the machine bends. None of it is worked out by the formulas of the stage.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from simulated_rotary import Taker

FEET = ("front left", "front right", "rear left", "rear right")


@dataclass(frozen=True)
class Standing:
    """How the unit really stands. Lengths mm, leans for each mm.

    `own` is the lean of the axis against the unit's own foot, up and sideways; `supports` the
    heights under the four feet; `turned` how the unit is turned in plan. The bar: off by
    `bar_off` toward `bar_way`, leaning by `bar_lean`, bent by `bow` at 100 mm, all of it turning
    with the axis. `bend` is the travel's bend in the middle of 200 mm, up and sideways.
    """

    own: tuple[float, float] = (0.0, 0.0)
    supports: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    turned: float = 0.0
    foot_along: float = 130.0
    foot_across: float = 110.0
    bar_off: float = 0.03
    bar_way: float = 1.0
    bar_lean: float = 2e-4
    bow: float = 0.005
    bar_diameter: float = 20.0
    bar_out: float = 185.0
    bend: tuple[float, float] = (0.0, 0.0)
    head_height: float = 100.0
    tail_height: float = 100.0
    tail_side: float = 0.0
    diameter_error: float = field(default=0.0)

    @property
    def leans(self) -> tuple[float, float]:
        """Lean of the axis as clamped: up, and to machine plus."""
        x = np.array([1.0, 1.0, -1.0, -1.0]) * self.foot_along / 2
        y = np.array([1.0, -1.0, 1.0, -1.0]) * self.foot_across / 2
        design = np.column_stack([np.ones(4), x, y])
        plane = np.linalg.lstsq(design, np.array(self.supports), rcond=None)[0]
        return self.own[0] + float(plane[1]), self.own[1] + self.turned

    def free_gaps(self) -> tuple[float, ...]:
        """Gaps under the feet, the unit lying free and pressed down on one of its low feet."""
        s = np.array(self.supports)
        x = np.array([1.0, 1.0, -1.0, -1.0]) * self.foot_along / 2
        y = np.array([1.0, -1.0, 1.0, -1.0]) * self.foot_across / 2
        for lifted in range(4):
            three = [k for k in range(4) if k != lifted]
            design = np.column_stack([np.ones(3), x[three], y[three]])
            plane = np.linalg.solve(design, s[three])
            height = float(plane @ np.array([1.0, x[lifted], y[lifted]]))
            if height >= s[lifted] - 1e-12:
                gaps = [0.0, 0.0, 0.0, 0.0]
                gaps[lifted] = height - float(s[lifted])
                return tuple(gaps)
        raise AssertionError("a body always finds three feet to stand on")

    def bar_reading(self, z: float, angle: float, station: str) -> float:
        """Needle on the bar: plus when it stands higher or further to machine plus."""
        up, side = self.leans
        off = self.bar_off * np.array([math.cos(self.bar_way), math.sin(self.bar_way)])
        along = off * (1 + self.bar_lean * z / 0.03) + np.array([self.bow * (z / 100) ** 2, 0.0])
        turn = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
        stands = turn @ along
        if station == "top":
            return up * z + float(stands[0]) - self.sag(z) + self.travel(z, 0)
        return side * z + float(stands[1]) + self.travel(z, 1)

    def sag(self, z: float) -> float:
        """Sag of the bar by summing its bending moments, steel."""
        steps = 400
        area, inertia = math.pi * self.bar_diameter**2 / 4, math.pi * self.bar_diameter**4 / 64
        weight = 7860e-9 * 9.80665 * area
        x = (np.arange(steps) + 0.5) * z / steps
        moment = weight * (self.bar_out - x) ** 2 / 2
        return float(np.sum(moment * (z - x)) * z / steps / (206_000 * inertia))

    def travel(self, z: float, way: int) -> float:
        """What the needle shows on a straight line: a bow over 200 mm."""
        return self.bend[way] * math.sin(math.pi * z / 200.0)

    def packed(self, packing: Sequence[float]) -> Standing:
        """The same unit with packing under its feet."""
        s = [a + b for a, b in zip(self.supports, packing, strict=True)]
        return replace(self, supports=(s[0], s[1], s[2], s[3]))

    def turned_by(self, move: float, at: float) -> Standing:
        """The same unit after its front was moved to machine plus at a distance from the pivot."""
        return replace(self, turned=self.turned + move / at)


def drawn_standing(rng: np.random.Generator) -> Standing:
    """A crooked mounting: bar bent, chuck off centre, feet uneven, unit turned."""
    heights = rng.normal(0.0, 0.03, 4)
    return Standing(
        own=(float(rng.normal(0, 2e-4)), float(rng.normal(0, 1e-4))),
        supports=(float(heights[0]), float(heights[1]), float(heights[2]), float(heights[3])),
        turned=float(rng.normal(0, 4e-4)),
        bar_off=float(rng.uniform(0.0, 0.1)),
        bar_way=float(rng.uniform(0, 2 * math.pi)),
        bar_lean=float(rng.normal(0, 3e-4)),
        bow=float(rng.normal(0, 0.01)),
        bar_diameter=float(rng.uniform(12, 25)),
        bend=(float(rng.normal(0, 0.006)), float(rng.normal(0, 0.006))),
    )


def take_tram(
    taker: Taker,
    standing: Standing,
    *,
    places: Sequence[float] = (20.0, 95.0, 170.0),
    repeats: int = 1,
    travel: bool = True,
    first: float = 0.0,
) -> None:
    """Bar top and side half a turn apart; the travel along an edge; gaps under the feet."""
    bar: dict[str, float | str] = {
        "bar_diameter": standing.bar_diameter,
        "bar_out": standing.bar_out,
    }
    for station in ("top", "side"):
        for angle in (first, first + math.pi):
            for z in (*places,) * repeats:
                value = standing.bar_reading(z, angle, station)
                more = {**bar, "z": z}
                taker.take("bar_line", value, station=station, phi=angle, conditions=more)
    if travel:
        for way, station in enumerate(("top", "side")):
            for edge, sign in (("as laid", 1.0), ("turned over", -1.0)):
                for z in np.linspace(0.0, 200.0, 5):
                    form = 0.008 * (z / 200.0) * (1 - z / 200.0)
                    taker.take(
                        "travel_line",
                        standing.travel(float(z), way) + sign * form,
                        station=station,
                        conditions={"z": float(z), "edge": edge},
                    )
    for foot, gap in zip(FEET, standing.free_gaps(), strict=True):
        taker.take("foot_gap", gap, station=foot)


def take_heights(taker: Taker, standing: Standing, *, tail: bool = True, zero: float = 0.0) -> None:
    """Heights over and places beside a bar in head and tail, half a turn apart."""
    bar = standing.bar_diameter
    ends = (("head", standing.head_height, 0.0), ("tail", standing.tail_height, standing.tail_side))
    for end, height, side in ends[: 2 if tail else 1]:
        off = standing.bar_off / 2
        for angle, sign in ((0.0, 1.0), (math.pi, -1.0)):
            taker.take(
                "over_bar",
                height + bar / 2 + sign * off,
                station=end,
                phi=angle,
                conditions={"bar_diameter": bar},
            )
        for touched, sign in (("machine minus", -1.0), ("machine plus", 1.0)):
            taker.take(
                "beside_bar",
                zero + side + sign * (bar / 2 + off + 1.5),
                station=end,
                conditions={"side": touched},
            )
