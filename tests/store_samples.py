"""A small job folder with its own three reading kinds, for the tests of the store."""

from __future__ import annotations

from pathlib import Path

from wormwright.job.kind import Condition, ReadingKind
from wormwright.job.operation import Gate
from wormwright.store import JobFolder, ReadingText

JOB = """\
# our own rotary
format = 1
name = "club rotary"

[rotary]
name = "8 in table"  # bought used
unit_id = "B-17"
worm_material = "steel"
wheel_material = "bronze"
housing_material = "cast iron"

[duty]
radius = "60 mm"
error = "0.05 mm"    # to and fro
direction = "tangential"
approach = "both ways"
work = "indexed"
torque_to_resist = "6 N·m"
drag_limit = "0.4 N·m"
play_min_cold = "0.01 mm"
shop_low = "12 °C"
shop_high = "28 °C"
"""

ROCK = {"pin_radius": "80 mm", "torque": "3 N·m", "worm_held": "at the worm"}


def _kind(key: str, dimension: str, **more: object) -> ReadingKind:
    given: dict[str, object] = {
        "key": key,
        "row": 1,
        "label": key,
        "dimension": dimension,
        "noise": 0.002,
        "low": 0.0,
        "high": 10.0,
        "usual_low": None,
        "usual_high": None,
        "minutes": 1.0,
    }
    words = ("do", "set_up", "instrument", "tells", "cannot_tell", "sensitivity")
    given.update(dict.fromkeys(words, ""))
    return ReadingKind(**{**given, **more})  # type: ignore[arg-type]


KINDS = {
    "rock": _kind(
        "rock",
        "length",
        needs_table_angle=True,
        conditions=(
            Condition("pin_radius", "radius of the pin", "length", True, (), 10.0, 1000.0),
            Condition("torque", "torque", "torque", True),
            Condition("worm_held", "how", "none", True, ("at the worm", "at the motor")),
            Condition("remark", "free words", "none"),
        ),
    ),
    "end_play": _kind("end_play", "length"),
    "hand": _kind("hand", "none", low=None, high=None, choices=("right", "left")),
    "marking": _kind("marking", "none", low=None, high=None, stations=("A", "B")),
    "temperature": _kind("temperature", "temperature", low=-30.0, high=90.0),
}

END_PLAY_GATE = Gate("end_play", "end play", "length", 0.0, 0.02, "", "")
CLEAN_GATE = Gate("clean", "clean", "none", None, None, "", "")


def clock() -> str:
    return "2026-03-04T05:06:07+00:00"


def make(path: Path, job: str = JOB) -> Path:
    path.mkdir(exist_ok=True)
    (path / "job.toml").write_bytes(job.encode())
    return path


def opened(path: Path, *, patience_s: float = 10.0) -> JobFolder:
    return JobFolder.open(path, kinds=KINDS, clock=clock, patience_s=patience_s)


def rock(raw: str, **more: object) -> ReadingText:
    given: dict[str, object] = {"table_angle": "30 deg", "conditions": ROCK, **more}
    return ReadingText("rock", raw, **given)  # type: ignore[arg-type]
