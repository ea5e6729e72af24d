"""All three files of a job folder: read together, or made for a new folder."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from wormwright.job.kind import ReadingKind
from wormwright.job.rotary import Job
from wormwright.store.fault import FileFault, JobFolderError
from wormwright.store.job_file import JOB, job_of, source_of
from wormwright.store.reading_rows import READING_COLUMNS, READINGS
from wormwright.store.row_file import header_line
from wormwright.store.sheets import Sheets, read_sheets, unusable
from wormwright.store.signoff_rows import SIGN_OFF_COLUMNS, SIGN_OFFS
from wormwright.store.template import new_job_source

COLUMNS: Mapping[str, tuple[str, ...]] = {
    READINGS: READING_COLUMNS,
    SIGN_OFFS: SIGN_OFF_COLUMNS,
}


def read_all(path: Path, kinds: Mapping[str, ReadingKind]) -> tuple[bytes, Job, Sheets]:
    """All three files; the faults of all of them are raised together."""
    faults: list[FileFault] = []
    data, job, sheets = b"", None, None
    try:
        data = job_bytes(path)
        job = job_of(source_of(data))
    except JobFolderError as error:
        faults += error.faults
    try:
        sheets = read_sheets(path, kinds)
    except JobFolderError as error:
        faults += error.faults
    if faults and sheets is not None:
        faults += [fault for fault in sheets.faults if fault.action == "refuse"]
    if job is None or sheets is None:
        raise JobFolderError(faults)
    return data, job, sheets


def job_places(root: Path) -> list[Path]:
    """The job folder itself, or every job folder that lies in it, in the order of their names."""
    if (root / JOB).is_file():
        return [root]
    return sorted(path.parent for path in root.glob(f"*/{JOB}"))


def job_bytes(folder: Path) -> bytes:
    """The bytes of job.toml.

    Raises:
        JobFolderError: there is none, or the disk does not give it.
    """
    try:
        return (folder / JOB).read_bytes()
    except FileNotFoundError:
        do = f"is {folder} a job folder? `wormwright new` makes one"
        raise JobFolderError([FileFault(JOB, None, "", "the file", "nothing", do)]) from None
    except OSError as problem:
        raise JobFolderError([unusable(JOB, problem)]) from problem


def new_contents(
    place: Path, from_example: Path | str | None, kinds: Mapping[str, ReadingKind]
) -> dict[str, bytes]:
    """Name -> bytes of a new folder's files, job.toml last."""
    contents = {name: header_line(columns) for name, columns in COLUMNS.items()}
    if from_example is None:
        return {**contents, JOB: new_job_source(place.resolve().name).encode()}
    example = Path(from_example)
    data, _, sheets = read_all(example, kinds)
    for name, found in sheets.files.items():
        if not found.missing:
            contents[name] = (example / name).read_bytes()
    return {**contents, JOB: data}
