"""Which oil or grease suits the metal of the wheel, and what must not be mixed or washed."""

from __future__ import annotations

from wormwright.handbook.lubricants import lubricant_for
from wormwright.job.rotary import Job

COLD = 15.0
"""Shop temperature, °C, below which the usual gearbox grade drags a small motor (practice)."""


def wheel_metal(name: str) -> str:
    """The family of the wheel's material, as far as its oil is concerned."""
    return lubricant_for(name).metal


def what_to_fill(job: Job) -> str:
    """The oil or grease for this wheel, in the words of a shop list."""
    return lubricant_for(job.rotary.wheel_material).fill


def lubricant_lines(job: Job) -> tuple[str, ...]:
    """What to fill, and the warnings that go with it."""
    lines = [f"Wheel of {job.rotary.wheel_material}: {what_to_fill(job)}."]
    if lubricant_for(job.rotary.wheel_material).attacked:
        lines.append(
            "Active sulphur and phosphorus attack bronze, worse above about 70 °C: read the label."
        )
    if job.duty.shop_low_c < COLD:
        lines.append(
            "This shop gets cold: VG 460 can stall a small motor at the start. Take a thinner "
            "grade or way oil, and read the drag at the lowest shop temperature."
        )
    lines.append("Polyglycol does not mix with mineral oil: wash out all of the old one first.")
    lines.append("Bushes filled with oil go in soaked; one that met the solvent is dry inside.")
    return tuple(lines)
