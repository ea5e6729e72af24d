"""The parameter sheet: names of the quantities with units and signs, for any control."""

from __future__ import annotations

import math
from fractions import Fraction

from wormwright.core.steps import turns_of_counter
from wormwright.job.commissioning import Commissioning, Setting
from wormwright.job.control import Control
from wormwright.job.given import Given
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job
from wormwright.stages.commission.ratio import Gearing


def fraction_text(value: Fraction) -> str:
    """An exact fraction as text.

    >>> fraction_text(Fraction(4000, 9)), fraction_text(Fraction(320))
    ('4000/9 = 444.444...', '320')
    """
    if value.denominator == 1:
        return str(value.numerator)
    decimal = f"{float(value):.3f}"
    ends = Fraction(decimal) == value
    return f"{value.numerator}/{value.denominator} = {decimal}{'' if ends else '...'}"


def settings_of(
    job: Job, gearing: Gearing, safe: Estimate | None, acceleration: Given | None
) -> tuple[Setting, ...]:
    """Every line of the sheet."""
    control = job.control or Control()
    typed = round(gearing.per_degree, control.decimals)
    found = [
        Setting("axis", control.axis, "rotary, in degrees, never in mm or in"),
        Setting("ratio, motor turns for a table turn", fraction_text(gearing.ratio), gearing.said),
        Setting("pulses for a motor turn", str(gearing.pulses_per_turn), "set the driver so"),
        Setting("pulses for a degree, exact", fraction_text(gearing.per_degree), ""),
        Setting(
            "pulses for a degree, to type",
            f"{float(typed):.{control.decimals}f} pulses/degree",
            "the label may say mm: it is degrees",
        ),
        Setting(
            "plus",
            f"table turns {control.positive}",
            "seen on its face; change the direction setting, never the sign in a programme",
        ),
    ]
    found += _speeds(safe, acceleration)
    return (*found, *_ends(control, gearing), *_feed_words(control))


def _speeds(safe: Estimate | None, acceleration: Given | None) -> list[Setting]:
    found = []
    if safe is not None:
        degrees = math.floor(360 * safe.low)
        found.append(Setting("largest speed", f"{degrees} degrees/min", "the lowest of its limits"))
    else:
        found.append(Setting("largest speed", "not known", "see the limits of speed"))
    if acceleration is not None and acceleration.low > 0:
        value = math.degrees(acceleration.low)
        step = 10.0 ** (math.floor(math.log10(value)) - 1)
        rounded = math.floor(value / step) * step
        remark = "half of what the torque left over gives; start with a tenth"
        found.append(Setting("largest acceleration", f"{rounded:.0f} degrees/s²", remark))
    else:
        remark = "rotor_inertia, drag and torque curve must be known; start low"
        found.append(Setting("largest acceleration", "not known", remark))
    return found


def _ends(control: Control, gearing: Gearing) -> list[Setting]:
    turns = turns_of_counter(per_degree=gearing.per_degree, bits=control.bits)
    wrap = "360 degrees is 0 again" if control.wraps else "counts on through 360 degrees"
    limits = (
        "off: the axis is endless"
        if control.wraps
        else f"-{turns * 360} and +{turns * 360} degrees: the counter, not the table"
    )
    home = "switch, then the worm's own mark" if control.home_repeat else "by indicator, zero set"
    return [
        Setting("wrap", wrap, "a move of 350 degrees plus must not go 10 degrees minus"),
        Setting("soft limits", limits, "a limit of 360 left on stops one direction"),
        Setting("homing", f"toward minus, then on plus: {home}", "always from the same side"),
    ]


def _feed_words(control: Control) -> list[Setting]:
    linear = {
        "linear part": "F is mm/min along X, Y, Z; the table keeps up; alone it is degrees/min",
        "one vector": "F is of mm and degrees as one vector",
    }[control.feed_rule]
    inverse = {
        "blocks a minute": "F is blocks a minute (1/min), in every block",
        "seconds a block": "F is seconds a block",
        "blocks a second": "F is blocks a second",
        "none": "not there: use degrees/min for turning alone",
    }[control.inverse_time]
    return [
        Setting("feed a minute (G94)", linear, "ask the control's manual, then set feed_rule"),
        Setting("inverse time (G93)", inverse, "set inverse_time to what the manual says"),
    ]


def sheet_text(found: Commissioning, job: Job) -> str:
    """The sheet as plain text, one line a setting."""
    width = max(len(s.name) for s in found.settings)
    lines = [
        f"PARAMETER SHEET  {job.name}  {job.rotary.marked}",
        *(["MADE-UP EXAMPLE"] if job.made_up else []),
        "",
        *(f"{s.name:<{width}}  {s.figure}" for s in found.settings),
        "",
    ]
    return "\n".join(lines)
