"""Photos beside a job: told by what they are, not by what they are called."""

from __future__ import annotations

import os
import re
import secrets
from pathlib import Path

from wormwright.app.refused import refused

FOLDER = "photos"
LARGEST = 10 * 1024 * 1024
MOST = 2000
_ABOUT = re.compile(r"[a-z0-9_]{1,40}")
_NAME = re.compile(r"[a-z0-9_]{1,40}-[0-9a-f]{16}\.(?:jpg|png|webp)")
TYPES = {"jpg": "image/jpeg", "png": "image/png", "webp": "image/webp"}


def form_of(data: bytes) -> str | None:
    """The form of a picture by its first bytes."""
    if data.startswith(b"\xff\xd8\xff"):
        return "jpg"
    if data.startswith(b"\x89PNG\r\n\x1a\n"):
        return "png"
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "webp"
    return None


def keep(job: Path, about: str, data: bytes) -> str:
    """Write a photo beside the job and give its name; nothing of the sender's own name is used.

    Raises:
        Refused: it is no picture, too large, or the folder is full.
    """
    if not _ABOUT.fullmatch(about):
        raise refused("photo", expected="what it is about", got=repr(about)[:60], do="try again")
    if len(data) > LARGEST:
        raise refused(
            "photo", expected="at most 10 MB", got=f"{len(data)} bytes", do="make it less"
        )
    form = form_of(data)
    if form is None:
        raise refused(
            "photo",
            expected="a JPEG, PNG or WebP picture",
            got="something else",
            do="choose another",
        )
    place = job / FOLDER
    place.mkdir(exist_ok=True)
    if sum(1 for _ in place.iterdir()) >= MOST:
        raise refused("photo", expected=f"at most {MOST} photos", got="more", do="clear the folder")
    name = f"{about}-{secrets.token_hex(8)}.{form}"
    fresh = place / f".{name}.part"
    with fresh.open("xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    fresh.rename(place / name)
    return name


def about(job: Path, what: str) -> list[str]:
    """The names of the photos about one thing, oldest first."""
    place = job / FOLDER
    if not place.is_dir():
        return []
    found = [p for p in place.iterdir() if _NAME.fullmatch(p.name)]
    mine = [p for p in found if p.name.rpartition("-")[0] == what]
    return [p.name for p in sorted(mine, key=lambda p: p.stat().st_mtime_ns)]


def read(job: Path, name: str) -> tuple[bytes, str] | None:
    """A photo and its type, or None; a name that `keep` never gave is not looked for."""
    if not _NAME.fullmatch(name):
        return None
    path = job / FOLDER / name
    if not path.is_file() or path.is_symlink():
        return None
    return path.read_bytes(), TYPES[path.suffix[1:]]
