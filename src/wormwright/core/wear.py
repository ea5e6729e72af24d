"""Wear of the wheel from a used and a never-used sector: difference, significance, depth."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, NamedTuple

from wormwright.core.difference import Difference, Mean, difference_of_means

Verdict = Literal["used sector differs", "not proven", "unused sector differs"]


SectorMean = Mean
"""Mean of a play or drag over one sector, its standard uncertainty and degrees of freedom."""


@dataclass(frozen=True, slots=True)
class SectorDifference(Difference):
    """Used less unused, in the unit of the readings, with the doubt and the verdict at 95 %."""

    verdict: Verdict


def sector_difference(
    *, used: SectorMean, unused: SectorMean, runout: float = 0.0, runout_u: float = 0.0
) -> SectorDifference:
    """Difference of play or drag between a used and a never-used sector.

    Source: difference of two means with Welch-Satterthwaite (JCGM 100:2008, G.4). An eccentric
        wheel makes a difference of its own, which is taken off first.
    Formula: d = used - unused - runout; u² = u1² + u2² + u_r²; differs when |d| > t(95 %, dof) u.
    Inputs: used, unused [any]; runout, difference that the once-per-turn part alone makes between
        the two sectors (used less unused), and its u [as the means].
    Outputs: SectorDifference.
    Valid for: both sectors read alike: same pin, torque, temperature, whole worm turns.
    Raises: ValueError for a doubt that is not above zero.

    >>> d = sector_difference(used=SectorMean(0.120, 0.003), unused=SectorMean(0.090, 0.003),
    ...                       runout=0.010, runout_u=0.002)
    >>> round(d.value, 4), round(d.u, 4), d.verdict
    (0.02, 0.0047, 'used sector differs')
    """
    d = difference_of_means(used, unused, known=Mean(runout, runout_u))
    verdict: Verdict = "not proven"
    if d.proven:
        verdict = "used sector differs" if d.value > 0 else "unused sector differs"
    return SectorDifference(d.value, d.u, d.dof, verdict)


def runout_between_sectors(
    *,
    amplitude: float,
    loosest: float,
    used_from: float,
    used_to: float,
    unused_from: float,
    unused_to: float,
) -> float:
    """Difference that the once-per-turn part of the play makes between two sectors.

    Source: mean of a cosine over an arc. Formula: A (m(used) - m(unused)),
        m(arc) = [sin(to - loosest) - sin(from - loosest)] / (to - from).
    Inputs: amplitude A of the once-per-turn part [mm]; loosest, mark of most play, and the ends of
        both sectors, each end past its start [rad].
    Outputs: used less unused [mm].
    Valid for: an amplitude fitted where there is no wear, or measured as runout of the wheel.
    Raises: ValueError for a sector without width or wider than a turn.

    >>> round(runout_between_sectors(amplitude=0.02, loosest=0.0, used_from=-0.5, used_to=0.5,
    ...     unused_from=math.pi - 0.5, unused_to=math.pi + 0.5), 4)
    0.0384
    """

    def mean(start: float, end: float) -> float:
        if not 0 < end - start <= 2 * math.pi:
            raise ValueError(f"sector {start} to {end} rad: expected an end past its start")
        return (math.sin(end - loosest) - math.sin(start - loosest)) / (end - start)

    return amplitude * (mean(used_from, used_to) - mean(unused_from, unused_to))


class WearDepth(NamedTuple):
    """What the play of a used sector stands for, mm, each with its standard uncertainty."""

    closing: float
    closing_u: float
    flank: float
    flank_u: float


def wear_depth(difference: SectorDifference, *, tan_pressure: float, tan_lead: float) -> WearDepth:
    """Closing that would take up the worn play, and metal gone from the flanks.

    Source: rack law of the mesh, play = 2 t · closing; flank wear is the play along the normal.
    Formula: closing = d/(2 t); flank = d/sqrt(1 + t² + g²), the normal part of d, both flanks of a
        tooth together.
    Inputs: difference of the circumferential play at the pitch radius [mm]; tan_pressure t of the
        axial pressure angle, tan_lead g [1].
    Outputs: WearDepth [mm]. The closing may only be given where no sector is left tighter: set the
        mesh at the least worn place.
    Valid for: play of the flanks alone (end play and float are the same in both sectors).
    Raises: ValueError for tangents out of range.

    >>> d = SectorDifference(0.020, 0.004, math.inf, "used sector differs")
    >>> depth = wear_depth(d, tan_pressure=0.36397, tan_lead=0.06)
    >>> round(depth.closing, 4), round(depth.flank, 4)
    (0.0275, 0.0188)
    """
    if not (0 < tan_pressure < 1 and 0 <= tan_lead < 1):
        raise ValueError(f"tangents {tan_pressure} and {tan_lead}: expected 0 to 1")
    along = 1 / math.sqrt(1 + tan_pressure**2 + tan_lead**2)
    by_closing = 1 / (2 * tan_pressure)
    return WearDepth(
        closing=difference.value * by_closing,
        closing_u=difference.u * by_closing,
        flank=difference.value * along,
        flank_u=difference.u * along,
    )
