"""The folder lock: a lock of the operating system on the file `.lock`, so a killed program lets go.

The reasons are in docs/decisions (folder lock). The file stays where it is; only the lock on it
counts. The process id and host written into it serve the message alone.
"""

from __future__ import annotations

import errno
import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from wormwright.store.fault import FileFault, FolderBusyError, JobFolderError

LOCK = ".lock"
PATIENCE_S = 10.0
"""How long to wait for another program before giving up."""
PAUSE_S = 0.01
_BUSY = {errno.EACCES, errno.EAGAIN, errno.EDEADLK}

if sys.platform == "win32":
    import msvcrt

    _FAR = 1 << 20
    """The byte that is locked: beyond the text, so that the text can be read meanwhile."""

    def _take(handle: int) -> None:
        os.lseek(handle, _FAR, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)

    def _release(handle: int) -> None:
        os.lseek(handle, _FAR, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_UNLCK, 1)
else:
    import fcntl

    def _take(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)

    def _release(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_UN)


@contextmanager
def folder_lock(folder: Path, *, patience_s: float = PATIENCE_S) -> Iterator[None]:
    """Hold the folder for this program alone; two threads of one program exclude each other too.

    Raises:
        FolderBusyError: another program held it for longer than `patience_s`.
        JobFolderError: the folder cannot be written, or its disk knows no locks.
    """
    handle = _opened(folder)
    try:
        _wait_for(handle, folder, patience_s)
        try:
            os.lseek(handle, 0, os.SEEK_SET)
            os.ftruncate(handle, 0)
            os.write(handle, f"{os.getpid()} {_host()}\n".encode())
            yield
        finally:
            _release(handle)
    finally:
        os.close(handle)


def _opened(folder: Path) -> int:
    try:
        return os.open(folder / LOCK, os.O_RDWR | os.O_CREAT, 0o666)
    except OSError as problem:
        raise JobFolderError(
            [
                FileFault(
                    LOCK,
                    None,
                    "",
                    "a folder that can be written",
                    f"{problem.strerror} ({folder})",
                    "check that the folder exists, the disk and the rights to it",
                )
            ]
        ) from problem


def _wait_for(handle: int, folder: Path, patience_s: float) -> None:
    give_up = time.monotonic() + patience_s
    while True:
        try:
            _take(handle)
            return
        except OSError as problem:
            if problem.errno not in _BUSY:
                raise JobFolderError([_no_locks(folder, problem)]) from problem
        if time.monotonic() >= give_up:
            raise FolderBusyError([_held(folder, patience_s)])
        time.sleep(PAUSE_S)


def _no_locks(folder: Path, problem: OSError) -> FileFault:
    return FileFault(
        LOCK,
        None,
        "",
        "a disk that can lock a file",
        f"{problem.strerror} ({folder})",
        "copy the job folder to a disk of this computer and work there",
    )


def _held(folder: Path, patience_s: float) -> FileFault:
    try:
        holder = (folder / LOCK).read_text(encoding="utf-8", errors="replace").split()
    except OSError:
        holder = []
    who = f"process {holder[0]} on {holder[1]}" if len(holder) > 1 else "another program"
    return FileFault(
        LOCK,
        None,
        "",
        f"the folder free within {patience_s:g} s",
        f"held by {who}",
        "finish or close that program, then try again; nothing was written",
    )


def _host() -> str:
    if sys.platform == "win32":
        return os.environ.get("COMPUTERNAME", "host")
    return os.uname().nodename
