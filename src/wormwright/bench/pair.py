"""The worm and wheel in hand, from caliper readings and what the job has confirmed."""

from __future__ import annotations

import math
from dataclasses import replace

from wormwright.bench.figures import Bench, Figure, noise
from wormwright.bench.pair_words import (
    angle_doubts,
    assumed_size,
    missing_doubts,
    size_doubts,
    teeth_doubts,
    word_doubts,
)
from wormwright.bench.wheel_kind import told_by_settings
from wormwright.core.worm_identity import (
    CaliperFacts,
    Candidate,
    StandardSize,
    belief_in_sizes,
    pitch_misfit,
    profile_shift,
    rank_candidates,
)
from wormwright.core.worm_pair import (
    pressure_angle_from_two_wires,
    two_wire_factor,
    usual_face_width,
    worm_diameter_guide,
)
from wormwright.handbook.worm_sizes import METRIC_ANGLES, worm_sizes
from wormwright.job.pair import PairCandidate, WheelKind, WormPair
from wormwright.job.result import Doubt, Estimate

CONFIRMED_ANGLE_U = math.radians(0.1)
"""Standard uncertainty of a pressure angle that is a known standard one, rad."""
HOB_EXCESS = 0.05
"""Largest believable radius excess of an oversize hob, as a share of the worm radius."""
NO_STANDARD = 16.0
"""Chi-square above which no standard size is believed."""

KIND_BELIEF: dict[str | None, tuple[tuple[WheelKind, float], ...]] = {
    "straight": (("helical", 1.0),),
    "hollow": (("hob-equal", 1 / 3), ("oversize-hob", 2 / 3)),
    None: (("hob-equal", 0.25), ("oversize-hob", 0.5), ("helical", 0.25)),
}
"""Belief in each wheel kind by what was seen of the face (judgement, weak on purpose)."""


def pair_in_hand(bench: Bench) -> WormPair | None:
    """The pair, or None when too little was read; `pair_doubts` then says what to read."""
    return _identify(bench)[0]


def pair_doubts(bench: Bench) -> tuple[Doubt, ...]:
    """What is not certain about the pair, and what to read or confirm next."""
    return _identify(bench)[1]


def _identify(bench: Bench) -> tuple[WormPair | None, tuple[Doubt, ...]]:
    facts = caliper_facts(bench)
    if facts is None:
        return None, missing_doubts(bench)
    candidates = _ranked(bench, facts)
    module, doubts = _module_of(bench, facts, candidates)
    angle, angle_u, more = _angle_of(bench, facts, candidates)
    d1, d1_doubts = _worm_d1(bench, facts, module)
    face, face_doubts = _face(bench, module, d1)
    seen = bench.word("wheel_kind")
    kinds = KIND_BELIEF.get(seen, KIND_BELIEF[None])
    doubts = (*doubts, *more, *d1_doubts, *face_doubts, *word_doubts(bench, kinds))
    edge, mark = bench.figure("wheel_edge_break"), bench.figure("wheel_mark")
    pair = WormPair(
        teeth=facts.teeth,
        starts=facts.starts,
        hand="left" if bench.word("hand") == "left" else "right",
        axial_module=module,
        pressure_angle=angle,
        pressure_angle_u=angle_u,
        worm_d1=d1,
        face_width=face,
        kinds=kinds,
        hob_excess_max=HOB_EXCESS * d1 / 2,
        candidates=tuple(
            PairCandidate(c.name, c.axial_module, c.pressure_angle, c.probability, c.misfit)
            for c in candidates
        ),
        worm_od=_estimate(bench.figure("worm_od")),
        throat=_estimate(_throat(bench)),
        wheel_root=_estimate(bench.figure("wheel_root")),
        centre_distance=_estimate(bench.figure("centre_distance")),
        doubts=doubts,
        edge=edge.value if edge else 0.0,
        mark_off=mark.value if mark else 0.0,
        wobble=_wobble(bench, module * facts.teeth / 2),
    )
    pair = told_by_settings(bench, pair)
    return pair, pair.doubts


