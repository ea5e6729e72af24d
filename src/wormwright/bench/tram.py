"""How far the axis may lean against the travel: from the duty, the machine and trade practice."""

from __future__ import annotations

from dataclasses import dataclass

from wormwright.job.rotary import Job

USUAL_SPAN = 150.0
"""Length over which a lean is stated when the work length is not known, mm."""
PRACTICE = {"mill": 0.0127 / 152.4, "lathe": 0.0127 / 152.4, "router": 0.05 / 150.0}
"""Half a thou in 6 in on a mill, 0.05 mm in 150 mm on a router (common practice)."""
OTHER = 0.02 / 150.0


@dataclass(frozen=True, slots=True)
class AllowedLean:
    """Lean allowed for each mm, the span it is stated over in mm, and where it is from."""

    lean: float
    span: float
    why: str

    @property
    def over(self) -> float:
        """The lean over the span, mm."""
        return self.lean * self.span


def allowed_lean(job: Job) -> AllowedLean:
    """What the axis may lean: as typed, else the stricter of the duty and trade practice.

    The duty allows a radius to change by half its error over the work length.
    """
    mount = job.mount
    span = (mount.work_length if mount else None) or USUAL_SPAN
    if mount is not None and mount.tolerance is not None:
        return AllowedLean(mount.tolerance / span, span, "as given in job.toml")
    practice = PRACTICE.get(job.machine.kind, OTHER)
    duty = job.duty.error_mm / 2 / span
    if duty < practice:
        return AllowedLean(duty, span, "half of the duty's error over the work length")
    return AllowedLean(practice, span, f"trade practice for a {job.machine.kind or 'machine'}")


TAIL_USUAL = {"mill": 0.0127, "lathe": 0.0127, "router": 0.05}
"""How near head and tail should agree: half a thou, 0.05 mm on a router (common practice)."""
TAIL_OTHER = 0.02


def tail_limit(job: Job) -> float:
    """How far head and tail may differ, mm."""
    return TAIL_USUAL.get(job.machine.kind, TAIL_OTHER)
