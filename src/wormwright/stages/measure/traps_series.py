"""Traps in the sheet as a whole: worm phase, drift, table play, factor two, depth and throat."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from statistics import NormalDist

from wormwright.bench import Bench, noise
from wormwright.core.worm_pair import working_depth, worm_tip_clearance
from wormwright.core.worm_phase import worm_phase
from wormwright.job.pair import WormPair
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, Estimate
from wormwright.job.sheet import KINDS, ROCKS
from wormwright.job.sheet_table import RUNOUTS
from wormwright.quantities import shown
from wormwright.stages.measure.siblings import WARMER, same_angle, series

PHASE = math.radians(30)
"""How far the worm may stand from the phase of the first position before the map mixes, rad."""
SERIES = 8
"""From so many places on a series should end where it began."""

CHANCE = 0.05
"""How often a sheet without drift may be warned about all the same, however many series it has."""


def drift(bench: Bench) -> tuple[Doubt, ...]:
    """E-33: a first position that differs when read again, or was not read again."""
    groups = [
        rows
        for group in series(bench)
        if group[0].kind in (*ROCKS, *RUNOUTS)
        and (rows := [r for r in group if r.table_angle is not None])
    ]
    closed = [(rows[0], again) for rows in groups if (again := _again(rows)) is not None]
    limit = closing_limit(len(closed)) if closed else 0.0
    doubts = [d for first, last in closed for d in _drifted(first, last, limit, bench)]
    for rows in groups:
        places = {round(r.table_angle or 0.0, 3) for r in rows}
        if _again(rows) is None and len(places) >= SERIES:
            doubts.append(_not_again(rows[0]))
    return tuple(doubts) + _warmed(bench)


def closing_limit(series_closed: int) -> float:
    """Standard deviations by which one of so many series may miss its start: 2 for a lone one.

    >>> round(closing_limit(1), 2), round(closing_limit(8), 2)
    (1.96, 2.73)
    """
    return NormalDist().inv_cdf(1 - CHANCE / 2 / series_closed)


def _again(rows: list[Reading]) -> Reading | None:
    """The last reading of the first position, or None if it was read once."""
    return next((r for r in reversed(rows[1:]) if _same_set_up(rows[0], r)), None)


def _not_again(first: Reading) -> Doubt:
    label = KINDS[first.kind].label.split(",")[0].lower()
    return Doubt(
        "warn",
        "E-33",
        f"The first position of the {label} was not read again at the end.",
        "Drift of the stand or of the temperature looks like runout.",
        f"Go back to the position of row {first.seq} and read it once more.",
        (first.seq,),
    )


def _warmed(bench: Bench) -> tuple[Doubt, ...]:
    """The housing was not at one temperature through the readings."""
    read = [r for r in bench.of("temperature", "housing") if r.value is not None]
    rise = max((r.value or 0.0 for r in read), default=0.0) - min(
        (r.value or 0.0 for r in read), default=0.0
    )
    if rise <= WARMER:
        return ()
    by = shown(rise, "rise", resolution=1.0, units=bench.job.units)
    return (
        Doubt(
            "warn",
            "E-33",
            f"The housing temperature differs by {by} between the readings.",
            "Rock and drag follow the temperature: compare them with care.",
            "Read rock and drag again at one temperature, or write housing_temperature with each.",
            tuple(r.seq for r in read),
        ),
    )


def _same_set_up(a: Reading, b: Reading) -> bool:
    """Same table angle, worm phase where stated, torque, and temperature where stated."""
    if a.table_angle is None or b.table_angle is None:
        return False
    if not same_angle(a.table_angle, b.table_angle, within=math.radians(0.3)):
        return False
    psi_a, psi_b = a.worm_angle, b.worm_angle
    if psi_a is not None and psi_b is not None and not same_angle(psi_a, psi_b, within=PHASE):
        return False
    warm_a, warm_b = a.number("housing_temperature"), b.number("housing_temperature")
    if warm_a is not None and warm_b is not None and abs(warm_a - warm_b) > WARMER:
        return False
    ta, tb = a.number("torque"), b.number("torque")
    return not ta or not tb or abs(math.log(abs(ta / tb))) < math.log(1.2)


def _drifted(first: Reading, last: Reading, limit: float, bench: Bench) -> tuple[Doubt, ...]:
    difference = abs((last.value or 0.0) - (first.value or 0.0))
    s = math.hypot(noise(first), noise(last))
    if difference <= limit * s:
        return ()
    by = shown(difference, "length", u=s, units=bench.job.units)
    return (
        Doubt(
            "warn",
            "E-33",
            f"The first position read {by} differently at the end (rows {first.seq}, {last.seq}).",
            "Stand, temperature or zero moved during the series; that looks like runout.",
            "Check the stand and the clamping, let it settle, and read the series again.",
            (first.seq, last.seq),
        ),
    )


def mixed_worm_phase(bench: Bench, pair: WormPair) -> tuple[Doubt, ...]:
    """E-12: positions that are no whole worm turns apart, with the worm angle not written."""
    doubts = []
    step = 2 * math.pi / pair.ratio
    for kind in ROCKS:
        rows = [r for r in bench.of(kind) if r.table_angle is not None and r.worm_angle is None]
        if len(rows) < 3:
            continue
        first = rows[0].table_angle or 0.0
        phases = _phases(rows, pair)
        off = [
            r
            for r, psi in zip(rows, phases, strict=True)
            if not same_angle(psi, phases[0], within=PHASE)
        ]
        if not off:
            continue
        offered = ", ".join(
            f"{math.degrees(first + round(((r.table_angle or 0.0) - first) / step) * step):.4g}°"
            for r in off[:12]
        )
        doubts.append(
            Doubt(
                "warn",
                "E-12",
                f"{len(off)} of {len(rows)} positions do not stand at whole worm turns from the "
                f"first (one turn is {math.degrees(step):.4g}° of the table).",
                "Runout of the worm mixes into the map of the wheel.",
                f"Read at {offered} instead, or write the worm angle beside each reading.",
                tuple(r.seq for r in off),
            )
        )
    return tuple(doubts)


def one_worm_phase(bench: Bench, pair: WormPair) -> tuple[Doubt, ...]:
    """E-13: a map with the worm always at one phase, and no other reading of the worm's runout."""
    rows = [r for kind in ROCKS for r in bench.of(kind) if r.table_angle is not None]
    places = {round(r.table_angle or 0.0, 3) for r in rows}
    if len(places) < SERIES or bench.of("worm_runout"):
        return ()
    turned = [
        psi if r.worm_angle is None else r.worm_angle
        for r, psi in zip(rows, _phases(rows, pair), strict=True)
    ]
    if not all(same_angle(psi, turned[0], within=PHASE) for psi in turned):
        return ()
    return (
        Doubt(
            "warn",
            "E-13",
            f"All {len(rows)} rocks stand at one phase of the worm.",
            "So the map of the wheel is clean, and blind to the runout of the worm: within one "
            "worm turn the mesh may be tighter than anything on the sheet.",
            "Near the tight spot rock at four worm angles within one worm turn, the worm angle "
            "written (row 4 of the sheet).",
        ),
    )


