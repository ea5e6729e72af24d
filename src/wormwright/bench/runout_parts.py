"""Where runout comes from: offset and tilt of the bar, and what each part of the stack adds."""

from __future__ import annotations

import math
import statistics

from wormwright.bench.runout import SetUp, direction_of, size_of
from wormwright.core.runout_causes import BarAxis, bar_axis, offsets_by_part, slopes_by_part
from wormwright.core.turn_vector import TurnVector
from wormwright.job.findings import Figured, Finding
from wormwright.quantities import Dimension

TABLE, ADAPTER = ("table face", ""), ("adapter face",)


def bar_finding(set_ups: tuple[SetUp, ...]) -> Finding:
    """Offset and tilt of the bar, and which part adds what; needs one series of a bar."""
    bars = [s for s in set_ups if s.kind == "bar_runout"]
    planes = {z: _mean([b.vector for b in bars if b.place == z]) for z in {b.place for b in bars}}
    words = _grip_words(bars)
    if len(planes) < 2:
        words.append(
            "One distance from the jaws cannot tell offset from tilt, even if it reads true: read "
            "the bar at a second distance, the same places."
        )
        return Finding("bar", "Bar: offset and tilt", (), tuple(words))
    near, far = min(planes), max(planes)
    bar = bar_axis(near=planes[near], far=planes[far], near_z=near, far_z=far)
    figures = [
        *_figures("offset", "offset of the bar at the jaws", bar.offset_at(0.0), "length"),
        *_figures("tilt", "lean of the bar", bar.tilt, "angle"),
    ]
    words.append(_bar_words(bar))
    figures += _stack(set_ups, bar)
    return Finding("bar", "Bar: offset and tilt", tuple(figures), tuple(words))


def register_finding(set_ups: tuple[SetUp, ...]) -> Finding | None:
    """Offset and lean of a register read at two heights; None when it was not."""
    read = [s for s in set_ups if s.kind == "register_runout"]
    for surface in dict.fromkeys(s.surface for s in read):
        planes = {s.place: s.vector for s in read if s.surface == surface}
        if len(planes) < 2:
            continue
        low, high = min(planes), max(planes)
        axis = bar_axis(near=planes[low], far=planes[high], near_z=low, far_z=high)
        figures = (
            *_figures(
                "offset", "offset of the register at its foot", axis.offset_at(0.0), "length"
            ),
            *_figures("tilt", "lean of the register", axis.tilt, "angle"),
        )
        words = (
            "The register leans: true the face it stands on before the register itself."
            if axis.tilt.stands_out
            else "The register does not lean: what is off is off all along."
        )
        return Finding("register", "Register: offset and lean", figures, (words,))
    return None


def _mean(vectors: list[TurnVector]) -> TurnVector:
    """Mean of the gripping repeats; from two on their own scatter counts as well."""
    n = len(vectors)
    x, y = statistics.fmean(v.x for v in vectors), statistics.fmean(v.y for v in vectors)
    u = math.hypot(*(v.u for v in vectors)) / n
    if n > 1:
        apart = math.hypot(
            statistics.stdev(v.x for v in vectors), statistics.stdev(v.y for v in vectors)
        )
        u = max(u, apart / math.sqrt(2 * n))
    return TurnVector(x, y, u)


def _figures(key: str, label: str, vector: TurnVector, dimension: Dimension) -> list[Figured]:
    out = [Figured(key, label, size_of(vector, dimension))]
    at = direction_of(vector)
    if at is not None:
        out.append(Figured(f"{key}_at", f"{label}, toward table angle", at))
    return out


def _grip_words(bars: list[SetUp]) -> list[str]:
    grips = {b.grip for b in bars}
    if len(grips) < 2:
        return ["The bar was gripped once: grip it again to see how well the chuck repeats."]
    place = max(b.place for b in bars)
    vectors = [b.vector for b in bars if b.place == place]
    apart = max(a.minus(b).size for a in vectors for b in vectors)
    u = max(v.u for v in vectors) * math.sqrt(2)
    if apart > 2.5 * u:
        return [
            "The chuck does not repeat: grips differ by more than their doubt. Cure that first."
        ]
    return [f"{len(grips)} grips agree within their doubt."]


def _bar_words(bar: BarAxis) -> str:
    offset, tilt = bar.offset_at(0.0), bar.tilt
    if offset.stands_out and tilt.stands_out:
        return "The bar is off and leans: cure the lean first (face, seat), then the offset."
    if tilt.stands_out:
        return (
            "The bar leans but is central at the jaws: a face or a seat is off, not the register."
        )
    if offset.stands_out:
        return "The bar runs parallel but off: the register or the chuck is off, not a face."
    return "Neither offset nor lean of the bar stands out of the noise."


def _stack(set_ups: tuple[SetUp, ...], bar: BarAxis) -> list[Figured]:
    """What table, adapter and chuck add, as far as each was read."""
    slopes = slopes_by_part(
        table_face=_slope(set_ups, TABLE),
        adapter_face=_slope(set_ups, ADAPTER),
        bar_tilt=bar.tilt,
    )
    offsets = offsets_by_part(
        table_bore=_offset(set_ups, ("bore", "taper", "spigot", "")),
        register=_offset(set_ups, ("adapter spigot",)),
        bar_at_register=bar.offset_at(0.0),
    )
    out = [
        Figured(f"slope {p.part}", f"slope added by: {p.part}", size_of(p.vector, "angle"))
        for p in slopes
    ]
    out += [
        Figured(f"offset {p.part}", f"offset added by: {p.part}", size_of(p.vector, "length"))
        for p in offsets
    ]
    return out if len(slopes) > 1 or len(offsets) > 1 else []


def _slope(set_ups: tuple[SetUp, ...], surfaces: tuple[str, ...]) -> TurnVector | None:
    """Slope of a face from its largest radius, rad."""
    faces = [
        s for s in set_ups if s.kind == "face_runout" and s.surface in surfaces and s.place > 0
    ]
    if not faces:
        return None
    widest = max(faces, key=lambda s: s.place)
    return widest.vector.times(1 / widest.place)


def _offset(set_ups: tuple[SetUp, ...], surfaces: tuple[str, ...]) -> TurnVector | None:
    found = [s.vector for s in set_ups if s.kind == "register_runout" and s.surface in surfaces]
    return found[0] if found else None
