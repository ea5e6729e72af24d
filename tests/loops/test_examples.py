"""The example jobs: what their pages promise is what the tool finds, against the made-up truth."""

from __future__ import annotations

import math
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from wormwright.app.measure import sound
from wormwright.job.findings import Diagnosis
from wormwright.job.reading import Reading
from wormwright.stages.diagnose import diagnose
from wormwright.stages.measure import measure
from wormwright.store import JobFolder

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@cache
def found(name: str) -> tuple[Diagnosis, dict[str, Any]]:
    folder = JobFolder.open(EXAMPLES / name)
    truth = tomllib.loads((EXAMPLES / name / "truth.toml").read_text(encoding="utf-8"))
    return diagnose(folder.job, sound(folder, folder.readings).readings), truth


def readings_of(name: str) -> tuple[Reading, ...]:
    return JobFolder.open(EXAMPLES / name).readings


@pytest.mark.parametrize("name", ["garage-router", "club-table"])
def test_every_cause_of_the_full_examples_holds_its_truth(name: str) -> None:
    diagnosis, truth = found(name)
    for cause in diagnosis.contributors:
        if cause.key in truth["at_r2_mm"]:
            real = truth["at_r2_mm"][cause.key]
            assert cause.at_r2.low <= real <= cause.at_r2.high, cause.key
    assert diagnosis.contributors[0].key == "mesh"
    assert diagnosis.contributors[1].key == "end_play"


@pytest.mark.parametrize(
    ("name", "tight_deg"), [("garage-router", 215 - 180), ("club-table", 50 + 180)]
)
def test_the_tight_spot_is_where_the_pages_say(name: str, tight_deg: float) -> None:
    spot = found(name)[0].tight_spot.angle
    assert spot is not None
    assert spot.low <= math.radians(tight_deg) <= spot.high


def test_the_planted_traps_are_found_and_their_rows_are_kept_out() -> None:
    folder = JobFolder.open(EXAMPLES / "garage-router")
    sheet = measure(folder.job, folder.readings)
    codes = {d.code for d in sheet.doubts}
    assert {"E-3", "E-42"} <= codes
    kept = {r.seq for r in sound(folder, folder.readings).readings}
    slip = next(r.seq for r in folder.readings if r.kind == "rock" and (r.value or 0) > 2)
    assert slip not in kept
    club = JobFolder.open(EXAMPLES / "club-table")
    lever = next(r.seq for r in club.readings if r.said("surface") == "lever tip")
    refused = measure(club.job, club.readings)
    assert "E-6" in {d.code for d in refused.doubts}
    assert lever not in {r.seq for r in refused.usable}


def test_the_bar_leans_and_the_register_explains_a_third_of_its_offset() -> None:
    bar = next(f for f in found("garage-router")[0].findings if f.key == "bar")
    offset, register = bar.of("offset"), bar.of("offset table bore")
    assert offset is not None
    assert register is not None
    assert offset.low <= 0.0328 <= offset.high
    assert 0.25 <= register.value / offset.value <= 0.45


def test_locking_the_router_axis_turns_its_table_by_half_a_minute() -> None:
    clamp = next(f for f in found("garage-router")[0].findings if f.key == "clamp")
    turned = clamp.of("angle")
    assert turned is not None
    assert turned.low <= 0.012 / 80 <= turned.high
    assert math.degrees(turned.value) * 60 == pytest.approx(0.5, abs=0.1)


def test_the_blue_of_the_router_says_open_and_the_oil_of_the_club_table_is_warned_about() -> None:
    router = JobFolder.open(EXAMPLES / "garage-router")
    blue = measure(router.job, router.readings).blue
    assert blue is not None
    assert blue.cause == "too far apart"
    club = JobFolder.open(EXAMPLES / "club-table")
    assert "E-38" in {d.code for d in measure(club.job, club.readings).doubts}


def test_four_readings_answer_without_pretending() -> None:
    diagnosis, truth = found("four-readings")
    mean = diagnosis.lost_motion_mean
    assert math.degrees(mean.low) * 60 <= truth["at_r2_mm"]["all_arcmin"]
    assert math.degrees(mean.high) * 60 >= truth["at_r2_mm"]["all_arcmin"]
    assert diagnosis.tight_spot.angle is None
    assert diagnosis.next_reading
    assert len(diagnosis.not_measured) >= 5
    assert len(readings_of("four-readings")) == 4


def test_the_examples_on_disk_are_what_the_script_makes(tmp_path: Path) -> None:
    """Guards against examples edited by hand: made again, they are the same bytes."""
    import make_examples  # noqa: PLC0415  (from scripts/)
    from example_proved import PROVED  # noqa: PLC0415
    from example_units import CLUB, FOUR, ROUTER  # noqa: PLC0415

    for example in (ROUTER, CLUB, FOUR, PROVED):
        make_examples.make(example, tmp_path)
        for made in sorted((tmp_path / example.name).iterdir()):
            kept = EXAMPLES / example.name / made.name
            assert made.read_bytes() == kept.read_bytes(), made.name
