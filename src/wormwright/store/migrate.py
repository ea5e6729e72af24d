"""Older forms of job.toml brought to the form of today, step by step, with a backup beside it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from pathlib import Path
from types import MappingProxyType

from wormwright.store.contents import job_bytes
from wormwright.store.fault import FileFault, JobFolderError
from wormwright.store.job_file import FORMAT, JOB, job_of, source_of
from wormwright.store.lock import folder_lock
from wormwright.store.safe_write import replace_file

Step = Callable[[str], str]


def _numbered(source: str) -> str:
    """Form 0 had no number: files of the first days, and files written by hand from memory."""
    lines = source.splitlines(keepends=True)
    end = "\r\n" if "\r\n" in source else "\n"
    first = next((i for i, line in enumerate(lines) if re.match(r"\s*[^#\s]", line)), len(lines))
    return "".join((*lines[:first], f"format = 1{end}", *lines[first:]))


STEPS: Mapping[int, Step] = MappingProxyType({0: _numbered})
"""From which form, and how to the next one. Every form there ever was stays here."""


def form_of(source: str) -> int:
    """The form a source is in; 0 when it does not say.

    Raises:
        JobFolderError: it is no TOML, or says something that is no number.
    """
    try:
        form = tomllib.loads(source).get("format", 0)
    except tomllib.TOMLDecodeError as wrong:
        raise JobFolderError([_fault("TOML", str(wrong), "mend it first")]) from wrong
    if type(form) is not int or not 0 <= form <= FORMAT:
        do = "read it with the wormwright that wrote it, or a newer one"
        raise JobFolderError([_fault(f"a form up to {FORMAT}", f"format = {form}", do)])
    return form


def migrated(source: str) -> str:
    """The source in the form of today.

    Raises:
        JobFolderError: it cannot be brought there; every fault that is left is named.
    """
    for form in range(form_of(source), FORMAT):
        source = STEPS[form](source)
    job_of(source)
    return source


def migrate_job(folder: Path) -> tuple[int, Path | None]:
    """Bring job.toml to the form of today; the old file stays as `job.toml.form-N`.

    Hands back the form it was in, and the backup, None where nothing was to do.

    Raises:
        JobFolderError: it cannot be brought there; nothing was written.
    """
    with folder_lock(folder):
        data = job_bytes(folder)
        source = source_of(data)
        form = form_of(source)
        if form == FORMAT:
            return form, None
        new = migrated(source)
        backup = _free(folder, f"{JOB}.form-{form}")
        replace_file(backup, data)
        replace_file(folder / JOB, new.encode())
    return form, backup


def _free(folder: Path, name: str) -> Path:
    """A name that is not taken: an older backup is kept."""
    place, number = folder / name, 1
    while place.exists():
        number += 1
        place = folder / f"{name}-{number}"
    return place


def _fault(expected: str, got: str, do: str) -> FileFault:
    return FileFault(JOB, None, "format", expected, got, do)