def _wobble(bench: Bench, r2: float) -> float:
    """Swing of the wheel's rim along the table axis, brought to the pitch radius, mm."""
    rows = [r for r in bench.of("wheel_wobble") if r.value is not None]
    swings = [(r.value or 0.0) * r2 / (r.number("radius") or r2) for r in rows]
    return sum(swings) / len(swings) if swings else 0.0


def caliper_facts(bench: Bench) -> CaliperFacts | None:
    """The caliper readings of the pair, or None when they are too few to know it."""
    teeth, starts = bench.figure("teeth"), bench.figure("starts")
    if teeth is None:
        return None
    facts = CaliperFacts(
        teeth=round(teeth.value),
        starts=round(starts.value) if starts else 1,
        pitch=_pitch(bench),
        worm_tip=_pair_of(bench.figure("worm_od")),
        throat=_pair_of(_throat(bench)),
        centre_distance=_pair_of(bench.figure("centre_distance")),
        two_wires=_two_wires(bench),
    )
    known = bench.job.pair_module_mm or facts.pitch or profile_shift(facts, 1.0)
    return facts if known else None


def _throat(bench: Bench) -> Figure | None:
    throat = bench.figure("wheel_throat")
    if throat is None and bench.word("wheel_kind") == "straight":
        return bench.figure("wheel_od")
    return throat


def _pair_of(figure: Figure | None) -> tuple[float, float] | None:
    return None if figure is None else (figure.value, figure.u)


def _pitch(bench: Bench) -> tuple[float, float] | None:
    """Axial pitch by least squares through all lengths over threads, with its u."""
    rows = [
        (threads, r.value, noise(r))
        for r in bench.of("thread_length")
        if r.value is not None and (threads := r.number("threads"))
    ]
    if not rows:
        return None
    weight = sum((n / u) ** 2 for n, _, u in rows)
    return sum(n * length / u**2 for n, length, u in rows) / weight, 1 / math.sqrt(weight)


def _two_wires(bench: Bench) -> tuple[float, float] | None:
    """dM/dW from the smallest and the largest wire used, with its u."""
    by_wire: dict[float, list[tuple[float, float]]] = {}
    for r in bench.of("worm_over_wires"):
        wire = r.number("wire")
        if r.value is not None and wire:
            by_wire.setdefault(wire, []).append((r.value, noise(r)))
    if len(by_wire) < 2:
        return None
    small, large = min(by_wire), max(by_wire)
    (m1, u1), (m2, u2) = _mean(by_wire[small]), _mean(by_wire[large])
    return (m2 - m1) / (large - small), math.hypot(u1, u2) / (large - small)


def _mean(rows: list[tuple[float, float]]) -> tuple[float, float]:
    n = len(rows)
    return sum(m for m, _ in rows) / n, math.sqrt(sum(u * u for _, u in rows)) / n


def _ranked(bench: Bench, facts: CaliperFacts) -> tuple[Candidate, ...]:
    module, angle = bench.job.pair_module_mm, bench.job.pair_pressure_angle
    sizes = worm_sizes()
    if module is not None:
        near = [s for s in sizes if abs(s.axial_module / module - 1) < 1e-3]
        metric = tuple((math.radians(a), p) for a, p in METRIC_ANGLES)
        plain = StandardSize(f"module {module:g}", module, 1.0, metric)
        sizes = (replace(max(near, key=lambda s: s.weight, default=plain), axial_module=module),)
    if angle is not None:
        sizes = tuple(replace(s, angles=((angle, 1.0),)) for s in sizes)
    if facts.pitch is None and profile_shift(facts, 1.0) is None:
        only = sizes[0]
        return tuple(Candidate(only.name, only.axial_module, a, p, 0.0) for a, p in only.angles)
    found = rank_candidates(facts, sizes)
    order = [name for name, _, _ in belief_in_sizes(found)]
    return tuple(sorted(found, key=lambda c: (order.index(c.size), -c.probability)))


