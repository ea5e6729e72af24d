"""The page about the job folder names every field and column, with the defaults the code has."""

from __future__ import annotations

import ast
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from wormwright.job.mount import Mount
from wormwright.job.rotary import Job
from wormwright.store import JobFolder
from wormwright.store.drive_schema import MANY, MORE_MOTOR, ONE
from wormwright.store.entry import CORE_UNITS, LONGEST_TEXT
from wormwright.store.job_file import FORMAT, job_of
from wormwright.store.job_schema import BEARING, TABLES, TOP, Fields
from wormwright.store.reading_rows import READING_COLUMNS
from wormwright.store.row_file import LARGEST_FILE
from wormwright.store.signoff_rows import SIGN_OFF_COLUMNS, VERDICTS

ROOT = Path(__file__).resolve().parent.parent.parent
PAGE = (ROOT / "docs" / "reference" / "job-folder.md").read_text(encoding="utf-8")
SECTIONS = {"Top": TOP, **{f"[{name}]": fields for name, fields in TABLES.items()}}
SECTIONS["[[bearing]]"] = BEARING
SECTIONS["[motor]"] = {**TABLES["motor"], **MORE_MOTOR}
SECTIONS |= {f"[{name}]": fields for name, fields in ONE.items()}
SECTIONS |= {f"[[{name}]]": fields for name, fields in MANY.items()}
SPOKEN_DEFAULTS: dict[str, Callable[[Job], float]] = {
    '"20 K"': lambda job: job.duty.rise_k,
    '"90 %"': lambda job: job.duty.probability,
    '"10 %"': lambda _: 0.10,
    '"0 mm"': lambda _: Mount().riser,
    '"5 mm"': lambda _: Mount().retract,
    '"2 mm"': lambda _: Mount().clear,
}


def section(heading: str) -> str:
    found = re.search(rf"^#+ {re.escape(heading)}$\n(.*?)(?=^#|\Z)", PAGE, re.M | re.S)
    assert found is not None, f"no heading {heading}"
    return found[1]


def rows(heading: str) -> list[list[str]]:
    lines = re.findall(r"^\| (`.*) \|$", section(heading), re.M)
    return [[cell.strip() for cell in line.split(" | ")] for line in lines]


def code(heading: str) -> str:
    found = re.search(r"```\w+\n(.*?)```", section(heading), re.S)
    assert found is not None
    return found[1]


@pytest.mark.parametrize("heading", SECTIONS)
def test_every_field_has_its_row_in_the_order_of_the_code(heading: str) -> None:
    fields: Fields = SECTIONS[heading]
    assert [row[0].strip("`") for row in rows(heading)] == list(fields)
    assert all(len(row) == 3 and row[2] for row in rows(heading))


@pytest.mark.parametrize("heading", SECTIONS)
def test_what_must_be_there_and_the_defaults_are_those_of_the_code(heading: str) -> None:
    fields: Fields = SECTIONS[heading]
    job = job_of(code("job.toml"))
    for name, said, _ in ((row[0].strip("`"), row[1].strip("`"), row[2]) for row in rows(heading)):
        field = fields[name]
        if not isinstance(field, tuple):
            assert said == "yes", name
        elif said in SPOKEN_DEFAULTS:
            assert SPOKEN_DEFAULTS[said](job) == field[1], name
        else:
            spoken = {"none": None, "true": True, "false": False}
            assert (spoken[said] if said in spoken else ast.literal_eval(said)) == field[1], name


def test_every_column_has_its_row_in_the_order_of_the_file() -> None:
    for heading, columns in (
        ("readings.csv", READING_COLUMNS),
        ("signoffs.csv", SIGN_OFF_COLUMNS),
    ):
        assert tuple(row[0].strip("`") for row in rows(heading)) == columns
        assert code(heading).splitlines()[0] == ",".join(columns)


def test_the_printed_rows_are_rows_of_a_sound_folder(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(code("job.toml"), encoding="utf-8")
    for name in ("readings.csv", "signoffs.csv"):
        (tmp_path / name).write_text(code(name), encoding="utf-8")
    folder = JobFolder.open(tmp_path)
    assert folder.problems == ()
    assert [reading.value for reading in folder.readings] == [0.00508]
    assert [signed.gate_values for signed in folder.sign_offs] == [
        (("end_play", 0.01016, "0.4 thou"),)
    ]


def test_the_stated_limits_units_and_verdicts_are_those_of_the_code() -> None:
    assert f"# The job folder, format {FORMAT}\n" in PAGE
    assert f"at most {LONGEST_TEXT:,} characters, files at most {LARGEST_FILE // 2**20} MB" in PAGE
    unit_row = next(row for row in rows("readings.csv") if row[0] == "`unit`")[1]
    assert re.findall(r"`([^`]+)`", unit_row)[1:] == [unit for unit in CORE_UNITS.values() if unit]
    verdict_row = next(row for row in rows("signoffs.csv") if row[0] == "`verdict`")[1]
    assert re.findall(r"`([^`]+)`", verdict_row) == list(VERDICTS)
