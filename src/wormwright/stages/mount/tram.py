"""The axis against the travel: both leans, packing under the feet, the move at the key."""

from __future__ import annotations

import math

from wormwright.bench import Bench, noise
from wormwright.bench.shim_pieces import nearest_pieces
from wormwright.bench.tram import AllowedLean
from wormwright.core.feet import FEET, move_at_key, packing_under_feet, pitch_of, twist_of
from wormwright.job.mounting import FootPack, Lean, Stands, Tram, Way
from wormwright.job.result import Doubt, Estimate
from wormwright.stages.mount.bar import BarLine, bar_line
from wormwright.stages.mount.wording import about, chance_within

STATIONS: tuple[tuple[Way, str], ...] = (("elevation", "top"), ("plan", "side"))
ONE_SIDED = 1.645
"""Guard of the three-state verdict: 95 % one-sided (ISO 14253-1, from memory)."""
MICROMETER = 0.002
"""Doubt of a stack of shims measured with a micrometer, seams pressed out, mm (practice)."""
KEY_SET = 0.004
"""How near the move at key or stop can be set with an indicator, mm (practice)."""


def trammed(
    bench: Bench, allowed: AllowedLean
) -> tuple[Tram | None, tuple[Doubt, ...], tuple[str, ...]]:
    """What the bar and the feet say; None while neither was read."""
    mount = bench.job.mount
    lines = {way: bar_line(bench, station) for way, station in STATIONS}
    twist, strain = _twist(bench), _strain(bench)
    doubts = [d for line in lines.values() for d in line.doubts]
    missing = [
        f"bar along the travel, {station} (`bar_line`)"
        for way, station in STATIONS
        if lines[way].line is None
    ]
    if twist is None:
        missing.append("gaps under all four feet, bolts out (`foot_gap`)")
    if all(line.line is None for line in lines.values()) and twist is None:
        return None, tuple(doubts), tuple(missing)
    spacing = mount.foot_along if mount else None
    packing: tuple[FootPack, ...] = ()
    if spacing is None:
        missing.append("distance of front and rear feet (`foot_along` in [mount])")
    else:
        packing = _packing(bench, lines["elevation"], twist, spacing, allowed)
    distance = (mount.key_distance if mount else None) or spacing
    leans = tuple(
        _lean(way, line, allowed, packing=packing, spacing=spacing, distance=distance)
        for way, line in lines.items()
        if line.line is not None
    )
    tram = Tram(leans, packing, twist, strain, _key_move(leans, distance), distance)
    return tram, (*doubts, *_strained(strain)), tuple(missing)


def _stands(over: float, u: float, allowed: float) -> Stands:
    guard = ONE_SIDED * u
    if abs(over) + guard <= allowed:
        return "within"
    return "outside" if abs(over) - guard >= allowed else "cannot tell"


def _lean(
    way: Way,
    line: BarLine,
    allowed: AllowedLean,
    *,
    packing: tuple[FootPack, ...],
    spacing: float | None,
    distance: float | None,
) -> Lean:
    assert line.line is not None
    found, span = line.line, allowed.span
    stands = _stands(found.lean * span, found.u_lean * span, allowed.over)
    after, u_after = found.lean, found.u_lean
    if way == "elevation" and packing and spacing:
        after = found.lean - pitch_of([p.nominal for p in packing]) / spacing
        u_after = math.hypot(found.u_lean, MICROMETER / spacing)
    elif way == "plan" and stands != "within" and distance:
        after, u_after = 0.0, math.hypot(found.u_lean, KEY_SET / distance)
    bar = max(line.places, key=lambda p: abs(p.bar))
    return Lean(
        way=way,
        lean=found.lean,
        u=found.u_lean,
        span=span,
        over=about(found.lean * span, found.u_lean * span, "half turn"),
        allowed=allowed.over,
        stands=stands,
        bar=about(bar.bar, bar.u, "half difference"),
        sag=line.sag,
        travel_read=line.travel_read,
        after=about(after * span, u_after * span, "as packed or moved"),
        chance=chance_within(after, u_after, allowed.lean),
        seqs=line.seqs,
    )


def _twist(bench: Bench) -> Estimate | None:
    gaps = [bench.figure("foot_gap", foot) for foot in FEET]
    if any(gap is None for gap in gaps):
        return None
    read = [gap for gap in gaps if gap is not None]
    u = math.sqrt(math.fsum(gap.u**2 for gap in read))
    return about(twist_of([gap.value for gap in read]), u, "feelers under four feet")


def _strain(bench: Bench) -> Estimate | None:
    lifts = [r for r in bench.of("foot_lift") if r.value is not None]
    if not lifts:
        return None
    most = max(lifts, key=lambda r: r.value or 0.0)
    return about(most.value or 0.0, noise(most), "largest of the feet")


def _strained(strain: Estimate | None) -> tuple[Doubt, ...]:
    if strain is None or strain.low <= STRAIN:
        return ()
    return (
        Doubt(
            "warn",
            "MT-5",
            "A foot lifts when its bolt is loosened: the bolts pull the housing out of shape.",
            "A strained housing moves the worm against the wheel; the mesh reads tight or loose.",
            "Pack that foot by what it lifts, tighten crosswise, read again; then read the rock at "
            "the tight spot and across from it.",
        ),
    )


STRAIN = 0.013
"""Lift of a loosened foot that good work lets pass: half a thou (common practice)."""


def _packing(
    bench: Bench,
    elevation: BarLine,
    twist: Estimate | None,
    spacing: float,
    allowed: AllowedLean,
) -> tuple[FootPack, ...]:
    """Packing of each foot, from stock; empty where nothing stands out."""
    line = elevation.line
    rocks = twist.value if twist is not None and abs(twist.value) > 2 * twist.u else 0.0
    lean, u_lean = (line.lean, line.u_lean) if line is not None else (0.0, 0.0)
    if line is not None and not rocks:
        within = _stands(lean * allowed.span, u_lean * allowed.span, allowed.over) == "within"
        lean = 0.0 if within else lean
    if not lean and not rocks:
        return ()
    u = math.hypot(u_lean * spacing, (twist.u if twist and rocks else 0.0) / 2)
    wanted = packing_under_feet(lean=lean, spacing=spacing, twist=rocks)
    step = max(0.1 * allowed.lean * spacing, 0.002)
    return tuple(_foot(bench, foot, t, u, step) for foot, t in zip(FEET, wanted, strict=True))


def _foot(bench: Bench, foot: str, wanted: float, u: float, step: float) -> FootPack:
    estimate = about(wanted, u if wanted > 0 else 0.0, "pitch and rock together")
    stack = nearest_pieces(bench.job, wanted, tolerance=step) if wanted > 0 else None
    if stack is None or abs(stack.error) >= wanted:
        return FootPack(foot, estimate, (), 0.0)
    return FootPack(foot, estimate, tuple(p.thickness for p in stack.pieces), stack.nominal)


def _key_move(leans: tuple[Lean, ...], distance: float | None) -> Estimate | None:
    plan = next((one for one in leans if one.way == "plan"), None)
    if plan is None or distance is None or plan.stands == "within":
        return None
    move = move_at_key(lean=plan.lean, lean_u=plan.u, distance=distance)
    return about(move.move, move.u, "plan lean over the key distance")
