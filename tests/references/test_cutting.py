"""Cutting forces against printed problems and tables."""

from __future__ import annotations

import math

import numpy as np
import pytest

from published import derived, published, regression
from wormwright.core.cutting import (
    Kienzle,
    drill_chip,
    drilling,
    engagement,
    force_reverses,
    kienzle_fit,
    mean_chip,
    milling,
    milling_power,
    specific_force,
    surface_speed,
    turning_force,
    turning_power,
)

MAKER = "Mitsubishi Materials, technical data"
CHIPS = (0.1, 0.2, 0.3, 0.4, 0.6)
ALLOY = Kienzle(700, 0.25)


@published(
    work=MAKER, edition="milling pages", place="problem on cutting power, tool steel", known="read"
)
def test_power_of_the_face_milling_problem() -> None:
    power = milling_power(depth=2, width=80, feed_rate=280, specific=1800, efficiency=0.8)
    assert power / 1000 == pytest.approx(1.68, abs=0.005)


@published(
    work=MAKER, edition="turning pages", place="problem on cutting power, mild steel", known="read"
)
def test_power_of_the_turning_problem() -> None:
    power = turning_power(depth=3, feed=0.2, speed=120, specific=3100, efficiency=0.8)
    assert power / 1000 == pytest.approx(4.65, abs=0.005)


@published(
    work=MAKER, edition="milling pages", place="table of specific cutting forces", known="read"
)
@pytest.mark.parametrize(
    "forces",
    [(580, 480, 400, 350, 320), (1150, 950, 800, 700, 630), (2200, 1950, 1820, 1700, 1580)],
)
def test_two_figures_give_a_makers_table_back_within_five_per_cent(
    forces: tuple[float, ...],
) -> None:
    law = kienzle_fit(chip=CHIPS, force=forces)
    back = [specific_force(k11=law.k11, mc=law.mc, chip=h) for h in CHIPS]
    assert back == pytest.approx(forces, rel=0.05)


@published(
    work="König, Essel: Spezifische Schnittkraftwerte",
    edition="1973",
    place="C45 at 0.05 mm, k_c1.1 2220, m_c 0.14",
    known="from memory",
)
def test_specific_force_of_carbon_steel() -> None:
    assert specific_force(k11=2220, mc=0.14, chip=0.05) == pytest.approx(3377, abs=6)


@derived("by hand: 0.03 · 0.5 · 2/(π/2)")
def test_mean_chip_of_half_engagement() -> None:
    assert math.degrees(engagement(width=3, diameter=6)) == pytest.approx(90)
    assert mean_chip(feed_tooth=0.03, width=3, diameter=6) == pytest.approx(0.06 / math.pi)


@derived("power is mean force times cutting speed; the chip volume times its specific force")
def test_mean_force_does_the_work_of_the_power() -> None:
    cut = milling(
        material=ALLOY, depth=3, width=3, diameter=6, teeth=2, feed_tooth=0.03, spindle=12_000
    )
    assert cut.power == pytest.approx(203.3, abs=0.5)
    assert cut.mean_force * math.pi * 6 * 12_000 / 60_000 == pytest.approx(cut.power)


@derived("brute force: force of each tooth along its arc, averaged over the turn, by quadrature")
def test_mean_of_the_tooth_forces_is_near_the_force_from_the_mean_chip() -> None:
    cut = milling(
        material=ALLOY, depth=3, width=2, diameter=6, teeth=3, feed_tooth=0.03, spindle=12_000
    )
    end = engagement(width=2, diameter=6)
    at = np.linspace(1e-6, end, 4001)
    tooth = 700 * 3 * (0.03 * np.sin(at)) ** 0.75
    mean = float(np.trapezoid(tooth, at)) * 3 / (2 * math.pi)
    assert cut.mean_force == pytest.approx(mean, rel=0.05)
    assert cut.peak_force == pytest.approx(float(tooth.max()), rel=0.01)


@derived("two teeth in a full slot stand opposite: one of them cuts at any time")
def test_peak_of_a_slot_is_the_force_of_one_tooth() -> None:
    cut = milling(
        material=ALLOY, depth=3, width=6, diameter=6, teeth=2, feed_tooth=0.03, spindle=12_000
    )
    assert cut.peak_force == pytest.approx(700 * 3 * 0.03**0.75, rel=1e-3)
    assert force_reverses(width=6, diameter=6)
    assert not force_reverses(width=2, diameter=6)


@published(
    work="Formulas for drilling of tool makers",
    edition="general",
    place="F_f = 0.5 k_c f D/2 sin κ, M = k_c f D²/8000",
    known="from memory",
)
def test_thrust_and_torque_of_a_six_millimetre_drill() -> None:
    specific = specific_force(k11=700, mc=0.25, chip=drill_chip(feed=0.1))
    got = drilling(specific=specific, diameter=6, feed=0.1)
    assert got.thrust == pytest.approx(197.8, abs=0.6)
    assert got.torque == pytest.approx(692, abs=3)


@derived("by hand: π · 30 · 30 mm a minute")
def test_a_worm_rotary_turns_metal_at_walking_pace() -> None:
    assert surface_speed(diameter=30, rpm=30) == pytest.approx(2.827, abs=0.001)


@regression("scaling of Kienzle: moves if depth stops being proportional")
def test_turning_force_doubles_with_depth_but_not_with_feed() -> None:
    once = turning_force(material=ALLOY, depth=0.5, feed=0.1)
    assert turning_force(material=ALLOY, depth=1.0, feed=0.1) == pytest.approx(2 * once)
    assert turning_force(material=ALLOY, depth=0.5, feed=0.2) == pytest.approx(2**0.75 * once)


@pytest.mark.parametrize("width", [0.0, 6.1])
def test_a_width_that_no_cutter_takes_is_refused(width: float) -> None:
    with pytest.raises(ValueError, match="width"):
        engagement(width=width, diameter=6)
