"""Make the example jobs: made-up units, readings generated from the model with seeded noise.

Run from anywhere: python scripts/make_examples.py. Nothing in examples/ is measured on a real unit.
"""

from __future__ import annotations

import math
import shutil
import sys
from collections.abc import Callable
from dataclasses import asdict, dataclass
from itertools import count
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(HERE / "tests"))

from example_proved import PROVED  # noqa: E402
from example_units import CLUB, FOUR, ROUTER, Example  # noqa: E402
from simulated_rotary import Taker, lost_motion  # noqa: E402
from wormwright.job.reading import Reading  # noqa: E402
from wormwright.job.sheet import KINDS  # noqa: E402
from wormwright.store import JobFolder, ReadingText  # noqa: E402


@dataclass(frozen=True)
class Writing:
    """How one bench writes a quantity: the unit word, mm (or rad, N·mm) per unit, the step."""

    unit: str
    size: float
    step: float

    def text(self, value: float) -> str:
        steps = round(value / self.size / self.step)
        places = max(0, -math.floor(math.log10(self.step)))
        return f"{steps * self.step:.{places}f} {self.unit}"


METRIC = {
    "fine": Writing("mm", 1.0, 0.001),
    "coarse": Writing("mm", 1.0, 0.01),
    "torque": Writing("N·m", 1000.0, 0.01),
    "angle": Writing("deg", math.radians(1), 0.1),
    "temperature": Writing("°C", 1.0, 0.5),
    "rise": Writing("K", 1.0, 1.0),
}
INCH = {
    "fine": Writing("thou", 0.0254, 0.05),
    "coarse": Writing("in", 25.4, 0.0005),
    "torque": Writing("oz·in", 7.06155, 1.0),
    "angle": Writing("deg", math.radians(1), 0.1),
    "temperature": Writing("°C", 1.0, 0.5),
    "rise": Writing("K", 1.0, 1.0),
}


def written(reading: Reading, hand: dict[str, Writing]) -> str:
    """The value as that bench would write it."""
    if reading.word is not None:
        return reading.word
    value, kind = reading.value, KINDS[reading.kind]
    assert value is not None
    if kind.dimension == "count":
        return f"{value:.0f}"
    if kind.dimension == "length":
        fine = kind.noise is not None and kind.noise < 0.008 and value < 3.0
        return hand["fine" if fine else "coarse"].text(value)
    return hand[kind.dimension].text(value)


def _degrees(angle: float | None) -> str:
    return "" if angle is None else f"{math.degrees(angle):.4f}".rstrip("0").rstrip(".") + " deg"


def condition_texts(reading: Reading, hand: dict[str, Writing]) -> dict[str, str]:
    """The conditions of a reading in the words of that bench."""
    dimensions = {c.key: c.dimension for c in KINDS[reading.kind].conditions}
    out = {}
    for key, value in reading.conditions.items():
        dimension = dimensions[key]
        if isinstance(value, str):
            out[key] = value
        elif dimension == "length":
            out[key] = hand["coarse"].text(value)
        elif dimension == "angle":
            out[key] = _degrees(value)
        elif dimension == "torque":
            out[key] = f"{value / 1000:g} N·m"
        elif dimension == "force":
            out[key] = f"{value:g} N"
        elif dimension == "speed":
            out[key] = f"{value:g} rpm"
        else:
            out[key] = f"{value:g}"
    return out


def clock() -> Callable[[], str]:
    """A made-up bench clock: one reading a minute on an invented morning."""
    minutes = count()

    def tick() -> str:
        hours, rest = divmod(9 * 60 + next(minutes), 60)
        return f"2026-02-07T{hours:02d}:{rest:02d}:00"

    return tick


def make(example: Example, under: Path = HERE / "examples") -> None:
    """Write one example folder with its truth and its readings."""
    folder = under / example.name
    if folder.exists():
        shutil.rmtree(folder)
    job = JobFolder.create(folder, clock=clock())
    (folder / "job.toml").write_text(example.job_toml, encoding="utf-8")
    job.refresh()
    taker = Taker(example.truth, np.random.default_rng(example.seed))
    example.take(taker)
    hand = INCH if job.job.units == "in" else METRIC
    tick = clock()
    entries = [
        ReadingText(
            kind=r.kind,
            raw=written(r, hand) if r.raw == "simulated" else r.raw,
            table_angle=_degrees(r.table_angle),
            worm_angle=_degrees(r.worm_angle),
            station=r.station,
            instrument=r.instrument,
            conditions=condition_texts(r, hand),
            note=r.note,
            when=tick(),
        )
        for r in taker.readings
    ]
    job.append_readings(entries)
    (folder / "truth.toml").write_text(truth_toml(example), encoding="utf-8")
    (folder / "README.md").write_text(example.readme, encoding="utf-8")
    for left in folder.glob("*.lock"):
        left.unlink()


def truth_toml(example: Example) -> str:
    """The made-up truth of an example, and what it adds up to."""
    lines = [
        "# Made up. The readings were generated from this with seeded noise; no tool reads it."
    ]
    for key, value in asdict(example.truth).items():
        shown = list(value) if isinstance(value, tuple) else value
        lines.append(f"{key} = {shown}")
    lines += ["", "[at_r2_mm]  # what each play adds to the lost motion"]
    parts = lost_motion(example.truth)
    lines += [f"{key} = {value:.6f}" for key, value in parts.items()]
    total = sum(parts.values()) / example.truth.r2
    lines.append(f"all_arcmin = {math.degrees(total) * 60:.4f}")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    for one in (ROUTER, CLUB, FOUR, PROVED):
        make(one)
        print(f"examples/{one.name}")
