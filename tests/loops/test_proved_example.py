"""The example that was proved: what was put into it comes out, from its folder as a user has it."""

from __future__ import annotations

import json
import math
from pathlib import Path

from command_line import run
from example_proved import AXIS, CAM, PROVED_TRUTH
from simulated_axis import ARCSEC
from wormwright.app.prove import proved
from wormwright.store import JobFolder

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def test_wheel_worm_play_drift_and_scatter_come_out_as_they_were_put_in() -> None:
    proof, sound = proved(JobFolder.open(EXAMPLES / "proved-axis"))
    test, found = proof.positioning, proof.harmonics
    assert test is not None
    assert found is not None
    assert not sound.kept_out
    assert proof.doubts == ()
    wheel, worm, breathing = (found.of("table"), found.of("worm"), found.of("table", of_play=True))
    assert wheel is not None
    assert worm is not None
    assert breathing is not None
    for wave, amount in ((wheel, PROVED_TRUTH.wheel[0]), (worm, CAM)):
        cause = wave.causes[0].amount
        assert cause.low <= amount <= cause.high, wave.key
    breath = breathing.causes[0].amount
    assert abs(breath.value - PROVED_TRUTH.wheel[0]) < 3 * breath.u
    assert "agrees" in wheel.causes[0].compared
    assert test.drift is not None
    assert abs(test.drift.value - AXIS.drift * ARCSEC) < 2 * test.drift.u
    mean = test.of("reversal_mean")
    assert mean.low <= -AXIS.play_at(test.targets).mean() * ARCSEC <= mean.high


def test_the_table_of_the_example_takes_off_the_wheel_and_leaves_the_worm() -> None:
    made = proved(JobFolder.open(EXAMPLES / "proved-axis"))[0].compensation
    assert made is not None
    assert made.offered
    assert made.orders == 1
    size = max(abs(made.add))
    assert math.isclose(size, AXIS.waves[1.0][0] * ARCSEC, rel_tol=0.15)
    assert made.reversal <= made.least_play


def test_a_user_goes_from_the_example_to_the_files_for_the_control(tmp_path: Path) -> None:
    place = tmp_path / "axis"
    assert run("new", str(place), "--from", "proved-axis").code == 0
    said = run("prove", str(place))
    assert said.code == 0, said.err
    assert "11 targets, 5 runs from each side, measured with sensor table" in said.out
    assert "agrees with the rocks" in said.out
    assert run("packet", str(place)).code == 0
    packet = place / "packet"
    assert (packet / "compensation.csv").read_text(encoding="utf-8").startswith("angle [deg]")
    results = json.loads((packet / "results.json").read_text(encoding="utf-8"))["proof"]
    assert results["compensation"]["offered"] is True
    assert results["harmonics"]["waves"][0]["key"] == "table"
