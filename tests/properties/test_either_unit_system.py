"""A sheet typed in inches and pounds gives the same findings as the same sheet in millimetres."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS
from wormwright.quantities import Dimension, read
from wormwright.stages.diagnose import diagnose
from wormwright.store import JobFolder

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "garage-router"

OTHER: dict[Dimension, tuple[str, float]] = {
    "length": ("in", 25.4),
    "torque": ("lbf·in", 112.984829027616),
    "force": ("lbf", 4.4482216152605),
}


def retyped(value: float, dimension: Dimension) -> float:
    """The figure as an inch bench would type it, read back."""
    if dimension not in OTHER:
        return value
    unit, size = OTHER[dimension]
    return read(f"{value / size:.15g} {unit}", dimension, field="test").value


def in_inches(reading: Reading) -> Reading:
    kind = KINDS[reading.kind]
    dimensions = {c.key: c.dimension for c in kind.conditions}
    conditions = {
        key: retyped(value, dimensions[key]) if isinstance(value, float) else value
        for key, value in reading.conditions.items()
    }
    value = None if reading.value is None else retyped(reading.value, kind.dimension)
    return replace(reading, value=value, conditions=conditions)


def test_findings_do_not_depend_on_the_unit_system() -> None:
    folder = JobFolder.open(EXAMPLE)
    clean = [r for r in folder.readings if (not r.note and (r.value or 0) < 2) or r.kind != "rock"]
    metric = diagnose(folder.job, clean)
    inch = diagnose(folder.job, [in_inches(r) for r in clean])
    assert inch.chi_square == pytest.approx(metric.chi_square, rel=1e-9)
    for one, other in zip(metric.contributors, inch.contributors, strict=True):
        assert one.key == other.key
        assert other.at_r2.value == pytest.approx(one.at_r2.value, rel=1e-6, abs=1e-12)
    assert np.allclose(metric.map_mean, inch.map_mean, rtol=1e-6)