def _phases(rows: Sequence[Reading], pair: WormPair) -> list[float]:
    angles = [r.table_angle or 0.0 for r in rows]
    return [float(psi) for psi in worm_phase(angles, ratio=pair.ratio)]


def table_play_in_rock(bench: Bench) -> tuple[Doubt, ...]:
    """E-11: table radial play is a large part of a rock that was read on one pin."""
    play = bench.figure("table_radial_play")
    values = [r.value for r in bench.of("rock") if r.value is not None and r.value > 0]
    if play is None or not values or bench.of("rock_pins"):
        return ()
    share = play.value / statistics.fmean(values)
    if share <= 0.2:
        return ()
    return (
        Doubt(
            "warn",
            "E-11",
            f"The table's radial play is {share:.0%} of the rock read on one pin.",
            "The table slides as well as turns, and one pin sees both.",
            "Read two opposite pins and write their mean (rock_pins); it is the true rotation.",
            play.seqs,
        ),
    )


def offset_or_tir(bench: Bench) -> tuple[Doubt, ...]:
    """E-16: a throw that may be a TIR, or two throws that differ by a factor of two."""
    rows = [r for r in bench.of("adjuster_throw") if r.value]
    said = [r for r in rows if "tir" in f"{r.raw} {r.note}".casefold()]
    values = [r.value for r in rows if r.value]
    twice = len(values) > 1 and abs(max(values) / min(values) / 2 - 1) < 0.1
    if not said and not twice:
        return ()
    seen = (
        f"Row {said[0].seq} of the throw speaks of TIR."
        if said
        else "Two readings of the throw differ by a factor of two."
    )
    return (
        Doubt(
            "ask",
            "E-16",
            seen,
            "The throw is the offset of the bore; the TIR, the whole needle swing, is twice that.",
            "Offset or TIR? Replace the row with half the swing.",
            tuple(r.seq for r in (said or rows)),
        ),
    )