def _module_of(
    bench: Bench, facts: CaliperFacts, candidates: tuple[Candidate, ...]
) -> tuple[float, tuple[Doubt, ...]]:
    """The axial module to work with, and the doubts about it."""
    name, module, _ = belief_in_sizes(candidates)[0]
    confirmed = bench.job.pair_module_mm is not None
    fits = min(c.misfit for c in candidates if c.size == name) <= NO_STANDARD
    own_pitch = not fits and not confirmed and pitch_misfit(facts, module) > NO_STANDARD / 2
    if own_pitch and facts.pitch is not None:
        module = facts.pitch[0] / math.pi
    doubts = size_doubts(belief_in_sizes(candidates), fits=fits, confirmed=confirmed)
    shift = profile_shift(facts, module) if facts.throat else None
    if shift is not None and facts.throat is not None:
        doubts += teeth_doubts(facts.teeth, shift[0], facts.throat[0] / module - 2, bench)
    return module, doubts


def _angle_of(
    bench: Bench, facts: CaliperFacts, candidates: tuple[Candidate, ...]
) -> tuple[float, float, tuple[Doubt, ...]]:
    """Axial pressure angle, its standard uncertainty, and the doubts about it."""
    size = belief_in_sizes(candidates)[0][0]
    same = [c for c in candidates if c.size == size]
    best = max(same, key=lambda c: c.probability)
    whole = sum(c.probability for c in same)
    spread2 = sum(c.probability * (c.pressure_angle - best.pressure_angle) ** 2 for c in same)
    u = math.hypot(CONFIRMED_ANGLE_U, math.sqrt(spread2 / whole))
    measured = _measured_angle(facts)
    if measured is not None and bench.job.pair_pressure_angle is None:
        angle, angle_u = measured
        off = abs(two_wire_factor(angle) - two_wire_factor(best.pressure_angle))
        if facts.two_wires is not None and off > 3 * facts.two_wires[1]:
            return angle, angle_u, angle_doubts(angle, angle_u, odd=True)
    return best.pressure_angle, u, angle_doubts(best.pressure_angle, u, odd=False)


def _measured_angle(facts: CaliperFacts) -> tuple[float, float] | None:
    """Pressure angle as the two wire sizes give it, with its u; None if no flank gives it."""
    if facts.two_wires is None:
        return None
    factor, u = facts.two_wires
    try:
        angle = pressure_angle_from_two_wires(
            over_large=factor, over_small=0.0, wire_large=1.0, wire_small=0.0
        )
        two_wire_factor(angle)
    except ValueError:
        return None
    return angle, u * math.sin(angle) ** 2 / math.cos(angle)


def _worm_d1(bench: Bench, facts: CaliperFacts, module: float) -> tuple[float, tuple[Doubt, ...]]:
    if facts.worm_tip is not None and facts.worm_tip[0] > 4 * module:
        return facts.worm_tip[0] - 2 * module, ()
    pitch_diameter = module * facts.teeth
    if facts.centre_distance is not None:
        d1 = 2 * facts.centre_distance[0] - pitch_diameter
        if d1 > 4 * module:
            return d1, (assumed_size("ID-4", "worm reference diameter", "worm_od", bench, d1),)
    d1 = 0.25 * pitch_diameter
    for _ in range(20):
        low, high = worm_diameter_guide((d1 + pitch_diameter) / 2)
        d1 = max((low + high) / 2, 5 * module)
    return d1, (assumed_size("ID-4", "worm reference diameter", "worm_od", bench, d1),)


def _face(bench: Bench, module: float, d1: float) -> tuple[float, tuple[Doubt, ...]]:
    read = bench.figure("wheel_face")
    if read is not None:
        return read.value, ()
    face = usual_face_width(axial_module=module, worm_d1=d1)
    return face, (assumed_size("ID-5", "wheel face width", "wheel_face", bench, face),)


def _estimate(figure: Figure | None) -> Estimate | None:
    if figure is None:
        return None
    half = 1.96 * figure.u
    return Estimate(
        figure.value,
        figure.u,
        figure.value - half,
        figure.value + half,
        "length",
        "mean of readings",
    )
