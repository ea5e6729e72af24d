"""Which means of measuring an angle is fine enough for this duty: a table before any reading."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from wormwright.core.angle_means import (
    share_left,
    u_of_arm,
    u_of_closed_polygon,
    u_of_indexed_square,
    u_of_sensor_table,
)
from wormwright.core.small_angle import (
    angle_of_laser,
    angle_of_mirror,
    angle_of_sine_bar,
    angle_of_swept_face,
)
from wormwright.handbook.instruments import instrument
from wormwright.job.blocks import Block, Cell, Heading, Paragraph, Steps, Table
from wormwright.job.rotary import Job
from wormwright.quantities import shown

FINE, COARSE = "lever indicator 0.002 mm", "lever indicator 0.01 mm"
ARM, ARM_U = 100.0, 0.5
SWEPT = 75.0
CORNER = 0.010 / 75.0 / math.sqrt(3)
"""Corner of a 1-2-3 block as bought, within 0.010 mm over its face (makers' usual figure), rad."""
BLOCKS_U, BAR_U, BAR = 0.001, 0.003, 100.0
SPOT_U, FAR = 0.5, 3000.0
"""A laser spot marked by hand, and the length of a small shop, mm."""
POINTING = math.radians(3 / 3600)
SENSOR, SENSOR_STEP = math.radians(40 / 3600), math.radians(2.5 / 3600)
"""An angle sensor with its own bearing, as such are stated (common practice), rad."""

GOOD, USABLE = 0.75, 0.5
"""Share of the allowed error that a means must leave to the axis (common practice)."""


@dataclass(frozen=True, slots=True)
class Means:
    """One means as set up in a small shop: the angles it reaches, its u (rad), what it needs."""

    label: str
    angles: str
    u: float
    mind: str


def means_for(job: Job) -> tuple[Means, ...]:
    """Every means with the doubt of one angle of the table, finest first."""
    return tuple(sorted((*_with_indicator(job), *_without(job)), key=lambda m: m.u))


def _with_indicator(job: Job) -> Iterator[Means]:
    allowed = job.duty.error_mm / job.duty.radius_mm
    arm, swept = _length(ARM, job), _length(SWEPT, job)
    fine = instrument(FINE).u_of_difference(turned_back=False)
    coarse = instrument(COARSE).u_of_difference(turned_back=False)
    for name, u in ((FINE, fine), (COARSE, coarse)):
        reach = (instrument(name).travel or 0.0) / 2 / ARM
        yield Means(
            f"arm of {arm} and {name}",
            f"within {math.degrees(reach):.2g}° of where it was set",
            u_of_arm(error=min(allowed, 0.05), radius=ARM, reading_u=u, radius_u=ARM_U),
            "Reversal and scatter at any one place; it brings no angle of its own.",
        )
    one = fine / math.sqrt(2)
    yield Means(
        f"1-2-3 block as bought, faces swept over {swept}",
        "every 90°",
        u_of_indexed_square(length=SWEPT, reading_u=one, corner_u=CORNER),
        "The block's own corners count in full: close it instead.",
    )
    yield Means(
        "square or 1-2-3 block, closed in 4 set-ups",
        "every 90°",
        u_of_closed_polygon(
            faces=4,
            set_ups=4,
            pointing_u=angle_of_swept_face(change=0.0, length=SWEPT, reading_u=one).u,
        ),
        "16 sweeps; the block may be wrong and still need not be known.",
    )


def _without(job: Job) -> Iterator[Means]:
    far = _length(FAR, job)
    yield Means(
        "polygon or index plate of 12, closed in 3 set-ups",
        "every 30°",
        u_of_closed_polygon(faces=12, set_ups=3, pointing_u=POINTING),
        "Faces 1, 2 and 5 in line at 0; 36 readings, 11 of them to spare.",
    )
    yield Means(
        f"sine bar of {_length(BAR, job)} on blocks, at 30°",
        "any, up to 45°",
        angle_of_sine_bar(height=50.0, length=BAR, height_u=BLOCKS_U, length_u=BAR_U).u,
        "Axis level; the indicator then says when the bar lies level. Worse above 45°.",
    )
    yield Means(
        f"mirror on the table, spot at {far}",
        "within 3° of where it was set",
        angle_of_mirror(shift=0.0, distance=FAR, shift_u=SPOT_U).u,
        "Spot wander and draughts decide; for small angles only.",
    )
    yield Means(
        f"laser on the table, spot at {far}",
        "within 5° of where it was set",
        angle_of_laser(shift=0.0, distance=FAR, shift_u=SPOT_U).u,
        "Half as fine as the mirror; the laser must sit still on its seat.",
    )
    yield Means(
        "angle sensor in its own bearing, soft coupling",
        "any",
        u_of_sensor_table(half_width=SENSOR, step=SENSOR_STEP),
        "Sees worm and reversal too; its own once-a-turn error counts, close it to halve it.",
    )


def means_blocks(job: Job) -> tuple[Block, ...]:
    """The table of means for this duty, with the words that keep a reading true."""
    allowed = job.duty.error_mm / job.duty.radius_mm
    rows = tuple(
        (
            Cell(m.label),
            Cell(m.angles),
            Cell(shown(2 * m.u, "angle", resolution=m.u / 5)),
            Cell(_left(m.u, allowed)),
            Cell(m.mind),
        )
        for m in means_for(job)
    )
    return (
        Heading("What to measure the angle with", 2),
        Paragraph(
            f"Allowed at {_length(job.duty.radius_mm, job)} radius: "
            f"{_length(job.duty.error_mm, job)}, which is "
            f"{shown(allowed, 'angle', resolution=allowed / 20)}. A proof must stay inside that by "
            "1.65 times the doubt of the means (95 %); what is left is for the axis. Figures are "
            "those of a careful small shop; your own doubt goes into --u of the readings."
        ),
        Table(
            "Each means, finest first",
            ("means", "angles", "doubt, ±", "leaves to the axis", "mind"),
            rows,
        ),
        Steps(
            (
                "Lever indicator: stylus along the surface, square to the motion. Off by 15° it "
                "reads 3.5 % too much, by 30° 15 %; write the tilt with the reading (stylus) and "
                "it is taken off. Beyond 30° set it again.",
                "Read differences of a few divisions near the middle of the scale; come to every "
                "reading from the same side.",
                "Let table, block and indicator lie an hour in the same air; hands off the block.",
            )
        ),
    )


def _left(u: float, allowed: float) -> str:
    share = share_left(u=u, allowed=allowed)
    if share == 0:
        return "nothing: it cannot prove this"
    word = "good" if share >= GOOD else "usable" if share >= USABLE else "only a gross error shows"
    return f"{share:.0%}, {word}"


def _length(value: float, job: Job) -> str:
    return shown(value, "length", resolution=value / 100, units=job.units)
