"""A whole job followed at the terminal: every operation signed, a gate that fails, the way back."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from unittest import mock

import pytest

from command_line import Ran, run
from wormwright.app.correct import Planned, planned
from wormwright.app.sign import planned_operations
from wormwright.job.operation import Operation
from wormwright.store import JobFolder
from wormwright.traveler import limit_text

GOOD = {
    "worm_end_play": "6 µm",
    "from_tight_spot": "2 deg",
    "spot_tight_before": "0.052 mm",
    "spot_tight_after": "0.05 mm",
    "spot_far_before": "0.09 mm",
    "spot_far_after": "0.091 mm",
    "drag_before": "0.2 N·m",
    "drag_after": "0.18 N·m",
    "patch_share": "0.6",
    "patch_off_middle": "0 mm",
    "rock_tightest": "1 arcmin",
    "rock_warm": "1 arcmin",
    "rock_at_zero": "1.5 arcmin",
    "rock_locked": "2 arcmin",
    "worm_od": "24.45 mm",
    "turned": "0 deg",
    "tip_left": "0.2 mm",
}
"""What a careful hand would read; every other gate is answered from its own limit."""
DERIVED = {"ends_apart", "spot_tight", "spot_far", "drag_after_to_before"}
END_PLAY = ("--with", "how=push-pull", "--with", "force=50 N")
ROCK = ("pin_radius=80 mm", "pin_radius_u=0.3 mm", "torque=3 N·m", "worm_held=at the worm")


def plan_of(place: Path, found: Planned | None = None) -> tuple[Operation, ...]:
    folder = JobFolder.open(place)
    return planned_operations(folder, found or planned(folder))


def answers(op: Operation) -> list[str]:
    """A `--gate` for each gate of the operation, inside its limits."""
    typed: list[str] = []
    for gate in op.gates:
        if gate.key in DERIVED:
            continue
        text = GOOD.get(gate.key) or limit_text(gate).removeprefix("at most ")
        if " to " in text:
            text = text.partition(" to ")[2]
        text = text.removeprefix("at least ").removeprefix("within ± ")
        typed += ["--gate", f"{gate.key}={text}"]
    return typed


def read_what_is_wanted(place: Path, op: Operation) -> None:
    """Take the readings that the operation asks for before it is signed, at the bench."""
    name = str(place)
    if op.key == "baseline":
        return
    if "worm_end_play" in op.wants:
        assert run("measure", name, "--read", "worm_end_play", "6 µm", *END_PLAY).code == 0
    if "hours_run" in op.wants:
        assert run("measure", name, "--read", "hours_run", "12").code == 0
    if "position_error" in op.wants:
        said = ("--at", "10 deg", "--with", "approach=forward", "--with", "run=1")
        assert run("measure", name, "--read", "position_error", "4 arcsec", *said).code == 0
    if "bar_line:top" in op.wants:
        for station in ("top", "side"):
            for angle in ("0 deg", "180 deg"):
                for z in ("20 mm", "170 mm"):
                    place_of = ("--at", angle, "--station", station, "--with", f"z={z}")
                    read = ("--read", "bar_line", "0.01 mm", *place_of)
                    assert run("measure", name, *read).code == 0
    if "rock" in op.wants:
        conditions = [x for text in ROCK for x in ("--with", text)]
        at = ("--at", "36 deg")
        assert run("measure", name, "--read", "rock", "0.06 mm", *at, *conditions).code == 0


def signed(place: Path, op: Operation, *typed: str) -> Ran:
    return run("sign", str(place), op.key, "--initials", "AB", *(typed or answers(op)))


@dataclass(frozen=True)
class Finished:
    """A job that was signed to the end, and what was said when a bushing was spoiled."""

    place: Path
    spoiled: str
    page: str
    remade: str


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Finished:
    """A made-up job signed off to the end; one bushing is spoiled on the way and made again."""
    place = tmp_path_factory.mktemp("bench") / "axis"
    assert run("new", str(place), "--from", "garage-router").code == 0
    found = planned(JobFolder.open(place))
    # The plan stands on the readings as found: worked out once instead of at every run.
    with mock.patch("wormwright.app.sign.planned", return_value=found):
        said = signed_to_the_end(place, found)
    return Finished(place, *said)


def signed_to_the_end(place: Path, found: Planned) -> list[str]:
    """Sign every operation of the job; what was said about the spoiled bushing."""
    said = ["", "", ""]
    for op in plan_of(place, found):
        read_what_is_wanted(place, op)
        if op.key == "bushings_made":
            loose = ["slack_a=20 µm" if t.startswith("slack_a") else t for t in answers(op)]
            said[:2] = signed(place, op, *loose).out, run("sign", str(place)).out
            remake = next(o for o in plan_of(place, found) if o.key == "next_bushing")
            said[2] = signed(place, remake).out
        ran = signed(place, op)
        assert ran.code == 0, f"{op.key}: {ran.err}"
        assert "signed off." in ran.out, ran.out
    return said


@pytest.fixture(scope="module")
def finished(job: Finished) -> Path:
    """The folder of the finished job."""
    return job.place


def test_a_job_can_be_signed_from_the_baseline_to_the_proof(finished: Path) -> None:
    ran = run("sign", str(finished))
    assert "Every operation is signed off." in ran.out
    failed = [s.operation for s in JobFolder.open(finished).sign_offs if s.verdict == "failed"]
    assert failed == ["bushings_made"]


def test_a_spoiled_bushing_is_remade_and_the_work_goes_on(job: Finished) -> None:
    assert "recorded as failed" in job.spoiled
    assert "Next: 6s Remake" in " ".join(job.spoiled.split())
    assert "OPERATION 6s" in job.page, "the page shown is the one to work from now"
    assert "Next: 6c" in job.remade


def test_no_reading_from_before_the_work_counts_after_it(finished: Path) -> None:
    sheet = run("measure", str(finished)).out
    assert "stale by" in sheet
    assert "Stale readings" in run("sign", str(finished), "--full").out


def test_the_way_back_lists_all_that_was_changed_latest_first(finished: Path) -> None:
    ran = run("sign", str(finished), "--restore")
    assert ran.code == 0, ran.err
    numbers = re.findall(r"^(\d+[a-z]?)  ", ran.out, flags=re.MULTILINE)
    order = [op.number for op in plan_of(finished) for _ in op.restores]
    assert numbers == order[::-1]
    said = " ".join(ran.out.split())
    assert "Cannot be undone" in said
    assert "0.298 mm" in said, "the worm shim as found"
    assert "6001-2RS" in said, "the bearings as found"
    assert "not yet" not in said


def test_the_packet_carries_the_whole_traveler(finished: Path) -> None:
    assert run("packet", str(finished)).code == 0
    for name in ("traveler.txt", "traveler.html"):
        text = (finished / "packet" / name).read_text(encoding="utf-8")
        for heading in ("Hours", "Tools and materials", "Back to the first day"):
            assert heading in text
        assert "If a gate fails" in text
        assert "round bar, steel" in text
        assert "compounded gear oil" in text
    assert (finished / "packet" / "traveler.pdf").read_bytes().startswith(b"%PDF")


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job with two operations signed; no test may add a third."""
    place = tmp_path_factory.mktemp("begun") / "axis"
    run("new", str(place), "--from", "garage-router")
    run("sign", str(place), "baseline", "--initials", "AB")
    ran = run("sign", str(place), "strip_wash", "--initials", "AB", "--note", "two shims")
    assert ran.code == 0, ran.err
    return place


