"""Which oil or grease suits the metal of the wheel, and what must not be mixed or washed."""

from __future__ import annotations

from typing import Literal

from wormwright.job.rotary import Job

WheelMetal = Literal["yellow metal", "iron or steel", "plastic", "not known"]

COLD = 15.0
"""Shop temperature, °C, below which the usual gearbox grade drags a small motor (practice)."""

_NAMES: dict[WheelMetal, tuple[str, ...]] = {
    "yellow metal": ("bronze", "brass", "gunmetal", "copper"),
    "plastic": ("acetal", "pom", "delrin", "nylon", "polyamide", "plastic"),
    "iron or steel": ("iron", "steel"),
}


def wheel_metal(name: str) -> WheelMetal:
    """The family of the wheel's material, as far as its oil is concerned."""
    wanted = name.casefold()
    for metal, words in _NAMES.items():
        if any(word in wanted for word in words):
            return metal
    return "not known"


_FOR: dict[WheelMetal, str] = {
    "yellow metal": "compounded gear oil that is safe for yellow metal, VG 460 as usual gearbox "
    "grade, or a grease made from it; no EP or hypoid oil",
    "iron or steel": "mineral gear oil, VG 460 as usual gearbox grade; EP oil does no harm to iron",
    "plastic": "light grease or oil that its maker clears for that plastic; no EP oil, no solvent",
    "not known": "compounded gear oil that is safe for yellow metal, until the wheel is known to "
    "be iron",
}


def what_to_fill(job: Job) -> str:
    """The oil or grease for this wheel, in the words of a shop list."""
    return _FOR[wheel_metal(job.rotary.wheel_material)]


def lubricant_lines(job: Job) -> tuple[str, ...]:
    """What to fill, and the warnings that go with it."""
    lines = [f"Wheel of {job.rotary.wheel_material}: {what_to_fill(job)}."]
    if wheel_metal(job.rotary.wheel_material) in ("yellow metal", "not known"):
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