def unit_mark(bench: Bench) -> tuple[Doubt, ...]:
    """E-40: no mark that tells this unit from another of the same model."""
    mark = bench.job.rotary.unit_id.strip()
    if mark.strip("?-. ").casefold() not in {"", "none", "na", "n/a", "unknown", "unit", "same"}:
        return ()
    return (
        Doubt(
            "refuse",
            "E-40",
            f"The unit has no mark of its own ({mark!r}).",
            "Two units of one model differ; a sheet copied from another one misleads.",
            "Stamp or paint a number on it and write it as unit_id in job.toml.",
        ),
    )


def standing_sideways(bench: Bench, pair: WormPair) -> tuple[Doubt, ...]:
    """E-19: the centres stand open by more than the rock shows: the worm may stand sideways."""
    tip, throat, centres = pair.worm_od, pair.throat, pair.centre_distance
    radii = [(r.value or 0.0) * pair.r2 / radius for r in _rocks(bench) if (radius := _radius(r))]
    if not tip or not throat or not centres or not radii:
        return ()
    if all(kind == "helical" for kind, _ in pair.kinds):
        return ()
    depth = working_depth(
        worm_tip=tip.value, wheel_throat=throat.value, centre_distance=centres.value
    )
    opening = 2 * pair.axial_module - depth
    u = math.hypot(_u(tip) / 2, _u(throat) / 2, _u(centres), 0.1 * pair.axial_module)
    if 2 * pair.t * (opening - 3 * u) <= statistics.fmean(radii):
        return ()
    gap = shown(opening, "length", u=u, units=bench.job.units)
    return (
        Doubt(
            "warn",
            "E-19",
            f"The centres stand {gap} open, yet the table rocks less than that would give.",
            "A worm that stands sideways of the throat takes up play at the edges of the face; it "
            "comes back when they bed in.",
            "Blue the mesh: a patch at one edge on both flanks means the wheel must move along "
            "its axis before the depth is set.",
        ),
    )


def nearly_bottomed(bench: Bench, pair: WormPair) -> tuple[Doubt, ...]:
    """E-20: hardly any room at the tooth tips, so that bottoming may be taken for no play."""
    read = bench.figure("tip_clearance")
    clearance: float | None = None
    rows: tuple[int, ...] = ()
    if read is not None:
        clearance, rows = read.value, read.seqs
    elif pair.worm_od and pair.wheel_root and pair.centre_distance:
        clearance = worm_tip_clearance(
            centre_distance=pair.centre_distance.value,
            worm_tip=pair.worm_od.value,
            wheel_root=pair.wheel_root.value,
        )
    least = max(0.05, 0.05 * pair.axial_module)
    if clearance is None or clearance >= least:
        return ()
    found, wanted = (
        shown(x, "length", resolution=0.01, units=bench.job.units) for x in (clearance, least)
    )
    return (
        Doubt(
            "warn",
            "E-20",
            f"Only {found} between worm crest and wheel root; at least {wanted} is wanted.",
            "A worm that bottoms feels free of play and rocks again under load.",
            "Look for bright crests; check the worm outside diameter before closing the mesh.",
            rows,
        ),
    )


def _rocks(bench: Bench) -> list[Reading]:
    return [r for kind in ROCKS for r in bench.of(kind) if r.value is not None]


def _radius(reading: Reading) -> float | None:
    return reading.number("pin_radius")


def _u(estimate: Estimate) -> float:
    return estimate.u


BENCH_TRAPS = (drift, table_play_in_rock, offset_or_tir, unit_mark)
"""Traps in the sheet that need no knowledge of the pair."""
PAIR_TRAPS = (mixed_worm_phase, one_worm_phase, standing_sideways, nearly_bottomed)
"""Traps that need the pair."""