def test_a_job_given_up_after_two_operations_is_put_back_by_its_list(begun: Path) -> None:
    said = " ".join(run("sign", str(begun), "--restore").out.split())
    assert "Latest change first" in said
    assert "Noted: two shims." in said
    assert "0.298 mm" in said, "the worm shim as found"


def test_before_any_work_there_is_nothing_to_put_back(tmp_path: Path) -> None:
    run("new", str(tmp_path / "axis"), "--from", "garage-router")
    assert "Nothing has been changed yet" in run("sign", str(tmp_path / "axis"), "--restore").out


@pytest.mark.parametrize(
    ("arguments", "code", "said"),
    [
        (["--full", "--initials", "AB"], 2, "name the operation"),
        (["baseline", "--restore"], 2, "leave the operation out"),
        (["wheel_joint", "--initials", "AB", "--gate", "wheel_joint_play=4 deg"], 1, "length"),
        (["wheel_joint", "--initials", "AB", "--gate", "joint_play=4 µm"], 1, "did you mean"),
        (["before_cutting", "--initials", "AB", "--gate", "own_sizes=maybe"], 1, "yes or no"),
        (["proof_rock", "--initials", "AB"], 1, "cannot be signed yet"),
    ],
)
def test_bad_input_is_refused_with_the_reason_and_nothing_is_written(
    arguments: list[str], code: int, said: str, begun: Path
) -> None:
    ran = run("sign", str(begun), *arguments)
    assert ran.code == code, ran.out
    assert said in ran.err
    assert len(JobFolder.open(begun).sign_offs) == 2
