"""A job as one file: everything of its folder but what is made afresh, checked when read back."""

from __future__ import annotations

import hashlib
import io
import json
import zipfile
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from wormwright.job.sheet import KINDS
from wormwright.store.contents import read_all
from wormwright.store.fault import FileFault, JobFolderError
from wormwright.store.job_file import JOB
from wormwright.store.lock import LOCK, folder_lock
from wormwright.store.safe_write import replace_file

CONTENTS = "contents.json"
FORMAT = 1
MADE_AFRESH = "packet"
LARGEST = 4 * 1024**3
"""Bytes of a job unpacked; more than any job with its photos."""
MOST_FILES = 10_000
_DAY = (1980, 1, 1, 0, 0, 0)
"""Time stamp of every file in an archive: the same job gives the same bytes."""


def archive_job(folder: Path, file: Path) -> tuple[str, ...]:
    """Write the job into one new file, read it back, and hand over the names in it.

    Raises:
        JobFolderError: the job is not sound, or the file is there already.
    """
    if file.exists():
        raise JobFolderError([_fault(file, "a new file", "one that exists", "name another one")])
    with folder_lock(folder):
        read_all(folder, KINDS)
        files = {name: (folder / name).read_bytes() for name in _names(folder)}
    data = _packed(files)
    if _checked(file, data) != files:
        raise JobFolderError([_fault(file, "what was packed", "something else", "try again")])
    replace_file(file, data)
    return tuple(files)


def unpack_job(file: Path, folder: Path) -> tuple[str, ...]:
    """Write the job in that file into a new folder, byte for byte as it was.

    Raises:
        JobFolderError: the file is no archive or was changed, or the folder is not empty.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        do = "name another one; nothing was written"
        raise JobFolderError([_fault(folder, "a new or empty folder", "a folder in use", do)])
    try:
        files = _checked(file, file.read_bytes())
    except OSError as problem:
        do = "look where it lies"
        raise JobFolderError([_fault(file, "the archive", str(problem), do)]) from problem
    folder.mkdir(parents=True, exist_ok=True)
    for name in sorted(files, key=lambda name: name == JOB):  # last: without it this is no job
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        replace_file(folder / name, files[name])
    return tuple(files)


def _names(folder: Path) -> Iterator[str]:
    """Files of the job, without the lock, what wormwright makes afresh, and hidden files."""
    for path in sorted(folder.rglob("*")):
        parts = path.relative_to(folder).parts
        hidden = any(part.startswith(".") for part in parts)
        if path.is_file() and not path.is_symlink() and not hidden and parts[0] != MADE_AFRESH:
            yield PurePosixPath(*parts).as_posix()


def _packed(files: dict[str, bytes]) -> bytes:
    listing = {name: hashlib.sha256(data).hexdigest() for name, data in files.items()}
    head = json.dumps({"format": FORMAT, "files": listing}, indent=1).encode()
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as zipped:
        for name, data in {CONTENTS: head, **files}.items():
            zipped.writestr(zipfile.ZipInfo(name, _DAY), data, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def _checked(file: Path, data: bytes) -> dict[str, bytes]:
    """Every file of the archive, each as the list of contents says; nothing more, nothing less."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as zipped:
            infos = zipped.infolist()
            if len(infos) > MOST_FILES or sum(i.file_size for i in infos) > LARGEST:
                got = f"{len(infos)} files"
                raise JobFolderError([_fault(file, "an archive of a job", got, "look what it is")])
            listed = json.loads(zipped.read(CONTENTS))
            names = [i.filename for i in infos if i.filename != CONTENTS]
            files = {name: zipped.read(name) for name in names}
    except (zipfile.BadZipFile, KeyError, ValueError, EOFError, NotImplementedError) as wrong:
        got = f"{type(wrong).__name__}: {wrong}"
        do = "make the archive again, or ask for it again"
        raise JobFolderError([_fault(file, "an archive of a job", got, do)]) from wrong
    digests = {name: hashlib.sha256(content).hexdigest() for name, content in files.items()}
    if not isinstance(listed, dict) or listed.get("format") != FORMAT:
        do = "read it with the wormwright that wrote it, or a newer one"
        raise JobFolderError([_fault(file, f"format {FORMAT}", "another format", do)])
    wrong_names = [name for name in names if not _harmless(name)]
    if digests != listed.get("files") or len(names) != len(files) or wrong_names:
        do = "ask for it again; nothing was written"
        raise JobFolderError([_fault(file, "the files as they were packed", "others", do)])
    return files


def _harmless(name: str) -> bool:
    """Whether the name stays within the folder on every system."""
    path = PurePosixPath(name)
    plain = name and not name.startswith("/") and ":" not in name and "\\" not in name
    return bool(plain) and ".." not in path.parts and LOCK not in path.parts


def _fault(where: Path, expected: str, got: str, do: str) -> FileFault:
    return FileFault(str(where), None, "", expected, got, do)
