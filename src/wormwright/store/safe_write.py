"""Two ways to write that a crash cannot spoil: replace a file whole, or append to it."""

from __future__ import annotations

import contextlib
import os
import sys
import tempfile
from pathlib import Path

_BINARY = getattr(os, "O_BINARY", 0)


def replace_file(path: Path, data: bytes) -> None:
    """Put `data` in place of the file: temporary file beside it, fsync, rename, fsync of folder."""
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".tmp", dir=path.parent)
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(data)
            out.flush()
            os.fsync(out.fileno())
        temporary.chmod(path.stat().st_mode & 0o777 if path.exists() else _usual_mode())
        temporary.replace(path)
    except BaseException:
        with contextlib.suppress(OSError):
            temporary.unlink()
        raise
    _keep_folder_entry(path.parent)


def append_to_file(path: Path, data: bytes) -> None:
    """Append `data` and wait until the disk has it; on an error the file is as long as before."""
    handle = os.open(path, os.O_WRONLY | os.O_APPEND | _BINARY)
    try:
        before = os.fstat(handle).st_size
        try:
            rest = memoryview(data)
            while rest:
                rest = rest[os.write(handle, rest) :]
            os.fsync(handle)
        except OSError:
            with contextlib.suppress(OSError):
                os.ftruncate(handle, before)
                os.fsync(handle)
            raise
    finally:
        os.close(handle)


def cut_file(path: Path, size: int) -> None:
    """Shorten the file to `size` bytes and wait until the disk has it."""
    with path.open("r+b") as out:
        out.truncate(size)
        out.flush()
        os.fsync(out.fileno())


def _keep_folder_entry(folder: Path) -> None:
    if sys.platform == "win32":
        return  # a folder cannot be synced there
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _usual_mode() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
