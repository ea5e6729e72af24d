"""What the worm bearings bear, their warm preload and the rings beside them."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

import correct_fixture as made
from wormwright.job.corrections import Correction
from wormwright.job.rotary import Job
from wormwright.stages.correct import correct


def _worm_shim(
    job: Job | None = None,
    words: Mapping[tuple[str, str], str] | None = None,
    numbers: Mapping[tuple[str, str], float] | None = None,
) -> Correction:
    readings = made.readings(words=words, numbers=numbers)
    got = correct(job or made.job(), readings, made.diagnosis(), plan="worm_shim", draws=8192)
    assert got.chosen is not None
    (correction,) = got.chosen.corrections
    return correction


def test_new_bearings_in_the_bushings_show_safety_and_life_at_the_full_torque() -> None:
    weak = correct(made.job(), made.readings(), made.diagnosis(), draws=8192)
    strong = correct(
        made.job(torque_resist_nmm=3000.0), made.readings(), made.diagnosis(), draws=8192
    )
    found = []
    for remedy in (weak, strong):
        bushings = next(c for plan in remedy.plans for c in plan.corrections if c.key == "bushings")
        sizes = {name.split(" of ")[0]: size for name, size in bushings.checked}
        found.append((sizes["static safety"], sizes["rating life"]))
    (safety, life), (safer, longer) = found
    assert safety.low <= safety.value <= safety.high
    assert safer.value == pytest.approx(2 * safety.value, rel=1e-6)
    assert 4.0 < longer.value / life.value < 8.0, "the cube of the load, less the growth of Y"


def test_a_bearing_that_is_too_weak_for_the_thrust_is_said_with_its_safety() -> None:
    fine = _worm_shim()
    assert not any(d.code == "bearing too weak" for d in fine.doubts)
    heavy = _worm_shim(made.job(torque_resist_nmm=120_000.0))
    (doubt,) = [d for d in heavy.doubts if d.code == "bearing too weak"]
    assert "6202" in doubt.seen
    assert "2400 N" in doubt.seen


def test_own_end_float_follows_the_clearance_group_that_is_marked() -> None:
    def own(marking: str) -> tuple[str, float, float]:
        words = {("bearing_marking", side): marking for side in ("A", "B")}
        name, size = next(
            s for s in _worm_shim(words=words).checked if s[0].startswith("own end float")
        )
        return name, size.low, size.high

    name, low, high = own("6202")
    assert name.endswith("CN")
    assert (low, high) == pytest.approx((0.93 * 0.003**0.5, 0.93 * 0.018**0.5), rel=0.02)
    wider = own("6202 C3")
    assert wider[0].endswith("C3")
    assert wider[1] > low
    assert wider[2] > high


def test_a_pair_between_covers_loosens_warm_and_one_drawn_together_tightens() -> None:
    def band(arrangement: str) -> tuple[float, float, float]:
        words = {("worm_shim_arrangement", ""): arrangement}
        correction = _worm_shim(made.job(rise_k=30.0), words=words)
        sizes = dict(correction.sizes)
        warm = next(v for k, v in correction.checked if k.startswith("preload over"))
        return warm.low, sizes["preload"].value, warm.high

    low, cold, high = band("cover on outer ring")
    assert low < 0.3 * cold
    apart = cold - low
    low, cold, high = band("nut with inner spacer")
    assert high > 1.3 * cold
    assert cold - low < apart


def test_the_spring_that_would_hold_is_named_with_its_force() -> None:
    correction = _worm_shim(made.job(rise_k=30.0))
    (doubt,) = [d for d in correction.doubts if d.code == "E-15"]
    thrust = 6000.0 / 50.0
    assert f"at least {1.3 * thrust:.0f} N" in doubt.do
    assert f"{thrust / 2.83:.0f} N keep both bearings loaded" in doubt.seen
    assert not any(d.code == "E-15" for d in _worm_shim(made.job(rise_k=0.0)).doubts)


@pytest.mark.parametrize(
    ("arrangement", "inside", "outside", "drawn", "said"),
    [
        ("ring behind outer ring", 32.0, 34.8, True, None),
        ("ring behind outer ring", 28.0, 34.8, True, "ring over shield"),
        ("ring behind outer ring", 22.0, 34.8, False, "shim outline"),
        ("nut with inner spacer", 15.2, 20.5, True, None),
        ("nut with inner spacer", 15.2, 25.0, True, "ring over shield"),
        ("nut with inner spacer", 15.2, 31.0, False, "shim outline"),
    ],
)
def test_a_ring_beside_a_bearing_must_clear_shield_and_the_other_ring(
    arrangement: str, inside: float, outside: float, *, drawn: bool, said: str | None
) -> None:
    correction = _worm_shim(
        words={("worm_shim_arrangement", ""): arrangement},
        numbers={
            ("worm_shim_inside", ""): inside,
            ("worm_shim_outside", ""): outside,
            ("worm_shim", ""): 6.0,
        },
    )
    assert bool(correction.parts) is drawn
    codes = {d.code for d in correction.doubts} & {"ring over shield", "shim outline"}
    assert codes == ({said} if said else set())
