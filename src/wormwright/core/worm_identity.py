"""Which standard worm and wheel the caliper readings mean: ranked candidates with their belief."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from wormwright.core.worm_pair import two_wire_factor

SHIFT_SPREAD = 0.25
"""Standard deviation of the profile shift x2 found on wheels of a family, 1."""
OPEN_SPREAD = 0.16
"""How far a mesh stands open, or a throat is cut small, in modules (one standard deviation)."""
DEEP_SPREAD = 0.10
"""How far the depth may exceed two modules: worm crest or throat left large, in modules."""


@dataclass(frozen=True, slots=True)
class CaliperFacts:
    """What was read on a pair; None where nothing was read. Lengths mm.

    `pitch` is the length over threads divided by their number. `throat` is the mid-plane tip
    diameter of the wheel. `two_wires` is dM/dW from two wire sizes. Each comes as (value, u).
    """

    teeth: int
    starts: int
    pitch: tuple[float, float] | None = None
    worm_tip: tuple[float, float] | None = None
    throat: tuple[float, float] | None = None
    centre_distance: tuple[float, float] | None = None
    two_wires: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class StandardSize:
    """A size that worms are cut to: axial module mm, how common it is, belief in each angle, rad.

    `angles` holds (nominal pressure angle, belief) and the beliefs sum to 1.
    """

    name: str
    axial_module: float
    weight: float
    angles: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Candidate:
    """A standard pair: axial module mm, nominal pressure angle rad, belief and chi-square."""

    size: str
    axial_module: float
    pressure_angle: float
    probability: float
    misfit: float

    @property
    def name(self) -> str:
        """Size and pressure angle in words."""
        return f"{self.size}, {math.degrees(self.pressure_angle):g}°"


def pitch_misfit(facts: CaliperFacts, axial_module: float) -> float:
    """Chi-square of the length over threads against a module.

    Source: px = π mx. Formula: ((L/n - π mx)/u)².
    Inputs: facts, module [mm]. Outputs: chi-square [1], 0 if not read. Valid for: any module.
    Raises: nothing.
    Example:
        >>> facts = CaliperFacts(teeth=72, starts=1, pitch=(4.7124, 0.0075))
        >>> round(pitch_misfit(facts, 25.4 / 17), 1)
        6.1
    """
    if facts.pitch is None:
        return 0.0
    pitch, u = facts.pitch
    return ((pitch - math.pi * axial_module) / u) ** 2


def depth_misfit(facts: CaliperFacts, axial_module: float) -> float:
    """Chi-square of the working depth against two modules, wide toward an open mesh.

    Source: hw = (da1 + da2)/2 - a = 2 mx - opening; the profile shift cancels.
    Formula: rest²/(u² + spread²); the centres may stand open by any believable amount, so the side
        hw < 2 mx is the wide one.
    Inputs: facts, module [mm]. Outputs: chi-square [1], 0 if one of the three is missing.
    Valid for: full-height threads. Raises: nothing.
    Example:
        >>> open_mesh = CaliperFacts(teeth=90, starts=1, worm_tip=(31.75, 0.02),
        ...     throat=(146.05, 0.03), centre_distance=(85.893, 0.04))
        >>> round(depth_misfit(open_mesh, 25.4 / 16), 2)
        0.42
    """
    if facts.worm_tip is None or facts.throat is None or facts.centre_distance is None:
        return 0.0
    depth = (facts.worm_tip[0] + facts.throat[0]) / 2 - facts.centre_distance[0]
    u2 = (facts.worm_tip[1] ** 2 + facts.throat[1] ** 2) / 4 + facts.centre_distance[1] ** 2
    rest = depth - 2 * axial_module
    spread = (OPEN_SPREAD if rest < 0 else DEEP_SPREAD) * axial_module
    return rest**2 / (u2 + spread**2)


def profile_shift(facts: CaliperFacts, axial_module: float) -> tuple[float, float] | None:
    """Profile shift x2 that the throat (or else the centre distance) asks for, with its u.

    Source: da2 = (z2 + 2 + 2 x2) mx; a = (da1/2 - mx) + (z2/2 + x2) mx + opening.
    Formula: x2 = (da2/mx - z2 - 2)/2, or (a - da1/2)/mx + 1 - z2/2.
    Inputs: facts, module [mm]. Outputs: (x2, u) [1], None if neither can be had.
    Valid for: full-height threads. Raises: nothing.
    Example:
        >>> shift, u = profile_shift(CaliperFacts(teeth=72, starts=1, throat=(111.3, 0.03)), 1.5)
        >>> round(shift, 3), u
        (0.1, 0.01)
    """
    mx = axial_module
    if facts.throat is not None:
        value, u = facts.throat
        return (value / mx - facts.teeth - 2) / 2, u / (2 * mx)
    if facts.worm_tip is None or facts.centre_distance is None:
        return None
    a, u_a = facts.centre_distance
    tip, u_tip = facts.worm_tip
    u = math.hypot(u_a / mx, u_tip / (2 * mx), OPEN_SPREAD)
    return (a - tip / 2) / mx + 1 - facts.teeth / 2, u


def shift_misfit(facts: CaliperFacts, axial_module: float) -> float:
    """Chi-square of the profile shift that a module would ask for against what is usual.

    Source: wheels of a family are cut with small shifts. Formula: x2²/(spread² + u²).
    Inputs: facts, module [mm]. Outputs: chi-square [1], 0 if nothing of it was read.
    Valid for: as profile_shift. Raises: nothing.
    Example:
        >>> wheel = CaliperFacts(teeth=72, starts=1, throat=(111.0, 0.03))
        >>> shift_misfit(wheel, 1.5) < shift_misfit(wheel, 25.4 / 16)
        True
    """
    shift = profile_shift(facts, axial_module)
    if shift is None:
        return 0.0
    return shift[0] ** 2 / (SHIFT_SPREAD**2 + shift[1] ** 2)


def rank_candidates(
    facts: CaliperFacts, sizes: Sequence[StandardSize], *, keep: float = 0.01
) -> tuple[Candidate, ...]:
    """Standard pairs in order of belief.

    Source: Bayes' rule with Gaussian misfits of pitch, working depth, profile shift and two wire
        sizes, and a weight for how common a size is.
    Formula: p ~ weight · belief in the angle · exp(-Σ chi²/2); all candidates together 1.
    Inputs: facts [mm]; sizes to choose from; keep: less belief than this is left out [1].
    Outputs: candidates, most believable first; their beliefs sum to nearly 1.
    Valid for: at least the pitch, or the throat, or worm outside diameter and centre distance.
    Raises: ValueError when none of these was read.
    Example:
        >>> sizes = [StandardSize(n, m, 1.0, ((math.radians(20), 1.0),))
        ...          for n, m in (("module 1.5", 1.5), ("17 DP", 25.4 / 17))]
        >>> rank_candidates(CaliperFacts(teeth=72, starts=1, pitch=(4.694, 0.006)), sizes)[0].name
        '17 DP, 20°'
    """
    if facts.pitch is None and profile_shift(facts, 1.0) is None:
        raise ValueError(
            "identity: expected a length over threads, a wheel throat, or worm outside diameter "
            "with centre distance; read one of them"
        )
    scored: list[tuple[float, Candidate]] = []
    for size in sizes:
        mx = size.axial_module
        misfit = pitch_misfit(facts, mx) + depth_misfit(facts, mx) + shift_misfit(facts, mx)
        for angle, belief in size.angles:
            total = misfit + _wires_misfit(facts, angle)
            log_p = math.log(size.weight * belief) - total / 2
            scored.append((log_p, Candidate(size.name, mx, angle, 0.0, total)))
    scored.sort(key=lambda row: -row[0])
    best = scored[0][0]
    whole = sum(math.exp(log_p - best) for log_p, _ in scored)
    return tuple(
        replace(candidate, probability=p)
        for log_p, candidate in scored
        if (p := math.exp(log_p - best) / whole) >= keep or log_p == best
    )


def belief_in_sizes(candidates: Sequence[Candidate]) -> tuple[tuple[str, float, float], ...]:
    """Belief in each size, its pressure angles taken together, most believable first.

    Source: sum rule. Formula: p(size) = Σ p(size, angle). Inputs: ranked candidates.
    Outputs: (name, axial module [mm], belief [1]). Valid for: any ranking. Raises: nothing.
    Example:
        >>> belief_in_sizes([Candidate("16 DP", 1.5875, 0.25, 0.5, 0.4),
        ...                  Candidate("16 DP", 1.5875, 0.35, 0.4, 0.4)])
        (('16 DP', 1.5875, 0.9),)
    """
    sums: dict[str, tuple[float, float]] = {}
    for c in candidates:
        sums[c.size] = (c.axial_module, sums.get(c.size, (0.0, 0.0))[1] + c.probability)
    rows = [(name, module, p) for name, (module, p) in sums.items()]
    return tuple(sorted(rows, key=lambda row: -row[2]))


def _wires_misfit(facts: CaliperFacts, angle: float) -> float:
    if facts.two_wires is None:
        return 0.0
    factor, u = facts.two_wires
    return ((factor - two_wire_factor(angle)) / u) ** 2
