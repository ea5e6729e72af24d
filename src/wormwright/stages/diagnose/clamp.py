"""Clamp shift: what moves when the table is locked, and what it costs at the work."""

from __future__ import annotations

from wormwright.bench import Bench, Figure
from wormwright.job.findings import Figured, Finding
from wormwright.quantities import shown
from wormwright.stages.diagnose.wording import estimate_from, estimate_of_figure

STATIONS = (("turning", "turning"), ("lift", "lift of the face"), ("sideways", "sideways"))


def clamp_finding(bench: Bench) -> Finding:
    """Shift of each kind with its doubt, the turning one at the table and at the duty's radius."""
    figures: list[Figured] = []
    words: list[str] = []
    for station, label in STATIONS:
        read = bench.figure("clamp_shift", station)
        if read is None:
            continue
        figures.append(
            Figured(station, f"clamp shift, {label}", estimate_of_figure(read, "length"))
        )
        if abs(read.value) <= 2 * read.u:
            words.append(f"No {label} on locking stands out of the noise.")
        if station == "turning":
            figures += _turned(bench, read, words)
    orders = {r.said("order") for r in bench.of("clamp_shift") if r.said("order")}
    if len(orders) > 1:
        words.append(
            "The screws were locked in different orders: keep to one, or it does not repeat."
        )
    words.append("Lock slowly, always in the same order, and zero after locking.")
    return Finding("clamp", "Clamp shift", tuple(figures), tuple(words))


def _turned(bench: Bench, read: Figure, words: list[str]) -> list[Figured]:
    """The turning shift at the table; words when it eats the duty at the duty's radius."""
    radii = [r.number("radius") for r in bench.of("clamp_shift", "turning")]
    known = [radius for radius in radii if radius]
    if not known:
        words.append("The radius of the turning shift was not written: no angle can be given.")
        return []
    angle = estimate_from(read.value / known[-1], read.u / known[-1], "angle", "mean of readings")
    duty = bench.job.duty
    at_work = abs(angle.value) * duty.radius_mm
    if at_work > duty.error_mm / 2:
        size_words = shown(at_work, "length", u=angle.u * duty.radius_mm, units=bench.job.units)
        words.append(
            f"Locking turns the work by {size_words} at the duty's radius, more than half of what "
            "the duty allows: dress the brake before anything else, or never lock."
        )
    return [Figured("angle", "clamp shift, turning, at the table", angle)]
