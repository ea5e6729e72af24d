"""The shape of an eccentric bushing in mm: x from the flange face inward, y up the throw."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.drawings.refusal import refuse_faults
from wormwright.job.parts import EccentricBushing

Loop = tuple[tuple[float, float], ...]


def inner_radii(part: EccentricBushing) -> tuple[float, float]:
    """Radius of the bearing seat and of the shoulder bore [mm]."""
    return part.bore.size / 2, part.shoulder_bore / 2


@dataclass(frozen=True, slots=True)
class Profile:
    """Where the section has its edges, along the axis [mm]."""

    overall: float
    seat_from: float
    seat_to: float
    edges_behind: tuple[tuple[float, float, float], ...]

    @classmethod
    def of(cls, part: EccentricBushing) -> Profile:
        """The profile of a bushing; `edges_behind` are (x, low y, high y) seen past the cut."""
        overall = part.flange_thickness + part.length
        from_face = part.seat_opens == "flange face"
        start = 0.0 if from_face else overall - part.bearing_depth
        end = part.bearing_depth if from_face else overall
        seat, shoulder = inner_radii(part)
        e = part.throw
        step = end if from_face else start
        mouth, far = (0.0, overall) if from_face else (overall, 0.0)
        c = part.chamfer if from_face else -part.chamfer
        return cls(
            overall,
            start,
            end,
            (
                (mouth, e - seat - part.chamfer, e + seat + part.chamfer),
                (mouth + c, e - seat, e + seat),
                (step, e - seat, e + seat),
                (far, e - shoulder, e + shoulder),
            ),
        )


def checked(part: EccentricBushing) -> EccentricBushing:
    """The same bushing, or a refusal that names what cannot be made."""
    seat, shoulder = inner_radii(part)
    overall = part.flange_thickness + part.length
    wall = part.outside.size / 2 - part.throw - seat
    slots_in = (part.slot_circle - part.slot_width) / 2
    slots_out = (part.slot_circle + part.slot_width) / 2
    pitch = math.tau / max(part.slot_count, 1)
    used = part.slot_sweep + part.slot_width / (part.slot_circle / 2)
    faults = (
        (wall <= 0, f"throw {part.throw} mm leaves no wall at the seat ({wall:.3f} mm)"),
        (shoulder >= seat, "shoulder bore is not smaller than the bearing seat"),
        (not 0 < part.bearing_depth < overall, "bearing seat is not shallower than the bushing"),
        (slots_in <= part.outside.size / 2, "clamp slots cut into the body; enlarge slot_circle"),
        (slots_out >= part.flange_outside / 2, "clamp slots break out of the flange rim"),
        (part.slot_count < 1 or used >= pitch, "clamp slots run into each other"),
    )
    refuse_faults(f"eccentric bushing {part.side} cannot be made", faults)
    return part


def slot_centres(part: EccentricBushing) -> tuple[float, ...]:
    """Angles of the slot centres from the throw direction, counter-clockwise on the face [rad]."""
    pitch = math.tau / part.slot_count
    return tuple(pitch * (number + 0.5) for number in range(part.slot_count))


def slot_outline(
    part: EccentricBushing,
) -> tuple[tuple[float, float, float, float | None], ...]:
    """The four arcs of a slot: (radius, start, end, angle of its centre or None for the axis)."""
    half, r = part.slot_sweep / 2, part.slot_width / 2
    mean = part.slot_circle / 2
    return (
        (mean - r, -half, half, None),
        (mean + r, -half, half, None),
        (r, half, half + math.pi, half),
        (r, -half + math.pi, -half + math.tau, -half),
    )


def _slot_is_cut(part: EccentricBushing, angle: float) -> bool:
    """Whether a slot lies on the cutting plane at `angle` from the throw direction."""
    reach = part.slot_sweep / 2
    return any(
        abs(math.remainder(angle - centre, math.tau)) <= reach + 1e-9
        for centre in slot_centres(part)
    )


def section_loops(part: EccentricBushing) -> tuple[Loop, ...]:
    """The cut faces of section A-A as closed runs of points: walls, and flange beyond a slot."""
    loops: list[Loop] = []
    for sign, angle in ((1.0, 0.0), (-1.0, math.pi)):
        loops.extend(_wall(part, sign, slot=_slot_is_cut(part, angle)))
    return tuple(loops)


def _wall(part: EccentricBushing, sign: float, *, slot: bool) -> list[Loop]:
    profile = Profile.of(part)
    t, overall, c = part.flange_thickness, profile.overall, part.chamfer
    body, rim = part.outside.size / 2, part.flange_outside / 2
    top = (part.slot_circle - part.slot_width) / 2 if slot else rim
    outer = (
        (0.0, top),
        (t, top),
        (t, body),
        (overall - c, body),
        (overall, body - c),
    )
    inner = _bore(part, sign)
    loops: list[Loop] = [tuple((x, sign * y) for x, y in (*outer, *inner))]
    if slot:
        low = (part.slot_circle + part.slot_width) / 2
        loops.append(tuple((x, sign * y) for x, y in ((0.0, low), (t, low), (t, rim), (0.0, rim))))
    return loops


def _bore(part: EccentricBushing, sign: float) -> Loop:
    """The bore line from the inner end back to the flange face, as distance from the body axis."""
    seat, shoulder = inner_radii(part)
    shift = sign * part.throw
    big, small = seat + shift, shoulder + shift
    overall, depth, c = Profile.of(part).overall, part.bearing_depth, part.chamfer
    if part.seat_opens == "flange face":
        return ((overall, small), (depth, small), (depth, big), (c, big), (0.0, big + c))
    step = overall - depth
    return ((overall, big + c), (overall - c, big), (step, big), (step, small), (0.0, small))
