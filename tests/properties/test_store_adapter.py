"""The plate between table and chuck in job.toml: whole or not at all, in core units."""

from __future__ import annotations

import math

import pytest

from store_samples import JOB
from wormwright.store import JobFolderError
from wormwright.store.job_file import job_of

LINES = """
[adapter]
outside = "160 mm"
thickness = "18 mm"
bore = "1 in"
table_bore = "40 mm"
back_length = "5 mm"
chuck_recess = "95.01 mm"
register_length = "3.5 mm"
table_circle = "132 mm"
table_count = 4
table_hole = "8.5 mm"
table_head = "14.5 mm"
table_head_depth = "9 mm"
chuck_circle = "112 mm"
chuck_count = 3
chuck_drill = "6.8 mm"
chuck_thread = "M8 x 1.25"
chuck_turn = "45 deg"
material = "cast iron"
"""


def test_a_whole_plate_reaches_the_job_in_core_units() -> None:
    plate = job_of(JOB + LINES).adapter
    assert plate is not None
    assert (plate.bore, plate.chuck_recess, plate.table_count) == (25.4, 95.01, 4)
    assert plate.chuck_turn == pytest.approx(math.radians(45))
    assert (plate.chuck_thread, plate.material) == ("M8 x 1.25", "cast iron")


def test_a_job_without_a_plate_has_none() -> None:
    assert job_of(JOB).adapter is None


def test_a_plate_with_sizes_left_out_is_refused_and_names_them() -> None:
    source = JOB + LINES.replace('bore = "1 in"\n', "", 1).replace("table_count = 4\n", "")
    with pytest.raises(JobFolderError) as told:
        job_of(source)
    (fault,) = told.value.faults
    assert (fault.field, fault.got) == ("adapter", "no bore, table_count")
    assert fault.line == source[: source.index("[adapter]")].count("\n") + 1


@pytest.mark.parametrize(
    ("good", "bad", "field"),
    [
        ('outside = "160 mm"', 'outside = "160"', "adapter.outside"),
        ('thickness = "18 mm"', 'thickness = "18 m"', "adapter.thickness"),
        ("chuck_count = 3", "chuck_count = 1", "adapter.chuck_count"),
        ('chuck_turn = "45 deg"', 'chuck_turn = "270 deg"', "adapter.chuck_turn"),
        ('material = "cast iron"', 'material = ""', "adapter.material"),
        ("chuck_count = 3", "chuck_counts = 3", "adapter.chuck_counts"),
    ],
)
def test_a_figure_that_no_plate_has_is_refused_by_name(good: str, bad: str, field: str) -> None:
    with pytest.raises(JobFolderError) as told:
        job_of(JOB + LINES.replace(good, bad))
    assert field in [fault.field for fault in told.value.faults]
